"""What pins, plates and bushings carry over the sweep, held against what they bear.

The forces are those of `kinematics.statics`, of the hinge that is worse off: it carries `strength.worse_share` of all
loads. The *demands* that `kinematics.failing` names are looked at on exact poses along the branch, close to each other,
and then more closely about the largest value of each, so that nothing depends on how many poses are reported; what
could still hide is a peak narrower than the first look. Where a demand grows beyond bound, by a dead point or where
links come into line, nothing is told of what it loads.

A hole at the end of a straight link counts in full what pulls it outwards, and of what pushes it inwards only what goes
sideways; on every other link, each force counts in full. A pin with three links or more counts the largest force that
can pass any cut through it, whichever way they are stacked.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np

from kinematics import strength as formulas
from kinematics.balance import on_members
from kinematics.failing import ways_to_fail
from kinematics.joints import made_joints
from kinematics.results import StrengthFigures, Utilised
from kinematics.sectioned import Sectioned, sectioned
from kinematics.statics import Statics

if TYPE_CHECKING:
    from kinematics.arrays import Bools, Complexes, Floats
    from kinematics.failing import Demand, Way
    from kinematics.project import Project
    from kinematics.results import LoadFigures
    from kinematics.statics import Applied, At
    from kinematics.sweep import Sweep

LOOKS = 2
"""Poses looked at in each stretch between knots …"""
CLOSER = np.array([-0.75, -0.5, -0.25, 0.25, 0.5, 0.75])
"""… and about each largest value, in stretches to its neighbours."""
SHORT = 1e-3
"""So far (rad of arc) before a dead point the last pose stands, and another at twice that."""
GROWS = 1.5
"""What grows by more between these two has no end at the dead point: 1/x would double."""
ROUGH = 1e-12
"""Forces below this share of the bound are rounding."""
UNTOLD = "no force on any pin can be told: it takes loads, a handle, and a linkage that moves in one way"


def straining(project: Project, sweep: Sweep, told: LoadFigures | None) -> StrengthFigures | None:
    """What is carried and borne; None where the project says nothing of pins and plates."""
    loads = project.loads
    if project.strength is None:
        return None
    hinges = 1 if loads is None else loads.hinges
    share = formulas.worse_share(hinges, None if loads is None else loads.uneven)
    if loads is None or told is None or not told.members or not np.isfinite(told.pins).any():
        return StrengthFigures(share, (), UNTOLD)
    plan = _plan(project, sweep, Statics(loads, sweep), share)
    arcs, is_dead = _first_look(sweep, plan.statics.cushions.arcs)
    first = plan.carried(arcs)
    coarse = plan.demands(first)
    closer = plan.carried(_closer(arcs, coarse))
    values = np.concatenate([coarse, plan.demands(closer)])
    grows = coarse[-1] > GROWS * coarse[-2] if is_dead else np.zeros(coarse.shape[1], dtype=np.bool_)
    tops = _Tops(plan, (first, closer), values, told.bound * share * hinges, grows)
    figures = [tops.figure(way) for way in ways_to_fail(project, _turned_deg(project, first, plan))]
    return StrengthFigures(share, tuple(sorted(figures, key=lambda each: each.ratio)), "", _remarks(project))


# ---------------------------------------------------------------------------------------------------------------- poses
@dataclass(frozen=True, slots=True, eq=False)
class _Carried:
    """Poses (n,) and what the worse hinge carries there: forces (n, members) complex N, NaN where none is told."""

    degs: Floats
    forces: Complexes
    at: At
    applied: Applied


@dataclass(frozen=True, slots=True, eq=False)
class _Plan:
    """What is worked out at poses, and how.

    members : (pivot, link).   columns : (members,) of their links.   inward : (members,) unit way in its link's frame
    from a hole to the other one of a straight link, 0 for others.   sections : of links with a width.
    pushed : links with two pins, and the two places among the members.   names : of the demands, in order.
    """

    project: Project
    statics: Statics
    share: float
    members: tuple[tuple[str, str], ...]
    columns: list[int]
    inward: Complexes
    sections: tuple[Sectioned, ...]
    pushed: dict[str, list[int]]

    @property
    def names(self) -> list[Demand]:
        """The demands in the order of the columns of `demands`."""
        pins: list[Demand] = [("pin", pivot.id) for pivot in self.project.pivots]
        holes: list[Demand] = [("hole", *member) for member in self.members]
        pulls: list[Demand] = [("pull", *member) for member in self.members]
        sections: list[Demand] = [("section", each.link) for each in self.sections]
        return [*pins, *holes, *pulls, *(("push", link) for link in self.pushed), *sections]

    def carried(self, arcs: Floats) -> _Carried:
        """Exact poses at places along the branch, and the forces there."""
        statics = self.statics
        at = statics.at(statics.sweep.at_arcs(arcs))
        applied = statics.applied(at)
        _, forces = on_members(self.project, statics, statics.held(at, applied).on_second)
        degs = np.clip(np.degrees(at.openings), 0.0, statics.sweep.reached_deg)
        return _Carried(degs, forces * (statics.loads.hinges * self.share), at, applied)

    def demands(self, carried: _Carried) -> Floats:
        """(n, demands) N (of sections N/mm: stress times thickness)."""
        local = carried.forces * carried.at.e[:, self.columns].conj()
        holes = np.abs(local)
        along = local * self.inward.conj()
        pulls = np.where(along.real > 0.0, np.abs(along.imag), holes)
        pins = [self._through(carried.forces, pivot.id) for pivot in self.project.pivots]
        pushes = [np.maximum(along[:, both].real.max(axis=1), 0.0) for both in self.pushed.values()]
        cuts = [self._cut(section, local, carried) for section in self.sections]
        return np.column_stack([*pins, holes, pulls, *pushes, *cuts])

    def _through(self, forces: Complexes, pivot: str) -> Floats:
        """(n,) the largest force that any cut through a pin can pass."""
        on = [k for k, (pin, _) in enumerate(self.members) if pin == pivot]
        if len(on) == 2:
            return np.abs(forces[:, on[0]])
        some = [list(each) for size in range(1, len(on) // 2 + 1) for each in combinations(on, size)]
        return np.asarray(np.max([np.abs(forces[:, each].sum(axis=1)) for each in some], axis=0))

    def _cut(self, section: Sectioned, local: Complexes, carried: _Carried) -> Floats:
        on = [self.members.index((pin, section.link)) for pin in section.pins]
        return section.largest(local[:, on], (self.statics, carried.at, carried.applied), self.share)


def _plan(project: Project, sweep: Sweep, statics: Statics, share: float) -> _Plan:
    members = tuple((pivot.id, link) for pivot in project.pivots for link in pivot.joins)
    links = sweep.closure.links
    inward = np.array([_inward(project, *member) for member in members])
    bands = [link.id for link in project.links if link.kind == "link" and link.width > 0.0]
    sections = (sectioned(project, link, links) for link in bands)
    straight = [link for link in bands if len(project.pivots_on(link)) == 2]
    pushed = {link: [k for k, (_, on) in enumerate(members) if on == link] for link in straight}
    return _Plan(
        project,
        statics,
        share,
        members,
        [links.index(link) for _, link in members],
        inward,
        tuple(each for each in sections if each is not None),
        pushed,
    )


def _first_look(sweep: Sweep, bends: Floats) -> tuple[Floats, bool]:
    """Places to look at, and whether the last two stand at `SHORT` and twice that before a dead point.

    bends : places at which forces bend.
    """
    arcs = sweep.fine_arcs(0.0, LOOKS)
    arcs = np.union1d(arcs, bends[bends < arcs[-1]]) if len(bends) else arcs
    end = float(sweep.branch.arcs[-1])
    if not sweep.folds or arcs[-1] < end or end < 4.0 * SHORT:
        return arcs, False
    return np.concatenate([arcs[arcs < end - 3.0 * SHORT], [end - 2.0 * SHORT, end - SHORT]]), True


def _closer(arcs: Floats, demands: Floats) -> Floats:
    """Places about the largest value of each demand."""
    tops = np.unique(np.argmax(np.where(np.isfinite(demands), demands, -1.0), axis=0))
    before, after = arcs[np.maximum(tops - 1, 0)], arcs[np.minimum(tops + 1, len(arcs) - 1)]
    reach = np.where(CLOSER[:, None] < 0.0, arcs[tops] - before, after - arcs[tops])
    return np.unique((arcs[tops] + reach * CLOSER[:, None]).ravel())


def _inward(project: Project, pivot: str, link: str) -> complex:
    """The unit way from one of a link's two pins to the other; 0 where there are more, or it isn't a mere link."""
    pins = project.pivots_on(link)
    if len(pins) != 2 or project.link(link).kind != "link":
        return 0j
    own, other = sorted(pins, key=lambda pin: pin.id != pivot)
    way = complex(*other.at) - complex(*own.at)
    return way / abs(way) if abs(way) > 0.0 else 0j


def _turned_deg(project: Project, carried: _Carried, plan: _Plan) -> dict[str, float]:
    """By pivot, how far its links turn on each other from shut to the opening reached, to and fro counted."""
    columns = dict(zip(plan.members, plan.columns, strict=True))
    found = {}
    for joint in made_joints(project):
        outer, *inner = (columns[joint.joint.pivot, link] for link in joint.links)
        turns = carried.at.turns[:, inner] - carried.at.turns[:, [outer]]
        found[joint.joint.pivot] = math.degrees(float(np.abs(np.diff(turns, axis=0)).sum(axis=0).max(initial=0.0)))
    return found


# -------------------------------------------------------------------------------------------------------------- figures
class _Tops:
    """The largest value of every demand over all looks, and where; for those that can't be told, where that is."""

    def __init__(
        self, plan: _Plan, looks: tuple[_Carried, _Carried], values: Floats, bound: float, grows: Bools
    ) -> None:
        self.plan, self.values = plan, values
        self.columns = {name: column for column, name in enumerate(plan.names)}
        forces = sum(name[0] != "section" for name in self.columns)
        untold: Bools = np.logical_not(np.isfinite(values[:, :forces])) | (values[:, :forces] > bound)
        any_pin = untold[:, : len(plan.project.pivots)].any(axis=1, keepdims=True)  # what sections follow from
        self.untold = np.column_stack([untold, np.repeat(any_pin, values.shape[1] - forces, axis=1)])
        self.nothing = ROUGH * bound
        last = len(looks[0].degs) - 1
        self.untold[last] |= grows & (values[last] > self.nothing)
        tops = np.argmax(np.where(np.isnan(values), -1.0, values), axis=0)
        self.rows = np.where(self.untold.any(axis=0), np.argmax(self.untold, axis=0), tops)
        self.degs = np.concatenate([look.degs for look in looks])
        turns = np.concatenate([look.at.turns for look in looks])
        self.seen = {
            row: (turns[row], plan.statics.closure.shifts(turns[row][None])[0]) for row in set(self.rows.tolist())
        }

    def figure(self, way: Way) -> Utilised:
        """The worst of a way to fail, or that it can't be told."""
        column = self.columns[way.demand]
        row = int(self.rows[column])
        force, stress, have = None, None, None
        if not self.untold[row, column]:
            value = float(self.values[row, column])
            force = None if way.demand[0] == "section" else value
            stress = way.steady if way.steady is not None else value * way.each if value > self.nothing else 0.0
            have = formulas.safety(way.strength, stress)
            stress = stress if math.isfinite(stress) else None
        deg = None if way.steady is not None else float(self.degs[row])
        named, place = (way.mode, way.pivot, way.link), self._place(way, row)
        return Utilised(*named, force, stress, way.strength, way.want, have, deg, place, way.note)

    def _place(self, way: Way, row: int) -> tuple[float, float]:
        """Where the pin, or the middle of the link's pins, stands."""
        project, closure = self.plan.project, self.plan.statics.closure
        pins = [project.pivot(way.pivot)] if way.pivot else list(project.pivots_on(way.link))
        link = closure.links.index(way.link or pins[0].joins[0])
        turns, shifts = self.seen[row]
        z = complex(shifts[link]) + cmath.exp(1j * float(turns[link])) * sum(complex(*pin.at) for pin in pins) / len(
            pins
        )
        return (z.real, z.imag)


def _remarks(project: Project) -> tuple[str, ...]:
    """What can't be told for want of an entry."""
    unknown = [
        f"{link} at {joint.joint.pivot}"
        for joint in made_joints(project)
        for link in joint.links
        if joint.plates[link].edge is None
    ]
    if not unknown:
        return ()
    named = ", ".join(unknown)
    return (f"Net section and tear-out aren't told of {named}: give an edge distance, or the link a width.",)
