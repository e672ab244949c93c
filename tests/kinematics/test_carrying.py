"""What hand and pins carry, read off an analysis: against exact poses, at the bound, and where nothing is told."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from kinematics import analyse
from kinematics.carrying import NOTHING, carried_at, largest_pin, pin_peaks, stretches, told
from kinematics.project import Handle, Loads, Mass
from kinematics.statics import Statics
from tests import specimens
from tests.loaded import dead_ended, hatch, lifted, rubbing


def test_between_poses_it_reads_what_an_exact_pose_has() -> None:
    """33.3° is no reported pose; straight lines over 0.42° miss by less than the tenth of a newton that is shown."""
    analysis = lifted()
    now = carried_at(analysis, 33.3)
    statics = Statics(analysis.project.loads, analysis.sweep)
    at = statics.at(analysis.unknowns(analysis.pose(33.3)))
    applied = statics.applied(at)
    exact = statics.held(at, applied)
    assert now.push == pytest.approx(float(exact.push[0]), abs=0.02)
    loose = {member: force for member, force in now.forces.items() if member[0] == "X"}
    assert set(loose) == {("X", "arm"), ("X", "cross link")}
    joint = next(k for k, each in enumerate(statics.closure.joints) if analysis.project.pivots[each.pivot].id == "X")
    second = statics.closure.links[statics.closure.joints[joint].second]
    assert loose["X", second] == pytest.approx(complex(exact.on_second[0, joint]) / 2.0, abs=0.02)  # of one hinge


def test_what_a_pin_puts_on_two_links_is_opposite() -> None:
    now = carried_at(lifted(), 12.0)
    for pivot in lifted().project.pivots:
        one, other = (force for (pin, _), force in now.forces.items() if pin == pivot.id)
        assert one + other == pytest.approx(0.0, abs=1e-6)
        assert now.pins[pivot.id] == pytest.approx(abs(one), rel=1e-4)


def test_friction_is_read_too_and_lies_about_the_push() -> None:
    now = carried_at(rubbing(), 30.0)
    assert now.push is not None
    assert now.raising is not None
    assert now.letting_down is not None
    assert now.letting_down < now.push < now.raising
    assert carried_at(lifted(), 30.0).raising is None


def test_the_ends_are_those_of_the_report_and_beyond_them_nothing_is_made_up() -> None:
    analysis = lifted()
    assert analysis.loads is not None
    for deg, k in ((-5.0, 0), (0.0, 0), (75.0, -1), (99.0, -1)):
        assert carried_at(analysis, deg).push == float(analysis.loads.effort[k])
    assert carried_at(analysis, float("nan")) == NOTHING


def test_the_most_of_every_pin_is_found_among_the_reported_poses() -> None:
    analysis = lifted()
    assert analysis.loads is not None
    for k, peak in enumerate(pin_peaks(analysis)):
        assert peak is not None
        assert peak.force == analysis.loads.pins[:, k].max()
        row = int(np.argmin(np.abs(analysis.openings - peak.deg)))
        assert analysis.loads.pins[row, k] == peak.force
    assert largest_pin(analysis) == max(pin_peaks(analysis), key=lambda peak: peak.force if peak else 0.0)


def test_beyond_the_bound_nothing_is_told() -> None:
    analysis = lifted()
    assert analysis.loads is not None
    low = replace(analysis, loads=replace(analysis.loads, bound=15.0))
    most = largest_pin(low)
    assert most is not None
    assert most.force <= 15.0
    assert carried_at(low, 10.0).push is None
    assert np.isnan(told(np.array([1.0, -16.0, np.nan, np.inf]), 15.0)).tolist() == [False, True, True, True]


def test_without_a_handle_or_loads_or_where_nothing_moves_nothing_is_told() -> None:
    bare = analyse(hatch(handle=None), 5)
    assert carried_at(bare, 10.0) == NOTHING
    assert largest_pin(bare) is None
    for project in (specimens.half_drawn, specimens.locked_triangle):
        weight = Mass(project.panel.id, 10.0, (50.0, 50.0))
        grip = Handle(project.panel.id, (90.0, 50.0))
        analysis = analyse(replace(project, loads=Loads((weight,), grip)), 5)
        assert analysis.loads is not None
        assert carried_at(analysis, 0.0) == NOTHING
        assert largest_pin(analysis) is None


def test_nothing_is_told_at_a_dead_point() -> None:
    analysis = dead_ended()
    assert analysis.opening.ends == "dead point"
    assert carried_at(analysis, analysis.opening.reached_deg).push is None
    assert carried_at(analysis, analysis.opening.reached_deg - 0.1).push is None  # between the last two poses
    assert carried_at(analysis, analysis.opening.reached_deg - 1.0).push is not None


def test_stretches_are_where_numbers_stand() -> None:
    nan = float("nan")
    assert stretches(np.array([1.0, nan, nan, 2.0, 3.0])) == [(0, 1), (3, 5)]
    assert stretches(np.array([nan, nan])) == []
    assert stretches(np.zeros(0)) == []
