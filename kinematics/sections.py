"""Sections of a link's plate: what pulls, pushes and bends it between the places where forces are put on it.

A *band* is the plate of a link with a width: the convex hull of its pins with half the width around it. Its *way* is
from one of its two pins that are furthest apart to the other. Cut across the way, the plate shows a *section*: it has a
height (the cut's length) and a middle. What all forces on one side of the cut come to is an axial force along the way
and a moment about the section's middle, in the link's own plane. Both are linear in the forces, whose places don't
change in the link's own frame: so every cut is worked out once, and all poses at once by it.

A straight link with a force at either end, along the pins, has no moment anywhere. A bowed link, or one with three
pins, or with a strut on it, has. The cuts that matter stand just before and just behind each force, since between them
the moment goes in a straight line; where the height changes on the way, some more are made.

Source: internal forces by the method of sections, any text on statics (from memory).
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats, Ints

ASIDE = 1e-6
"""A cut before or behind a force stands so far from it, as a share of the way."""
BETWEEN = 4
"""Cuts between two forces, for the height that changes."""


NO_WAY = 1e-9
"""Pins nearer than this (mm) along the way have no line between them."""


@dataclass(frozen=True, slots=True, eq=False)
class Cuts:
    """The cuts across a band, m of them, for k places at which forces are put on it.

    heights : (m,) mm, holes taken off.   axial : (m, k) complex: Re(Σ conj(row)·force) is the pull (N) at the cut.
    bending : (m, k) complex, mm: Re(Σ conj(row)·force) is the moment (N·mm, anticlockwise).   before : (m, k) whether
    the place lies before the cut, for couples put on it.
    """

    heights: Floats
    axial: Complexes
    bending: Complexes
    before: Floats

    @property
    def by_pull(self) -> Floats:
        """(m,) stress times the plates' thickness (N/mm) that a pull of 1 N brings; 0 where nothing is left to pull."""
        return np.asarray(1.0 / np.where(self.heights > 0.0, self.heights, np.inf))

    @property
    def by_moment(self) -> Floats:
        """(m,) the same that a moment of 1 N·mm brings."""
        return np.asarray(6.0 * self.by_pull**2)

    @property
    def gone(self) -> list[int]:
        """The cuts at which nothing of the plate is left."""
        return np.flatnonzero(self.heights <= 0.0).tolist()

    @property
    def stressing(self) -> Complexes:
        """(2, m, k) complex: |Re(Σ conj(row)·force)| of both add up to the stress, times the plates' thickness."""
        return np.stack([self.axial * self.by_pull[:, None], self.bending * self.by_moment[:, None]])

    def pulls(self, forces: Complexes) -> Floats:
        """(n, k) forces in the link's frame, N → (n, m) pull along the way, N; negative: pushed."""
        return np.asarray((forces @ self.axial.conj().T).real)

    def moments(self, forces: Complexes, couples: Floats) -> Floats:
        """(n, k) forces, N, and couples, N·mm → (n, m) moment about each section's middle."""
        return np.asarray((forces @ self.bending.conj().T).real + couples @ self.before.T)


def cuts_of(pins: Complexes, holes: Floats, width: float, others: Complexes) -> Cuts | None:
    """The cuts of a band; None where its pins stand on one place.

    pins : (p,) complex mm, in the link's frame.   holes : (p,) their diameters.   others : (q,) further places at which
    forces are put on it; the places of the cuts' columns are the pins and then these.
    """
    apart = [(abs(b - a), -i, -j) for (i, a), (j, b) in itertools.combinations(enumerate(pins.tolist()), 2)]
    long, tail, head = max(apart, default=(0.0, 0, 0))
    tail, head = -tail, -head
    if long <= 0.0:
        return None
    way = (pins[head] - pins[tail]) / long
    points = np.concatenate([pins, others])
    local = (points - pins[tail]) * np.conj(way)
    if len(points) == 2:  # a straight link with nothing on it but its pins: the same all along
        ends = np.where(local.real < 0.5 * long, -way, 0.0)[None, :]
        return Cuts(np.array([width]), ends, np.zeros((1, 2), dtype=np.complex128), np.zeros((1, 2)))
    places = _places(local.real, long)
    low, high = _sides((pins - pins[tail]) * np.conj(way), places, 0.5 * width)
    middle = places + 0.5j * (low + high)
    before = local.real[None, :] < places[:, None]
    # On the part before the cut: pull at the cut = −Σ along, moment on the rest about the middle = Σ (p − c) × F.
    axial = np.where(before, -way, 0.0)
    arms = (local[None, :] - middle[:, None]) * way
    bending = np.where(before, 1j * arms, 0.0)
    return Cuts(high - low - _holes_at(local[: len(pins)].real, holes, places, long), axial, bending, before * 1.0)


def _places(along: Floats, long: float) -> Floats:
    """Where to cut: on both sides of every force, and some places between, none beyond the outermost pins."""
    stops = sorted({min(max(place, 0.0), long) for place in along.tolist()})
    step = ASIDE * long
    found = [stop + side for stop in stops for side in (-step, step)]
    for low, high in itertools.pairwise(stops):
        found += [low + (high - low) * part / (BETWEEN + 1) for part in range(1, BETWEEN + 1)]
    return np.array(sorted(place for place in found if 0.0 < place < long))


def _sides(pins: Complexes, places: Floats, radius: float) -> tuple[Floats, Floats]:
    """(m,) and (m,) the lower and the upper side of the band at places on the way.

    Each is the outermost of the circles about the pins and of the lines that touch two of them on that side; the lower
    side is the upper one of the band's mirror image.
    """
    first, second = _pairs(len(pins))
    pins = pins[np.argsort(pins.real)]
    both = np.stack([pins, pins.conj()])
    span = both[:, second] - both[:, first]
    starts = both[:, first] + 1j * radius * span / np.maximum(np.abs(span), NO_WAY)
    share = (places[:, None] - starts.real[:, None]) / np.maximum(span.real, NO_WAY)[:, None]
    lines = np.where(np.abs(share - 0.5) <= 0.5, starts.imag[:, None] + share * span.imag[:, None], -np.inf)
    square = radius**2 - (places[:, None] - pins.real) ** 2
    circles = np.where(square >= 0.0, both.imag[:, None] + np.sqrt(np.maximum(square, 0.0)), -np.inf)
    low, high = -np.maximum(lines.max(axis=2), circles.max(axis=2))[::-1]
    return low, -high


@lru_cache(maxsize=16)
def _pairs(count: int) -> tuple[Ints, Ints]:
    """The two of every pair of pins, the first one first."""
    first, second = np.triu_indices(count, 1)
    return first, second


def _holes_at(along: Floats, holes: Floats, places: Floats, long: float) -> Floats:
    """(m,) what the holes between the ends take off each section's height."""
    inner = (along > ASIDE * long) & (along < (1.0 - ASIDE) * long)
    hit = np.abs(places[:, None] - along[None, :]) < 0.5 * holes[None, :]
    return np.asarray(np.where(hit & inner[None, :], holes[None, :], 0.0).max(axis=1, initial=0.0))
