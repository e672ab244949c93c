"""The sentences: what a builder reads of checks, gaps, the opening and the motion.

One place for the window, the report and the sheets; numbers come from an `Analysis`, lengths are said in the
builder's units by `app.lengths`. Each check is told in three pieces, its *name*, what is wanted (*want*) and what is
(*have*), and as one sentence of the three. Where rounding would hide a shortfall ("wants 6.0 mm, has 6.0 mm"), finer
digits are shown.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from app.check_figures import ANGLES, AT_MOST, figures
from app.holding_words import holding_cautions
from app.lengths import NOTHING, format_angle, format_change, format_force, format_length, style_of
from app.limit_words import reads_zero
from app.shut_words import shut_cautions
from app.strength_words import strength_change, strength_name, strength_why
from app.sure_words import sure_of, sure_words
from kinematics.arranging import hidden_count
from kinematics.pinching import LEAST_GAPS

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.pinching import Pinch
    from kinematics.project import Project
    from kinematics.results import Check, Gap, Opening
    from kinematics.sureness import Sure

__all__ = [
    "ANGLES",
    "FAILS",
    "HOLDS",
    "LIFT_KINDS",
    "caution_sentences",
    "change_of_angle",
    "change_of_length",
    "change_since",
    "check_have",
    "check_name",
    "check_sentence",
    "check_want",
    "checks_summary",
    "dead_point_sentence",
    "doubt_words",
    "gap_name",
    "hidden_words",
    "mobility_sentence",
    "opening_sentence",
    "pinch_caution",
    "pinch_count",
    "pinch_words",
    "touching_words",
    "unasked_contacts",
    "worst_first",
]

HOLDS = "✓"
FAILS = "✗"

AIDS_TO_JUDGEMENT = (
    "The figures hold for what was drawn, not for what was built, and are aids to judgement: measure the built hinge "
    "and move it slowly by hand before anything else. They don't replace local codes or a professional's review."
)

CAUTION = "⚠"

WHEN_SHUT = ("opening", "pin spacing", "shut gap", "zone", "rear edge", "striker")
"""Kinds of checks whose opening needs no telling."""

PLACED = {
    "zone": "pins of {} in their zone",
    "roof": "{} under the roof",
    "front edge": "{} over the floor",
    "rear edge": "rise of the rear edge by play",
    "striker": "side step of the striker",
}
"""What checks of where something stands are about."""

LIFT_KINDS = ("push", "rests", "stop")
LIFTING = {
    ("push", "shut"): "push at the handle, shut",
    ("push", "largest"): "largest push at the handle",
    ("push", "open"): "stays open by itself",
    ("push", "worst"): "stays open in the worst case",
    ("push", "latch"): "what the latch holds",
    ("rests", ""): "doesn't rise by itself",
}
"""What checks of lifting are about, by kind and side."""

FINGER_MM = LEAST_GAPS["finger"]
"""Least gap in which no finger is crushed."""

MOST_TOLD = 2  # how many pairs are named where all would be too many
MOST_PINCHES = 4  # how many pinch places are named

ENDS = {
    "dead point": "the panel can turn no further on this branch (dead point)",
    "device stop": "a strut is at its end there",
}


# -------------------------------------------------------------------------------------------------------------- checks
def gap_name(between: Sequence[str]) -> str:
    """A watched pair as people read it: "windscreen – hatch skin"."""
    return " – ".join(between)


def check_name(check: Check, units: Units = "mm") -> str:
    """What a check is about: "windscreen – hatch skin", "rear corner, sideways", "opens to 75°"."""
    if check.kind == "opening":
        return f"opens to {format_angle(check.want, units)}"
    if check.kind == "limit":
        return f"{check.subject[0]}, {'sideways' if check.side.startswith('dx') else 'height'}"
    if check.kind in ("pin spacing", "strength"):
        return strength_name(check) if check.kind == "strength" else _pins_name(check.subject)
    if check.kind in ("transmission", *LIFT_KINDS):
        of = f" of {check.subject[0]}" if check.subject else ""
        other = f"stop, {gap_name(check.subject)}" if check.kind == "stop" else f"transmission angle{of}"
        return LIFTING.get((check.kind, check.side), other)
    if check.kind in PLACED:
        return PLACED[check.kind].format(check.subject[0] if check.subject else "front edge")
    return f"{gap_name(check.subject)}, shut" if check.kind == "shut gap" else gap_name(check.subject)


def check_want(check: Check, units: Units) -> str:
    """What is wanted: "6.0 mm", "at most 2.0 mm back", "75°", "6.0 mm from 40° on", "3.2 to 6.4 mm"."""
    want = figures(check, units)[0]
    return f"{want} from {format_angle(check.after_deg, units)} on" if check.after_deg > 0.0 else want


def check_have(check: Check, units: Units) -> str:
    """What is, and at which opening: "3.1 mm at 31.2°", "touches at 31.2°", "62.3°"; "—" where there is no figure."""
    have = figures(check, units)[1] + doubt_words(check.have, check.uncertain, units)
    if check.have is None or check.deg is None or check.kind in WHEN_SHUT or _says_where(check):
        return have
    return f"{have} at {format_angle(check.deg, units)}"


def _says_where(check: Check) -> bool:
    """Whether name or figure of a check of lifting tell the opening already."""
    return check.kind in LIFT_KINDS and check.side != "largest"


def check_sentence(check: Check, units: Units, sure: Sure | None = None) -> str:
    """The whole check in one sentence, want and have in it; whether it holds is `check.ok`.

    sure : of a gap, how sure it is, which is told behind the rest.
    """
    touches = check.have is not None and check.have <= 0.0  # then nothing is left to be unsure of
    return f"{_plain_sentence(check, units)}{'' if touches else sure_words(sure, units)}"


def _plain_sentence(check: Check, units: Units) -> str:
    want, have = check_want(check, units), check_have(check, units)
    name = check_name(check, units)
    if check.have is None:
        return f"{name}: no figure, as {_why_none(check)}; wants {want}"
    if check.kind == "opening":
        return f"{name}: {'has' if check.ok else 'stops at'} {have}"
    if check.kind == "limit":
        return f"{check.subject[0]}: goes {have}, wants {want}"
    if check.kind == "pin spacing":
        return f"{name}: {have} apart, wants {want}"
    if check.kind in ("roof", "zone"):
        return f"{name}: {have}"
    is_short = not check.ok and check.kind != "rests" and 0.0 < check.have < check.want
    what = "safety " if check.kind == "strength" and math.isfinite(check.have) else ""
    return f"{name}: {what}{'only ' if is_short else ''}{have}, wants {want}{_low_end(check, units)}"


def doubt_words(have: float | None, uncertain: float, units: Units) -> str:
    """How far a figure may be off because the outlines may be, to stand behind it: " ± 2.0 mm (trace)"."""
    return f" ± {format_length(uncertain, units)} (trace)" if have is not None and uncertain > 0.0 else ""


def _low_end(check: Check, units: Units) -> str:
    """That the doubt alone makes a check fall short: "; at the low end 5.0 mm"."""
    if check.ok or check.have is None or check.uncertain <= 0.0 or check.margin + check.uncertain < 0.0:
        return ""
    if check.most is not None and check.have + check.uncertain > check.most:
        return f"; at the high end {format_length(check.have + check.uncertain, units)}"
    low = check.have - check.uncertain
    return f"; at the low end {'they touch' if low <= 0.0 else format_length(low, units)}"


WHY_NONE = {
    "front edge": "the panel isn't drawn",
    "zone": "the zone bounds no region",
    "rear edge": "it takes a latch, the panel's outline and the pins' play",
    "striker": "it takes a latch that the striker comes out of",
    "transmission": "no link has just two pins, or the panel doesn't open",
    "shut gap": "a link of the pair has no pins",
    **dict.fromkeys(
        LIFT_KINDS, "the effort isn't told: it takes a handle that moves, and a linkage that moves in one way"
    ),
}
"""Why a check has no figure, by its kind."""


def _why_none(check: Check) -> str:
    """Why a check has no figure."""
    kind = "striker" if check.side == "latch" else check.kind
    if check.needs == "width":
        return "how wide is the panel across the body? Without that no gust is told"
    return strength_why(check) if kind == "strength" else WHY_NONE.get(kind, "the sweep doesn't get there")


def worst_first(checks: Iterable[Check], units: Units, analysis: Analysis | None = None) -> list[str]:
    """Every check as a line with its sign, in the order given (an `Analysis` gives the worst first).

    analysis : the one that they are of, if it is to be told how sure they are.
    """

    def told(check: Check) -> str:
        return check_sentence(check, units, None if analysis is None else sure_of(analysis, check))

    return [f"{HOLDS if check.ok else FAILS} {told(check)}" for check in checks]


def checks_summary(checks: Sequence[Check]) -> str:
    """How the checks stand, all together: "1 of 7 checks falls short", "all 7 checks hold"."""
    short = sum(not check.ok for check in checks)
    if not checks:
        return "nothing is checked"
    if short == 0:
        return {1: "the one check holds", 2: "both checks hold"}.get(len(checks), f"all {len(checks)} checks hold")
    if short == len(checks):
        return {1: "the one check falls", 2: "both checks fall"}.get(short, f"all {short} checks fall") + " short"
    return f"{short} of {len(checks)} checks {'falls' if short == 1 else 'fall'} short"


def change_since(check: Check, before: Check | None, units: Units) -> str:
    """How a check's figure has changed since an earlier analysis: "+1.3"; a plus is always for the better.

    "" where one of the two has no figure, or where there is no earlier one.
    """
    if before is None or check.have is None or before.have is None:
        return ""
    if check.kind == "shut gap" and check.most is not None:  # it may be too wide as well as too narrow
        return change_of_length(check.margin - before.margin, units)
    if check.kind == "push":
        return change_of_force(before.have - check.have, units)
    if check.kind == "strength":
        return strength_change(check.have - before.have, units)
    better = -1.0 if check.kind in AT_MOST or check.side.endswith("at_most") else 1.0
    change = better * (check.have - before.have)
    return change_of_angle(change, units) if check.kind in ANGLES else change_of_length(change, units)


def change_of_length(change: float | None, units: Units) -> str:
    """A change of a length with its sign: "+1.3"; "" where there is none to tell."""
    return "" if change is None or not math.isfinite(change) else format_change(change, units)


def change_of_force(change: float, units: Units = "mm") -> str:
    """A change of a push with its sign: "+1.3 N"; "" where there is none to tell."""
    if not math.isfinite(change):
        return ""
    text = format_force(change, units)
    if text.startswith("0 "):
        return f"±{text}"
    return text if text.startswith("−") else f"+{text}"


def change_of_angle(change: float | None, units: Units = "mm") -> str:
    """A change of an angle with its sign: "+1.3°"; "" where there is none to tell."""
    if change is None or not math.isfinite(change):
        return ""
    text = format_angle(change, units)
    return "±0°" if text == "0°" else text if text.startswith("−") else f"+{text}"


def _pins_name(subject: Sequence[str]) -> str:
    """Two pins and the link that they stand on; `subject` is (link, pin, pin)."""
    link, *pins = subject
    return f"pins {gap_name(pins)} on {link}"


# -------------------------------------------------------------------------------------------------- opening and motion
def opening_sentence(opening: Opening, state: str = "moves", units: Units = "mm") -> str:
    """How far the panel opens, and why no further: "opens to 62.3° of the 75° wanted: … (dead point)".

    Where nothing turns (locked, loose, sliding) `mobility_sentence`, which stands beside this one, says why.
    """
    reached, wanted = format_angle(opening.reached_deg, units), format_angle(opening.wanted_deg, units)
    if opening.ends == "wanted opening":
        more = opening.largest_deg - opening.reached_deg > 0.05
        rest = f"; it could go on to {format_angle(opening.largest_deg, units)}" if more else ", and no further"
        return f"opens to {wanted} as wanted{rest}"
    if opening.ends not in ENDS or state == "slides":
        return f"doesn't open to the {wanted} wanted"
    reason = ENDS[opening.ends]
    if opening.reached_deg <= 0.0:
        return f"doesn't open to the {wanted} wanted: {reason}"
    if reached == wanted:
        reached = format_angle(opening.reached_deg, units, fine=True)
    return f"opens to {reached} of the {wanted} wanted: {reason}"


def dead_point_sentence(dead_point_deg: float | None) -> str:
    """Where the panel would turn back, if it does before 180°."""
    return "no dead point up to 180°" if dead_point_deg is None else f"dead point at {format_angle(dead_point_deg)}"


def mobility_sentence(analysis: Analysis) -> str:
    """What can move, counted; the links and pins concerned are named by the analysis's remarks."""
    count = analysis.mobility
    ways = f"mobility {count}"
    if analysis.state == "moves":
        return f"moves in one way ({ways})" if count == 1 else f"the panel moves in one way, other links too ({ways})"
    if analysis.state == "slides":
        return f"the panel slides at shut without turning ({ways})"
    if analysis.state == "locked":
        return f"the panel is locked ({ways})"
    if not analysis.project.pivots:
        return f"nothing is pinned yet ({ways})"
    return f"the panel hangs loose: its turn doesn't settle where it is ({ways})"


