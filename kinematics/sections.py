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

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats

ASIDE = 1e-6
"""A cut before or behind a force stands so far from it, as a share of the way."""
BETWEEN = 4
"""Cuts between two forces, for the height that changes."""


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
    apart = np.abs(pins[:, None] - pins[None, :])
    tail, head = np.unravel_index(int(np.argmax(apart)), apart.shape)
    long = float(apart[tail, head])
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
    stops = np.unique(np.clip(along, 0.0, long))
    step = ASIDE * long
    sides = np.concatenate([stops - step, stops + step])
    parts = np.linspace(0.0, 1.0, BETWEEN + 2)[1:-1]
    between = (stops[:-1, None] + np.diff(stops)[:, None] * parts).ravel()
    found = np.sort(np.concatenate([sides, between]))
    return found[(found > 0.0) & (found < long)]


def _sides(pins: Complexes, places: Floats, radius: float) -> tuple[Floats, Floats]:
    """(m,) and (m,) the lower and the upper side of the band at places on the way.

    Each is the outermost of the circles about the pins and of the lines that touch two of them on that side.
    """
    aside = places[:, None] - pins.real
    lift = np.sqrt(np.maximum(radius**2 - aside**2, 0.0))
    far = np.where(np.abs(aside) <= radius, 0.0, np.inf)
    spans = pins[None, :] - pins[:, None]
    first, second = np.nonzero(spans.real > 0.0)
    span = spans[first, second]
    touch = 1j * radius * span / np.abs(span)
    low, high = (pins.imag - lift + far).min(axis=1), (pins.imag + lift - far).max(axis=1)
    for sign in (-1.0, 1.0):
        starts = pins[first] + sign * touch
        share = (places[:, None] - starts.real) / span.real
        y = np.where(np.abs(share - 0.5) <= 0.5, starts.imag + share * span.imag, -sign * np.inf)
        if sign < 0.0:
            low = np.minimum(low, y.min(axis=1))
        else:
            high = np.maximum(high, y.max(axis=1))
    return low, high


def _holes_at(along: Floats, holes: Floats, places: Floats, long: float) -> Floats:
    """(m,) what the holes between the ends take off each section's height."""
    inner = (along > ASIDE * long) & (along < (1.0 - ASIDE) * long)
    hit = np.abs(places[:, None] - along[None, :]) < 0.5 * holes[None, :]
    return np.asarray(np.where(hit & inner[None, :], holes[None, :], 0.0).max(axis=1, initial=0.0))
