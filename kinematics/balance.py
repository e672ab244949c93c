"""What the loads come to over a sweep: effort and pin forces at the reported poses, and the openings that matter.

Terms. The panel *balances* where the effort goes through nothing: left alone it stays there, *stable* where the effort
grows with the opening (pushed further it comes back), else not. The *tip-over* is where weight alone would go over:
where the masses stand highest, which for a panel that alone is heavy is where its mass centre stands above its instant
centre. No fixed angle has to do with it, and a dead point, where the links can go no further, is another thing.

Openings are found between the reported poses, on the sweep itself, so they don't depend on how many are reported.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import frozen
from kinematics.balancing import Marks
from kinematics.holding import asks_holding, further_openings, holding
from kinematics.results import HoldingFigures, LoadFigures, Push
from kinematics.shutting import shut_figures
from kinematics.statics import Statics

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats
    from kinematics.closure import Joint
    from kinematics.project import Project
    from kinematics.statics import Applied, At, Held
    from kinematics.sweep import Sweep

BOUND = 1000.0
"""A push or a pin force beyond so many times all loads is no figure to build on: it is told as beyond that bound."""


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """Exact poses that someone asked for besides: what the loads do there, and what the pins of one hinge put on links.

    forces : (n, members) complex, N, in the fixed link's frame; NaN where nothing is told.
    """

    at: At
    applied: Applied
    forces: Complexes


def load_figures(project: Project, sweep: Sweep, y: Floats) -> LoadFigures | None:
    """The figures at reported poses (n, unknowns) and over the sweep; None where the project has no loads."""
    marks = marks_of(project, sweep)
    if marks is not None:
        return figures_beside(project, marks, y, np.zeros(0))[0]
    return None if project.loads is None else _untold(project, len(y), ())


def marks_of(project: Project, sweep: Sweep) -> Marks | None:
    """The openings that matter, about; None where there are no loads, or the linkage doesn't move in just one way."""
    return None if project.loads is None or not _moves(sweep) else Marks(Statics(project.loads, sweep))


def figures_beside(project: Project, marks: Marks, y: Floats, arcs: Floats) -> tuple[LoadFigures, Seen]:
    """The figures, and what is seen at further places along the branch (rad): all exact poses are worked out at once.

    y : (n, unknowns) the reported poses.
    """
    statics, count = marks.statics, len(y)
    loads, sweep = statics.loads, statics.sweep
    peaks, looks, holds = marks.peaks(), marks.looks(), asks_holding(loads)
    further = further_openings(loads, sweep) if holds else np.zeros(0)
    end = [sweep.reach_arc] if holds else []
    poses = [y, sweep.at_arcs(np.concatenate([peaks, looks, arcs, end]))]
    poses += [sweep.at_openings(further)] if len(further) else []
    at = statics.at(np.concatenate(poses))
    applied = statics.applied(at)
    peaked, looked, asked, held_open = _slices(count, len(peaks), len(looks), len(arcs), len(end) + len(further))
    held = statics.held(at, applied)
    members, forces = on_members(project, statics, held.on_second)
    seen = Seen(at.pick(asked), applied.pick(asked), forces[asked])
    forces = forces[:count]
    pins = _on_pins(project, forces)
    bound = BOUND * marks.all_loads
    worst, figures = holding(project, statics, (at.pick(held_open), applied.pick(held_open))) if holds else (None, None)
    largest, least = _within(_pushes(sweep, at.openings[peaked], held.push[peaked]), bound, marks.grows)
    beyond = _beyond(sweep, at.openings[:count], (held.push[:count], pins), marks.grows, bound)
    raising, letting_down = _rubbed(statics, at.pick(slice(count)), applied.pick(slice(count)))
    told = LoadFigures(
        effort=frozen(held.push[:count]),
        raising=raising,
        letting_down=letting_down,
        pins=frozen(pins),
        members=members,
        forces=frozen(forces),
        devices=tuple(device.id for device in loads.devices),
        lengths=frozen(applied.lengths[:count]),
        pushes=frozen(applied.pushes[:count]),
        balances=marks.balances(at.openings[looked], statics.power(at, applied)[looked]),
        tip_overs=marks.tip_overs(at.openings[looked], applied.weight[looked]),
        largest=largest,
        least=least,
        bound=bound,
        remarks=(*_remarks(project, statics, held), *beyond),
        worst=worst,
        holding=figures or HoldingFigures(),
        shut=shut_figures(project, statics),
        let_go_deg=statics.cushions.let_go_deg,
    )
    return told, seen


