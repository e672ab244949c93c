"""Lengths and levers of thousands of struts over the whole travel, by two matrix products.

Seen from the link of its first end, the second end b goes to s + e·b as the linkage moves (e of length 1, complex), so
with a the first end

    length² = |s|² + |a|² + |b|² + 2 Re(s̄·e·b) − 2 Re(ā·s) − 2 Re(ā·e·b):

a sum of eight *features* of the ends, which know no opening, times eight figures of each opening, which know no strut.
Its rate is the same with the rates of those figures. Rates here are per mm of the handle's way, so that the rate of
the length is the *lever*, mm per mm: what 1 N along the strut takes off the push at the handle, by virtual work.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import as_complex

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats
    from kinematics.parts import Zone
    from kinematics.statics import Statics
    from kinematics.sweep import Sweep

SHORT = 1e-6
"""mm: a strut's line isn't told where its ends are nearer."""


@dataclass(frozen=True, slots=True, eq=False)
class Pair:
    """Two zones on two links, and how the second link moves seen from the first.

    squares (8, n + k), rates (8, n): features @ squares is length², at k poses beyond the opening reached too, and
    features @ rates half its rate, per mm of the handle.   centre : mm, from which ends are measured.
    shifts, turns : (n + k, 2) complex, how each of the two links stands at the openings, as a shut point p from the
    centre goes to shift + turn·p, in the fixed link's frame from the centre.
    """

    zones: tuple[Zone, Zone]
    squares: Floats
    rates: Floats
    centre: complex
    shifts: Complexes
    turns: Complexes

    def region(self, end: int) -> Complexes:
        """The corners of one zone, from the centre."""
        return as_complex(self.zones[end].points) - self.centre


def pair_of(moved: Sweep, statics: Statics, y: Floats, beyond: Floats, zones: tuple[Zone, Zone]) -> Pair:
    """The tables of two zones at exact poses (n, unknowns) at which the handle moves; beyond : (k, unknowns) more, of
    which only the lengths are asked.
    """
    closure = moved.closure
    at = statics.at(y)
    pace = np.abs(statics.told(at)[1])[:, None]
    turning = 1j * at.e * at.rates / pace
    moving = turning @ closure.shift_map.T
    tail, head = (closure.links.index(zone.on) for zone in zones)
    all_e = np.concatenate([at.e, np.exp(1j * closure.link_turns(beyond))])
    shifts = all_e @ closure.shift_map.T
    back = all_e[:, tail].conj()
    s, e = back * (shifts[:, head] - shifts[:, tail]), back * all_e[:, head]
    spin = (at.rates[:, tail] / pace[:, 0]) * -1j
    count = len(y)
    ds = back[:count] * (moving[:, head] - moving[:, tail]) + spin * s[:count]
    de = back[:count] * turning[:, head] + spin * e[:count]
    both = [tail, head]
    return Pair(
        zones, _squares(s, e), _rates(s[:count], e[:count], ds, de), closure.centre, shifts[:, both], all_e[:, both]
    )


def _squares(s: Complexes, e: Complexes) -> Floats:
    """(8, n) figures of length²."""
    cross, one = s.conj() * e, np.ones(len(s))
    rows = [np.abs(s) ** 2, one, 2 * cross.real, -2 * cross.imag, -2 * s.real, -2 * s.imag, -2 * e.real, 2 * e.imag]
    return np.stack(rows)


def _rates(s: Complexes, e: Complexes, ds: Complexes, de: Complexes) -> Floats:
    """(8, n) figures of half its rate."""
    growing, nothing = ds.conj() * e + s.conj() * de, np.zeros(len(s))
    rows = [(s.conj() * ds).real, nothing, growing.real, -growing.imag, -ds.real, -ds.imag, -de.real, de.imag]
    return np.stack(rows)


def spans(pair: Pair, tails: Complexes, heads: Complexes) -> tuple[Floats, Floats]:
    """Ends (m,) each, mm from the pair's centre → lengths (m, n + k) mm and levers (m, n) mm per mm of the handle."""
    across = tails.conj() * heads
    features = np.empty((len(tails), 8))
    features[:, 0] = 1.0
    features[:, 1] = np.abs(tails) ** 2 + np.abs(heads) ** 2
    features[:, 2], features[:, 3] = heads.real, heads.imag
    features[:, 4], features[:, 5] = tails.real, tails.imag
    features[:, 6], features[:, 7] = across.real, across.imag
    lengths = np.sqrt(np.maximum(features @ pair.squares, SHORT**2))
    levers = features @ pair.rates
    levers /= lengths[:, : levers.shape[1]]
    return lengths, levers
