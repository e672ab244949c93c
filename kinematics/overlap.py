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

from kinematics.contact import geometries

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats, Ints
    from kinematics.bodies import Body

SHARP = 1e-9
"""mm (of length or of depth) below which two places give no direction."""
MANY = 1000
"""Places times edges from which on GEOS is faster than numpy at finding the place farthest from a line."""


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
    drawn = [geometries(body, spots) for body, spots in ((a, placed[0]), (b, placed[1]))]
    lines = shapely.shortest_line(*drawn)
    ends = shapely.get_coordinates(lines).reshape(len(e), 2, 2)
    first, second = ends[:, 0, 0] + 1j * ends[:, 0, 1], ends[:, 1, 0] + 1j * ends[:, 1, 1]
    apart = np.abs(second - first)
    along = np.zeros(len(e), dtype=np.complex128)
    np.divide(second - first, apart, out=along, where=apart > SHARP)
    for k in np.flatnonzero(apart <= SHARP):
        deep = _deepest(_Line(a, placed[0][k], drawn[0][k]), _Line(b, placed[1][k], drawn[1][k]))
        if deep is not None:
            apart[k], first[k], second[k], along[k] = deep
    return Partings(apart - a.radius - b.radius, first, second, along)


class _Line:
    """A body's line where it stands: tails and heads of its edges, whether it closes, its solid if so, and for GEOS."""

    def __init__(self, body: Body, tails: Complexes, drawn: shapely.Geometry) -> None:
        self.ring, self.solid = body.solid, drawn
        self.drawn = shapely.get_exterior_ring(drawn) if body.solid else drawn
        # An open chain's last edge, of no length, is left out.
        self.tails, self.heads = (tails, np.roll(tails, -1)) if body.solid else (tails[:-1], tails[1:])


@dataclass(frozen=True, slots=True, eq=False)
class _Chain:
    """A body's line where it stands, and where the other crosses it.

    cuts : ascending, as numbers along the line: edge + share of it.   over : the same crossings along the other line.
    """

    line: _Line
    cuts: Floats
    over: Floats

    @property
    def tails(self) -> Complexes:
        """Of its edges."""
        return self.line.tails

    def places(self, spots: Floats) -> Complexes:
        """(n,) points at numbers along the line."""
        edge = np.minimum(spots.astype(np.intp), len(self.tails) - 1)
        tails = self.tails[edge]
        return np.asarray(tails + (spots - edge) * (self.line.heads[edge] - tails))

    def arc(self, one: float, other: float) -> Floats:
        """The spots between two places of the line: vertices and the middle; of a ring, the way with fewer edges."""
        low, high, count = min(one, other), max(one, other), len(self.tails)
        if self.line.ring and high - low > 0.5 * count:
            low, high = high, low + count
        spots = np.append(np.arange(np.ceil(low), high), 0.5 * (low + high))
        return spots % count if self.line.ring else spots


@dataclass(frozen=True, slots=True)
class _Depth:
    """How deep (mm) a place stands beyond a foot on the other line."""

    mm: float
    place: complex
    foot: complex
    on_first: bool


def _deepest(a: _Line, b: _Line) -> tuple[float, complex, complex, complex] | None:
    """Minus the depth, the two places, and the way that the second has to go; None where nothing stands through."""
    if len(a.tails) == 0 or len(b.tails) == 0:
        return None
    at_a, at_b = _crossings(a, b)
    order_a, order_b = np.argsort(at_a), np.argsort(at_b)
    one = _Chain(a, at_a[order_a], at_b[order_a])
    other = _Chain(b, at_b[order_b], at_a[order_b])
    found = [*_through(one, other, on_first=True), *_through(other, one, on_first=False)]
    found = [each for each in found if each.mm > SHARP]
    if not found:
        return None
    least = min(found, key=lambda each: each.mm)
    way = (least.foot - least.place) / least.mm
    if least.on_first:
        return -least.mm, least.place, least.foot, -way
    return -least.mm, least.foot, least.place, way


