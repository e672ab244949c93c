"""What is wrong with pins, bushings and holes as they are chosen: faults, and cautions that only deserve a thought.

- *Pins too near*: on one plate two housings leave too little plate between them; a caution where only heads meet, which
  may pass each other in other layers.
- *Too narrow*: a hole is too near its plate's edge. A code's floor is 1.2 of the hole's diameter (EN 1993-1-8, table
  3.3); a caution is below 1.5, where 2 is preferred (common practice, no source).
- *Cutter*: a hole is smaller than the sheet is thick: some cutters make it, down to 0.7 of that; none below. (What rims
  and webs want is in `kinematics.cut_faults`.)
- *Galling*: stainless steel turns in stainless steel with no bronze between, and seizes.
- *Corrosion*: aluminium beside stainless steel, where salt water comes.
- *Tight*, *not to size*, *proud*, *no standard …*: the pin may not go in; a bushing can't be pressed into a hole as
  cut; the bushing stands out of its plate; no table has the size.

Values only: what is had and what is wanted (mm), and whom it is about. Nothing here raises for a bad design.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

import shapely

from kinematics.errors import HingewrightError
from kinematics.plating import cut_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from kinematics.hardware import Hardware
    from kinematics.joints_made import HoleMade, JointMade
    from kinematics.plating import Cut
    from kinematics.project import Project

STAINLESS, ALUMINIUM = "stainless", "aluminium"
SLACK = 1e-6
"""Mm by which what is had may fall short of what is wanted, by rounding."""
FINE = 1e-3
"""Mm by which chords may miss a plate's arcs."""


@dataclass(frozen=True, slots=True)
class MakingFault:
    """One fault.   kind : as above.   grave : a fault; else a caution.   subject : ids of pivots and links it is about.

    have, want : mm, or a share of a diameter; None where there is no figure.
    """

    kind: str
    grave: bool
    pivots: tuple[str, ...]
    links: tuple[str, ...] = ()
    have: float | None = None
    want: float | None = None
    note: str = ""


def making_faults(
    project: Project, joints: Mapping[str, JointMade], hardware: Hardware, kinds: Mapping[str, str]
) -> tuple[MakingFault, ...]:
    """All that is wrong with a project's pins, faults first.   kinds : of metals ("stainless steel"), by name."""
    found = [
        *(fault for joint in joints.values() for fault in _of_joint(project, joint, hardware, kinds)),
        *(fault for link in project.links for fault in _of_link(project, link.id, joints, hardware)),
    ]
    return tuple(sorted(found, key=lambda fault: not fault.grave))


# One joint -------------------------------------------------------------------------------------------------------


def _of_joint(
    project: Project, joint: JointMade, hardware: Hardware, kinds: Mapping[str, str]
) -> Iterable[MakingFault]:
    pin, here = joint.pin, (joint.pivot,)
    if pin.size is None:
        yield MakingFault("no standard pin", False, here, have=pin.diameter, note=pin.kind)
    elif pin.kind == "plain pin" and pin.ring is None:
        yield MakingFault("no standard ring", False, here, have=pin.diameter)
    if joint.running.least < -SLACK:
        yield MakingFault("tight", True, here, have=joint.running.least, want=0.0)
    if joint.washer.thickness > 0.0 and joint.washer.size is None:
        rows = hardware.washers_for(pin.diameter)
        had = min((row.thickness for row in rows), key=lambda mm: abs(mm - joint.washer.thickness), default=None)
        yield MakingFault("no standard washer", False, here, have=joint.washer.thickness, want=had)
    for hole in joint.holes:
        yield from _of_hole(joint, hole, hardware)
    yield from _metals(project, joint, kinds)


def _of_hole(joint: JointMade, hole: HoleMade, hardware: Hardware) -> Iterable[MakingFault]:
    here, on, bushing = (joint.pivot,), (hole.link,), hole.bushing
    if bushing is not None:
        if bushing.size is None:
            yield MakingFault("no standard bushing", False, here, on, bushing.nominal_bore, note=bushing.kind)
        if bushing.fixing == "press" and not hole.reamed:
            yield MakingFault("not to size", True, here, on, have=hole.between.most)
        if bushing.proud > SLACK:
            yield MakingFault("proud", False, here, on, bushing.proud, 0.0)
    if hole.thickness <= 0.0:
        return
    share, wanted = hole.cut_diameter / hole.thickness, hardware.rule("hole_per_thickness")
    if share < wanted - SLACK:
        some = hardware.rule("hole_per_thickness_some")
        yield MakingFault("cutter", share < some - SLACK, here, on, hole.cut_diameter, wanted * hole.thickness)


