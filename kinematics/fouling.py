"""Fouling: where struts and springs touch outlines though nobody asked, and what is odd about them.

Both are for remarks: they fail no check. Contact is looked for off the drag. An outline on a link to which the device
is pinned is left out where the pin stands on it, in it, or no further off than the device's eye: it is bolted there.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics.clearance import gaps
from kinematics.spanning import EYE, LEAST_SPAN, pushed_in

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kinematics.analysis import Analysis
    from kinematics.arrays import Floats
    from kinematics.parts import Attachment, Device
    from kinematics.project import Outline, Project
    from kinematics.results import Gap

SAMPLES = 4
"""Places between knots at which a device's line is looked at."""


@lru_cache(maxsize=4)
def fouled(analysis: Analysis) -> tuple[Gap, ...]:
    """The pairs of a device and an outline that nobody watches and that touch somewhere in the sweep.

    None where the panel doesn't open, as where a strut doesn't fit. An analysis is looked at just once.
    """
    project = analysis.project
    if analysis.opening.reached_deg <= 0.0:
        return ()
    asked = {frozenset(want.between) for want in project.gaps}
    pairs = tuple(
        ((device.id, outline.id), None)
        for device in _meant(project)
        for outline in project.outlines
        if frozenset((device.id, outline.id)) not in asked and not _is_bolted(device, outline)
    )
    if not pairs:
        return ()
    found, _ = gaps(project, analysis.sweep, pairs, analysis.bodies)
    return tuple(gap for gap in found if gap.touching_deg)


def _meant(project: Project) -> list[Device]:
    """The devices that a pair can name."""
    others = {part.id for parts in (project.links, project.outlines) for part in parts}
    return [each for each in (() if project.loads is None else project.loads.devices) if each.id not in others]


def _is_bolted(device: Device, outline: Outline) -> bool:
    """Whether an end of a device is pinned on or in an outline, or as near as its eye is long."""
    line = shapely.Polygon(outline.points) if outline.closed else shapely.LineString(outline.points)
    ends: tuple[Attachment, ...] = (device.from_end, device.to_end)
    return any(end.on == outline.on and line.distance(shapely.Point(end.at)) <= EYE for end in ends)


@dataclass(frozen=True, slots=True)
class Oddity:
    """What is odd about a device.

    kind : "impossible" (a strut whose stroke is longer than it is pushed in), "namesake" (a want that names it means an
    outline or a link), "over pin" (its line passes over `pin` at `deg`), "one place" (its ends come together at `deg`).
    """

    kind: str
    device: str
    pin: str = ""
    deg: float = 0.0


def oddities(analysis: Analysis) -> tuple[Oddity, ...]:
    """What is odd about the devices, in their order."""
    return tuple(_odd(analysis)) if analysis.project.loads is not None else ()


def _odd(analysis: Analysis) -> Iterator[Oddity]:
    project = analysis.project
    named = {name for want in project.gaps for name in want.between}
    meant = {device.id for device in _meant(project)}
    for device in () if project.loads is None else project.loads.devices:
        if device.kind == "gas strut" and pushed_in(device) <= (device.stroke or 0.0):
            yield Oddity("impossible", device.id)
        if device.id in named and device.id not in meant:
            yield Oddity("namesake", device.id)
        if device.kind != "torsion spring":
            yield from _on_the_way(analysis, device)


def _on_the_way(analysis: Analysis, device: Device) -> Iterator[Oddity]:
    """Where its ends come together, or its line passes over a pin that joins the two links."""
    project, sweep = analysis.project, analysis.sweep
    links = {device.from_end.on, device.to_end.on}
    pins = [pivot for pivot in project.pivots if links <= set(pivot.joins) and len(links) == 2]
    arcs = sweep.fine_arcs(0.0, SAMPLES) if sweep.reached > 0.0 else np.zeros(1)
    y = sweep.branch.cubic(arcs)
    degs = np.degrees(sweep.sign * y[:, sweep.panel]) if len(arcs) > 1 else np.zeros(1)
    spots = [(device.from_end.on, device.from_end.at), (device.to_end.on, device.to_end.at)]
    spots += [(device.from_end.on, pivot.at) for pivot in pins]
    places = sweep.closure.spots(spots).places(np.exp(1j * sweep.closure.link_turns(y)))
    line = places[:, 1] - places[:, 0]
    nearest = int(np.argmin(np.abs(line)))
    if abs(line[nearest]) < LEAST_SPAN:
        yield Oddity("one place", device.id, deg=max(float(degs[nearest]), 0.0))
        return
    for number, pivot in enumerate(pins):
        aside = ((places[:, 2 + number] - places[:, 0]) * line.conj()).imag
        yield from (Oddity("over pin", device.id, pivot.id, deg) for deg in _zeros(degs, aside))


def _zeros(degs: Floats, values: Floats) -> list[float]:
    """Openings (deg) at which values change their sign, or are nothing when shut or at the end."""
    nothing = 1e-9 * float(np.abs(values).max(initial=0.0))  # rounding
    values = np.where(np.abs(values) <= nothing, 0.0, values)
    ends = [float(degs[k]) for k in ((0, -1) if len(degs) > 1 else (0,)) if values[k] == 0.0]
    i = np.flatnonzero((values[:-1] * values[1:] < 0.0) | ((values[1:] == 0.0) & (values[:-1] != 0.0)))
    i = i[(values[i + 1] != 0.0) | (i + 2 < len(values))]
    share = values[i] / (values[i] - values[i + 1])
    found: list[float] = (degs[i] + share * (degs[i + 1] - degs[i])).tolist()
    return sorted({*ends, *found})
