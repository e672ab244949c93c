"""Distance fields: how far any point is from an outline, looked up instead of worked out.

A *field* is a grid over an outline's neighbourhood, in the frame of the outline's own link, with the distance to the
line at each of its corners; between them it is interpolated. It is made once; afterwards a point costs the same however
many points the outline has. It is signed: less than 0 inside a solid, and on one side of an open line, the right-hand
side as its points run. Nearest to an end of an open line there is no side, and the distance is positive; the same goes
for places midway between two turns of a coiled line, where one side would change into the other far from the line.

The error of interpolation is nothing along straight parts. A distance changes by no more than the way, so it is nowhere
more than the way to a cell's corners, 0.71 of a cell; as much only right at the tip of a spike or the end of a line.
That is enough to tell good candidates from bad ones; the exact gap is the business of `kinematics.clearance`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy.spatial import cKDTree

from kinematics.arrays import as_complex

if TYPE_CHECKING:
    from kinematics.arrays import Bools, Complexes, Floats, Ints
    from kinematics.project import Outline

CELLS = 200_000
"""Corners of a field's grid, about."""
FINEST = 3.0
"""mm between corners, at least."""
MOST_SAMPLES = 20_000
"""So many samples of an outline at most, though they then stand further apart than asked."""
SAMPLE = 1.0
"""Cells between the samples by which the nearest edge is found."""


