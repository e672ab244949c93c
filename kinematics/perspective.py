"""A photo made true: from the pixels of a picture to the plane that was photographed.

A plane seen by a lens that draws straight lines straight is a *projective* image of itself: eight numbers, so four
points whose places are known (eight coordinates) settle it, no three of them in a line. More points settle it by least
squares, and then say how well they agree: what is left over at each is its *misfit*.

How sure it is. Who picks a point to the pixel misses it by up to half a pixel, by any miss as likely as another. The
fit carries the misses of the picks over the plane, little between them and much beyond them; `Fit.sure_within` says
within how many mm the plane is right over a part of the photo, in 49 of 50 cases of such misses. Where more than four
points disagree by more than such misses would, the misfits speak, and it grows with them. What it doesn't know of: a
lens that bends lines (keep the thing away from the photo's edges), and points that lie before or behind the plane.

Method: direct linear transformation with points normalised (Hartley, R., Zisserman, A.: Multiple View Geometry in
Computer Vision, 2nd ed., 2003, algorithm 4.2), then Gauss–Newton on the picks' misses in pixels (the same, 4.3, error
in one image).

Pixels: x to the right, y down. Plane: mm, y up. A photo seen from the front turns the sense round; `Fit.mirrored` tells
where it doesn't.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from kinematics.errors import HingewrightError
from kinematics.pictures import CLICK_PX

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    Array = NDArray[np.float64]

COVERED = 0.98
"""Share of cases in which a stated error is not exceeded."""
TRIED = 1000
MOST_STEPS = 30


class PlaneError(HingewrightError):
    """Picked points from which no plane can be made."""


@dataclass(frozen=True)
class Fit:
    """A matrix from pixels to mm, and how well it suits its picks.

    matrix : (3, 3), pixels to mm, 1 at the picks' middle (see `kinematics.pictures`).     px, at : (n, 2) the picks.
    misfits : (n,) mm, how far each pick comes to lie from its place.     spread : (8, 2n) how the eight numbers follow
    misses of the picks in pixels.     miss_px : half-width of those misses, pixels.
    """

    matrix: Array
    px: Array
    at: Array
    misfits: Array
    spread: Array
    miss_px: float

    @property
    def worst(self) -> int:
        """Place (from 0) of the pick with the largest misfit."""
        return int(np.argmax(self.misfits))

    @property
    def left_over(self) -> float:
        """Root mean square of the misfits, mm; 0 for four picks, which always suit."""
        return float(np.sqrt(np.mean(self.misfits**2)))

    @property
    def mirrored(self) -> bool:
        """Whether the points go round in the photo (y down) as they do on the plane (y up): seen in a mirror."""
        return bool(np.linalg.det(self.matrix) * np.prod(_depths(self.matrix, self.px[:1])) > 0)

    def mm(self, px: ArrayLike) -> Array:
        """Where points of the photo lie, (n, 2) mm; infinite on the horizon and beyond it."""
        points = np.atleast_2d(np.asarray(px, dtype=float))
        depth = _depths(self.matrix, points)
        ahead = depth * np.sign(_depths(self.matrix, self.px).sum()) > 0
        found = np.full(points.shape, np.inf)
        found[ahead] = project(self.matrix, points[ahead])
        return found

    def sure_within(self, px: ArrayLike) -> float:
        """Within how many mm all these points (n, 2), pixels, are right, in 49 of 50 cases; infinite at the horizon."""
        at = self.mm(px)
        if not np.all(np.isfinite(at)):
            return float("inf")
        off = np.einsum("pij,jk->pik", self._moves(at), self.spread)  # (points, 2, picks' coordinates)
        errors = np.einsum("pik,tk->tpi", off, self._misses)
        return float(np.quantile(np.hypot(errors[..., 0], errors[..., 1]).max(axis=1), COVERED))

    @cached_property
    def _misses(self) -> Array:
        """Made-up misses of the picks, (cases, 2n) pixels; the same every time."""
        made = np.random.default_rng(1).uniform(-self.miss_px, self.miss_px, (TRIED, self.px.size))
        return np.asarray(made, dtype=float)

    def _moves(self, at: Array) -> Array:
        """How places (mm) move with the eight numbers of the inverse, (n, 2, 8) mm."""
        back: Array = np.asarray(np.linalg.inv(self.matrix), dtype=float)
        back /= back[2, 2]
        by_numbers, by_place = _derivatives(back, at)
        return np.asarray(-np.linalg.solve(by_place, by_numbers), dtype=float)


def plane(px: ArrayLike, at: ArrayLike, miss_px: float = CLICK_PX) -> Fit:
    """Fit the matrix that takes picked pixels to their places.

    px : (n, 2) pixels.     at : (n, 2) mm, n ≥ 4.     miss_px : by how much a pick may miss, either way.
    Raises PlaneError in words for a builder: too few, the same twice, in a line, out of order.
    """
    picked, known = _checked(px, at)
    to_px, to_mm = _normaliser(picked), _normaliser(known)
    u, x = project(to_px, picked), project(to_mm, known)
    _check_spread(u, "in the photo")
    _check_spread(x, "on the plane")
    back, jacobian = _refined(_linear(x, u), x, u)
    _check_sides(back, x)
    misses = u - project(back, x)
    matrix: Array = np.asarray(np.linalg.inv(to_mm) @ np.linalg.inv(back) @ to_px, dtype=float)
    matrix /= _depths(matrix, picked.mean(axis=0)[None])[0]
    misfits = np.hypot(*(project(matrix, picked) - known).T)
    fitted = _in_pixels(back, jacobian, to_px, to_mm)
    return Fit(matrix, picked, known, misfits, fitted, _miss(misses / to_px[0, 0], miss_px, len(picked)))


def _in_pixels(back: Array, jacobian: Array, to_px: Array, to_mm: Array) -> Array:
    """How the eight numbers of the inverse, in pixels and mm, follow misses of the picks in pixels, (8, 2n).

    The fit gives them for normalised points; both go over into each other linearly, up to the factor that makes the
    ninth number 1.
    """
    followed = np.linalg.pinv(jacobian) * to_px[0, 0]  # (8, 2n), of normalised numbers by pixels
    from_px = np.linalg.inv(to_px)
    whole = from_px @ back @ to_mm
    changes = np.zeros((9, followed.shape[1]))
    changes[:8] = followed
    moved = np.einsum("ij,jkn,kl->iln", from_px, changes.reshape(3, 3, -1), to_mm)
    scale = whole[2, 2]
    rescaled = moved / scale - whole[:, :, None] * moved[2, 2] / scale**2
    return np.asarray(rescaled.reshape(9, -1)[:8], dtype=float)


def _miss(misses: Array, miss_px: float, count: int) -> float:
    """The half-width of the picks' misses: as given, or as the misfits say where they say more."""
    free = 2 * count - 8
    if free == 0:
        return miss_px
    return max(miss_px, float(np.sqrt(3.0 * np.sum(misses**2) / free)))  # a uniform ±w has the deviation w/√3


