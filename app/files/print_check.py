"""What an earlier print measured, and how a printer that misses is corrected. No Qt here.

Each sheet has a bar along both sides. What is typed is what the bar measures on paper, as of 100 mm. A
printer may miss by more along the paper than across it, so each side of the sheet has its own figure. One that misses
by more than `WORST` is not corrected: something else is wrong.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.files.paper import LEAST_OVERLAP, MOST_OVERLAP, PAPERS, Scale
from app.lengths import format_length
from app.sheet_words import print_bar
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from app.lengths import Units

WORST = 5.0
"""By which the bar may miss, per cent."""


@dataclass(frozen=True, slots=True)
class PrintCheck:
    """What 100 mm came out as along the sheet's short side, and along its long one."""

    short: float = 100.0
    long: float = 100.0

    @property
    def scale(self) -> Scale:
        """How many times as large all is drawn, so that it comes out true."""
        return Scale(100.0 / self.short, 100.0 / self.long)


def check_print(paper: str, overlap: float, measured: PrintCheck, units: Units) -> None:
    """Raise HingewrightError, a sentence, for a paper that isn't known, and what lies beyond its limits."""
    if paper not in PAPERS:
        raise HingewrightError(f"“{paper}” is no paper known here", remedy=f"Take one of {', '.join(PAPERS)}.")
    check_within("an overlap", overlap, LEAST_OVERLAP, MOST_OVERLAP, units)
    long, called = print_bar(units)
    share = long / 100.0
    for bar in (measured.short, measured.long):
        check_within(
            f"a {called} bar",
            bar * share,
            (100.0 - WORST) * share,
            (100.0 + WORST) * share,
            units,
            " A print that misses by more was scaled on its way: look for “fit to page”.",
        )


def check_within(what: str, value: float, low: float, high: float, units: Units, why: str = "") -> None:
    """Raise HingewrightError, a sentence, for a length beyond its limits."""
    if not low <= value <= high:
        told = [format_length(each, units) for each in (value, low, high)]
        side = "small" if value < low else "large"
        remedy = f"It goes from {told[1]} to {told[2]}.{why}"
        raise HingewrightError(f"{told[0]} is too {side} for {what}", remedy=remedy)
