"""Plates in the sweep: the pen's stroke is the contour, plain plates are their bands, and what can't be is told."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from kinematics import analyse
from kinematics.build_parts import Cutout, EyeSize, Plate, Plates, Side
from kinematics.plate_edits import sides_of
from kinematics.plate_shapes import Stroke, plate_remarks, shape_of, stroke_of
from kinematics.project import GapWant, Outline
from tests.specimens import demo_six_bar as demo

if TYPE_CHECKING:
    from kinematics.contours import Contour
    from kinematics.project import Link, Project

SHORT, ARM = demo.link("short link"), demo.link("arm")
ONE, OTHER = (pin.id for pin in demo.pivots_on("short link"))
A, B = (complex(*pin.at) for pin in demo.pivots_on("short link"))
ALONG = (B - A) / abs(B - A)

CROSSING = "arm", "lift link"


def with_plate(*plates: Plate) -> Project:
    return replace(demo, plates=Plates(thickness=4.0, each=plates))


def sides(there: float, back: float) -> tuple[Side, ...]:
    return Side((ONE, OTHER), there), Side((OTHER, ONE), back)


def in_pieces(stroke: Stroke) -> shapely.Geometry:
    """What the pieces cover together."""
    assert stroke.core is not None
    core = shapely.Polygon(np.column_stack([stroke.core.real, stroke.core.imag]))
    rounds = [shapely.Point(at.real, at.imag).buffer(radius, quad_segs=256) for at, radius in stroke.eyes]
    return shapely.union_all([core.buffer(stroke.radius, quad_segs=256) if stroke.radius else core, *rounds])


def drawn(project: Project, link: Link) -> shapely.Geometry:
    """What the pen covers."""
    stroke = stroke_of(project, link)
    assert stroke is not None
    flat = np.column_stack([stroke.points.real, stroke.points.imag])
    line = shapely.Polygon(flat) if stroke.solid else shapely.LineString(flat)
    return line.buffer(stroke.radius, quad_segs=256) if stroke.radius else line


def outer(project: Project, link: Link) -> Contour:
    shape = shape_of(project, link)
    assert shape is not None
    assert shape.cut is not None, shape.why
    return shape.cut.outer


def alike(one: shapely.Geometry, other: shapely.Geometry, within: float) -> bool:
    """Whether each lies within the other, grown by so much (mm)."""
    return one.buffer(within).covers(other) and other.buffer(within).covers(one)


@settings(max_examples=25)
@given(st.floats(-11.0, 30.0), st.floats(-11.0, 30.0), st.floats(9.0, 16.0), st.floats(9.0, 16.0))
def test_the_pens_stroke_is_the_contour(there: float, back: float, first: float, last: float) -> None:
    eyes = EyeSize(ONE, first), EyeSize(OTHER, last)
    project = with_plate(Plate("short link", eyes=eyes, sides=sides(there, back)))
    shape = shape_of(project, SHORT)
    assert shape is not None
    if shape.cut is None:
        assert shape.why is not None
        return
    whole = shapely.Polygon(shape.cut.outer.polyline(5e-4))
    assert alike(whole, drawn(project, SHORT), 0.004)
    stroke = stroke_of(project, SHORT)
    if stroke is not None and stroke.core is not None:
        assert alike(whole, in_pieces(stroke), 0.004)
        assert len(stroke.core) < 0.75 * len(stroke.points)


def test_bows_and_plain_plates_have_few_corners() -> None:
    plain, bowed = with_plate(), with_plate(Plate("short link", sides=sides(8.0, -8.0)))
    line = stroke_of(plain, SHORT)
    assert line is not None
    assert (len(line.points), line.solid, round(line.radius, 9)) == (2, False, 14.0)
    bow = stroke_of(bowed, SHORT)
    assert bow is not None
    assert (bow.solid, round(bow.radius, 9)) == (False, 14.0)
    assert len(bow.points) < 80
    middle = (A + B) / 2 - 8.0j * ALONG  # out of the side from one to the other, which runs with the plate at its left
    assert min(abs(bow.points - middle)) < 2.0
    arm = stroke_of(plain, ARM)
    assert arm is not None
    assert len(arm.points) == 4


def test_a_plain_plate_is_watched_as_its_band_is() -> None:
    wanted = replace(demo, gaps=(*demo.gaps, GapWant(("arm", "screen and sill"), 1.0)))
    bands, plates = analyse(wanted), analyse(replace(wanted, plates=Plates(thickness=4.0)))
    for band, plate in zip(bands.gaps, plates.gaps, strict=True):
        assert band.smallest == pytest.approx(plate.smallest, abs=1e-6)
    assert plates.remarks == bands.remarks


@pytest.mark.parametrize("belly", [(18.0, -18.0), (-6.0, -6.0), (-11.0, -9.0), (12.0, 5.0)])
def test_the_gap_of_a_plate_keeps_its_hundredth(belly: tuple[float, float]) -> None:
    project = replace(
        with_plate(Plate("short link", sides=sides(*belly))), gaps=(GapWant(("short link", "screen and sill"), 1.0),)
    )
    found = analyse(project)
    gap = found.gaps[0]
    assert gap.smallest is not None
    assert gap.at_deg is not None
    sill = shapely.LineString(demo.outline("screen and sill").points)
    column = found.links.index("short link")
    exact = outer(project, SHORT)
    near = []
    for deg in np.clip(np.linspace(gap.at_deg - 0.2, gap.at_deg + 0.2, 21), 0.0, found.opening.reached_deg):
        pose = found.pose(float(deg))
        placed = exact.moved(float(pose.turns[column]), complex(pose.shifts[column])).polyline(1e-5)
        near.append(shapely.Polygon(placed).distance(sill))
    assert abs(min(near) - gap.smallest) < 0.01


def test_plates_in_pieces_touch_where_whole_ones_do() -> None:
    """Against the same contours as closed outlines, which are watched whole."""
    waists = tuple(
        Plate(name, sides=tuple(Side(between, -8.0) for between in sides_of(with_plate(), name))) for name in CROSSING
    )
    plated = with_plate(*waists)
    corners = {name: outer(plated, demo.link(name)).polyline(1e-3).tolist() for name in CROSSING}
    rings = tuple(
        Outline(f"ring of {name}", name, tuple((x, y) for x, y in ring), closed=True) for name, ring in corners.items()
    )
    one, other = CROSSING
    pairs = (one, other), (f"ring of {one}", f"ring of {other}"), (f"ring of {one}", other)
    found = analyse(replace(plated, outlines=(*demo.outlines, *rings), gaps=tuple(GapWant(p, 1.0) for p in pairs)))
    piecewise, *others = found.gaps[:3]
    assert sum(name.startswith("\x1f") for name in found.bodies) == 4
    assert piecewise.touching_deg
    for whole in others:
        assert piecewise.smallest == pytest.approx(whole.smallest, abs=0.01)
        assert np.ravel(piecewise.touching_deg) == pytest.approx(np.ravel(whole.touching_deg), abs=0.05)


def test_bodies_stay_while_others_are_dragged() -> None:
    waisted = Plate("short link", sides=sides(-8.0, -8.0))
    project = replace(with_plate(waisted), gaps=(GapWant(("short link", "screen and sill"), 1.0),))
    first = analyse(project)
    second = analyse(replace(project, title="other"), near=first)
    mine = [name for name in first.bodies if "short link" in name]
    assert len(mine) == 3
    assert all(second.bodies[name] is first.bodies[name] for name in mine)


# What can't be, and what is told: each is a sentence, and nothing raises
BAD = {
    "bent so far": Plate("short link", sides=(Side((ONE, OTHER), -500.0),)),
    "cross each other": Plate("short link", sides=sides(-18.0, -18.0)),
    "edge crosses itself": Plate(
        "short link", edge=((-900.0, -900.0, 0), (900.0, 900.0, 0), (900.0, -900.0, 0), (-900.0, 900.0, 0))
    ),
    "lies outside its edge": Plate("short link", edge=((0.0, 0.0, 0), (9.0, 0.0, 0), (0.0, 9.0, 0))),
    "encloses nothing": Plate("short link", edge=((0.0, 0.0, 0.5), (0.0, 0.0, 0.5), (0.0, 0.0, 0.0))),
    "whole circle": Plate("short link", edge=((0.0, 0.0, 1e5), (9.0, 0.0, 0), (0.0, 9.0, 0))),
}


@pytest.mark.parametrize("said", BAD)
def test_what_cant_be_is_told_and_the_band_stands_for_it(said: str) -> None:
    project = replace(with_plate(BAD[said]), gaps=(GapWant(("short link", "screen and sill"), 1.0),))
    found = analyse(project)
    told = [sentence for sentence in found.remarks if "short link" in sentence]
    assert len(told) == 1
    assert said in told[0]
    band = analyse(replace(project, plates=None))
    assert found.gaps[0].smallest == band.gaps[0].smallest


MIDDLE = (A + B) / 2
TOLD = {
    "cutout 1 runs over its edge": Plate("short link", cutouts=(Cutout((MIDDLE.real, MIDDLE.imag), 29.0),)),
    "cutout 1 comes nearer to pin": Plate("short link", cutouts=(Cutout((A.real + 8.0, A.imag), 4.0),)),
    "cutouts 1 and 2 run into each other": Plate(
        "short link", cutouts=(Cutout((MIDDLE.real, MIDDLE.imag), 9.0), Cutout((MIDDLE.real, MIDDLE.imag), 4.0))
    ),
    "runs no side of it any more": Plate("arm", sides=(Side((ONE, "elsewhere"), 5.0),)),
    "leaves less than its edge distance": Plate("short link", edge=()),
}


@pytest.mark.parametrize("said", TOLD)
def test_what_leaves_too_little_is_told_and_still_moves(said: str) -> None:
    plate = TOLD[said]
    if said.startswith("leaves"):  # a rectangle 10 mm off its pins, where their edge distance is 14
        across, way = 10.0j * ALONG, 20.0 * ALONG
        corners = (A - way - across, B + way - across, B + way + across, A - way + across)
        plate = replace(plate, edge=tuple((each.real, each.imag, 0.0) for each in corners))
    project = with_plate(plate)
    assert any(said in sentence for sentence in plate_remarks(project))
    shape = shape_of(project, demo.link(plate.link))
    assert shape is not None
    assert shape.cut is not None


@given(st.lists(st.tuples(*[st.floats(-300.0, 300.0)] * 2, st.floats(-60.0, 60.0)), min_size=2, max_size=6))
@settings(max_examples=25)
def test_no_edge_makes_it_fall_over(edge: list[tuple[float, float, float]]) -> None:
    project = with_plate(Plate("short link", edge=tuple(edge)))
    shape = shape_of(project, SHORT)
    assert shape is not None
    assert (shape.cut is None) != (shape.why is None)
    stroke = stroke_of(project, SHORT)
    if stroke is not None:
        assert np.isfinite(stroke.points).all()
        assert math.isfinite(stroke.radius)


def test_without_plates_bands_stay() -> None:
    assert shape_of(demo, SHORT) is None
    assert stroke_of(replace(demo, plates={"junk": 1}), SHORT) is None
    assert plate_remarks(demo) == []
