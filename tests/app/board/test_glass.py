"""What stands on the glass: title, opening and contact in words; and the room that it takes."""

from __future__ import annotations

import pytest

from app.board.glass import FRAME, Glass
from app.look import light
from app.sheet import Camera
from kinematics import analyse, edits
from tests import specimens

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.fixture
def glass() -> Glass:
    return Glass(light(), Camera(1.0, (0.0, 0.0), (800.0, 600.0)))


def test_it_says_title_and_opening(glass: Glass) -> None:
    analysis = analyse(specimens.demo_six_bar)
    glass.tell(analysis, analysis.pose(0.0))
    assert (glass.title, glass.opening, glass.contact) == ("Engine hatch of a work launch", "shut", "")
    glass.tell(analysis, analysis.pose(31.25))
    assert glass.opening == "open 31.2°"


def test_it_says_what_touches_at_this_opening(glass: Glass) -> None:
    analysis = analyse(edits.move_pivot(specimens.demo_six_bar, "P1", (25.0, 285.0)))
    (first, last) = analysis.gaps[0].touching_deg[0]
    glass.tell(analysis, analysis.pose((first + last) / 2))
    assert glass.contact == "screen and sill – hatch skin touch here"
    glass.tell(analysis, analysis.pose(first / 2))
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
