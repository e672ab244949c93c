"""analyse() as a whole: never raises, never NaN, the same with a first guess, whatever was there before."""

from __future__ import annotations

import itertools
import json
import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings

import kinematics
from kinematics.analysis import Analysis, analyse, watched_pairs
from kinematics.project import GapWant, Link, Outline, Pivot, Project
from tests import specimens, strategies
from tests.kinematics.making import PLAIN, four_bar, mapped, plain, pushed, residual_mm
from tests.thorough import cases

if TYPE_CHECKING:
    from collections.abc import Iterator


def numbers(analysis: Analysis) -> Iterator[float]:
    """Every number that is handed over; infinite margins of missing figures, and safety without load, left aside."""
    opening = analysis.opening
    yield from (opening.wanted_deg, opening.reached_deg, opening.largest_deg)
    for array in (analysis.openings, analysis.turns, analysis.shifts.real, analysis.shifts.imag):
        yield from array.ravel().tolist()
    for gap in analysis.gaps:
        yield from (number for number in (gap.smallest, gap.at_deg, gap.shut) if number is not None)
        yield from (edge for touch in gap.touching_deg for edge in touch)
        yield from (number for point in gap.at_points or () for number in point)
        yield from (number for part in gap.lane for number in part.tolist())
    for check in analysis.checks:
        if check.kind == "strength" and check.have == math.inf:
            continue
        yield from (n for n in (check.want, check.have, check.deg, *(check.place or ())) if n is not None)
        if check.have is not None:
            yield check.margin
    if analysis.transmission is not None:
        told = analysis.transmission
        yield from (told.smallest_deg, told.at_deg, *told.openings.tolist(), *told.angles.ravel().tolist())


@given(strategies.projects())
@settings(max_examples=cases(40, 80))
def test_any_project_gives_an_analysis_with_finite_numbers(project: Project) -> None:
    analysis = analyse(project, steps=4)
    assert all(math.isfinite(number) for number in numbers(analysis))
    assert analysis.links == tuple(link.id for link in project.links)
    assert analysis.state in ("moves", "slides", "locked", "loose")
    assert analysis.turns.shape == (len(analysis.openings), len(project.links))
    if analysis.state != "moves":
        assert (analysis.opening.reached_deg, len(analysis.openings)) == (0.0, 1)
        assert analysis.remarks
    fixed = analysis.links.index(project.fixed.id)
    assert np.all(analysis.turns[:, fixed] == 0.0)
    assert np.all(analysis.shifts[:, fixed] == 0.0)
    for pose in (analysis.pose(0.0), analysis.pose(1e9), analysis.along(0.3), analysis.along(-1e9)):
        assert np.isfinite(pose.turns).all()
        assert np.isfinite(pose.shifts).all()


@given(strategies.ready_projects(), strategies.ready_projects())
@settings(max_examples=cases(15, 25))
def test_any_project_may_come_after_any_other(project: Project, before: Project) -> None:
    analysis = analyse(project, steps=3, near=analyse(before, steps=3))
    assert differences(analysis, analyse(project, steps=3)) == []


@pytest.mark.parametrize("name", specimens.ALL)
def test_specimens_close_and_are_finite(name: str) -> None:
    analysis = analyse(specimens.ALL[name], steps=31)
    assert all(math.isfinite(number) for number in numbers(analysis))
    assert residual_mm(analysis) < 1e-9


@pytest.mark.parametrize("name", specimens.ALL)
def test_no_zero_is_negative(name: str) -> None:
    """−0.0 would be read aloud as "minus nought"."""
    analysis = analyse(specimens.ALL[name], steps=5)
    for gap in analysis.gaps:
        for number in (gap.at_deg, *(edge for touch in gap.touching_deg for edge in touch)):
            assert number is None or math.copysign(1.0, number) == 1.0
    assert "-0.0" not in json.dumps([*analysis.openings.tolist(), analysis.pose(0.0).deg, analysis.along(0.0).deg])


def test_arrays_cannot_be_written_to() -> None:
    analysis = analyse(specimens.demo_six_bar, steps=5)
    for array in (
        analysis.openings,
        analysis.turns,
        analysis.shifts,
        analysis.pose(3.0).turns,
        analysis.gaps[0].lane[1],
    ):
        with pytest.raises(ValueError, match="read-only"):
            array[...] = 0.0


@pytest.mark.parametrize("steps", [2, 3, 50])
def test_nothing_but_the_poses_depends_on_their_number(steps: int) -> None:
    few, many = analyse(specimens.demo_six_bar, steps=steps), analyse(specimens.demo_six_bar)
    assert len(few.openings) == steps
    assert few.checks == many.checks
    for one, other in zip(few.gaps, many.gaps, strict=True):
        assert (one.smallest, one.at_deg, one.touching_deg) == (other.smallest, other.at_deg, other.touching_deg)


