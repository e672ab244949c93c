"""The loop-closure maps against pins carried by hand, and against what turning, shifting and growing must do."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from kinematics.arrays import as_complex
from kinematics.closure import Closure, build, maps, own_groups, walk_from
from tests import specimens
from tests.kinematics.making import PLAIN, mapped, plain
from tests.specimens import hinge

if TYPE_CHECKING:
    from kinematics.project import Project

JOINED = {name: project for name, project in specimens.ALL.items() if len(project.pivots) > 1}


def some_turns(closure: Closure, seed: int = 3, poses: int = 5) -> np.ndarray:
    """Turns of all links at will: the loops don't close there, and needn't. The fixed link stands still."""
    turns = np.random.default_rng(seed).uniform(-1.5, 1.5, (poses, len(closure.links)))
    turns[:, ~closure.reached] = 0.0
    turns[:, closure.fixed] = 0.0
    return turns


def claims(project: Project, closure: Closure, turns: np.ndarray) -> np.ndarray:
    """(poses, joints) how far the two links of each joint differ on where its pin is."""
    shifts, e = closure.shifts(turns), np.exp(1j * turns)
    pins = as_complex(pin.at for pin in project.pivots)
    columns = [
        shifts[:, j.first] + e[:, j.first] * pins[j.pivot] - shifts[:, j.second] - e[:, j.second] * pins[j.pivot]
        for j in closure.joints
    ]
    return np.stack(columns, axis=1)


@pytest.mark.parametrize("name", JOINED)
def test_links_keep_the_pins_of_the_walk_and_the_residual_is_what_parts_at_the_others(name: str) -> None:
    project = JOINED[name]
    closure = build(project)
    turns = some_turns(closure)
    apart = claims(project, closure, turns)
    walked = [joint for _, _, joint in closure.walk.steps]
    assert np.abs(apart[:, walked]).max(initial=0.0) < 1e-11
    assert closure.residual(turns) == pytest.approx(apart[:, list(closure.walk.closing)], rel=0, abs=1e-11)


@pytest.mark.parametrize("seed", PLAIN[:6])
def test_shut_closes(seed: int) -> None:
    closure = build(plain(seed))
    assert np.abs(closure.residual(np.zeros((1, len(closure.links))))).max() < 1e-12 * closure.size


def test_the_residual_is_linear_in_the_turn_factors() -> None:
    """Along one link's turn φ it is A + B·exp(iφ): two poses tell every other."""
    closure = build(specimens.demo_six_bar)
    turns = some_turns(closure, poses=4)
    turns[:] = turns[0]
    link = closure.links.index("cross link")
    turns[:, link] = (0.0, 1.0, 2.0, -0.7)
    residual, factor = closure.residual(turns), np.exp(1j * turns[:, link])
    slope = (residual[1] - residual[0]) / (factor[1] - factor[0])
    for k in (2, 3):
        assert residual[k] == pytest.approx(residual[0] + slope * (factor[k] - factor[0]), rel=0, abs=1e-11)
    assert np.abs(slope).max() > 10.0


@pytest.mark.parametrize("project", [specimens.demo_six_bar, specimens.ternary_pin, plain(PLAIN[3])])
def test_turning_shifting_and_growing_the_drawing(project: Project) -> None:
    """Loops turn and grow with the drawing and don't see a shift; the places of shut points follow it."""
    turn, shift = 25.4 * np.exp(0.7j), 3e3 - 2e3j
    here, there = build(project), build(mapped(project, complex(turn), complex(shift)))
    turns = some_turns(here)
    assert there.size == pytest.approx(25.4 * here.size, rel=1e-12)
    assert there.residual(turns) == pytest.approx(turn * here.residual(turns), rel=0, abs=1e-9)
    points = np.full(len(here.links), 40.0 - 15.0j)
    e = np.exp(1j * turns)
    seen = there.shifts(turns) + e * (turn * points + shift)
    assert seen == pytest.approx(turn * (here.shifts(turns) + e * points) + shift, rel=0, abs=1e-8)


