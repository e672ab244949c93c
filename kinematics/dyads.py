"""Dyads: where two pins of one link may sit so that it leads a body through given poses.

Terms. A *dyad* is one link between two bodies, here the one that moves (the panel, say) and the base (the fixed link):
its *moving point* m is a pin on the first, its *fixed point* f one on the second. The *places* of m at the poses must
lie on a circle about f, as the link keeps its length; that is all a dyad asks. Two dyads between the same bodies make a
four-bar. What is called base may move itself: `Poses.seen_from` gives the poses of one body as another sees them.

    two poses     the *pole* stands still between them; f lies anywhere on the perpendicular bisector of m's two places
    three poses   to every m there is one f, the middle of the circle through three places, and to every f one m
    four poses    m must lie on a curve, a cubic, and so must f; pairs of them belong together
    five poses    four pairs in complex numbers, hence 0, 2 or 4 real ones; more poses can be met by luck only

A circle that has become a straight line has no middle: then the dyad is a *slider*, a pin in a straight slot. No dyad
knows of order or branch: a linkage from here passes through its poses, perhaps in the wrong order, perhaps only after
it was taken apart. Whoever uses one must sweep it.

Points are complex numbers, mm, turns rad, as everywhere in `kinematics`. The last axis counts the poses; axes before it
are many problems at once.

Sources: L. Burmester, Lehrbuch der Kinematik, 1888; O. Bottema, B. Roth, Theoretical Kinematics, 1979, ch. 8;
G. N. Sandor, A. G. Erdman, Advanced Mechanism Design, vol. 2, 1984, ch. 3; J. M. McCarthy, G. S. Soh, Geometric Design
of Linkages, 2nd ed. 2011, ch. 5 (all from memory). How four and five poses are eliminated here is derived beside it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]
    Complexes = NDArray[np.complex128]
    Bools = NDArray[np.bool_]

FLAT = 1e-9
"""Share of the distance of three places by which they may stray from a line (or two from one place) and count as on it:
far above rounding, and a link of this sagitta would be some 1e8 times as long as its way."""
PARALLEL = 1e-9
"""Turn (rad) below which a body counts as not turned: its pole would lie some 1e9 times as far off as it moves."""
CLOSED = 1e-10
"""Share of the size of a problem by which a dyad's length may differ from pose to pose and still count as kept."""
REAL = 1e-6
"""Share of a solution that may be imaginary before it is taken off; what is left must then hold to CLOSED."""
LEAST = 1e-14
"""Share of a quartic's largest coefficient that its first one must have, so that no root overflows."""
FARTHEST = 1e7
"""A pin this many times as far off as the body moves counts as infinitely far."""


@dataclass(frozen=True, slots=True, eq=False)
class Poses:
    """Where one body stands, seen from another: its point m is at shifts + exp(i·turns)·m.

    shifts (…, k) complex mm; turns (…, k) rad; k poses. With 0 and 0 for shut, m is a point's shut place.
    """

    shifts: Complexes
    turns: Floats

    @property
    def e(self) -> Complexes:
        """(…, k) exp(i·turns)."""
        return np.asarray(np.exp(1j * self.turns))

    def places(self, moving: ArrayLike) -> Complexes:
        """(…,) points of the body → (…, k) where they are at the poses."""
        return np.asarray(self.shifts + self.e * np.asarray(moving)[..., None])

    def swapped(self) -> Poses:
        """The base's poses as the body sees them, so that moving and fixed points change parts."""
        return Poses(np.asarray(-self.e.conj() * self.shifts), -self.turns)

    def seen_from(self, other: Poses) -> Poses:
        """The body's poses as another body sees them, both given in one base."""
        return Poses(np.asarray(other.e.conj() * (self.shifts - other.shifts)), np.asarray(self.turns - other.turns))

    def pick(self, *which: int) -> Poses:
        """Some of the poses, in the order asked for."""
        return Poses(self.shifts[..., list(which)], self.turns[..., list(which)])


