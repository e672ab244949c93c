"""What is said of plates is said once: strength and weights take it from there."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely

from app.files.mockup_parts import templates
from kinematics import analyse
from kinematics import plate_edits as edits
from kinematics.build_parts import Plates, Prices
from kinematics.joints import joint_by_pivot, made_joints
from kinematics.parts import MadeOf
from kinematics.plate_shapes import plate_cut
from kinematics.plating import are_said
from kinematics.room import Room
from kinematics.strength_parts import Metal
from kinematics.strengthening import begin_strength
from kinematics.swept import swept_room
from kinematics.weighing import band_of, came_to
from tests.specimens import demo_six_bar as demo

S235, S355 = Metal("S235JR", 235.0, 210000.0), Metal("S355", 355.0, 210000.0)
strong = begin_strength(demo, S355, S235)
plated = edits.set_sheet(edits.begin_plates(strong, S355, 7850.0), edits.ALL, thickness=5.0)


def test_plates_begin_with_what_strength_said_of_them() -> None:
    assert strong.strength is not None
    assert edits.begin_plates(strong).plating.thickness == strong.strength.inner
    assert edits.begin_plates(demo).plating.thickness == 4.0


def test_joints_have_the_plates_thickness_metal_and_edge_distance() -> None:
    made = joint_by_pivot(plated)["X"]  # arm and cross link
    assert (made.joint.inner, made.joint.outer, made.joint.shear) == (5.0, 5.0, "single")
    assert made.joint.plate_material == S355
    assert made.plates["arm"].edge == 14.0
    own = edits.set_sheet(edits.set_eye(plated, "arm", "X", 20.0), "cross link", count=2, metal=S235)
    made = joint_by_pivot(own)["X"]
    assert (made.outer, made.joint.shear, made.joint.plate_material) == ("cross link", "double", S235)
    assert made.plates["arm"].edge == 20.0
    assert made.plates["arm"].width == 40.0
    assert made.plates["cross link"].thickness == 10.0


def test_brackets_keep_what_strength_says_of_them() -> None:
    bracket, before = joint_by_pivot(plated)["O2"], joint_by_pivot(strong)["O2"]
    assert bracket.joint.outer == before.joint.outer
    assert bracket.joint.shear == before.joint.shear
    assert bracket.joint.inner == 5.0


def test_prices_alone_build_nothing() -> None:
    priced = replace(strong, plates=Plates(prices=Prices(per_kg=3.0)))
    assert not are_said(priced)
    assert [made.joint for made in made_joints(priced)] == [made.joint for made in made_joints(strong)]
    begun = edits.begin_plates(priced, S235)
    assert begun.plating.prices == priced.plating.prices
    assert edits.drop_plates(begun) == priced


def test_a_weight_by_its_plates_is_theirs() -> None:
    made_of = MadeOf(1.0, 1.0, count=9)
    area, at = band_of([pin.at for pin in demo.pivots_on("short link")], 28.0)
    hinges = 1 if plated.loads is None else plated.loads.hinges
    found = came_to(plated, made_of, "short link")
    assert found.mass == pytest.approx(area * 5.0 * 7850.0 * 1e-9 * hinges)
    assert found.at == pytest.approx(at)
    pair = edits.set_sheet(edits.add_cutout(plated, "short link", at, 10.0), "short link", count=2)
    lighter = came_to(pair, made_of, "short link").mass
    assert lighter == pytest.approx((area - 78.5398163) * 5.0 * 7850.0 * 1e-9 * 2 * hinges)  # π·5²


def test_swept_room_and_templates_are_of_the_plate() -> None:
    side = edits.sides_of(plated, "lift link")[0]
    bowed = edits.set_bow(plated, "lift link", side, 30.0)
    cut = plate_cut(bowed, demo.link("lift link"))
    assert cut is not None
    hardly = replace(bowed, travel=replace(bowed.travel, wanted_deg=0.01))
    assert swept_room(analyse(hardly), ["lift link"]).area == pytest.approx(cut.outer.area, rel=0.01)
    template = next(each for each in templates(bowed, 8.0, "mm") if each.link == "lift link")
    edge = next(line for line in template.lines if line.kind == "edge")
    assert shapely.Polygon(edge.points).area == pytest.approx(cut.outer.area, rel=1e-3)


def test_a_bow_stands_as_high_as_it_reaches() -> None:
    bare = replace(plated, outlines=(), gaps=(), room=Room(roof=900.0), travel=replace(demo.travel, wanted_deg=0.01))
    sides = edits.sides_of(bare, "lift link")
    both = [edits.set_bow(bare, "lift link", side, 60.0) for side in sides]
    tops = []
    for bowed in both:
        cut = plate_cut(bowed, demo.link("lift link"))
        assert cut is not None
        tops.append(float(max(cut.outer.polyline(1e-4)[:, 1])))
    assert max(tops) > 310.0  # higher than any eye
    found = analyse(both[tops.index(max(tops))]).room
    assert found is not None
    assert found.highest is not None
    assert found.highest.y == pytest.approx(max(tops), abs=0.2)  # open by a hundredth of a degree


def test_bent_plates_are_named_where_strength_takes_them_for_straight() -> None:
    bowed = edits.set_bow(plated, "lift link", edits.sides_of(plated, "lift link")[0], 20.0)
    (told,) = [sentence for sentence in analyse(bowed).remarks if "straight" in sentence]
    assert told.startswith("Section and buckling of “lift link” are reckoned as of a straight, whole plate")
    assert not any("straight" in sentence for sentence in analyse(replace(bowed, strength=None)).remarks)
