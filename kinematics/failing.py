"""The ways in which pins, plates and bushings of a project may fail: how much stress each newton brings, what is borne.

Each *way* grows with a *demand*, a force that changes over the travel: the pin's own, what a pin puts on a link's hole,
what of that pulls the hole outwards, the push along a link, or (the stress itself) what all forces do to a link's
sections. Demands are named here by tuples and worked out in `kinematics.straining`. A bushing's limits are ratings for
use, so of them a safety of 1 is wanted.

The formulas are those of `kinematics.strength`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from kinematics import strength as formulas
from kinematics.joints import made_joints, plates_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kinematics.joints import Made
    from kinematics.project import Project

Demand = tuple[str, ...]
"""("pin", pivot), ("hole", pivot, link), ("pull", pivot, link), ("push", link) or ("section", link)."""


@dataclass(frozen=True, slots=True)
class Way:
    """A way to fail; mode, pivot, link, strength, want, note as in `Utilised`.

    demand : what it grows with.   each : stress per unit of it; inf where nothing of the plate is left.
    steady : a stress that is the same at all poses, instead.
    """

    mode: str
    pivot: str
    link: str
    demand: Demand
    each: float
    strength: float
    want: float
    note: str = ""
    steady: float | None = None


def ways_to_fail(project: Project, turned_deg: Mapping[str, float]) -> list[Way]:
    """Everything that may fail.   turned_deg : by pivot, how far its links turn on each other over the travel."""
    found = []
    for joint in made_joints(project):
        found += _of_pin(joint)
        for link in joint.links:
            found += _of_hole(project, joint, link)
        found += _of_bushing(joint, turned_deg[joint.joint.pivot])
    for part in project.links:
        if part.kind == "link" and part.width > 0.0:
            found += _of_link(project, part.id)
    return found


def _of_pin(joint: Made) -> list[Way]:
    """Shear and bending of the pin itself."""
    pin = joint.joint
    is_double = pin.shear == "double"
    moment = (formulas.double_shear_moment if is_double else formulas.single_shear_moment)(1.0, *joint.stack)
    metal, demand, how = pin.pin_material.yield_mpa, ("pin", pin.pivot), f"{pin.shear} shear"
    sheared = formulas.pin_shear(1.0, pin.diameter, 2 if is_double else 1)
    bent = formulas.bending_stress(moment, pin.diameter)
    return [
        Way("pin shear", pin.pivot, "", demand, sheared, metal * formulas.SHEAR_SHARE, joint.factor, how),
        Way("pin bending", pin.pivot, "", demand, bent, metal, joint.factor, how),
    ]


def _of_hole(project: Project, joint: Made, link: str) -> list[Way]:
    """Bearing, net section and tear-out of one link's plates at a pin, and how the offset of a single one bends it."""
    pin, plate = joint.joint, joint.plates[link]
    metal, want = pin.plate_material.yield_mpa, joint.factor
    weaker = metal if plate.bushed else min(metal, pin.pin_material.yield_mpa)
    hole, pull = ("hole", pin.pivot, link), ("pull", pin.pivot, link)
    found = [Way("bearing", pin.pivot, link, hole, plate.pressure, weaker, want)]
    if plate.edge is None or plate.width is None:
        return found
    tension = formulas.net_tension(1.0, plate.width, plate.hole, plate.thickness)
    torn = formulas.tear_out(1.0, plate.edge, plate.hole, plate.thickness)
    found.append(Way("net section", pin.pivot, link, pull, tension, metal, want))
    found.append(Way("tear-out", pin.pivot, link, pull, torn, metal * formulas.SHEAR_SHARE, want))
    if plate.offset > 0.0 and project.link(link).kind == "link":
        bends = formulas.flat_bending(plate.offset, plate.width, plate.thickness)
        found.append(Way("offset bending", pin.pivot, link, hole, bends, metal, want, "single shear"))
    return found


def _of_bushing(joint: Made, turned_deg: float) -> list[Way]:
    """What a bushing is rated for."""
    pin, bushing = joint.joint, joint.joint.bushing
    if bushing is None:
        return []
    speed = formulas.sliding_speed(turned_deg, joint.seconds, pin.diameter)
    presses, demand = formulas.bearing(1.0, pin.diameter, bushing.length), ("pin", pin.pivot)
    modes = ("bushing pressure", "bushing speed", "bushing pressure × speed")
    return [
        Way(modes[0], pin.pivot, "", demand, presses, bushing.pressure_mpa, 1.0, bushing.name),
        Way(modes[1], pin.pivot, "", demand, 0.0, bushing.speed_m_s, 1.0, bushing.name, steady=speed),
        Way(modes[2], pin.pivot, "", demand, presses * speed, bushing.pv_mpa_m_s, 1.0, bushing.name),
    ]


def _of_link(project: Project, link: str) -> list[Way]:
    """Sections of a link's plates, and how they buckle between two pins."""
    plates, pins = plates_of(project, link), project.pivots_on(link)
    if len(pins) < 2:
        return []
    want, width = plates[0].factor, project.link(link).width
    metal, weakest = min(plate.yields for plate in plates), min(plate.thickness for plate in plates)
    found = [Way("section", "", link, ("section", link), 1.0 / weakest, metal, want)]
    length = math.dist(pins[0].at, pins[1].at)
    if len(pins) == 2 and length > 0.0:
        laws = [formulas.buckling(length, width, each.single, each.yields, each.modulus) for each in plates]
        law, plate = min(zip(laws, plates, strict=True), key=lambda pair: pair[0].stress * pair[1].thickness)
        too = ", more slender than struts are built" if law.is_too_slender else ""
        note = f"{law.law}, slenderness {law.slenderness:.0f}{too}"
        found.append(Way("buckling", "", link, ("push", link), 1.0 / (width * plate.thickness), law.stress, want, note))
    return found
