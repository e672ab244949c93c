"""What is wrong with a part's shape as it is cut: as values, worst first; `app/making/words.py` says them.

A *fault* makes a part useless: a shape that can't be, an edge that crosses itself, pins nearer than the project's least
spacing, cutouts that break through the edge or into another hole. A *caution* is a cutout that leaves less metal than
the plate is thick (common practice, no source). What is wrong with pin holes is told by `kinematics.made_faults`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import combinations
from typing import TYPE_CHECKING

import shapely

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kinematics.cutting import Part
    from kinematics.project import Project

SAGITTA = 0.002
"""By how much the polygon that is measured may miss the true edge (mm)."""
SLACK = 1e-6


@dataclass(frozen=True, slots=True)
class CutFault:
    """One fault of a part.

    kind : "shape" (its `told` says why), "edge crosses", "spacing", "cutout" (to the edge), "cutouts" (to a hole).
    part : its mark where it is no plate of a link, "" else.   pivots : whose holes.   have, want : mm, None where
    there is no figure.   is_caution : whether it can be cut so.
    """

    kind: str
    link: str
    pivots: tuple[str, ...] = ()
    have: float | None = None
    want: float | None = None
    is_caution: bool = False
    told: str = ""
    part: str = ""


def cut_faults(project: Project, part: Part) -> tuple[CutFault, ...]:
    """All of a part's, faults before cautions."""
    outer = shapely.Polygon(part.outer.polyline(SAGITTA))
    found = [*_spacing(project, part)]
    if outer.is_valid and not outer.is_empty:
        found += _cutouts(part, outer)
    else:
        found.insert(0, CutFault("edge crosses", part.link))
    if part.kind != "plate":
        found = [replace(fault, part=part.mark) for fault in found]
    return tuple(dict.fromkeys(sorted(found, key=lambda fault: fault.is_caution)))


def _spacing(project: Project, part: Part) -> Iterator[CutFault]:
    """Pins of a link that has a width, nearer than the project's least spacing."""
    if not project.links[project.link_index[part.link]].width:
        return
    for one, other in combinations(part.holes, 2):
        apart = abs(other.at - one.at)
        if apart < project.pin_spacing - SLACK:
            yield CutFault("spacing", part.link, (one.pivot, other.pivot), apart, project.pin_spacing)


def _cutouts(part: Part, outer: shapely.Polygon) -> Iterator[CutFault]:
    """Cutouts that break through the edge, or into a pin hole or each other; and those that leave little."""
    rounds = [shapely.Polygon(each.polyline(SAGITTA)) for each in part.cutouts]
    pins = [shapely.Point(hole.at.real, hole.at.imag).buffer(hole.diameter / 2.0, quad_segs=64) for hole in part.holes]
    for k, cutout in enumerate(rounds):
        edge = float(shapely.distance(cutout, outer.exterior)) if outer.contains(cutout) else 0.0
        nearest = min((float(shapely.distance(cutout, each)) for each in (*pins, *rounds[:k])), default=None)
        for kind, left in (("cutout", edge), ("cutouts", nearest)):
            if left is not None and left <= SLACK:
                yield CutFault(kind, part.link)
            elif left is not None and left < part.thickness - 2 * SAGITTA:
                yield CutFault(kind, part.link, (), left, part.thickness, is_caution=True)
