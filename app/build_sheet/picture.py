"""A picture on the build sheet: shapes, where links stand, what must fit; and how it is put on paper."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np

from app.files.pictures import draw_shapes
from app.look import light
from app.shapes import Label, Layer, Pen, Stroke, Symbol
from app.sheet import Camera, fitted

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from app.build_sheet.facts import Facts
    from app.files.drafting import Draft
    from app.look import Look
    from app.shapes import Placement, Shape
    from kinematics.project import Point

PX = 0.33
"""Mm of paper to a pixel of the shapes: words of 11 pixels come out at 10.3 pt."""
LOOK: Look = replace(light(), paper="#ffffff", edge="#777777", line=1.3, thin=0.8, heavy=2.4, faint="#45494c")
"""Ink on white paper."""
FINE_PX = 0.2735
FINE_LOOK: Look = replace(LOOK, small_px=13.0, words_px=14.0)
"""For sections: their dimensions keep their distances in pixels, so more of the paper is left to the section itself."""
SMALL_PX = 0.2375
SMALL_LOOK: Look = replace(LOOK, small_px=15.0, words_px=16.0)
"""For the set-out, likewise."""
MARGINS = (34.0, 26.0, 34.0, 26.0)
"""Pixels round what must fit, for words."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What a drawing is asked for.   of : a pivot, hand, link or opening.   aspect : width over height of its room."""

    facts: Facts
    of: str
    aspect: float


@dataclass(frozen=True, slots=True)
class Picture:
    """What is drawn.   fits : points (mm) that must be seen.   aim : makes the camera for a size; None: all that fits.
    px : mm of paper to a pixel.
    """

    shapes: tuple[Shape, ...]
    fits: tuple[Point, ...] = ()
    placements: Mapping[str, Placement] = field(default_factory=dict)
    margins: tuple[float, float, float, float] = MARGINS
    aim: Callable[[tuple[float, float]], tuple[Camera, tuple[Shape, ...]]] | None = None
    px: float = PX

    def put(self, draft: Draft, place: tuple[float, float, float, float]) -> None:
        """Draw it in a rectangle of the sheet (left, top, width, height; mm)."""
        size = place[2] / self.px, place[3] / self.px
        if self.aim is not None:
            camera, found = self.aim(size)
        else:
            camera, found = fitted(np.array(self.fits, dtype=float).reshape(-1, 2), size, self.margins), self.shapes
        with draft.pixels(place, self.px) as painter:
            draw_shapes(painter, list(found), dict(self.placements), camera, LOOK)


# Pieces of pictures --------------------------------------------------------------------------------------------------


def line(key: str, points: Iterable[Point], px: float = LOOK.line, dash: tuple[float, ...] = ()) -> Stroke:
    """A line in ink."""
    return Stroke(key, "", tuple(points), Pen(LOOK.ink, px, dash), Layer.GAPS)


def face(key: str, points: Iterable[Point], fill: str = "", veil: float = 1.0, layer: Layer = Layer.LINKS) -> Stroke:
    """A closed line with a face."""
    return Stroke(key, "", tuple(points), Pen(LOOK.ink, LOOK.line), layer, closed=True, fill=fill, veil=veil)


def words(key: str, at: Point, text: str, away: Point = (1.0, 0.0), rank: int = 2, *, bold: bool = False) -> Label:
    """Words beside a point."""
    return Label(
        key,
        "",
        at,
        text,
        LOOK.ink,
        LOOK.paper,
        LOOK.small_px,
        away,
        rank=rank,
        bold=bold,
        clear_px=5.0,
        leader=rank > 2,
    )


def measure(key: str, a: Point, b: Point, text: str, away: Point = (0.0, 1.0)) -> list[Shape]:
    """A dimension: a thin line from point to point, a stroke across each end, and its figure."""
    turn = float(np.degrees(np.arctan2(b[1] - a[1], b[0] - a[0])))
    middle = 0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])
    return [
        Stroke(key, "", (a, b), Pen(LOOK.ink, LOOK.thin), Layer.GAPS),
        Symbol(f"{key} ends", "", (a, b), "tick", LOOK.ink, LOOK.paper, Layer.GAPS, turn),
        words(f"{key} words", middle, text, away, 1),
    ]


def box_points(points: Iterable[Point]) -> tuple[Point, ...]:
    """The corners between which points lie."""
    flat = np.array(list(points), dtype=float)
    low, high = flat.min(axis=0).tolist(), flat.max(axis=0).tolist()
    return (low[0], low[1]), (high[0], high[1])
