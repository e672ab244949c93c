"""Dyads: whatever leads a body through its poses is found, in numbers at once, and nothing that doesn't."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

import kinematics
from kinematics.dyads import (
    FourBars,
    Poses,
    bisector,
    cognates,
    five_poses,
    fixed_points,
    four_poses,
    lengths,
    moving_points,
    pole,
    pole_triangle,
)
from kinematics.project import Link
from tests import specimens

if TYPE_CHECKING:
    from kinematics.project import Project


def led(count: int, poses: int, span: float, seed: int = 3) -> tuple[Poses, np.ndarray, np.ndarray]:
    """Bodies that a known link leads: their poses, the first being shut, and the link's moving and fixed points."""
    random = np.random.default_rng(seed)

    def spread() -> np.ndarray:
        return np.asarray(random.normal(size=count) + 1j * random.normal(size=count)) * 100.0

    moving, fixed = spread(), spread()
    turns, cranks = (random.uniform(-span, span, (count, poses)) for _ in range(2))
    turns[:, 0] = cranks[:, 0] = 0.0
    places = fixed[:, None] + (moving - fixed)[:, None] * np.exp(1j * cranks)
    return Poses(places - np.exp(1j * turns) * moving[:, None], turns), moving, fixed


def test_places_and_views() -> None:
    """A body seen from another one, and that one from it: what is one point stays one point."""
    poses, moving, _ = led(6, 4, 1.0)
    other, point, _ = led(6, 4, 1.0, seed=8)
    seen = poses.seen_from(other)
    on_other = seen.places(moving)
    assert np.abs(other.shifts + other.e * on_other - poses.places(moving)).max() < 1e-12 * 1e3
    assert np.abs(seen.swapped().places(point) - other.seen_from(poses).places(point)).max() < 1e-12 * 1e3
    again = poses.swapped().swapped()
    assert np.abs(again.shifts - poses.shifts).max() < 1e-12 * 1e3


def test_a_pole_stays_where_it_is() -> None:
    poses, _, _ = led(50, 2, 2.0)
    at, there = pole(poses)
    assert there.all()
    of_body = poses.pick(0).swapped().places(at)[:, 0]
    assert np.abs(poses.places(of_body) - at[:, None]).max() < 1e-8  # turns of 1e-3 among them: 1e3 times the rounding


def test_no_pole_triangle_where_one_move_doesnt_turn() -> None:
    _, there = pole_triangle(Poses(np.array([0, 5 + 1j, 9 - 2j]), np.array([0.0, 0.0, 0.4])))
    assert there.tolist() == [False, True, True]


def test_a_point_that_stays_has_every_bisector() -> None:
    poses = Poses(np.array([0j, 1 - 1j]), np.array([0.0, math.pi / 2]))
    at, _ = pole(poses)
    middle, along = bisector(poses, at)
    assert abs(middle - at) < 1e-12
    assert abs(along) in (0.0, pytest.approx(1.0))


@pytest.mark.parametrize("span", [0.02, 0.5, 3.0])
def test_three_poses_both_ways_round(span: float) -> None:
    """Ten thousand at once: from the moving point to the fixed one and back."""
    poses, moving, fixed = led(10_000, 3, span)
    there, back = fixed_points(poses, moving), moving_points(poses, fixed)
    good = there.found & back.found
    assert good.mean() > 0.98  # some of the shortest ways are straight to FLAT
    # places known to 1e-13 of 300 mm; the middle of a shallow arc is surer the more of the circle it is
    sure = good & (
        np.abs(poses.places(moving) - moving[:, None]).min(axis=1, where=[False, True, True], initial=9e9) > 1
    )
    assert np.abs(there.middle - fixed)[sure].max() < 1e-4
    assert np.median(np.abs(there.middle - fixed)[sure]) < 1e-9
    assert np.median(np.abs(back.middle - moving)[sure]) < 1e-9
    assert np.median(np.abs(there.radius - np.abs(moving - fixed))[sure]) < 1e-9


def test_places_that_coincide_settle_no_circle() -> None:
    """A pose given twice, or a point in the pole of all three: neither a circle nor a slider."""
    twice = fixed_points(Poses(np.array([0j, 0j, 5 + 1j]), np.array([0.0, 0.0, 0.4])), 3 + 2j)
    still = fixed_points(Poses(np.zeros(3, dtype=complex), np.array([0.0, 0.3, 0.9])), 0j)
    for nothing in (twice, still):
        assert not nothing.found
        assert not nothing.slider
        assert nothing.middle == nothing.radius == 0.0


@pytest.mark.parametrize("span", [0.3, 1.0, 3.0])
def test_five_poses_find_the_link_that_led_the_body(span: float) -> None:
    """Two thousand bodies: the known link is among what is found, there are 0, 2 or 4, all different, and all lead."""
    poses, moving, fixed = led(2000, 5, span)
    dyads = five_poses(poses)
    miss = np.abs(dyads.moving - moving[:, None]) + np.abs(dyads.fixed - fixed[:, None])
    assert np.where(dyads.found, miss, np.inf).min(axis=1).max() < 1e-5  # the worst conditioned of 6000: 1e-8 is usual
    assert set(dyads.found.sum(axis=1)) == {2, 4}
    each = Poses(poses.shifts[:, None], poses.turns[:, None])
    spread = np.ptp(lengths(each, dyads.moving, dyads.fixed), axis=-1)[dyads.found]
    assert np.median(spread) < 1e-11
    apart = np.abs(dyads.moving[:, :, None] - dyads.moving[:, None, :]) + np.eye(4)
    both = dyads.found[:, :, None] & dyads.found[:, None, :]
    assert apart[both].min() > 1e-5


