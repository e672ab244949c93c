"""The sheet of paper itself: its scale, its squares, its scale bar, and what fits on it. No Qt here.

*Camera*: which part of the side view is on the sheet: pixels per mm, and the point (mm) at the middle of the sheet.
Screens count y down.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import floor, log2, log10
from typing import TYPE_CHECKING

import numpy as np

from app.datums import heights
from app.lengths import exact_length, format_number, style_of
from app.shapes import seen
from kinematics.loading import spots as load_spots

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from app.lengths import Units
    from app.symbols import Spot
    from kinematics.analysis import Analysis
    from kinematics.project import Point, Project

INCH = 25.4
LEAST_SCALE, LARGEST_SCALE = 0.002, 200.0  # pixels per mm: a wall of 500 m, a hair
STEPS_IN = (
    1 / 64,
    1 / 16,
    1 / 8,
    1 / 4,
    1 / 2,
    1.0,
    3.0,
    6.0,
    12.0,
    36.0,
    120.0,
    600.0,
    1200.0,
    6000.0,
    12000.0,
)  # of a rule, then feet


@dataclass(frozen=True, slots=True)
class Camera:
    """What is on the sheet. `scale`: pixels per mm; `middle`: the point (mm) in the middle; `size`: pixels."""

    scale: float
    middle: Point
    size: Spot

    def to_px(self, point: Point) -> Spot:
        """Give the place of a point on the sheet, pixels from its upper left corner."""
        return self.size[0] / 2 + (point[0] - self.middle[0]) * self.scale, self.size[1] / 2 - (
            point[1] - self.middle[1]
        ) * self.scale

    def to_mm(self, spot: Spot) -> Point:
        """Give the point that stands at a place on the sheet."""
        return self.middle[0] + (spot[0] - self.size[0] / 2) / self.scale, self.middle[1] - (
            spot[1] - self.size[1] / 2
        ) / self.scale

    def zoomed(self, factor: float, about: Spot) -> Camera:
        """Zoom, keeping the point at `about` (pixels) where it is; the scale stays within bounds."""
        scale = min(max(self.scale * factor, LEAST_SCALE), LARGEST_SCALE)
        x, y = self.to_mm(about)
        middle = x - (about[0] - self.size[0] / 2) / scale, y + (about[1] - self.size[1] / 2) / scale
        return replace(self, scale=scale, middle=middle)


def fitted(points: NDArray[np.float64], size: Spot, margin: float | tuple[float, float, float, float] = 60.0) -> Camera:
    """Give the camera that shows all points ((n, 2) mm), with a margin (pixels: left, top, right, bottom); for no
    points, 600 mm around the origin.
    """
    left, top, right, bottom = (margin,) * 4 if isinstance(margin, float) else margin
    if not len(points):
        points = np.array([[-300.0, -300.0], [300.0, 300.0]])
    low, high = points.min(axis=0), points.max(axis=0)
    wide, tall = np.maximum(high - low, 1.0).tolist()
    scale = min(max(size[0] - left - right, 20.0) / wide, max(size[1] - top - bottom, 20.0) / tall)
    scale = min(max(scale, LEAST_SCALE), LARGEST_SCALE)
    x, y = ((low + high) / 2).tolist()
    return Camera(scale, (x + (right - left) / 2 / scale, y + (top - bottom) / 2 / scale), size)


def extent(project: Project, analysis: Analysis) -> NDArray[np.float64]:
    """Give points (n, 2) mm between which all of the picture lies: outlines, zones, pins, marks shut, and the panel
    through its sweep, floor and roof; nothing of what is hidden.
    """
    lines = [outline.points for outline in seen(project.outlines)] + [zone.points for zone in project.zones]
    found = [np.array(line) for line in lines]
    spots = [*(pivot.at for pivot in seen(project.pivots)), *(mark.at for mark in seen(project.marks))]
    spots += [spot.at for spot in load_spots(project)]
    prop = None if project.loads is None else project.loads.prop_rod
    spots += [] if prop is None else [prop.from_end.at, prop.to_end.at]
    found += [np.array([spot]) for spot in spots]
    panel = analysis.links.index(project.panel.id)
    turn, shift = np.exp(1j * analysis.turns[:, panel]), analysis.shifts[:, panel]
    for outline in seen(project.outlines):
        if outline.on == project.panel.id:
            flat = np.array(outline.points)
            swept = np.outer(turn, flat[:, 0] + 1j * flat[:, 1]) + shift[:, None]
            found.append(np.stack([swept.real.ravel(), swept.imag.ravel()], axis=1))
    paths = analysis.pivot_paths
    found += [paths[pivot.id] for pivot in seen(project.pivots)]
    if found:  # floor and roof, above and below the rest
        x = float(np.concatenate(found)[:, 0].mean())
        found += [np.array([[x, y]]) for _, y in heights(project)]
    return np.concatenate(found) if found else np.zeros((0, 2))


def is_another(old: Project, new: Project) -> bool:
    """Tell whether this is another project altogether, not the same after an edit: none of its parts is an old one."""
    parts = {id(part) for part in (*old.links, *old.pivots, *old.outlines, old.travel)}
    return not any(id(part) in parts for part in (*new.links, *new.pivots, *new.outlines, new.travel))


def grid_steps(scale: float, units: Units, least_px: float = 9.0) -> tuple[float, float]:
    """Give the fine and the coarse step of the squares (mm) for a scale (pixels per mm): round numbers in the
    builder's units.
    """
    if style_of(units).units == "in":
        steps = [step * INCH for step in STEPS_IN]
        fine = next((step for step in steps if step * scale >= least_px), steps[-1])
        return fine, next((step for step in steps if step >= fine * 3.9), fine * 4)
    fine = _round_up(least_px / scale)
    return fine, _round_up(fine * 4.9)


def drawing_step(scale: float, units: Units) -> float:
    """Give a round step (mm) for what is drawn by hand at a scale (pixels per mm), no larger than a pixel: 1, 2 or 5 of
    a tenth, a hundredth …, or a half, a quarter, an eighth … of an inch.
    """
    if style_of(units).units == "in":
        return INCH * 2.0 ** floor(log2(1.0 / (scale * INCH)))
    power = 10.0 ** floor(log10(1.0 / scale))
    return round(max(share * power for share in (1.0, 2.0, 5.0) if share * power * scale <= 1.0 + 1e-9), 9)


def steps_between(low: float, high: float, step: float) -> list[float]:
    """Give the multiples of a step within a range."""
    found: list[float] = (np.arange(np.ceil(low / step), np.floor(high / step) + 1) * step).tolist()
    return found


def scale_bar(scale: float, units: Units, most_px: float = 160.0) -> tuple[float, str]:
    """Give the length (mm) of the scale bar for a scale (pixels per mm), and what is written on it."""
    if style_of(units).units == "in":
        steps = [step * INCH for step in STEPS_IN]
        length = max((step for step in steps if step * scale <= most_px), default=steps[0])
        return length, exact_length(length, units)
    length = _round_up(most_px / scale / 2.5)  # the next step up is at most 2.5 times as long
    return length, f"{format_number(length, units)} mm"


def _round_up(value: float) -> float:
    """Give the next 1, 2 or 5 times a power of ten."""
    power = 10.0 ** floor(log10(value))
    return next((step * power for step in (1.0, 2.0, 5.0) if step * power >= value * (1 - 1e-9)), 10.0 * power)
