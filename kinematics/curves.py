"""Lines that follow the thing: arcs and smooth curves through picked points, and rounded corners, as chains of points.

An outline is a chain of straight pieces, so a curve is laid down as chords. *Chords* are fine enough when none of them
stands off the curve by more than `SAGITTA`; all points that were picked stay points of the chain.

Points are (x, y) in mm. Nothing here knows a project; what can't be drawn is an `OutlineError`.
"""

from __future__ import annotations

import cmath
import math
from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import as_complex, as_point
from kinematics.errors import OutlineError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kinematics.arrays import Complexes
    from kinematics.values import Point

SAGITTA = 0.02  # mm: finer than a saw's kerf or a pencil's line by far
FLATTEST = 1e5  # mm: a circle through three points with a larger radius is a straight line
FINEST = math.radians(0.5)  # chords of a very large circle needn't be shorter than this turn
SMALLEST = 1e-3  # mm, of a radius
MOST_CHORDS = 512  # of one piece of a curve


# ------------------------------------------------------------------------------------------------------------- arcs
def arc(start: Point, through: Point, end: Point) -> tuple[Point, ...]:
    """The arc of a circle from `start` over `through` to `end`; three points in line give the straight line.

    Raises OutlineError where two of the points coincide.
    """
    a, b, c = (complex(*point) for point in (start, through, end))
    if min(abs(b - a), abs(c - b), abs(c - a)) < 1e-9:
        raise OutlineError("an arc goes through three different points", remedy="Pick them apart.")
    centre = _centre(a, b, c)
    if centre is None:
        return (start, through, end)
    way = math.copysign(1.0, ((b - a).conjugate() * (c - a)).imag)  # +1: the three run anticlockwise
    turn = [way * (way * cmath.phase((q - centre) / (p - centre)) % math.tau) for p, q in ((a, b), (b, c))]
    halves = (_chords(a, centre, turn[0]), _chords(b, centre, turn[1]))
    return (start, *halves[0], through, *halves[1], end)


def _centre(a: complex, b: complex, c: complex) -> complex | None:
    """Centre of the circle through three points; None where they are as good as in line."""
    p, q = b - a, c - a
    twice = 2.0 * (p.conjugate() * q).imag
    if abs(twice) * FLATTEST <= abs(p) * abs(q) * abs(q - p):  # the radius is |p||q||q−p| / |twice|
        return None
    return a + 1j * (q * abs(p) ** 2 - p * abs(q) ** 2) / -twice


def _chords(start: complex, centre: complex, turn: float) -> list[Point]:
    """The points between both ends of an arc, which begins at `start` and turns by `turn` (rad) about the centre."""
    count = chords_of(abs(start - centre), turn)
    return [as_point(centre + (start - centre) * cmath.exp(1j * turn * k / count)) for k in range(1, count)]


def chords_of(radius: float, turn: float) -> int:
    """How many chords an arc needs, so that none stands off it by more than `SAGITTA`."""
    step = 2.0 * math.acos(max(1.0 - SAGITTA / radius, -1.0)) if radius > SAGITTA / 2.0 else math.pi
    return max(1, math.ceil(abs(turn) / max(step, FINEST) - 1e-9))


# ---------------------------------------------------------------------------------------------------- smooth curves
def smooth(points: Sequence[Point], closed: bool = False) -> tuple[Point, ...]:
    """A smooth curve through all the points: a cubic spline over the root of the chords, which doesn't overshoot
    where points stand close together; natural at open ends, periodic where `closed`.

    Raises OutlineError for fewer than three different points in a row.
    """
    from scipy.interpolate import CubicSpline  # noqa: PLC0415  slow to load, and most days nobody asks for it

    z = _different(as_complex(points), closed)
    if len(z) < 3:
        raise OutlineError("a smooth curve needs three different points", remedy="Pick more points.")
    knots = np.concatenate([z, z[:1]]) if closed else z
    t = np.concatenate([[0.0], np.cumsum(np.sqrt(np.abs(np.diff(knots))))])
    pair = np.stack([knots.real, knots.imag], axis=1)
    curve = CubicSpline(t, pair, bc_type="periodic" if closed else "natural")
    bend = np.abs(
        curve(t, 2) @ np.array([1.0, 1j])
    )  # |second derivative| is linear in between: its bound stands at a knot
    chain: list[Point] = []
    for k, width in enumerate(np.diff(t)):
        worst = max(float(bend[k]), float(bend[k + 1]))
        count = min(MOST_CHORDS, max(1, math.ceil(width * math.sqrt(worst / (8.0 * SAGITTA)))))
        chain.append(as_point(knots[k]))
        between = curve(t[k] + width * np.arange(1, count) / count)
        chain += [(float(x), float(y)) for x, y in between]
    return tuple(chain) if closed else (*chain, as_point(knots[-1]))


def _different(z: Complexes, closed: bool) -> Complexes:
    """The points without those that repeat the one before."""
    if len(z) == 0:
        return z
    before = np.roll(z, 1) if closed else np.concatenate([[z[0] + 1.0], z[:-1]])
    return z[np.abs(z - before) > 1e-9]


# --------------------------------------------------------------------------------------------------- rounded corners
def fillet(points: Sequence[Point], place: int, radius: float, closed: bool = False) -> tuple[Point, ...]:
    """Round one corner with an arc that leaves both sides tangentially.

    Raises OutlineError at the end of an open line, where the line runs straight on, and where the radius is more than
    the sides beside the corner allow; the sentence names the largest that fits.
    """
    count = len(points)
    if not closed and not 0 < place < count - 1:
        raise OutlineError("this is an end of the line, not a corner", remedy="Pick a point between two sides.")
    if radius < SMALLEST:
        raise OutlineError(f"the radius must be {SMALLEST:g} mm or more")
    before, corner, after = (complex(*points[(place + k) % count]) for k in (-1, 0, 1))
    back, on = before - corner, after - corner
    if abs(back) < 1e-9 or abs(on) < 1e-9:
        raise OutlineError("two points of the line coincide here", remedy="Delete one of them first.")
    between = abs(cmath.phase(on / back))  # the angle that the sides enclose
    if between > math.pi - 1e-6 or between < 1e-6:
        raise OutlineError("the line doesn't turn here, so there is no corner to round")
    reach = radius / math.tan(between / 2.0)
    room = min(abs(back), abs(on))
    if reach > room * (1.0 + 1e-9):
        most = room * math.tan(between / 2.0)
        raise OutlineError(
            f"a radius of {radius:g} mm doesn't fit between the points beside this corner",
            remedy=f"The largest that fits is {most:.4g} mm.",
        )
    first, last = corner + back / abs(back) * reach, corner + on / abs(on) * reach
    bisector = back / abs(back) + on / abs(on)
    centre = corner + bisector / abs(bisector) * radius / math.sin(between / 2.0)
    turn = cmath.phase((last - centre) / (first - centre))
    rounded = [as_point(first), *_chords(first, centre, turn), as_point(last)]
    chain = [*points[:place], *rounded, *points[place + 1 :]]
    return _without_repeats(chain, closed)


def _without_repeats(points: Sequence[Point], closed: bool) -> tuple[Point, ...]:
    kept = [point for k, point in enumerate(points) if k == 0 or math.dist(point, points[k - 1]) > 1e-9]
    if closed and len(kept) > 3 and math.dist(kept[0], kept[-1]) <= 1e-9:
        kept.pop()
    return tuple(kept)
