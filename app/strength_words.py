"""What is said of strength: pins, plates and bushings against what they carry; sentences for checks, report and window.

A *safety* is said as a mere number: how many times the load would have to grow before something yields, or before a
bushing carries what its kind is rated for.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from app.lengths import NOTHING, format_angle, format_force, format_number
from kinematics.strength import worse_share
from kinematics.withstanding import UNTOLD

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.results import Check, StrengthFigures, Utilised

__all__ = [
    "STRENGTH_CAUTION",
    "all_on_one",
    "safety_words",
    "strength_change",
    "strength_name",
    "strength_rows",
    "strength_sentences",
    "strength_why",
    "utilised_name",
]

STRENGTH_CAUTION = (
    "Strengths are nominal, loads at rest: no fatigue, shock, wear, rust, weld or cut edge is in them, nor a pin that "
    "walks out. Take the paper that came with the metal, and have a professional look at it before anybody stands "
    "under the panel."
)
MANY = 100.0
"""Beyond so much safety the number says no more."""
MODES = {
    "pin shear": "shear",
    "pin bending": "bending",
    "bearing": "pressed in its hole",
    "net section": "torn across the hole",
    "tear-out": "torn out at the edge",
    "offset bending": "bent by its offset",
    "bushing pressure": "pressure in the bushing",
    "bushing speed": "sliding speed in the bushing",
    "bushing pressure × speed": "pressure × speed in the bushing",
    "section": "pulled, pushed and bent",
    "buckling": "buckling",
}
"""What happens in each way to fail."""
HEAD = ("what", "how", "safety", "wanted", "on one hinge", "force", "stress", "of", "at")
"""Names of the columns of `strength_rows`."""


def strength_name(check: Check) -> str:
    """What a check of strength is about: "pin X, bending", "arm at X, torn out at the edge", "arm, buckling"."""
    if not check.subject:
        return "strength of pins and plates"
    is_link = check.side in ("section", "buckling")
    if len(check.subject) == 2:
        pivot, link = check.subject
        return f"{link} at {pivot}, {MODES[check.side]}"
    return f"{'' if is_link else 'pin '}{check.subject[0]}, {MODES[check.side]}"


def utilised_name(figure: Utilised) -> str:
    """What a figure is of: "pin X", "arm at X", "arm"."""
    if figure.pivot and figure.link:
        return f"{figure.link} at {figure.pivot}"
    return f"pin {figure.pivot}" if figure.pivot else figure.link


def safety_words(value: float | None, units: Units, *, fine: bool = False) -> str:
    """A safety: "1.42", "23.1", "over 100"; "no load" where nothing is carried, "—" where it isn't told."""
    if value is None:
        return NOTHING
    if math.isinf(value):
        return "no load"
    if value >= MANY:
        return f"over {MANY:.0f}"
    return format_number(round(value, 4 if fine else 2 if value < 10.0 else 1), units)


def safety_figure(value: float | None, *, units: Units, fine: bool, wanted: bool) -> str:  # noqa: ARG001  said alike
    """A safety in a check's sentence: "safety 1.42", "no load"."""
    words = safety_words(value, units, fine=fine)
    return words if value is None or math.isinf(value) else f"safety {words}"


def strength_why(check: Check) -> str:
    """Why a check of strength has no figure."""
    if not check.subject:
        return UNTOLD
    return "forces grow beyond bound there, by a dead point or links in line"


def strength_change(change: float, units: Units) -> str:
    """A change of a safety with its sign: "+0.31"; "" where there is none to tell."""
    if not math.isfinite(change):
        return ""
    text = format_number(round(change, 2), units)
    return "±0" if text.strip("-−0.,") == "" else text if text.startswith(("-", "−")) else f"+{text}"


def strength_sentences(analysis: Analysis, units: Units) -> list[str]:
    """Say whose share is reckoned with, and what else would come of it; none where the project says nothing of it."""
    told, loads = analysis.strength, analysis.project.loads
    if told is None:
        return []
    if told.untold:
        return [f"No safety can be told: {told.untold}."]
    hinges = 1 if loads is None else loads.hinges
    said = [] if hinges < 2 else [_share(told, hinges, None if loads is None else loads.uneven, units)]
    worst = next((each for each in told.figures if each.have is not None), None)
    if worst is not None and hinges > 1 and told.share < 1.0:
        one = min(told.figures, key=lambda each: _ratio(all_on_one(each, told.share), each.want))
        said.append(
            f"Lifted by one corner the whole panel may hang on one hinge: then {utilised_name(one)} "
            f"({MODES[one.mode]}) has least, "
            f"{_safety(all_on_one(one, told.share), units)} of {_plain(one.want, units)}."
        )
    return said


def _share(told: StrengthFigures, hinges: int, uneven: float | None, units: Units) -> str:
    share = f"{format_number(round(100.0 * told.share, 1), units)} %"
    why = " (common practice, no source)" if uneven is None and told.share == worse_share(hinges, None) else ""
    return f"Of {hinges} hinges the worse one is taken to carry {share} of all loads{why}."


def _safety(value: float | None, units: Units) -> str:
    words = safety_words(value, units)
    return "no load" if value is not None and math.isinf(value) else f"a safety of {words}"


def _plain(value: float, units: Units) -> str:
    return f"{format_number(round(value, 2), units)} wanted"


def _ratio(have: float | None, want: float) -> float:
    return math.inf if have is None else have / want


def all_on_one(figure: Utilised, share: float) -> float | None:
    """The safety if one hinge carried all: stresses grow with the load, a sliding speed doesn't."""
    if figure.have is None or figure.mode == "bushing speed":
        return figure.have
    return figure.have * share


def strength_rows(analysis: Analysis, units: Units) -> list[tuple[str, ...]]:
    """A row for each figure, worst first, in the columns of `HEAD`."""
    told = analysis.strength
    return [] if told is None else [_row(each, told.share, units) for each in told.figures]


def _row(figure: Utilised, share: float, units: Units) -> tuple[str, ...]:
    unit = {"bushing speed": "m/s", "bushing pressure × speed": "MPa·m/s"}.get(figure.mode, "MPa")
    return (
        utilised_name(figure),
        MODES[figure.mode],
        safety_words(figure.have, units),
        safety_words(figure.want, units),
        safety_words(all_on_one(figure, share), units),
        NOTHING if figure.force is None else format_force(figure.force, units),
        "beyond bound" if figure.have is None else _stress(figure.stress, units),
        f"{_stress(figure.strength, units)} {unit}",
        NOTHING if figure.deg is None else format_angle(figure.deg, units),
    )


def _stress(value: float | None, units: Units) -> str:
    if value is None:
        return NOTHING
    digits = 0 if value >= 100.0 else 1 if value >= 1.0 else 4
    return format_number(round(value, digits), units)
