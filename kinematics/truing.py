"""Photos made true: by a known rectangle, by points whose places are known, by points in common with another photo.

Each gives the edited project and what was found (`kinematics.perspective`), for the words. How far a traced point may
be off is worked out over all that is shown of the photo, so cropping it to what is traced makes it surer; what lies far
from the picks is told to be unsure.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from kinematics import beneath
from kinematics.perspective import Fit, Laid, lay_on, plane, project, rectangle
from kinematics.pictures import CLICK_PX, LEAST_DEPTH, Pick, inverse, middle_depth, shows, similarity, through

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    from kinematics.pictures import Crop, Place
    from kinematics.project import Project
    from kinematics.values import Point

    Array = NDArray[np.float64]

SPOTS = 9
"""Places across what is shown, each way, at which the error is looked at."""


@dataclass(frozen=True)
class Trued:
    """A photo made true. project : with it.     fit : the plane.     between : within how many mm it is right between
    the picks, in 49 of 50 cases.
    """

    project: Project
    fit: Fit
    between: float


def true_by_rectangle(
    whole: Project, id: str, px: Sequence[Point], size: Point, turned: bool | None = None, miss_px: float = CLICK_PX
) -> Trued:
    """Undo the perspective by the four corners (pixels, any order) of a known rectangle.

    The photo stays about where it is, and turned as it is. size, turned : as in `perspective.rectangle`. Raises
    PlaneError.
    """
    fit = rectangle(px, size, turned, miss_px)
    place = whole.picture(id).place
    before = np.array([through(place.matrix, (x, y)) for x, y in fit.px])
    laid = lay_on(fit.at, before, keep_scale=True)
    return _trued(whole, id, plane(fit.px, project(laid.matrix, fit.at), miss_px), miss_px)


def true_by_points(
    whole: Project, id: str, px: Sequence[Point], at: Sequence[Point], miss_px: float = CLICK_PX
) -> Trued:
    """Undo the perspective by four points or more whose places (mm) are known. Raises PlaneError."""
    return _trued(whole, id, plane(px, at, miss_px), miss_px)


def _trued(whole: Project, id: str, fit: Fit, miss_px: float) -> Trued:
    picks = tuple(
        Pick((float(x), float(y)), (float(u), float(v))) for (x, y), (u, v) in zip(fit.px, fit.at, strict=True)
    )
    place = replace(
        whole.picture(id).place, matrix=fit.matrix.tolist(), picks=picks, lengths=(), miss_px=miss_px, uncertain=None
    )
    place = replace(place, uncertain=uncertain(place))
    return Trued(beneath.set_place(whole, id, place), fit, fit.sure_within(fit.px))


def lay_by_points(
    whole: Project, id: str, px: Sequence[Point], at: Sequence[Point], keep_scale: bool = False
) -> tuple[Project, Laid]:
    """Scale, turn and shift a photo so that points of it come to lie on places (mm), as well as they can.

    What it was made from goes along. Its own error grows by the misfit. Raises PlaneError for fewer than two.
    """
    place = whole.picture(id).place
    here = [through(place.matrix, point) for point in px]
    laid = lay_on(here, at, keep_scale)
    shift = float(laid.matrix[0, 2]), float(laid.matrix[1, 2])
    moved = beneath.moved(place, similarity(laid.scale, laid.turn_rad, shift=shift), laid.scale)
    off = float(np.sqrt(np.mean(laid.misfits**2)))
    if moved.uncertain is not None:
        moved = replace(moved, uncertain=moved.uncertain + off)
    return beneath.set_place(whole, id, moved), laid


def crop(whole: Project, id: str, box: Crop | None) -> Project:
    """Show a part of a photo, or with None all of it; how far a traced point may be off is worked out anew.

    The misfit of a photo that was laid on by common points stays in it: no crop takes that away.
    """
    cropped = beneath.crop_picture(whole, id, box)
    place = cropped.picture(id).place
    own, more = _own_uncertain(place), _laid_off(whole.picture(id).place)
    return beneath.set_place(cropped, id, place if own is None else replace(place, uncertain=own + more))


def uncertain(place: Place) -> float | None:
    """How far (mm) a point traced from what is shown of a photo may be off; as it was, where nobody can tell anew."""
    own = _own_uncertain(place)
    return place.uncertain if own is None else own


def _laid_off(place: Place) -> float:
    """What a photo's error is more than its picks tell, mm: the misfit of having been laid on."""
    own = _own_uncertain(place)
    return 0.0 if own is None or place.uncertain is None else max(place.uncertain - own, 0.0)


def _own_uncertain(place: Place) -> float | None:
    """How far a traced point may be off by what the photo was made from; None where that tells nothing."""
    if len(place.picks) < 4:
        return beneath.scale_uncertain(place)
    fit = plane([pick.px for pick in place.picks], [pick.at for pick in place.picks], place.miss_px)
    spots = _spots(place)
    off = fit.sure_within(spots)
    own = place.miss_px * _largest_pixel(place, spots)
    return min(off + own, 1e5)


def traced_within(place: Place, at: Sequence[Point], hand: float = 0.0) -> float | None:
    """How far (mm) a line may be off that was traced from a photo; None where it doesn't show all of its points.

    at : the points, mm of the photo's link.     hand : mm by which the tracing hand may miss, such as a pixel of the
    screen. None too while the photo has no scale. Of a photo made true it is worked out at these very points, with the
    misfit of having been laid on.
    """
    if place.uncertain is None or not all(shows(place, point) for point in at):
        return None
    if len(place.picks) < 4:
        return place.uncertain + hand
    fit = plane([pick.px for pick in place.picks], [pick.at for pick in place.picks], place.miss_px)
    px = [through(inverse(place.matrix), point) for point in at]
    off = fit.sure_within(px)
    return min(off + _laid_off(place), place.uncertain) + max(hand, place.miss_px * _largest_pixel(place, px))


def _spots(place: Place) -> Array:
    """Places all over what is shown of a photo and lies well before its horizon, pixels."""
    left, top, right, bottom = place.shown_box
    grid = np.array([(x, y) for x in np.linspace(left, right, SPOTS) for y in np.linspace(top, bottom, SPOTS)])
    row, middle = np.array(place.matrix[2]), middle_depth(place)
    depth = (grid @ row[:2] + row[2]) / middle
    return np.asarray(grid[depth >= LEAST_DEPTH], dtype=float)


def _largest_pixel(place: Place, px: ArrayLike) -> float:
    """The size of the photo's largest pixel at some places (pixels), mm."""
    spots, matrix = np.asarray(px, dtype=float), np.array(place.matrix)
    here = project(matrix, spots)
    steps = [np.hypot(*(project(matrix, spots + step) - here).T) for step in ((1e-3, 0.0), (0.0, 1e-3))]
    return float(np.max(steps)) * 1e3