@dataclass(frozen=True, slots=True, eq=False)
class Circles:
    """Circles through three places each.

    middle (…,) complex mm; radius (…,) mm: what they are where `found`, else 0.
    found (…,): there is one. slider (…,): the places are three, on a straight line. Neither where two places coincide:
    then the circle isn't settled.
    """

    middle: Complexes
    radius: Floats
    found: Bools
    slider: Bools


@dataclass(frozen=True, slots=True, eq=False)
class Dyads:
    """Pairs of a moving and a fixed point, (…,) complex mm; `found` (…,) tells which are real, the others are 0."""

    moving: Complexes
    fixed: Complexes
    found: Bools

    def pairs(self) -> tuple[tuple[complex, complex], ...]:
        """The real ones, one by one."""
        both = zip(self.moving[self.found].tolist(), self.fixed[self.found].tolist(), strict=True)
        return tuple((complex(m), complex(f)) for m, f in both)


def lengths(poses: Poses, moving: ArrayLike, fixed: ArrayLike) -> Floats:
    """(…, k) how far moving points are from fixed ones at the poses, mm: a dyad has the same length at all of them."""
    return np.asarray(np.abs(poses.places(moving) - np.asarray(fixed)[..., None]))


# ----------------------------------------------------------------------------------------------------------- two poses
def pole(poses: Poses) -> tuple[Complexes, Bools]:
    """The pole of two poses (…, 2): the one place of the base at which the body has the same point both times.

    A single pin there does the whole move. Returns places (…,) and whether there is one: a body that was shifted but
    not turned has its pole at infinity, and 0 is given. Where p = z₁ + e₁·m = z₂ + e₂·m, p = (e₁z₂ − e₂z₁)/(e₁ − e₂).
    """
    z, e = poses.shifts, poses.e
    apart = e[..., 0] - e[..., 1]
    there = np.abs(apart) > PARALLEL
    at = (e[..., 0] * z[..., 1] - e[..., 1] * z[..., 0]) / np.where(there, apart, 1.0)
    return np.where(there, at, 0.0), np.asarray(there)


def bisector(poses: Poses, moving: ArrayLike) -> tuple[Complexes, Complexes]:
    """Where fixed points of moving ones may lie for two poses (…, 2): a point of that line, and its direction.

    The direction has length 1, and 0 where the moving point is at one place both times: then any fixed point will do.
    """
    at = poses.places(moving)
    way = at[..., 1] - at[..., 0]
    far = np.abs(way)
    return at.mean(axis=-1), np.asarray(1j * way / np.where(far > 0.0, far, 1.0))


# --------------------------------------------------------------------------------------------------------- three poses
def fixed_points(poses: Poses, moving: ArrayLike) -> Circles:
    """The fixed point of every moving point for three poses (…, 3), or that it is a slider's."""
    return circles(poses.places(moving))


def moving_points(poses: Poses, fixed: ArrayLike) -> Circles:
    """The moving point of every fixed point for three poses (…, 3): the body's own view of the same circle.

    A `slider` is a straight slot in the moving body here.
    """
    return circles(poses.swapped().places(fixed))


def circles(places: Complexes) -> Circles:
    """The circles through three places each (…, 3).

    With u and v from the first place to the others, the middle is u·v·(ū − v̄)/(ū·v − u·v̄) from the first: it is as far
    from 0 as from u and v. The denominator is 2i times the triangle's doubled area, 0 for three in a line.
    """
    u, v = places[..., 1] - places[..., 0], places[..., 2] - places[..., 0]
    sides = np.sort(np.abs(np.stack([u, v, v - u])), axis=0)
    doubled = (u.conjugate() * v).imag
    bent = np.abs(doubled) > FLAT * sides[2] ** 2
    apart = sides[0] > FLAT * sides[2]
    found = bent & apart
    from_first = u * v * (u - v).conjugate() / np.where(found, 2j * doubled, 1.0)
    middle = np.where(found, places[..., 0] + from_first, 0.0)
    return Circles(middle, np.where(found, np.abs(from_first), 0.0), np.asarray(found), np.asarray(~bent & apart))


