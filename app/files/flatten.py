"""Exact pieces of curves, and polylines that keep within a tolerance of them.

A drawing's curves are kept as *pieces* in the drawing's own unit, so that they can be flattened once the unit is known:

- `Straight`: a polyline.
- `Arc`: c + u·cos t + v·sin t. Every circle or ellipse, however scaled, mirrored or tilted, is one of these, because
  an affine map only maps c, u and v. No arc is ever replaced by a Bézier curve, which would miss a circle by up to
  2.7e-4 of its radius.
- `Spline`: a (rational) B-spline by control points, weights and knots.

Points are complex numbers, x + iy. Over a step h of t an arc leaves its chord by at most its *sagitta*,
(1 − cos(h/2))·(greatest half axis): the step is chosen from that formula, so the tolerance is kept by construction.
A spline is cut into Bézier pieces, halved until all control points lie within the tolerance of the chord: with positive
weights the curve stays inside the hull of its control points, so this too is a bound, not a sample.
Sources: circle segment, any geometry table (closed form); hull property and blossoms, G. Farin, Curves and Surfaces
for CAGD (from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

TOLERANCE = 0.05
"""How far (mm) a flattened curve may leave the true one."""
WIDEST_STEP = math.pi / 6
"""An arc never takes wider steps (rad), however small: a 1 mm hole should look round."""
MOST_HALVINGS = 24
"""Depth at which a spline piece is taken as it is: a 200 m piece is then cut finer than 0.02 mm."""


@dataclass(frozen=True, slots=True)
class Straight:
    """Points joined by straight lines."""

    points: tuple[complex, ...]


@dataclass(frozen=True, slots=True)
class Arc:
    """The points centre + u·cos t + v·sin t, t from `start` over `span` (rad, either sign).

    `ends` holds the exact end points where the drawing gave them (bulges), else None.
    """

    centre: complex
    u: complex
    v: complex
    start: float
    span: float
    ends: tuple[complex, complex] | None = None

    def at(self, t: float) -> complex:
        """The point at parameter t (rad)."""
        return self.centre + self.u * math.cos(t) + self.v * math.sin(t)

    @property
    def greatest(self) -> float:
        """The greatest half axis: the larger singular value of the matrix with columns u and v."""
        # With p, q the turning parts of the map, the half axes are |p| + |q| and ||p| − |q||.
        p, q = (self.u - 1j * self.v) / 2, (self.u + 1j * self.v) / 2
        return abs(p) + abs(q)


@dataclass(frozen=True, slots=True)
class Spline:
    """A B-spline: n control points, n positive weights, n + degree + 1 knots."""

    control: tuple[complex, ...]
    weights: tuple[float, ...]
    knots: tuple[float, ...]
    degree: int


Piece = Straight | Arc | Spline


def arc_from_bulge(start: complex, end: complex, bulge: float) -> Straight | Arc:
    """The arc between two vertices of a polyline: bulge = tan(angle / 4), positive anticlockwise from start to end.

    Source: the public DXF reference, group code 42.
    """
    chord = end - start
    # The sagitta is |bulge|·chord/2; below this share of the chord it is under 0.01 mm on the largest sheet there is.
    if abs(bulge) < 2e-7 or abs(chord) == 0.0:
        return Straight((start, end))
    centre = (start + end) / 2 + 1j * chord * (1 - bulge * bulge) / (4 * bulge)
    u = start - centre
    return Arc(centre, u, 1j * u, 0.0, 4 * math.atan(bulge), (start, end))


def steps_of(arc: Arc, tolerance: float) -> int:
    """How many chords keep within `tolerance` of an arc."""
    share = tolerance / arc.greatest if arc.greatest > 0 else 1.0
    # 1 − cos(h/2) = 2·sin²(h/4) = share; written with the sine, small shares keep their digits.
    widest = 4 * math.asin(math.sqrt(share / 2)) if share < 1 else WIDEST_STEP
    return max(1, math.ceil(abs(arc.span) / min(widest, WIDEST_STEP) - 1e-9))


def flatten(piece: Piece, tolerance: float = TOLERANCE) -> list[complex]:
    """Points of a polyline that leaves the piece by at most `tolerance` (in the piece's unit), both ends included."""
    if isinstance(piece, Straight):
        return list(piece.points)
    if isinstance(piece, Arc):
        return _flatten_arc(piece, tolerance)
    beziers = _beziers(piece)
    points = [_plain(beziers[0][0])] if beziers else []
    for bezier in beziers:
        points += _flatten_bezier(bezier, tolerance)
    return points


def reach(piece: Piece) -> float:
    """A length that no point of the piece is farther than from the origin, along x or y (an upper bound)."""
    if isinstance(piece, Arc):
        return abs(piece.centre) + piece.greatest
    points = piece.points if isinstance(piece, Straight) else piece.control
    return max(max(abs(z.real), abs(z.imag)) for z in points)


def is_finite(piece: Piece) -> bool:
    """Whether every number of the piece is one."""
    if isinstance(piece, Arc):
        numbers = (piece.centre, piece.u, piece.v, complex(piece.start, piece.span))
        return all(math.isfinite(z.real) and math.isfinite(z.imag) for z in numbers)
    points = piece.points if isinstance(piece, Straight) else piece.control
    if not all(math.isfinite(z.real) and math.isfinite(z.imag) for z in points):
        return False
    return isinstance(piece, Straight) or all(map(math.isfinite, (*piece.weights, *piece.knots)))


def _flatten_arc(arc: Arc, tolerance: float) -> list[complex]:
    """Chords of equal parameter steps, the given end points kept to the last digit."""
    count = steps_of(arc, tolerance)
    points = [arc.at(arc.start + arc.span * k / count) for k in range(count + 1)]
    if arc.ends is not None:
        points[0], points[-1] = arc.ends
    return points


# A point with its weight: (weight·point, weight). Sums of these stay exact under halving, which rational curves need.
Heavy = tuple[complex, float]


def _beziers(spline: Spline) -> list[list[Heavy]]:
    """The Bézier pieces of a B-spline, one for each knot span that isn't empty."""
    p, knots = spline.degree, spline.knots
    heavy = [(w * z, w) for z, w in zip(spline.control, spline.weights, strict=True)]
    spans = [k for k in range(p, len(heavy)) if knots[k + 1] > knots[k]]
    return [
        [_blossom(heavy, knots, p, k, [knots[k]] * (p - i) + [knots[k + 1]] * i) for i in range(p + 1)] for k in spans
    ]


def _blossom(heavy: list[Heavy], knots: tuple[float, ...], p: int, span: int, arguments: list[float]) -> Heavy:
    """De Boor's algorithm with its own argument in each round: the polar form of the piece over a knot span."""
    row = heavy[span - p : span + 1]
    for r in range(1, p + 1):
        previous = row
        row = []
        for j in range(p - r + 1):
            low, high = knots[span - p + r + j], knots[span + 1 + j]
            a = (arguments[r - 1] - low) / (high - low)
            row.append(_between(previous[j], previous[j + 1], a))
    return row[0]


def _between(a: Heavy, b: Heavy, share: float) -> Heavy:
    """The point that lies `share` of the way from a to b."""
    return ((1 - share) * a[0] + share * b[0], (1 - share) * a[1] + share * b[1])


def _plain(heavy: Heavy) -> complex:
    """The point itself."""
    return heavy[0] / heavy[1]


def _flatten_bezier(bezier: list[Heavy], tolerance: float) -> list[complex]:
    """Points after the first of one Bézier piece."""
    points: list[complex] = []
    waiting = [(bezier, 0)]
    while waiting:
        part, depth = waiting.pop()
        if depth >= MOST_HALVINGS or _is_flat([_plain(h) for h in part], tolerance):
            points.append(_plain(part[-1]))
        else:
            left, right = _halves(part)
            waiting += [(right, depth + 1), (left, depth + 1)]
    return points


def _is_flat(points: list[complex], tolerance: float) -> bool:
    """Whether all points lie within `tolerance` of the straight line from the first to the last."""
    start, chord = points[0], points[-1] - points[0]
    if chord == 0:
        return all(abs(z - start) <= tolerance for z in points)
    for z in points[1:-1]:
        share = ((z - start) / chord).real
        if abs(z - start - chord * min(max(share, 0.0), 1.0)) > tolerance:
            return False
    return True


def _halves(bezier: list[Heavy]) -> tuple[list[Heavy], list[Heavy]]:
    """De Casteljau's algorithm at the middle: the control points of both halves."""
    left, right, row = [bezier[0]], [bezier[-1]], bezier
    while len(row) > 1:
        row = [_between(a, b, 0.5) for a, b in pairwise(row)]
        left.append(row[0])
        right.append(row[-1])
    return left, right[::-1]
