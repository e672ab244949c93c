"""The row of buttons beneath a dialog."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QIcon, QPixmap
from PySide6.QtWidgets import QDialogButtonBox

import app
from app.buttons import close_only, go_on_or_cancel, without_pictures

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


def test_pictures_that_a_desktop_puts_on_buttons_go(qtbot: QtBot) -> None:
    box = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
    qtbot.addWidget(box)
    picture = QPixmap(8, 8)
    picture.fill(Qt.GlobalColor.red)
    for button in box.buttons():
        button.setIcon(QIcon(picture))
    without_pictures(box)
    assert all(button.icon().isNull() for button in box.buttons())


def test_every_dialog_takes_its_buttons_from_here() -> None:
    """Offscreen no desktop adds pictures, so a dialog with a row of its own would not be found out by looking."""
    root = Path(app.__file__).parent
    makers = [path.name for path in root.rglob("*.py") if "QDialogButtonBox(" in path.read_text("utf-8")]
    assert makers == ["buttons.py"]


def test_a_click_goes_on_or_leaves(qtbot: QtBot) -> None:
    box, go_on = go_on_or_cancel("Bring in", "Add the lines.")
    qtbot.addWidget(box)
    assert go_on.text() == go_on.accessibleName() == "Bring in"
    with qtbot.waitSignal(box.accepted):
        qtbot.mouseClick(go_on, Qt.MouseButton.LeftButton)
    with qtbot.waitSignal(box.rejected):
        qtbot.mouseClick(box.button(QDialogButtonBox.StandardButton.Cancel), Qt.MouseButton.LeftButton)


def test_a_dialog_of_words_is_only_closed(qtbot: QtBot) -> None:
    box = close_only()
    qtbot.addWidget(box)
    assert len(box.buttons()) == 1
    with qtbot.waitSignal(box.rejected):
        qtbot.mouseClick(box.buttons()[0], Qt.MouseButton.LeftButton)
