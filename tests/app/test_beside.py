"""Words beside a mark: where they go when lines are in the way. Pixels, y down."""

from __future__ import annotations

import numpy as np

from app.beside import OFF, Course, along, around, least_crossed
from app.labels import Box

SHEET = Box(0.0, 0.0, 400.0, 80.0)
NOTHING = np.zeros((0, 2))
SIZE = (40.0, 12.0)


def placed(curve: np.ndarray, levels: tuple[float, ...] = (), taken: tuple[Box, ...] = ()) -> tuple[Box, bool]:
    return least_crossed(around((200.0, 40.0), SIZE), (Course(curve),), levels, taken, SHEET)


def test_with_nothing_in_the_way_words_stand_right_of_the_mark_and_above_it() -> None:
    box, clear = placed(NOTHING)
    assert clear
    assert (box.left, box.bottom) == (200.0 + OFF, 40.0 - OFF)
    assert (box.right - box.left, box.bottom - box.top) == SIZE


def test_a_curve_that_rises_to_the_right_sends_them_to_the_left() -> None:
    rising = np.array([[0.0, 40.0], [200.0, 40.0], [400.0, 0.0]])
    box, clear = placed(rising)
    assert clear
    assert box.right == 200.0 - OFF


def test_a_steep_piece_between_two_points_is_seen_too() -> None:
    """No point of the curve lies within the box's width; the line between them still runs through it."""
    steep = np.array([[0.0, 79.0], [204.0, 79.0], [246.0, 0.0], [400.0, 0.0]])
    box, clear = placed(steep)
    assert clear
    assert box.right < 204.0 or box.left > 246.0


def test_a_valley_of_which_the_mark_is_the_bottom_sends_them_below() -> None:
    xs = np.linspace(0.0, 400.0, 81)
    valley = np.stack([xs, 40.0 - 0.02 * (xs - 200.0) ** 2], axis=1)
    box, clear = placed(valley)
    assert clear
    assert box.top >= 40.0


def test_lines_and_other_words_are_kept_clear_of() -> None:
    box, clear = placed(NOTHING, levels=(30.0,), taken=(Box(150.0, 40.0, 196.0, 60.0),))
    assert clear
    assert box.top >= 40.0
    assert box.left >= 200.0


def test_the_edge_counts() -> None:
    box, clear = least_crossed(around((395.0, 5.0), SIZE), (), (), (), SHEET)
    assert clear
    assert box.right <= 395.0
    assert box.top >= 5.0


def test_where_all_is_crossed_the_least_evil_is_taken() -> None:
    thicket = tuple(Box(x, 0.0, x + 10.0, 80.0) for x in range(0, 200, 20))
    box, clear = least_crossed(around((100.0, 40.0), SIZE), (), (), thicket, SHEET)
    assert not clear
    assert box in around((100.0, 40.0), SIZE)


def test_words_on_a_level_line_stand_at_its_right_end_and_move_off_a_curve() -> None:
    boxes = along(50.0, SIZE, 400.0)
    assert (boxes[0].right, boxes[0].bottom) == (400.0, 50.0)
    ends_on_it = np.array([[0.0, 10.0], [300.0, 10.0], [400.0, 46.0]])
    box, clear = least_crossed(boxes, (Course(ends_on_it),), (), (), SHEET)
    assert clear
    assert box.top >= 50.0


def test_in_a_low_lane_words_stand_whole_above_a_curve_that_rises() -> None:
    """One step near the mark lies on the curve, two lie out of the lane: there is half a step between them."""
    lane = Box(0.0, 0.0, 400.0, 40.0)
    curve = Course(np.array([[2.0, 28.0], [40.0, 20.0], [200.0, 12.0]]))
    box, is_clear = least_crossed(around((2.0, 28.0), (30.0, 13.0)), (curve,), (40.0,), (), lane)
    assert is_clear
    assert box.top >= 0.0
