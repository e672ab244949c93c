"""What stands in the way of cutting: each fault, and the cautions of shops' rules."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from kinematics.contours import Contour, Eye, around, circle
from kinematics.cut_faults import CutFault, cut_faults
from kinematics.cutting import Hole, Part
from tests.specimens import demo_six_bar

LINK = next(link.id for link in demo_six_bar.links if link.width)
NARROW_OK = replace(demo_six_bar, pin_spacing=1.0)


def capsule(apart: float = 100.0, radius: float = 14.0, hole: float = 12.0, thickness: float = 4.0) -> Part:
    eyes = [Eye(0j, radius), Eye(complex(apart), radius)]
    holes = (Hole("A", 0j, hole), Hole("B", complex(apart), hole))
    return Part("plate", LINK, LINK, around(eyes), holes, thickness=thickness)


def told(part: Part) -> list[tuple[str, bool]]:
    return [(fault.kind, fault.is_caution) for fault in cut_faults(NARROW_OK, part)]


def test_a_sound_plate_has_none() -> None:
    assert cut_faults(demo_six_bar, capsule()) == ()


def test_pins_near_each_other() -> None:
    (fault, *more) = cut_faults(demo_six_bar, capsule(apart=25.0))
    assert fault == CutFault("spacing", LINK, ("A", "B"), 25.0, demo_six_bar.pin_spacing)
    assert more == []


def test_spacing_is_of_links_with_a_width() -> None:
    links = tuple(replace(link, width=0.0) for link in demo_six_bar.links)
    assert cut_faults(replace(demo_six_bar, links=links), capsule(apart=25.0)) == ()


def test_an_edge_that_crosses_itself() -> None:
    bow = Contour(np.array([-20 - 20j, 20 + 20j, 20 - 20j, -20 + 20j]), np.zeros(4))
    assert told(Part("plate", LINK, LINK, bow, thickness=4.0)) == [("edge crosses", False)]


@pytest.mark.parametrize(
    ("at", "expected"),
    [
        (50 + 0j, []),
        (50 + 8j, [("cutout", True)]),
        (50 + 10j, [("cutout", False)]),
        (13.0 + 0j, [("cutouts", True)]),
        (9.0 + 0j, [("cutouts", False)]),
        (200 + 0j, [("cutout", False)]),
    ],
)
def test_lightening_holes(at: complex, expected: list[tuple[str, bool]]) -> None:
    assert told(replace(capsule(), cutouts=(circle(at, 5.0),))) == expected


def test_faults_come_first() -> None:
    part = replace(capsule(), cutouts=(circle(50 + 8j, 5.0), circle(200 + 0j, 5.0)))
    assert [caution for _, caution in told(part)] == [False, True]
