"""Joints as they are made: who holds the pin, which bushing sits where, how each hole is cut and finished."""

from __future__ import annotations

from dataclasses import replace

import pytest

from app.hardware import hardware
from kinematics.build_parts import PinChoice, Plate, Plates, Stack
from kinematics.errors import ProjectError
from kinematics.fits import Limits
from kinematics.hardware import Hardware
from kinematics.joints_made import JointMade, choice_of, joint_of, joints_made
from tests.specimens import demo_six_bar, empty

TABLES = hardware()
FIXED = demo_six_bar.fixed.id


def made(pivot: str = "O1", plates: Plates | None = None, **stack: object) -> JointMade:
    project = replace(demo_six_bar, plates=plates, stack=replace(Stack(), **stack))  # type: ignore[arg-type]
    return joint_of(project, pivot, TABLES)


def test_a_sintered_bushing_is_pressed_into_a_reamed_plate() -> None:
    """8 × 11, the thinner of ISO 2795's two; 11 H7 is 0/+18 µm, 11 r6 +23/+34, 8 H8 0/+22, 8 h11 −90/0."""
    joint = made()
    shank = joint.hole(FIXED)
    (housing,) = (hole for hole in joint.holes if hole.link != FIXED)
    assert joint.holder == FIXED
    assert (shank.purpose, shank.cut_diameter, shank.zone) == ("shank", pytest.approx(7.7), "H8")
    assert (shank.finished.least, shank.finished.most) == pytest.approx((8.0, 8.022))
    assert (housing.purpose, housing.cut_diameter, housing.zone) == ("housing", pytest.approx(10.7), "H7")
    assert housing.between.interference == pytest.approx((0.005, 0.034))
    assert housing.bushing is not None
    assert (housing.bushing.nominal_outside, housing.bushing.length, housing.bushing.proud) == (11.0, 6.0, 2.0)
    assert (joint.running.least, joint.running.most) == pytest.approx((0.0, 0.105))
    assert joint.widest == 16.0  # the washer, and the split pin's legs


def test_a_wall_is_met_by_the_nearest_bushing_and_a_length_by_the_plate() -> None:
    thick = Plates(thickness=8.5)
    ((_, bushing),) = made(plates=thick, wall=2.0).bushings
    assert (bushing.nominal_outside, bushing.length, bushing.proud) == (12.0, 8.0, 0.0)
    ((_, exact),) = made(plates=Plates(thickness=12.0)).bushings
    assert exact.length == 12.0


def test_retaining_compound_wants_a_slip_fit_however_the_bushing_came() -> None:
    """Outside 11 r6: 11.023 to 11.034; 0.02 more than the most, 0.1 more than the least. Its bore stays G7, +5/+20."""
    joint = made(fixing="bond")
    (hole,) = (each for each in joint.holes if each.bushing is not None)
    assert hole.bushing is not None
    assert (hole.finished.least, hole.finished.most) == pytest.approx((11.054, 11.123))
    assert hole.cut_diameter == pytest.approx(10.754)
    assert hole.between.least == pytest.approx(0.02)
    assert (hole.bushing.bore.least, hole.bushing.bore.most) == pytest.approx((8.005, 8.02))


def test_solid_bronze_is_reamed_to_size_once_it_sits() -> None:
    ((_, bushing),) = made(bushing="solid bronze").bushings
    assert (bushing.kind, bushing.nominal_outside) == ("solid bronze", 10.0)
    assert (bushing.bore.least, bushing.bore.most) == pytest.approx((8.0, 8.015))


def test_without_a_bushing_the_pin_turns_in_the_plate() -> None:
    joint = made(bushing="none", kind="plain pin")
    assert joint.bushings == ()
    assert {hole.purpose for hole in joint.holes} == {"shank", "running"}
    assert (joint.running.least, joint.running.most) == pytest.approx((0.013, 0.043))  # 8 H7/f7
    assert joint.pin.ring is not None
    assert (joint.pin.ring.kind, joint.pin.ring.groove) == ("circlip", 7.6)


def test_a_hole_cut_to_size_takes_the_pin_however_it_turns_out() -> None:
    """±0.1 mm: cut 8.1, it is 8.0 to 8.2."""
    hole = made(holes="to size", bushing="none").hole(FIXED)
    assert (hole.cut_diameter, hole.reamed) == (pytest.approx(8.1), False)
    assert hole.finished == Limits(8.0, 8.2)


def test_a_shoulder_bolt_has_its_thread_beyond_the_grip() -> None:
    pin = made(kind="shoulder bolt").pin
    assert pin.size is not None
    assert (pin.size.thread, pin.tail, pin.head) == ("M6", 11.25, 13.0)
    assert (pin.shank.least, pin.shank.most) == pytest.approx((7.951, 7.987))  # 8 f9


def test_a_pair_of_plates_holds_the_pin_between_single_ones() -> None:
    other = next(link for link in demo_six_bar.pivot("O1").joins if link != FIXED)
    joint = made(plates=Plates(each=(Plate(other, count=2),)))
    assert joint.holder == other
    assert [link for link, _ in joint.bushings] == [FIXED]


def test_one_pivot_has_its_own_and_the_rest_stays() -> None:
    project = replace(demo_six_bar, stack=Stack(pins=(PinChoice("O1", diameter=10.0),)))
    joints = joints_made(project, TABLES)
    assert [joint.pin.diameter for joint in joints.values()].count(10.0) == 1
    assert joints["O1"].washer.size is None  # ISO 7089 has 2 mm for 10, not 1.6


def test_a_diameter_in_no_table_is_gone_on_with() -> None:
    joint = made(diameter=7.3)
    assert joint.pin.size is None
    assert joint.pin.head > 7.3
    ((_, bushing),) = joint.bushings
    assert bushing.size is None
    assert bushing.nominal_outside > 7.3


def test_the_diameter_of_strength_is_the_pins_until_the_stack_says_another() -> None:
    assert choice_of(demo_six_bar).diameter == 8.0
    assert demo_six_bar.strength is None


def test_empty_tables_and_projects_raise_no_surprise() -> None:
    assert joints_made(empty, Hardware()) == {}
    with pytest.raises(ProjectError):
        joint_of(demo_six_bar, "nobody", TABLES)
    with pytest.raises(KeyError):
        made().hole("nobody")
    with pytest.raises(KeyError):
        Hardware().rule("nothing")
