"""Links carried to another place, with all that rides on them: a project whose shut hinge stands otherwise.

A link's *motion* takes a place p of it (shut, complex mm) to shift + exp(i·turn)·p. With it go outlines, marks,
weights, handle, ends of struts and springs, striker, anchors of measures, and corners and cutouts of its plate; pins
go to the places that they are said to have. What is wanted, where pins may be (zones) and photos stay.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from kinematics.build_parts import Plates
from kinematics.loaded import carried

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kinematics.project import Pivot, Point, Project


@dataclass(frozen=True, slots=True)
class Motion:
    """turn : rad, anticlockwise.   shift : complex mm."""

    turn: float
    shift: complex

    def carry(self, place: complex) -> complex:
        """Where a place goes."""
        return self.shift + cmath.exp(1j * self.turn) * place

    def point(self, at: Point) -> Point:
        """The same of a point (x, y)."""
        z = self.carry(complex(*at))
        return z.real, z.imag


STILL = Motion(0.0, 0j)


def moved_links(
    project: Project, motions: Mapping[str, Motion], holes: Mapping[tuple[str, str], complex] | None = None
) -> Project:
    """The project with some links carried by their motions.

    holes : by link and pivot, where a link's hole is in its own drawn place, where that isn't the pivot's. Each pin
    ends where its links carry it; they agree, or nearly.
    """
    if not motions and not holes:
        return project

    def carry(part: Any) -> Any:  # noqa: ANN401  anything that rides on a link at a place
        motion = motions.get(part.on)
        return part if motion is None or not hasattr(part, "at") else replace(part, at=motion.point(part.at))

    def pin(pivot: Pivot) -> Pivot:
        stands = [
            motions.get(link, STILL).carry((holes or {}).get((link, pivot.id), complex(*pivot.at)))
            for link in pivot.joins
        ]
        at = sum(stands) / len(stands)
        return pivot if abs(at - complex(*pivot.at)) == 0.0 else replace(pivot, at=(at.real, at.imag))

    return replace(
        project,
        pivots=tuple(map(pin, project.pivots)),
        outlines=tuple(_line(each, motions) for each in project.outlines),
        marks=tuple(map(carry, project.marks)),
        loads=carried(project.loads, carry),
        measures=tuple(_measure(each, motions) for each in project.measures),
        plates=_plates(project.plates, motions),
        mount=_mount(project, motions),
    )


def _line(outline: Any, motions: Mapping[str, Motion]) -> Any:  # noqa: ANN401  an outline
    motion = motions.get(outline.on)
    return outline if motion is None else replace(outline, points=tuple(map(motion.point, outline.points)))


def _measure(measure: Any, motions: Mapping[str, Motion]) -> Any:  # noqa: ANN401  a measure
    def anchor(each: Any) -> Any:  # noqa: ANN401  an anchor
        motion = motions.get(each.link) if each.link is not None and each.at is not None else None
        return each if motion is None else replace(each, at=motion.point(each.at))

    return replace(measure, of=tuple(map(anchor, measure.of)))


def _plates(plates: Any, motions: Mapping[str, Motion]) -> Any:  # noqa: ANN401  as a project holds them
    """Plates with the corners and cutouts that are given as places."""
    if not isinstance(plates, Plates):
        return plates

    def plate(each: Any) -> Any:  # noqa: ANN401  a plate
        motion = motions.get(each.link)
        if motion is None or not (each.edge or each.cutouts):
            return each
        edge = tuple((*motion.point((x, y)), bulge) for x, y, bulge in each.edge)
        return replace(each, edge=edge, cutouts=tuple(replace(hole, at=motion.point(hole.at)) for hole in each.cutouts))

    return replace(plates, each=tuple(map(plate, plates.each)))


def _mount(project: Project, motions: Mapping[str, Motion]) -> Any:  # noqa: ANN401  as a project holds it
    """The mount with a bracket whose face was typed: it lies on the panel's skin."""
    motion, bracket = motions.get(project.panel.id), project.mounted.bracket
    if motion is None or bracket is None:
        return project.mount
    at = None if bracket.at is None else motion.point(bracket.at)
    deg = None if bracket.skin_deg is None else bracket.skin_deg + math.degrees(motion.turn)
    return replace(project.mounted, bracket=replace(bracket, at=at, skin_deg=deg))
