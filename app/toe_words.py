"""The sentences about two hinges that aren't parallel: where they bind, and how true they must be."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from app.lengths import format_angle, format_length

if TYPE_CHECKING:
    from app.lengths import Units
    from app.toe.unit import ToeFound
    from kinematics.walling import Wedge

TOE_CAUTION = (
    "A pair that binds bends its links, wears its bushings or breaks a mount loose. The figures take panel, links and "
    "mounts as stiff; real ones give a little, and holes are off as well. So hang the panel on packers, with one "
    "straight bar through the same pin left and right, and swing it all the way by hand before anything is welded or "
    "drilled for good."
)
LARGE_DEG = 0.05
"""Toe that nobody could grind away, and nobody need."""


def toe_sentences(found: ToeFound, wedge: Wedge | None, units: Units) -> list[str]:
    """Say how true the hinges must be, and what the wall would do untrued."""
    toe = found.toe
    if toe is None:
        return [found.why]
    play, end_float = (format_length(round(mm, 3), units, fine=True) for mm in (found.play, found.end_float))
    to = format_angle(found.reached_deg, units)
    if toe.most_deg is None:
        said = [f"However the hinges stand to each other, the pair opens to {to}."]
    else:
        most = most_words(toe.most_deg, units)
        opens = f"Each hinge may be {most} out of parallel, and the pair still opens to {to}"
        said = [f"{opens}, with {play} of play in its pins and {end_float} along them."]
        if wedge is not None and wedge.depth > 0.0:
            off = format_length(round(wedge.depth * math.tan(math.radians(toe.most_deg)), 2), units, fine=True)
            where = "shim" if wedge.trued == "shim" else "feet"
            said.append(f"That is {off} over the {format_length(wedge.depth, units)} of the {where}.")
    if max(abs(each) for each in toe.toe_deg) < LARGE_DEG:
        return [*said, "The wall stands square, so nothing has to be trued."]
    return [*said, _untrued(found, units)]


def _untrued(found: ToeFound, units: Units) -> str:
    """What the pair would do on the wall as it is."""
    toe = found.toe
    assert toe is not None
    left, right = (format_angle(abs(each), units) for each in toe.toe_deg)
    angles = left if left == right else f"{left} left and {right} right"
    if toe.binds_deg is None:
        share = max(toe.shares)
        return f"Untrued, {angles} out of parallel, it would take {share:.0%} of the play."
    return f"Untrued, {angles} out of parallel, the pair would bind from {format_angle(toe.binds_deg, units)} on."


def most_words(deg: float, units: Units) -> str:
    """A bound on an angle, rounded to the careful side."""
    return format_angle(math.floor(deg * 100.0) / 100.0, units, fine=True)


def toe_gist(found: ToeFound | None, units: Units) -> str:
    """Say it in short, for the folded section."""
    if found is None or found.toe is None or found.toe.most_deg is None:
        return ""
    return f"within {most_words(found.toe.most_deg, units)}"
