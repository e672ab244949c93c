"""Edits of what the shut panel meets: its latch, seals and bump stops.

Pure functions from one project to the next, as in `kinematics.loading`: what isn't touched is shared, an edit that
changes nothing gives back the project itself, and what can't be is a `ProjectError`. Points are mm, panel shut.

What a new seal or bump stop begins with is to be changed; those figures are common practice, no source. A seal goes all
round the panel, so it begins in the panel's middle, twice as long as the panel's length and width together.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from kinematics.errors import ProjectError
from kinematics.fittings import Cushion, Latch
from kinematics.loading import with_loads
from kinematics.loads import Loads
from kinematics.rear_edge import front_point, rear_point
from kinematics.values import shown

if TYPE_CHECKING:
    from kinematics.project import Point, Project

USUAL_ACROSS = 1200.0
"""Mm of a panel's width that nobody told."""
BARE = 600.0
"""Mm that a panel is taken to be long that nobody drew."""
SEAL_PUSH, SEAL_SQUEEZE = 60.0, 4.0
"""N/m and mm of a new seal …"""
STOP_PUSH, STOP_SQUEEZE, STOPS = 30.0, 3.0, 2
"""… N and mm of each new bump stop, and how many."""


# --------------------------------------------------------------------------------------------------------------- latch
def latch_of(project: Project) -> Latch | None:
    """Give the latch, None without one."""
    return None if project.loads is None else project.loads.latch


def first_striker(project: Project) -> Point:
    """Where a striker is put to begin with: at the panel's foremost point; ahead of the pins where none is drawn."""
    return front_point(project) or (BARE, 0.0)


def put_latch(project: Project, at: Point) -> Project:
    """Put the striker at a place of the panel; a latch that is there keeps its way, and what nobody knows of it."""
    old = latch_of(project)
    on = project.panel.id
    return with_loads(project, latch=Latch(on, at) if old is None else replace(old, on=on, at=at))


def turn_latch(project: Project, way_deg: float) -> Project:
    """Turn the way by which the striker goes in; ProjectError without a latch."""
    old = latch_of(project)
    if old is None:
        raise ProjectError("there is no latch", "", "Say first where the striker is.")
    return with_loads(project, latch=replace(old, way_deg=way_deg))


def remove_latch(project: Project) -> Project:
    """Say no longer where the latch is."""
    return with_loads(project, latch=None)


# ------------------------------------------------------------------------------------------------------------ cushions
def cushions_of(project: Project) -> tuple[Cushion, ...]:
    """Give all seals and bump stops."""
    return () if project.loads is None else project.loads.cushions


def cushion_named(project: Project, id: str) -> Cushion:
    """Give one by its id; ProjectError when there is none."""
    for cushion in cushions_of(project):
        if cushion.id == id:
            return cushion
    raise ProjectError(f"there is no seal or bump stop {shown(id)}")


def add_cushion(project: Project, kind: str) -> Project:
    """Add a seal or a bump stop with usual figures, after those that are there."""
    id = _free_id(project, kind)
    front = first_striker(project)
    if kind == "seal":
        (x, y), length = _middle(project, front)
        across = (None if project.loads is None else project.loads.across) or USUAL_ACROSS
        around = round(2.0 * (length + across))
        made = Cushion(id, "seal", project.panel.id, (x, y), SEAL_SQUEEZE, per_metre=SEAL_PUSH, length=around)
    else:
        made = Cushion(id, "bump stop", project.panel.id, front, STOP_SQUEEZE, force=STOP_PUSH, count=STOPS)
    return with_loads(project, cushions=(*cushions_of(project), made))


def change_cushion(project: Project, id: str, **fields: Any) -> Project:  # noqa: ANN401  any field of a cushion
    """Change some fields of a seal or bump stop."""
    changed = replace(cushion_named(project, id), **fields)
    return with_loads(project, cushions=tuple(changed if each.id == id else each for each in cushions_of(project)))


def remove_cushion(project: Project, id: str) -> Project:
    """Take a seal or bump stop out."""
    cushion_named(project, id)
    return with_loads(project, cushions=tuple(each for each in cushions_of(project) if each.id != id))


def last_added(project: Project) -> str:
    """Give the id of the last of them, "" without any."""
    found = (project.loads or Loads()).cushions
    return found[-1].id if found else ""


def _middle(project: Project, front: Point) -> tuple[Point, float]:
    """The middle between the panel's ends, and how far they are apart."""
    found = rear_point(project)
    x, y = (0.0, 0.0) if found is None else found[0]
    return (round((x + front[0]) / 2, 1), round((y + front[1]) / 2, 1)), math.dist((x, y), front)


def _free_id(project: Project, kind: str) -> str:
    taken, name, number = {each.id for each in cushions_of(project)}, kind, 2
    while name in taken:
        name, number = f"{kind} {number}", number + 1
    return name