def unasked_contacts(gaps: Iterable[Gap]) -> str:
    """Where panel and fixed link touch although no want makes a check of it; "" where they don't.

    "Nobody asked, but BODY – LID touch at 67.1° to 75°": else all checks could hold while the panel hits the body.
    """
    found = [f"{gap_name(gap.between)} touch at {touching_words(gap)}" for gap in gaps if _touches_unasked(gap)]
    if not found:
        return ""
    more = f"; and {len(found) - MOST_TOLD} more pairs" if len(found) > MOST_TOLD + 1 else ""
    told = found[:MOST_TOLD] if more else found
    return f"nobody asked, but {'; '.join(told)}{more}"


def _touches_unasked(gap: Gap) -> bool:
    return not gap.wanted and bool(gap.touching_deg)


def touching_words(gap: Gap, units: Units = "mm") -> str:
    """The stretches of the travel in which a pair touches: "31° to 34.5°", "12°"; "—" for none."""
    ends = [(format_angle(a, units), format_angle(b, units)) for a, b in gap.touching_deg]
    between = "; " if style_of(units).comma else ", "
    return between.join(a if a == b else f"{a} to {b}" for a, b in ends) or NOTHING


# --------------------------------------------------------------------------------------------------------------- parts
def hidden_words(project: Project) -> str:
    """How many parts the picture leaves out, so that nobody takes it for the whole: "2 parts hidden"; "" for none."""
    count = hidden_count(project)
    return "" if count == 0 else f"{count} part{'' if count == 1 else 's'} hidden"


