"""Edits of what holds the panel open: the prop, the stop, the gust and the panel's width.

Pure functions from one project to the next, as in `kinematics.loading`. A prop has two ends: number 0 is the one that
it hangs by, 1 its seat.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from kinematics.errors import ProjectError
from kinematics.fittings import Prop, Stop
from kinematics.loading import with_loads
from kinematics.loads import LiftWants, Loads, WorstCase

if TYPE_CHECKING:
    from kinematics.parts import Attachment
    from kinematics.project import Point, Project

PAST = 2.0
"""Deg past the prop, or the wanted opening, at which a new stop lies (common practice, no source)."""
ARM = 30.0
"""Mm from the pivot at which its faces meet, to begin with."""
HALF_TURN_DEG = 180.0
"""No opening is larger."""


# ---------------------------------------------------------------------------------------------------------------- prop
def put_prop(project: Project, hangs: Attachment, seat: Attachment, at_deg: float) -> Project:
    """Say that a prop hangs there and is set into that seat at an opening (deg); in place of the one that was."""
    old = _loads(project).prop_rod
    new = Prop(hangs, seat, at_deg)
    return with_loads(
        project, prop_rod=new if old is None else replace(old, from_end=hangs, to_end=seat, at_deg=at_deg)
    )


def prop_of(project: Project) -> Prop:
    """Give the prop; ProjectError when there is none."""
    prop = _loads(project).prop_rod
    if prop is None:
        raise ProjectError("there is no prop")
    return prop


def set_prop_opening(project: Project, at_deg: float) -> Project:
    """Say at which opening (deg) it is set."""
    return with_loads(project, prop_rod=replace(prop_of(project), at_deg=at_deg))


def prop_end(project: Project, number: int) -> Attachment:
    """Give an end: 0 is the one that it hangs by, 1 its seat."""
    prop = prop_of(project)
    return prop.to_end if number else prop.from_end


def move_prop_end(project: Project, number: int, at: Point, on: str | None = None) -> Project:
    """Put an end at another place (mm, shut), perhaps on another link."""
    prop, old = prop_of(project), prop_end(project, number)
    new = replace(old, at=at, on=old.on if on is None else on)
    moved = replace(prop, to_end=new) if number else replace(prop, from_end=new)
    return with_loads(project, prop_rod=moved)


def turn_prop_round(project: Project) -> Project:
    """Let it hang by its seat, and sit where it hung."""
    prop = prop_of(project)
    return with_loads(project, prop_rod=replace(prop, from_end=prop.to_end, to_end=prop.from_end))


def remove_prop(project: Project) -> Project:
    """Take the prop out."""
    return with_loads(project, prop_rod=None)


# ---------------------------------------------------------------------------------------------------------------- stop
def joined_pairs(project: Project) -> tuple[tuple[str, str], ...]:
    """Give the pairs of links that a pivot joins, each once, in the order of the pivots."""
    found: dict[tuple[str, str], None] = {}
    for pivot in project.pivots:
        for k, first in enumerate(pivot.joins):
            for second in pivot.joins[k + 1 :]:
                if (second, first) not in found:
                    found[first, second] = None
    return tuple(found)


def add_stop(project: Project) -> Project:
    """Add a stop of the first pair of links that a pivot joins, a little past the prop and the wanted opening."""
    pairs = joined_pairs(project)
    if not pairs:
        raise ProjectError("no pivot joins two links yet", "stop", "Add a pivot first.")
    fixed = project.fixed.id
    pair = next((pair for pair in pairs if fixed in pair), pairs[0])
    prop = _loads(project).prop_rod
    past = max(project.travel.wanted_deg, 0.0 if prop is None else prop.at_deg) + PAST
    return with_loads(project, stop=Stop(pair, min(past, HALF_TURN_DEG), ARM))


def stop_of(project: Project) -> Stop:
    """Give the stop; ProjectError when there is none."""
    stop = _loads(project).stop
    if stop is None:
        raise ProjectError("there is no stop")
    return stop


def change_stop(project: Project, **fields: Any) -> Project:  # noqa: ANN401  any field of a stop
    """Change some fields of the stop: `between`, `at_deg` (deg), `arm` (mm)."""
    return with_loads(project, stop=replace(stop_of(project), **fields))


def remove_stop(project: Project) -> Project:
    """Take the stop out."""
    return with_loads(project, stop=None)


# ---------------------------------------------------------------------------------------------------------------- gust
def wind_of(project: Project) -> float:
    """Give the speed (m/s) of the gust in which the panel is to stay open, 0 where none is asked for."""
    wants = _loads(project).wants
    return 0.0 if wants is None or wants.stays_open_in is None else wants.stays_open_in.wind


def set_wind(project: Project, speed: float) -> Project:
    """Want the panel to stay open in a gust (m/s), besides all else of the worst case; with 0 in none."""
    wants = _loads(project).wants or LiftWants()
    case = replace(wants.stays_open_in or WorstCase(), wind=speed)
    new = replace(wants, stays_open_in=None if case == WorstCase() else case)
    return with_loads(project, wants=None if new == LiftWants() else new)


def _loads(project: Project) -> Loads:
    return project.loads or Loads()
