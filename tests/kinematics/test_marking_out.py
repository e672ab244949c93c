"""What is marked on wall and skin, seen by one who faces them: right-handed vectors worked here, not by the program."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations, product
from typing import TYPE_CHECKING

import numpy as np
import pytest

from app.hardware import hardware
from kinematics.edits import move_pivot
from kinematics.loads import Loads
from kinematics.marking_out import skin_marks, wall_marks
from kinematics.mount_parts import Base, Bracket, Mount
from kinematics.project import Outline, Project, Travel
from kinematics.wall_parts import HandWall, Wall
from kinematics.walling import edge_height
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from kinematics.marking_out import WallMarks


def mounted(trued: str = "foot", off: float = 9.5, lean: float = 12.0) -> Project:
    wall = Wall(left=HandWall(off, lean, 400.0), trued=trued, level=100.0)  # type: ignore[arg-type]
    return replace(demo_six_bar, mount=Mount(Bracket(), Base()), wall=wall)


def bent(project: Project, way: str) -> Project:
    bracket = replace(project.mounted.bracket or Bracket(), bent=way)
    return replace(project, mount=replace(project.mounted, bracket=bracket))


def walls(project: Project) -> tuple[WallMarks, WallMarks]:
    left, right = (wall_marks(project, hardware(), hand) for hand in ("left", "right"))
    assert left is not None
    assert right is not None
    return left, right


def mirrored(project: Project) -> Project:
    """The same hinge, its side view drawn from the other side."""
    for pivot in project.pivots:
        project = move_pivot(project, pivot.id, (-pivot.at[0], pivot.at[1]))
    outlines = tuple(replace(each, points=tuple((-x, y) for x, y in each.points)) for each in project.outlines)
    opens = "clockwise" if project.travel.opens == "anticlockwise" else "anticlockwise"
    return replace(project, outlines=outlines, travel=Travel(opens, project.travel.wanted_deg), marks=(), limits=())  # type: ignore[arg-type]


def turn(a: complex, b: complex, c: complex) -> float:
    """Twice the signed area of a triangle."""
    return ((b - a).conjugate() * (c - a)).imag


@pytest.mark.parametrize("trued", ["foot", "shim"])
def test_what_is_seen_is_what_stands_in_space(trued: str) -> None:
    """Space here: x ahead, y up, z = x × y to the builder's right as he looks ahead; he looks at it against `out`."""
    for marks, side in zip(walls(mounted(trued)), (-1.0, 1.0), strict=True):
        plane = marks.out.plane
        into_space = np.array([1.0, 1.0, side])  # a hand's z is outboard
        look, up = -plane.out * into_space, plane.up * into_space
        rightward = np.cross(look, up)
        assert marks.right == (-1.0 if side > 0 else 1.0)  # he looks back: the left hinge is on his right
        for spot in marks.out.bolts:
            place = plane.placed(np.array([[spot.along, spot.up, 0.0]]))[0]
            seen = (place - plane.at) * into_space
            assert marks.seen(spot) == pytest.approx(complex(seen @ rightward, seen @ up), abs=1e-9)


def test_left_and_right_are_mirrored_and_holes_as_far_apart() -> None:
    """E10."""
    left, right = ([marks.seen(spot) for spot in marks.out.bolts] for marks in walls(mounted()))
    for (a, b), (c, d) in zip(combinations(left, 2), combinations(right, 2), strict=True):
        assert abs(a - b) == pytest.approx(abs(c - d), abs=1e-9)
    areas = [turn(*three) for three in (left[:3], right[:3])]
    assert areas[0] == pytest.approx(-areas[1])
    assert abs(areas[0]) > 100.0


@pytest.mark.parametrize("flange", ["inboard", "outboard"])
def test_it_doesnt_matter_from_which_side_the_side_view_is_drawn(flange: str) -> None:
    one, other = mounted(), mirrored(mounted())
    for hand in ("left", "right"):
        walls_seen = [wall_marks(each, hardware(), hand) for each in (one, other)]
        skins = [skin_marks(bent(each, flange), hardware(), hand, 12.0) for each in (one, other)]
        spots = [sorted((marks.seen(s) for s in marks.out.bolts), key=_order) for marks in walls_seen if marks]
        bolts = [sorted(marks.laid(np.array(marks.made.bolts)).tolist(), key=_order) for marks in skins if marks]
        for pair in (spots, bolts):
            assert len(pair) == 2
            assert pair[0] == pytest.approx(pair[1], abs=1e-6)