def test_the_way_in_is_found_late() -> None:
    assert kinematics.analyse is analyse
    assert kinematics.Analysis is Analysis
    with pytest.raises(AttributeError, match="no attribute"):
        _ = kinematics.nothing_of_the_kind


# --------------------------------------------------------------------------------------------------------- first guess


def differences(one: Analysis, other: Analysis, within: float = 1e-9) -> list[str]:
    """Where two analyses of one project differ by more than the guess may change."""
    said = [(each.state, each.mobility, each.opening.ends, each.remarks) for each in (one, other)]
    if said[0] != said[1]:
        return [f"{said[0]} {one.opening}, {said[1]} {other.opening}"]
    found = []
    if abs(one.opening.largest_deg - other.opening.largest_deg) > within:
        found.append("largest opening")
    for name in ("openings", "turns", "shifts"):
        apart = np.abs(getattr(one, name) - getattr(other, name)).max(initial=0.0)
        if apart > within * max(1.0, np.abs(getattr(one, name)).max(initial=0.0)):
            found.append(f"{name} by {apart}")
    figures = [
        [*((gap.between, gap.smallest) for gap in each.gaps), *((check.kind, check.have) for check in each.checks)]
        for each in (one, other)
    ]
    for (name, a), (again, b) in zip(*figures, strict=True):
        if name != again or (a is None) != (b is None) or abs((a or 0.0) - (b or 0.0)) > 1e-8:
            found.append(f"{name} {a}, {again} {b}")
    touches = [[len(gap.touching_deg) for gap in each.gaps] for each in (one, other)]
    return found if touches[0] == touches[1] else [*found, f"touches {touches}"]


WANDERING: dict[str, Project] = {
    "demo": specimens.demo_six_bar,
    "four-bar": specimens.four_bar_a1,
    "Watt": specimens.watt_a21,
    "Stephenson": specimens.stephenson_iii,
    "three on a pin": specimens.ternary_pin,
    "hanging": specimens.hanging_link,
    "change point": specimens.change_point,
    "parallelogram": specimens.parallelogram,
    **{f"seed {seed}": plain(seed) for seed in PLAIN[:6]},
}


@pytest.mark.parametrize("name", WANDERING)
def test_a_long_drag_gives_what_a_fresh_look_would(name: str) -> None:
    """Pins wander by a millimetre or so at a time, each analysis the guess of the next."""
    project = WANDERING[name]
    dice = np.random.default_rng(len(name))
    near = analyse(project, steps=9)
    for _ in range(cases(6, 12)):
        pin = project.pivots[int(dice.integers(len(project.pivots)))]
        project = pushed(project, **{pin.id: complex(*dice.normal(size=2))})
        near = analyse(project, steps=9, near=near)
        assert differences(near, analyse(project, steps=9)) == []


def test_a_drag_through_a_dead_point_that_comes_and_goes() -> None:
    """The rocker of 80 becomes a crank and back while O4 moves: its dead point vanishes beyond 180° and comes again."""
    project = four_bar((80.0, 120.0, 50.0, 100.0), 60.0, wanted=179.0)
    near, folds = analyse(project, steps=9), []
    for k in range(24):
        way = -4.0 if k < 12 else 4.0
        project = pushed(project, O4=complex(way, 0.0))
        near = analyse(project, steps=9, near=near)
        assert differences(near, analyse(project, steps=9)) == []
        folds.append(near.sweep.folds)
    assert set(folds) == {True, False}
    assert sum(a != b for a, b in itertools.pairwise(folds)) >= 2


@pytest.mark.parametrize("name", ["demo", "Watt"])
def test_another_wanted_opening_and_the_other_way_round_after_a_guess(name: str) -> None:
    project = WANDERING[name]
    near = analyse(project, steps=9)
    for travel in (
        replace(project.travel, wanted_deg=3.0),
        replace(project.travel, wanted_deg=180.0),
        replace(project.travel, opens={"clockwise": "anticlockwise"}.get(project.travel.opens, "clockwise")),
    ):
        other = replace(project, travel=travel)
        near = analyse(other, steps=9, near=near)
        assert differences(near, analyse(other, steps=9)) == []


def test_links_and_pivots_that_come_and_go_after_a_guess() -> None:
    project = specimens.demo_six_bar
    with_link = replace(project, links=(*project.links, Link("new", "link", 20.0)))
    joined = replace(with_link, pivots=(*with_link.pivots, Pivot("N", (300.0, 200.0), ("new", "hatch"))))
    braced = replace(joined, pivots=(*joined.pivots, Pivot("M", (200.0, 100.0), ("new", "bulkhead"))))
    fewer = replace(project, pivots=project.pivots[:-1])
    swapped = replace(project, links=project.links[::-1], pivots=project.pivots[::-1])
    near = analyse(project, steps=9)
    for other in (with_link, joined, braced, joined, fewer, swapped, project):
        near = analyse(other, steps=9, near=near)
        assert differences(near, analyse(other, steps=9)) == []


