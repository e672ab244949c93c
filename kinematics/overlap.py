"""Overlap: how far two bodies are apart at a pose, or how deep they stand in each other, and which two places say so.

The *signed gap* goes on below 0 where bodies touch: there it is minus the depth by which they would have to part. Where
the lines themselves cross, they cut each other into pieces that lie by turns on the one side and on the other. One lot
of pieces has come *through*: the one that reaches least far beyond the other's line (inside, where that one is solid).
Its deepest point is to go back over the nearest point of the line. That is a figure to descend on, no more: it need not
be the least move that parts two bodies.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics.arrays import as_point
from kinematics.contact import geometries

if TYPE_CHECKING:
    from kinematics.arrays import Bools, Complexes, Floats
    from kinematics.bodies import Body

SHARP = 1e-9
"""mm (of length or of depth) below which two places give no direction."""


@dataclass(frozen=True, slots=True, eq=False)
class Partings:
    """Signed gaps of two bodies at poses, (n,) each.

    gaps : mm.   first, second : complex, where the lines (without pens) are nearest or deepest, on the first body and
    on the second.   along : the unit way in which the second has to go for more gap; 0 where there is none.
    """

    gaps: Floats
    first: Complexes
    second: Complexes
    along: Complexes


def partings(a: Body, b: Body, e: Complexes, shifts: Complexes) -> Partings:
    """The signed gaps of two bodies at poses where links stand at e and shifts, (n, links) complex each."""
    placed = [shifts[:, body.column, None] + e[:, body.column, None] * body.tails for body in (a, b)]
    lines = shapely.shortest_line(geometries(a, placed[0]), geometries(b, placed[1]))
    ends = shapely.get_coordinates(lines).reshape(len(e), 2, 2)
    first, second = ends[:, 0, 0] + 1j * ends[:, 0, 1], ends[:, 1, 0] + 1j * ends[:, 1, 1]
    apart = np.abs(second - first)
    along = np.zeros(len(e), dtype=np.complex128)
    np.divide(second - first, apart, out=along, where=apart > SHARP)
    for k in np.flatnonzero(apart <= SHARP):
        deep = _deepest(a, b, *(_edges(body, spots[k]) for body, spots in ((a, placed[0]), (b, placed[1]))))
        if deep is not None:
            apart[k], first[k], second[k], along[k] = deep
    return Partings(apart - a.radius - b.radius, first, second, along)


@dataclass(frozen=True, slots=True, eq=False)
class _Chain:
    """A body's line where it stands: tails and heads of its edges, whether it closes, and where the other crosses it.

    cuts : ascending, as numbers along the line: edge + share of it.   over : the same crossings along the other line.
    """

    tails: Complexes
    heads: Complexes
    ring: bool
    cuts: Floats
    over: Floats

    def places(self, spots: Floats) -> Complexes:
        """(n,) points at numbers along the line."""
        edge = np.minimum(spots.astype(np.intp), len(self.tails) - 1)
        return np.asarray(self.tails[edge] + (spots - edge) * (self.heads - self.tails)[edge])

    def arc(self, one: float, other: float) -> Floats:
        """The spots between two places of the line: vertices and the middle; of a ring, the way with fewer edges."""
        low, high, count = min(one, other), max(one, other), len(self.tails)
        if self.ring and high - low > 0.5 * count:
            low, high = high, low + count
        vertices = np.arange(np.ceil(low), high)
        return np.append(vertices, 0.5 * (low + high)) % count if self.ring else np.append(vertices, 0.5 * (low + high))


@dataclass(frozen=True, slots=True)
class _Depth:
    """How deep (mm) a place stands beyond a foot on the other line."""

    mm: float
    place: complex
    foot: complex
    on_first: bool


def _deepest(
    a: Body, b: Body, edges_a: tuple[Complexes, Complexes], edges_b: tuple[Complexes, Complexes]
) -> tuple[float, complex, complex, complex] | None:
    """Minus the depth, the two places, and the way that the second has to go; None where nothing stands through."""
    if len(edges_a[0]) == 0 or len(edges_b[0]) == 0:
        return None
    at_a, at_b = _crossings(edges_a, edges_b)
    order_a, order_b = np.argsort(at_a), np.argsort(at_b)
    one = _Chain(*edges_a, a.solid, at_a[order_a], at_b[order_a])
    other = _Chain(*edges_b, b.solid, at_b[order_b], at_a[order_b])
    found = [*_through(one, other, on_first=True), *_through(other, one, on_first=False)]
    found = [each for each in found if each.mm > SHARP]
    if not found:
        return None
    least = min(found, key=lambda each: each.mm)
    way = (least.foot - least.place) / least.mm
    if least.on_first:
        return -least.mm, least.place, least.foot, -way
    return -least.mm, least.foot, least.place, way


def _edges(body: Body, tails: Complexes) -> tuple[Complexes, Complexes]:
    """Tails and heads of a body's edges where it stands; an open chain's last one, of no length, left out."""
    if body.solid:
        return tails, np.roll(tails, -1)
    return tails[:-1], tails[1:]


def _crossings(one: tuple[Complexes, Complexes], other: tuple[Complexes, Complexes]) -> tuple[Floats, Floats]:
    """Where two chains cross, as numbers along either: edge + share of it."""
    p, r = one[0][:, None], (one[1] - one[0])[:, None]
    q, s = other[0][None, :], (other[1] - other[0])[None, :]
    turn = (r.conj() * s).imag
    crossing = np.abs(turn) > 1e-12
    safe = np.where(crossing, turn, 1.0)
    t, u = ((p - q) * s.conj()).imag / safe, ((p - q) * r.conj()).imag / safe
    i, j = np.nonzero(crossing & (t >= 0.0) & (t < 1.0) & (u >= 0.0) & (u < 1.0))
    return i + t[i, j], j + u[i, j]


def _through(chain: _Chain, other: _Chain, *, on_first: bool) -> list[_Depth]:
    """For either lot of a chain's pieces that may have come through, the deepest place.

    A piece between two crossings closes a lens with the other line's piece between the same two: whichever of both
    reaches deeper tells, or a thin solid that is pierced would seem no deeper than half its thickness.
    """
    bounds = np.concatenate([[0.0], chain.cuts, [float(len(chain.tails))]])
    spots = np.sort(np.concatenate([np.arange(len(chain.tails) + 1), 0.5 * (bounds[1:] + bounds[:-1])]))
    places = chain.places(spots)
    odd = np.searchsorted(chain.cuts, spots) % 2 == 1
    inside = _inside(places, other) if other.ring else np.full(len(spots), fill_value=True)
    found = []
    for parity, lot in enumerate((~odd, odd)):
        if not (lot & inside).any() or (len(chain.cuts) == 0 and not other.ring):
            continue
        deepest = [_farthest(places[lot & inside], other, on_first=on_first)]
        for k in range(parity, len(bounds) - 1, 2):
            ends = _lens(chain, k)
            if ends is not None:
                spots_there = other.arc(*ends)
                deepest.append(_farthest(other.places(spots_there), chain, on_first=not on_first))
        found.append(max(deepest, key=lambda each: each.mm))
    return found


def _lens(chain: _Chain, piece: int) -> tuple[float, float] | None:
    """Where on the other line a piece begins and ends; None for the loose end of an open line."""
    count = len(chain.cuts)
    if 0 < piece < count:
        return float(chain.over[piece - 1]), float(chain.over[piece])
    if chain.ring and piece == 0 and count >= 2:
        return float(chain.over[-1]), float(chain.over[0])
    return None


def _farthest(places: Complexes, other: _Chain, *, on_first: bool) -> _Depth:
    """The place farthest from another line."""
    feet = _feet(places, other)
    k = int(np.argmax(np.abs(feet - places)))
    return _Depth(float(abs(feet[k] - places[k])), complex(places[k]), complex(feet[k]), on_first)


def _inside(places: Complexes, ring: _Chain) -> Bools:
    solid = shapely.Polygon([as_point(z) for z in ring.tails.tolist()])
    return np.asarray(shapely.contains_xy(solid, places.real, places.imag))


def _feet(places: Complexes, other: _Chain) -> Complexes:
    """(n,) the nearest point of another line for each place."""
    tails, way = other.tails[None, :], (other.heads - other.tails)[None, :]
    length = np.maximum(np.abs(way) ** 2, 1e-300)
    share = np.clip(((places[:, None] - tails) * way.conj()).real / length, 0.0, 1.0)
    feet = tails + share * way
    nearest = np.argmin(np.abs(places[:, None] - feet), axis=1)
    return np.asarray(feet[np.arange(len(places)), nearest])
