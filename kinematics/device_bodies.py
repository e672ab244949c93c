"""Bodies of struts and springs that are watched: their pieces, each on a frame that rides on the device's line.

A pair with a device is watched as pairs of its pieces, whose gaps then make one. A piece's name holds a control
character, so no outline and no link has it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import frozen
from kinematics.bodies import straight_band
from kinematics.devices import fitted
from kinematics.results import Gap
from kinematics.riding import RiddenSweep, riders
from kinematics.spanning import pieces

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from kinematics.arrays import Floats
    from kinematics.bodies import Body
    from kinematics.parts import Device
    from kinematics.project import Project
    from kinematics.spanning import Piece
    from kinematics.sweep import Sweep

SAMPLES = 4
"""Places between knots at which a device's length is looked at, to know how near and how far its ends come."""
AMPLY = 1.01
"""So many times the spread of lengths that was seen is covered by a spring's pieces."""


@dataclass(frozen=True, slots=True, eq=False)
class Ridden:
    """What is watched of some devices.

    sweep : with a column for each piece behind those of the links.   bodies : by name.   pieces : names by device id.
    """

    sweep: Sweep
    bodies: dict[str, Body]
    pieces: dict[str, tuple[str, ...]]


def ridden(project: Project, sweep: Sweep, names: Iterable[str], near: Mapping[str, Body]) -> Ridden:
    """The pieces of the devices of these names; of one whose ends come too near each other there are none.

    near : bodies of an earlier analysis; those that still hold are taken.
    """
    asked = watched_devices(project, names)
    if not asked:
        return Ridden(sweep, {}, {})
    shortest, longest = _spread(asked, sweep)
    parts = {d.id: pieces(d, a, b) for d, a, b in zip(asked, shortest.tolist(), longest.tolist(), strict=True)}
    least = dict(zip(parts, shortest.tolist(), strict=True))
    rides = [(d, piece.share) for d in asked if d.kind != "torsion spring" for piece in parts[d.id]]
    lengths = np.array([least[device.id] for device, _ in rides])
    wider = RiddenSweep.of(sweep, riders(rides, sweep.closure), lengths) if rides else sweep
    bodies: dict[str, Body] = {}
    named: dict[str, tuple[str, ...]] = {}
    column = len(sweep.closure.links)
    for device in asked:
        keys = tuple(f"\x1f{device.id}\x1f{number}" for number in range(len(parts[device.id])))
        named[device.id] = keys
        for key, piece in zip(keys, parts[device.id], strict=True):
            if device.kind == "torsion spring":
                bodies[key] = _held(near.get(key), _round(device, piece, sweep))
                continue
            bodies[key] = _held(near.get(key), _band(device, piece, column))
            column += 1
    return Ridden(wider, bodies, named)


def watched_devices(project: Project, names: Iterable[str]) -> list[Device]:
    """The devices of these names, but for those that an outline or a link has too: then that is meant."""
    if project.loads is None or not project.loads.devices:
        return []
    others = {part.id for parts in (project.links, project.outlines) for part in parts}
    wanted = set(names) - others
    return [device for device in project.loads.devices if device.id in wanted]


def _spread(devices: list[Device], sweep: Sweep) -> tuple[Floats, Floats]:
    """(m,) the least and the greatest lengths over the sweep, mm, a little more than what was seen."""
    arcs = sweep.fine_arcs(0.0, SAMPLES) if sweep.reached > 0.0 else np.zeros(1)
    y = sweep.branch.cubic(arcs) if sweep.reached > 0.0 else np.zeros((1, sweep.closure.unknowns))
    lengths, _ = fitted(devices, sweep.closure).spans(np.exp(1j * sweep.closure.link_turns(y)))
    shortest, longest = lengths.min(axis=0), lengths.max(axis=0)
    return shortest, np.maximum(longest * AMPLY, shortest)


def _band(device: Device, piece: Piece, column: int) -> Body:
    start, end = complex(*device.from_end.at), complex(*device.to_end.at)
    way = (end - start) / abs(end - start)
    origin = start + piece.share * (end - start)
    return straight_band(device, column, origin + piece.start * way, origin + piece.end * way, piece.radius)


def _round(device: Device, piece: Piece, sweep: Sweep) -> Body:
    at = complex(*device.from_end.at)
    return straight_band(device, sweep.closure.links.index(device.from_end.on), at, at, piece.radius)


def _held(old: Body | None, new: Body) -> Body:
    """The old body where it is the same as the new one: what is known of it holds then."""
    same = old is not None and (old.column, old.radius) == (new.column, new.radius)
    return old if old is not None and same and np.array_equal(old.tails, new.tails) else new


# ---------------------------------------------------------------------------------------------------------- gaps joined
def joined(names: tuple[str, str], gaps: list[Gap]) -> Gap:
    """One gap of those of all pieces: the least of them, and touching wherever one of them does."""
    first = gaps[0]
    told = [gap for gap in gaps if gap.smallest is not None]
    least = min(told, key=lambda gap: (gap.smallest, gap.at_deg), default=first)
    shut = min(gaps, key=lambda gap: np.inf if gap.shut is None else gap.shut)
    oks = {gap.ok for gap in gaps}
    return Gap(
        names,
        least.smallest,
        least.at_deg,
        least.at_points,
        shut.shut,
        _union([span for gap in gaps for span in gap.touching_deg]),
        first.at_least,
        first.after_deg,
        None if None in oks else oks == {True},
        first.wanted,
        _lowest([gap.lane for gap in gaps]),
        shut.shut_points,
    )


def _union(spans: list[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    """Stretches of openings, ascending, those that meet made one."""
    found: list[tuple[float, float]] = []
    for low, high in sorted(spans):
        if found and low <= found[-1][1]:
            found[-1] = found[-1][0], max(found[-1][1], high)
        else:
            found.append((low, high))
    return tuple(found)


def _lowest(lanes: list[tuple[Floats, Floats]]) -> tuple[Floats, Floats]:
    """One lane that is the lowest of all: at the openings of all of them."""
    there = [lane for lane in lanes if len(lane[0])]
    if len(there) < 2:
        return there[0] if there else lanes[0]
    at = np.unique(np.concatenate([degs for degs, _ in there]))
    return frozen(at), frozen(np.min([np.interp(at, degs, gaps) for degs, gaps in there], axis=0))
