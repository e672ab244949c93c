"""Grips of plates: they lie on the plate's edge, go where they are brought, and back."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from kinematics import plate_edits as edits
from kinematics.errors import ProjectError
from kinematics.plate_grips import grips, move_grip, straighten
from kinematics.plate_shapes import plate_cut
from tests.specimens import demo_six_bar as demo

plated = edits.begin_plates(demo)
SIDES = edits.sides_of(plated, "short link")


def test_a_plate_has_a_grip_on_each_side_and_of_two_eyes_one_for_the_bow() -> None:
    assert [grip.kind for grip in grips(plated, "short link")] == ["side", "side", "bow"]
    assert [grip.kind for grip in grips(plated, "arm")] == ["side"] * 3
    assert grips(demo, "arm") == []
    assert grips(plated, "hatch") == []


@settings(max_examples=20)
@given(st.sampled_from(["arm", "short link"]), st.integers(0, 1), st.floats(-6.0, 12.0))
def test_a_sides_grip_lies_on_the_edge_and_goes_back(link: str, number: int, mm: float) -> None:
    belly = round(mm, 2)
    bent = edits.set_belly(plated, link, edits.sides_of(plated, link)[number], belly)
    grip = grips(bent, link)[number]
    cut = plate_cut(bent, demo.link(link))
    assert cut is not None
    assert shapely.LinearRing(cut.outer.polyline(1e-3)).distance(shapely.Point(grip.at)) < 2e-3
    assert move_grip(bent, link, number, grips(plated, link)[number].at) == plated
    assert move_grip(plated, link, number, grip.at) == bent
    assert straighten(bent, link, number) == plated


def test_the_bow_takes_both_sides_along() -> None:
    waisted = edits.set_waist(plated, "short link", 2.0)
    grip = grips(waisted, "short link")[2]
    out = complex(*grips(waisted, "short link")[0].at) - complex(*grip.at)
    to = complex(*grip.at) + 7.3 * out / abs(out)
    bowed = move_grip(waisted, "short link", 2, (to.real, to.imag), step=0.5)
    assert [edits.belly_of(bowed, "short link", side) for side in SIDES] == [5.5, -9.5]
    assert straighten(bowed, "short link", 2) == plated


def test_cutouts_go_where_they_are_brought_in_round_numbers() -> None:
    holed = edits.add_cutout(plated, "short link", (50.0, 130.0), 8.0)
    moved = move_grip(holed, "short link", 3, (51.26, 128.9), step=0.5)
    assert edits.own_plate(moved, "short link").cutouts[0].at == (51.5, 129.0)
    assert straighten(moved, "short link", 3) == plated
    with pytest.raises(ProjectError, match="no grip 4"):
        move_grip(plated, "short link", 3, (0.0, 0.0))


def test_what_cannot_be_is_refused_and_little_is_straight() -> None:
    middle = complex(*grips(plated, "short link")[2].at)
    out = complex(*grips(plated, "short link")[0].at) - middle
    far, near = middle - 30.0 * out, middle + 1.05 * out
    with pytest.raises(ProjectError, match="short link"):
        move_grip(plated, "short link", 0, (far.real, far.imag))
    assert move_grip(plated, "short link", 0, (near.real, near.imag), near=1.0) is plated