def test_far_from_the_origin_no_digits_are_lost() -> None:
    far = build(mapped(specimens.four_bar_a1, shift=9e4 - 9e4j))
    near = build(specimens.four_bar_a1)
    turns = some_turns(near)
    assert far.residual(turns) == pytest.approx(near.residual(turns), rel=0, abs=1e-10)


def test_what_is_not_joined_to_the_fixed_link_keeps_its_shut_place() -> None:
    closure = build(specimens.unjoined_panel)
    assert not closure.reached[closure.panel]
    assert closure.group[closure.panel] == 0
    assert np.all(closure.shifts(some_turns(closure))[:, closure.panel] == 0.0)


def test_the_walk_takes_what_is_nearest_to_the_base_first() -> None:
    closure = build(specimens.demo_six_bar)
    column = {name: k for k, name in enumerate(closure.links)}
    assert closure.parent[column["arm"]] == column["bulkhead"]
    assert closure.parent[column["short link"]] == column["bulkhead"]
    assert closure.parent[column["hatch"]] == column["arm"]
    assert closure.parent[column["bulkhead"]] == -1
    assert len(closure.walk.steps) == len(closure.links) - 1
    assert len(closure.walk.closing) == len(closure.joints) - len(closure.walk.steps)


def test_a_pin_of_three_links_is_two_joints() -> None:
    closure = build(specimens.ternary_pin)
    assert [joint.pivot for joint in closure.joints].count(3) == 2


def test_a_walk_may_begin_anywhere_and_sees_only_its_part() -> None:
    closure = build(specimens.hanging_link)
    count = len(closure.links)
    walk = walk_from(closure.panel, count, closure.joints)
    assert walk.reached.all()
    alone = walk_from(closure.panel, count, ())
    assert np.flatnonzero(alone.reached).tolist() == [closure.panel]
    assert own_groups(alone).max() == 0


def test_maps_are_linear_in_the_joints_places_on_either_link() -> None:
    closure = build(specimens.watt_a21)
    dice = np.random.default_rng(5)
    a, b, c, d = dice.normal(size=(4, len(closure.joints))) + 1j * dice.normal(size=(4, len(closure.joints)))
    one, other = maps(closure.walk, closure.joints, a, b), maps(closure.walk, closure.joints, c, d)
    both = maps(closure.walk, closure.joints, a + 2j * c, b + 2j * d)
    for whole, x, y in zip(both, one, other, strict=True):
        assert whole == pytest.approx(x + 2j * y, rel=0, abs=1e-12)


def test_links_that_turn_as_one_have_one_column() -> None:
    closure = build(specimens.four_bar_a1)
    column = {name: k for k, name in enumerate(closure.links)}
    group = closure.group.copy()
    group[column["coupler"]] = group[column["crank"]]
    held = closure.with_groups(np.unique(group, return_inverse=True)[1].astype(np.intp))
    assert held.unknowns == closure.unknowns - 1
    turns = held.link_turns(np.array([[0.3, -0.2]]))
    assert turns[0, column["coupler"]] == turns[0, column["crank"]]
    e = np.exp(1j * np.array([0.0, 0.3, -0.2]))
    assert held.grouped_loops() @ e == pytest.approx(closure.residual(turns)[0], rel=0, abs=1e-12)


def test_loops_that_say_nothing_are_left_out() -> None:
    """Two links pinned to the same two pins close a loop that always holds once they turn as one."""
    project = hinge(
        "ground panel brace",
        {"A": (0j, "ground panel"), "B": (80 + 20j, "panel brace"), "C": (30 + 50j, "panel brace")},
    )
    closure = build(project)
    assert closure.lively.all()
    assert not closure.with_groups(np.array([0, 1, 1])).lively.any()
