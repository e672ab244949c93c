"""Deepest: where in the travel two bodies that touch stand deepest in each other, and which two places say so.

The signed gap (`overlap`) is minus the depth. It is looked at in the middle of every contact, at more places of the
longest, and where one ends because what counts does. From the deepest look the way on is known, as the
slope over the opening is: towards a look that leads back again. Between the two the next one lies where the slope
would be 0 if it changed evenly; or, where the bodies part another way there, halfway. A few looks
do, as the arrows at the pins go by them while a pin is dragged; more of them come as near as is wanted.

The depth may jump, as the lines come out of each other at one place and go on at another. So the deepest look is one
that stands deep; that none is deeper isn't proved.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics import motion
from kinematics.overlap import partings

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kinematics.arrays import Floats
    from kinematics.bodies import Body
    from kinematics.sweep import Sweep

SHARES = (0.15, 0.38, 0.62, 0.85)
"""Where the longest contact is looked at first, as shares of it; of the others, the middle."""
LOOKS = 1
"""One look more than the first ones is enough for arrows."""
CONTACTS = 3
"""So many contacts are looked at, the longest ones."""
OUTSIDE = 1e-3
"""rad outside a contact at which bodies are looked at that only graze: upon each other they have no direction."""
NEAR = 1e-9
"""rad between two looks below which no other is worth it."""
ALIKE = 0.95
"""Cosine between two ways of parting from which on they count as one that turns."""


@dataclass(frozen=True, slots=True, eq=False)
class Depth:
    """Two bodies at one opening (rad, ≥ 0), the unknown turns being y.

    gap : mm, minus the depth.   slope : of the gap, mm per rad of opening.   first, second : where the lines (without
    pens) are deepest, or nearest.   along : the unit way in which the second has to go for more gap; 0: none.
    """

    opening: float
    y: Floats
    gap: float
    slope: float
    first: complex
    second: complex
    along: complex


def deepest(
    sweep: Sweep,
    couple: tuple[Body, Body],
    contacts: Sequence[tuple[float, float]],
    span: tuple[float, float],
    looks: int = LOOKS,
) -> Depth | None:
    """Where two bodies stand deepest in each other; None where they have no way out, as on top of each other.

    contacts : stretches (rad of opening) over which they touch, those that count.   span : rad, what counts at all.
    looks : how many more than the first ones; the more, the nearer.
    """
    longest = sorted(contacts, key=lambda each: each[0] - each[1])[:CONTACTS]
    if not longest:
        return None
    first = [low + share * (high - low) for low, high in longest[:1] for share in SHARES]
    first += [0.5 * (low + high) for low, high in longest[1:]]
    first += [end for low, high in longest for end in {low, high} if end <= span[0] + NEAR or end >= span[1] - NEAR]
    seen = looked_at(sweep, couple, first)
    for _ in range(looks):
        opening = _next(seen, longest)
        if opening is None:
            break
        seen += looked_at(sweep, couple, [opening])
    if all(each.along == 0.0 for each in seen):
        beside = [
            opening for low, high in longest for opening in (max(low - OUTSIDE, span[0]), min(high + OUTSIDE, span[1]))
        ]
        seen = looked_at(sweep, couple, beside)
    return min((each for each in seen if each.along != 0.0), key=lambda each: each.gap, default=None)


def looked_at(sweep: Sweep, couple: tuple[Body, Body], openings: Sequence[float]) -> list[Depth]:
    """Look at two bodies at some openings (rad)."""
    y = sweep.at_openings(np.array(openings))
    turns = sweep.closure.link_turns(y)
    e, shifts = np.exp(1j * turns), sweep.closure.shifts(turns)
    found = partings(*couple, e, shifts)
    moving = motion.rates(sweep, y)
    speeds = [
        moving.shifts[:, body.column] + 1j * moving.turns[:, body.column] * (places - shifts[:, body.column])
        for body, places in zip(couple, (found.first, found.second), strict=True)
    ]
    slopes = np.nan_to_num(((speeds[1] - speeds[0]) * found.along.conj()).real, nan=0.0, posinf=0.0, neginf=0.0)
    figures = (found.gaps, slopes, found.first, found.second, found.along)
    return [Depth(*each) for each in zip(openings, y, *(figure.tolist() for figure in figures), strict=True)]


def _next(seen: list[Depth], contacts: Sequence[tuple[float, float]]) -> float | None:
    """The opening to look at next; None where the deepest look has nothing deeper beside it."""
    best = min(seen, key=lambda each: each.gap)
    if best.slope == 0.0:
        return None
    forwards = best.slope < 0.0
    low, high = next(each for each in contacts if each[0] <= best.opening <= each[1])
    end = high if forwards else low
    between = [each for each in seen if min(best.opening, end) <= each.opening <= max(best.opening, end)]
    other = min((e for e in between if e is not best), key=lambda e: abs(e.opening - best.opening), default=None)
    span = (end if other is None else other.opening) - best.opening
    if abs(span) < NEAR:
        return None
    share = 0.5
    if other is not None and other.slope * best.slope < 0.0 and (other.along * best.along.conjugate()).real > ALIKE:
        share = best.slope / (best.slope - other.slope)
    return best.opening + min(max(share, 0.05), 0.95) * span