def pole_triangle(poses: Poses) -> tuple[Complexes, Bools]:
    """The poles 12, 23 and 13 of three poses (…, 3): places (…, 3), and which there are.

    Two turns, one after the other, make the third. Its corners know the turns, see `corner_angles`.
    """
    both = [pole(poses.pick(i, j)) for i, j in ((0, 1), (1, 2), (0, 2))]
    return np.stack([at for at, _ in both], axis=-1), np.stack([there for _, there in both], axis=-1)


def corner_angles(poles: Complexes) -> Floats:
    """The angles at the poles 12, 23 and 13 of a pole triangle (…, 3), rad, from 0 to below π.

    Anticlockwise, at 12 from the line to 13 to the line to 23, at 23 from the line to 12 to that to 13, at 13 from the
    line to 12 to that to 23: each is half the turn of its two poses, but for whole half turns. For a turn is two
    mirrorings, in lines half the turn apart, and the triangle's three sides serve for all three turns.
    """
    p12, p23, p13 = poles[..., 0], poles[..., 1], poles[..., 2]
    from_to = ((p13 - p12, p23 - p12), (p12 - p23, p13 - p23), (p12 - p13, p23 - p13))
    angles = np.stack([np.angle(b * a.conjugate()) % np.pi for a, b in from_to], axis=-1)
    return np.where(angles < np.pi, angles, 0.0)  # a hair below 0 is rounded up to π itself


# ---------------------------------------------------------------------------------------------------------- four poses
def four_poses(poses: Poses, cranks: ArrayLike) -> Dyads:
    """Pairs along the curves of moving and fixed points for four poses (4,).

    cranks (n,) rad: how far the dyad's link turns from the first pose to the second, the parameter of both curves; a
    whole turn of it passes every pair. Returns (n, 2): to each there are two pairs, or none.

    The link W (from f to m at the first pose) and the body's arm Z (from m on to its origin) close with the shift δ of
    the origin: W·(exp(iβⱼ) − 1) + Z·aⱼ = δⱼ, aⱼ = exp(iαⱼ) − 1, for the poses j = 2, 3, 4. Three equations in two
    unknowns hold only if their determinant is nothing, Σ cⱼ·(exp(iβⱼ) − 1) = 0: a loop of four vectors of known lengths
    |cⱼ|, as of a four-bar, which β₂ drives and which closes in two ways. A body that doesn't turn, or has one pole from
    the first pose to two others, makes no such loop, and no pair is found.

    Source: Sandor and Erdman, "compatibility linkage" (from memory).
    """
    shift = poses.shifts[1:] - poses.shifts[0]
    a = poses.e[1:] / poses.e[0] - 1.0
    c = np.cross(a, shift)
    size = float(np.abs(shift).max())
    if np.abs(c).max() <= PARALLEL * max(size, 1e-300) or np.abs(c[1:]).min() <= 0.0:
        nothing = np.zeros((np.size(np.asarray(cranks)), 2), dtype=np.complex128)
        return Dyads(nothing, nothing, nothing != 0.0)
    turned, closes = _closing(c, np.exp(1j * np.atleast_1d(np.asarray(cranks))))
    arm, link, sure = _link_and_arm(turned - 1.0, a, shift)
    moving, fixed = -arm / poses.e[0], poses.shifts[0] - arm - link
    return _kept(poses, moving, fixed, closes & sure)


def _closing(c: Complexes, second: Complexes) -> tuple[Complexes, Bools]:
    """(n, 2, 3) unit vectors p with Σ cⱼ·(pⱼ − 1) = 0 whose first is given (n,), and whether the loop closes."""
    rest = c[0] * (second - 1.0) - c[1] - c[2]
    across = 2.0 * np.abs(rest) * abs(c[1])
    cosine = (abs(c[2]) ** 2 - np.abs(rest) ** 2 - abs(c[1]) ** 2) / np.where(across > 0.0, across, 1.0)
    closes = (np.abs(cosine) <= 1.0) & (across > 0.0)
    half = np.arccos(np.clip(cosine, -1.0, 1.0))
    third = np.exp(1j * np.stack([half, -half], axis=-1) - 1j * np.angle(rest.conjugate() * c[1])[:, None])
    fourth = -(rest[:, None] + c[1] * third) / c[2]
    return np.stack([np.broadcast_to(second[:, None], third.shape), third, fourth], axis=-1), closes[:, None]


