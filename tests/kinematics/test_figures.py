"""Key figures, each against the poses, read another way."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from kinematics import analyse, edits
from kinematics.figures import key_figures
from kinematics.project import LiftWants, WorstCase
from tests.loaded import hatch
from tests.specimens import demo_six_bar, empty, half_drawn, locked_triangle, single_pivot


def test_the_demos_figures_are_those_of_its_analysis() -> None:
    analysis = analyse(demo_six_bar)
    figures = key_figures(analysis)
    wanted = [gap for gap in analysis.gaps if gap.wanted and gap.smallest is not None]
    tightest = min(wanted, key=lambda gap: gap.smallest or 0.0)
    assert (figures.clearance, figures.of) == (tightest.smallest, tightest.between)
    assert analysis.transmission is not None
    assert figures.transmission_deg == analysis.transmission.smallest_deg
    assert figures.opens_deg == analysis.opening.reached_deg
    assert figures.short == sum(not check.ok for check in analysis.checks)
    assert figures.effort is None


def test_lifting_has_its_three_figures() -> None:
    """The push, the pin that carries most, and what the worst case leaves: from the analysis, and None without."""
    wants = LiftWants(stays_open_in=WorstCase(temperature=-10.0, slope_deg=5.0, one_dead=True))
    analysis = analyse(hatch(wants=wants))
    figures, told = key_figures(analysis), analysis.loads
    assert told is not None
    assert told.largest is not None
    assert told.worst is not None
    assert (figures.effort, figures.hold) == (told.largest.force, told.worst.force)
    column = [pivot.id for pivot in analysis.project.pivots].index("X")
    assert (figures.pin, figures.pin_id) == (told.pins[:, column].max(), "X")
    bare = key_figures(analyse(demo_six_bar, 5))
    assert (bare.pin, bare.pin_id, bare.hold) == (None, "", None)


def test_a_lids_rear_corner_below_its_pin_goes_back_as_a_circle_does() -> None:
    # The lid's rear edge is its corner at (-30, 0): turning up about the pin at the origin by θ it stands at
    # x = -30·cos θ, so it never goes back. With the pin 20 above it, x = -30·cos θ + 20·sin θ ... read at its least.
    assert key_figures(analyse(single_pivot)).back == 0.0
    low = replace(single_pivot, pivots=(replace(single_pivot.pivots[0], at=(0.0, -20.0)),))
    figures = key_figures(analyse(low))
    # corner at (-30, 20) from the pin: x(θ) = -30·cos θ - 20·sin θ, least where tan θ = 2/3: -sqrt(30² + 20²)
    assert figures.back == pytest.approx(math.hypot(30.0, 20.0) - 30.0, abs=1e-9)
    assert figures.back_deg == pytest.approx(math.degrees(math.atan2(20.0, 30.0)), abs=1e-4)


def test_a_doubtful_trace_is_taken_at_its_low_end() -> None:
    wanted = edits.set_gap(single_pivot, ("wall", "lid skin"), 0.0)
    sure = key_figures(analyse(wanted)).clearance
    outlines = (replace(wanted.outlines[0], uncertain=2.0), wanted.outlines[1])
    assert sure is not None
    figures = key_figures(analyse(replace(wanted, outlines=outlines)))
    assert figures.clearance == pytest.approx(sure - 2.0)
    assert (figures.of_drawn, figures.uncertain) == (pytest.approx(sure), 2.0)


def test_the_room_is_the_box_of_the_pins() -> None:
    at = np.array([pivot.at for pivot in demo_six_bar.pivots])
    assert key_figures(analyse(demo_six_bar)).room == pytest.approx(tuple(np.ptp(at, axis=0)))


@pytest.mark.parametrize("project", [empty, half_drawn, locked_triangle], ids=["empty", "half drawn", "locked"])
def test_what_is_not_there_has_no_figure(project: object) -> None:
    figures = key_figures(analyse(project))  # type: ignore[arg-type]
    assert figures.opens is False
    assert figures.back in (None, 0.0)
