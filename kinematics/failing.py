"""The ways in which pins, plates and bushings of a project may fail: how much stress each newton brings, what is borne.

Each *way* grows with a *demand*, a force that changes over the travel: the pin's own, what a pin puts on a link's hole,
what of that pulls the hole outwards, the push along a link, or (the stress itself) what all forces do to a link's
sections. Demands are named here by tuples and worked out in `kinematics.demands`. A bushing's limits are ratings for
use, so of them a safety of 1 is wanted.

The formulas are those of `kinematics.strength`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from kinematics import strength as formulas
from kinematics.joints import build_of, made_of, plates_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kinematics.arrays import Floats
    from kinematics.demands import Demand
    from kinematics.joints import Build, LinkPlates, Made
    from kinematics.project import Project
    from kinematics.strength_parts import Bushing, Joint, Strength


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


@dataclass(frozen=True, slots=True, eq=False)
class Ways:
    """Everything that may fail, in order, and the same as columns, with what only a pose of the pins tells.

    ways : their `each`, `strength`, `steady` and `note` may be drafts, where `told` fills them in.
    each, strength, want : (ways,).   steady : (ways,), NaN where the stress grows with a demand.
    slides : of each bushing, by its pivot: the places of speed and of pressure × speed, and its time and diameter.
    bends : of each link that may buckle: its place, its width, and its plates.
    """

    ways: tuple[Way, ...]
    each: Floats
    strength: Floats
    want: Floats
    steady: Floats
    slides: tuple[tuple[str, int, int, float, float], ...] = ()
    bends: tuple[tuple[str, int, float, tuple[LinkPlates, ...]], ...] = ()

    def told(self, turned_deg: Mapping[str, float], lengths: Mapping[str, float]) -> Ways:
        """The same with bushings' speeds and links' buckling.

        turned_deg : by pivot, how far its links turn on each other over the travel.   lengths : by link, mm from pin
        to pin of those that have two.
        """
        ways, each, strength, steady = list(self.ways), self.each.copy(), self.strength.copy(), self.steady.copy()
        for pivot, speeds, both, seconds, diameter in self.slides:
            steady[speeds] = speed = formulas.sliding_speed(turned_deg[pivot], seconds, diameter)
            each[both] *= speed
        kept = np.ones(len(ways), dtype=np.bool_)
        for link, place, width, plates in self.bends:
            kept[place] = lengths[link] > 0.0
            if kept[place]:
                ways[place], each[place], strength[place] = _buckled(ways[place], lengths[link], width, plates)
        if kept.all():
            return Ways(tuple(ways), each, strength, self.want, steady)
        some = tuple(way for way, keeps in zip(ways, kept.tolist(), strict=True) if keeps)
        return Ways(some, each[kept], strength[kept], self.want[kept], steady[kept])


def ways_to_fail(project: Project) -> Ways:
    """Everything that may fail; no ways where the project says nothing of pins and plates."""
    return ways_of(project.strength, build_of(project))


@lru_cache(maxsize=16)
def ways_of(strength: Strength | None, build: Build) -> Ways:
    """They stay while pins are dragged."""
    joints = () if strength is None else tuple(made_of(strength, build).values())
    mere = {link for link, kind, _ in build.links if kind == "link"}
    found: list[Way] = []
    slides: list[tuple[str, int, int, float, float]] = []
    bends: list[tuple[str, int, float, tuple[LinkPlates, ...]]] = []
    for joint in joints:
        found += _of_pin(joint)
        for link in joint.links:
            found += _of_hole(joint, link, is_mere=link in mere)
        if joint.joint.bushing is not None:
            place = len(found)
            slides.append((joint.joint.pivot, place + 1, place + 2, joint.seconds, joint.joint.diameter))
            found += _of_bushing(joint.joint, joint.joint.bushing)
    for link, kind, width in build.links:
        plates = plates_of(joints, link)
        if kind == "link" and width > 0.0 and len(plates) > 1:
            found.append(_of_section(link, plates))
            if len(plates) == 2:
                bends.append((link, len(found), width, plates))
                found.append(Way("buckling", "", link, ("push", link), 0.0, math.inf, plates[0].factor))
    steady = [math.nan if way.steady is None else way.steady for way in found]
    each, borne, want = np.array([(way.each, way.strength, way.want) for way in found]).reshape(-1, 3).T
    return Ways(tuple(found), each, borne, want, np.array(steady), tuple(slides), tuple(bends))


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


def _of_hole(joint: Made, link: str, *, is_mere: bool) -> list[Way]:
    """Bearing, net section and tear-out of one link's plates at a pin, and how the offset of a single one bends it.

    is_mere : whether it is neither the fixed link nor the panel.
    """
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
    if plate.offset > 0.0 and is_mere:
        bends = formulas.flat_bending(plate.offset, plate.width, plate.thickness)
        found.append(Way("offset bending", pin.pivot, link, hole, bends, metal, want, "single shear"))
    return found


def _of_bushing(pin: Joint, bushing: Bushing) -> list[Way]:
    """What a bushing is rated for: pressure, speed, and both together; its speed isn't known yet."""
    presses, demand = formulas.bearing(1.0, pin.diameter, pin.pressed), ("pin", pin.pivot)
    modes = ("bushing pressure", "bushing speed", "bushing pressure × speed")
    return [
        Way(modes[0], pin.pivot, "", demand, presses, bushing.pressure_mpa, 1.0, bushing.name),
        Way(modes[1], pin.pivot, "", demand, 0.0, bushing.speed_m_s, 1.0, bushing.name, steady=0.0),
        Way(modes[2], pin.pivot, "", demand, presses, bushing.pv_mpa_m_s, 1.0, bushing.name),
    ]


def _of_section(link: str, plates: tuple[LinkPlates, ...]) -> Way:
    """Sections of a link's plates."""
    metal, weakest = min(plate.yields for plate in plates), min(plate.thickness for plate in plates)
    return Way("section", "", link, ("section", link), 1.0 / weakest, metal, plates[0].factor)


def _buckled(draft: Way, length: float, width: float, plates: tuple[LinkPlates, ...]) -> tuple[Way, float, float]:
    """How a link's plates buckle between two pins so far apart (mm); stress of a unit push, and what is borne."""
    laws = [formulas.buckling(length, width, each.single, each.yields, each.modulus) for each in plates]
    law, plate = min(zip(laws, plates, strict=True), key=lambda pair: pair[0].stress * pair[1].thickness)
    too = ", more slender than struts are built" if law.is_too_slender else ""
    note = f"{law.law}, slenderness {law.slenderness:.0f}{too}"
    return replace(draft, note=note), 1.0 / (width * plate.thickness), law.stress