def test_four_poses_find_the_link_that_led_the_body() -> None:
    many, moving, fixed = led(60, 4, 1.5)
    for k in range(60):
        poses = Poses(many.shifts[k], many.turns[k])
        own = np.angle((poses.places(moving[k])[1] - fixed[k]) / (moving[k] - fixed[k]))
        pairs = four_poses(poses, own).pairs()
        assert min(abs(m - moving[k]) + abs(f - fixed[k]) for m, f in pairs) < 1e-6


def test_what_cant_be_answered_gives_nothing_and_no_warning() -> None:
    """Bodies that don't turn, poses given twice, no motion at all: no pair, no NaN."""
    straight = Poses(np.array([0, 10, 20 + 5j, 30 - 4j, 8j]), np.zeros(5))
    twice = Poses(np.array([0, 10, 20 + 5j, 30 - 4j, 30 - 4j]), np.array([0.0, 0.3, 0.5, 0.9, 0.9]))
    still = Poses(np.zeros(5, dtype=complex), np.zeros(5))
    for poses in (straight, twice, still):
        dyads = five_poses(poses)
        assert np.isfinite(dyads.moving).all()
        assert np.isfinite(dyads.fixed).all()
        for m, f in dyads.pairs():
            assert np.ptp(lengths(poses, m, f)) < 1e-6
    for poses in (straight, still):
        assert four_poses(poses.pick(0, 1, 2, 3), np.linspace(0.0, 6.0, 7)).pairs() == ()


def test_poses_of_every_special_kind_give_numbers_and_true_dyads() -> None:
    """Whole mm and quarter turns, poses given twice, bodies that only turn or slide, or hang on one pin: 600 in all."""
    random = np.random.default_rng(0)
    shifts = random.integers(-3, 4, (600, 5)) + 1j * random.integers(-3, 4, (600, 5))
    turns = random.choice([0.0, math.pi / 2, math.pi, -math.pi / 2, 0.3], (600, 5))
    turns[1::6] = turns[1::6, :1]
    shifts[2::6] = shifts[2::6, :1]
    shifts[3::6, 3], turns[3::6, 3] = shifts[3::6, 2], turns[3::6, 2]
    shifts[4::6] = (2 + 1j) * (1.0 - np.exp(1j * turns[4::6]))
    turns[5::6] = 0.0
    dyads = five_poses(Poses(shifts, turns))
    assert np.isfinite(dyads.moving).all()
    assert np.isfinite(dyads.fixed).all()
    assert dyads.found.any()
    for k in range(600):
        poses = Poses(shifts[k], turns[k])
        along = four_poses(poses.pick(0, 1, 2, 3), np.linspace(0.0, 6.0, 5))
        assert np.isfinite(along.moving).all()
        for m, f in zip(dyads.moving[k][dyads.found[k]], dyads.fixed[k][dyads.found[k]], strict=True):
            far = lengths(poses, m, f)
            assert np.ptp(far) <= 1e-9 * (1.0 + far.max())


# ------------------------------------------------------------------------------------------------------------- cognates
def as_project(bar: FourBars, panel: str) -> Project:
    """The four-bar as the program takes it, any link of it being the panel."""
    links = tuple(Link(name, "panel" if name == panel else "link") for name in ("crank", "coupler", "rocker"))
    pins = {
        "base": (complex(bar.base), "ground crank"),
        "near": (complex(bar.near), "crank coupler"),
        "far": (complex(bar.far), "coupler rocker"),
        "other": (complex(bar.other), "rocker ground"),
    }
    project = specimens.hinge("ground crank coupler rocker", pins, wanted_deg=60.0)
    return replace(project, links=(project.fixed, *links))


def test_three_cognates_draw_one_curve() -> None:
    """A18 of checks.md by the program's own motion: crank, coupler and rocker of each turn as another's links do.

    The first cognate's coupler and the second one's rocker turn as the given crank does, so the three are compared at
    equal turns of these; 1e-8: residuals of 1e-9 mm, some lever beyond the pins.
    """
    project = specimens.four_bar_a1
    pins = {name: complex(*project.pivot(name).at) for name in ("O2", "A", "B", "O4")}
    point = pins["A"] + (0.6 + 0.5j) * (pins["B"] - pins["A"])
    given = FourBars(*(np.asarray(z) for z in (pins["O2"], pins["A"], pins["B"], pins["O4"], point)))
    three = cognates(given)
    assert [round(abs(complex(bar.near - bar.base)), 6) for bar in three] == [40.0, 93.722996, 76.837491]
    assert [round(abs(complex(bar.far - bar.near)), 6) for bar in three] == [120.0, 31.240999, 51.224994]
    assert [round(abs(complex(bar.far - bar.other)), 6) for bar in three] == [80.0, 62.481997, 25.612497]
    assert all(abs(complex(bar.other) - (60 + 50j)) < 1e-12 for bar in three[1:])
    paths = []
    for bar, driver in zip(three, ("crank", "coupler", "rocker"), strict=True):
        analysis = kinematics.analyse(as_project(bar, driver), steps=31)
        assert analysis.opening.reached_deg == 60.0
        k = analysis.links.index("coupler")
        paths.append(analysis.shifts[:, k] + np.exp(1j * analysis.turns[:, k]) * complex(bar.point))
    assert np.abs(paths[1] - paths[0]).max() < 1e-8
    assert np.abs(paths[2] - paths[0]).max() < 1e-8
    assert np.abs(np.diff(paths[0])).min() > 0.5
