"""Seeds: candidates that are worth opening, made backwards from where the panel should go.

First *courses* of the panel alone, with no link at all: where its rear corner is at half and at full opening, and
smoothly between. Those that clear the body and keep the limits are kept. Then links that carry the panel along such a
course. At an opening with known turns of all links, every loop's closure is *linear* in the places of the pins, and so
is the place of the panel: c·(e − 1) has the pins in c alone. So turns are drawn by lot at the two openings, and of all
sets of pins that fit them, the one nearest to a set drawn by lot is taken: a small linear system for each candidate.
This is the classical synthesis of dyads for three poses (the circle through three places of a point), written for all
chains at once; what it doesn't promise (the branch, and the way between the poses) the march finds out.

Source: the standard form of G. N. Sandor and A. G. Erdman, Advanced Mechanism Design, vol. 2, 1984 (from memory).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from kinematics.proposals.chains import FIXED, PANEL
from kinematics.proposals.scoring import course_misses, outside

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats
    from kinematics.proposals.chains import Chain
    from kinematics.proposals.problem import Problem

COURSES = 1000
"""Courses of the panel that are drawn by lot, …"""
KEPT = 150
"""… and how many of them are kept, the best."""
TURN_SHARE = 1.6
"""Links turn by up to this share of the panel's turn, and more, either way."""
LOTS = 5
"""So many seeds are made for each that is handed on: those whose pins lie best."""
FARTHEST = 2.2
"""Seeds with a pin further from the rear edge, in sizes of a hinge, are left out."""


def courses(problem: Problem, random: np.random.Generator) -> Complexes:
    """(2, n) displacements (mm) of the panel's rear corner at half and at full opening, best first."""
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
    openings = problem.openings[-1] * np.array([0.5, 1.0])
    units = np.exp(1j * _turns(chain, openings, count, random))
    pins = _fitted(problem, chain, first, held, units, course, openings)
    away = np.abs(pins - problem.frame.origin).max(axis=0)
    near = np.flatnonzero(np.isfinite(away) & (away < FARTHEST * problem.size))
    best = near[np.argsort(outside(problem, chain, pins[:, near]), kind="stable")[:wanted]]
    return pins[:, best], held[:, best]


def _turns(chain: Chain, openings: Floats, count: int, random: np.random.Generator) -> Floats:
    """(2, links, n) turns drawn by lot at half and at full opening."""
    full = openings[-1] * TURN_SHARE * random.normal(size=(chain.links, count))
    half = full * random.uniform(0.3, 0.7, size=full.shape)
    turns = np.stack([half, full])
    turns[:, FIXED] = 0.0
    turns[:, PANEL] = openings[:, None]
    return turns


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
    for link, locked in zip((FIXED, PANEL), problem.locked, strict=True):
        mine = list(chain.on(link))
        order = np.argsort(random.uniform(size=(len(mine), count)), axis=0)
        for place, pivot in enumerate(locked):
            for candidate_pin, pin in enumerate(mine):
                held[pin, order[place] == candidate_pin] = complex(*pivot.at)
    return held


def _fitted(
    problem: Problem,
    chain: Chain,
    first: Complexes,
    held: Complexes,
    units: Complexes,
    course: Complexes,
    openings: Floats,
) -> Complexes:
    """The pins nearest to `first` with which the loops close and the panel is on its course at both openings."""
    count = first.shape[1]
    rows, rights = [], []
    for pose, opening in enumerate(openings):
        for loop in chain.loops:
            row = np.zeros((len(chain.pins), count), dtype=np.complex128)
            for link, come, leave in loop:
                row[leave] += units[pose, link] - 1.0
                row[come] -= units[pose, link] - 1.0
            rows.append(row)
            rights.append(np.zeros(count, dtype=np.complex128))
        row = np.zeros((len(chain.pins), count), dtype=np.complex128)
        for link, pin, base in _way_to_panel(chain):
            row[pin] += units[pose, base] - units[pose, link]
        rows.append(row)
        rights.append(course[pose] + (1.0 - np.exp(1j * opening)) * problem.frame.origin)
    matrix = np.moveaxis(np.stack(rows), 2, 0)
    lack = np.stack(rights, axis=1) - np.einsum("nrp,pn->nr", matrix, first)
    free = np.where(np.isnan(held.real), 1.0, 1e-6).T
    weighed = matrix * free[:, None, :]
    gram = weighed @ np.conj(np.swapaxes(matrix, 1, 2))
    gram += 1e-10 * np.eye(gram.shape[1])
    moved = np.conj(np.swapaxes(weighed, 1, 2)) @ np.linalg.solve(gram, lack[..., None])
    fitted = first + moved[..., 0].T
    return np.where(np.isnan(held.real), fitted, held)


def _way_to_panel(chain: Chain) -> list[tuple[int, int, int]]:
    """The routes by which the panel hangs on the fixed link."""
    routes = {route[0]: route for route in chain.routes}
    way, link = [], PANEL
    while link != FIXED:
        way.append(routes[link])
        link = routes[link][2]
    return way