# ------------------------------------------------------------------------------------------------------------ cautions
def caution_sentences(project: Project, pinches: Sequence[Pinch], units: Units) -> list[str]:
    """What may hurt people, and what the figures are worth. Not one of them says that anything is safe."""
    caught = pinch_caution(pinches, units)
    out = [
        "A panel overhead: prop or hold it before you reach or lean under it; nothing here says that it stays.",
        "Pinch points: keep hands out while the panel moves, both ways, and between the links."
        + (f" {caught}" if caught else ""),
    ]
    if project.loads is not None and project.loads.devices:
        out.append(
            "Struts and springs are under load: take them out only with the panel held and the device let off. What "
            "their maker says of them goes before these figures."
        )
    return [*out, *holding_cautions(project), *shut_cautions(project), AIDS_TO_JUDGEMENT]


def pinch_caution(pinches: Sequence[Pinch], units: Units) -> str:
    """Names the places in which a finger fits at some opening and is crushed at another; "" for none."""
    if not pinches:
        return ""
    worst = "; traces taken at their worst" if any(pinch.uncertain > 0.0 for pinch in pinches) else ""
    limit = f"below {format_length(FINGER_MM, units)}, EN ISO 13854{worst}"
    named = pinches if len(pinches) <= MOST_PINCHES + 1 else pinches[:MOST_PINCHES]
    places = "; ".join(f"{gap_name(pinch.between)} {pinch_words(pinch, units)}" for pinch in named)
    more = f"; and {len(pinches) - len(named)} more places" if len(named) < len(pinches) else ""
    return f"Here a finger fits and is then crushed ({limit}): {places}{more}."


def pinch_count(count: int) -> str:
    """How many pinch places there are, in short; "" for none."""
    return f"{CAUTION} {count} pinch place{'s' if count != 1 else ''}" if count else ""


def pinch_words(pinch: Pinch, units: Units) -> str:
    """What happens at a pinch place: "closes to 4.8 mm at 0°", "closes to 4.8 mm ± 1.0 mm (trace) at 0°", "closes at
    31.2°".
    """
    deg = format_angle(pinch.deg, units)
    if reads_zero(pinch.closes_to, units):
        return f"closes at {deg}"
    doubt = doubt_words(pinch.closes_to, pinch.uncertain, units)
    return f"closes to {format_length(pinch.closes_to, units)}{doubt} at {deg}"
