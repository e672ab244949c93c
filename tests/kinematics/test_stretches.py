"""Stretches: what they say is hidden really hides everything; true motion, sampled densely, never leaves the bound."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from kinematics.bodies import Body, bodies
from kinematics.project import GapWant, Outline
from kinematics.stretches import (
    PLACE,
    PLACE_RATE,
    TURN,
    TURN_RATE,
    Course,
    Stretches,
    course_of,
    fine_branch,
    pairs_of,
    shorter,
    whole,
)
from kinematics.sweep import sweep
from tests import specimens
from tests.kinematics.making import PLAIN, plain

if TYPE_CHECKING:
    from kinematics.project import Project


def with_outlines(project: Project, seed: int) -> Project:
    """A few points on the panel and on every other link, far out and near."""
    dice = np.random.default_rng(seed)
    panel = project.panel.id
    others = [link.id for link in project.links if link.id != panel][:3]
    outlines = [
        Outline(f"on {name}", name, tuple((float(x), float(y)) for x, y in dice.normal(size=(3, 2)) * 200.0))
        for name in (panel, *others)
    ]
    wants = tuple(GapWant((f"on {panel}", f"on {name}"), 1.0) for name in others)
    return replace(project, outlines=tuple(outlines), gaps=wants, marks=(), limits=())


def course(project: Project, seed: int) -> tuple[Course, list[tuple[Body, Body]]]:
    project = with_outlines(project, seed)
    moved = sweep(project)
    there = bodies(project, {name: k for k, name in enumerate(moved.closure.links)}, {})
    couples = [(there[a], there[b]) for a, b in (want.between for want in project.gaps)]
    pairs = pairs_of(moved, couples)
    branch, _ = fine_branch(moved, float(pairs.reach.max()), [0.0])
    return course_of(moved, branch, pairs), couples


def true_paths(there: Course, couple: int, frame: int, points: np.ndarray, arcs: np.ndarray) -> np.ndarray:
    """(arcs, points) where points of one body stand in the other's frame, on the exact motion."""
    y = there.branch.at(arcs)
    turns, shifts = there.sweep.link_turns(y), there.sweep.shifts(y)
    still, moving = there.pairs.links[couple, frame], there.pairs.links[couple, 1 - frame]
    at = shifts[:, moving, None] + np.exp(1j * turns[:, moving, None]) * points
    return (at - shifts[:, still, None]) * np.exp(-1j * turns[:, still, None])


def from_chord(z: np.ndarray, start: np.ndarray, end: np.ndarray) -> np.ndarray:
    """Distances of z (u, stretches, points) from chords (stretches, points)."""
    along = end - start
    square = np.where(np.abs(along) > 0, np.abs(along) ** 2, 1.0)
    share = np.clip(((z - start) * along.conjugate()).real / square, 0.0, 1.0)
    return np.abs(z - start - share * along)


def check_bound(there: Course, couples: list[tuple[Body, Body]], cuts: Stretches) -> None:
    shares = np.linspace(0.0, 1.0, 9)
    for couple, bodies_there in enumerate(couples):
        for frame in (0, 1):
            points = bodies_there[1 - frame].tails
            motion = cuts.motion[:, couple, frame]
            at = motion[:, :, PLACE, None] + motion[:, :, TURN, None] * points
            rates = motion[:, :, PLACE_RATE, None] + motion[:, :, TURN_RATE, None] * points
            chord = at[:, 1] - at[:, 0]
            sagitta = 0.25 * np.abs(rates - chord[:, None]).max(axis=1)
            allowed = sagitta + cuts.slack[:, couple, None]
            for share in shares:
                arcs = cuts.starts + share * (cuts.ends - cuts.starts)
                z = true_paths(there, couple, frame, points, np.minimum(arcs, there.branch.arcs[-1]))
                assert np.all(from_chord(z, at[:, 0], at[:, 1]) <= allowed + 1e-8)


@pytest.mark.parametrize("seed", PLAIN)
def test_true_paths_stay_within_chord_sagitta_and_slack(seed: int) -> None:
    there, couples = course(plain(seed), seed)
    cuts = whole(there)
    check_bound(there, couples, cuts)
    check_bound(there, couples, shorter(there, cuts, np.arange(0, len(cuts.starts), 3), 3))