def project(matrix: Array, points: Array) -> Array:
    """Take points (n, 2) through a projective matrix."""
    whole = points @ matrix[:, :2].T + matrix[:, 2]
    return np.asarray(whole[:, :2] / whole[:, 2:], dtype=float)


def _depths(matrix: Array, points: Array) -> Array:
    """The third coordinate of points (n, 2) behind a matrix: 0 on the horizon, of one sign on either side."""
    return np.asarray(points @ matrix[2, :2] + matrix[2, 2], dtype=float)


def _checked(px: ArrayLike, at: ArrayLike) -> tuple[Array, Array]:
    picked, known = np.asarray(px, dtype=float), np.asarray(at, dtype=float)
    if picked.ndim != 2 or known.shape != picked.shape:
        raise PlaneError("the picks and their places aren't as many")
    if len(picked) < 4:
        raise PlaneError(f"{len(picked)} points are picked, and a plane takes four", remedy="Pick more points.")
    if not (np.all(np.isfinite(picked)) and np.all(np.isfinite(known))):
        raise PlaneError("a place is no finite number")
    for points, where in ((picked, "in the photo"), (known, "on the plane")):
        for place in range(1, len(points)):
            same = np.flatnonzero(np.all(points[:place] == points[place], axis=1))
            if same.size:
                what = f"points {same[0] + 1} and {place + 1} are the same {where}"
                raise PlaneError(what, remedy="Pick each point once.")
    return picked, known


def _normaliser(points: Array) -> Array:
    """The matrix that shifts points to their middle and scales their mean distance from it to √2."""
    middle = points.mean(axis=0)
    scale = np.sqrt(2.0) / np.mean(np.hypot(*(points - middle).T))
    return np.array([[scale, 0.0, -scale * middle[0]], [0.0, scale, -scale * middle[1]], [0.0, 0.0, 1.0]])


LEAST_HEIGHT = 0.02
"""Three of four points are in a line where their triangle is flatter than this (height over the points' spread)."""


