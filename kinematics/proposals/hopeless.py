"""What no hinge can do, said before a search begins, and what would have to give.

At shut the panel stands where it was drawn, so what a want asks of shut holds or doesn't, whatever the links. Limits
that cross each other, zones without area, and pins that are all locked leave nothing to find either. Each is an error
that isn't raised but handed over, as there may be several.
"""

from __future__ import annotations

from itertools import permutations
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics.arrays import as_complex
from kinematics.errors import ProjectError
from kinematics.project import entry
from kinematics.proposals.chains import FIXED, FOUR_BAR, PANEL, SINGLE_PIVOT, SIX_BARS
from kinematics.values import shown

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

    from kinematics.errors import HingewrightError
    from kinematics.project import GapWant, Limit, Outline, Pivot, Project, Zone
    from kinematics.proposals.chains import Chain
    from kinematics.proposals.results import Settings

LEAST_AREA = 1.0
"""mm²: a zone that encloses less has no room for a pin."""


def cannot(project: Project, settings: Settings) -> tuple[HingewrightError, ...]:
    """Why a search can find nothing; empty where it may."""
    return (*_gaps(project), *_limits(project), *_roof(project), *_zones(project), *_locked(project, settings))


# ---------------------------------------------------------------------------------------------------------------- gaps
def _gaps(project: Project) -> list[ProjectError]:
    outlines = {outline.id: outline for outline in project.outlines}
    ends = {project.fixed.id, project.panel.id}
    found = []
    for place, want in enumerate(project.gaps):
        pair = [outlines.get(name) for name in want.between]
        if pair[0] is not None and pair[1] is not None and {pair[0].on, pair[1].on} == ends:
            found += _gap(want, pair[0], pair[1], entry("gaps", place))
    return found


def _gap(want: GapWant, one: Outline, other: Outline, where: str) -> list[ProjectError]:
    apart = float(shapely.distance(_shape(one), _shape(other))) - one.half_width - other.half_width
    low = max(apart, 0.0) - one.uncertain - other.uncertain
    names = f"{shown(one.id)} and {shown(other.id)}"
    found = []
    if want.after_deg <= 0.0 and want.at_least > 0.0 and low < want.at_least - 1e-9:
        have = "touch or cross" if apart <= 0.0 else f"are {low:.2f} mm apart"
        what = f"{names} {have} when shut, where {want.at_least:g} mm is wanted; no hinge changes that"
        found.append(ProjectError(what, where, "Want less, or from a later opening on, or correct an outline."))
    if want.shut is not None:
        least, most = want.shut.at_least or 0.0, want.shut.at_most
        high = apart + one.uncertain + other.uncertain
        if low < least - 1e-9 or low <= 0.0 or (most is not None and high > most + 1e-9):
            what = f"the shut gap of {names} isn't as wanted; no hinge changes that"
            found.append(ProjectError(what, where, "Correct an outline, or want another shut gap."))
    return found


def _shape(outline: Outline) -> BaseGeometry:
    points = np.array(outline.points, dtype=np.float64)
    if not outline.closed:
        return shapely.LineString(points)
    ring = shapely.Polygon(points)
    return ring if ring.is_valid else shapely.make_valid(ring)


# -------------------------------------------------------------------------------------------------------------- limits
def _limits(project: Project) -> list[ProjectError]:
    """Limits on marks of what stays; those on other links go with them."""
    rides = {mark.id: mark.on for mark in project.marks}
    ends = (project.fixed.id, project.panel.id)
    limits = [(place, limit) for place, limit in enumerate(project.limits) if rides[limit.mark] in ends]
    found = []
    for place, limit in limits:
        if rides[limit.mark] == project.panel.id:
            found += _at_shut(limit, entry("limits", place))
        found += _crossed(limit, limit)
    for (_, one), (_, other) in permutations(limits, 2):
        if one.mark == other.mark:
            found += _crossed(one, other)
    return _once(found)


def _once(errors: list[ProjectError]) -> list[ProjectError]:
    """Each sentence the first time it comes."""
    return list({str(error): error for error in errors}.values())


def _at_shut(limit: Limit, where: str) -> list[ProjectError]:
    """A mark that must have moved before it could."""
    sides = (limit.dx_at_least, limit.dy_at_least, *(-x for x in (limit.dx_at_most, limit.dy_at_most) if x is not None))
    if limit.after_deg > 0.0 or all(side is None or side <= 1e-9 for side in sides):
        return []
    what = f"{shown(limit.mark)} is wanted to have moved at shut already, where nothing has"
    return [ProjectError(what, where, "Want it from a later opening on.")]


