"""The rear edge: found for panels that open either way, in bodies of any shape, drawn or not."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from kinematics import edits
from kinematics.project import Link, Outline, Project, Travel
from kinematics.rear_edge import (
    DEFAULT_LENGTH,
    RearEdge,
    corner_name,
    front_point,
    rear_edge,
    rising_turn,
    room_below,
    side_ahead,
)
from tests import specimens

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kinematics.project import Point

WALL = ((-50.0, 100.0), (0.0, 20.0), (0.0, -200.0))
LID = ((-10.0, 0.0), (400.0, 0.0))
BOX = ((-4.0, 3.0), (-4.0, -150.0), (304.0, -150.0), (304.0, 3.0))
BOX_LID = ((0.0, 0.0), (300.0, 0.0))


def drawn(
    fixed: Sequence[Point], panel: Sequence[Point], opens: str = "anticlockwise", closed: bool = False
) -> Project:
    outlines = [Outline("body", "fixed", tuple(fixed))] if fixed else []
    outlines += [Outline("skin", "panel", tuple(panel), closed=closed)] if panel else []
    links = (Link("fixed", "fixed"), Link("panel", "panel"))
    return Project(links=links, outlines=tuple(outlines), travel=Travel(opens, 75.0))


def moved(project: Project, turn: complex = 1, shift: complex = 0, mirror: bool = False) -> Project:
    """The whole sheet turned, shifted, or mirrored left to right; a mirrored panel opens the other way."""

    def put(point: Point) -> Point:
        z = complex(*point)
        z = (-z.conjugate() if mirror else z) * turn + shift
        return z.real, z.imag

    outlines = tuple(replace(each, points=tuple(map(put, each.points))) for each in project.outlines)
    other = {"anticlockwise": "clockwise", "clockwise": "anticlockwise"}[project.travel.opens]
    return replace(
        project, outlines=outlines, travel=replace(project.travel, opens=other) if mirror else project.travel
    )


def at(edge: RearEdge, origin: complex, ahead: complex) -> bool:
    return abs(edge.origin - origin) < 1e-6 and abs(edge.ahead - ahead) < 1e-9


def test_the_end_near_the_body_is_the_rear() -> None:
    edge = rear_edge(drawn(WALL, LID))
    assert at(edge, -10, 1)
    assert edge.length == pytest.approx(410, abs=1e-9)
    assert edge.face == pytest.approx(10, abs=1e-9)


def test_of_a_post_the_face_ahead_counts() -> None:
    """Drawn with both its sides, 40 mm thick; its front side stands 10 mm ahead of the lid's end."""
    post = ((-40.0, -200.0), (-40.0, -20.0), (0.0, -20.0), (0.0, -200.0))
    assert rear_edge(drawn(post, LID)).face == pytest.approx(10, abs=1e-9)


def test_mirrored_and_opening_clockwise_it_looks_the_same() -> None:
    edge = rear_edge(moved(drawn(WALL, LID), mirror=True, shift=700))
    assert at(edge, 710, -1)
    assert edge.sign == -1
    assert edge.face == pytest.approx(10, abs=1e-9)
    assert edge.seen(np.array([600 - 30j])) == pytest.approx([110 - 30j], abs=1e-9)
    assert edge.drawn(110 - 30j) == (600, -30)


@pytest.mark.parametrize("turn_deg", [17, 90, -120])
def test_a_turned_sheet_turns_the_frame(turn_deg: float) -> None:
    """The near end decides, so gravity doesn't: a door in plan, a flap that opens downwards."""
    turn = cmath.exp(1j * math.radians(turn_deg))
    edge = rear_edge(moved(drawn(WALL, LID), turn, 30 + 40j))
    assert at(edge, -10 * turn + 30 + 40j, turn)
    assert edge.face == pytest.approx(10, abs=1e-6)


def test_the_rear_is_the_near_end_even_if_the_panel_then_opens_downwards() -> None:
    edge = rear_edge(drawn(WALL, LID, opens="clockwise"))
    assert at(edge, -10, 1)
    assert edge.drawn(50 - 20j) == (40, 20)  # "below" is where the front goes away from


@pytest.mark.parametrize(("opens", "origin", "ahead"), [("anticlockwise", 0, 1), ("clockwise", 300, -1)])
def test_in_a_frame_all_round_the_front_rises(opens: str, origin: float, ahead: complex) -> None:
    edge = rear_edge(drawn(BOX, BOX_LID, opens))
    assert at(edge, origin, ahead)
    assert edge.face == pytest.approx(-4, abs=1e-9)
    assert room_below(edge, 100) == pytest.approx(150, abs=1e-9)


@pytest.mark.parametrize(("opens", "origin", "ahead"), [("anticlockwise", -10, 1), ("clockwise", 400, -1)])
def test_without_a_body_the_front_rises(opens: str, origin: float, ahead: complex) -> None:
    edge = rear_edge(drawn((), LID, opens))
    assert at(edge, origin, ahead)
    assert edge.face is None
    assert room_below(edge, 50) == edge.length


def test_an_upright_lid_in_its_frame_swings_away_from_the_body() -> None:
    """A front door of a box that lies to its left; its lower or upper end may be the rear, as it opens."""
    body = ((0.0, -5.0), (-200.0, -5.0), (-200.0, 305.0), (0.0, 305.0))
    door = ((0.0, 0.0), (0.0, 300.0))
    assert at(rear_edge(drawn(body, door, "clockwise")), 0, 1j)
    assert at(rear_edge(drawn(body, door, "anticlockwise")), 300j, -1j)


