"""What moves, what hangs free, what is locked: every specimen by hand, then trusses, floppy loops, parts apart."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import kinematics
from kinematics.closure import build
from kinematics.mobility import freedom, jacobian, null_space, shut_tangent
from kinematics.project import Link, Pivot, Project
from tests import specimens
from tests.kinematics.making import PLAIN, four_bar, mapped, plain, residual_mm
from tests.specimens import hinge

# mobility, state, links that hang free, links not joined; counted by hand
BY_HAND: dict[str, tuple[int, str, set[str], set[str]]] = {
    "single_pivot": (1, "moves", set(), set()),
    "four_bar_a1": (1, "moves", set(), set()),
    "parallelogram": (1, "slides", set(), set()),
    "change_point": (1, "moves", set(), set()),
    "locked_triangle": (0, "locked", set(), set()),
    "demo_six_bar": (1, "moves", set(), set()),
    "watt_a21": (1, "moves", set(), set()),
    "three_parallel_cranks": (1, "slides", set(), set()),
    "shaky_cranks": (0, "locked", set(), set()),
    "peaucellier": (1, "moves", set(), set()),
    "stephenson_iii": (1, "moves", set(), set()),
    "ternary_pin": (1, "moves", set(), set()),
    "twin_arms": (1, "slides", set(), set()),
    "hanging_link": (2, "moves", {"stay"}, set()),
    "unjoined_panel": (4, "loose", set(), {"hatch"}),
    "loose_chain": (2, "loose", set(), set()),
    "half_drawn": (7, "loose", {"arm"}, {"lid", "loose"}),
    "empty": (3, "loose", set(), {"lid"}),
    "with_everything": (4, "moves", set(), {"spare"}),
}


@pytest.mark.parametrize("name", BY_HAND)
def test_specimens_move_as_counted_by_hand(name: str) -> None:
    free = freedom(specimens.ALL[name])
    mobility, state, hanging, unjoined = BY_HAND[name]
    assert (free.mobility, free.state, set(free.unjoined)) == (mobility, state, unjoined)
    if state in ("moves", "slides"):
        assert set(free.free) == hanging


@pytest.mark.parametrize("seed", PLAIN[:8])
def test_plain_linkages_move_wherever_they_are_drawn(seed: int) -> None:
    project = plain(seed)
    here = freedom(project)
    there = freedom(mapped(project, 0.01 * np.exp(2.1j), 5e3 + 1e3j))
    assert here.state == "moves"
    assert (here.mobility, here.state, here.free) == (there.mobility, there.state, there.free)
    assert np.array_equal(here.closure.group, there.closure.group)


def joined_between(project: Project, first: str, last: str, links: int) -> Project:
    """A chain of links hung between two links of a project, by pins at will."""
    names = [f"chain {k}" for k in range(links)]
    places = [(120.0 + 35.0 * k, 150.0 + 20.0 * (-1) ** k) for k in range(links + 1)]
    joins = zip([first, *names], [*names, last], strict=True)
    pins = (Pivot(f"J{k}", at, pair) for k, (at, pair) in enumerate(zip(places, joins, strict=True)))
    return replace(project, links=(*project.links, *(Link(name) for name in names)), pivots=(*project.pivots, *pins))


def test_a_dyad_between_two_moving_links_has_no_motion_of_its_own() -> None:
    free = freedom(joined_between(specimens.four_bar_a1, "coupler", "rocker", 2))
    assert (free.mobility, free.state, free.free) == (1, "moves", ())


@pytest.mark.parametrize("links", [3, 4, 5])
def test_a_floppy_chain_between_two_moving_links_does_not_stop_the_rest(links: int) -> None:
    """Each link beyond a dyad is one motion more. The chain is named and closes at every pose."""
    project = joined_between(specimens.four_bar_a1, "coupler", "rocker", links)
    free = freedom(project)
    assert (free.mobility, free.state) == (links - 1, "moves")
    assert set(free.free) == {f"chain {k}" for k in range(links)}
    analysis, alone = kinematics.analyse(project), kinematics.analyse(specimens.four_bar_a1)
    assert residual_mm(analysis) < 1e-9
    if analysis.opening.reached_deg == alone.opening.reached_deg:
        assert analysis.turns[:, :4] == pytest.approx(alone.turns, rel=0, abs=1e-9)
    assert analysis.opening.reached_deg > 5.0


def test_what_hangs_free_turns_with_the_link_it_hangs_on() -> None:
    analysis = kinematics.analyse(specimens.hanging_link)
    stay, rocker = (analysis.links.index(name) for name in ("stay", "rocker"))
    assert analysis.turns[:, stay] == pytest.approx(analysis.turns[:, rocker], rel=0, abs=1e-15)


def test_links_joined_only_among_themselves_count_with_their_own_motion() -> None:
    """Two links pinned together and to nothing else: three motions of the part and one within it."""
    project = replace(
        specimens.four_bar_a1,
        links=(*specimens.four_bar_a1.links, Link("one"), Link("other")),
        pivots=(*specimens.four_bar_a1.pivots, Pivot("S", (300.0, 0.0), ("one", "other"))),
    )
    free = freedom(project)
    assert (free.mobility, free.state, set(free.unjoined)) == (5, "moves", {"one", "other"})


def test_a_link_that_only_shifts_does_move() -> None:
    """The coupler of a parallelogram never turns; it isn't told as one that can't move."""
    free = freedom(specimens.change_point)
    assert free.still == ()


def test_links_that_a_truss_holds_to_the_ground_are_still() -> None:
    base = specimens.four_bar_a1
    project = replace(
        base,
        links=(*base.links, Link("post"), Link("strut")),
        pivots=(
            *base.pivots,
            Pivot("G1", (-50.0, 0.0), ("ground", "post")),
            Pivot("G2", (-90.0, 10.0), ("ground", "strut")),
            Pivot("G3", (-60.0, 80.0), ("post", "strut")),
        ),
    )
    free = freedom(project)
    assert (free.mobility, free.state) == (1, "moves")
    assert set(free.still) == {"post", "strut"}
    fixed = free.closure.group[free.closure.fixed]
    assert [int(free.closure.group[free.closure.links.index(name)]) for name in ("post", "strut")] == [fixed, fixed]


def braced_lid(slim: float) -> Project:
    """A lid on one pin that carries a truss; the slimmer it is, the worse its own loop is conditioned."""
    return hinge(
        "body lid brace strut",
        {
            "A": (0j, "body lid"),
            "B": (50.0 + 10.0j, "lid brace"),
            "C": (50.0 + 10.0j + slim, "lid strut"),
            "D": (260.0 + 90.0j, "brace strut"),
        },
        wanted_deg=120.0,
    )


@pytest.mark.parametrize("slim", [30.0, 1.0, 0.03])
def test_a_truss_turns_as_one_and_costs_no_knots(slim: float) -> None:
    free = freedom(braced_lid(slim))
    group = free.closure.group
    assert len({int(group[free.closure.links.index(name)]) for name in ("lid", "brace", "strut")}) == 1
    analysis = kinematics.analyse(braced_lid(slim))
    assert analysis.opening.reached_deg == 120.0
    assert len(analysis.sweep.branch.arcs) < 40
    assert residual_mm(analysis) < 1e-9


def test_cranks_that_turn_alike_are_no_truss() -> None:
    """The cranks of a parallelogram turn by the same, about different pins: they part at a fork, so each is asked."""
    free = freedom(specimens.change_point)
    assert free.closure.unknowns == 3


def test_two_pins_between_the_same_links_lock_them() -> None:
    free = freedom(hinge("body lid", {"A": (0j, "body lid"), "B": (80.0 + 5.0j, "body lid")}))
    assert (free.mobility, free.state) == (0, "locked")


@pytest.mark.parametrize("apart", [0.0, 1e-12])
def test_two_pins_in_one_place_are_one(apart: float) -> None:
    """Apart by no more than rounding leaves: the lid turns, as the arm on it does."""
    pins = {"A": (10.0 + 0j, "body lid"), "B": (10.0 + apart + 0j, "body lid"), "C": (90.0 + 40.0j, "lid arm")}
    free = freedom(hinge("body lid arm", pins))
    assert (free.mobility, free.state, free.free) == (2, "moves", ("arm",))


def test_the_jacobian_is_the_residuals_derivative() -> None:
    """Central differences, in all unknowns; halving the step quarters the error."""
    closure = build(specimens.demo_six_bar)
    turns = np.random.default_rng(2).uniform(-0.5, 0.5, closure.unknowns)
    loops = closure.grouped_loops()

    def closing(y: np.ndarray) -> np.ndarray:
        z = loops[:, 1:] @ np.exp(1j * y) + loops[:, 0]
        return np.concatenate([z.real, z.imag])

    def differences(step: float) -> np.ndarray:
        unit = step * np.eye(closure.unknowns)
        return np.stack([(closing(turns + row) - closing(turns - row)) / (2 * step) for row in unit], axis=1)

    exact = jacobian(closure, turns)
    coarse, fine = (np.abs(differences(step) - exact).max() for step in (2e-3, 1e-3))
    assert coarse / fine == pytest.approx(4.0, rel=0.01)
    assert fine < 1e-4


def test_the_shut_tangent_moves_no_loop_and_is_a_unit() -> None:
    closure = freedom(specimens.watt_a21).closure
    tangent = shut_tangent(closure)
    assert np.linalg.norm(tangent) == pytest.approx(1.0, abs=1e-12)
    assert np.abs(jacobian(closure, np.zeros(closure.unknowns)) @ tangent).max() < 1e-11 * closure.size


def test_null_spaces_of_nothing() -> None:
    assert null_space(np.zeros((0, 3)), 1.0).shape == (3, 3)
    assert null_space(np.zeros((4, 0)), 1.0).shape == (0, 0)
    assert null_space(np.eye(3), 1.0).shape == (3, 0)


def test_a_panel_at_its_dead_point_when_shut_slides_at_first() -> None:
    """Crank and coupler in line at shut: the rocker can't turn at first, in either direction."""
    project = four_bar((40.0, 120.0, 80.0, 100.0), 24.14684800)
    assert abs(shut_tangent(freedom(project).closure)[0]) < 1e-6