def _link_and_arm(turned: Complexes, a: Complexes, shift: Complexes) -> tuple[Complexes, Complexes, Bools]:
    """Z and W (…,) from two of the three equations W·turned + Z·a = shift, those that tell them best."""
    pairs = ((0, 1), (0, 2), (1, 2))
    minors = np.stack([turned[..., i] * a[j] - turned[..., j] * a[i] for i, j in pairs], axis=-1)
    best = np.abs(minors).argmax(axis=-1)[..., None]
    minor = np.take_along_axis(minors, best, axis=-1)[..., 0]
    sure = np.abs(minor) > FLAT
    arms = np.stack([turned[..., i] * shift[j] - turned[..., j] * shift[i] for i, j in pairs], axis=-1)
    links = np.broadcast_to(np.stack([shift[i] * a[j] - shift[j] * a[i] for i, j in pairs]), arms.shape)
    below = np.where(sure, minor, 1.0)
    arm, link = np.take_along_axis(arms, best, axis=-1), np.take_along_axis(links, best, axis=-1)
    return np.asarray(arm[..., 0] / below), np.asarray(link[..., 0] / below), np.asarray(sure)


def _kept(poses: Poses, moving: Complexes, fixed: Complexes, found: Bools) -> Dyads:
    """The pairs whose link keeps its length at the poses; what rounding has spoilt, far out, goes with the rest."""
    far = lengths(poses, moving, fixed)
    reach = np.abs(poses.shifts - poses.shifts[..., :1]).max(axis=-1) + np.abs(moving) + far.max(axis=-1)
    good = found & (np.ptp(far, axis=-1) <= CLOSED * reach)
    return Dyads(np.where(good, moving, 0.0), np.where(good, fixed, 0.0), np.asarray(good))


# ---------------------------------------------------------------------------------------------------------- five poses
def five_poses(poses: Poses) -> Dyads:
    """All dyads for five poses (…, 5): returns (…, 4), of which in general 0, 2 or 4 are real and `found`.

    From the first pose, scaled to size 1, m = x + iy and f = u + iv: |zⱼ + eⱼm − f|² = |m − f|² is, for j = 2 to 5,

        (1 − cos θⱼ)·(xu + yv) − sin θⱼ·(xv − yu) + Re(z̄ⱼeⱼm) − Re(z̄ⱼf) + |zⱼ|²/2 = 0.

    Of four such equations two combinations lack both products: they are linear in x, y, u, v, 1, and leave a plane of
    three homogeneous unknowns h. The other two are conics in that plane, and two conics meet in four points. These are
    all: they come from the roots of one quartic, not from a search with many starts, which misses the far ones.

    Two poses alike, or only two different directions among all five, leave fewer equations and whole curves of
    dyads; such poses are for `four_poses` and may give some or none here. Nor are dyads at infinity (sliders) found.
    """
    size = np.abs(poses.shifts - poses.shifts[..., :1]).max(axis=-1)
    size = np.where(size > 0.0, size, 1.0)
    z = (poses.shifts[..., 1:] - poses.shifts[..., :1]) / size[..., None]
    e = poses.e[..., 1:] / poses.e[..., :1]
    products, linear = _five_equations(z, e)
    plane, conics = _conics(products, linear)
    near = np.einsum("...ij,...kj->...ki", plane, _meets_of_conics(conics))
    finite = np.abs(near[..., 4]) * FARTHEST > np.abs(near).max(axis=-1)
    points = near[..., :4] / np.where(finite, near[..., 4], 1.0)[..., None]
    points = _polished(products, linear, points)
    real = finite & (np.abs(points.imag).max(axis=-1) <= REAL * (1.0 + np.abs(points).max(axis=-1)))
    x, y, u, v = np.moveaxis(_polished(products, linear, points.real.copy()), -1, 0)
    moving = size[..., None] * (x + 1j * y) / poses.e[..., :1]
    fixed = size[..., None] * (u + 1j * v) + poses.shifts[..., :1]
    each = Poses(poses.shifts[..., None, :], poses.turns[..., None, :])
    return _kept(each, moving, fixed, real)


