"""What stands on the glass: title, opening and contact in words; and the room that it takes."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QFontMetricsF

from app.board.glass import FRAME, Glass
from app.board.pointer import DRAWING_HINT
from app.look import light
from app.painter import font
from app.sheet import Camera
from kinematics import analyse, edits
from tests import specimens

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.fixture
def glass() -> Glass:
    return Glass(light(), Camera(1.0, (0.0, 0.0), (800.0, 600.0)))


def test_it_says_title_and_opening(glass: Glass) -> None:
    analysis = analyse(specimens.demo_six_bar)
    glass.tell(analysis, analysis.pose(0.0), "mm")
    assert (glass.title, glass.opening, glass.contact) == ("Engine hatch of a work launch", "shut", "")
    glass.tell(analysis, analysis.pose(31.25), "mm")
    assert glass.opening == "open 31.2°"


def test_it_says_what_touches_at_this_opening(glass: Glass) -> None:
    analysis = analyse(edits.move_pivot(specimens.demo_six_bar, "P1", (25.0, 285.0)))
    (first, last) = analysis.gaps[0].touching_deg[0]
    glass.tell(analysis, analysis.pose((first + last) / 2), "mm")
    assert glass.contact == "screen and sill – hatch skin touch here"
    glass.tell(analysis, analysis.pose(first / 2), "mm")
    assert glass.contact == ""


def test_an_open_drawer_moves_the_scale_bar_aside(glass: Glass) -> None:
    (bar, *_) = glass.boxes()
    glass.covered_left = 320.0
    (moved, *_) = glass.boxes()
    assert moved.left == bar.left + 320.0
    assert glass.sheet().left == 320.0 + FRAME


def test_the_title_block_stands_in_the_frames_corner_and_keeps_to_the_sheet(glass: Glass) -> None:
    glass.title = "A title that goes on and on, " * 12
    box = glass.boxes()[-1]
    assert box.right == pytest.approx(glass.sheet().right, abs=1.0)
    assert box.bottom == pytest.approx(glass.sheet().bottom, abs=1.0)
    assert box.left > 0.3 * 800.0


@pytest.mark.parametrize("covered", [0.0, 330.0, 560.0])
def test_the_hint_stands_beside_an_open_drawer_in_as_many_lines_as_it_needs(glass: Glass, covered: float) -> None:
    glass.hint, glass.covered_left = DRAWING_HINT, covered
    box, seen = glass.hint_box(), glass.sheet()
    assert seen.left <= box.left < box.right <= seen.right
    metrics = QFontMetricsF(font(light().families, light().words_px))
    room = QRectF(0.0, 0.0, box.right - box.left - 16.0, 1000.0)
    needed = metrics.boundingRect(room, int(Qt.TextFlag.TextWordWrap), DRAWING_HINT)
    assert needed.height() <= box.bottom - box.top
    assert needed.width() <= room.width()


def test_a_panel_that_has_slid_is_not_said_to_be_shut(glass: Glass) -> None:
    analysis = analyse(specimens.parallelogram)
    glass.tell(analysis, analysis.along(0.0), "mm")
    assert glass.opening == "shut"
    glass.tell(analysis, analysis.along(0.5 * analysis.arc_range[1]), "mm")
    assert glass.opening == "moved"


@pytest.mark.parametrize("covered", [0.0, 330.0, 520.0])
def test_the_title_block_keeps_off_the_scale_bar_beside_an_open_drawer(glass: Glass, covered: float) -> None:
    glass.title, glass.covered_left = "Engine hatch of a work launch", covered
    bar, title = glass.boxes()
    assert bar.right < title.left < title.right <= glass.sheet().right


def test_the_hint_goes_to_the_head_of_the_sheet_when_the_hand_comes_near_and_back() -> None:
    glass = Glass(light(), Camera(1.0, (0.0, 0.0), (900.0, 600.0)), hint="Click its first end.")
    foot = glass.hint_box()
    assert not glass.clear_of((450.0, 100.0))
    assert glass.clear_of((450.0, foot.top - 20.0))
    head = glass.hint_box()
    assert head.bottom < 100.0 < foot.top
    assert (head.left, head.right) == (foot.left, foot.right)
    assert not glass.clear_of((450.0, foot.top))
    assert glass.clear_of((450.0, head.bottom))
    assert glass.hint_box() == foot
