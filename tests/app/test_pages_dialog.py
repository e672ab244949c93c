"""Sheets before they are printed, by mouse and keys: paper, pages, what makes no sense, where they go."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from app import printing
from app.document import Document
from app.pages_dialog import LayoutDialog, MockupDialog, PagesDialog
from kinematics import edits
from kinematics.errors import HingewrightError
from tests import specimens
from tests.app.accessible import everything

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from pytestqt.qtbot import QtBot

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def told() -> list[str]:
    return []


@pytest.fixture
def open_dialog(qtbot: QtBot, told: list[str], tmp_path: Path) -> Callable[..., PagesDialog]:
    def made(kind: type[PagesDialog], name: str = "a.pdf") -> PagesDialog:
        dialog = kind(Document(specimens.demo_six_bar), lambda *_: tmp_path / name, told.append)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
        qtbot.addWidget(dialog)
        with qtbot.waitExposed(dialog):
            dialog.show()
        return dialog

    return made


def enter(qtbot: QtBot, field: object, text: str) -> None:
    line = field.line  # type: ignore[attr-defined]
    line.setFocus()
    line.selectAll()
    qtbot.keyClicks(line, text)
    qtbot.keyClick(line, Qt.Key.Key_Return)


def choose(box: object, value: str) -> None:
    box.choose(value)  # type: ignore[attr-defined]
    box.activated.emit(0)  # type: ignore[attr-defined]


def test_templates_follow_what_is_typed_and_go_to_a_pdf(
    open_dialog: Callable[..., MockupDialog], qtbot: QtBot, told: list[str], tmp_path: Path
) -> None:
    dialog = open_dialog(MockupDialog)
    assert len(dialog.pages) == 8
    choose(dialog.paper, "A3")
    assert len(dialog.pages) == 7  # the cross link fits one sheet
    choose(dialog.bolt, "M8")
    assert dialog.hole.line.text() == "8.4 mm"
    enter(qtbot, dialog.hole, "7,5")
    assert dialog.bolt.value == "own"
    enter(qtbot, dialog.bar, "98.5")
    assert dialog.options.measured == 98.5
    qtbot.mouseClick(dialog.save, LEFT)
    assert told == [f"a.pdf is written, in {tmp_path}."] == [dialog.said.text()]
    assert (tmp_path / "a.pdf").read_bytes().startswith(b"%PDF")


def test_pages_are_turned_by_buttons_and_keys(open_dialog: Callable[..., MockupDialog], qtbot: QtBot) -> None:
    dialog = open_dialog(MockupDialog)
    assert dialog.which.text() == "Sheet 1 of 8: how to use these sheets"
    assert not dialog.before.isEnabled()
    qtbot.mouseClick(dialog.after, LEFT)
    assert dialog.which.text() == "Sheet 2 of 8: pins on bulkhead (fixed)"
    dialog.preview.setFocus()
    qtbot.keyClick(dialog.preview, Qt.Key.Key_PageDown)
    assert dialog.place == 2
    qtbot.keyClick(dialog.preview, Qt.Key.Key_PageUp)
    assert dialog.place == 1
    for _ in range(9):
        qtbot.keyClick(dialog.preview, Qt.Key.Key_Right)
    assert dialog.place == 7
    assert not dialog.after.isEnabled()
    assert dialog.preview.grab().toImage().pixelColor(170, 170).isValid()


def test_what_makes_no_sense_is_answered_and_changes_nothing(
    open_dialog: Callable[..., MockupDialog], qtbot: QtBot
) -> None:
    dialog = open_dialog(MockupDialog)
    enter(qtbot, dialog.bar, "80")
    assert "too small for a 100 mm bar" in dialog.bar.message
    assert dialog.options.measured == 100.0
    dialog.document.apply("Far", edits.move_pivot(dialog.document.project, "O1", (90_000.0, 0.0)))
    dialog.document.flush()
    assert "longer than" in dialog.fault.text()
    assert not dialog.save.isEnabled()
    assert not dialog.print.isEnabled()
    assert dialog.which.text() == "no sheet"
    dialog.document.undo()
    assert dialog.save.isEnabled()
    assert dialog.fault.isHidden()


def test_inches_have_their_papers_and_their_bar(open_dialog: Callable[..., MockupDialog], qtbot: QtBot) -> None:
    dialog = open_dialog(MockupDialog)
    assert dialog.paper.currentText() == "A4  (210 × 297 mm)"
    dialog.document.apply("Inches", edits.set_units(dialog.document.project, "in"))
    choose(dialog.paper, "Tabloid")
    assert dialog.paper.currentText() == 'Tabloid  (11" × 17")'
    assert dialog.rows.labelForField(dialog.bar).text() == "4 in bar measures"  # type: ignore[attr-defined]
    assert dialog.bar.line.text() == '4"'
    assert dialog.bar.line.accessibleName() == "4 in bar measures"
    enter(qtbot, dialog.bar, "3 15/16")
    assert dialog.options.measured == pytest.approx(100 * 3.9375 / 4)
    enter(qtbot, dialog.bar, "3")
    assert "too small for a 4 in bar" in dialog.bar.message
    assert '3 51/64"' in dialog.bar.message  # 95 mm of 100


def test_enter_stays_in_the_sheet_and_presses_only_what_has_the_keys(
    open_dialog: Callable[..., MockupDialog], qtbot: QtBot, told: list[str]
) -> None:
    dialog = open_dialog(MockupDialog)
    enter(qtbot, dialog.hole, "7")
    assert dialog.options.hole == 7.0
    for widget in (dialog.preview, dialog.paper):
        widget.setFocus()
        qtbot.keyClick(widget, Qt.Key.Key_Return)
    assert (dialog.isVisible(), told) == (True, [])
    dialog.after.setFocus()
    qtbot.keyClick(dialog.after, Qt.Key.Key_Return)
    assert (dialog.place, told) == (1, [])
    dialog.save.setFocus()
    qtbot.keyClick(dialog.save, Qt.Key.Key_Return)
    assert len(told) == 1


def test_printing_says_what_was_printed_or_why_not(
    open_dialog: Callable[..., PagesDialog], qtbot: QtBot, told: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    dialog = open_dialog(LayoutDialog)

    def fail(*_: object) -> str:
        raise HingewrightError("the printer is set to A5")

    for act in (lambda pages, *_: f"{len(pages)} sheet", lambda *_: "", fail):
        monkeypatch.setattr(printing, "ask_and_print", act)
        qtbot.mouseClick(dialog.print, LEFT)
    assert told == ["1 sheet", "the printer is set to A5."]


@pytest.mark.parametrize("kind", [LayoutDialog, MockupDialog])
def test_what_cannot_be_written_is_told(
    open_dialog: Callable[..., PagesDialog], qtbot: QtBot, told: list[str], read_only: Path, kind: type[PagesDialog]
) -> None:
    dialog = open_dialog(kind, read_only / "a.pdf")
    qtbot.mouseClick(dialog.save, LEFT)
    assert told[0].startswith("a.pdf: the ")
    assert "can't be written" in told[0]


@pytest.mark.parametrize("kind", [LayoutDialog, MockupDialog])
def test_every_control_has_a_name_and_a_tip(open_dialog: Callable[..., PagesDialog], kind: type[PagesDialog]) -> None:
    assert [
        found for found in everything(open_dialog(kind)) if found.is_control and not (found.name and found.tip)
    ] == []
