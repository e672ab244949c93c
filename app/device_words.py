"""What masses, the handle, struts and springs are called, and how long a device is over the travel."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from app.lengths import format_length
from kinematics.devices import bounds
from kinematics.loading import has_load, spot_of

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.analysis import Analysis


def load_name(kind: str, id_: str, part: int | None = None) -> str:
    """Name a mass, the handle, a device or an end of it: "mass on hatch", "handle", "second end of strut"."""
    if kind == "handle":
        return "handle"
    return f"{kind} {id_}" if part is None else f"{'second' if part else 'first'} end of {id_}"


def device_sentence(analysis: Analysis, id_: str, units: Units) -> str:
    """Say how long a device is from pin to pin over the travel, and how far a strut is from either end.

    "" where the analysis, which may be one step behind, knows no such device.
    """
    project = analysis.project
    if project.loads is None or not has_load(project, "device", id_):
        return ""
    device = next(each for each in project.loads.devices if each.id == id_)
    ends = [analysis.path(each.on, each.at) for each in (spot_of(project, "device", id_, k) for k in (0, 1))]
    lengths = np.hypot(*(ends[1] - ends[0]).T)
    if device.kind == "torsion spring":
        return ""
    shut, short, long = (format_length(float(each), units) for each in (lengths[0], lengths.min(), lengths.max()))
    said = f"From pin to pin {shut} shut, {short} to {long} over the travel."
    if device.kind != "gas strut":
        return said
    low, high = bounds(device)
    left = (format_length(float(each), units) for each in (lengths.min() - low, high - lengths.max()))
    return f"{said} Left to its ends: {next(left)} pushed in, {next(left)} drawn out."
