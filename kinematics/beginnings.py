"""Where a new weight, handle, strut or spring is put to begin with: places to be changed, sensible for a common panel.

All are shares of the panel's *length*, from the hinge's fixed pins to its foremost point. A strut or compression spring
stands on the fixed link below the pins and on the panel ahead of them: it pushes the panel open at every opening, and
is drawn out by less than it is long. A tension spring hangs above the pins. A torsion spring sits on a fixed pin and
turns the way that the panel opens. Where the push is known, a new one is as strong as takes half of it off the shut
panel: it helps, and throws nothing open. Common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from kinematics import loading
from kinematics.analysis import analyse
from kinematics.parts import Attachment, Handle, Mass
from kinematics.rear_edge import front_point
from kinematics.weighing import line_of

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.parts import Device
    from kinematics.project import Point, Project

USUAL_MASS = 10.0
"""Kg of a new weight, to be changed."""
AHEAD = 0.40
"""Share of the panel's length from the pins to a device's end on the panel."""
BESIDE = 0.25
"""Share of it from the pins to the end on the fixed link, straight below them, or above."""
BARE = 600.0
"""Mm that a panel without outlines is taken to be long."""
HALF = 0.5
"""Share of the shut panel's push that a new device takes."""
STRENGTHS = ("force", "initial", "rate", "moment", "moment_rate")
"""Figures in which a device's push is linear."""
USUAL_COUNT = 2
"""Struts and springs come in pairs, one at each side."""


def first_mass(project: Project) -> Mass:
    """A weight for the panel, in the middle of its outlines' lines."""
    lines = [line_of(each) for each in project.outlines if each.on == project.panel.id and _is_long(each.points)]
    total = math.fsum(length for length, _ in lines)
    if not total > 0.0:
        (ax, ay), (bx, by) = _pins(project), front(project)
        return Mass(project.panel.id, USUAL_MASS, _round((ax + bx) / 2, (ay + by) / 2))
    x, y = (math.fsum(length * at[axis] for length, at in lines) / total for axis in (0, 1))
    return Mass(project.panel.id, USUAL_MASS, _round(x, y))


def first_handle(project: Project) -> Handle:
    """A handle at the panel's foremost point."""
    return Handle(project.panel.id, front(project))


def front(project: Project) -> Point:
    """The panel's foremost point, as far as it is drawn."""
    found = front_point(project)
    if found is not None:
        return found
    x, y = _pins(project)
    return x + BARE, y


def first_device(analysis: Analysis, kind: str) -> Device:
    """A strut or spring of a kind, with figures that fit its places over the travel."""
    project = analysis.project
    name = loading.free_device_id(project, kind.rsplit(maxsplit=1)[-1] if kind == "gas strut" else kind)
    start, end = _torsion_ends(project) if kind == "torsion spring" else _ends(project, kind)
    ends = (analysis.path(each.on, each.at) for each in (start, end))
    one, other = ends
    lengths = np.hypot(*(other - one).T)
    made = loading.usual_device(name, kind, start, end, float(lengths.min()), float(lengths.max()))
    if made.moment is not None:
        made = replace(made, moment=math.copysign(made.moment, _way(analysis, end.on)))
    return _measured(analysis, replace(made, count=USUAL_COUNT))


def _measured(analysis: Analysis, device: Device) -> Device:
    """The device as strong as takes HALF of the push off the shut panel; as it came where that can't be told."""
    if analysis.loads is None:
        return device
    helped = analyse(loading.add_device(analysis.project, device), 2, near=analysis).loads
    alone, taken = float(analysis.loads.effort[0]), math.nan if helped is None else float(helped.effort[0])
    if not (alone > 0.0 and taken < alone):  # NaN neither
        return device
    share = HALF * alone / (alone - taken)
    figures: dict[str, Any] = {key: _short(share * getattr(device, key)) for key in STRENGTHS if getattr(device, key)}
    return replace(device, **figures)


def _short(value: float) -> float:
    """To two digits."""
    return float(f"{value:.2g}")


def _ends(project: Project, kind: str) -> tuple[Attachment, Attachment]:
    """On the fixed link below the pins (of a tension spring above), on the panel ahead of them."""
    (x, y), (far_x, far_y) = _pins(project), front(project)
    long = math.dist((x, y), (far_x, far_y)) or BARE
    up = BESIDE if kind == "tension spring" else -BESIDE
    ahead = _round(x + AHEAD * (far_x - x), y + AHEAD * (far_y - y))
    return Attachment(project.fixed.id, _round(x, y + up * long)), Attachment(project.panel.id, ahead)


def _torsion_ends(project: Project) -> tuple[Attachment, Attachment]:
    """On a pin of the fixed link, against the first other link there."""
    fixed = project.fixed.id
    pin = next(iter(project.pivots_on(fixed)), None)
    at = _pins(project) if pin is None else pin.at
    other = project.panel.id if pin is None else next(name for name in pin.joins if name != fixed)
    return Attachment(fixed, at), Attachment(other, at)


def _way(analysis: Analysis, link: str) -> float:
    """+1 where a link turns anticlockwise as the panel opens, −1 clockwise."""
    turned = float(analysis.turns[-1, analysis.links.index(link)])
    return math.copysign(1.0, turned) if turned else float(analysis.project.travel.sign)


def _pins(project: Project) -> Point:
    """The middle of the pins on the fixed link; without any, of all; without those the origin."""
    pins = project.pivots_on(project.fixed.id) or project.pivots
    if not pins:
        return 0.0, 0.0
    return sum(pin.at[0] for pin in pins) / len(pins), sum(pin.at[1] for pin in pins) / len(pins)


def _round(x: float, y: float) -> Point:
    """A place to whole mm."""
    return float(round(x)), float(round(y))


def _is_long(points: tuple[Point, ...]) -> bool:
    """Whether the points aren't all one."""
    return any(point != points[0] for point in points)
