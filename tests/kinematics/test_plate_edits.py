"""Edits of plates: each does one thing, is undone by its contrary, and changes nothing where it changes nothing."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kinematics import plate_edits as edits
from kinematics.build_parts import Plate, Plates
from kinematics.edits import rename_link
from kinematics.errors import ProjectError
from kinematics.plate_shapes import shape_of
from kinematics.strength_parts import Metal
from tests.specimens import demo_six_bar as demo

if TYPE_CHECKING:
    from kinematics.project import Project

STEEL = Metal("S355", 355.0, 210000.0)
plated = edits.begin_plates(demo, STEEL, 7850.0)
SIDE = edits.sides_of(plated, "short link")[0]
BACK = (SIDE[1], SIDE[0])

lengths = st.floats(0.5, 60.0)
places = st.tuples(st.floats(-500.0, 500.0), st.floats(-500.0, 500.0))
links = st.sampled_from(["arm", "cross link", "short link", "lift link"])


def test_plates_begin_and_end() -> None:
    assert isinstance(plated.plates, Plates)
    assert (plated.plates.metal, plated.plates.density) == (STEEL, 7850.0)
    assert edits.begin_plates(plated) is plated
    assert edits.drop_plates(plated) == demo
    assert edits.drop_plates(demo) is demo


@given(links, lengths)
@settings(max_examples=20)
def test_one_plates_thickness_is_its_own_until_it_is_as_all(link: str, mm: float) -> None:
    one = edits.set_sheet(plated, link, thickness=mm)
    assert edits.full_plate(one, link).thickness == mm
    assert [each.link for each in one.plating.each] == [link]
    every = edits.set_sheet(one, edits.ALL, thickness=3.0)
    others = {each.id for each in demo.links if each.kind == "link"} - {link}
    assert {edits.full_plate(every, other).thickness for other in others} == {3.0}
    assert edits.full_plate(every, link).thickness == mm
    assert edits.set_sheet(one, link, thickness=None) == plated
    assert edits.as_all(one, link) == plated
    assert edits.as_all(plated, link) is plated


@given(links, places, lengths, places)
@settings(max_examples=20)
def test_a_cutout_comes_moves_and_goes(
    link: str, at: tuple[float, float], size: float, to: tuple[float, float]
) -> None:
    there = edits.add_cutout(plated, link, at, size)
    moved = edits.change_cutout(there, link, 0, at=to)
    assert edits.own_plate(moved, link).cutouts[0].at == to
    assert edits.change_cutout(moved, link, 0, at=at) == there
    assert edits.remove_cutout(moved, link, 0) == plated
    with pytest.raises(ProjectError, match="no cutout 2"):
        edits.remove_cutout(moved, link, 1)


@given(st.floats(-8.0, 8.0))
@settings(max_examples=20)
def test_bow_and_waist_are_bellies_of_both_sides(mm: float) -> None:
    bowed, waisted = edits.set_bow(plated, "short link", SIDE, mm), edits.set_waist(plated, "short link", mm)
    assert edits.belly_of(bowed, "short link", SIDE) == -edits.belly_of(bowed, "short link", BACK)
    assert edits.belly_of(waisted, "short link", SIDE) == edits.belly_of(waisted, "short link", BACK)
    bent = abs(mm) >= edits.LEAST_BELLY
    assert edits.belly_of(bowed, "short link", SIDE) == (mm if bent else 0.0)
    assert edits.set_waist(edits.set_bow(plated, "short link", SIDE, mm), "short link", 0.0) == plated
    shape = shape_of(bowed, demo.link("short link"))
    assert shape is not None
    assert shape.cut is not None, shape.why  # a bow of so little is always possible


def test_a_bow_and_a_side_that_cannot_be_are_told() -> None:
    assert len(edits.sides_of(plated, "arm")) == 3
    with pytest.raises(ProjectError, match="bows as a whole"):
        edits.set_bow(plated, "arm", edits.sides_of(plated, "arm")[0], 5.0)
    with pytest.raises(ProjectError, match="no side runs"):
        edits.set_belly(plated, "short link", ("O1", "P1"), 5.0)
    with pytest.raises(ProjectError, match="panel"):
        edits.set_sheet(plated, "hatch", thickness=3.0)
    with pytest.raises(ProjectError, match="isn't on it"):
        edits.set_eye(plated, "short link", "P1", 20.0)


def test_eyes_of_their_own() -> None:
    larger = edits.set_eye(plated, "short link", SIDE[0], 20.0)
    assert edits.set_eye(larger, "short link", SIDE[0], None) == plated
    shape, plain = shape_of(larger, demo.link("short link")), shape_of(plated, demo.link("short link"))
    assert shape is not None
    assert plain is not None
    assert shape.cut is not None
    assert plain.cut is not None
    assert shape.cut.outer.area > plain.cut.outer.area + 300.0


def test_an_edge_of_its_own_and_back() -> None:
    corners = [(-900.0, -900.0), (900.0, -900.0, 0.1), (900.0, 900.0), (-900.0, 900.0)]
    own = edits.set_edge(plated, "arm", corners)
    assert edits.own_plate(own, "arm").edge[1] == (900.0, -900.0, 0.1)
    with pytest.raises(ProjectError, match="edge of its own"):
        edits.set_waist(own, "arm", 3.0)
    assert edits.set_edge(own, "arm", []) == plated
    with pytest.raises(ProjectError, match="one corner"):
        edits.set_edge(plated, "arm", corners[:1])


def test_an_edge_from_an_outline_must_ride_there_and_be_closed() -> None:
    skin = demo.outline("hatch skin")
    with pytest.raises(ProjectError, match="rides on"):
        edits.edge_from_outline(plated, "arm", "hatch skin")
    around = ((-300.0, -300.0), (300.0, -300.0), (300.0, 600.0), (-300.0, 600.0))
    ridden = replace(plated, gaps=(), outlines=(replace(skin, on="arm", closed=True, points=around),))
    got = edits.edge_from_outline(ridden, "arm", "hatch skin")
    assert [corner[:2] for corner in edits.own_plate(got, "arm").edge] == list(around)
    beside = replace(ridden, outlines=(replace(skin, on="arm", closed=True, points=(*around[:2], (0.0, -200.0))),))
    with pytest.raises(ProjectError, match="outside"):
        edits.edge_from_outline(beside, "arm", "hatch skin")
    still_open = replace(ridden, outlines=(replace(skin, on="arm", closed=False),))
    with pytest.raises(ProjectError, match="open"):
        edits.edge_from_outline(still_open, "arm", "hatch skin")


def test_first_cutouts_stand_apart_and_inside() -> None:
    project: Project = plated
    for _ in range(3):
        project = edits.add_cutout(project, "arm", *edits.first_cutout(project, "arm"))
    shape = shape_of(project, demo.link("arm"))
    assert shape is not None
    assert shape.cautions == ()


def test_a_first_cutout_keeps_off_a_side_that_is_bent_inwards() -> None:
    name = "cross link"
    hollow: Project = plated
    for side in edits.sides_of(hollow, name):
        hollow = edits.set_belly(hollow, name, side, -17.0)
    for _ in range(4):
        hollow = edits.add_cutout(hollow, name, *edits.first_cutout(hollow, name))
        shape = shape_of(hollow, demo.link(name))
        assert shape is not None
        assert shape.cautions == ()
    assert len({hole.at for hole in edits.own_plate(hollow, name).cutouts}) == 4


def test_what_is_kept_of_plates_follows_a_new_name() -> None:
    bowed = edits.set_bow(plated, "short link", SIDE, 6.0)
    renamed = rename_link(bowed, "short link", "stay")
    assert edits.own_plate(renamed, "stay") == replace(edits.own_plate(bowed, "short link"), link="stay")
    assert Plate("short link") == edits.own_plate(plated, "short link")


@given(links, st.floats(-25.0, 25.0), st.floats(0.0, 7.0))
@settings(max_examples=20)
def test_new_cutouts_lie_well_within_plates_that_are_bowed_and_waisted(link: str, bow: float, waist: float) -> None:
    """One lay beside a bowed plate, on the line between its pins."""
    project, sides = plated, edits.sides_of(plated, link)
    way = {between: (bow if place else -bow) - waist for place, between in enumerate(sides[:2])}
    project = edits.set_bellies(project, link, way) if len(sides) == 2 else edits.set_waist(project, link, waist)
    for _ in range(2):
        project = edits.add_cutout(project, link, *edits.first_cutout(project, link))
        told = shape_of(project, project.link(link))
        assert told is not None
        assert not [each for each in told.cautions if each.startswith("cutout")]
