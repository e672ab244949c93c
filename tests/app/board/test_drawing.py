"""Drawing an outline by hand: clicks, what ends it, what leads the hand, and what is said beside the pointer."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import atan2, degrees, dist
from typing import TYPE_CHECKING

import pytest

from app.board import gestures
from app.board.drawing import draw_outline
from app.board.gestures import Enter, Move, Press, Release
from app.document import Document
from tests import specimens
from tests.app.board.plain import PlainDesk, perform

if TYPE_CHECKING:
    from kinematics.project import Point

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.fixture
def desk() -> PlainDesk:
    return PlainDesk(Document(specimens.demo_six_bar))


@dataclass
class Drawn:
    """What a drawing gave."""

    results: list[tuple[tuple[Point, ...], bool]] = field(default_factory=list)

    def __call__(self, points: tuple[Point, ...], closed: bool) -> None:
        self.results.append((points, closed))


CORNERS: tuple[Point, ...] = ((0.0, 0.0), (100.0, 0.0), (100.0, 50.0))


def test_enter_ends_an_open_outline(desk: PlainDesk) -> None:
    done = Drawn()
    events = [event for at in CORNERS for event in (Move(at), Press(at), Release(at))]
    assert perform(draw_outline(desk, "bulkhead", done), *events, Enter())
    assert done.results == [(CORNERS, False)]
    assert desk.sketched == ()


def test_the_sketch_follows_the_pointer(desk: PlainDesk) -> None:
    gesture = draw_outline(desk, "bulkhead", Drawn())
    perform(gesture, Press(CORNERS[0]), Press(CORNERS[1]), Move((70.0, 70.0)))
    assert desk.sketched == (CORNERS[0], CORNERS[1], (70.0, 70.0))
    gesture.close()
    assert desk.sketched == ()


def test_a_double_click_ends_it_with_one_point_there(desk: PlainDesk) -> None:
    done = Drawn()
    events = (Press(CORNERS[0]), Press(CORNERS[1]), Release(CORNERS[1]), Press(CORNERS[1], double=True))
    assert perform(draw_outline(desk, "bulkhead", done), *events)
    assert done.results == [(CORNERS[:2], False)]


def test_a_click_on_the_first_point_closes_it(desk: PlainDesk) -> None:
    done = Drawn()
    events = (*(Press(at) for at in CORNERS), Press((1.0, -1.0), reach=3.0))
    assert perform(draw_outline(desk, "bulkhead", done), *events)
    assert done.results == [(CORNERS, True)]


def test_two_points_do_not_close(desk: PlainDesk) -> None:
    done = Drawn()
    events = (Press(CORNERS[0]), Press(CORNERS[1]), Press(CORNERS[0], reach=3.0), Enter())
    assert perform(draw_outline(desk, "bulkhead", done), *events)
    assert done.results == [((CORNERS[0], CORNERS[1], CORNERS[0]), False)]


@pytest.mark.parametrize("clicks", [0, 1])
def test_fewer_than_two_points_are_none(desk: PlainDesk, clicks: int) -> None:
    done = Drawn()
    assert perform(draw_outline(desk, "bulkhead", done), *(Press(at) for at in CORNERS[:clicks]), Enter())
    assert done.results == [((), False)]


def test_given_up_it_gives_no_points(desk: PlainDesk) -> None:
    done = Drawn()
    gesture = draw_outline(desk, "bulkhead", done)
    perform(gesture, *(Press(at) for at in CORNERS))
    gesture.close()
    assert done.results == [((), False)]


def test_on_the_open_panel_points_are_told_shut(desk: PlainDesk) -> None:
    desk.document.set_opening(30.0)
    where, done = gestures.placement_of(desk.document, "hatch"), Drawn()
    perform(draw_outline(desk, "hatch", done), *(Press(where.carry(at)) for at in CORNERS), Enter())
    ((points, closed),) = done.results
    assert not closed
    assert [each for point in points for each in point] == pytest.approx([each for point in CORNERS for each in point])


# ------------------------------------------------------------------------------------------------ what leads the hand
@pytest.fixture
def led(desk: PlainDesk) -> PlainDesk:
    desk.snaps, desk.reach, desk.step, desk.grid = True, 4.0, 0.5, 0.0
    return desk


def clicked(desk: PlainDesk, *places: Point) -> tuple[tuple[Point, ...], bool]:
    """What is drawn by clicks and Enter, or a click that closes it."""
    done = Drawn()
    gesture = draw_outline(desk, "bulkhead", done)
    if not perform(gesture, *map(Press, places)):
        with pytest.raises(StopIteration):
            gesture.send(Enter())
    return done.results[0]


FAR: Point = (-900.0, -700.0)


def test_clicks_land_on_round_numbers_on_pins_and_on_points(led: PlainDesk) -> None:
    project = led.document.project
    pin, outline = project.pivots[0].at, project.outlines[0]
    corner = max(outline.points, key=lambda at: min(dist(at, each.at) for each in project.pivots))
    near = [(at[0] + 2.1, at[1] - 1.3) for at in (pin, corner)]
    points, _ = clicked(led, (FAR[0] - 0.442, FAR[1] + 0.21), *near)
    assert points == ((-900.5, -700.0), pin, corner)
    assert led.led is None


def test_a_corner_comes_plumb_and_level_with_drawn_points(led: PlainDesk) -> None:
    x, y = FAR
    points, closed = clicked(
        led, FAR, (x + 60.2, y + 1.7), (x + 58.6, y + 40.3), (x + 1.0, y + 41.0), (x + 3.0, y - 1.0)
    )
    assert points == (FAR, (x + 60.0, y), (x + 60.0, y + 40.5), (x, y + 40.5))
    assert closed


def test_a_key_leaves_the_snaps_and_one_keeps_lines_of_15_degrees(led: PlainDesk) -> None:
    x, y = FAR
    led.held = frozenset({"free"})
    assert clicked(led, FAR, (x + 60.2, y + 1.7))[0][1] == (x + 60.0, y + 1.5)
    led.held = frozenset({"line"})
    one, other = clicked(led, FAR, (x + 60.2, y + 31.0))[0]
    assert 2.0 * dist(one, other) == pytest.approx(round(2.0 * dist(one, other)), abs=1e-6)
    assert degrees(atan2(other[1] - one[1], other[0] - one[0])) == pytest.approx(30.0, abs=1e-6)


def test_length_and_angle_of_the_stretch_stand_at_the_pointer(led: PlainDesk) -> None:
    gesture, (x, y) = draw_outline(led, "bulkhead", Drawn()), FAR
    perform(gesture, Move(FAR))
    assert led.words == ""
    gesture.send(Press(FAR))
    gesture.send(Move((x + 30.0, y - 40.0)))
    assert led.words == "50.0 mm, −53.1°"
    gesture.close()
    assert (led.words, led.led) == ("", None)


def test_on_a_turned_panel_it_still_lands_on_its_own_first_point(led: PlainDesk) -> None:
    led.document.set_opening(30.0)
    where, done = gestures.placement_of(led.document, "hatch"), Drawn()
    spots = [(700.0, 900.0), (760.0, 900.0), (755.0, 960.0), (702.0, 901.0)]
    assert perform(draw_outline(led, "hatch", done), *map(Press, spots))
    ((points, closed),) = done.results
    assert closed
    assert where.carry(points[0]) == pytest.approx(spots[0], abs=1e-6)