def _crossed(one: Limit, other: Limit) -> list[ProjectError]:
    found = []
    for axis in ("dx", "dy"):
        least, most = getattr(one, f"{axis}_at_least"), getattr(other, f"{axis}_at_most")
        if least is not None and most is not None and least > most:
            what = f"{shown(one.mark)} is wanted to move at least {least:g} mm and at most {most:g} mm ({axis})"
            found.append(ProjectError(what, "limits", "Give one of the two up."))
    return found


def _roof(project: Project) -> list[ProjectError]:
    """A panel that stands above the roof when shut."""
    points = [p for outline in project.outlines if outline.on == project.panel.id for p in outline.points]
    roof = None if project.room is None else project.room.roof
    highest = max((p[1] for p in points), default=-np.inf)
    if roof is None or highest <= roof + 1e-9:
        return []
    what = f"the panel reaches {highest - roof:.1f} mm above the roof when shut"
    return [ProjectError(what, "room", "Raise the roof, or correct an outline.")]


# ------------------------------------------------------------------------------------------------------ zones and pins
def sound_zones(project: Project, link: str) -> list[Zone]:
    """Zones of a link in which a pin can stand at all."""
    rings = [(zone, shapely.Polygon(zone.points)) for zone in project.zones if zone.on == link]
    return [zone for zone, ring in rings if ring.is_valid and ring.area >= LEAST_AREA]


def _zones(project: Project) -> list[ProjectError]:
    """Zones of what stays, where none of a link's has room."""
    found = []
    for link in (project.fixed.id, project.panel.id):
        if not sound_zones(project, link):
            what = f"the zone on {shown(link)} encloses no area that a pin could stand in"
            remedy = "Draw it again, without crossing its own edge."
            places = [place for place, zone in enumerate(project.zones) if zone.on == link]
            found += [ProjectError(what, entry("zones", place), remedy) for place in places]
    return found


def _locked(project: Project, settings: Settings) -> list[ProjectError]:
    chains = [chain for chain in (SINGLE_PIVOT, FOUR_BAR, *SIX_BARS) if chain.kind in settings.kinds]
    if _nothing_free(project, chains):
        what = "every pin is locked, so there is nothing to choose"
        return [ProjectError(what, "pivots", "Unlock those that may move.")]
    found = []
    for number, link in ((FIXED, project.fixed.id), (PANEL, project.panel.id)):
        locked = _locked_on(project, number)
        most = max((len(chain.on(number)) for chain in chains), default=0)
        if len(locked) > most:
            what = (
                f"{len(locked)} pins on {shown(link)} are locked, and no linkage asked for has more than {most} there"
            )
            found.append(ProjectError(what, "pivots", "Unlock some, or ask for more kinds."))
        found += _out_of_zone(project, link, [(pivot.id, pivot.at) for pivot in locked])
    most = max((len(chain.between) for chain in chains), default=0)
    between = _locked_between(project)
    if len(between) > most:
        pins = "1 pin between links is" if len(between) == 1 else f"{len(between)} pins between links are"
        what = f"{pins} locked, and no linkage asked for has more than {most} there"
        found.append(ProjectError(what, "pivots", "Unlock some, or ask for more kinds."))
    return found


def _locked_on(project: Project, number: int) -> list[Pivot]:
    """Locked pins of the fixed link or of the panel."""
    link = project.fixed.id if number == FIXED else project.panel.id
    return [pivot for pivot in project.pivots if pivot.locked and link in pivot.joins]


def _nothing_free(project: Project, chains: list[Chain]) -> bool:
    """Whether all pins are locked and nothing that is asked for would have another one."""
    if not project.pivots or not all(pivot.locked for pivot in project.pivots):
        return False
    holding = [
        chain
        for chain in chains
        if all(len(_locked_on(project, k)) <= len(chain.on(k)) for k in (FIXED, PANEL))
        and len(_locked_between(project)) <= len(chain.between)
    ]
    return bool(holding) and all(len(chain.pins) <= len(project.pivots) for chain in holding)


def _locked_between(project: Project) -> list[Pivot]:
    """Locked pins of links that are neither the fixed one nor the panel."""
    ends = {project.fixed.id, project.panel.id}
    return [pivot for pivot in project.pivots if pivot.locked and not ends & set(pivot.joins)]


def _out_of_zone(project: Project, link: str, pins: list[tuple[str, tuple[float, float]]]) -> list[ProjectError]:
    sound = [shapely.Polygon(zone.points) for zone in sound_zones(project, link)]
    places = as_complex(at for _, at in pins)
    return [
        ProjectError(f"the locked pin {shown(name)} stands outside the zones of {shown(link)}", "pivots", "Unlock it.")
        for (name, _), at in zip(pins, places, strict=True)
        if sound and not any(zone.distance(shapely.Point(at.real, at.imag)) < 1e-9 for zone in sound)
    ]
