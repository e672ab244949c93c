"""What is told of how sure a gap is: the low end with holes off and pins with play, and which pin matters most.

Two figures are told, and which is which: the *worst case* has every hole and pin off to the full, all against the gap;
the *likely* one is the root of the sum of their squares.
"""

from __future__ import annotations

from math import isfinite
from typing import TYPE_CHECKING

from app.lengths import format_angle, format_length, style_of
from kinematics.sureness import how_sure, unanswered

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.results import Check
    from kinematics.sampling import Sampled
    from kinematics.sureness import Sure

__all__ = ["sure_gap_words", "sure_of", "sure_remarks", "sure_words", "tried_words"]

MOST_REMARKED = 3
UNTOLD = (
    "For {}, near a dead point, the links answer too strongly to small faults for this reckoning: see by trying hinges."
)


def sure_of(analysis: Analysis, check: Check) -> Sure | None:
    """Give how sure the gap of a check is; None for other checks, and where nobody asked."""
    if check.kind != "gap":
        return None
    pairs = zip(analysis.gaps, how_sure(analysis), strict=False)
    return next((sure for gap, sure in pairs if (gap.between, gap.after_deg) == (check.subject, check.after_deg)), None)


def sure_words(sure: Sure | None, units: Units) -> str:
    """What stands behind a check's sentence: "; at worst 5.9 mm, X matters most"; "" where there is nothing to tell."""
    if sure is None:
        return ""
    if sure.low is None:
        return "; how near at worst can't be told so near a dead point"
    most = f", {sure.matters} matters most" if sure.matters else ""
    untold = f"; untold for {_untold(sure, units)}" if sure.untrusted_deg else ""
    return f"; at worst {_near(sure.low, units)}{most}{untold}"


def _near(mm: float, units: Units) -> str:
    if mm <= 0.0:
        return "touching"
    return format_length(mm, units) if isfinite(mm) else "no figure"


def _untold(sure: Sure, units: Units) -> str:
    """Where a figure is withheld: "0° to 2°"."""
    ends = [(format_angle(low, units), format_angle(high, units)) for low, high in sure.untrusted_deg]
    between = "; " if style_of(units).comma else ", "
    return between.join(a if a == b else f"{a} to {b}" for a, b in ends)


def sure_gap_words(sure: Sure, units: Units) -> str:
    """All of one gap, for the drawer: both figures, the pins by what they take, and what isn't told."""
    name = " – ".join(sure.between)
    if sure.low is None or sure.likely is None or sure.at_deg is None:
        return f"{name}: so near a dead point that nobody can tell from the pins alone."
    worst, likely, at = _near(sure.low, units), _near(sure.likely, units), format_angle(sure.at_deg, units)
    parts = ", ".join(f"{pivot} {format_length(mm, units, fine=mm < 0.1)}" for pivot, mm in sure.by_pivot[:3] if mm > 0)
    takes = f" At worst the pins take: {parts}." if parts else ""
    left = f" {UNTOLD.format(_untold(sure, units))}" if sure.untrusted_deg else ""
    return f"{name}: at worst {worst}, at {at}; likely no less than {likely}.{takes}{left}"


def sure_remarks(analysis: Analysis, units: Units) -> list[str]:
    """Wants that hold as drawn and may not as built, a sentence each; and why nothing can be told, where it can't."""
    asked = analysis.project.sureness
    if asked is None:
        return []
    why = unanswered(analysis)
    if why:
        return [f"How sure the gaps are, with holes and pins off, can't be told: {why}."] if analysis.gaps else []
    found = []
    for gap, sure in zip(analysis.gaps, how_sure(analysis), strict=False):
        if sure is None or sure.low is None or sure.likely is None or not gap.ok or gap.at_least is None:
            continue
        if sure.low >= gap.at_least - 1e-9:
            continue
        worst, likely = _near(sure.low, units), _near(sure.likely, units)
        faults = f"every hole ± {_plain(asked.holes, units)}, every pin with {_plain(asked.play, units)} of play"
        faults += ", the trace off too" if gap.uncertain > 0.0 else ""
        found.append(
            f"{' – '.join(gap.between)} wants {format_length(gap.at_least, units)} and has it as drawn, but as built "
            f"it may be {worst} at worst ({faults}, all against it); likely no less than {likely} "
            f"(root sum of squares).{f' For {_untold(sure, units)} it is untold.' if sure.untrusted_deg else ''}"
        )
    return found[:MOST_REMARKED]


def _plain(mm: float, units: Units) -> str:
    return format_length(mm, units, fine=True) if mm > 0.0 else "0"


def tried_words(found: Sequence[Sampled | None], units: Units) -> list[str]:
    """What hinges that were tried came to, a sentence a gap; how many were tried, and at how many poses each."""
    told = []
    for each in found:
        if each is None or len(each.smallest) == 0:
            continue
        count, tenth = len(each.smallest), float(each.smallest[len(each.smallest) // 10])
        stuck = f" {each.stuck} of them didn't reach every pose." if each.stuck else ""
        kept, worst = _near(tenth, units), _near(float(each.smallest[0]), units)
        at = format_angle(float(each.at_deg[0]), units)
        told.append(
            f"{' – '.join(each.between)}: {count} hinges tried, each moved anew and looked at in {each.poses} poses. "
            f"Nine in ten keep {kept}; the worst {worst}, at {at}.{stuck}"
        )
    return told
