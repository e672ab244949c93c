"""What is told of lifting: effort, balances, the tip-over, what the pins carry; sentences for report and window."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from app.holding_words import brings_words
from app.lengths import format_angle, format_force
from app.quantities import format_temperature

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.results import Balance, LoadFigures

__all__ = ["NO_HANDLE", "lift_sentences"]

NO_HANDLE = "No handle is set, so no effort can be told."


def lift_sentences(analysis: Analysis, units: Units) -> list[str]:
    """Say how hard it lifts, a sentence each; none where the file names no loads."""
    told, loads = analysis.loads, analysis.project.loads
    if told is None or loads is None:
        return []
    if loads.handle is None:
        said = [NO_HANDLE] if loads.masses or loads.devices else []
    else:
        said = [*_efforts(analysis, told, units), *_friction(analysis, told, units)]
    said += [_balance(each, units) for each in told.balances]
    said += [f"By its weight alone it tips over at {format_angle(deg, units)}." for deg in told.tip_overs]
    said += _pins(analysis, told, units)
    said += _worst(told, units)
    if loads.temperature is not None and any(device.kind == "gas strut" for device in loads.devices):
        said.append(f"Struts as at {format_temperature(loads.temperature, units)}.")
    return said


def _efforts(analysis: Analysis, told: LoadFigures, units: Units) -> list[str]:
    """The push at shut, at full opening, and the largest."""
    shut, full = float(told.effort[0]), float(told.effort[-1])
    said = []
    if told.largest is not None and told.largest.force > 0.0:
        where = format_angle(told.largest.deg, units)
        said.append(f"The largest push at the handle is {format_force(told.largest.force, units)}, at {where}.")
    if math.isfinite(shut):
        said.append(f"Shut, {_push(shut, units)}.")
    if math.isfinite(full) and len(told.effort) > 1:
        said.append(f"Open {format_angle(analysis.opening.reached_deg, units)}, {_push(full, units)}.")
    return said


def _push(newtons: float, units: Units) -> str:
    if newtons < 0.0:
        return f"it rises by itself: {format_force(-newtons, units)} hold it back"
    return f"{format_force(newtons, units)} hold it"


def _friction(analysis: Analysis, told: LoadFigures, units: Units) -> list[str]:
    """What friction adds when shut and at full opening."""
    if told.raising is None or told.letting_down is None:
        return []
    said = []
    for place, k in (("shut", 0), (f"open {format_angle(analysis.opening.reached_deg, units)}", -1)):
        up, down = float(told.raising[k]), float(told.letting_down[k])
        if math.isfinite(up) and math.isfinite(down):
            said.append(f"With friction, {place}: {_band(up, down, units)}.")
    return said[: len(told.effort)]


def _band(up: float, down: float, units: Units) -> str:
    """What raises it and what lets it down, by which of them the hand must turn round for."""
    raises, lowers = format_force(abs(up), units), format_force(abs(down), units)
    if down > 0.0:
        return f"{raises} raise it, and held by {lowers} it comes down slowly"
    if up >= 0.0:
        return f"friction holds it; {raises} raise it, {lowers} pull it down"
    return f"held back by {raises} it rises slowly, and {lowers} pull it down"


def _balance(balance: Balance, units: Units) -> str:
    how = "and stays there" if balance.stable else "but goes on from there either way"
    return f"Let go, it balances at {format_angle(balance.deg, units)}, {how}."


def _worst(told: LoadFigures, units: Units) -> list[str]:
    """What the worst case comes to."""
    worst = told.worst
    if worst is None:
        return []
    case = f"At worst, open{''.join(f', {each}' for each in brings_words(worst, units))}"
    if worst.force > 0.0:
        held = f"it comes down unless {format_force(worst.force, units)} hold it; it needs"
        prop = None if told.holding is None else told.holding.prop
        return [f"{case}: {held} {'its prop' if prop is not None and prop.holds else 'a prop'}."]
    left = "without friction" if worst.wind else "without friction and wind"
    return [f"{case}: {format_force(-worst.force, units)} are left before it comes down, {left}."]


def _pins(analysis: Analysis, told: LoadFigures, units: Units) -> list[str]:
    """The largest force on any pin of one hinge, at the reported poses."""
    known = np.where(np.isfinite(told.pins), told.pins, -1.0)
    if known.size == 0 or known.max() < 0.0:
        return []
    pose, column = np.unravel_index(int(np.argmax(known)), known.shape)
    pivot, deg = analysis.project.pivots[int(column)].id, format_angle(float(analysis.openings[int(pose)]), units)
    force = format_force(float(known[pose, column]), units)
    return [f"Of the pins of one hinge, {pivot} carries most: {force}, at {deg}."]
