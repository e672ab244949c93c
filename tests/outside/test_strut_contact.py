"""A strut that swings over a fixed corner, by ruler and compass.

Source: derivable. The lid turns about P = (0, 0); the rod's end is on the lid at 300 from P, the tube's end on the
body at A. The strut's line touches a round of radius r about a corner C where it is tangent to that round from A: at
an angle asin(r/|AC|) to either side of AC. There the lid's pin stands where that tangent meets the circle of 300
about P.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

import pytest

import kinematics
from kinematics.project import GapWant
from tests.outside.loaded import strut, with_loads
from tests.outside.sketch import Line, Sketch

A, C, RADIUS = 250 - 200j, 262 - 40j, 300.0
TUBE = 18.0
FIGURES = {"extended": 420.0, "stroke": 215.0, "force": 500.0, "ratio": 1.3, "tube": TUBE, "rod": 8.0}


def opening_on(way: complex) -> float:
    """Degrees by which the lid has turned from level when its pin is on the ray from A."""
    way /= abs(way)
    along = -(A * way.conjugate()).real
    far = along + math.sqrt(along**2 + RADIUS**2 - abs(A) ** 2)
    return math.degrees(cmath.phase(A + far * way))


def test_a_tube_touches_a_corner_between_two_tangents() -> None:
    """Both openings to 0.01°, as the corner is a line 0.02 mm long; few poses are reported (0°, 13.3°, 26.7°, 40°).

    The lid is level when shut; contact begins with the tangent on one side and ends with that on the other.
    """
    half = math.asin(0.5 * TUBE / abs(C - A))
    begins, ends = sorted(opening_on((C - A) * cmath.rect(1.0, side * half)) for side in (1.0, -1.0))
    assert (begins, ends) == (pytest.approx(16.534517160, abs=1e-9), pytest.approx(31.181716417, abs=1e-9))
    corner = Line("body", (C - 0.01j, C + 0.01j))
    lid = Sketch(("body", "lid"), "lid", {"P": (0j, ("body", "lid"))}, wanted_deg=40.0, outlines={"corner": corner})
    project = with_loads(lid, strut("body", A, "lid", RADIUS + 0j, **FIGURES), handle=("lid", 500 + 0j))
    gap = kinematics.analyse(replace(project, gaps=(GapWant(("strut", "corner")),)), 4).gaps[0]
    assert gap.smallest == 0.0
    ((low, high),) = gap.touching_deg
    assert low == pytest.approx(begins, abs=1e-2)
    assert high == pytest.approx(ends, abs=1e-2)