def test_flanges_and_slabs() -> None:
    """Below a skin with flanges is the skin; below a closed slab is its lower face."""
    skin = rear_edge(drawn((), ((0.0, -40.0), (0.0, 0.0), (500.0, 0.0), (500.0, -40.0))))
    assert skin.underside(250) == pytest.approx(0, abs=1e-9)
    assert skin.underside(1) == pytest.approx(0, abs=1e-9)
    slab = rear_edge(drawn((), ((0.0, 0.0), (500.0, 0.0), (500.0, -30.0), (0.0, -30.0)), closed=True))
    assert at(slab, 0, 1)
    assert slab.underside(250) == pytest.approx(-30, abs=1e-9)
    assert slab.underside(900) == pytest.approx(-30, abs=1e-9)


@pytest.mark.parametrize(("opens", "ahead"), [("anticlockwise", 1), ("clockwise", -1)])
def test_an_undrawn_panel_is_taken_to_lie_level(opens: str, ahead: complex) -> None:
    edge = rear_edge(drawn((), (), opens))
    assert at(edge, 0, ahead)
    assert edge.length == DEFAULT_LENGTH
    over_a_box = rear_edge(drawn(((0.0, 0.0), (80.0, 0.0), (80.0, -90.0), (0.0, -90.0)), (), opens))
    assert at(over_a_box, 80 if ahead == 1 else 0, ahead)


@pytest.mark.parametrize("opens", ["anticlockwise", "clockwise"])
@pytest.mark.parametrize("turn_deg", [0.0, 12.0, -25.0])
def test_the_front_rises_from_a_body_on_either_side(turn_deg: float, opens: str) -> None:
    """Whichever way the project says that it opens."""
    plain = moved(drawn(WALL, LID, opens), cmath.exp(1j * math.radians(turn_deg)))
    assert rising_turn(plain) == 1
    assert rising_turn(moved(plain, mirror=True, shift=40 + 30j)) == -1


@pytest.mark.parametrize(
    ("body", "panel"),
    [
        (BOX, BOX_LID),  # both ends are near
        ((), LID),
        (WALL, ()),
        (WALL, ((5.0, 5.0), (5.0, 5.0))),
        (((-200.0, -5.0), (-200.0, 305.0)), ((0.0, 0.0), (0.0, 300.0))),  # upright: hinged at either end
        (((-20.0, -5.0), (-200.0, -5.0)), ((0.0, 0.0), (0.0, 300.0))),  # upright on its lower end: neither rises
    ],
)
def test_where_nobody_can_tell_neither_way_is_the_better(body: Sequence[Point], panel: Sequence[Point]) -> None:
    for opens in ("anticlockwise", "clockwise"):
        assert rising_turn(drawn(body, panel, opens)) == 0


def test_a_square_section_may_be_hinged_along_either_side() -> None:
    """300 × 280, upright the longer: the body behind its lower left end, the front to the right, rising."""
    square = ((0.0, 0.0), (0.0, 300.0), (280.0, 300.0), (280.0, 0.0))
    edge = rear_edge(drawn((), square, closed=True))
    assert abs(edge.ahead - 1) < 1e-9


def test_every_specimen_has_one() -> None:
    for project in specimens.ALL.values():
        edge = rear_edge(project)
        assert edge.length > 0
        assert math.isfinite(abs(edge.origin))


# ---------------------------------------------------------------------------------------- back, ahead, the front edge
BESIDE = ((0.0, -5.0), (-200.0, -5.0), (-200.0, 305.0), (0.0, 305.0))
BEHIND = ((-60.0, 200.0), (-20.0, 0.0), (-20.0, -100.0))


@pytest.mark.parametrize(
    ("body", "panel", "opens", "side"),
    [
        (BEHIND, ((0.0, 0.0), (600.0, -30.0)), "anticlockwise", 1),
        (BEHIND, ((0.0, 0.0), (600.0, -30.0)), "clockwise", 1),  # nearness says it, whichever way it turns
        (((60.0, 200.0), (20.0, 0.0)), ((0.0, 0.0), (-600.0, -30.0)), "clockwise", -1),
        (BESIDE, ((0.0, 0.0), (0.0, 300.0)), "clockwise", 0),  # upright: nothing is ahead
        ((), (), "anticlockwise", 0),
    ],
)
def test_what_is_ahead_is_where_the_front_is(
    body: tuple[tuple[float, float], ...], panel: tuple[tuple[float, float], ...], opens: str, side: int
) -> None:
    assert side_ahead(drawn(body, panel, opens)) == side


def test_it_is_asked_anew_for_other_outlines_and_another_way() -> None:
    one = drawn((), ((0.0, 0.0), (600.0, 0.0)))
    assert side_ahead(one) == 1
    assert side_ahead(edits.set_travel(one, opens="clockwise")) == -1
    assert side_ahead(one) == 1
    upright = edits.replace_outline(one, one.outlines[0].id, replace(one.outlines[0], points=((0.0, 0.0), (0.0, 9.0))))
    assert side_ahead(upright) == 0
    assert side_ahead(edits.set_kind(one, one.fixed.id, "panel")) == 0


def test_the_front_point_is_the_foremost_and_of_several_the_highest() -> None:
    assert front_point(drawn(BEHIND, ((0.0, 0.0), (600.0, 0.0), (600.0, -40.0)))) == (600.0, 0.0)
    assert front_point(drawn((), ())) is None


def test_corners_are_named_by_the_end_that_they_are_at() -> None:
    lid = drawn(BEHIND, ((0.0, 0.0), (300.0, 5.0), (600.0, 0.0), (600.0, -40.0)))
    names = [corner_name(lid, at) for at in ((0.0, 0.0), (40.0, 9.0), (300.0, 5.0), (600.0, -40.0))]
    assert names == ["rear corner", "rear corner", "corner", "front corner"]
    assert corner_name(drawn(BEHIND, ()), (0.0, 0.0)) == "corner"