def _check_spread(points: Array, where: str) -> None:
    """Make sure that four of the points (normalised) have no three in a line."""
    if len(points) == 4:
        for left_out in range(3, -1, -1):
            three = [place for place in range(4) if place != left_out]
            if _height(points[three]) < LEAST_HEIGHT:
                names = ", ".join(str(place + 1) for place in three)
                what = f"points {names} lie in a line {where}"
                raise PlaneError(what, remedy="Pick four corners no three of which are in a line.")
        return
    for left_out in range(-1, len(points)):  # all in a line, or all but one
        rest = np.delete(points, left_out, axis=0) if left_out >= 0 else points
        if np.linalg.svd(rest - rest.mean(axis=0), compute_uv=False)[1] < LEAST_HEIGHT:
            named = "the points lie" if left_out < 0 else f"all points but number {left_out + 1} lie"
            raise PlaneError(f"{named} in a line {where}", remedy="Pick points that are spread over the plane.")


def _height(three: Array) -> float:
    """Height of a triangle over its longest side."""
    sides = three - np.roll(three, 1, axis=0)
    longest = np.hypot(*sides.T).max()
    return float(abs(sides[0, 0] * sides[1, 1] - sides[0, 1] * sides[1, 0]) / longest)


def _linear(x: Array, u: Array) -> Array:
    """The matrix that takes x to u with the least algebraic error, its last number 1 (normalised points)."""
    rows = np.zeros((2 * len(x), 9))
    rows[0::2, 0:2], rows[0::2, 2] = x, 1.0
    rows[1::2, 3:5], rows[1::2, 5] = x, 1.0
    for first, column in ((0, u[:, 0]), (1, u[:, 1])):
        rows[first::2, 6:8], rows[first::2, 8] = -x * column[:, None], -column
    found = np.linalg.svd(rows)[2][-1].reshape(3, 3)
    if abs(found[2, 2]) < 1e-9 * np.abs(found).max() or abs(np.linalg.det(found)) < 1e-12 * np.abs(found).max() ** 3:
        raise PlaneError(*OUT_OF_ORDER)
    return np.asarray(found / found[2, 2], dtype=float)


OUT_OF_ORDER = (
    "no view of a plane shows these points so",
    "",
    "Look whether two points changed their places, or one was picked beside its corner.",
)


def _refined(back: Array, x: Array, u: Array) -> tuple[Array, Array]:
    """Gauss–Newton on the misses in the photo; gives the matrix and the last Jacobian (2n, 8)."""
    jacobian = _derivatives(back, x)[0].reshape(-1, 8)
    missed = u - project(back, x)
    for _ in range(MOST_STEPS):
        step = np.append(np.linalg.lstsq(jacobian, missed.ravel())[0], 0.0).reshape(3, 3)
        share = 1.0
        while np.sum((u - project(back + share * step, x)) ** 2) > np.sum(missed**2) and share > 1e-3:
            share /= 2
        if share <= 1e-3 or np.abs(step).max() < 1e-14:
            break
        back = back + share * step
        missed = u - project(back, x)
        jacobian = _derivatives(back, x)[0].reshape(-1, 8)
    return back, jacobian


def _derivatives(back: Array, at: Array) -> tuple[Array, Array]:
    """How the images of places (n, 2) follow the matrix's first eight numbers (n, 2, 8), and the places (n, 2, 2)."""
    depth = _depths(back, at)[:, None]
    image = project(back, at)
    by_numbers = np.zeros((len(at), 2, 8))
    homogeneous = np.column_stack([at, np.ones(len(at))]) / depth
    by_numbers[:, 0, 0:3] = homogeneous
    by_numbers[:, 1, 3:6] = homogeneous
    by_numbers[:, :, 6:8] = -image[:, :, None] * homogeneous[:, None, :2]
    by_place = (back[None, :2, :2] - image[:, :, None] * back[2, :2]) / depth[:, :, None]
    return by_numbers, by_place


def _check_sides(back: Array, x: Array) -> None:
    """All points lie before the lens; else two of them changed their places."""
    depths = _depths(back, x)
    if depths.min() * depths.max() <= 0:
        raise PlaneError(*OUT_OF_ORDER)


