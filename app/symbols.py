"""Symbols of the sheet, as strokes in pixels: what keeps its size while the sheet is zoomed. No Qt here.

Pivots as in ISO 3952-1 (kinematic diagrams, graphical symbols): a circle; on the fixed link a circle on a foot with
hatching beneath. From memory, not looked up for this file. The other signs are our own. Each stands around its
point (0, 0); x to the right, y **down**, as screens count.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi, sin

Spot = tuple[float, float]

PIN_RADIUS = 5.0
SIGN = (20.0, 18.0)  # room of a sign that stands before words, or alone in their place


@dataclass(frozen=True, slots=True)
class Piece:
    """One stroke of a symbol: a polyline, or with a `radius` a circle around its first point.

    fill : "" none, "ink" or "paper".     px : weight of the line; 0 draws the face only.
    """

    points: tuple[Spot, ...]
    closed: bool = False
    fill: str = ""
    px: float = 1.4
    radius: float = 0.0


def _disc(radius: float, fill: str = "", px: float = 1.4, at: Spot = (0.0, 0.0)) -> Piece:
    return Piece((at,), closed=True, fill=fill, px=px, radius=radius)


def _arc(at: Spot, radius: float, first: float, last: float) -> tuple[Spot, ...]:
    """Points along a circle from one angle to another, radians, counted as screens turn."""
    return tuple(
        (at[0] + radius * cos(a), at[1] + radius * sin(a)) for a in (first + (last - first) * i / 12 for i in range(13))
    )


_FOOT = 15.0  # how far beneath a fixed pin its ground line lies

_PIN = (_disc(PIN_RADIUS, "paper", 1.6),)

_FIXED_PIN = (
    Piece(((-8.0, _FOOT), (-3.4, 3.6), (3.4, 3.6), (8.0, _FOOT)), closed=True, fill="paper", px=1.2),
    Piece(((-12.0, _FOOT), (12.0, _FOOT)), px=1.6),
    *(Piece(((x, _FOOT), (x - 5.0, _FOOT + 5.0)), px=1.0) for x in (-8.0, -3.0, 2.0, 7.0, 12.0)),
    *_PIN,
)

_LOCK = (  # a padlock, to the upper right of the pin
    Piece(_arc((9.0, -10.5), 2.6, pi, 2 * pi), px=1.4),
    Piece(((5.0, -10.5), (13.0, -10.5), (13.0, -4.5), (5.0, -4.5)), closed=True, fill="ink", px=0.0),
)

_WEIGHT = (
    _disc(7.0, "paper", 1.4),
    Piece(((0.0, 0.0), *_arc((0.0, 0.0), 7.0, -0.5 * pi, 0.0)), closed=True, fill="ink", px=0.0),
    Piece(((0.0, 0.0), *_arc((0.0, 0.0), 7.0, 0.5 * pi, pi)), closed=True, fill="ink", px=0.0),
)

GLYPHS: dict[str, tuple[Piece, ...]] = {
    "pin": _PIN,
    "fixed pin": _FIXED_PIN,
    "lock": _LOCK,
    "mark": (
        _disc(2.2, "ink", 0.0),
        Piece(((-7.0, 0.0), (7.0, 0.0)), px=1.0),
        Piece(((0.0, -7.0), (0.0, 7.0)), px=1.0),
    ),
    # tip at the point, tail to the left: it looks along +x until it is turned
    "arrow": (
        Piece(((-9.0, -2.7), (0.0, 0.0), (-9.0, 2.7)), closed=True, fill="ink", px=0.0),
        Piece(((-20.0, 0.0), (-8.0, 0.0)), px=1.0),
    ),
    # across a line that runs along +x until it is turned
    "tick": (Piece(((0.0, -7.0), (0.0, 7.0)), px=1.0), Piece(((-4.0, 4.0), (4.0, -4.0)), px=1.8)),
    "dot": (_disc(3.0, "ink", 0.0),),
    "contact": (
        _disc(8.0, "paper", 1.6),
        Piece(((-10.0, -10.0), (10.0, 10.0)), px=2.0),
        Piece(((-10.0, 10.0), (10.0, -10.0)), px=2.0),
    ),
    # a triangle with a stroke and a dot in it, as the trade's caution signs are
    "caution": (
        Piece(((0.0, -8.0), (8.0, 6.0), (-8.0, 6.0)), closed=True, fill="paper", px=1.4),
        Piece(((0.0, -3.5), (0.0, 1.5)), px=1.6),
        _disc(1.0, "ink", 0.0, at=(0.0, 3.9)),
    ),
    "handle": (Piece(((-3.5, -3.5), (3.5, -3.5), (3.5, 3.5), (-3.5, 3.5)), closed=True, fill="paper", px=1.2),),
    "chosen handle": (Piece(((-4.5, -4.5), (4.5, -4.5), (4.5, 4.5), (-4.5, 4.5)), closed=True, fill="ink", px=1.2),),
    # an end of a strut or spring: an eye about its pin
    "eye": (_disc(4.2, "paper", 1.4), _disc(1.3, "ink", 0.0)),
    # a disc of which two quarters are inked: where a mass stands
    "mass": _WEIGHT,
    "all masses": (_disc(11.0, "", 1.4), *_WEIGHT),
    # a bow on a foot, to take hold of
    "grip": (
        Piece(((-9.0, 4.0), (9.0, 4.0)), px=2.0),
        Piece(
            (
                (-5.5, 4.0),
                (-5.5, -2.0),
                *_arc((-2.5, -2.0), 3.0, pi, 1.5 * pi),
                *_arc((2.5, -2.0), 3.0, 1.5 * pi, 2 * pi),
                (5.5, 4.0),
            ),
            px=1.8,
        ),
        _disc(1.3, "ink", 0.0),
    ),
    # a hook over a striker that goes to the right into it; turned by the latch's way
    "latch": (
        Piece(((11.0, -8.0), (6.0, -8.0), *_arc((4.0, 0.0), 8.0, 1.6 * pi, 2.4 * pi), (6.0, 8.0), (11.0, 8.0)), px=1.8),
        Piece(((-18.0, 0.0), (-7.0, 0.0)), px=1.2),
        Piece(((-11.0, -3.0), (-7.0, 0.0), (-11.0, 3.0)), px=1.2),
        _disc(4.0, "paper", 1.8),
    ),
    # what is squeezed, and pushes to the right: a hollow bulb on its foot, a dome on its foot
    "seal": (
        Piece(((-13.0, -6.0), (-13.0, 6.0)), px=1.8),
        _disc(5.5, "paper", 1.6, (-6.5, 0.0)),
        _disc(1.8, "", 1.0, (-6.5, 0.0)),
    ),
    "bump stop": (
        Piece(((-13.0, -7.0), (-13.0, 7.0)), px=1.8),
        Piece(
            ((-13.0, -5.0), (-6.0, -5.0), *_arc((-6.0, 0.0), 5.0, 1.5 * pi, 2.5 * pi), (-13.0, 5.0)),
            closed=True,
            fill="paper",
            px=1.6,
        ),
    ),
    "ring": (_disc(10.0, "", 2.0),),
    "hover": (_disc(9.0, "", 1.0),),
    "landed": (_disc(12.0, "", 1.4),),
    "flash": (_disc(14.0, "", 2.0), _disc(22.0, "", 1.4)),
}

PUSH_STEP, PUSH_MOST = 6, 102


def _push(length: float) -> tuple[Piece, ...]:
    """An arrow that leaves a pin along +x until it is turned: an open head, and no word could be taken for it."""
    tail, tip = PUSH_TAIL, PUSH_TAIL + length
    return (
        Piece(((tail, 0.0), (tip - 8.0, 0.0)), px=1.6),
        Piece(((tip - 9.0, -3.8), (tip, 0.0), (tip - 9.0, 3.8)), closed=True, fill="paper", px=1.4),
    )


PUSH_TAIL = 8.0  # off the pin's middle, pixels
PUSHES = tuple(range(18, PUSH_MOST + 1, PUSH_STEP))  # lengths that there are, pixels
GLYPHS.update({f"push {length}": _push(float(length)) for length in PUSHES})

FORCE_STEP, FORCE_MOST = 2, 240
FORCE_TAIL, FORCE_TAIL_RINGED = 7.0, 13.0  # off the pin's middle, pixels; of a pin with a ring around it


def _force(tail: float, length: float) -> tuple[Piece, ...]:
    """An arrow that leaves a pin along +x until it is turned: a full head, and a stroke across its tail."""
    tip = tail + length
    head = min(10.0, length)
    return (
        Piece(((tail, -3.0), (tail, 3.0)), px=1.4),
        Piece(((tail, 0.0), (tip - 0.8 * head, 0.0)), px=2.2),
        Piece(((tip - head, -3.8), (tip, 0.0), (tip - head, 3.8)), closed=True, fill="ink", px=0.0),
    )


for _length in range(FORCE_STEP, FORCE_MOST + 1, FORCE_STEP):
    GLYPHS[f"force {_length}"] = _force(FORCE_TAIL, float(_length))
    GLYPHS[f"chosen force {_length}"] = _force(FORCE_TAIL_RINGED, float(_length))


def bounds(glyph: str) -> tuple[float, float, float, float]:
    """How far a symbol reaches from its point, line weights included: left, top, right, bottom, pixels."""
    left = top = right = bottom = 0.0
    for piece in GLYPHS[glyph]:
        out = piece.radius + piece.px
        for x, y in piece.points:
            left, right = min(left, x - out), max(right, x + out)
            top, bottom = min(top, y - out), max(bottom, y + out)
    return left, top, right, bottom