def _crossings(one: _Line, other: _Line) -> tuple[Floats, Floats]:
    """Where two lines cross, as numbers along either: edge + share of it."""
    i, j = _near(one, other), _near(other, one)
    p, r = one.tails[i, None], (one.heads[i] - one.tails[i])[:, None]
    q, s = other.tails[j], other.heads[j] - other.tails[j]
    turn = (r.conj() * s).imag
    crossing = np.abs(turn) > 1e-12
    safe = np.where(crossing, turn, 1.0)
    t, u = ((p - q) * s.conj()).imag / safe, ((p - q) * r.conj()).imag / safe
    k, m = np.nonzero(crossing & (t >= 0.0) & (t < 1.0) & (u >= 0.0) & (u < 1.0))
    return i[k] + t[k, m], j[m] + u[k, m]


def _near(one: _Line, other: _Line) -> Ints:
    """The edges of a line that may cross another: those whose boxes meet the other's box."""
    left, low, right, high = shapely.bounds(other.drawn).tolist()
    x, y, to_x, to_y = one.tails.real, one.tails.imag, one.heads.real, one.heads.imag
    aside = (np.maximum(x, to_x) < left) | (np.minimum(x, to_x) > right)
    return np.flatnonzero(~(aside | (np.maximum(y, to_y) < low) | (np.minimum(y, to_y) > high)))


def _through(chain: _Chain, other: _Chain, *, on_first: bool) -> list[_Depth]:
    """For either lot of a chain's pieces that may have come through, the deepest place.

    A piece between two crossings closes a lens with the other line's piece between the same two: whichever of both
    reaches deeper tells, or a thin solid that is pierced would seem no deeper than half its thickness.
    """
    solid = other.line.ring
    if len(chain.cuts) == 0 and not solid:
        return []
    bounds = np.concatenate([[0.0], chain.cuts, [float(len(chain.tails))]])
    spots = np.sort(np.concatenate([np.arange(len(chain.tails) + 1), 0.5 * (bounds[1:] + bounds[:-1])]))
    places = chain.places(spots)
    odd = np.searchsorted(chain.cuts, spots) % 2 == 1
    inside = shapely.contains_xy(other.line.solid, places.real, places.imag) if solid else np.ones_like(odd)
    found = []
    for parity, lot in enumerate((~odd & inside, odd & inside)):
        if not lot.any():
            continue
        deepest = _farthest(places[lot], other, on_first=on_first)
        lenses = [other.arc(*ends) for k in range(parity, len(bounds) - 1, 2) if (ends := _lens(chain, k)) is not None]
        if lenses:
            across = _farthest(other.places(np.concatenate(lenses)), chain, on_first=not on_first)
            deepest = max(deepest, across, key=lambda each: each.mm)
        found.append(deepest)
    return found


def _lens(chain: _Chain, piece: int) -> tuple[float, float] | None:
    """Where on the other line a piece begins and ends; None for the loose end of an open line."""
    count = len(chain.cuts)
    if 0 < piece < count:
        return float(chain.over[piece - 1]), float(chain.over[piece])
    if chain.line.ring and piece == 0 and count >= 2:
        return float(chain.over[-1]), float(chain.over[0])
    return None


def _farthest(places: Complexes, other: _Chain, *, on_first: bool) -> _Depth:
    """The place farthest from another line."""
    if places.size * other.tails.size > MANY:
        apart = shapely.distance(shapely.points(places.real, places.imag), other.line.drawn)
        places = places[[np.argmax(apart)]]
    feet = _feet(places, other.line)
    apart = np.abs(feet - places)
    k = int(apart.argmax())
    return _Depth(float(apart[k]), complex(places[k]), complex(feet[k]), on_first)


def _feet(places: Complexes, line: _Line) -> Complexes:
    """(n,) the nearest point of a line for each place."""
    way = line.heads - line.tails
    off = places[:, None] - line.tails
    length = np.maximum(way.real**2 + way.imag**2, 1e-300)
    share = np.minimum(np.maximum((off * way.conj()).real / length, 0.0), 1.0)
    steps = share * way
    nearest = np.abs(off - steps).argmin(axis=1)
    every = np.arange(len(places))
    return np.asarray(line.tails[nearest] + steps[every, nearest])
