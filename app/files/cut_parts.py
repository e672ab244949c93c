"""What the files of cut parts have in common: their units, layers, and the mark that is written on a part.

Two layers, in every kind of file: `CUT` holds closed contours only, `MARK` what is scribed or etched: the part's name
and the lines at which it is bent. The mark stands where the most room for it is, clear of edge and holes, in letters as
tall as fit there up to a size that is easily read; it is read from the same side on both hands.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely

if TYPE_CHECKING:
    from kinematics.arrays import Complexes
    from kinematics.cutting import Part

CUT, MARK = "CUT", "MARK"
MM_PER = {"mm": 1.0, "in": 25.4}
HEIGHTS = (6.0, 5.0, 4.0, 3.0, 2.5, 2.0, 1.5)
"""Of the mark's letters, mm; below the least no cutter's pen keeps up, and the mark may reach over an edge."""
WIDE = 0.75
"""Width of a letter by its height, about, in the plain fonts that cutters' programs have."""
CLEAR = 1.0
"""Mm that the mark keeps from edge and holes."""
PLACES = 15
"""Places across and along a part that are tried for the mark's middle."""
SAGITTA = 0.1
ON_ROW = 1e-6
"""Mm by which a pin may miss the x axis and still stand on it."""


@dataclass(frozen=True, slots=True)
class Written:
    """Words on a part: their middle, and the height of their letters (mm)."""

    text: str
    at: complex
    height: float


def mark_of(part: Part) -> Written:
    """The mark of a part: of the places where the tallest letters fit, the one nearest to the row of pins' middle.

    Its note stands behind the mark where there is room for both.
    """
    said = " ".join(part.mark.split()) + (f" {part.hand}" if part.hand else "")
    if part.taper is not None:
        said += f", {part.taper[0]:.2f} to {part.taper[1]:.2f} mm"
    text = "".join(letter if letter.isprintable() else "?" for letter in said)
    middle, places, free = _middle(part), _places(part), _free(part)
    for words in (f"{text}, {part.note}", text) if part.note else (text,):
        for height in HEIGHTS:
            wide = 0.5 * WIDE * height * max(len(words), 1)
            boxes = shapely.box(
                places.real - wide, places.imag - height / 2.0, places.real + wide, places.imag + height / 2.0
            )
            fits = np.flatnonzero(shapely.contains(free, boxes))
            if len(fits):
                return Written(words, complex(places[fits[0]]), height)
    return Written(text, middle, HEIGHTS[-1])


def _middle(part: Part) -> complex:
    """Of the row of pins, else of the part."""
    left, low, right, high = part.box()
    row = [hole.at.real for hole in part.holes if abs(hole.at.imag) < ON_ROW]
    return complex((min(row) + max(row)) / 2.0, 0.0) if row else complex((left + right) / 2.0, (low + high) / 2.0)


def _places(part: Part) -> Complexes:
    """Where the mark's middle may be, the nearest to the part's first."""
    left, low, right, high = part.box()
    middle = _middle(part)
    x, y = np.meshgrid(np.linspace(left, right, PLACES), np.linspace(low, high, PLACES))
    places = np.concatenate([[middle], (x + 1j * y).ravel()])
    ordered: Complexes = places[np.argsort(np.abs(places - middle), kind="stable")]
    return ordered


def _free(part: Part) -> shapely.Geometry:
    """Where a mark may be: the part, less what is near its edge, its holes and the lines on it."""
    metal = shapely.Polygon(part.outer.polyline(SAGITTA))
    if not metal.is_valid:
        metal = metal.buffer(0.0)
    for each in part.inner:
        metal = metal.difference(shapely.Polygon(each.polyline(SAGITTA)))
    lines = shapely.MultiLineString([[(a.real, a.imag), (b.real, b.imag)] for a, b in part.bends])
    free = metal.buffer(-CLEAR).difference(lines.buffer(CLEAR))
    shapely.prepare(free)
    return free