def _order(place: complex) -> tuple[float, float]:
    return round(place.real, 3), round(place.imag, 3)


def test_the_plate_lies_as_its_holes_do() -> None:
    for trued in ("foot", "shim"):
        for marks in walls(mounted(trued)):
            bolts = marks.laid(np.array(marks.out.base.bolts)).tolist()
            for spot in marks.out.bolts:
                assert min(abs(marks.seen(spot) - bolt) for bolt in bolts) < 1e-9


def test_lines_stand_in_at_what_the_tape_and_the_laser_read() -> None:
    left, _ = walls(mounted())
    for along, up in product((300.0, 350.0), (-40.0, 0.0, 60.0)):
        place = left.taped(along, up)
        space = left.out.plane.placed(np.array([[left.right * place.real, place.imag, 0.0]]))[0]
        assert space[2] == pytest.approx(along * math.cos(math.radians(9.5)), abs=1e-9)  # square to the centreline
    space = left.out.plane.placed(np.array([[0.0, left.level_up(70.0), 0.0]]))[0]
    assert space[1] == pytest.approx(100.0 + 70.0)


def test_the_bracket_lies_ahead_of_the_rear_edge_and_off_the_centreline() -> None:
    """A flat skin 300 over the origin, its rear edge at x = 20, its pins at 100 and 200: the foot's middle at 150."""
    skin = Outline("skin", "hatch", ((20.0, 300.0), (900.0, 300.0)))
    rest = tuple(each for each in demo_six_bar.outlines if each.on != "hatch")
    pins = [pivot.id for pivot in demo_six_bar.pivots_on("hatch")]
    project = replace(demo_six_bar, outlines=(*rest, skin), mount=Mount(Bracket(thickness=4.0)), gaps=())
    for pin, x in zip(pins, (100.0, 200.0), strict=True):
        project = move_pivot(project, pin, (x, 250.0))
    project = replace(project, wall=None, loads=Loads(spacing=800.0))
    marks = skin_marks(project, hardware(), "left", 10.0)
    assert marks is not None
    assert marks.rear == pytest.approx(20.0 - 150.0)
    assert marks.from_centre == pytest.approx(400.0 + 10.0 + 2.0)
    first, second = sorted(marks.laid(np.array(marks.made.bolts)).tolist(), key=lambda place: place.imag)
    assert (first.imag, second.imag) == pytest.approx((-25.0, 25.0))
    # from beneath, the front up, the left hinge's outboard is to the right: the flange, inboard, goes to the left
    assert marks.right == 1.0
    assert first.real < 0.0
    assert marks.square(first.real) == pytest.approx(412.0 + first.real)
    assert marks.out_to(400.0) == pytest.approx(-12.0)
    other = skin_marks(bent(project, "outboard"), hardware(), "right", 10.0)
    assert other is not None
    assert other.from_centre == pytest.approx(400.0 + 10.0 - 2.0)
    assert other.laid(np.array(other.made.bolts)).real == pytest.approx([first.real] * 2)


def test_the_walls_upper_edge_is_where_the_drawn_face_ends_or_as_typed() -> None:
    wall = Outline("wall", "bulkhead", ((0.0, -50.0), (0.0, 150.0), (0.0, 240.0), (-60.0, 300.0)))
    rest = tuple(each for each in demo_six_bar.outlines if each.on != "bulkhead")
    project = replace(demo_six_bar, outlines=(*rest, wall), gaps=(), wall=Wall(level=100.0))
    assert edge_height(project, Base()) == pytest.approx(140.0)
    assert edge_height(replace(project, wall=Wall(level=100.0, edge=33.0)), Base()) == 33.0
    assert edge_height(project, Base(at=(0.0, 100.0), wall_deg=90.0)) is None


def test_what_is_not_laid_out_is_not_marked() -> None:
    assert wall_marks(demo_six_bar, hardware(), "left") is None
    assert skin_marks(demo_six_bar, hardware(), "left") is None