def _metals(project: Project, joint: JointMade, kinds: Mapping[str, str]) -> Iterable[MakingFault]:
    """What rubs on what, and what stands beside what."""
    pin = "" if joint.choice.metal is None else kinds.get(joint.choice.metal.name, "")
    plates = {hole.link: _kind(project, hole.link, kinds) for hole in joint.holes}
    rubbing = [
        hole.link
        for hole in joint.holes
        if hole.purpose == "running" and STAINLESS in pin and STAINLESS in plates[hole.link]
    ]
    if rubbing:
        yield MakingFault("galling", True, (joint.pivot,), tuple(rubbing))
    if joint.washer.thickness <= 0.0:
        faces = [link for link, kind in plates.items() if STAINLESS in kind]
        if len(faces) > 1:
            yield MakingFault("galling faces", True, (joint.pivot,), tuple(faces))
    steels = [link for link, kind in plates.items() if STAINLESS in kind]
    lights = [link for link, kind in plates.items() if ALUMINIUM in kind]
    if lights and (steels or STAINLESS in pin):
        yield MakingFault("corrosion", False, (joint.pivot,), tuple(lights), note="" if steels else "pin")


def _kind(project: Project, link: str, kinds: Mapping[str, str]) -> str:
    metal = project.plating.of(link).metal
    return "" if metal is None else kinds.get(metal.name, "")


# One link --------------------------------------------------------------------------------------------------------


def _of_link(project: Project, link: str, joints: Mapping[str, JointMade], hardware: Hardware) -> Iterable[MakingFault]:
    pins = project.pivots_on(link)
    for one, other in combinations(pins, 2):
        apart = abs(complex(*one.at) - complex(*other.at))
        yield from _apart(joints[one.id], joints[other.id], link, apart, hardware)
    try:
        cut = cut_of(project, project.link(link))
    except HingewrightError:  # the plate's own shape can't be, which is told elsewhere
        return
    if cut is not None:
        yield from _edges(cut, joints, hardware)


def least_apart(one: JointMade, other: JointMade, link: str, hardware: Hardware) -> dict[str, float]:
    """How far two pins on a link's plates are to be apart at least (mm).

    "holes": that between their holes stay as much plate as it is thick, 2 mm at least; "heads": that heads, clips and
    washers pass each other in one plane.
    """
    holes = (one.hole(link), other.hole(link))
    web = max(hardware.rule("web_least"), *(hole.thickness for hole in holes))
    return {
        "holes": 0.5 * sum(hole.finished.most for hole in holes) + web,
        "heads": 0.5 * (one.widest + other.widest) + hardware.rule("head_apart"),
    }


def _apart(one: JointMade, other: JointMade, link: str, apart: float, hardware: Hardware) -> Iterable[MakingFault]:
    for why, least in least_apart(one, other, link, hardware).items():
        if apart < least - SLACK:
            yield MakingFault("pins too near", why == "holes", (one.pivot, other.pivot), (link,), apart, least, why)
            return


def _edges(cut: Cut, joints: Mapping[str, JointMade], hardware: Hardware) -> Iterable[MakingFault]:
    """How far the holes are from the edge, and from what only makes the plate lighter."""
    ring = shapely.LinearRing(cut.outer.polyline(FINE))
    holes = [shapely.LinearRing(each.polyline(FINE)) for each in cut.cutouts]
    floor, usual = hardware.rule("edge_floor"), hardware.rule("edge_least")
    for pivot, at in cut.pins:
        centre = shapely.Point(at.real, at.imag)
        hole = joints[pivot].hole(cut.link)
        inside = bool(shapely.Polygon(ring).covers(centre))
        have = min(float(shapely.distance(centre, each)) for each in (ring, *holes)) if inside else 0.0
        if have < usual * hole.diameter - FINE:
            grave = have < floor * hole.diameter - FINE
            want = (floor if grave else usual) * hole.diameter
            turns_in = "" if hole.bushing is None else "bushing"
            yield MakingFault("too narrow", grave, (pivot,), (cut.link,), round(have, 2), want, turns_in)
