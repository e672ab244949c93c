"""Edits of the zones for struts' ends: Project → Project.

They are kept with the loads (`strut_zones`), shut, each on its link. None drawn means the usual ones (`regions`).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from kinematics.errors import ProjectError
from kinematics.loading import with_loads
from kinematics.parts import Zone
from kinematics.struts.regions import default_zones
from kinematics.zoning import flaw

if TYPE_CHECKING:
    from kinematics.project import Point, Project


def strut_zones(project: Project) -> tuple[Zone, ...]:
    """The zones in which ends are looked for: those that were drawn, else the usual ones.

    Where zones were drawn on one link alone, the other end is in the usual one of the fixed link, or of the panel.
    """
    drawn = drawn_zones(project)
    if len({zone.on for zone in drawn}) > 1:
        return drawn
    usual = default_zones(project)
    if not drawn:
        return usual
    other = project.panel.id if drawn[0].on == project.fixed.id else project.fixed.id
    return (*drawn, *(zone for zone in usual if zone.on == other))


def drawn_zones(project: Project) -> tuple[Zone, ...]:
    """The zones that were drawn; empty where there are none."""
    return () if project.loads is None else project.loads.strut_zones


def draw_strut_zone(project: Project, on: str, points: tuple[Point, ...]) -> Project:
    """Draw the zone for struts on a link, in place of those it had.

    ProjectError where the points bound no region.
    """
    why = flaw(tuple(points)) if len(points) > 2 else "has no area"
    if why:
        raise ProjectError(f"a zone that {why} holds no end of a strut", "zone", "Draw its corners one after another.")
    others = tuple(zone for zone in drawn_zones(project) if zone.on != on)
    return with_loads(project, strut_zones=(*others, Zone(on, tuple(points))))


def drop_strut_zones(project: Project, on: str | None = None) -> Project:
    """Take the drawn zones of a link out, or (None) all of them: the usual ones hold again."""
    stay = tuple(zone for zone in drawn_zones(project) if on is not None and zone.on != on)
    return project if stay == drawn_zones(project) else with_loads(project, strut_zones=stay)
