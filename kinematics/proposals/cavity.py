"""The cavity: where a hinge would sit, when nobody has drawn zones.

A pin could stand anywhere on the sheet, behind the wall or in mid air above the panel, and the wants might hold all the
same; nobody could build it. So a search looks first beneath the shut panel near its rear edge: in the free space that
is connected with it, kept off all outlines by half a link's width, in front of what stands behind. It is found on a
grid by growing from a point below the panel. Where that space is too small for a hinge, there is no cavity, and the
search looks anywhere.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy import ndimage

from kinematics.proposals.fields import distances, field_from
from kinematics.rear_edge import room_below

if TYPE_CHECKING:
    from kinematics.arrays import Bools, Complexes, Floats, Ints
    from kinematics.project import Project
    from kinematics.proposals.fields import Field
    from kinematics.rear_edge import RearEdge

CELLS = 20_000
"""Corners of the grid, about."""
AHEAD, BEHIND, BELOW = 1.5, 0.25, 1.6
"""How far from the rear edge a hinge reaches, in its usual sizes."""
SMALLEST = 0.08
"""Less free space than this (square of the usual size) is no place for a hinge."""


def cavity(project: Project, frame: RearEdge, size: float, off: float) -> Field | None:
    """Where pins may stand by the search's own choice; None where there is no such place.

    off : mm that pins keep from every outline.
    """
    if frame.panel.is_empty:
        return None
    u, v, step = _grid(size)
    seen = u[None, :] + 1j * v[:, None]
    points = frame.origin + frame.ahead * (seen if frame.sign > 0 else np.conj(seen))
    free = _free(project, points, off) & (seen.imag < _underside(frame, u)[None, :])
    grown = _connected(free, _start(frame, u, v, free))
    if grown is None or grown.sum() * step**2 < SMALLEST * size**2:
        return None
    return _field(points, grown, step)


def _grid(size: float) -> tuple[Floats, Floats, float]:
    wide, high = (AHEAD + BEHIND) * size, (BELOW + 0.2) * size
    step = float(np.sqrt(wide * high / CELLS))
    return np.arange(-BEHIND * size, AHEAD * size, step), np.arange(-BELOW * size, 0.2 * size, step), step


def _free(project: Project, points: Complexes, off: float) -> Bools:
    """Which points keep off every outline, and stand in no solid."""
    free = np.ones(points.shape, dtype=bool)
    for outline in project.outlines:
        if outline.on in (project.fixed.id, project.panel.id):
            away, side = distances(outline, points.ravel(), 2.0)
            signed = np.where(side < 0.0, -away, away) if outline.closed else away
            free &= (signed > off + outline.half_width).reshape(points.shape)
    return free


def _underside(frame: RearEdge, u: Floats) -> Floats:
    """(n,) the v of the panel's underside; behind its end that of the end."""
    few = np.linspace(u[0], u[-1], 24)
    return np.interp(u, few, [frame.underside(float(each)) for each in few])


def _start(frame: RearEdge, u: Floats, v: Floats, free: Bools) -> tuple[int, int] | None:
    """Row and column of a free point below the panel, the nearest to where a hinge is usually hung."""
    at = 0.35 * u[-1]
    below = frame.underside(at) - min(0.3 * room_below(frame, at), 0.3 * u[-1])
    rows, columns = np.nonzero(free)
    if not len(rows):
        return None
    nearest = int(np.argmin((u[columns] - at) ** 2 + (v[rows] - below) ** 2))
    return int(rows[nearest]), int(columns[nearest])


def _connected(free: Bools, start: tuple[int, int] | None) -> Bools | None:
    if start is None:
        return None
    labels, _ = ndimage.label(free)
    return np.asarray(labels == labels[start])


def _field(points: Complexes, grown: Bools, step: float) -> Field:
    """A field on the sheet's axes from a region in the hinge frame: distance to its edge, negative within.

    The grid's border is an edge too, as nobody has looked what is beyond.
    """
    bordered = np.pad(grown, 1)
    inside = ndimage.distance_transform_edt(bordered, sampling=step)[1:-1, 1:-1]
    outside = ndimage.distance_transform_edt(~grown, sampling=step)
    values = np.where(grown, 0.5 * step - inside, outside - 0.5 * step)
    low = complex(points.real.min(), points.imag.min()) - 2 * step * (1 + 1j)
    high = complex(points.real.max(), points.imag.max()) + 2 * step * (1 + 1j)
    columns, rows = int((high - low).real / step) + 2, int((high - low).imag / step) + 2
    grid = np.asarray(low + step * (np.arange(columns)[None, :] + 1j * np.arange(rows)[:, None]), dtype=np.complex128)
    row, column, beyond = _place_in(points, grid, step)
    laid = values[row, column] + beyond
    return field_from(laid, low, step, solid=True)


def _place_in(points: Complexes, grid: Complexes, step: float) -> tuple[Ints, Ints, Floats]:
    """Row and column of the turned grid nearest to each corner of the straight one, and how far outside it that is."""
    origin = points[0, 0]
    along, across = (points[0, 1] - origin) / step, (points[1, 0] - origin) / step
    off = (grid - origin) / step
    column, row = (off * along.conjugate()).real, (off * across.conjugate()).real
    rows, columns = points.shape
    beyond = np.hypot(
        np.maximum(0.0, np.maximum(-column, column - columns + 1)), np.maximum(0.0, np.maximum(-row, row - rows + 1))
    )
    row = np.clip(np.rint(row), 0, rows - 1).astype(np.intp)
    column = np.clip(np.rint(column), 0, columns - 1).astype(np.intp)
    return row, column, beyond * step
