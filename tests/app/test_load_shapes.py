"""Struts, springs, masses and the handle as strokes: true to scale, and where the pose has them."""

from __future__ import annotations

from dataclasses import replace
from math import dist, hypot
from typing import TYPE_CHECKING

import pytest

from app.load_shapes import BALANCE, frame
from app.look import light
from app.shapes import SHUT, Placement, Stroke, Symbol, placed, shapes
from app.traces import traces
from kinematics import analyse, loading
from kinematics.parts import Attachment, Device, Mass
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from app.shapes import Shape
    from kinematics.project import Point, Project

FROM = Attachment(demo_six_bar.fixed.id, (60.0, -120.0))
TO = Attachment(demo_six_bar.panel.id, (420.0, 240.0))
STRUT = Device(
    "strut", "gas strut", 2, FROM, TO, extended=900.0, stroke=400.0, force=300.0, ratio=1.3, tube=20.0, rod=9.0
)
SPRING = Device("helper", "tension spring", 1, FROM, TO, free=100.0, rate=1.0, coil=24.0)


def loaded() -> Project:
    bare = replace(demo_six_bar, loads=None)
    project = loading.add_device(loading.add_device(bare, STRUT), SPRING)
    project = loading.add_mass(
        loading.add_mass(project, Mass(TO.on, 3.0, (100.0, 0.0))), Mass(FROM.on, 1.0, (0.0, 0.0))
    )
    return loading.put_handle(project, TO.on, (1000.0, 260.0))


PROJECT = loaded()
ANALYSIS = analyse(PROJECT, 31)


def at(deg: float) -> tuple[dict[str, Shape], dict[str, Placement]]:
    return {shape.key: shape for shape in shapes(PROJECT, light())}, placed(ANALYSIS, ANALYSIS.pose(deg))


def carried(shape: Shape, where: dict[str, Placement]) -> list[Point]:
    assert isinstance(shape, Stroke)
    return [where[shape.link].carry(point) for point in shape.points]


def test_a_stretched_placement_carries_and_brings_back() -> None:
    where = Placement(0.3, 5.0, -2.0, 1.7, 0.8)
    there = where.carry((3.0, 4.0))
    assert there != Placement(0.3, 5.0, -2.0).carry((3.0, 4.0))
    assert where.back(there) == pytest.approx((3.0, 4.0), abs=1e-12)


@pytest.mark.parametrize("deg", [0.0, 40.0, 75.0])
def test_tube_and_rod_stand_true_on_their_pins(deg: float) -> None:
    """The tube is as long as the strut pushed in, the rod ends at the other pin; both lie on the line of the pins."""
    drawn, where = at(deg)
    start, end = where[FROM.on].carry(FROM.at), where[TO.on].carry(TO.at)
    tube, rod = carried(drawn["device:strut:tube"], where), carried(drawn["device:strut:rod"], where)
    way = (end[0] - start[0]) / dist(start, end), (end[1] - start[1]) / dist(start, end)

    def along(point: Point) -> float:
        return (point[0] - start[0]) * way[0] + (point[1] - start[1]) * way[1]

    assert max(map(along, tube)) == pytest.approx(500.0 - 20.0, abs=1e-6)
    assert min(map(along, tube)) == pytest.approx(20.0, abs=1e-6)
    assert max(map(along, rod)) == pytest.approx(dist(start, end) - 20.0, abs=1e-6)
    assert min(map(along, rod)) == pytest.approx(dist(start, end) - 420.0, abs=1e-6)
    assert dist(tube[0], tube[3]) == pytest.approx(20.0, abs=1e-9)
    assert dist(rod[0], rod[3]) == pytest.approx(9.0, abs=1e-9)
    assert min(map(along, rod)) < max(map(along, tube)), "the rod doesn't leave the tube"


