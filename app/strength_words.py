"""What is said of strength: pins, plates and bushings against what they carry; sentences for checks, report and window.

A *safety* is said as a mere number: how many times the load would have to grow before something yields, or before a
bushing carries what its kind is rated for.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from app.lengths import NOTHING, format_angle, format_force, format_length, format_number
from app.quantities import PRESSURE_SPEED, SLIDING, STRESS
from kinematics.joints import LEAST_EDGE, close_edges
from kinematics.sideways import sideways
from kinematics.straining import UNTOLD
from kinematics.strength import worse_share

if TYPE_CHECKING:
    from app.lengths import Units
    from app.quantities import Quantity
    from kinematics.analysis import Analysis
    from kinematics.project import Project
    from kinematics.results import Check, StrengthFigures, Utilised
    from kinematics.sideways import Sideways, Sway

__all__ = [
    "HEAD",
    "LINK_MODES",
    "MEANINGS",
    "STRENGTH_CAUTION",
    "all_on_one",
    "mode_words",
    "safety_figure",
    "safety_words",
    "sideways_sentences",
    "strength_change",
    "strength_gist",
    "strength_name",
    "strength_rows",
    "strength_sentences",
    "strength_why",
    "utilised_name",
]

STRENGTH_CAUTION = (
    "Strengths are nominal, loads at rest: no fatigue, shock, wear, rust, weld or cut edge is in them, nor a pin that "
    "walks out, nor what a stop, prop, latch or gust puts on the hinge. Take the paper that came with the metal, and "
    "have a professional look at it before anybody stands under the panel."
)
MOST_NAMED = 4
"""So many holes are named."""
MANY = 100.0
"""Beyond so much safety the number says no more."""
LINK_MODES = ("section", "buckling")
"""Ways to fail that are of a link by itself."""
MODES = {
    "pin shear": "shear",
    "pin bending": "bending",
    "bearing": "bearing",
    "net section": "net section",
    "tear-out": "tear-out",
    "offset bending": "offset bending",
    "bushing pressure": "bushing pressure",
    "bushing speed": "bushing speed",
    "bushing pressure × speed": "bushing p × v",
    "section": "pull and bending",
    "buckling": "buckling",
}
"""Each way to fail in the trade's words."""
MEANINGS = {
    "pin shear": "The pin is cut, in one plane or in two: mean shear stress against 1/√3 of its yield strength.",
    "pin bending": "The pin is bent over its stack, washers in it: largest bending stress against its yield strength.",
    "bearing": "The pin presses on the hole: force over diameter × thickness, against the weaker yield strength.",
    "net section": "The plate is torn across, beside the hole: tension in what the hole leaves of its width.",
    "tear-out": "The hole's end is torn out: shear in two planes from the hole's sides to the plate's edge.",
    "offset bending": "A single plate that holds the pin is pulled beside its middle, and bent out of its plane.",
    "bushing pressure": "Force over the bushing's bore × length, against what its kind is rated for.",
    "bushing speed": "How fast the pin slides in the bushing on the average, against what its kind is rated for.",
    "bushing pressure × speed": "Pressure times sliding speed, against what its kind is rated for: heat.",
    "section": "The link's plate is pulled or pushed, and bent in its plane by all that is on it.",
    "buckling": "The link's plate gives way sideways when pushed: by Euler, or Johnson where short; ends free to turn.",
}
"""What each way to fail means, for tips."""
HEAD = ("what", "how", "safety", "wanted", "on one hinge", "force", "stress", "at")
"""Names of the columns of `strength_rows`."""


def strength_name(check: Check) -> str:
    """What a check of strength is about: "pin X, bending", "arm at X, tear-out", "arm, buckling"."""
    if not check.subject:
        return "strength of pins and plates"
    is_link = check.side in LINK_MODES
    if len(check.subject) == 2:
        pivot, link = check.subject
        return f"{link} at {pivot}, {MODES[check.side]}"
    return f"{'' if is_link else 'pin '}{check.subject[0]}, {MODES[check.side]}"


def mode_words(mode: str) -> str:
    """A way to fail in the trade's words."""
    return MODES[mode]


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
    """A safety in a check's sentence: "1.42", "no load"."""
    return safety_words(value, units, fine=fine)


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
        has = _safety(all_on_one(one, told.share), units)
        said.append(
            f"Lifted by one corner the whole panel may hang on one hinge: then {utilised_name(one)} "
            f"({MODES[one.mode]}) has least, {has} where {_plain(one.want, units)}."
        )
    return [*said, *_close_edges(analysis.project)]


