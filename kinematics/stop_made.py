"""The stop as a part: where its pin or screw sits on one link, and its block with a face on the other.

Terms. The *arm* goes from the pivot that joins both links to where they meet. At the stop's opening the second link has
turned by θ against the first; so the face, which lies along the arm, has the direction α on its own link and α ± θ on
the other, both at shut. A *pin* of radius r touches the face at the arm's end with its middle r to the side. A *screw*
lies square to the face there, in a tapped block; turned out by a mm, it lets the links meet earlier by 1/arm rad, which
is so many degrees of opening as the links turn against each other then.

All places mm, in the side view with the panel shut, each on its own link. Nothing is told where no pivot joins the two,
the linkage never comes to that opening, or they hardly turn against each other there: then a stop stops nothing.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics import motion
from kinematics.build_parts import Cutout, Plate
from kinematics.contours import Contour
from kinematics.cutting import Part
from kinematics.halting import STILL, common_pivot, past_end
from kinematics.mounting import MountFault
from kinematics.plate_shapes import plate_cut

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kinematics.analysis import Analysis
    from kinematics.cutting import Line
    from kinematics.mount_parts import StopPart
    from kinematics.project import Project

AXIS = 2.5
"""Of a screw's diameter: how far its axis is scribed beyond what it can be set by."""
ON_PLATE = 0.5
"""Share of the block that should stand on its plate (common practice, no source)."""
HIGH = 12.0
"""Mm of the block across its face."""


@dataclass(frozen=True, slots=True, eq=False)
class StopMade:
    """A stop.

    carries, faces : links with the pin or screw, and with the face.   pivot : that joins them.   at : the pin's middle,
    or where the screw's tip touches; way : unit way from it to the face.   face : the face's ends.   block : its
    contour (both: on the link that faces).   turned_deg : how far the second link has turned against the first.
    per_mm : deg of opening by which a mm of screw shifts the stop.   force : N on the faces of one hinge; None: untold.
    """

    part: StopPart
    carries: str
    faces: str
    pivot: str
    at: complex
    way: complex
    face: tuple[complex, complex]
    block: Contour
    turned_deg: float
    per_mm: float
    force: float | None


def stop_made(analysis: Analysis, part: StopPart) -> StopMade | None:
    """The stop of a project as a part; None where it has none, or none that stops."""
    loads, project = analysis.project.loads, analysis.project
    stop = None if loads is None else loads.stop
    if stop is None or analysis.state != "moves" or past_end(analysis.sweep, stop.at_deg):
        return None
    pivot = common_pivot(project, stop.between)
    if not pivot:
        return None
    first, second = (analysis.links.index(link) for link in stop.between)
    y = analysis.sweep.at_openings(np.array([math.radians(stop.at_deg)]))  # often a little past the opening wanted
    turns = motion.rates(analysis.sweep, y).turns[0]
    ratio = float(turns[second] - turns[first])
    if abs(ratio) < STILL:
        return None
    stands = analysis.sweep.link_turns(y)[0]
    turned = float(stands[second] - stands[first])
    about = complex(*project.pivot(pivot).at)
    away = _way(analysis, stop.between[1], pivot, about)
    # directions of the face at shut on the second link and on the first, which meets it once that one has turned
    faces, ahead = {1: away, 0: away + turned}, math.copysign(1.0, ratio)
    on = 0 if part.on == "first" else 1
    carries, other = stop.between[on], stop.between[1 - on]
    # the first link's part lies ahead of the face, where the second one comes to; the second's lies behind it
    side = ahead if on == 0 else -ahead
    own, facing = cmath.rect(1.0, faces[on]), cmath.rect(1.0, faces[1 - on])
    lift = part.diameter / 2.0 if part.kind == "pin" else 0.0
    at = about + own * (stop.arm + 1j * side * lift)
    half = min(part.face / 2.0, 0.8 * stop.arm)
    ends = about + facing * (stop.arm - half), about + facing * (stop.arm + half)
    behind = -1j * side * HIGH * facing
    block = Contour(np.array([ends[0], ends[1], ends[1] + behind, ends[0] + behind]), np.zeros(4))
    block = block if block.area > 0.0 else block.reversed()
    told = None if analysis.loads is None or analysis.loads.holding is None else analysis.loads.holding.stop
    force = None if told is None or told.force is None or loads is None else told.force / loads.hinges
    per_mm = math.degrees(1.0 / stop.arm) / abs(ratio)
    return StopMade(part, carries, other, pivot, at, -1j * side * own, ends, block, math.degrees(turned), per_mm, force)


def _way(analysis: Analysis, link: str, pivot: str, about: complex) -> float:
    """Direction (rad, shut) from a pivot to the link's nearest other pin; along x where it has none."""
    others = [complex(*each.at) for each in analysis.project.pivots_on(link) if each.id != pivot]
    return cmath.phase(min(others, key=lambda at: abs(at - about)) - about) if others else 0.0


def with_stop(project: Project, made: StopMade) -> Project:
    """The project whose plate of the link that carries a pin has the hole for it; a screw needs none."""
    if made.part.kind != "pin":
        return project
    plates = project.plating
    own = next((plate for plate in plates.each if plate.link == made.carries), Plate(made.carries))
    hole = Cutout((made.at.real, made.at.imag), made.part.diameter)
    others = tuple(plate for plate in plates.each if plate.link != made.carries)
    new = replace(own, cutouts=(*own.cutouts, hole))
    return replace(project, plates=replace(plates, each=(*others, new)))


def stop_lines(made: StopMade) -> dict[str, tuple[Line, ...]]:
    """What is scribed on the plates, by link, shut: where the block stands, its face first, and a screw's axis."""
    corners = made.block.corners.tolist()
    edges = zip(corners, [*corners[1:], corners[0]], strict=True)
    others = (edge for edge in edges if set(edge) != set(made.face))
    found: dict[str, tuple[Line, ...]] = {made.faces: (made.face, *others)}
    if made.part.kind == "screw":
        back = made.at - made.way * (made.part.set_by + AXIS * made.part.diameter)
        found[made.carries] = ((made.at, back),)
    return found


def stop_faults(project: Project, made: StopMade, widest: Mapping[str, float]) -> tuple[MountFault, ...]:
    """Where the block can't stand: over a pin, or with less than half of it on its link's plate.

    widest : of each pivot, mm: the largest diameter that lies on its pin (head, washers).
    """
    block, found = shapely.Polygon(made.block.polyline()), []
    for pivot in project.pivots_on(made.faces):
        room = block.distance(shapely.Point(pivot.at)) - widest.get(pivot.id, 0.0) / 2.0
        if room < 0.0:
            found.append(MountFault("over pin", "stop", pivot.id, -room, is_caution=True))
    cut = plate_cut(project, project.link(made.faces))
    if cut is not None:
        plate = shapely.Polygon(cut.outer.polyline())
        if block.intersection(plate).area < ON_PLATE * block.area:
            found.append(MountFault("beside", "stop", is_caution=True))
    return tuple(found)


def stop_block(analysis: Analysis, made: StopMade) -> Part:
    """The block with the face as a part, its face along x from the origin on."""
    start, end = made.face
    turn = -cmath.phase(end - start)
    outer = made.block.moved(0.0, -start).moved(turn, 0j)
    link = analysis.project.link(made.faces)
    sheet = analysis.project.plating.of(link.id, link.width)
    return Part("mount", made.faces, "stop block", outer, (), (), (), sheet.thickness or 0.0, 1, sheet.density or 0.0)
