"""What holds the panel open, in sentences: prop, stop, rest past the tip-over, a gust; for report and window."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from app.lengths import exact_length, format_angle, format_force, format_length, format_number
from app.quantities import WIND, format_temperature
from kinematics.balance import holding_in_full
from kinematics.gust import AIR, FORCE_COEFFICIENT
from kinematics.holding_edits import wind_of
from kinematics.propping import FRICTION

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.project import Project
    from kinematics.results import Check, HoldingFigures, PropFigures, RestFigures, Seat, StopFigures, Worst

__all__ = [
    "brings_words",
    "gust_sentences",
    "holding_cautions",
    "holding_sentences",
    "prop_sentences",
    "rest_sentences",
    "short_holding",
    "stop_figure",
    "stop_sentences",
    "stop_want",
]

SLIDES_ON_PANEL = {"front": "towards the front edge", "rear": "towards the rear edge"}
SLIDES_ELSEWHERE = {"front": "away from the hinge", "rear": "towards the hinge"}
NEAR_LINE = 10.0
"""Mm from the seat to its nearest line beyond which that is told."""


def holding_sentences(analysis: Analysis, units: Units) -> list[str]:
    """Say what prop, stop, rest and gust come to, a sentence each; nothing where the project has none of them."""
    told = holding_in_full(analysis.project, analysis.sweep)
    if told is None:
        return []
    return [
        *prop_sentences(analysis, told, units),
        *stop_sentences(analysis, told, units),
        *rest_sentences(told, units),
        *gust_sentences(analysis, told, units),
    ]


def short_holding(project: Project, units: Units) -> str:
    """Which of them there are, in short: "prop 70°, stop 77°, wind 12 m/s"; "" for none."""
    loads = project.loads
    if loads is None:
        return ""
    case = None if loads.wants is None else loads.wants.stays_open_in
    found = [] if loads.prop_rod is None else [f"prop {format_angle(loads.prop_rod.at_deg, units)}"]
    found += [] if loads.stop is None else [f"stop {format_angle(loads.stop.at_deg, units)}"]
    found += [] if case is None or case.wind <= 0.0 else [f"wind {WIND.format(case.wind, units)}"]
    return ", ".join(found)


def brings_words(worst: Worst, units: Units) -> list[str]:
    """What a worst case is made of: "−10 °C", "a slope of 5°", "one strut “left” dead", "a gust of 12 m/s"."""
    found = [] if worst.temperature is None else [format_temperature(worst.temperature, units)]
    found += [f"a slope of {format_angle(abs(worst.slope_deg), units)}"] if worst.slope_deg else []
    found += [f"one strut “{worst.dead}” dead"] if worst.dead else []
    return found + ([f"a gust of {WIND.format(worst.wind, units)}"] if worst.wind else [])


def _brought(worst: Worst, units: Units) -> str:
    """The same in brackets, "" where nothing goes against it."""
    words = brings_words(worst, units)
    return f" ({', '.join(words)})" if words else ""


# ---------------------------------------------------------------------------------------------------------------- prop
def prop_sentences(analysis: Analysis, told: HoldingFigures, units: Units) -> list[str]:
    """How long the prop is, what it bears, whether it slips, and whether it finds room when shut."""
    prop = told.prop
    if prop is None:
        return []
    at = format_angle(prop.at_deg, units)
    if prop.length is None:
        reached = format_angle(analysis.opening.reached_deg, units)
        return [f"The prop can't be set: its opening, {at}, isn't reached, as the panel opens to {reached}."]
    said = [f"The prop is {format_length(prop.length, units)} from end to end, set at {at}."]
    said += _prop_force(prop, units)
    if prop.seat is not None:
        said.append(_seat(prop.seat, _sits_on_panel(analysis.project), units))
    elif prop.force is not None and analysis.project.loads is not None and analysis.project.loads.prop_rod is not None:
        on = analysis.project.loads.prop_rod.to_end.on
        said.append(f"Draw the line of “{on}” at the prop's seat, and it is told whether the prop would slide on it.")
    return [*said, *_stowed(prop, units), *_leaves(prop, units), *_prop_pins(analysis, prop, units)]


def _prop_force(prop: PropFigures, units: Units) -> list[str]:
    """What it bears with nobody's hand, and at worst."""
    if prop.force is None:
        return ["There it hardly grows or shrinks as the panel moves, so that it can't hold it. Put an end elsewhere."]
    if prop.force > 0.0:
        said = [f"With nobody's hand it bears {format_force(prop.force, units)}."]
    else:
        drawn = format_force(-prop.force, units)
        said = [f"Nothing rests on it: the panel would rise, and draws it by {drawn}; it holds only if it is pinned."]
    if prop.most is not None and prop.most.force > max(prop.force, 0.0) + 0.05:
        said.append(f"At worst it bears {format_force(prop.most.force, units)}{_brought(prop.most, units)}.")
    if prop.least is not None and prop.least.force < 0.0 < prop.force:
        drawn = format_force(-prop.least.force, units)
        said.append(f"It can also be drawn by {drawn}{_brought(prop.least, units)}: pin it, or it jumps off its seat.")
    return said


