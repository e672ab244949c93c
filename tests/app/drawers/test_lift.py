"""The drawer Lift: its sections, and what they tell while they are folded and unfolded."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.drawers.effort_box import EffortBox
from app.drawers.lift import BOXES
from kinematics import loading

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.drawers.lift import LiftDrawer
    from app.window import Window


@pytest.fixture
def drawer(window: Window) -> LiftDrawer:
    window.area.open_drawer("Lift")
    QApplication.processEvents()
    return window.lift


def test_nothing_is_made_before_the_drawer_is_opened(window: Window) -> None:
    assert window.lift.sections == {}


def test_every_box_has_a_section_with_its_title_and_unfolds(drawer: LiftDrawer, qtbot: QtBot) -> None:
    assert [section.title for section in drawer.sections.values()] == [box.title for box in BOXES]
    assert all(box.title for box in BOXES)
    for kind, section in drawer.sections.items():
        if not section.is_unfolded:
            qtbot.mouseClick(section.head, Qt.MouseButton.LeftButton)
        assert isinstance(section.body, kind)
        assert section.body.isVisibleTo(drawer)


def test_folded_sections_say_the_gist_until_they_are_unfolded(drawer: LiftDrawer, qtbot: QtBot) -> None:
    assert not any(section.is_unfolded for section in drawer.sections.values())  # nothing is missing
    section = drawer.sections[EffortBox]
    assert section.gist.text().startswith("largest push ")
    qtbot.mouseClick(section.head, Qt.MouseButton.LeftButton)
    assert section.is_unfolded
    assert section.gist.text() == ""
    assert drawer.cautions is not None
    assert "replace local codes" in drawer.cautions.text().replace("\u200b", "")


def test_what_is_missing_is_unfolded_at_once(window: Window) -> None:
    project = window.document.project
    window.document.apply("Take the handle off", loading.set_handle(project, None))
    window.area.open_drawer("Lift")
    assert window.lift.sections[EffortBox].is_unfolded