@pytest.mark.parametrize("name", ["demo_six_bar", "watt_a21", "stephenson_iii", "peaucellier", "hanging_link"])
def test_true_paths_of_specimens_too(name: str) -> None:
    there, couples = course(specimens.ALL[name], 3)
    check_bound(there, couples, whole(there))


def test_chord_and_sagitta_alone_would_not_do() -> None:
    """About a single pivot, paths are circles: they leave the cubic by a little, and the slack covers that little."""
    there, couples = course(specimens.single_pivot, 5)
    check_bound(there, couples, whole(there))
    cuts = whole(there)
    with pytest.raises(AssertionError):
        check_bound(there, couples, replace(cuts, slack=np.zeros_like(cuts.slack)))
    with pytest.raises(AssertionError):
        check_bound(there, couples, replace(cuts, slack=0.02 * cuts.slack))


def test_slack_is_little_and_falls_with_the_fourth_power() -> None:
    there, _ = course(specimens.demo_six_bar, 1)
    cuts = whole(there)
    assert cuts.slack.max() < 0.05  # mm, at a reach of metres
    halves = shorter(there, cuts, np.arange(len(cuts.starts)), 2)
    ends_off = 1.5 * there.off[cuts.knots] * np.diff(there.branch.arcs)[:, None] ** 4 / 384.0
    moving = cuts.slack - ends_off * there.pairs.reach
    moving_halves = halves.slack - ends_off[halves.knots] * there.pairs.reach
    assert moving_halves[::2] == pytest.approx(moving / 16.0, rel=1e-6)


def test_ends_and_rates_are_those_of_the_motion() -> None:
    there, couples = course(specimens.demo_six_bar, 2)
    cuts = whole(there)
    points = couples[0][1].tails
    motion = cuts.motion[:, 0, 0]
    at = motion[:, :, PLACE, None] + motion[:, :, TURN, None] * points
    for end, arcs in enumerate((cuts.starts, cuts.ends)):
        assert at[:, end] == pytest.approx(true_paths(there, 0, 0, points, arcs), rel=0, abs=1e-6)
    rates = motion[:, 0, PLACE_RATE, None] + motion[:, 0, TURN_RATE, None] * points
    step = 1e-5 * (cuts.ends - cuts.starts)
    ahead = true_paths(there, 0, 0, points, cuts.starts + step)
    assert (ahead - at[:, 0]) / 1e-5 == pytest.approx(rates, rel=0, abs=0.02)


def test_parts_stand_in_order_and_join() -> None:
    there, _ = course(specimens.demo_six_bar, 1)
    cuts = whole(there)
    which = np.array([2, 5, 6])
    parts = shorter(there, cuts, which, 4)
    assert parts.starts.reshape(3, 4)[:, 0] == pytest.approx(cuts.starts[which], rel=0, abs=0)
    assert parts.ends.reshape(3, 4)[:, -1] == pytest.approx(cuts.ends[which], rel=0, abs=0)
    assert parts.ends.reshape(3, 4)[:, :-1] == pytest.approx(parts.starts.reshape(3, 4)[:, 1:], rel=0, abs=0)
    assert parts.knots.tolist() == np.repeat(which, 4).tolist()


def test_the_fine_branch_has_knots_where_they_are_asked() -> None:
    moved = sweep(specimens.demo_six_bar)
    asked = moved.arcs_of(moved.at_openings(np.radians([0.0, 7.25, 33.3, 75.0])))
    branch, places = fine_branch(moved, 1500.0, asked.tolist())
    openings = np.degrees(moved.sign * branch.at(places)[:, moved.panel])
    assert openings == pytest.approx([0.0, 7.25, 33.3, 75.0], rel=0, abs=1e-8)
    assert all(np.abs(branch.arcs - place).min() == 0.0 for place in places)
    assert np.all(np.diff(branch.arcs) > 0.0)


def test_bodies_that_reach_further_make_a_finer_branch() -> None:
    moved = sweep(specimens.demo_six_bar)
    near, far = (len(fine_branch(moved, reach, [0.0])[0].arcs) for reach in (100.0, 1e5))
    assert far > near