def _sits_on_panel(project: Project) -> bool:
    loads = project.loads
    return loads is not None and loads.prop_rod is not None and loads.prop_rod.to_end.on == project.panel.id


def _seat(seat: Seat, on_panel: bool, units: Units) -> str:
    """Whether it stays on a plain seat, and which way it slides."""
    off, limit = format_angle(seat.off_deg, units), format_angle(seat.friction_deg, units)
    line = f"“{seat.outline}”"
    if seat.away > NEAR_LINE:
        line += f", {format_length(seat.away, units)} from it"
    lean = f"At its seat it leans {off} off square to {line}"
    why = f"(friction {format_number(FRICTION, units)}, metal on greasy metal: common practice, no source)"
    if not seat.slides:
        return f"{lean}; up to {limit} it stays on a plain seat {why}. A socket or a pin is surer."
    ways = SLIDES_ON_PANEL if on_panel else SLIDES_ELSEWHERE
    way = ways.get(seat.slides, "along that line")
    return f"{lean}; beyond {limit} it slides on a plain seat {why}: {way}. Give it a socket, a hook or a pin."


def _stowed(prop: PropFigures, units: Units) -> list[str]:
    """Whether the panel covers it when shut."""
    if prop.stows is None or prop.length is None:
        return []
    long, room = format_length(prop.length, units), format_length(prop.stows, units)
    if prop.length <= prop.stows:
        return [f"Shut, it finds room: {long} long, with {room} from the end that it hangs by to the panel's far edge."]
    only = f"{long} long, and only {room} from the end that it hangs by to the panel's far edge"
    return [f"Shut, it finds no room: {only}; it would stand out, or must fold or slide together."]


def _leaves(prop: PropFigures, units: Units) -> list[str]:
    """Where its seat goes away from it."""
    if not prop.leaves_deg:
        return []
    ranges = ", ".join(f"{format_angle(a, units)} to {format_angle(b, units)}" for a, b in prop.leaves_deg)
    away = format_length(prop.away, units)
    return [f"Raised further, {ranges}, its seat goes up to {away} away from it: there it can drop out."]


def _prop_pins(analysis: Analysis, prop: PropFigures, units: Units) -> list[str]:
    """The largest force on a pin of one hinge while the prop bears."""
    if prop.pins is None or not np.isfinite(prop.pins).any():
        return []
    most = int(np.nanargmax(prop.pins))
    pivot, force = analysis.project.pivots[most].id, format_force(float(prop.pins[most]), units)
    return [f"Meanwhile, of the pins of one hinge, {pivot} carries most: {force}."]


# ---------------------------------------------------------------------------------------------------------------- stop
def stop_sentences(analysis: Analysis, told: HoldingFigures, units: Units) -> list[str]:
    """What a stop bears, or why it is none."""
    loads = analysis.project.loads
    if told.stop is None or loads is None or loads.stop is None:
        return []
    stop, (first, second) = told.stop, loads.stop.between
    why = _no_stop(stop, first, second, units)
    if stop.turned_deg is None or stop.ratio is None:
        return [why] if why else []
    said = []
    if stop.pivot and stop.why != "still":
        said.append(
            f"At the stop's {format_angle(stop.at_deg, units)}, “{second}” has turned"
            f" {format_angle(abs(stop.turned_deg), units)} against “{first}” about {stop.pivot},"
            f" {format_angle(abs(stop.ratio), units)} for each degree of opening there."
        )
    return [*said, why] if why else [*said, *_stop_force(stop, loads.hinges, units)]


def _no_stop(stop: StopFigures, first: str, second: str, units: Units) -> str:
    """Why a stop stops nothing, or its force isn't told."""
    at = format_angle(stop.at_deg, units)
    return {
        "dead point": f"The stop is never met: {at} lies at or past the dead point, where the panel turns no further.",
        "no pivot": f"No pivot joins “{first}” and “{second}”, so a stop between them has no arm: choose two that one"
        " joins.",
        "still": f"At {at}, “{first}” and “{second}” hardly turn against each other: a stop there stops nothing.",
        "strut": f"A strut is at its end before {at}: that ends the travel, and the stop bears nothing that could be"
        " told.",
    }.get(stop.why, "")


def _stop_force(stop: StopFigures, hinges: int, units: Units) -> list[str]:
    """What its faces bear, of all hinges together."""
    arm = format_length(stop.arm, units)
    whole = f", {hinges} hinges together" if hinges > 1 else ""
    if stop.force:
        said = [f"With nobody's hand its faces bear {format_force(stop.force, units)}, {arm} from the pin{whole}."]
    else:
        said = ["With nobody's hand nothing leans on it."]
    if stop.worst is not None and stop.worst.force > (stop.force or 0.0) + 0.05:
        worst = format_force(stop.worst.force, units)
        said.append(f"At worst they bear {worst}{_brought(stop.worst, units)}; thrown against them, more.")
    return said


