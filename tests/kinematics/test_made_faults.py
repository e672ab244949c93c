"""Faults of pins, bushings and holes: each arises for its cause, and goes with it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from app.hardware import hardware
from kinematics.build_parts import Plate, Plates, Stack
from kinematics.edits import move_pivot
from kinematics.joints_made import joints_made
from kinematics.made_faults import MakingFault, least_apart, making_faults
from kinematics.strength_parts import Metal
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from kinematics.project import Project

TABLES = hardware()
KINDS = {"A2": "stainless steel", "bar": "stainless steel, bar", "5754": "aluminium alloy", "S235": "structural steel"}


def faults(
    sought: str, /, plates: Plates | None = None, project: Project = demo_six_bar, **stack: object
) -> list[MakingFault]:
    made = replace(project, plates=plates or Plates(radius=40.0), stack=replace(Stack(), **stack))  # type: ignore[arg-type]
    found = making_faults(made, joints_made(made, TABLES), TABLES, KINDS)
    assert [each.grave for each in found] == sorted((each.grave for each in found), reverse=True)
    return [each for each in found if each.kind == sought]


def metal(name: str) -> Metal:
    return Metal(name, 200.0, 200_000.0)


def test_stainless_in_stainless_galls_unless_bronze_is_between() -> None:
    plates = Plates(radius=40.0, metal=metal("A2"))
    found = faults("galling", plates, bushing="none", metal=metal("bar"))
    assert {each.pivots for each in found} == {(pivot.id,) for pivot in demo_six_bar.pivots}
    assert all(each.grave for each in found)
    assert faults("galling", plates, bushing="sintered", metal=metal("bar")) == []
    assert faults("galling", plates, bushing="none", metal=metal("S235")) == []
    assert faults("galling", Plates(radius=40.0, metal=metal("S235")), bushing="none", metal=metal("bar")) == []


def test_stainless_faces_want_washers() -> None:
    plates = Plates(radius=40.0, metal=metal("A2"))
    assert faults("galling faces", plates, washer=0.0)
    assert faults("galling faces", plates) == []


def test_aluminium_beside_stainless_is_a_caution() -> None:
    link = next(link.id for link in demo_six_bar.links if link.kind == "link")
    plates = Plates(radius=40.0, metal=metal("A2"), each=(Plate(link, metal=metal("5754")),))
    found = faults("corrosion", plates)
    assert {each.pivots[0] for each in found} == {pivot.id for pivot in demo_six_bar.pivots_on(link)}
    assert not any(each.grave for each in found)
    assert {each.note for each in faults("corrosion", Plates(metal=metal("5754")), metal=metal("bar"))} == {"pin"}
    assert faults("corrosion", Plates(metal=metal("5754"))) == []


def test_pins_are_too_near_where_their_bushings_leave_too_little_plate() -> None:
    """A bushing of 11 H7 beside a pin of 8 H8 in 4 mm: (11.018 + 8.022)/2 + 4 = 13.52; heads of 16 want 17."""
    one, other = demo_six_bar.pivots_on("arm")[:2]
    x, y = one.at
    assert faults("pins too near") == []
    for apart, grave in ((13.5, True), (13.6, False), (16.9, False)):
        near = move_pivot(demo_six_bar, other.id, (x + apart, y))
        (found,) = (each for each in faults("pins too near", project=near) if each.links == ("arm",))
        assert (found.grave, found.have) == (grave, pytest.approx(apart))
    joints = joints_made(replace(demo_six_bar, stack=Stack()), TABLES)
    least = least_apart(joints[one.id], joints[other.id], "arm", TABLES)
    assert least == pytest.approx({"holes": 13.52, "heads": 17.0}, abs=1e-9)


def test_an_edge_of_its_own_is_measured_too() -> None:
    """A strip of 10 mm about a pin of 8 without bushing: 5 mm to the edge, and 9.6 is the least."""
    link = demo_six_bar.pivots_on("lift link")
    (x0, y0), (x1, y1) = (pin.at for pin in link[:2])
    along = complex(x1 - x0, y1 - y0) / abs(complex(x1 - x0, y1 - y0))
    corners = []
    for end, ahead, side in ((0, -20, -5), (1, 20, -5), (1, 20, 5), (0, -20, 5)):
        at = complex(*link[end].at) + along * complex(ahead, side)
        corners.append((at.real, at.imag, 0.0))
    plates = Plates(radius=40.0, each=(Plate("lift link", edge=tuple(corners)),))
    found = faults("too narrow", plates, bushing="none")
    assert {each.links for each in found} == {("lift link",)}
    assert [each.have for each in found] == pytest.approx([5.0, 5.0])
    assert all(each.grave and each.want == pytest.approx(9.6) for each in found)


def test_what_no_table_has_is_told_and_no_fault() -> None:
    for kind in ("no standard pin", "no standard bushing", "no standard washer"):
        assert faults(kind) == []
        found = faults(kind, diameter=7.3)
        assert len(found) == len(demo_six_bar.pivots)
        assert not any(each.grave for each in found)
    assert faults("no standard ring", diameter=4.4, kind="plain pin") == []  # the pin itself is told
    assert faults("no standard pin", diameter=4.4, kind="plain pin")


def test_a_press_fit_wants_a_reamed_hole() -> None:
    assert len(faults("not to size", holes="to size")) == len(demo_six_bar.pivots)
    assert faults("not to size", holes="to size", fixing="bond") == []
    assert faults("not to size") == []


def test_a_bushing_longer_than_its_plate_stands_proud() -> None:
    assert {each.have for each in faults("proud")} == {2.0}
    assert faults("proud", Plates(radius=40.0, thickness=6.0)) == []