# ----------------------------------------------------------------------------------------------- a known rectangle
def corners_in_order(px: Sequence[tuple[float, float]]) -> tuple[int, ...]:
    """Find the order of four picked corners: lower left, lower right, upper right, upper left, as the photo shows them.

    Gives their places in `px`. Raises PlaneError when one of them lies among the other three, or three are in a line.
    """
    points = np.asarray(px, dtype=float)
    if points.shape != (4, 2):
        raise PlaneError(f"{len(px)} corners are picked, and a rectangle has four")
    _checked(points, np.arange(8.0).reshape(4, 2) ** 2)
    _check_spread(project(_normaliser(points), points), "in the photo")
    about = points - points.mean(axis=0)
    around = np.argsort(np.arctan2(-about[:, 1], about[:, 0]))  # anticlockwise as one sees it: y is down
    _check_convex(points[around], around)
    lowest_left = int(np.argmin([points[place, 0] - points[place, 1] for place in around]))
    return tuple(int(place) for place in np.roll(around, -lowest_left))


def _check_convex(points: Array, names: NDArray[np.intp]) -> None:
    """No corner lies within the triangle of the others."""
    ahead, behind = np.roll(points, -1, axis=0) - points, points - np.roll(points, 1, axis=0)
    turns = behind[:, 0] * ahead[:, 1] - behind[:, 1] * ahead[:, 0]
    if turns.min() < 0 < turns.max():
        inner = int(names[np.argmin(turns * np.sign(np.median(turns)))]) + 1
        what = f"corner {inner} lies among the other three, so these are no four corners of a rectangle"
        raise PlaneError(what, remedy="Pick that corner again.")


def rectangle(
    px: Sequence[tuple[float, float]], size: tuple[float, float], turned: bool | None = None, miss_px: float = CLICK_PX
) -> Fit:
    """Fit the plane of a known rectangle to its four corners, picked in any order; its lower left corner is 0, 0.

    size : the two sides, mm.     turned : whether the first of them stands upright in the photo; None: as suits better.
    """
    if min(size) <= 0:
        raise PlaneError("a side of the rectangle is 0 or less", remedy="Give both sides, more than 0.")
    order = corners_in_order(px)
    corners = np.asarray(px, dtype=float)[list(order)]
    if turned is None:
        turned = _stands(corners, size)
    width, height = size[::-1] if turned else size
    return plane(corners, [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)], miss_px)


def _stands(corners: Array, size: tuple[float, float]) -> bool:
    """Whether a rectangle suits its corners better with the first side upright, by the mean length of its sides."""
    lengths = np.hypot(*(corners - np.roll(corners, -1, axis=0)).T)
    drawn = np.log((lengths[0] + lengths[2]) / (lengths[1] + lengths[3]))
    wanted = np.log(size[0] / size[1])
    return bool(abs(drawn + wanted) < abs(drawn - wanted))


# ---------------------------------------------------------------------------------------------- common points of two
@dataclass(frozen=True)
class Laid:
    """A similarity (scale, turn, shift) that lays points on others.

    matrix : (3, 3).     misfits : (n,) mm.     scale, turn_rad : anticlockwise, of what it does.
    """

    matrix: Array
    misfits: Array
    scale: float
    turn_rad: float


def lay_on(points: ArrayLike, others: ArrayLike, keep_scale: bool = False, flip: bool = False) -> Laid:
    """Lay points on others by scale, turn and shift, with the least sum of squared misfits.

    points, others : (n, 2), n ≥ 2, the same points of two photos.     keep_scale : turn and shift only.
    flip : turn y of the points round first, for pixels (y down).
    """
    p, q = np.asarray(points, dtype=float), np.asarray(others, dtype=float)
    if p.ndim != 2 or p.shape != q.shape or len(p) < 2:
        raise PlaneError(f"{len(p)} common points are picked, and two are needed", remedy="Pick more points.")
    turn = np.diag([1.0, -1.0 if flip else 1.0])
    a = (p @ turn - p.mean(axis=0) @ turn) @ np.array([1.0, 1.0j])
    b = (q - q.mean(axis=0)) @ np.array([1.0, 1.0j])
    if min(np.abs(a).max(), np.abs(b).max()) == 0:
        raise PlaneError("the common points are all the same", remedy="Pick points far from each other.")
    factor = np.vdot(a, b) / np.vdot(a, a).real  # complex least squares: b ≈ factor · a
    if abs(factor) == 0:
        raise PlaneError("the points of the two photos have nothing in common", remedy="Look at their order.")
    if keep_scale:
        factor /= abs(factor)
    c, s = factor.real, factor.imag
    linear = np.array([[c, -s], [s, c]]) @ turn
    matrix = np.eye(3)
    matrix[:2, :2], matrix[:2, 2] = linear, q.mean(axis=0) - linear @ p.mean(axis=0)
    return Laid(matrix, np.abs(factor * a - b), float(abs(factor)), float(np.angle(factor)))