def stop_want(check: Check, units: Units) -> str:
    """Where a stop must lie: "past 75°, before 93.4°"."""
    past = f"past {format_angle(check.want, units)}"
    return past if check.most is None else f"{past}, before the dead point at {format_angle(check.most, units)}"


def stop_figure(check: Check, units: Units, *, fine: bool) -> str:
    """Where it lies, or why it is none."""
    why = {
        "no pivot": "no pivot joins the two",
        "still": "the two hardly turn against each other there",
        "strut": "a strut is at its end before",
    }
    at = format_angle(check.have, units, fine=fine)
    return f"{at}, but {why[check.side]}" if check.side in why else at


# ---------------------------------------------------------------------------------------------------------------- rest
def rest_sentences(told: HoldingFigures, units: Units) -> list[str]:
    """How it rests at full opening by itself, and what brings it back."""
    if told.rest is None:
        return []
    rest = told.rest
    place = "on its stop" if rest.on_stop else "as long as something stops it there"
    said = [f"Open {format_angle(rest.at_deg, units)} it rests by itself, {place}."]
    if rest.pull is not None and rest.pull.force > 0.0:
        said.append(_pull(rest, units))
    if rest.back_to_deg is None:
        said.append("It rises by itself all the way from shut: nothing but a latch keeps it down.")
    else:
        said.append(f"Back past {format_angle(rest.back_to_deg, units)} it goes on towards shut by itself.")
    if rest.withstands is not None:
        speed = WIND.format(rest.withstands, units)
        said.append(f"A gust of more than {speed}, square on the panel, brings it off its rest.")
    return said


def _pull(rest: RestFigures, units: Units) -> str:
    if rest.pull is None:
        return ""
    deg, pull = format_angle(rest.pull.deg, units), format_force(rest.pull.force, units)
    rubbing = "" if rest.rubbing is None else f", with friction {format_force(rest.rubbing, units)}"
    return f"It takes {pull} at the handle to bring it back, most at {deg}{rubbing}."


# ---------------------------------------------------------------------------------------------------------------- gust
def gust_sentences(analysis: Analysis, told: HoldingFigures, units: Units) -> list[str]:
    """What the gust of the worst case comes to, by formula and source; what is missing for it."""
    loads = analysis.project.loads
    case = None if loads is None or loads.wants is None else loads.wants.stays_open_in
    if loads is None or case is None or case.wind <= 0.0:
        return []
    speed = WIND.format(case.wind, units)
    if loads.across is None:
        return [f"How wide is the panel across the body? Without that, a gust of {speed} can't be told."]
    gust = told.gust
    if gust is None:
        return [f"Draw the panel's outline, and it is told what a gust of {speed} does to it."]
    wide, long = format_length(loads.across, units), format_length(gust.chord, units)
    air, flat = format_number(AIR, units), format_number(FORCE_COEFFICIENT, units)
    press, force = format_number(round(gust.pressure, 1), units), format_force(gust.force, units)
    formula = f"½ · {air} kg/m³ · v² = {press} Pa (air: EN 1991-1-4:2005, 4.5)"
    board = f"times {flat} for a flat board (the same, 7.4.3; both from memory), on {long} × {wide}"
    return [f"A gust of {speed} presses by {formula}, {board}: {force} square to the panel, at its middle, either way."]


def wind_words(project: Project, units: Units) -> str:
    """Say in which gust the panel is to stay open, where that isn't typed."""
    speed = wind_of(project)
    return (
        f"{WIND.format(speed, units)}, typed under Holding open." if speed else "None; it is typed under Holding open."
    )


def width_words(project: Project, units: Units) -> str:
    """Say how wide the panel is, where that isn't typed."""
    across = None if project.loads is None else project.loads.across
    wide = "how wide is not known yet; it is" if across is None else f"{exact_length(across, units)} wide,"
    return f"The panel across the body: {wide} typed under Hinges and width."


# ------------------------------------------------------------------------------------------------------------ cautions
def holding_cautions(project: Project) -> list[str]:
    """What may hurt people beneath an open panel."""
    loads, found = project.loads, []
    if loads is None:
        return []
    if loads.prop_rod is not None:
        found.append(
            "A prop that slips drops the panel: give both its ends a socket or a pin, and look that it sits before"
            " you lean in."
        )
    if any(device.kind == "gas strut" for device in loads.devices):
        found.append(
            "Never rely on struts alone under an open panel: cold, worn or let go, they drop it. Set a prop first."
        )
    if loads.stop is not None or loads.prop_rod is not None:
        found.append("Stand clear of the pinch places while the panel is let down off its prop or its stop.")
    return found
