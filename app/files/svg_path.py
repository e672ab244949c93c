"""The `d` of an SVG path as exact pieces: every command, absolute and relative, written as tersely as may be.

A path is a row of *commands*, letters, each with groups of numbers; a group more repeats the command (after a move,
as a line). Small letters count from the point where the pen is. Numbers may stand without anything between them, as far
as they can be told apart: `1.5.5-2` is three; the two flags of an arc are single digits. A *subpath* goes from one
move to the next. What is wrong ends the path: what stands before it is good.
Source: W3C, SVG 2, 2018, 9.3 (path data) and B.2.4 (an arc's centre from its ends).
"""

from __future__ import annotations

import cmath
import math
import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from app.files.flatten import Arc, Piece, Spline, Straight
from app.files.svg_numbers import NUMBER

if TYPE_CHECKING:
    from collections.abc import Callable

SPACE = re.compile(r"[\s,]*")
FLAG = re.compile(r"[01]")
COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
"""Numbers in a group of each command."""


class TooLongError(Exception):
    """A path of more segments than asked for."""


@dataclass(slots=True)
class Subpath:
    """Pieces that follow each other end to end, in user units."""

    pieces: list[Piece] = field(default_factory=list)
    closed: bool = False


def read_path(text: str, most: int) -> tuple[list[Subpath], bool]:
    """The subpaths of a path that draw something, and whether it was whole (False: it breaks off at something wrong).

    most : segments; more of them raise TooLongError.
    """
    pen = _Pen()
    position, count, command = 0, 0, ""
    while True:
        start = _after(SPACE, text, position)
        if start == len(text):
            return pen.finished(), True
        letter = text[start] if text[start].upper() in COUNTS else ""
        position, command = (start + 1, letter) if letter else (start, {"M": "L", "m": "l"}.get(command, command))
        if not command or (command in "zZ" and not letter) or (not pen.begun and command not in "mM"):
            return pen.finished(), False
        numbers, position = _group(text, position, command.upper())
        if numbers is None:
            return pen.finished(), False
        count += 1
        if count > most:
            raise TooLongError
        pen.draw(command, numbers)


def _after(pattern: re.Pattern[str], text: str, position: int) -> int:
    match = pattern.match(text, position)
    return match.end() if match else position


def _group(text: str, position: int, command: str) -> tuple[list[float] | None, int]:
    """The numbers of one group, and where they end; None where they aren't all there."""
    found: list[float] = []
    for place in range(COUNTS[command]):
        start = _after(SPACE, text, position)
        match = (FLAG if command == "A" and place in (3, 4) else NUMBER).match(text, start)
        if match is None:
            return None, position
        found.append(float(match[0]))
        position = match.end()
    return found, position


class _Pen:
    """Draws; knows where it is, where its subpath began, and the last control point, which a smooth curve mirrors."""

    def __init__(self) -> None:
        self._done: list[Subpath] = []
        self._now = Subpath()
        self._run: list[complex] = []  # straight stretches, not yet a piece
        self._at = self._start = 0j
        self._control: tuple[str, complex] | None = None
        self.begun = False

    def draw(self, command: str, numbers: list[float]) -> None:
        """Do one command with one group of numbers."""
        base = self._at if command.islower() else 0j
        kind = command.upper()
        before, self._control = self._control, None
        if kind == "A":
            self._arc_to(numbers, base)
        elif kind in "HV":
            along, still = (numbers[0] + base.real, self._at.imag), (self._at.real, numbers[0] + base.imag)
            self._line_to(complex(*(along if kind == "H" else still)))
        else:
            points = [complex(*pair) + base for pair in zip(numbers[::2], numbers[1::2], strict=True)]
            self._by_points(kind, points, before)

    def finished(self) -> list[Subpath]:
        """All subpaths that draw something."""
        self._end()
        return self._done

    def _by_points(self, kind: str, points: list[complex], before: tuple[str, complex] | None) -> None:
        simple: dict[str, Callable[..., None]] = {"M": self._move_to, "L": self._line_to, "Z": self._close}
        if kind in simple:
            simple[kind](*points)
            return
        if kind in "ST":
            family = "C" if kind == "S" else "Q"
            mirrored = 2 * self._at - before[1] if before and before[0] == family else self._at
            kind, points = family, [mirrored, *points]
        self._curve_to(points)
        self._control = (kind, points[-2])

    def _move_to(self, to: complex) -> None:
        self._end()
        self.begun = True
        self._at = self._start = to

    def _line_to(self, to: complex) -> None:
        self._run += [to] if self._run else [self._at, to]
        self._at = to

    def _curve_to(self, points: list[complex]) -> None:
        degree = len(points)
        control = (self._at, *points)
        knots = (0.0,) * (degree + 1) + (1.0,) * (degree + 1)
        self._add(Spline(control, (1.0,) * (degree + 1), knots, degree))
        self._at = points[-1]

    def _arc_to(self, numbers: list[float], base: complex) -> None:
        rx, ry, turn_deg, large, sweep = numbers[:5]
        to = complex(numbers[5], numbers[6]) + base
        if to == self._at:
            return
        if rx == 0 or ry == 0:
            self._line_to(to)
            return
        self._add(arc_by_ends(self._at, to, (abs(rx), abs(ry), math.radians(turn_deg)), large > 0, sweep > 0))
        self._at = to

    def _close(self) -> None:
        if self._at != self._start:
            self._line_to(self._start)
        self._now.closed = True
        self._end()
        self._at = self._start

    def _add(self, piece: Piece) -> None:
        self._end_run()
        self._now.pieces.append(piece)

    def _end_run(self) -> None:
        if self._run:
            self._now.pieces.append(Straight(tuple(self._run)))
            self._run = []

    def _end(self) -> None:
        self._end_run()
        if self._now.pieces:
            self._done.append(self._now)
        self._now = Subpath()


def arc_by_ends(
    start: complex, end: complex, shape: tuple[float, float, float], large: bool, positive: bool
) -> Arc | Straight:
    """The elliptical arc between two points.

    shape : half axes (> 0) and the turn of the first (rad).     large : more than half the ellipse.
    positive : the way in which angles grow. Half axes that are too short to reach are made larger, both alike.
    """
    rx, ry, turn = shape
    axis = cmath.exp(1j * turn)
    half = (start - end) / 2 / axis
    unit = complex(half.real / rx, half.imag / ry)  # where the ellipse is the unit circle
    stretch = max(1.0, abs(unit))
    if not math.isfinite(stretch) or abs(unit) < 1e-12:
        return Straight((start, end))  # half axes beyond all measure: the arc is its chord
    rx, ry, unit = rx * stretch, ry * stretch, unit / stretch
    away = math.sqrt(max(0.0, 1.0 / abs(unit) ** 2 - 1.0)) * (1j if large == positive else -1j)
    middle = unit * away  # from the chord's middle to the centre, on the unit circle's scale
    centre = complex(middle.real * rx, middle.imag * ry) * axis + (start + end) / 2
    first, last = unit - middle, -unit - middle
    span = cmath.phase(last / first)
    # Half turns have no sign of their own: the flag says which way round.
    if positive != (span > 0):
        span += math.tau if positive else -math.tau
    return Arc(centre, rx * axis, 1j * ry * axis, cmath.phase(first), span, (start, end))