def _slices(*counts: int) -> list[slice]:
    """Where each of several parts stands that follow each other, without the first one."""
    ends = list(itertools.accumulate(counts))
    return [slice(start, end) for start, end in itertools.pairwise(ends)]


def _rubbed(statics: Statics, at: At, applied: Applied) -> tuple[Floats | None, Floats | None]:
    """The pushes against friction, up and down; None where no friction is told of, or there is no handle."""
    if not statics.rubbing or statics.handle is None:
        return None, None
    raising, letting_down = statics.rubbed(at, applied)
    return frozen(raising), frozen(letting_down)


def holding_in_full(project: Project, sweep: Sweep) -> HoldingFigures | None:
    """What holds the panel open with all that is told of it; None where there are no loads, or nothing moves.

    More than `LoadFigures.holding` has, and too dear while pins are dragged.
    """
    loads = project.loads
    if loads is None or not _moves(sweep):
        return None
    statics = Statics(loads, sweep)
    at = statics.at(sweep.at_openings(np.concatenate([[sweep.reached], further_openings(loads, sweep)])))
    poses = at, statics.applied(at)

    def on_pins(forces: Complexes) -> Floats:
        return _on_pins(project, on_members(project, statics, forces)[1])

    return holding(project, statics, poses, on_pins)[1]


def _moves(sweep: Sweep) -> bool:
    """Whether the linkage moves in just one way."""
    return sweep.freedom.mobility == 1 and sweep.freedom.state == "moves" and len(sweep.branch.arcs) > 1


def _pushes(sweep: Sweep, openings: Floats, pushes: Floats) -> list[Push]:
    """The pushes that are told, with their openings (rad) in degrees."""
    return [
        Push(push, min(max(math.degrees(opening), 0.0), sweep.reached_deg))
        for opening, push in zip(openings.tolist(), pushes.tolist(), strict=True)
        if math.isfinite(push)
    ]


def _within(extremes: list[Push], bound: float, grows: float) -> tuple[Push | None, Push | None]:
    """The largest and the least push, each None where it isn't told, is beyond the bound, or grows without one."""
    if len(extremes) < 2:
        return None, None
    largest, least = max(extremes, key=lambda push: push.force), min(extremes, key=lambda push: push.force)
    return (
        largest if grows <= 0.0 and abs(largest.force) <= bound else None,
        least if grows >= 0.0 and abs(least.force) <= bound else None,
    )


def _beyond(
    sweep: Sweep, openings: Floats, forces: tuple[Floats, Floats], grows: float, bound: float
) -> tuple[str, ...]:
    """Say where pushes (n,) or pin forces (n, pivots) N grow beyond the bound; openings (n,) rad."""
    if grows != 0.0:
        place = f"the dead point at {sweep.reached_deg:.1f}°"
        return (f"Towards {place} the handle comes to a stand: the push grows without bound, and can't be relied on.",)
    push, pins = forces
    if bound <= 0.0 or not (max(np.fmax.reduce(np.abs(push)), np.fmax.reduce(pins, axis=None, initial=0.0)) > bound):
        return ()
    wild = (np.abs(push) > bound) | (pins > bound).any(axis=1)
    degs = np.clip(np.degrees(openings[wild]), 0.0, sweep.reached_deg)
    place = f"At {degs[0]:.1f}°" if degs[-1] - degs[0] < 0.1 else f"Between {degs[0]:.1f}° and {degs[-1]:.1f}°"
    said = (
        f"{place} links come into line, or the handle hardly moves: push or pin forces grow beyond {BOUND:.0f} times"
        " the loads there, and no figure can be relied on."
    )
    return (said,)


