"""What stands in the way of cutting a part: as values, worst first; `app/making/words.py` says them.

A *fault* makes a part useless: an edge that crosses itself, a hole that breaks through it, holes that run into each
other, a rim narrower than the plate is thick, pins nearer than the project's least spacing. A *caution* is what shops
ask for beyond that: a hole at least as wide as the plate is thick, a rim of 1.5 times the thickness or of the hole's
diameter, 2 thicknesses between two holes (several shops' rules for laser cutting; they differ, so ask yours).

The *rim* is what is left between a hole and the edge; the *web* what is left between two holes.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

import shapely

if TYPE_CHECKING:
    from collections.abc import Iterator

    from kinematics.cutting import Hole, Part
    from kinematics.project import Project

SAGITTA = 0.002
"""By how much the polygon that is measured may miss the true edge (mm)."""
SLACK = 1e-6
RIM, RIM_WIDE, WEB, HOLE = 1.5, 1.0, 2.0, 1.0
"""Shops' rules: rim by thicknesses or by the hole's diameters, web and hole by thicknesses."""


@dataclass(frozen=True, slots=True)
class CutFault:
    """One fault of a part.

    kind : "shape" (its `told` says why), "edge crosses", "outside", "rim", "web", "spacing", "cutout", "cutouts",
    "small hole".
    pivots : whose holes.   have, want : mm, None where there is no figure.   is_caution : whether it can be cut so.
    """

    kind: str
    link: str
    pivots: tuple[str, ...] = ()
    have: float | None = None
    want: float | None = None
    is_caution: bool = False
    told: str = ""


def cut_faults(project: Project, part: Part) -> tuple[CutFault, ...]:
    """All of a part's, faults before cautions."""
    outer = shapely.Polygon(part.outer.polyline(SAGITTA))
    found = [*_spacing(project, part), *_webs(part)]
    if outer.is_valid and not outer.is_empty:
        found += [*_rims(part, outer), *_cutouts(part, outer)]
    else:
        found.insert(0, CutFault("edge crosses", part.link))
    found += [
        CutFault("small hole", part.link, (hole.pivot,), hole.diameter, HOLE * part.thickness, is_caution=True)
        for hole in part.holes
        if hole.diameter < HOLE * part.thickness - SLACK
    ]
    return tuple(sorted(found, key=lambda fault: fault.is_caution))


def _spacing(project: Project, part: Part) -> Iterator[CutFault]:
    """Pins of a link that has a width, nearer than the project's least spacing."""
    if not project.links[project.link_index[part.link]].width:
        return
    for one, other in combinations(part.holes, 2):
        apart = abs(other.at - one.at)
        if apart < project.pin_spacing - SLACK:
            yield CutFault("spacing", part.link, (one.pivot, other.pivot), apart, project.pin_spacing)


def _webs(part: Part) -> Iterator[CutFault]:
    """Pin holes too near each other."""
    for one, other in combinations(part.holes, 2):
        left = abs(other.at - one.at) - (one.diameter + other.diameter) / 2.0
        if left < WEB * part.thickness - SLACK:
            pair, least = (one.pivot, other.pivot), part.thickness
            if left < least - SLACK:
                yield CutFault("web", part.link, pair, left, least)
            else:
                yield CutFault("web", part.link, pair, left, WEB * part.thickness, is_caution=True)


def _rims(part: Part, outer: shapely.Polygon) -> Iterator[CutFault]:
    """Pin holes too near the edge, or beyond it."""
    for hole in part.holes:
        left = _rim(hole, outer)
        wanted = min(RIM * part.thickness, RIM_WIDE * hole.diameter)
        if left <= 0.0:
            yield CutFault("outside", part.link, (hole.pivot,), left)
        elif left < min(part.thickness, wanted) - 2 * SAGITTA:
            yield CutFault("rim", part.link, (hole.pivot,), left, min(part.thickness, wanted))
        elif left < wanted - 2 * SAGITTA:
            yield CutFault("rim", part.link, (hole.pivot,), left, wanted, is_caution=True)


def _rim(hole: Hole, outer: shapely.Polygon) -> float:
    """Mm between a hole and the edge; at most 0 where it breaks through."""
    middle = shapely.Point(hole.at.real, hole.at.imag)
    off = float(shapely.distance(middle, outer.exterior))
    return (off if outer.contains(middle) else -off) - hole.diameter / 2.0


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
