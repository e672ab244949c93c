"""The templates for the drill in the window, by mouse and keys: the drawer's section, sheets, what a print measured."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.document import Document
from app.drawers.templates_box import DRILL_TEMPLATES, TemplatesBox
from app.templates_dialog import TemplatesDialog
from kinematics.mount_parts import Base, Bracket, Mount
from kinematics.wall_parts import HandWall, Wall
from tests import specimens
from tests.app.accessible import everything
from tests.app.test_pages_dialog import choose, enter

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.window import Window
    from kinematics.project import Project

LEFT = Qt.MouseButton.LeftButton


def mounted() -> Project:
    wall = Wall(left=HandWall(9.5, None, 575.0))
    return replace(specimens.demo_six_bar, mount=Mount(Bracket(), Base()), wall=wall)


@pytest.fixture
def dialog(qtbot: QtBot, tmp_path: Path) -> Iterator[TemplatesDialog]:
    made = TemplatesDialog(Document(mounted()), lambda *_: tmp_path / "a.pdf", lambda _: None)
    made.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(made)
    with qtbot.waitExposed(made):
        made.show()
    yield made
    made.close()


def test_sheets_follow_what_is_typed_and_go_to_a_pdf(dialog: TemplatesDialog, qtbot: QtBot, tmp_path: Path) -> None:
    assert [title for title, _ in dialog.pages] == [
        "how to use these sheets", "where both hinges come", "all figures", "LEFT: base on bulkhead",
        "RIGHT: base on bulkhead", "LEFT: bracket on hatch", "RIGHT: bracket on hatch",
    ]  # fmt: skip
    short, long = dialog.bars["short"], dialog.bars["long"]
    enter(qtbot, short, "98.5")
    assert (dialog.options.check.short, dialog.options.check.long) == (98.5, 98.5)
    enter(qtbot, long, "99,5")
    assert (dialog.options.check.short, dialog.options.check.long) == (98.5, 99.5)
    enter(qtbot, short, "94")
    assert "fit to page" in short.message
    assert dialog.options.check.short == 98.5
    choose(dialog.paper, "A3")
    assert dialog.pages[0][1][0] == (297.0, 420.0)
    qtbot.mouseClick(dialog.save, LEFT)
    assert (tmp_path / "a.pdf").read_bytes().startswith(b"%PDF")
    assert "a.pdf is written" in dialog.said.text()
    assert [each for each in everything(dialog) if each.is_control and not (each.name and each.tip)] == []


def test_until_the_stack_is_there_nothing_is_printed_unless_it_was_stopped(
    dialog: TemplatesDialog, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert dialog.save.isEnabled()
    with monkeypatch.context() as patched:
        patched.setattr(type(dialog.job), "newest", lambda _: None)
        for state, ready in (("works", False), ("stopped", True), ("failed", True)):
            patched.setattr(type(dialog.job), "state", property(lambda _, state=state: state))
            dialog.refresh()
            assert (dialog.save.isEnabled(), dialog.print.isEnabled()) == (ready, ready)
            assert len(dialog.pages) == 7


def test_the_drawers_section_says_where_and_what_is_missing(window: Window, qtbot: QtBot) -> None:
    window.area.open_drawer("Build")
    QApplication.processEvents()
    box = window.build.box(TemplatesBox)
    window.build.sections[TemplatesBox].unfold()
    window.document.apply("Bare", replace(mounted(), mount=None, wall=None))
    window.document.flush()
    QApplication.processEvents()
    assert "No base at the wall is laid out" in box.missing.text().replace("\u200b", "")
    window.document.apply("Mount", mounted())
    window.document.flush()
    QApplication.processEvents()
    assert box.missing.text() == ""
    asked: list[str] = []
    window.build.wanted.disconnect()
    window.build.wanted.connect(asked.append)
    qtbot.mouseClick(box.templates, LEFT)
    assert asked == [DRILL_TEMPLATES]
    assert window.build.sections[TemplatesBox].gist.text() in ("", "wall and panel")
