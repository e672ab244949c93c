"""Sheet metal by rule: lengths of bends by hand, limits of radius, flange and throat."""

from __future__ import annotations

import math

import pytest

from kinematics import sheet_metal


def test_a_right_angle_about_the_middle_line_is_a_quarter_circle() -> None:
    assert sheet_metal.allowance(90.0, 3.0, 4.0, 0.5) == pytest.approx(math.pi / 2.0 * 5.0)
    assert sheet_metal.setback(90.0, 3.0, 4.0) == pytest.approx(7.0)
    assert sheet_metal.deduction(90.0, 3.0, 4.0, 0.5) == pytest.approx(14.0 - math.pi * 2.5)


def test_a_sheet_that_is_hardly_bent_is_hardly_shorter() -> None:
    assert abs(sheet_metal.deduction(0.01, 3.0, 4.0, 0.4)) < 1e-3


def test_the_neutral_line_stays_between_inner_face_and_middle() -> None:
    assert sheet_metal.k_factor(1.0, 1.0) == pytest.approx(0.325)
    assert sheet_metal.k_factor(100.0, 1.0) == 0.5
    assert sheet_metal.k_factor(1e-6, 1.0) == 0.05


def test_aluminium_is_bent_more_gently_than_steel() -> None:
    assert (sheet_metal.least_radius(4.0, 7850.0), sheet_metal.least_radius(4.0, 2700.0)) == (4.0, 10.0)
    assert sheet_metal.least_flange(4.0, 4.0) == 20.0


def test_a_throat_lies_between_what_the_thick_and_what_the_thin_sheet_ask() -> None:
    least, most = sheet_metal.throats(6.0, 9.0)
    assert (least, most) == (pytest.approx(2.5), pytest.approx(4.2))
    assert sheet_metal.usual_throat(9.0, 6.0) == 4.0
    assert sheet_metal.leg(4.0) == pytest.approx(5.657, abs=5e-4)