@pytest.mark.parametrize("deg", [0.0, 40.0, 75.0])
def test_a_coil_goes_from_pin_to_pin_and_keeps_its_diameter(deg: float) -> None:
    drawn, where = at(deg)
    coil = carried(drawn["device:helper:coil"], where)
    start, end = where[FROM.on].carry(FROM.at), where[TO.on].carry(TO.at)
    assert coil[0] == pytest.approx(start, abs=1e-9)
    assert coil[-1] == pytest.approx(end, abs=1e-9)
    normal = (start[1] - end[1]) / dist(start, end), (end[0] - start[0]) / dist(start, end)
    aside = [(x - start[0]) * normal[0] + (y - start[1]) * normal[1] for x, y in coil]
    assert max(aside) - min(aside) == pytest.approx(24.0, abs=1e-6)


def test_ends_ride_on_their_links_and_the_name_counts_them() -> None:
    drawn, _ = at(0.0)
    for number, end in enumerate((FROM, TO)):
        shape = drawn[f"end {number}:strut"]
        assert isinstance(shape, Symbol)
        assert (shape.link, shape.at) == (end.on, (end.at,))
    assert drawn["name of device:strut"].text == "2 × strut"  # type: ignore[union-attr]


def test_all_masses_balance_between_them_at_every_pose() -> None:
    drawn, where = at(60.0)
    total = drawn["all masses"]
    assert isinstance(total, Symbol)
    one, other = where[TO.on].carry((100.0, 0.0)), where[FROM.on].carry((0.0, 0.0))
    expected = 0.75 * one[0] + 0.25 * other[0], 0.75 * one[1] + 0.25 * other[1]
    assert where[BALANCE].carry(total.at[0]) == pytest.approx(expected, abs=1e-9)
    assert drawn["name of all masses"].text == "4 kg in all"  # type: ignore[union-attr]


def test_weights_are_told_in_the_builders_units() -> None:
    told = {shape.key: shape for shape in shapes(replace(PROJECT, display_units="in"), light())}
    assert told[f"name of mass:on {TO.on}"].text == "6.614 lb"  # type: ignore[union-attr]
    assert told["name of all masses"].text == "8.818 lb in all"  # type: ignore[union-attr]


def test_one_mass_is_its_own_middle() -> None:
    one = loading.remove_mass(PROJECT, f"on {FROM.on}")
    keys = {shape.key for shape in shapes(one, light())}
    assert f"mass:on {TO.on}" in keys
    assert "all masses" not in keys


def test_the_handles_path_is_drawn_from_shut_to_the_end() -> None:
    path = next(shape for shape in traces(ANALYSIS, light()) if shape.key == "path of the handle")
    assert isinstance(path, Stroke)
    assert path.points[0] == pytest.approx((1000.0, 260.0), abs=1e-9)
    where = placed(ANALYSIS, ANALYSIS.pose(75.0))
    assert path.points[-1] == pytest.approx(where[TO.on].carry((1000.0, 260.0)), abs=1e-6)


def test_ends_in_one_place_draw_no_line_and_no_nonsense() -> None:
    """A torsion spring stands at its pin; a strut between one place and itself has no direction."""
    here = Attachment(TO.on, FROM.at)
    kinds = ("gas strut", "compression spring", "torsion spring")
    project = replace(PROJECT, loads=None)
    for kind in kinds:
        project = loading.add_device(project, loading.usual_device(kind, kind, FROM, here, 0.0, 0.0))
    keys = {shape.key for shape in shapes(project, light())}
    assert "device:torsion spring:spiral" in keys
    assert not any(key.startswith("device:gas strut") for key in keys)
    analysis = analyse(project, 5)
    for deg in (0.0, 30.0):
        for kind in kinds:
            found = placed(analysis, analysis.pose(deg))[frame(kind, "line")]
            assert max(map(abs, found.carry((3.0, 4.0)))) < 1e6
            assert hypot(*found.back(found.carry((3.0, 4.0)))) == pytest.approx(5.0, abs=1e-3)


def test_shut_every_frame_is_at_rest() -> None:
    _, where = at(0.0)
    for part in ("first", "second", "line"):
        for id_ in ("strut", "helper"):
            assert where[frame(id_, part)].carry((7.0, 9.0)) == pytest.approx(SHUT.carry((7.0, 9.0)), abs=1e-9)
