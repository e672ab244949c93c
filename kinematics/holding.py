"""Does it stay open when all goes against it: in the cold, on a slope, with one strut dead.

Cold takes force from gas struts (`devices.gas_factor`); a slope turns the weights' direction against the body, uphill
or downhill, whichever is worse; a dead strut pushes nothing, whichever of them is missed most. Friction isn't relied
on, and wind isn't in it. The figure is the effort at full opening: more than nothing, and the panel comes down unless
a hand or a prop holds it.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from kinematics.results import Worst
from kinematics.statics import Statics

if TYPE_CHECKING:
    from kinematics.arrays import Floats
    from kinematics.loads import Loads, WorstCase
    from kinematics.parts import Device
    from kinematics.sweep import Sweep


def worst(loads: Loads, case: WorstCase, sweep: Sweep, y: Floats) -> Worst | None:
    """The largest effort at a pose (1, unknowns) of all that the case may bring; None where none is told."""
    warmth = loads.temperature if case.temperature is None else case.temperature
    slopes = (case.slope_deg, -case.slope_deg) if case.slope_deg > 0.0 else (0.0,)
    found = []
    for dead, devices in _left(loads.devices) if case.one_dead else (("", loads.devices),):
        for slope in slopes:
            statics = Statics(replace(loads, devices=devices, temperature=warmth), sweep, math.radians(slope))
            at = statics.at(y)
            effort = float(statics.effort(at, statics.applied(at))[0])
            if math.isfinite(effort):
                found.append(Worst(effort, warmth, slope, dead))
    return max(found, key=lambda each: each.force, default=None)


def _left(devices: tuple[Device, ...]) -> list[tuple[str, tuple[Device, ...]]]:
    """What is left when one gas strut fails, by the id of its device; all of them where there is none."""
    found = []
    for k, device in enumerate(devices):
        if device.kind == "gas strut":
            rest = (replace(device, count=device.count - 1),) if device.count > 1 else ()
            found.append((device.id, (*devices[:k], *rest, *devices[k + 1 :])))
    return found or [("", devices)]


def end_pose(sweep: Sweep) -> Floats:
    """(1, unknowns) the pose at the opening reached."""
    return sweep.at_openings(np.array([sweep.reached]))
