"""The shapes of SVG as subpaths in user units: path, rect, circle, ellipse, line, polyline, polygon.

Source: W3C, SVG 2, 2018, 9 and 10.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot, pi, sqrt, tau
from typing import TYPE_CHECKING, TypeAlias

from app.files.flatten import Arc, Piece, Straight
from app.files.svg_numbers import NUMBER, length_px
from app.files.svg_path import SPACE, Subpath, TooLongError, read_path

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.files.svg_file import Element

Read: TypeAlias = tuple[list[Subpath], bool]
"""Subpaths, and whether the shape was whole."""


@dataclass(frozen=True, slots=True)
class Bounds:
    """A viewport's size in user units: what 100 % means."""

    wide: float
    high: float

    @property
    def across(self) -> float:
        """What 100 % means for a length along neither side."""
        return hypot(self.wide, self.high) / sqrt(2)


def _path(element: Element, _size: Bounds, most: int) -> Read:
    return read_path(element.get("d"), most)


def _line(element: Element, size: Bounds, _most: int) -> Read:
    ends = (_point(element, size, ("x1", "y1")), _point(element, size, ("x2", "y2")))
    return _drawn(Straight(ends), closed=False)


def _poly(element: Element, _size: Bounds, most: int) -> Read:
    """The points of a polyline or polygon; an odd number at the end is wrong, and left out."""
    text, position, numbers = element.get("points"), 0, []
    while True:
        position = match.end() if (match := SPACE.match(text, position)) else position
        found = NUMBER.match(text, position)
        if found is None:
            break
        numbers.append(float(found[0]))
        position = found.end()
        if len(numbers) > 2 * most:
            raise TooLongError
    whole = position == len(text) and len(numbers) % 2 == 0
    points = [complex(*pair) for pair in zip(numbers[::2], numbers[1::2], strict=False)]
    closed = element.name == "polygon" and len(points) > 2
    if len(points) < 2:
        return [], whole
    return [Subpath([Straight(tuple([*points, points[0]] if closed else points))], closed)], whole


def _circle(element: Element, size: Bounds, _most: int) -> Read:
    r = length_px(element.get("r"), size.across)
    return _ellipse_of(_point(element, size, ("cx", "cy")), r, r)


def _ellipse(element: Element, size: Bounds, _most: int) -> Read:
    return _ellipse_of(_point(element, size, ("cx", "cy")), *_radii(element, size))


def _ellipse_of(centre: complex, rx: float, ry: float) -> Read:
    if rx < 0 or ry < 0:
        raise ValueError(rx)
    return _drawn(Arc(centre, complex(rx), 1j * ry, 0.0, tau), closed=True) if rx and ry else ([], True)


def _rect(element: Element, size: Bounds, _most: int) -> Read:
    wide, high = length_px(element.get("width"), size.wide), length_px(element.get("height"), size.high)
    if wide < 0 or high < 0:
        raise ValueError(wide)
    if not (wide and high):
        return [], True
    corner = _point(element, size, ("x", "y"))
    rx, ry = _radii(element, size)
    rx, ry = min(rx, wide / 2), min(ry, high / 2)
    if rx <= 0 or ry <= 0:
        ends = (corner, corner + wide, corner + complex(wide, high), corner + 1j * high, corner)
        return _drawn(Straight(ends), closed=True)
    return [Subpath(_rounded(corner, (wide, high), (rx, ry)), True)], True


def _rounded(corner: complex, size: tuple[float, float], radii: tuple[float, float]) -> list[Piece]:
    """A rectangle with rounded corners, from the end of its first corner on."""
    (wide, high), (rx, ry) = size, radii
    middles = [complex(wide - rx, ry), complex(wide - rx, high - ry), complex(rx, high - ry), complex(rx, ry)]
    arcs = [
        Arc(corner + middle, complex(rx), 1j * ry, quarter * pi / 2, pi / 2)
        for quarter, middle in zip((-1, 0, 1, 2), middles, strict=True)
    ]
    pieces: list[Piece] = []
    for before, arc in zip([arcs[-1], *arcs], arcs, strict=False):
        pieces += [Straight((before.at(before.start + before.span), arc.at(arc.start))), arc]
    return pieces


def _radii(element: Element, size: Bounds) -> tuple[float, float]:
    """Both radii of a rectangle or ellipse; one that isn't given, or "auto", is like the other."""
    given = ["" if element.get(name) == "auto" else element.get(name) for name in ("rx", "ry")]
    rx, ry = given[0] or given[1], given[1] or given[0]
    # A percentage counts along the side of the radius that was given.
    wholes = (size.wide if given[0] else size.high, size.high if given[1] else size.wide)
    return length_px(rx, wholes[0]), length_px(ry, wholes[1])


def _point(element: Element, size: Bounds, names: tuple[str, str]) -> complex:
    x, y = names
    return complex(length_px(element.get(x), size.wide), length_px(element.get(y), size.high))


def _drawn(piece: Piece, closed: bool) -> Read:
    return [Subpath([piece], closed)], True


SHAPES: dict[str, Callable[[Element, Bounds, int], Read]] = {
    "path": _path,
    "rect": _rect,
    "circle": _circle,
    "ellipse": _ellipse,
    "line": _line,
    "polyline": _poly,
    "polygon": _poly,
}
