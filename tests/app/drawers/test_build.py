"""The drawer Build: its sections, and the way to the templates."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.drawers.build import BOXES
from app.drawers.mockup_box import TEMPLATES, MockupBox, pin_distances

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window


def test_every_box_has_a_section_and_the_mock_up_is_unfolded(window: Window, qtbot: QtBot) -> None:
    assert window.build.sections == {}  # nothing is made before it is looked into
    window.area.open_drawer("Build")
    QApplication.processEvents()
    assert [section.title for section in window.build.sections.values()] == [box.title for box in BOXES]
    assert all(box.title for box in BOXES)
    mockup = window.build.sections[MockupBox]
    assert mockup.is_unfolded
    assert isinstance(mockup.body, MockupBox)
    listed = mockup.body.listed.text().replace("\u200b", "").splitlines()
    assert listed == pin_distances(window.document.project, window.document.units)
    told: list[str] = []
    window.build.wanted.disconnect()
    window.build.wanted.connect(told.append)
    qtbot.mouseClick(mockup.body.templates, Qt.MouseButton.LeftButton)
    assert told == [TEMPLATES]
    qtbot.mouseClick(mockup.head, Qt.MouseButton.LeftButton)
    assert mockup.gist.text().endswith("links")