def _untold(project: Project, count: int, remarks: tuple[str, ...]) -> LoadFigures:
    """Figures where the linkage doesn't move in just one way: none of them is known."""
    loads = project.loads
    devices = () if loads is None else tuple(device.id for device in loads.devices)
    nothing = frozen(np.full((count, len(devices)), np.nan))
    return LoadFigures(
        effort=frozen(np.full(count, np.nan)),
        raising=None,
        letting_down=None,
        pins=frozen(np.full((count, len(project.pivots)), np.nan)),
        members=(),
        forces=frozen(np.zeros((count, 0), dtype=np.complex128)),
        devices=devices,
        lengths=nothing,
        pushes=nothing,
        balances=(),
        tip_overs=(),
        largest=None,
        least=None,
        bound=0.0,
        remarks=remarks,
    )


def on_members(
    project: Project, statics: Statics, on_second: Complexes
) -> tuple[tuple[tuple[str, str], ...], Complexes]:
    """(pivot, link) of every link on every pin, and the force (n, members) that the pin of one hinge puts on it."""
    closure = statics.closure
    members, sums = _sums(tuple((pivot.id, pivot.joins) for pivot in project.pivots), closure.joints, closure.links)
    return members, np.asarray(on_second @ (sums / statics.loads.hinges))


@lru_cache(maxsize=16)
def _sums(
    pins: tuple[tuple[str, tuple[str, ...]], ...], joints: tuple[Joint, ...], links: tuple[str, ...]
) -> tuple[tuple[tuple[str, str], ...], Floats]:
    """The members, and (joints, members) how the forces on the joints' second links add up to those on members.

    pins : ids, and the links on each.   It stays while pins are dragged.
    """
    members = tuple((pin, link) for pin, on in pins for link in on)
    of = {member: k for k, member in enumerate(members)}
    sums = np.zeros((len(joints), len(members)))
    for row, joint in enumerate(joints):
        pin = pins[joint.pivot][0]
        sums[row, of[pin, links[joint.second]]] = 1.0
        sums[row, of[pin, links[joint.first]]] = -1.0
    return members, frozen(sums)


def _on_pins(project: Project, forces: Complexes) -> Floats:
    """(n, pivots) the largest force that one of its links puts on each pin."""
    if not project.pivots:
        return np.zeros((len(forces), 0))
    sizes = np.abs(forces)
    if len(sizes.T) == 2 * len(project.pivots):  # two links on each
        return np.maximum(sizes[:, ::2], sizes[:, 1::2])
    starts = np.cumsum([0, *(len(pivot.joins) for pivot in project.pivots)])[:-1]
    return np.asarray(np.maximum.reduceat(sizes, starts, axis=1))


def _remarks(project: Project, statics: Statics, held: Held) -> tuple[str, ...]:
    """What the builder must know of the loads."""
    found = []
    handle = statics.loads.handle
    if handle is not None and handle.on == project.fixed.id:
        found.append(f"The handle is on “{handle.on}”, which stands still: put it on what is lifted.")
    elif handle is not None and not np.isfinite(held.push).any():
        found.append("No effort can be told: the handle stands still, or the panel is at its dead point.")
    if statics.redundant and handle is not None:
        found.append(
            "With more links than the motion needs (twin arms) nobody can say which of them carries how much:"
            " the pin forces take it that they share as evenly as can be."
        )
    return (*found, *_of_cushions(project, statics))


def _of_cushions(project: Project, statics: Statics) -> list[str]:
    """Say which cushions don't do what a cushion does."""
    found = []
    for cushion, end in zip(statics.loads.cushions, statics.cushions.ends.tolist(), strict=True):
        if cushion.on == project.fixed.id:
            found.append(f"“{cushion.id}” is on “{cushion.on}”, which stands still: put it on what squeezes it.")
        elif not math.isfinite(end):
            found.append(
                f"“{cushion.id}” is squeezed all the way: at its place the panel doesn't lift off by its squeeze along"
                " its way, which must point out of the body."
            )
    return found