def test_outlines_that_change_after_a_guess() -> None:
    project = specimens.demo_six_bar
    near = analyse(project, steps=5)
    bulged = replace(project.outlines[1], half_width=4.0)
    for outlines in ((project.outlines[0],), (project.outlines[0], bulged), project.outlines[::-1]):
        other = replace(project, outlines=outlines, gaps=())
        near = analyse(other, steps=5, near=near)
        assert differences(near, analyse(other, steps=5)) == []


# --------------------------------------------------------------------------------------------------------------- poses


def test_poses_between_the_reported_ones_are_exact() -> None:
    analysis = analyse(specimens.demo_six_bar)
    panel = analysis.links.index("hatch")
    for deg in (0.0, 1e-6, 12.3456789, 74.9999999, 75.0):
        pose = analysis.pose(deg)
        assert pose.deg == deg
        assert math.degrees(pose.turns[panel]) == pytest.approx(deg, rel=0, abs=1e-9)
        for pin in analysis.project.pivots:
            first, second = (pose.place(analysis.links.index(name), pin.at) for name in pin.joins)
            assert math.dist(first, second) < 1e-9


def test_poses_beyond_the_sweep_are_its_ends() -> None:
    analysis = analyse(specimens.demo_six_bar)
    assert analysis.pose(-5.0).deg == 0.0
    assert analysis.pose(400.0).deg == 75.0
    assert analysis.pose(math.nan).deg == 0.0
    assert analysis.along(1e9).deg == pytest.approx(75.0, abs=1e-9)
    assert analysis.along(-1e9).deg == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("name", ["demo_six_bar", "watt_a21", "four_bar_a1"])
def test_openings_and_places_along_the_branch_lead_to_each_other(name: str) -> None:
    analysis = analyse(specimens.ALL[name])
    for share in (0.0, 0.3, 0.77, 1.0):
        pose = analysis.pose(share * analysis.opening.reached_deg)
        again = analysis.along(pose.arc)
        assert again.deg == pytest.approx(pose.deg, rel=0, abs=1e-7)
        assert again.turns == pytest.approx(pose.turns, rel=0, abs=1e-8)


def test_a_dead_point_can_be_shown() -> None:
    analysis = analyse(four_bar((40.0, 120.0, 80.0, 100.0), 40.0, wanted=180.0))
    _, end = analysis.arc_range
    assert analysis.along(end).deg == analysis.opening.largest_deg == analysis.dead_point_deg
    assert analysis.pose(180.0).deg == analysis.opening.largest_deg


def test_a_sliding_panel_is_drawn_along_its_branch() -> None:
    analysis = analyse(specimens.parallelogram)
    low, high = analysis.arc_range
    assert low < 0.0 < high
    here, there = analysis.along(0.5 * low), analysis.along(0.5 * high)
    column = analysis.links.index("panel")
    assert math.dist(here.place(column, (0.0, 0.0)), there.place(column, (0.0, 0.0))) > 20.0
    assert abs(here.turns[column]) < 1e-6
    assert analysis.dead_point_deg is None


def test_paths_run_through_the_reported_poses() -> None:
    analysis = analyse(specimens.demo_six_bar, steps=6)
    path = analysis.mark_paths["rear corner"]
    assert path.shape == (6, 2)
    for deg, at in zip(analysis.openings, path, strict=True):
        column = analysis.links.index("hatch")
        assert analysis.pose(float(deg)).place(column, (-28.0, 312.0)) == pytest.approx(tuple(at), rel=0, abs=1e-9)
    assert analysis.pivot_paths["O1"] == pytest.approx(np.tile([141.0, 257.0], (6, 1)), rel=0, abs=1e-12)


# --------------------------------------------------------------------------------------------------------------- swing


@pytest.mark.parametrize(
    ("link", "point"), [("hatch", (1190.0, 262.0)), ("arm", (25.0, 255.0)), ("hatch", (-28.0, 312.0))]
)
@pytest.mark.parametrize(("start", "goal"), [(10.0, 25.0), (40.0, 38.5), (70.0, 75.0), (3.0, 0.0)])
def test_a_link_swung_by_hand_comes_to_where_the_hand_is(
    link: str, point: tuple[float, float], start: float, goal: float
) -> None:
    analysis = analyse(specimens.demo_six_bar)
    column = analysis.links.index(link)
    hand = analysis.pose(goal).place(column, point)
    swung = analysis.swing(analysis.pose(start), link, point, hand)
    assert math.dist(swung.place(column, point), hand) < 1e-3
    assert swung.deg == pytest.approx(goal, rel=0, abs=0.01)


