"""What pins, plates and bushings carry over the sweep, held against what they bear.

The forces are those of `kinematics.statics`, of the hinge that is worse off: it carries `strength.worse_share` of all
loads. The demands of `kinematics.demands` are looked at first on the samples along the branch on which the loads'
figures are sought, so that nothing depends on how many poses are reported. Then exact poses are asked for, all in one,
where a demand is largest: at that sample, at the top of the parabola through it and its neighbours, and, where springs
may go slack so that no parabola fits, at some places more. What could still hide is a peak narrower than the samples.
Where a demand grows beyond bound, by a dead point or where links come into line, nothing is told of what it loads.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from kinematics import strength as formulas
from kinematics.balance import on_members
from kinematics.demands import Demands
from kinematics.failing import ways_to_fail
from kinematics.joints import build_of, made_joints, made_of
from kinematics.results import Listed, StrengthFigures, Utilised

if TYPE_CHECKING:
    from kinematics.arrays import Bools, Floats
    from kinematics.balance import Seen
    from kinematics.balancing import Marks
    from kinematics.failing import Way, Ways
    from kinematics.joints import Build
    from kinematics.project import Project
    from kinematics.results import LoadFigures
    from kinematics.statics import At
    from kinematics.strength_parts import Strength

CLOSER = np.array([-0.75, -0.5, -0.25, 0.25, 0.5, 0.75])
"""Places about a largest value, in stretches to its neighbours, where springs may go slack."""
SHORT = 1e-3
"""So far (rad of arc) before a dead point the last pose grows, and another at twice that."""
GROWS = 1.5
"""What grows by more between these two has no end at the dead point: 1/x would double."""
ROUGH = 1e-12
"""Forces below this share of the bound are rounding."""
UNTOLD = "no force on any pin can be told: it takes loads, a handle, and a linkage that moves in one way"


@dataclass(frozen=True, slots=True, eq=False)
class Look:
    """What the first look finds: poses (n,), their demands, and the places (rad of arc) of exact poses to ask for.

    is_dead : whether the last two of these stand at `SHORT` and twice that before a dead point.
    """

    demands: Demands
    at: At
    values: Floats
    arcs: Floats
    is_dead: bool


def first_look(project: Project, marks: Marks | None) -> Look | None:
    """Look at the demands; None where nothing is said of pins and plates, or nothing of their forces."""
    if project.strength is None or marks is None or marks.statics.handle is None:
        return None
    statics, sweep = marks.statics, marks.sweep
    demands = Demands(project, project.strength, statics, _share(project))
    at, applied = statics.asked(marks.arcs, marks.near, marks.loads)
    forces = on_members(project, statics, statics.held(at, applied).on_second)[1]
    values = demands.values(forces, at, applied)
    slack = any(device.kind != "gas strut" for device in statics.loads.devices)
    arcs, end = _tops(marks.arcs, values, slack=slack), float(sweep.branch.arcs[-1])
    is_dead = bool(sweep.folds and marks.sweep.reach_arc >= end and end >= 4.0 * SHORT)
    if is_dead:
        arcs = np.concatenate([arcs[arcs < end - 3.0 * SHORT], [end - 2.0 * SHORT, end - SHORT]])
    return Look(demands, at, values, arcs, is_dead)


def straining(
    project: Project, look: Look | None, told: LoadFigures | None, seen: Seen | None
) -> StrengthFigures | None:
    """What is carried and borne; None where the project says nothing of pins and plates.

    seen : the exact poses that the first look asked for.
    """
    if project.strength is None:
        return None
    share = _share(project)
    if look is None or told is None or seen is None or not np.isfinite(told.pins).any():
        return StrengthFigures(share, (), UNTOLD)
    values = look.demands.values(seen.forces, seen.at, seen.applied)
    tops = _Tops(look, values, seen.at, told.bound * look.demands.times)
    ways = ways_to_fail(project).told(_turned_deg(project, look), look.demands.lengths)
    figures, worst = tops.figures(project, ways)
    return StrengthFigures(share, figures, "", _remarks(project.strength, build_of(project)), worst)


def _share(project: Project) -> float:
    """Of all loads, what the worse hinge carries."""
    loads = project.loads
    return formulas.worse_share(1 if loads is None else loads.hinges, None if loads is None else loads.uneven)


def _tops(arcs: Floats, demands: Floats, *, slack: bool) -> Floats:
    """Places about the largest value of each demand (n, demands) at places (n,), in order."""
    known = np.where(np.isfinite(demands), demands, -1.0)
    tops = known.argmax(axis=0)
    if len(arcs) < 3:
        return arcs
    middle = np.minimum(np.maximum(tops, 1), len(arcs) - 2)
    columns = np.arange(demands.shape[1])
    low, here, high = (known[middle + step, columns] for step in (-1, 0, 1))
    before, after = arcs[middle] - arcs[middle - 1], arcs[middle + 1] - arcs[middle]
    rise, fall = (here - low) / before, (high - here) / after
    bend, slope = (fall - rise) / (0.5 * (before + after)), (rise * after + fall * before) / (before + after)
    shift = -slope / np.where(bend < 0.0, bend, -np.inf)
    found = [arcs[tops], arcs[middle] + np.minimum(np.maximum(shift, -before), after)]
    if slack:
        reach = np.where(CLOSER[:, None] < 0.0, arcs[tops] - arcs[np.maximum(tops - 1, 0)],
                         arcs[np.minimum(tops + 1, len(arcs) - 1)] - arcs[tops])  # fmt: skip
        found.append((arcs[tops] + reach * CLOSER[:, None]).ravel())
    return np.unique(np.concatenate(found))


def _turned_deg(project: Project, look: Look) -> dict[str, float]:
    """By pivot, how far its links turn on each other from shut to the opening reached, to and fro counted."""
    links = look.demands.statics.closure.links
    joints = made_joints(project)
    pairs = [(links.index(joint.outer), links.index(link)) for joint in joints for link in joint.inner]
    if not pairs:
        return {}
    outer, inner = np.array(pairs, dtype=np.intp).T
    turns = look.at.turns[:, inner] - look.at.turns[:, outer]
    ways = np.degrees(np.abs(turns[1:] - turns[:-1]).sum(axis=0)).tolist()
    found: dict[str, float] = {}
    names = [joint.joint.pivot for joint in joints for _ in joint.inner]
    for name, way in zip(names, ways, strict=True):
        found[name] = max(way, found.get(name, 0.0))
    return found


# -------------------------------------------------------------------------------------------------------------- figures
class _Tops:
    """The largest value of every demand over all exact poses, and where; for those that can't be told, where that is.

    values : (k, demands) at the exact poses.   bound : N beyond which nothing is told.
    """

    def __init__(self, look: Look, values: Floats, at: At, bound: float) -> None:
        self.demands, self.nothing = look.demands, ROUGH * bound
        untold = self._untold(np.concatenate([look.values, values]), bound)
        if look.is_dead:
            untold[-1] |= (values[-1] > GROWS * values[-2]) & (values[-1] > self.nothing)
        self.untold: Bools = np.logical_or.reduce(untold, axis=0)
        tops = np.argmax(np.where(np.isnan(values), -1.0, values), axis=0)
        self.values = values[tops, np.arange(values.shape[1])]
        self.rows = np.where(self.untold, np.argmax(untold, axis=0), len(look.values) + tops)
        self.e = np.concatenate([look.at.e, at.e])
        openings = np.degrees(np.concatenate([look.at.openings, at.openings]))
        self.degs = np.minimum(np.maximum(openings, 0.0), look.demands.statics.sweep.reached_deg)

    def _untold(self, values: Floats, bound: float) -> Bools:
        """(n, demands) which values can't be told; a section's follows from all pins."""
        layout = self.demands.layout
        forces = len(layout.columns) - len(layout.bands)
        untold: Bools = np.logical_or(np.isnan(values), values > bound)
        untold[:, forces:] = np.logical_or.reduce(untold[:, : len(layout.first)], axis=1, keepdims=True)
        return untold

    def figures(self, project: Project, ways: Ways) -> tuple[Listed[Utilised], tuple[int, ...]]:
        """The worst of every way to fail, or that it can't be told, worst first; and `StrengthFigures.worst`."""
        columns = np.array([self.demands.layout.columns[way.demand] for way in ways.ways], dtype=np.intp)
        rows, value, told = self.rows[columns], self.values[columns], np.logical_not(self.untold[columns])
        grows = np.isnan(ways.steady)
        with np.errstate(invalid="ignore", over="ignore"):
            stress = np.where(grows, np.where(value > self.nothing, value * ways.each, 0.0), ways.steady)
        with np.errstate(divide="ignore"):
            have = np.where(told, ways.strength / np.maximum(stress, 0.0), -np.inf)
        order = np.argsort(have / ways.want, kind="stable").tolist()
        worst: dict[tuple[str, str], int] = {}
        for place, k in enumerate(order):
            way = ways.ways[k]
            worst.setdefault(("pin", way.pivot) if way.pivot else ("link", way.link), place)

        def make(place: int) -> Utilised:
            k = order[place]
            row, way = int(rows[k]), ways.ways[k]
            is_told, has_stress = bool(told[k]), bool(told[k]) and math.isfinite(stress[k])
            return Utilised(
                way.mode,
                way.pivot,
                way.link,
                float(value[k]) if is_told and way.mode != "section" else None,
                float(stress[k]) if has_stress else None,
                float(ways.strength[k]),
                way.want,
                float(have[k]) if is_told else None,
                float(self.degs[row]) if grows[k] else None,
                self._place(project, way, row),
                way.note,
            )

        return Listed(len(order), make), tuple(worst.values())

    def _place(self, project: Project, way: Way, row: int) -> tuple[float, float]:
        """Where the pin, or the middle of the link's pins, stands at a pose."""
        pins = [project.pivot(way.pivot)] if way.pivot else list(project.pivots_on(way.link))
        closure, e = self.demands.statics.closure, self.e[row]
        link = closure.links.index(way.link or pins[0].joins[0])
        shut = sum(complex(*pin.at) for pin in pins) / len(pins) - closure.centre
        z = complex(closure.shift_map[link] @ e + e[link] * shut) + closure.centre
        return z.real, z.imag


@lru_cache(maxsize=16)
def _remarks(strength: Strength, build: Build) -> tuple[str, ...]:
    """What can't be told for want of an entry; it stays while pins are dragged."""
    joints = made_of(strength, build).values()
    edgeless = [
        f"{link} at {joint.joint.pivot}" for joint in joints for link in joint.links if joint.plates[link].edge is None
    ]
    unrated = [joint.joint.pivot for joint in joints if joint.joint.housing is not None and joint.joint.bushing is None]
    told = []
    if edgeless:
        named = ", ".join(edgeless)
        told.append(f"Net section and tear-out aren't told of {named}: give an edge distance, or the link a width.")
    if unrated:
        told.append(f"What bushings bear isn't told at {', '.join(unrated)}: say what they are of, with the pins.")
    return tuple(told)