@dataclass(frozen=True, slots=True, eq=False)
class Field:
    """Signed distances (mm) of the line itself at the corners of a grid, flat, row by row.

    origin : complex mm, of the first corner.   step : mm.   columns, rows : of corners.
    sideless : by the first corner of each cell, whether any of its corners is nearest to an end of an open line; there
    the distance counts without a sign.
    cells : the four corners of each cell side by side in single precision, disguised as one number, so that a point is
    looked up by reaching into memory once.
    """

    values: Floats
    origin: complex
    step: float
    columns: int
    rows: int
    solid: bool
    sideless: Bools
    cells: Complexes

    def at(self, points: Complexes) -> tuple[Floats, Bools | None]:
        """Distances of points of any shape, and where they have no side (None: a solid has one everywhere).

        Beyond the grid it is the distance at its edge and the way there.
        """
        x = (points.real - self.origin.real) * (1.0 / self.step)
        y = (points.imag - self.origin.imag) * (1.0 / self.step)
        inside_x = np.minimum(np.maximum(x, 0.0), self.columns - 1.001)
        inside_y = np.minimum(np.maximum(y, 0.0), self.rows - 1.001)
        column, row = inside_x.astype(np.intp), inside_y.astype(np.intp)
        first = row * self.columns + column
        corners = np.moveaxis(self.cells.take(first).view(np.float32).reshape(*first.shape, 4), -1, 0)
        across, up = inside_x - column, inside_y - row
        low = corners[0] + (corners[1] - corners[0]) * across
        high = corners[2] + (corners[3] - corners[2]) * across
        found = low + (high - low) * up
        beyond = (np.abs(x - inside_x) + np.abs(y - inside_y)) * self.step
        found += np.copysign(beyond, found)
        return np.asarray(found), None if self.solid else self.sideless.take(first)

    def lot(self, count: int, random: np.random.Generator) -> Complexes:
        """(count,) points by lot within a solid; anywhere on the grid where it has no inside."""
        inside = np.flatnonzero(self.values <= 0.0)
        inside = inside if len(inside) else np.arange(len(self.values))
        cell = inside[random.integers(len(inside), size=count)]
        return np.asarray(self.origin + self.step * (cell % self.columns + 1j * (cell // self.columns)))


def field_of(outline: Outline, low: complex, high: complex) -> Field:
    """Make the field of an outline over a box (corners low and high, mm)."""
    width, height = max((high - low).real, 1.0), max((high - low).imag, 1.0)
    step = max(FINEST, float(np.sqrt(width * height / CELLS)))
    columns, rows = int(np.ceil(width / step)) + 2, int(np.ceil(height / step)) + 2
    grid = (low.real + step * np.arange(columns))[None, :] + 1j * (low.imag + step * np.arange(rows))[:, None]
    away, sides = distances(outline, grid.ravel(), SAMPLE * step)
    ended = (sides == 0.0).reshape(rows, columns)
    sideless = ended.copy()
    sideless[:, :-1] |= ended[:, 1:]
    sideless[:-1] |= sideless[1:]
    values = (away * np.where(sides == 0.0, 1.0, sides)).reshape(rows, columns)
    if not outline.closed:
        sideless |= _jumps(values, step)
    return field_from(values, low, step, outline.closed, sideless)


def _jumps(values: Floats, step: float) -> Bools:
    """Cells, by their first corner, whose corners differ by more than the way from one to the next."""
    found = np.zeros(values.shape, dtype=bool)
    across, up = (np.abs(np.diff(values, axis=axis)) > 1.001 * step for axis in (1, 0))
    found[:-1, :-1] = across[:-1] | across[1:] | up[:, :-1] | up[:, 1:]
    return found


def field_from(values: Floats, low: complex, step: float, solid: bool, sideless: Bools | None = None) -> Field:
    """A field from its values (rows, columns) and cells without a side."""
    rows, columns = values.shape
    sideless = np.zeros(values.shape, dtype=bool) if sideless is None else sideless
    padded = np.pad(values, ((0, 1), (0, 1)), mode="edge")
    corners = np.stack([padded[:-1, :-1], padded[:-1, 1:], padded[1:, :-1], padded[1:, 1:]], axis=-1)
    corners = np.where(sideless[..., None], np.abs(corners), corners)
    cells = np.ascontiguousarray(corners.reshape(-1, 4), dtype=np.float32).view(np.complex128).ravel()
    return Field(values.ravel(), low, step, columns, rows, solid, sideless.ravel(), cells)


def distances(outline: Outline, points: Complexes, sample: float) -> tuple[Floats, Floats]:
    """(n,) distances (mm) of points to the line of an outline, and on which side they are: +1, −1; 0 where on none.

    sample : mm between the samples of the line that decide which edge is nearest; within so much of a corner the next
    edge may be taken, which matters little.
    """
    line = corners_of(outline)
    tails, heads = line[:-1], line[1:]
    edges, samples = _samples(tails, heads, max(sample, float(np.abs(heads - tails).sum()) / MOST_SAMPLES))
    _, nearest = cKDTree(np.stack([samples.real, samples.imag], axis=1)).query(
        np.stack([points.real, points.imag], axis=1)
    )
    edge = edges[nearest]
    found, share = _to_edges(points, tails[edge], heads[edge])
    for neighbour in (edge - 1, edge + 1):
        other = neighbour % len(tails) if outline.closed else np.clip(neighbour, 0, len(tails) - 1)
        also, along = _to_edges(points, tails[other], heads[other])
        nearer = also < found
        found, share, edge = (
            np.where(nearer, also, found),
            np.where(nearer, along, share),
            np.where(nearer, other, edge),
        )
    return found, _sides(outline.closed, points, tails, heads, edge, share)


def corners_of(outline: Outline) -> Complexes:
    """(n,) the vertices once round, the first again at the end of a closed outline, without those that repeat."""
    line = as_complex(outline.points)
    line = np.append(line, line[0]) if outline.closed else line
    moves = np.append(True, np.abs(np.diff(line)) > 0.0)
    return line[moves] if moves.sum() > 1 else line[:2]


def _samples(tails: Complexes, heads: Complexes, apart: float) -> tuple[Ints, Complexes]:
    """Points along all edges, and which edge each lies on."""
    counts = np.maximum(2, np.ceil(np.abs(heads - tails) / apart).astype(int) + 1)
    edges = np.repeat(np.arange(len(tails)), counts)
    shares = np.concatenate([np.linspace(0.0, 1.0, count) for count in counts])
    return edges, tails[edges] + shares * (heads[edges] - tails[edges])


def _to_edges(points: Complexes, tails: Complexes, heads: Complexes) -> tuple[Floats, Floats]:
    """Distance of each point to its edge, and how far along the edge (0 … 1) the nearest place is."""
    ways = heads - tails
    long = np.maximum((ways * ways.conj()).real, 1e-18)
    share = np.clip(((points - tails) * ways.conj()).real / long, 0.0, 1.0)
    return np.abs(points - tails - share * ways), share


def _sides(closed: bool, points: Complexes, tails: Complexes, heads: Complexes, edge: Ints, share: Floats) -> Floats:
    """+1 outside and to the left, −1 inside and to the right, 0 at an end. At a corner both edges have a say."""
    ways = (heads - tails) / np.maximum(np.abs(heads - tails), 1e-12)
    last = len(tails) - 1
    before, after = (edge - 1) % len(tails), (edge + 1) % len(tails)
    way = ways[edge]
    way = np.where(share <= 0.0, way + ways[before], np.where(share >= 1.0, way + ways[after], way))
    corner = np.where(share < 0.5, tails[edge], heads[edge])
    off = points - corner
    left = way.real * off.imag - way.imag * off.real
    if closed:
        area = float((tails.conj() * heads).imag.sum())
        return np.where(left * np.sign(area) > 0.0, -1.0, 1.0)
    at_end = ((edge == 0) & (share <= 0.0)) | ((edge == last) & (share >= 1.0))
    return np.where(at_end, 0.0, np.where(left >= 0.0, 1.0, -1.0))
