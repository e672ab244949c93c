"""What a link's sections carry: the forces of its pins, and of weights, struts, springs and the hand that ride on it.

The hand's push is what all the others leave over, as a link that stands still is in balance. What weighs or pushes
belongs to the whole panel with all its hinges; the worse hinge has its share of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import as_complex
from kinematics.devices import moment
from kinematics.joints import joint_by_pivot
from kinematics.sections import Cuts, cuts_of
from kinematics.statics import GRAVITY

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats
    from kinematics.loads import Loads
    from kinematics.parts import Device
    from kinematics.project import Point, Project
    from kinematics.statics import Applied, At, Statics


@dataclass(frozen=True, slots=True, eq=False)
class Sectioned:
    """A link with a width, cut.

    pins : ids, whose places come first among those of the cuts.   weights : kg.   ends : (device, +1 for its `to` end,
    −1 for its `from` end).   cushions : by their number.   The further places stand in this order; the hand, where it
    is on this link, comes last.   columns : of the links that each device is pinned to.
    """

    link: str
    column: int
    pins: tuple[str, ...]
    cuts: Cuts
    weights: tuple[float, ...]
    ends: tuple[tuple[int, float], ...]
    devices: tuple[Device, ...]
    cushions: tuple[int, ...]
    has_hand: bool
    columns: tuple[tuple[int, int], ...]

    def largest(self, pins: Complexes, pose: tuple[Statics, At, Applied], share: float) -> Floats:
        """The largest stress of all cuts, times the plates' thickness: (n,) N/mm, at poses.

        pins : (n, pins) N of the worse hinge, in the link's frame.   share : of the loads that this hinge carries.
        """
        forces, couples = self.forces(pins, pose, share)
        stress = np.abs(self.cuts.pulls(forces)) * self.cuts.by_pull
        stress += np.abs(self.cuts.moments(forces, couples)) * self.cuts.by_moment
        return np.asarray(np.where(self.cuts.heights > 0.0, stress, np.inf).max(axis=1))

    def forces(self, pins: Complexes, pose: tuple[Statics, At, Applied], share: float) -> tuple[Complexes, Floats]:
        """(n, places) forces, N, and couples, N·mm, on the link, in its own frame."""
        statics, at, applied = pose
        back = at.e[:, self.column].conj()
        count = len(back)
        others = [np.full(count, -1j * GRAVITY * kg * share) * back for kg in self.weights]
        couples = np.zeros((count, self.cuts.before.shape[1]))
        for place, (k, sign) in enumerate(self.ends, len(self.pins) + len(self.weights)):
            device = self.devices[k]
            others.append(sign * share * device.count * applied.pushes[:, k] * applied.ways[:, k] * back)
            if device.kind == "torsion spring":
                tail, head = self.columns[k]
                turning = moment(device, at.turns[:, head] - at.turns[:, tail])
                couples[:, place] = sign * share * device.count * turning
        if self.cushions:
            pressed = statics.cushions.forces(at.e, at.openings)
            others += [pressed[:, k] * share * back for k in self.cushions]
        told = np.column_stack([pins, *others])
        if self.has_hand:
            told = np.column_stack([told, -told.sum(axis=1)])
        return told, couples


def sectioned(project: Project, link: str, columns: tuple[str, ...]) -> Sectioned | None:
    """Cut a link across; None where there is nothing to cut.   columns : the links, as the poses have them."""
    pins, loads = project.pivots_on(link), project.loads
    if len(pins) < 2:
        return None
    masses = [] if loads is None else [mass for mass in loads.masses if mass.on == link and mass.mass > 0.0]
    devices = () if loads is None else loads.devices
    ends = [
        (k, sign, end.at)
        for k, device in enumerate(devices)
        for sign, end in ((1.0, device.to_end), (-1.0, device.from_end))
        if end.on == link
    ]
    hand = loads.handle if loads is not None and loads.handle is not None and loads.handle.on == link else None
    cushions = [] if loads is None else [(k, each.at) for k, each in enumerate(loads.cushions) if each.on == link]
    places = [mass.at for mass in masses] + [at for _, _, at in ends] + [at for _, at in cushions]
    places += [] if hand is None else [hand.at]
    joints = joint_by_pivot(project)
    holes = [joints[pin.id].plates[link].hole for pin in pins]
    cuts = cuts_between(tuple(pin.at for pin in pins), tuple(holes), project.link(link).width, tuple(places))
    if cuts is None:
        return None
    return Sectioned(
        link,
        columns.index(link),
        tuple(pin.id for pin in pins),
        cuts,
        tuple(mass.mass for mass in masses),
        tuple((k, sign) for k, sign, _ in ends),
        devices,
        tuple(k for k, _ in cushions),
        hand is not None,
        tuple((columns.index(each.from_end.on), columns.index(each.to_end.on)) for each in devices),
    )


def ridden_links(loads: Loads) -> set[str]:
    """The links on which something puts a force besides their pins."""
    found = {mass.on for mass in loads.masses if mass.mass > 0.0} | {each.on for each in loads.cushions}
    found |= {end.on for device in loads.devices for end in (device.from_end, device.to_end)}
    return found if loads.handle is None else found | {loads.handle.on}


@lru_cache(maxsize=64)
def cuts_between(
    pins: tuple[Point, ...], holes: tuple[float, ...], width: float, others: tuple[Point, ...] = ()
) -> Cuts | None:
    """The cuts of a link, as `cuts_of`; they stay while pins of other links are dragged."""
    return cuts_of(as_complex(pins), np.array(holes), width, as_complex(others))
