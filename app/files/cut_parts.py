"""What the files of cut parts have in common: their units, layers, and the mark that is written on a part.

Two layers, in every kind of file: `CUT` holds closed contours only, `MARK` what is scribed or etched: the part's name
and the lines at which it is bent. The mark stands inside the part, clear of its holes, and is read from the same side
on both hands.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from kinematics.cutting import Part

CUT, MARK = "CUT", "MARK"
MM_PER = {"mm": 1.0, "in": 25.4}
TALLEST, LEAST = 6.0, 1.5
"""Of the mark's letters, mm; below the least no cutter's pen keeps up, and the mark may reach over a hole."""
WIDE = 0.75
"""Width of a letter by its height, about, in the plain fonts that cutters' programs have."""
CLEAR = 2.0
"""Mm that the mark keeps from holes."""
ON_ROW = 1e-6
"""Mm by which a pin may miss the x axis and still stand on it."""


@dataclass(frozen=True, slots=True)
class Written:
    """Words on a part: their middle, and the height of their letters (mm)."""

    text: str
    at: complex
    height: float


def mark_of(part: Part) -> Written:
    """The mark of a part, in the widest stretch between neighbouring pins along its longest row."""
    said = " ".join(part.mark.split()) + (f" {part.hand}" if part.hand else "")
    text = "".join(letter if letter.isprintable() else "?" for letter in said)
    start, end, across = _stretch(part)
    room = max(abs(end - start), 0.0)
    height = min(TALLEST, across / 3.0, room / (WIDE * max(len(text), 1)))
    return Written(text, (start + end) / 2.0, max(height, LEAST))


def _stretch(part: Part) -> tuple[complex, complex, float]:
    """Where along x words fit best: from, to, and the part's height there, about."""
    left, low, right, high = part.box()
    row = sorted((hole for hole in part.holes if abs(hole.at.imag) < ON_ROW), key=lambda hole: hole.at.real)
    if len(row) < 2:
        middle = row[0] if row else None
        at = 0.0 if middle is None else middle.at.imag - middle.diameter / 2.0 - CLEAR
        return complex(left, at), complex(right, at), (high - low) / 4.0
    gaps = [
        (one.at + one.diameter / 2.0 + CLEAR, other.at - other.diameter / 2.0 - CLEAR) for one, other in pairwise(row)
    ]
    start, end = max(gaps, key=lambda gap: gap[1].real - gap[0].real)
    return start, end, 2.0 * min(abs(low), abs(high))
