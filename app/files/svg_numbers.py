"""Numbers, lengths and transforms as SVG writes them.

A *user unit* is one CSS pixel, 1/96 inch, until a viewBox or a transform says otherwise. An `Affine` carries x + iy to
`across`·x + `down`·y + `at`; the product of two, `outer @ inner`, does the inner one first.
Source: W3C, CSS Values and Units Level 3, 2024, 6.2 (absolute lengths); W3C, CSS Transforms Level 1, 2019.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?")
LENGTH = re.compile(rf"\s*({NUMBER.pattern})\s*([a-zA-Z]+|%)?\s*")
FUNCTION = re.compile(r"\s*,?\s*([a-zA-Z]+)\s*\(([^()]*)\)")
ARGUMENT = re.compile(rf"({NUMBER.pattern})\s*(deg|px)?")

PX_PER_UNIT = {
    "": 1.0,
    "px": 1.0,
    "mm": 96 / 25.4,
    "cm": 960 / 25.4,
    "q": 24 / 25.4,
    "in": 96.0,
    "pt": 96 / 72,
    "pc": 16.0,
}
"""CSS pixels in one of each absolute unit; 1 in = 96 px = 72 pt = 6 pc, 1 Q = 1/4 mm."""


@dataclass(frozen=True, slots=True)
class Affine:
    """The map x + iy → across·x + down·y + at."""

    across: complex = 1.0 + 0j
    down: complex = 1j
    at: complex = 0j

    def turn(self, z: complex) -> complex:
        """Where a direction goes."""
        return self.across * z.real + self.down * z.imag

    def place(self, z: complex) -> complex:
        """Where a point goes."""
        return self.turn(z) + self.at

    def __matmul__(self, inner: Affine) -> Affine:
        return Affine(self.turn(inner.across), self.turn(inner.down), self.place(inner.at))


def shifted(x: float, y: float) -> Affine:
    """The map that shifts."""
    return Affine(at=complex(x, y))


def split_length(text: str) -> tuple[float, str]:
    """A length as number and unit (lower case, "" for none). Raises ValueError for what is none."""
    match = LENGTH.fullmatch(text)
    if match is None:
        raise ValueError(text)
    return float(match[1]), (match[2] or "").lower()


def length_px(text: str, whole: float, absent: float = 0.0) -> float:
    """A length in user units; `whole` is what 100 % means. Raises ValueError for units that depend on a font."""
    if not text:
        return absent
    value, unit = split_length(text)
    if unit == "%":
        return value / 100 * whole
    if unit not in PX_PER_UNIT:
        raise ValueError(text)
    return value * PX_PER_UNIT[unit]


def affine_of(text: str) -> Affine:
    """The map of a transform list. Raises ValueError where it can't be read."""
    found, position = Affine(), 0
    text = text.strip()
    if text in ("", "none"):
        return found
    while position < len(text):
        match = FUNCTION.match(text, position)
        if match is None:
            raise ValueError(text)
        found = found @ _function(match[1], _arguments(match[2]))
        position = match.end()
    return found


def _arguments(text: str) -> list[float]:
    values = [float(number) for number, _ in ARGUMENT.findall(text)]
    if re.sub(r"[\s,]", "", ARGUMENT.sub("", text)):
        raise ValueError(text)
    return values


def _function(name: str, given: list[float]) -> Affine:
    """One function of a transform list."""
    make, counts = FUNCTIONS.get(name, (None, ()))
    if make is None or len(given) not in counts:
        raise ValueError(name)
    return make(*given)


def _turn(deg: float) -> complex:
    """The unit vector at an angle, exact at right angles."""
    exact = {0.0: 1 + 0j, 90.0: 1j, 180.0: -1 + 0j, 270.0: -1j}
    return exact.get(deg % 360.0) or complex(math.cos(math.radians(deg)), math.sin(math.radians(deg)))


def _matrix(*given: float) -> Affine:
    a, b, c, d, e, f = given
    return Affine(complex(a, b), complex(c, d), complex(e, f))


def _translate(x: float, y: float = 0.0) -> Affine:
    return shifted(x, y)


def _scale(x: float, y: float | None = None) -> Affine:
    return Affine(complex(x), 1j * (x if y is None else y))


def _rotate(deg: float, x: float = 0.0, y: float = 0.0) -> Affine:
    turn = _turn(deg)
    return shifted(x, y) @ Affine(turn, 1j * turn) @ shifted(-x, -y)


def _skew_x(deg: float) -> Affine:
    return Affine(down=complex(math.tan(math.radians(deg)), 1.0))


def _skew_y(deg: float) -> Affine:
    return Affine(across=complex(1.0, math.tan(math.radians(deg))))


FUNCTIONS: dict[str, tuple[Callable[..., Affine], tuple[int, ...]]] = {
    "matrix": (_matrix, (6,)),
    "translate": (_translate, (1, 2)),
    "scale": (_scale, (1, 2)),
    "rotate": (_rotate, (1, 3)),
    "skewX": (_skew_x, (1,)),
    "skewY": (_skew_y, (1,)),
}
"""The functions of a transform list, and how many numbers each takes."""
