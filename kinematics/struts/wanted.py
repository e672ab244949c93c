"""What is asked of struts, read once for all placements: effort without them, and the wants as tables of the travel.

Terms. The *bare* effort is the push at the handle with no gas strut (springs stay). A strut with force F adds to it by
virtual work, linearly: effort = bare − F·lever, where the *lever* is what 1 N of stated force takes off the push at the
handle. So every want is a row of *columns*, each a bound on the effort at one opening:

    room + F·slope ≥ 0,   slope = way·factor·lever,   room = way·(limit − bare),

with way +1 where the effort may be at most the limit, −1 where it must be at least that. The worst case of staying
open is columns too: the bare effort of each slope with each strut dead, and the share of the force that is left.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from kinematics.adverse import adverse
from kinematics.cushioning import cushioned
from kinematics.devices import ROOM_TEMPERATURE, gas_factor
from kinematics.errors import ProjectError
from kinematics.holding import end_pose
from kinematics.lifting import LIFTED
from kinematics.loads import LiftWants
from kinematics.statics import Statics
from kinematics.struts.levers import Pair, pair_of
from kinematics.struts.regions import default_zones
from kinematics.sweep import sweep
from kinematics.zoning import flaw

if TYPE_CHECKING:
    from kinematics.arrays import Floats, Ints
    from kinematics.loads import Loads, WorstCase
    from kinematics.project import Project
    from kinematics.struts.results import StrutSettings
    from kinematics.sweep import Sweep

POSES = 41
"""Openings at which a placement is looked at, evenly spaced, and one where the panel no longer need rest."""
PAST = 3
"""Openings looked at between the wanted one and that of the stop."""
AMPLE = 0.125
"""More room than this share of the push that counts is no better."""


@dataclass(frozen=True, slots=True, eq=False)
class Columns:
    """All wants as bounds: poses (m,) columns of the lever; factors (m,); ways (m,) ±1; rooms (m,) N.

    starts : where each want's columns begin.   names : of the wants, from `results.WANTS`.
    """

    poses: Ints
    factors: Floats
    ways: Floats
    rooms: Floats
    starts: Ints
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Problem:
    """What all units of a search share.

    project : without gas struts.   sweep : its.   openings (n,) deg; bare (n,) N, the effort without struts; warmth:
    what is left of a stated force at the loads' temperature.   columns : the wants.   pairs : of zones on two links.
    scale : N, what a margin is measured by.   weight : N, of all masses.   reach : mm, how large all is.
    """

    project: Project
    settings: StrutSettings
    sweep: Sweep
    y: Floats
    openings: Floats
    bare: Floats
    warmth: float
    columns: Columns
    pairs: tuple[Pair, ...]
    scale: float
    weight: float
    reach: float


def without_struts(project: Project) -> Project:
    """The project without its gas struts; springs stay."""
    if project.loads is None:
        return project
    stay = tuple(each for each in project.loads.devices if each.kind != "gas strut")
    return replace(project, loads=replace(project.loads, devices=stay))


def cannot(project: Project, settings: StrutSettings) -> tuple[ProjectError, ...]:
    """Why no strut can be looked for; empty where it can."""
    loads = project.loads
    found = []
    if loads is None or not any(mass.mass > 0.0 for mass in loads.masses):
        found.append(ProjectError("nothing is known of the weight", "", "Say what the panel weighs."))
    if loads is None or loads.handle is None:
        found.append(ProjectError("there is no handle", "", "Say where the hand lifts."))
    elif loads.handle.on == project.fixed.id:
        found.append(ProjectError("the handle is on the fixed link", "", "Put it on what is lifted."))
    if loads is None or not asks(loads.wants):
        found.append(ProjectError("nothing is wanted of lifting", "", "Say how hard it may be to lift."))
    if not settings.sizes:
        found.append(ProjectError("no size of strut is ticked", "", "Tick one."))
    if found or loads is None:
        return tuple(found)
    moved = sweep(without_struts(project))
    if moved.freedom.mobility != 1 or moved.freedom.state != "moves" or moved.reached <= 0.0:
        return (ProjectError("the panel doesn't open in just one way yet", "", "Finish the hinge first."),)
    return tuple(_places(project, moved, settings))


def _places(project: Project, moved: Sweep, settings: StrutSettings) -> list[ProjectError]:
    """What is wrong with handle and zones."""
    found = []
    if not np.isfinite(_efforts(Statics(_bare(project), moved), moved.at_openings(np.array([0.0])))).any():
        found.append(ProjectError("the handle stands still", "", "Put it where the panel moves."))
    zones = settings.zones or default_zones(project)
    if len({zone.on for zone in zones}) < 2:
        what = "the zones for the struts' ends are on one link" if zones else "there are no zones for the struts' ends"
        found.append(ProjectError(what, "", "Draw one on the fixed link and one on the panel."))
    found += [
        ProjectError(f"the zone for struts on “{zone.on}” {flaw(zone.points)}", "", "Draw it anew.")
        for zone in zones
        if flaw(zone.points)
    ]
    return found


def asks(wants: LiftWants | None) -> bool:
    """Whether anything is wanted of lifting."""
    return wants is not None and (
        wants.shut_at_most is not None
        or wants.at_most is not None
        or wants.rests_until_deg is not None
        or wants.stays_open
        or wants.stays_open_in is not None
    )


def read_problem(project: Project, settings: StrutSettings) -> Problem:
    """Read what is asked. Ask `cannot` before."""
    project = without_struts(project)
    loads, moved = _bare(project), sweep(project)
    wants = loads.wants
    if wants is None or loads.handle is None:
        raise ProjectError("struts can't be looked for without a handle and wants of lifting", "loads")
    openings = np.linspace(0.0, moved.reached_deg, POSES)
    if wants.rests_until_deg is not None and 0.0 < wants.rests_until_deg < moved.reached_deg:
        openings = np.union1d(openings, [wants.rests_until_deg])
    y = moved.at_openings(np.minimum(np.radians(openings), moved.reached))
    statics = Statics(loads, moved)
    bare = _efforts(statics, y)
    told = np.isfinite(bare)
    y, openings, bare = y[told], openings[told], bare[told]
    warmth = ROOM_TEMPERATURE if loads.temperature is None else loads.temperature
    zones = settings.zones or default_zones(project)
    # A strut is told from the fixed link on, if one of its ends is there.
    order = sorted(zones, key=lambda zone: zone.on != project.fixed.id)
    two_links = [two for two in itertools.combinations(order, 2) if two[0].on != two[1].on]
    beyond = _beyond(loads, moved)
    pairs = tuple(pair_of(moved, statics, y, beyond, two) for two in two_links)
    columns = _columns(project, loads, moved, openings, bare, settings.count)
    pushes = [each for each in (wants.shut_at_most, wants.at_most) if each]
    scale = max(min(pushes, default=0.0), 0.1 * float(np.abs(bare).max()), 1.0)
    factor = gas_factor(warmth)
    reach = max(statics.reach, 1.0)
    return Problem(project, settings, moved, y, openings, bare, factor, columns, pairs, scale, statics.weight, reach)


def _bare(project: Project) -> Loads:
    """The loads that stay."""
    loads = without_struts(project).loads
    if loads is None:
        raise ProjectError("struts can't be looked for without weights", "loads")
    return loads


def _beyond(loads: Loads, moved: Sweep) -> Floats:
    """(k, unknowns) poses past the opening reached, up to the stop's, over which a strut must be long enough too."""
    stop = 0.0 if loads.stop is None else math.radians(loads.stop.at_deg)
    if not moved.reached < stop < moved.largest:
        return np.zeros((0, moved.closure.unknowns))
    return moved.at_openings(np.linspace(moved.reached, stop, PAST + 1)[1:])


