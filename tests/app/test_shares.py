"""How the window's room is shared: the strip takes what its lanes can use; what was set by hand comes back."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, QSize, Qt
from PySide6.QtWidgets import QApplication

from app.document import Document
from app.lanes import HIGHEST
from app.ruler import HEIGHT as RULER_HEIGHT
from app.settings import Settings
from app.shares import FRAME, LANE_HEIGHT, STRIP_HEIGHT, first_size
from app.window import Window
from kinematics import edits
from tests.app.sharing import demo

if TYPE_CHECKING:
    from PySide6.QtWidgets import QSplitter
    from pytestqt.qtbot import QtBot


def settle() -> None:
    QApplication.processEvents()


def pull(qtbot: QtBot, splitter: QSplitter, by: QPoint) -> None:
    """Drag the handle between the two parts of a splitter."""
    handle = splitter.handle(1)
    start = handle.rect().center()
    qtbot.mousePress(handle, Qt.MouseButton.LeftButton, pos=start)
    qtbot.mouseMove(handle, start + by)
    qtbot.mouseRelease(handle, Qt.MouseButton.LeftButton, pos=start + by)
    settle()


def test_the_strip_is_as_high_as_its_lanes_read_well(window: Window) -> None:
    window.document.new(replace(demo(), loads=None))
    settle()
    lanes = len(window.strip.lanes)
    assert lanes == 2
    assert window.strip.height() == pytest.approx(RULER_HEIGHT + lanes * LANE_HEIGHT, abs=4)


def test_with_nothing_to_show_the_strip_leaves_its_room_to_the_board(window: Window) -> None:
    settle()
    before = window.board.height()
    window.document.new()
    settle()
    assert window.strip.height() < RULER_HEIGHT + LANE_HEIGHT
    assert window.strip.ruler.height() == RULER_HEIGHT  # and is not squeezed for it
    assert window.board.height() > before + LANE_HEIGHT
    window.document.new(demo())
    settle()
    assert window.board.height() == before


def test_many_lanes_scroll_in_the_usual_height(window: Window) -> None:
    project = demo()
    for number in range(6):
        project = edits.add_outline(project, replace(project.outlines[0], id=f"wall {number}"))
    window.document.new(project)
    settle()
    assert window.strip.height() == STRIP_HEIGHT


def test_a_height_set_by_hand_is_kept_through_other_projects_and_starts(window: Window, qtbot: QtBot) -> None:
    settle()
    pull(qtbot, window.shares._rows, QPoint(0, -60))
    by_hand = window.strip.height()
    assert by_hand == pytest.approx(STRIP_HEIGHT + 60, abs=4)
    window.document.new()
    settle()
    assert window.strip.height() < by_hand
    window.document.new(demo())
    settle()
    assert window.strip.height() == by_hand
    window.shares.remember(window.settings)
    other = Window(Document(demo()), Settings())
    qtbot.addWidget(other)
    other.resize(window.size())
    with qtbot.waitExposed(other):
        other.show()
    settle()
    assert other.strip.height() == by_hand


def test_the_strip_cannot_be_pulled_beyond_what_its_lanes_can_use(window: Window, qtbot: QtBot) -> None:
    settle()
    pull(qtbot, window.shares._rows, QPoint(0, -2000))
    assert window.strip.height() <= RULER_HEIGHT + len(window.strip.lanes) * HIGHEST + 4


def test_checks_and_entry_are_shared_by_hand_and_come_back(window: Window, qtbot: QtBot) -> None:
    settle()
    before = window.checks.split.sizes()
    pull(qtbot, window.checks.split, QPoint(0, 70))
    after = window.checks.split.sizes()
    assert after[0] == pytest.approx(before[0] + 70, abs=3)
    window.shares.remember(window.settings)
    other = Window(Document(demo()), Settings())
    qtbot.addWidget(other)
    other.resize(window.size())
    with qtbot.waitExposed(other):
        other.show()
    settle()
    assert other.checks.split.sizes() == pytest.approx(after, abs=2)


def test_the_first_of_the_demo_s_checks_are_seen_at_1280_by_800(window: Window) -> None:
    settle()
    seen = [row for row in window.checks.rows if not row.visibleRegion().isEmpty()]
    seen = [row for row in seen if row.visibleRegion().boundingRect().height() == row.height()]
    assert len(seen) >= 5


@pytest.mark.parametrize("screen", [(1280, 800), (1024, 600), (1366, 728), (2560, 1400)])
def test_a_window_opens_inside_the_screen_and_makes_use_of_it(screen: tuple[int, int]) -> None:
    size = first_size(QSize(*screen))
    assert size.width() + FRAME.width() <= screen[0]
    assert size.height() + FRAME.height() <= screen[1]
    assert size.width() >= min(1280, screen[0] - FRAME.width())
    assert size.height() >= min(0.8 * screen[1], screen[1] - FRAME.height()) - 1