def test_a_hand_off_the_path_gets_the_nearest_pose_about() -> None:
    analysis = analyse(specimens.demo_six_bar)
    column, point = analysis.links.index("hatch"), (1190.0, 262.0)
    hand = (900.0, 900.0)
    swung = analysis.swing(analysis.pose(30.0), "hatch", point, hand)
    apart = math.dist(swung.place(column, point), hand)
    for deg in np.linspace(20.0, 50.0, 301):
        assert apart <= math.dist(analysis.pose(float(deg)).place(column, point), hand) + 1e-6


def test_swinging_what_cannot_move_changes_nothing() -> None:
    analysis = analyse(specimens.locked_triangle)
    pose = analysis.pose(0.0)
    assert analysis.swing(pose, "panel", (10.0, 10.0), (50.0, 50.0)) is pose


def test_a_sliding_panel_can_be_swung_too() -> None:
    analysis = analyse(specimens.parallelogram)
    column, goal = analysis.links.index("front"), analysis.along(0.4)
    hand = goal.place(column, (25.0, 43.0))
    swung = analysis.swing(analysis.along(0.0), "front", (25.0, 43.0), hand)
    assert math.dist(swung.place(column, (25.0, 43.0)), hand) < 1e-3


# ------------------------------------------------------------------------------------------------------- watched pairs


def drawn(*names: str, on: str, station: str = "") -> tuple[Outline, ...]:
    return tuple(Outline(name, on, ((0.0, 0.0), (10.0, 5.0)), station=station) for name in names)


def test_the_files_pairs_come_first_in_its_order_and_then_panel_against_fixed() -> None:
    project = replace(
        specimens.demo_six_bar,
        outlines=(*drawn("s", "t", on="bulkhead"), *drawn("u", "v", on="hatch"), *drawn("w", on="arm")),
        gaps=(GapWant(("v", "s"), 3.0), GapWant(("w", "u"), 1.0)),
    )
    assert [pair for pair, _ in watched_pairs(project)] == [("v", "s"), ("w", "u"), ("s", "u"), ("t", "u"), ("t", "v")]
    gaps = analyse(project, steps=2).gaps
    assert [gap.between for gap in gaps] == [pair for pair, _ in watched_pairs(project)]
    assert [gap.wanted for gap in gaps] == [True, True, False, False, False]
    assert [gap.ok is None for gap in gaps] == [False, False, True, True, True]


def test_outlines_of_different_stations_are_not_compared_unasked() -> None:
    project = replace(
        specimens.demo_six_bar,
        outlines=(
            *drawn("s", on="bulkhead", station="centreline"),
            *drawn("t", on="bulkhead"),
            *drawn("u", on="hatch", station="corner"),
            *drawn("v", on="hatch", station="centreline"),
        ),
        gaps=(),
    )
    assert {pair for pair, _ in watched_pairs(project)} == {("s", "v"), ("t", "u"), ("t", "v")}
    asked = replace(project, gaps=(GapWant(("s", "u"), 1.0),))
    assert watched_pairs(asked)[0][0] == ("s", "u")


# --------------------------------------------------------------------------------------------------------- the drawing


@pytest.mark.parametrize("turn", [1j, -1.0 + 0j, 0.6 + 0.8j])
def test_a_turned_and_shifted_drawing_gives_the_same_figures(turn: complex) -> None:
    here = analyse(specimens.demo_six_bar, steps=5)
    there = analyse(mapped(specimens.demo_six_bar, turn, 4e3 - 7e3j), steps=5)
    for one, other in zip(here.gaps, there.gaps, strict=True):
        assert other.smallest == pytest.approx(one.smallest, rel=0, abs=1e-7)
        assert other.at_deg == pytest.approx(one.at_deg, rel=0, abs=1e-3)
    assert there.opening.largest_deg == pytest.approx(here.opening.largest_deg, rel=0, abs=1e-8)
    assert here.transmission is not None
    assert there.transmission is not None
    assert there.transmission.smallest_deg == pytest.approx(here.transmission.smallest_deg, rel=0, abs=1e-6)


def test_the_order_of_links_and_pivots_changes_nothing() -> None:
    project = specimens.demo_six_bar
    shuffled = replace(project, links=project.links[::-1], pivots=(*project.pivots[3:], *project.pivots[:3]))
    here, there = analyse(project, steps=5), analyse(shuffled, steps=5)
    for name in here.links:
        one, other = here.turns[:, here.links.index(name)], there.turns[:, there.links.index(name)]
        assert other == pytest.approx(one, rel=0, abs=1e-10)
    assert there.gaps[0].smallest == pytest.approx(here.gaps[0].smallest, rel=0, abs=1e-9)
