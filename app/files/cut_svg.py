"""A part for the cutter as an SVG drawing: the same contours, with arcs as arcs.

Width and height carry the unit and the viewBox is in it, so that one unit is one mm or one inch (W3C, SVG 1.1, 2011,
7.2 and 7.7). y points downwards there, so what runs anticlockwise in the shop's eyes has sweep flag 0. The groups are
named by the layers `CUT` and `MARK`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING
from xml.sax.saxutils import escape

from app.files.cut_parts import CUT, MARK, MM_PER, Written, mark_of
from kinematics.cutting import is_round

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.contours import Contour, Piece
    from kinematics.cutting import Part

MARGIN = 5.0
"""Mm round the part."""
LINE = 0.1
"""Mm that lines are wide: a hair, as cutters want it."""
HALF = 3.0
"""Rad; an arc of more is written in two, as one that comes back near its start is told badly by its ends."""

Place = tuple[float, float]


def cut_svg(part: Part, units: str = "mm") -> bytes:
    """The drawing of one part.   units : "mm" or "in", of its coordinates."""
    per, mark = MM_PER[units], mark_of(part)
    left, low, right, high = part.box()
    wide, tall = (right - left + 2 * MARGIN) / per, (high - low + 2 * MARGIN) / per

    def place(z: complex) -> Place:
        return (z.real - left + MARGIN) / per, (high + MARGIN - z.imag) / per

    contours = [_contour(part.outer, place, per)]
    contours += [_circle(*place(hole.at), hole.diameter / 2.0 / per) for hole in part.holes]
    contours += [_contour(each, place, per) for each in part.cutouts]
    size = f'width="{_n(wide)}{units}" height="{_n(tall)}{units}" viewBox="0 0 {_n(wide)} {_n(tall)}"'
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" {size}>',
        f"<title>{escape(mark.text)}</title>",
        f'<g id="{CUT}" fill="none" stroke="#000000" stroke-width="{_n(LINE / per)}">',
        *contours,
        "</g>",
        f'<g id="{MARK}" fill="none" stroke="#0000ff" stroke-width="{_n(LINE / per)}">',
        *_marks(part, mark, place, per),
        "</g>",
        "</svg>",
    ]
    return "".join(f"{line}\n" for line in lines).encode()


def _contour(contour: Contour, place: Callable[[complex], Place], per: float) -> str:
    if is_round(contour):
        one, other = contour.corners.tolist()
        return _circle(*place((one + other) / 2.0), abs(one - other) / 2.0 / per)
    pieces = list(contour.pieces())
    words = [f"M{_at(place(pieces[0].start))}"]
    for piece in pieces:
        words += _piece(piece, place, per)
    return f'<path d="{" ".join(words)} Z"/>'


def _piece(piece: Piece, place: Callable[[complex], Place], per: float) -> list[str]:
    """A straight piece, or an arc in one or two."""
    if piece.bulge == 0.0:
        return [f"L{_at(place(piece.end))}"]
    radius, sweep = _n(piece.radius / per), int(piece.bulge < 0.0)
    ends = [piece.end]
    if abs(piece.angle) > HALF:
        across = 1j * (piece.end - piece.start) / 2.0
        ends.insert(0, (piece.start + piece.end) / 2.0 - across * piece.bulge)
    return [f"A{radius} {radius} 0 0 {sweep} {_at(place(end))}" for end in ends]


def _circle(x: float, y: float, radius: float) -> str:
    return f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(radius)}"/>'


def _marks(part: Part, mark: Written, place: Callable[[complex], Place], per: float) -> list[str]:
    """The bend lines and the part's name."""
    lines = []
    for start, end in part.bends:
        (x1, y1), (x2, y2) = place(start), place(end)
        lines.append(f'<line x1="{_n(x1)}" y1="{_n(y1)}" x2="{_n(x2)}" y2="{_n(y2)}"/>')
    x, y = place(mark.at)
    height = mark.height / per
    lines.append(
        f'<text x="{_n(x)}" y="{_n(y + 0.35 * height)}" font-family="sans-serif" font-size="{_n(height / 0.72)}" '
        f'text-anchor="middle" fill="#0000ff" stroke="none">{escape(mark.text)}</text>'
    )
    return lines


def _at(place: Place) -> str:
    return f"{_n(place[0])} {_n(place[1])}"


def _n(value: float) -> str:
    """A number to a billionth, without noughts behind it."""
    return f"{value:.9f}".rstrip("0").rstrip(".")