def _efforts(statics: Statics, y: Floats) -> Floats:
    at = statics.at(y)
    return statics.effort(at, statics.applied(at))


# --------------------------------------------------------------------------------------------------------------- wants
def _columns(project: Project, loads: Loads, moved: Sweep, openings: Floats, bare: Floats, count: int) -> Columns:
    """The wants as bounds on the effort at openings."""
    wants = loads.wants or LiftWants()
    every, last = np.arange(len(openings)), np.array([len(openings) - 1])
    rows: list[tuple[str, Ints, Floats, float, Floats]] = []

    def add(name: str, poses: Ints, way: float, limit: float) -> None:
        rows.append((name, poses, np.ones(len(poses)), way, way * (limit - bare[poses])))

    if wants.shut_at_most is not None:
        add("shut", every[:1], 1.0, wants.shut_at_most)
    if wants.at_most is not None:
        add("largest", every, 1.0, wants.at_most)
    if wants.rests_until_deg is not None:
        # that a seal lifts it so far is no rising by itself
        let_go = min(cushioned(loads.cushions, moved).let_go_deg, LIFTED)
        asked = (openings <= wants.rests_until_deg + 1e-9) & (openings >= let_go)
        if asked.any():
            add("rests", every[asked], -1.0, 0.0)
    if wants.stays_open:
        add("open", last, 1.0, 0.0)
    if wants.stays_open_in is not None:
        efforts, factors = _worst_cases(project, loads, wants.stays_open_in, moved, count)
        rows.append(("worst", np.repeat(last, len(efforts)), factors, 1.0, -efforts))
    counts = [len(row[1]) for row in rows]
    return Columns(
        np.concatenate([row[1] for row in rows]),
        np.concatenate([row[2] for row in rows]),
        np.repeat([row[3] for row in rows], counts),
        np.concatenate([row[4] for row in rows]),
        np.concatenate([[0], np.cumsum(counts)[:-1]]).astype(np.intp),
        tuple(row[0] for row in rows),
    )


def _worst_cases(project: Project, loads: Loads, case: WorstCase, moved: Sweep, count: int) -> tuple[Floats, Floats]:
    """For every slope, in the worse gust: bare effort when open, and the share of the lever left with a strut dead.

    The lever is of all struts at the loads' own temperature.
    """
    stated = ROOM_TEMPERATURE if loads.temperature is None else loads.temperature
    warmth = stated if case.temperature is None else case.temperature
    cold = gas_factor(warmth) / gas_factor(stated)
    share = (count - 1) / count if case.one_dead else 1.0
    statics = Statics(loads, moved)
    at = statics.at(end_pose(moved))
    pace = float(np.abs(statics.told(at)[1])[0])
    against = adverse(project, statics, case, at, statics.applied(at))
    efforts = (np.abs(against.gusting[0]) - against.power[:, 0]) / pace
    return efforts, np.full(len(efforts), cold * share)
