"""The picture to show others, by mouse and keys: the pose on the board, the size typed, the sweep with a stop."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QImage

from app.document import Document
from app.files.pictures import picture_image
from app.look import dark, light
from app.picture_dialog import PictureDialog
from tests import specimens
from tests.app.accessible import everything

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from pytestqt.qtbot import QtBot

LEFT = Qt.MouseButton.LeftButton


class Desk:
    """Asks and told."""

    def __init__(self) -> None:
        self.name: Path | None = None
        self.asked: list[tuple[str, tuple[str, ...]]] = []
        self.told: list[str] = []

    def ask(self, title: str, endings: tuple[str, ...]) -> Path | None:
        self.asked.append((title, endings))
        return self.name


@pytest.fixture
def desk() -> Desk:
    return Desk()


@pytest.fixture
def dialog(qtbot: QtBot, desk: Desk) -> PictureDialog:
    document = Document(specimens.demo_six_bar)
    document.set_opening(40.0)
    made = PictureDialog(document, light(), desk.ask, desk.told.append)
    made.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(made)
    with qtbot.waitExposed(made):
        made.show()
    return made


def choose(dialog: PictureDialog, kind: str) -> None:
    dialog.kind.choose(kind)
    dialog.kind.activated.emit(dialog.kind.currentIndex())


def type_size(qtbot: QtBot, dialog: PictureDialog, text: str) -> None:
    dialog.sides.line.setFocus()
    dialog.sides.line.selectAll()
    qtbot.keyClicks(dialog.sides.line, text)
    qtbot.keyClick(dialog.sides.line, Qt.Key.Key_Return)


def test_the_picture_is_of_the_pose_and_in_the_size_typed(
    dialog: PictureDialog, desk: Desk, qtbot: QtBot, tmp_path: Path
) -> None:
    assert dialog.told.text() == "The hinge as it stands on the board now: open 40°."
    type_size(qtbot, dialog, "320x200")
    assert dialog.sides.line.text() == "320 × 200"
    dialog.sheet.choose("dark")
    desk.name = tmp_path / "a.png"
    qtbot.mouseClick(dialog.save, LEFT)
    assert desk.asked == [("Save a picture", (".png",))]
    document = dialog._document
    assert QImage(str(desk.name)).convertToFormat(QImage.Format.Format_RGB32) == picture_image(
        document.analysis, 40.0, (320, 200), dark()
    )
    assert desk.told == [f"a.png is written, in {tmp_path}."] == [dialog.said.text()]


def test_copied_it_is_on_the_clipboard(dialog: PictureDialog, desk: Desk, qtbot: QtBot) -> None:
    type_size(qtbot, dialog, "320 200")
    qtbot.mouseClick(dialog.copy, LEFT)
    image = QGuiApplication.clipboard().image()
    assert (image.width(), image.height()) == (320, 200)
    assert "320 × 200 pixels is on the clipboard" in desk.told[0]


def test_a_size_that_is_none_is_answered_beside_its_field(dialog: PictureDialog, qtbot: QtBot) -> None:
    for text, told in (("large", "is no size"), ("9x9", "no size for a picture"), ("1x99999", "no size for a picture")):
        type_size(qtbot, dialog, text)
        assert told in dialog.sides.message
        assert dialog._size == (1600, 1000)
        qtbot.keyClick(dialog.sides.line, Qt.Key.Key_Escape)
    choose(dialog, ".gif")
    type_size(qtbot, dialog, "2000x1200")
    assert "too large for an animation" in dialog.sides.message


def test_what_cannot_be_written_is_told(dialog: PictureDialog, desk: Desk, qtbot: QtBot, read_only: Path) -> None:
    choose(dialog, ".svg")
    desk.name = read_only / "a.svg"
    qtbot.mouseClick(dialog.save, LEFT)
    assert desk.told[0].startswith("a.svg: the picture can't be written: ")


@pytest.mark.slow
@pytest.mark.parametrize("leave", [lambda d, q: q.mouseClick(d.stop, LEFT), lambda d, _: d.close()])
def test_an_animation_can_be_stopped(
    dialog: PictureDialog, desk: Desk, qtbot: QtBot, tmp_path: Path, leave: Callable[[PictureDialog, QtBot], object]
) -> None:
    choose(dialog, ".gif")
    assert dialog.told.text() == "The panel opens to 75° and shuts again, over and over."
    assert not dialog.copy.isEnabled()
    desk.name = tmp_path / "a.gif"
    qtbot.mouseClick(dialog.save, LEFT)
    assert dialog.stop.isVisible()
    assert not dialog.save.isEnabled()
    job = dialog.job
    assert job is not None
    qtbot.waitSignal(job.progressed, timeout=60_000).wait()
    leave(dialog, qtbot)
    qtbot.waitUntil(lambda: dialog.job is None, timeout=10_000)
    assert desk.told == ["Stopped; nothing was written."]
    assert not desk.name.exists()


def test_every_control_has_a_name_and_a_tip(dialog: PictureDialog) -> None:
    dialog._show_busy(True)
    assert [found for found in everything(dialog) if found.is_control and not (found.name and found.tip)] == []
