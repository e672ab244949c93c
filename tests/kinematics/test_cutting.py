"""Parts as they are cut: laid along x, never mirrored; their other hand; what they weigh and come to."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np
import pytest

from kinematics.build_parts import Cutout, Plate, Plates, Side
from kinematics.contours import Contour, circle
from kinematics.cutting import Part, is_round, part_of, tidy
from kinematics.errors import HingewrightError
from tests.specimens import demo_six_bar, single_pivot

if TYPE_CHECKING:
    from kinematics.project import Project


def hole(_link: str, _pivot: str) -> float:
    return 11.7


def part(project: Project, link: str) -> Part:
    found = part_of(project, project.links[project.link_index[link]], hole)
    assert found is not None
    return found


def plates(project: Project) -> list[Part]:
    return [each for link in project.links if (each := part_of(project, link, hole)) is not None]


def turned(places: list[complex]) -> float:
    """Twice the signed area of the first three."""
    a, b, c = places[:3]
    return ((b - a).conjugate() * (c - a)).imag


def test_holes_are_as_far_apart_as_the_pins_and_lie_along_x() -> None:
    for each in plates(demo_six_bar):
        at = {pivot.id: complex(*pivot.at) for pivot in demo_six_bar.pivots}
        for one, other in combinations(each.holes, 2):
            assert abs(other.at - one.at) == pytest.approx(abs(at[other.pivot] - at[one.pivot]), abs=1e-9)
        row = max(combinations(each.holes, 2), key=lambda pair: abs(pair[1].at - pair[0].at))
        assert row[0].at == 0j
        assert row[1].at.imag == 0.0
        assert row[1].at.real > 0.0


def test_a_plate_is_turned_never_mirrored_and_its_other_hand_is() -> None:
    for each in plates(demo_six_bar):
        if len(each.holes) < 3:
            continue
        at = {pivot.id: complex(*pivot.at) for pivot in demo_six_bar.pivots}
        mine, drawn = [hole.at for hole in each.holes], [at[hole.pivot] for hole in each.holes]
        assert turned(mine) == pytest.approx(turned(drawn))
        other = replace(each, hand="left").mirrored()
        assert turned([hole.at for hole in other.holes]) == pytest.approx(-turned(mine))
        assert other.hand == "right"
        assert other.outer.area == pytest.approx(each.outer.area)
        assert other.cut_length == pytest.approx(each.cut_length)


def test_only_links_with_pins_have_plates() -> None:
    assert plates(single_pivot) == []
    assert [each.link for each in plates(demo_six_bar)] == [
        link.id for link in demo_six_bar.links if link.kind == "link"
    ]


def test_mass_area_and_way_leave_the_holes_out() -> None:
    link = next(link.id for link in demo_six_bar.links if link.kind == "link")
    pin = next(pivot.at for pivot in demo_six_bar.pivots if link in pivot.joins)
    bare = part(demo_six_bar, link)
    lighter = part(replace(demo_six_bar, plates=Plates(each=(Plate(link, cutouts=(Cutout(pin, 2.0),)),))), link)
    assert lighter.area == pytest.approx(bare.area - math.pi)
    assert lighter.mass == pytest.approx(bare.mass - math.pi * bare.thickness * bare.density * 1e-9)
    assert lighter.cut_length == pytest.approx(bare.cut_length + 2 * math.pi)
    assert lighter.pierces == bare.pierces + 1 == len(bare.holes) + 2


def test_an_impossible_side_is_told() -> None:
    two = [link for link in demo_six_bar.links if link.kind == "link" and len(demo_six_bar.pivots_on(link.id)) == 2]
    link = two[0]
    pins = [pivot.id for pivot in demo_six_bar.pivots_on(link.id)]
    sides = tuple(Side(pair, -5000.0) for pair in ((pins[0], pins[1]), (pins[1], pins[0])))
    with pytest.raises(HingewrightError, match="can't be bent so far"):
        part(replace(demo_six_bar, plates=Plates(each=(Plate(link.id, sides=sides),))), link.id)


def test_no_corner_stands_twice() -> None:
    square = Contour(np.array([0, 10, 10, 10 + 10j, 10j, 0]), np.zeros(6))
    assert tidy(square).corners.tolist() == [0, 10, 10 + 10j, 10j]
    assert tidy(tidy(square)) is not None
    assert tidy(square).area == 100.0


def test_a_circle_in_two_halves_is_round_and_a_lens_is_not() -> None:
    assert is_round(circle(3 + 4j, 5.0))
    assert not is_round(Contour(np.array([0, 10]), np.array([1.0, 0.5])))


def test_bends_go_with_the_part() -> None:
    flat = Part("mount", "m", "m", circle(0j, 50.0), bends=((-10 + 5j, 10 + 5j),))
    ((start, end),) = flat.moved(math.pi / 2, 1 + 1j).bends
    assert cmath.isclose(start, -4 - 9j)
    assert cmath.isclose(end, -4 + 11j)
    assert flat.mirrored().bends == ((10 + 5j, -10 + 5j),)
