"""A stop between two links, and how the panel rests on it past the tip-over.

Terms. A *stop* is a pair of faces on two links that meet at an opening, `arm` mm from the pivot that joins the two. It
can only press: it bears what would open the panel further. By virtual work its moment times how fast the two links turn
against each other, and the power of all loads, add up to nothing; moment by arm is the *force* on its faces. It doesn't
end the sweep, which runs to the wanted opening whatever the stop.

A panel that rises by itself at full opening *rests* there on its stop. What brings it back is the largest pull at the
handle on the way back to where it balances.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from kinematics.adverse import gust_power
from kinematics.devices import bounds
from kinematics.gust import board
from kinematics.results import Push, RestFigures, StopFigures

if TYPE_CHECKING:
    from kinematics.adverse import Scene
    from kinematics.arrays import Floats
    from kinematics.fittings import Stop
    from kinematics.project import Project
    from kinematics.statics import Statics
    from kinematics.sweep import Sweep

STILL = 1e-6
"""Two links that turn against each other by less than this (rad per rad of opening) stand still."""
NEARLY = 1e-3
"""Mm by which a strut may seem to pass its end between exact poses."""
NOTHING = 1e-9
"""A power of less than this share of weight times reach is none."""
WAY_BACK = 61
"""Openings on the way back, or on to a stop, that are looked at."""


def common_pivot(project: Project, between: tuple[str, str]) -> str:
    """The pivot that joins two links, "" where there is none."""
    return next((pivot.id for pivot in project.pivots if all(link in pivot.joins for link in between)), "")


def past_end(sweep: Sweep, at_deg: float) -> bool:
    """Whether an opening (deg) lies at or past the largest one, the dead point."""
    return at_deg > sweep.largest_deg - (1e-6 if sweep.folds else -1e-9)


def stop_figures(scene: Scene, stop: Stop, pose: int) -> StopFigures:
    """What a stop comes to at the pose of its opening."""
    at, sweep = scene.at, scene.statics.sweep
    pivot = common_pivot(scene.project, stop.between)
    first, second = (sweep.closure.links.index(link) for link in stop.between)
    turned = math.degrees(float(at.turns[pose, second] - at.turns[pose, first]))
    opens = sweep.sign * float(at.rates[pose, sweep.closure.panel])
    rate = float(at.rates[pose, second] - at.rates[pose, first])
    ratio = rate / opens if abs(opens) > STILL else None
    why = "no pivot" if not pivot else "still" if ratio is None or abs(ratio) < STILL else ""
    why = why or ("strut" if strut_ends(scene.statics, stop.at_deg) else "")
    pace = -abs(rate) * stop.arm  # it is shortened, as a rod would be, by what leans on its faces
    force = None if why else scene.bears(pose, pace)
    why = "still" if force is None and not why else why
    told = StopFigures(stop.at_deg, stop.arm, pivot, why, turned, ratio)
    if force is None:
        return told
    worst = None if scene.against is None else scene.against.largest(pose, pace)
    return replace(told, force=max(force, 0.0), worst=worst)


def strut_ends(statics: Statics, at_deg: float) -> bool:
    """Whether a strut comes to its end past the opening reached and before another one (deg)."""
    sweep, struts = statics.sweep, statics.fitted
    if at_deg <= sweep.reached_deg or not struts.devices:
        return False
    openings = np.linspace(sweep.reached, math.radians(at_deg), WAY_BACK)
    lengths = struts.spans(statics.nearly(sweep.arcs_at(openings)).e)[0]
    low, high = np.array([bounds(device) for device in struts.devices]).T
    return sweep.stop is not None or bool(((lengths < low - NEARLY) | (lengths > high + NEARLY)).any())


def rest_figures(scene: Scene, pose: int, on_stop: bool) -> RestFigures | None:
    """How the panel rests at the pose of its full opening; None where it comes down from there."""
    power, statics, sweep = scene.power(pose), scene.statics, scene.statics.sweep
    if power <= NOTHING * statics.weight * statics.reach:
        return None
    full = float(scene.at.openings[pose])
    openings, back = _way_back(sweep, statics, full)
    pull, rubbing = _pull(sweep, statics, openings)
    facing, withstands = board(scene.project), None
    if facing is not None:
        swing = abs(float(gust_power(facing, sweep, scene.at, facing.gust(1.0).force)[pose]))
        withstands = math.sqrt(power / swing) if swing > 0.0 else None
    return RestFigures(math.degrees(full), on_stop, back, pull, rubbing, withstands)


def _way_back(sweep: Sweep, statics: Statics, full: float) -> tuple[Floats, float | None]:
    """Openings (rad) from where it balances to full opening, and where it balances (deg), None where at no place."""
    low, high, back = 0.0, full, None
    for _ in range(2):
        openings = np.linspace(low, high, WAY_BACK)
        at = statics.nearly(sweep.arcs_at(openings))
        power = statics.power(at, statics.applied(at))
        against = np.flatnonzero(power <= 0.0)
        if len(against) == 0 or against[-1] == len(power) - 1:
            break
        k = int(against[-1])
        low, high = float(openings[k]), float(openings[k + 1])
        back = low + (high - low) * float(power[k] / (power[k] - power[k + 1]))
    return np.linspace(0.0 if back is None else back, full, WAY_BACK), None if back is None else math.degrees(back)


def _pull(sweep: Sweep, statics: Statics, openings: Floats) -> tuple[Push | None, float | None]:
    """The largest pull at the handle over openings (rad), and the same with friction there; None where untold."""
    at = statics.nearly(sweep.arcs_at(openings))
    efforts = statics.effort(at, statics.applied(at))
    if statics.handle is None or not np.isfinite(efforts).any():
        return None, None
    most = openings[int(np.nanargmin(efforts))]
    at = statics.at(sweep.at_openings(np.array([most])))
    applied = statics.applied(at)
    pull = Push(-float(statics.effort(at, applied)[0]), math.degrees(float(most)))
    if not statics.rubbing:
        return pull, None
    down = float(statics.rubbed(at, applied)[1][0])
    return pull, -down if math.isfinite(down) else None