def _five_equations(z: Complexes, e: Complexes) -> tuple[Floats, Floats]:
    """What the equations say of (xu + yv, xv − yu), (…, 4, 2), and of (x, y, u, v, 1), (…, 4, 5)."""
    q = z.conjugate() * e
    products = np.stack([1.0 - e.real, -e.imag], axis=-1)
    return products, np.stack([q.real, -q.imag, -z.real, -z.imag, 0.5 * np.abs(z) ** 2], axis=-1)


PRODUCTS = np.zeros((2, 5, 5))
PRODUCTS[0, [0, 2, 1, 3], [2, 0, 3, 1]] = 0.5
PRODUCTS[1, [0, 3], [3, 0]], PRODUCTS[1, [1, 2], [2, 1]] = 0.5, -0.5
"""xu + yv and xv − yu as quadratic forms of (x, y, u, v, 1)."""


def _conics(products: Floats, linear: Floats) -> tuple[Floats, Floats]:
    """The plane (…, 5, 3) left by the equations without products, and the others as conics in it, (…, 2, 3, 3)."""
    mixed = np.swapaxes(np.linalg.qr(products, mode="complete")[0], -1, -2)
    upper, lower = (mixed @ linear)[..., :2, :], (mixed @ linear)[..., 2:, :]
    plane = np.swapaxes(np.linalg.svd(lower, full_matrices=True)[2][..., 2:, :], -1, -2)
    forms = np.einsum("...kp,pij->...kij", (mixed @ products)[..., :2, :], PRODUCTS)
    forms[..., 4, :] += 0.5 * upper
    forms[..., :, 4] += 0.5 * upper
    return plane, np.swapaxes(plane, -1, -2)[..., None, :, :] @ forms @ plane[..., None, :, :]


TURN = np.asarray(np.linalg.qr(np.array([[3.0, 1.0, 4.0], [1.0, 5.0, 9.0], [2.0, 6.0, 5.0]]))[0])
"""A turn of space that no problem has chosen, so that no two meets share a coordinate and none is infinite."""


def _meets_of_conics(conics: Floats) -> Complexes:
    """The four points (…, 4, 3), homogeneous and complex, in which two conics (…, 2, 3, 3) meet.

    As polynomials in t, A·t² + B(s)·t + C(s) each, both vanish at one t where their resultant does,
    (A₁C₂ − A₂C₁)² = (A₁B₂ − A₂B₁)·(B₁C₂ − B₂C₁): a quartic in s, whose roots are eigenvalues of its companion matrix.
    """
    q = TURN.T @ conics @ TURN
    largest = np.abs(q).max(axis=(-1, -2), keepdims=True)
    q = q / np.where(largest > 0.0, largest, 1.0)
    a = q[..., 1, 1][..., None]
    b = 2.0 * np.stack([q[..., 1, 2], q[..., 0, 1]], axis=-1)
    c = np.stack([q[..., 2, 2], 2.0 * q[..., 0, 2], q[..., 0, 0]], axis=-1)
    over = a[..., 0, :] * c[..., 1, :] - a[..., 1, :] * c[..., 0, :]
    under = a[..., 0, :] * b[..., 1, :] - a[..., 1, :] * b[..., 0, :]
    cross = _product(b[..., 0, :], c[..., 1, :]) - _product(b[..., 1, :], c[..., 0, :])
    s = _roots(_product(over, over) - _product(under, cross))
    powers = np.stack([np.ones_like(s), s, s * s], axis=-1)
    below = np.einsum("...i,...ki->...k", under, powers[..., :2])
    above = np.einsum("...i,...ki->...k", over, powers)
    # (s, t, 1) with t = −above/below, times below, which may be next to nothing
    met = np.stack([s * below, -above, below], axis=-1) @ TURN.T
    most = np.abs(met).max(axis=-1, keepdims=True)
    return np.asarray(met / np.where(most > 0.0, most, 1.0))