def _close_edges(project: Project) -> list[str]:
    """Which holes stand nearer to an edge than is usual, whatever the figures say."""
    close = [f"{link} at {pivot}" for pivot, link in close_edges(project)]
    if not close:
        return []
    more = f" and {len(close) - MOST_NAMED} more" if len(close) > MOST_NAMED + 1 else ""
    named = ", ".join(close[:MOST_NAMED] if more else close)
    return [f"Nearer to an edge than {LEAST_EDGE:g} times the hole (common practice, no source): {named}{more}."]


def strength_gist(analysis: Analysis, units: Units) -> str:
    """The least safety in a few words, for a folded section."""
    told = analysis.strength
    if told is None:
        return "not asked"
    if told.untold or not told.figures:
        return "not told"
    worst = told.figures[0]
    return f"{utilised_name(worst)} has {safety_words(worst.have, units)} of {safety_words(worst.want, units)}"


def _share(told: StrengthFigures, hinges: int, uneven: float | None, units: Units) -> str:
    share = f"{format_number(round(100.0 * told.share, 1), units)}\u00a0%"
    why = " (common practice, no source)" if uneven is None and told.share == worse_share(hinges, None) else ""
    return f"Of {hinges} hinges the worse one is taken to carry {share} of all loads{why}."


def _safety(value: float | None, units: Units) -> str:
    words = safety_words(value, units)
    return "no load" if value is not None and math.isinf(value) else f"a safety of {words}"


def _plain(value: float, units: Units) -> str:
    return f"{format_number(round(value, 2), units)} is wanted"


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


def sideways_sentences(analysis: Analysis, units: Units) -> list[str]:
    """Say how far pins tilt in their holes and the front edge sways; none where nobody said how much play pins have."""
    if analysis.project.strength is None:
        return []
    told = sideways(analysis)
    if told is None:
        return ["How far the panel sways sideways isn't told: give the play of pins."]
    play = format_length(told.play, units, fine=True)
    tilts = {format_angle(deg, units, fine=True) for _, deg in told.tilts}
    if len(tilts) == 1:
        said = [f"With {play} of play each pin can tilt by {tilts.pop()} either way in its hole."]
    else:
        each = ", ".join(f"{pivot} {format_angle(deg, units, fine=True)}" for pivot, deg in told.tilts)
        said = [f"With {play} of play the pins can tilt in their holes, either way: {each}."]
    if not told.sways:
        return [*said, "How far the front edge sways isn't told: it takes a panel that is drawn and moves in one way."]
    return [*said, *(_sway(sway, units) for sway in told.sways), *_two_hinges(analysis, told)]


def _sway(sway: Sway, units: Units) -> str:
    where = "Shut" if sway.deg <= 0.0 else f"Open {format_angle(sway.deg, units)}"
    one, two = (None if each is None else f"±{format_length(each, units)}" for each in (sway.one, sway.two))
    if one is None:
        return f"{where}, how far the front edge sways can't be told: its links come into line."
    more = "" if two is None else f", by {two} on two"
    return f"{where}, the front edge can sway sideways by {one} on one hinge{more}; what bends comes on top."


def _two_hinges(analysis: Analysis, told: Sideways) -> list[str]:
    loads = analysis.project.loads
    if loads is None or loads.hinges < 2 or loads.spacing is not None or not told.sways:
        return []
    return ["How far it sways on two hinges takes the way from hinge to hinge."]


def _row(figure: Utilised, share: float, units: Units) -> tuple[str, ...]:
    quantity = {"bushing speed": SLIDING, "bushing pressure × speed": PRESSURE_SPEED}.get(figure.mode, STRESS)
    bears = _told(figure.strength, quantity, units)
    stress = (
        "beyond bound" if figure.have is None else f"{_told(figure.stress, quantity, units, unit=False)} of {bears}"
    )
    return (
        utilised_name(figure),
        MODES[figure.mode],
        safety_words(figure.have, units),
        safety_words(figure.want, units),
        safety_words(all_on_one(figure, share), units),
        NOTHING if figure.force is None else format_force(figure.force, units),
        stress,
        NOTHING if figure.deg is None else format_angle(figure.deg, units),
    )


def _told(value: float | None, quantity: Quantity, units: Units, *, unit: bool = True) -> str:
    """A figure to three digits or so, in the builder's units."""
    if value is None:
        return NOTHING
    size = abs(value) / float(quantity.units[quantity.unit(units).lower()])
    places = 0 if size >= 100.0 else 1 if size >= 10.0 else 2 if size >= 0.1 else 5
    return replace(quantity, places=places).format(value, units, unit=unit)
