"""What masses, the handle, struts and springs are called, and how long a device is over the travel."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from app.lengths import format_angle, format_length
from app.words import touching_words
from kinematics.devices import bounds
from kinematics.fouling import fouled, oddities
from kinematics.loading import device_named, has_load, spot_of
from kinematics.spanning import pushed_in

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.fouling import Oddity
    from kinematics.loading import Spot
    from kinematics.project import Project


def load_name(kind: str, id_: str, part: int | None = None) -> str:
    """Name a mass, the handle, a device or an end of it: "mass on hatch", "handle", "second end of strut"."""
    if kind == "handle":
        return "handle"
    return f"{kind} {id_}" if part is None else f"{'second' if part else 'first'} end of {id_}"


def device_remarks(analysis: Analysis, units: Units, *, at_rest: bool = True) -> list[str]:
    """Say what is odd about struts and springs, and which outlines they touch though nobody watches them.

    at_rest : False during a drag: what they touch is then left out, as it takes a while.
    """
    devices = () if analysis.project.loads is None else analysis.project.loads.devices
    said = [_odd(each, analysis, units) for each in oddities(analysis)]
    for gap in fouled(analysis) if at_rest and devices else ():
        device, outline = gap.between
        where = touching_words(gap, units)
        said.append(
            f"Seen from the side “{device}” touches “{outline}” at {where}: move an end, or see that it passes beside."
            " Watch the pair among the wants to have it as a check."
        )
    return said


def _odd(odd: Oddity, analysis: Analysis, units: Units) -> str:
    name, deg = f"“{odd.device}”", format_angle(odd.deg, units)
    if odd.kind == "impossible":
        device = device_named(analysis.project, odd.device)
        low, stroke = format_length(pushed_in(device), units), format_length(device.stroke, units)
        return (
            f"No strut can be had like {name}: pushed in it would be {low} long, with a stroke of {stroke} to house. "
            "Move its ends so that it changes its length less, or farther apart."
        )
    if odd.kind == "namesake":
        return (
            f"{name} is an outline or a link too, and what is wanted of {name} is of that. Rename the strut or spring."
        )
    if odd.kind == "one place":
        return f"At {deg} the ends of {name} come to one place: it has no direction there, and isn't watched."
    links = [end.on for end in ends_of(analysis.project, odd.device)]
    turned = next((on for on in reversed(links) if on != analysis.project.fixed.id), links[-1])
    return (
        f"At {deg} the line of {name} passes over pin {odd.pin}: there it doesn't turn “{turned}” at all, and beyond "
        "it turns it the other way."
    )


def ends_of(project: Project, device_id: str) -> tuple[Spot, Spot]:
    """Give both ends of a device."""
    return spot_of(project, "device", device_id, 0), spot_of(project, "device", device_id, 1)


def device_sentence(analysis: Analysis, id_: str, units: Units) -> str:
    """Say how long a device is from pin to pin over the travel, and how far a strut is from either end.

    "" where the analysis, which may be one step behind, knows no such device.
    """
    project = analysis.project
    if project.loads is None or not has_load(project, "device", id_):
        return ""
    device = next(each for each in project.loads.devices if each.id == id_)
    ends = [analysis.path(each.on, each.at) for each in ends_of(project, id_)]
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