def _product(p: Floats, q: Floats) -> Floats:
    """Polynomials multiplied, coefficients (…, n) from the lowest on."""
    made = np.zeros((*p.shape[:-1], p.shape[-1] + q.shape[-1] - 1))
    for k in range(q.shape[-1]):
        made[..., k : k + p.shape[-1]] += p * q[..., k : k + 1]
    return made


def _roots(quartic: Floats) -> Complexes:
    """The roots (…, 4) of quartics (…, 5), coefficients from the lowest on; of a lower one, some are very large."""
    largest = np.abs(quartic).max(axis=-1, keepdims=True)
    quartic = quartic / np.where(largest > 0.0, largest, 1.0)
    first = np.where(np.abs(quartic[..., 4:]) > LEAST, quartic[..., 4:], LEAST)
    companion = np.zeros((*quartic.shape[:-1], 4, 4))
    companion[..., [1, 2, 3], [0, 1, 2]] = 1.0
    companion[..., 3] = -quartic[..., :4] / first
    return np.asarray(np.linalg.eigvals(companion), dtype=np.complex128)


def _polished(products: Floats, linear: Floats, points: Complexes | Floats) -> Complexes | Floats:
    """Newton on the four equations themselves from points (…, 4, 4): a quartic's roots have lost some digits."""
    forms = np.einsum("...jp,pab->...jab", products, PRODUCTS[:, :4, :4])[..., None, :, :, :]
    for _ in range(4):
        slope = np.einsum("...jab,...b->...ja", forms, points)
        value = np.einsum("...ja,...a->...j", slope + linear[..., None, :, :4], points) + linear[..., None, :, 4]
        jacobian = 2.0 * slope + linear[..., None, :, :4]
        try:
            step = np.linalg.solve(jacobian, value[..., None])[..., 0]
        except np.linalg.LinAlgError:
            step = (np.linalg.pinv(jacobian) @ value[..., None])[..., 0]
        near = np.abs(step).max(axis=-1) <= 0.5 * (1.0 + np.abs(points).max(axis=-1))
        points = points - np.where(near[..., None], step, 0.0)
    return points


# ------------------------------------------------------------------------------------------------------------ cognates
@dataclass(frozen=True, slots=True, eq=False)
class FourBars:
    """Four-bars with a point of their coupler at one pose, (…,) complex mm each.

    base : fixed pivot of the first crank.   near, far : the coupler's pins, `near` on that crank.   other : the fixed
    pivot of the second crank, on whose end `far` sits.   point : on the coupler.
    """

    base: Complexes
    near: Complexes
    far: Complexes
    other: Complexes
    point: Complexes


def cognates(given: FourBars) -> tuple[FourBars, FourBars, FourBars]:
    """The three four-bars whose coupler point draws one and the same curve: the given one, and two more.

    With P = A + w·(B − A), the third fixed pivot lies likewise on O₂O₄: O₃ = O₂ + w·(O₄ − O₂). The cognate at O₂ and O₃
    has the parallelogram O₂ A P A′, that at O₄ and O₃ the parallelogram O₄ B P B′. All points are for the given pose.
    They need no equal room: one of them may fit where the given one doesn't.

    Sources: S. Roberts 1875, P. L. Chebyshev 1878 (both from memory). The coupler's pins must be apart.
    """
    w = (given.point - given.near) / (given.far - given.near)
    third = given.base + w * (given.other - given.base)
    left, right = given.base + given.point - given.near, given.other + given.point - given.far
    left_far = third + w * (given.far - given.other)
    right_far = third + (1.0 - w) * (given.near - given.base)
    return (
        given,
        FourBars(given.base, left, left_far, third, given.point),
        FourBars(given.other, right, right_far, third, given.point),
    )
