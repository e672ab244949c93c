"""Strength in the stack as it is: real ways between plates; by hand layers the checks know them at once."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from app.stacked import stacked
from kinematics import analyse
from kinematics.as_stacked import as_stacked
from kinematics.bearing import Bearing, Faces, bearing_in_layers, bearing_of
from kinematics.build_parts import LayerChoice, PinChoice, Plate, Stack
from kinematics.joints import joint_by_pivot
from kinematics.mount_parts import Base, Mount
from kinematics.strength import single_shear_moment
from kinematics.strength_parts import Bushing
from tests.app.sharing import demo, shared_analyse

if TYPE_CHECKING:
    from kinematics.analysis import Analysis

DEMO = demo()


def by_hand() -> dict[str, tuple[int, ...]]:
    return dict(stacked(shared_analyse(DEMO)).layers)


def bearing_at_x(analysis: Analysis) -> float:
    assert analysis.strength is not None
    figures = analysis.strength.figures
    return next(each.have or 0.0 for each in figures if (each.mode, each.link, each.pivot) == ("bearing", "arm", "X"))


def test_plates_in_layers_load_a_pin_as_sums_by_hand_say() -> None:
    """Layers of 8, 6 and 8 mm with washers of 1.6: the second begins at 9.6, the third at 17.2; from the first to the
    third are 9.2 mm.
    """
    sheets, layers = {"a": 8.0, "b": 6.0, "c": 8.0}, {"a": (1,), "b": (2,), "c": (3,)}
    single = bearing_in_layers(sheets, layers, 1.6, ("a", "c"), "a")
    assert single == Bearing("single", "a", pytest.approx(8.0), pytest.approx(8.0), pytest.approx(9.2))
    pair = bearing_in_layers(sheets, layers | {"a": (1, 3), "c": (4,)}, 1.6, ("a", "b"), "a")
    assert pair == Bearing("double", "a", pytest.approx(6.0), pytest.approx(8.0), pytest.approx(1.6))
    assert bearing_in_layers(sheets, {"a": (1,)}, 1.6, ("a", "c"), "a") is None
    assert bearing_of([Faces("a", 0.0, 8.0)], "a") is None


def test_the_stack_bends_pins_by_the_way_between_the_plates_and_no_force_changes() -> None:
    analysis = shared_analyse(DEMO)
    stack = stacked(analysis)
    told = {(each.mode, each.pivot, each.link): each for each in analysis.strength.figures}  # type: ignore[union-attr]
    found = {(each.mode, each.pivot, each.link): each for each in as_stacked(DEMO, analysis.strength, stack)}
    before, after = told["pin bending", "X", ""], found["pin bending", "X", ""]
    assert (before.force, before.deg) == (after.force, after.deg)
    # Arm and cross link stand 1.6 + 8 + 1.6 = 11.2 apart, where a washer of 1.6 was reckoned with; bushings are 6 long.
    wide, near = single_shear_moment(1.0, 6.0, 8.0, 11.2), single_shear_moment(1.0, 6.0, 8.0, 1.6)
    assert after.have == pytest.approx(before.have * near / wide)  # type: ignore[operator]
    assert after.have < before.have  # type: ignore[operator]
    assert min(each.ratio for each in found.values()) > 1.0


def test_layers_by_hand_are_known_to_the_checks_and_nothing_is_left_to_tell_of_bending() -> None:
    layers = tuple(LayerChoice(link, on) for link, on in by_hand().items())
    project = replace(DEMO, stack=replace(DEMO.stacking, layers=layers))
    joints = joint_by_pivot(project)
    assert joints["X"].joint.washer == pytest.approx(11.2)
    assert joints["Q"].joint.washer == pytest.approx(1.6)
    assert joint_by_pivot(DEMO)["X"].joint.washer == 1.6
    analysis = analyse(project, steps=2)
    assert as_stacked(project, analysis.strength, stacked(analysis)) == ()  # nothing is left that it doesn't know
    # A pin in one plate of 8 presses at its face by (4 + 6·a/8): a = 1.6 + 3 from one washer on, 11.2 + 3 here.
    told = [bearing_at_x(shared_analyse(DEMO)), bearing_at_x(analysis)]
    assert told[1] == pytest.approx(told[0] * (4.0 + 6.0 * 4.6 / 8.0) / (4.0 + 6.0 * 14.2 / 8.0))


def test_what_the_build_says_goes_before_the_strength_and_else_the_build_takes_it() -> None:
    assert DEMO.strength is not None
    odd = replace(DEMO.strength, diameter=5.0, inner=3.0, outer=2.0, shear="double", washer=0.5)
    said = replace(DEMO, strength=odd)
    for pivot in ("O1", "X", "P1"):
        joint = joint_by_pivot(said)[pivot].joint
        assert (joint.diameter, joint.inner, joint.outer, joint.shear, joint.washer) == (8.0, 8.0, 8.0, "single", 1.6)
    webs = replace(said, mount=replace(said.mounted, base=Base(web=5.0, webs=2)))
    joint = joint_by_pivot(webs)["O1"].joint
    assert (joint.outer, joint.shear, joint.inner) == (5.0, "double", 8.0)
    bare = replace(said, plates=None, stack=None, mount=None)
    joint = joint_by_pivot(bare)["O1"].joint
    assert (joint.diameter, joint.inner, joint.outer, joint.washer) == (5.0, 3.0, 2.0, 0.5)
    choice = bare.stacking.of("O1", odd)
    assert (choice.diameter, choice.bushing, choice.metal) == (5.0, "solid bronze", odd.pin_material)
    own = replace(bare, stack=Stack(pins=(PinChoice("O1", diameter=6.0, bushing="none"),)))
    joint = joint_by_pivot(own)["O1"].joint
    assert (joint.diameter, joint.housing, joint.bushing) == (6.0, None, None)
    assert joint_by_pivot(own)["X"].joint.diameter == 5.0


@pytest.mark.parametrize(
    ("thickness", "long"), [(4.0, 6.0), (6.0, 6.0), (7.9, 6.0), (8.0, 8.0), (11.0, 8.0), (30.0, 12.0)]
)
def test_a_bushing_is_the_longest_that_its_plate_takes(thickness: float, long: float) -> None:
    """ISO 2795 makes 8 mm bores 6, 8 and 12 long: of thinner plates the shortest stands out."""
    bushing = Bushing("SAE 841", 5.0, 12.0, 13.8, 6.1, 1.75, stock=(6.0, 8.0, 12.0))
    assert bushing.in_plate(thickness) == long
    assert replace(bushing, stock=()).in_plate(thickness) == min(5.0, thickness)


def test_a_pair_holds_the_pin_and_another_kind_of_bushing_is_not_rated() -> None:
    pair = replace(DEMO, plates=replace(DEMO.plating, each=(Plate("arm", count=2),)), mount=Mount())
    made = joint_by_pivot(pair)["P1"]
    assert (made.outer, made.joint.shear) == ("arm", "double")
    assert DEMO.strength is not None
    sintered = Bushing("SAE 841", 6.0, 12.0, 13.8, 6.1, 1.75, kind="sintered")
    mixed = replace(DEMO, strength=replace(DEMO.strength, bushing=sintered))
    joint = joint_by_pivot(mixed)["X"].joint
    assert joint.bushing is None
    assert joint.housing == pytest.approx(12.0)
    told = analyse(mixed, steps=2).strength
    assert told is not None
    assert any(remark.startswith("What bushings bear isn't told at O1") for remark in told.remarks)
    rated = {each.pivot for each in told.figures if each.mode == "bushing pressure"}
    assert rated == {"P1"}  # whose bushing is a sintered one of its own
    assert all(math.isfinite(each.stress or 0.0) for each in told.figures)
