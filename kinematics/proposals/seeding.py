"""Seeds: candidates that are worth opening, made backwards from where the panel should go.

First *courses* of the panel alone, with no link at all: where its rear corner is midway and at full opening, and
smoothly between. Those that clear the body and keep the limits are kept. Then links that lead the panel along such a
course (`leading.py`): of each link's two pins one is drawn by lot, the other follows from three poses. Of several such
candidates the one whose pins lie best is handed on.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from kinematics.dyads import Poses
from kinematics.proposals.chains import FIXED, PANEL
from kinematics.proposals.leading import led
from kinematics.proposals.scoring import course_misses, outside

if TYPE_CHECKING:
    from kinematics.arrays import Complexes
    from kinematics.proposals.chains import Chain
    from kinematics.proposals.problem import Problem

COURSES = 1000
"""Courses of the panel that are drawn by lot, …"""
KEPT = 150
"""… and how many of them are kept, the best."""
TURN_SHARE = 1.6
"""Links that are swung turn by up to this share of the panel's turn, and more, either way."""
LOTS = 5
"""So many seeds are made for each that is handed on: those whose pins lie best."""
FARTHEST = 2.2
"""Seeds with a pin further from the rear edge, in sizes of a hinge, are left out."""


def courses(problem: Problem, random: np.random.Generator) -> Complexes:
    """(2, n) displacements (mm) of the panel's rear corner midway and at full opening, best first."""
    frame, size = problem.frame, problem.size
    ahead = frame.ahead
    up = 1j * ahead * frame.sign
    full = _lot(random, COURSES, (-0.3, 1.6), (-0.4, 1.4)) * size
    half = 0.5 * full + _lot(random, COURSES, (-0.5, 0.5), (-0.4, 0.6)) * size
    drawn = np.stack([half, full])
    drawn = drawn.real * ahead + drawn.imag * up
    cost = course_misses(problem, _along(problem, drawn))
    best = np.argsort(cost, kind="stable")[:KEPT]
    return np.asarray(drawn[:, best])


def _lot(random: np.random.Generator, count: int, wide: tuple[float, float], high: tuple[float, float]) -> Complexes:
    return np.asarray(random.uniform(*wide, count) + 1j * random.uniform(*high, count))


def _along(problem: Problem, drawn: Complexes) -> Complexes:
    """(poses, n) shifts of the panel whose rear corner runs through three places on a parabola."""
    share = np.linspace(0.0, 1.0, len(problem.openings))[:, None]
    half, full = drawn
    corner = 4.0 * share * (1.0 - share) * half + share * (2.0 * share - 1.0) * full
    return np.asarray(corner + (1.0 - np.exp(1j * problem.openings))[:, None] * problem.frame.origin)


def seeds(
    problem: Problem, chain: Chain, drawn: Complexes, count: int, random: np.random.Generator
) -> tuple[Complexes, Complexes]:
    """Candidates for a chain: pins (pins, n), and which pins stay where they are (pins, n) as their places or nan."""
    wanted, count = count, LOTS * count
    held = _held(problem, chain, count, random)
    first = np.where(np.isnan(held.real), _anywhere(problem, chain, count, random), held)
    if not chain.loops:
        return first[:, :wanted], held[:, :wanted]
    course = drawn[:, (len(drawn[0]) * random.uniform(size=count) ** 1.5).astype(int)]
    span = TURN_SHARE * abs(float(problem.openings[-1]))
    pins, found = led(chain, _panel(problem, course), first, np.isnan(held.real), span, random)
    away = np.abs(pins - problem.frame.origin).max(axis=0)
    near = np.flatnonzero(found & (away < FARTHEST * problem.size))
    best = near[np.argsort(outside(problem, chain, pins[:, near]), kind="stable")[:wanted]]
    return pins[:, best], held[:, best]


def _panel(problem: Problem, course: Complexes) -> Poses:
    """(n, 3) poses of the panel: shut, midway and at full opening."""
    share = np.linspace(0.0, 1.0, len(problem.openings))
    turns = np.interp((0.0, 0.5, 1.0), share, problem.openings)
    corner = np.concatenate([np.zeros((1, course.shape[1])), course])
    shifts = corner + (1.0 - np.exp(1j * turns))[:, None] * problem.frame.origin
    return Poses(shifts.T, np.broadcast_to(turns, (course.shape[1], 3)))


def _anywhere(problem: Problem, chain: Chain, count: int, random: np.random.Generator) -> Complexes:
    """(pins, n) places by lot: in the zones where there are some, else in the cavity, else about the rear edge."""
    if problem.cavity is not None:
        pins = np.stack([problem.cavity.lot(count, random) for _ in chain.pins])
    else:
        seen = _lot(random, len(chain.pins) * count, (-0.1, 1.1), (-1.0, 0.15)).reshape(-1, count)
        seen = seen if problem.frame.sign > 0 else seen.conj()
        pins = problem.frame.origin + problem.size * problem.frame.ahead * seen
    for link, zones in zip((FIXED, PANEL), problem.zones, strict=True):
        if zones:
            for pin in chain.on(link):
                pins[pin] = zones[int(random.integers(len(zones)))].lot(count, random)
    return np.asarray(pins)


def _held(problem: Problem, chain: Chain, count: int, random: np.random.Generator) -> Complexes:
    """(pins, n) the places of locked pins, given to pins of their link by lot; nan where a pin is free."""
    held = np.full((len(chain.pins), count), complex(np.nan, np.nan))
    groups = (chain.on(FIXED), chain.on(PANEL), chain.between)
    for group, locked in zip(groups, problem.locked, strict=True):
        mine = list(group)
        order = np.argsort(random.uniform(size=(len(mine), count)), axis=0)
        for place, pivot in enumerate(locked):
            for candidate_pin, pin in enumerate(mine):
                held[pin, order[place] == candidate_pin] = complex(*pivot.at)
    return held
