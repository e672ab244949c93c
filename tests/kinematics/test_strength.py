"""Strength: what must hold of every formula, whatever the numbers; and the parts that it is told by."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kinematics import edits, strength
from kinematics.errors import ProjectError
from kinematics.joints import joint_by_pivot
from kinematics.project import JointStrength, Metal, Strength
from kinematics.strength_parts import joint_of
from kinematics.strengthening import as_all, begin_strength, drop_strength, strengthen
from tests.specimens import demo_six_bar

sizes = st.floats(0.5, 50.0)
forces = st.floats(1.0, 1e5)
STEEL = Metal("steel", 235.0, 210_000.0)
PINS = Strength(diameter=8.0, inner=8.0, outer=4.0, pin_material=STEEL, plate_material=STEEL)


@given(forces, sizes, sizes, sizes, st.floats(0.0, 5.0), st.floats(0.1, 40.0))
def test_a_model_of_another_scale_has_the_same_stresses(
    force: float, d: float, inner: float, outer: float, washer: float, k: float
) -> None:
    """Lengths ×k and forces ×k²: all stresses stay."""

    def stresses(f: float, m: float) -> list[float]:
        moments = [
            way(f, m * inner, m * outer, m * washer)
            for way in (strength.double_shear_moment, strength.single_shear_moment)
        ]
        return [
            strength.pin_shear(f, m * d, 2),
            *(strength.bending_stress(moment, m * d) for moment in moments),
            strength.bearing(f, m * d, m * inner),
            strength.stub_bearing(f, m * d, m * outer, m * (washer + inner / 2)),
            strength.net_tension(f, m * 3.0 * d, m * d, m * inner),
            strength.tear_out(f, m * 1.5 * d, m * d, m * inner),
            strength.flat_bending(f * m * outer, m * 3.0 * d, m * inner),
        ]

    assert stresses(force * k**2, k) == pytest.approx(stresses(force, 1.0), rel=1e-9)


@given(forces, sizes, sizes, st.floats(0.0, 5.0))
def test_one_plate_is_never_better_than_two(force: float, inner: float, outer: float, washer: float) -> None:
    """With outer plates no thicker than the inner one: the even pressure of a clevis says too much of thick ones."""
    outer = min(inner, outer)
    double = strength.double_shear_moment(force, inner, outer, washer)
    assert strength.single_shear_moment(force, inner, outer, washer) > double
    assert strength.stub_bearing(force, 8.0, outer, washer + inner / 2) > strength.bearing(force, 8.0, outer)


@given(st.floats(10.0, 2000.0), sizes, sizes, st.floats(50.0, 1500.0))
def test_longer_plates_buckle_sooner_and_never_beyond_yield(
    length: float, width: float, thick: float, metal: float
) -> None:
    short, long = (strength.buckling(far, width, thick, metal, 210_000.0) for far in (length, 1.01 * length))
    assert 0.0 < long.stress < short.stress <= metal
    assert (long.law == "Euler") == (long.slenderness > long.limit)
    assert strength.buckling(length, thick, width, metal, 210_000.0) == short  # whichever way is thinner


def test_safety_without_stress_and_without_plate() -> None:
    assert strength.safety(235.0, 0.0) == math.inf
    assert strength.safety(235.0, math.inf) == 0.0


# --------------------------------------------------------------------------------------------------------------- edits
def test_strength_is_begun_changed_and_dropped() -> None:
    begun = begin_strength(demo_six_bar, STEEL, STEEL)
    assert begin_strength(begun, STEEL, STEEL) is begun
    assert begin_strength(replace(demo_six_bar, display_units="in"), STEEL, STEEL).strength.diameter == 7.9375  # type: ignore[union-attr]
    assert strengthen(begun, diameter=8.0) is begun
    assert strengthen(begun, diameter=10.0).strength.diameter == 10.0  # type: ignore[union-attr]
    assert drop_strength(begun) == demo_six_bar
    with pytest.raises(ProjectError, match="nothing is said of pins"):
        strengthen(demo_six_bar, diameter=10.0)
    with pytest.raises(ProjectError, match='no pivot "nobody"'):
        strengthen(begun, "nobody", diameter=10.0)


def test_a_joint_has_its_own_until_it_is_as_all() -> None:
    project = replace(demo_six_bar, strength=PINS)
    own = strengthen(strengthen(project, "X", diameter=10.0), "O1", washer=2.0)
    assert own.strength is not None
    assert [joint.pivot for joint in own.strength.joints] == ["O1", "X"]  # in the pivots' order
    assert joint_of(own.strength, "X").diameter == 10.0
    assert joint_of(own.strength, "X").washer == 0.0
    assert joint_of(own.strength).diameter == 8.0
    assert strengthen(own, "X", diameter=None).strength.joints == (JointStrength("O1", washer=2.0),)  # type: ignore[union-attr]
    assert as_all(as_all(own, "X"), "O1") == project


def test_joints_follow_names_and_go_with_their_pivot() -> None:
    joints = (JointStrength("X", outer_link="arm"),)
    project = replace(demo_six_bar, strength=replace(PINS, joints=joints))
    renamed = edits.rename_link(edits.rename_pivot(project, "X", "Y"), "arm", "boom")
    assert renamed.strength is not None
    assert renamed.strength.joints == (JointStrength("Y", outer_link="boom"),)
    without = edits.remove_link(renamed, "short link").strength
    assert without is renamed.strength
    three = edits.rejoin_pivot(renamed, "Y", ("boom", "cross link", "hatch"))
    gone = edits.remove_link(three, "boom").strength
    assert gone is not None
    assert gone.joints == (JointStrength("Y"),)  # the pivot stays, the link outside is gone
    removed = edits.remove_pivot(project, "X").strength
    assert removed is not None
    assert removed.joints == ()


def test_brackets_are_outside_unless_a_joint_says_otherwise() -> None:
    joints = (JointStrength("O1", outer_link="arm"), JointStrength("P1", outer_link="cross link"))
    made = joint_by_pivot(replace(demo_six_bar, strength=replace(PINS, joints=joints)))
    assert made["O2"].outer == "bulkhead"
    assert made["O1"].outer == "arm"
    assert made["P1"].outer == "hatch"  # the cross link isn't on it
    assert made["X"].outer == "arm"  # the first that it joins
