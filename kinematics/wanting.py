"""Edits of what is wanted, as a builder says it: a shut gap, a corner that never goes back, floor and roof, and things
in the way to keep clear of.

Pure functions from one project to the next, as in `kinematics.edits`: what isn't touched is shared, an edit that
changes nothing gives back the project itself, and what can't be is a `ProjectError`. Points are mm, panel shut.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from kinematics import edits
from kinematics.errors import ProjectError
from kinematics.parts import GapWant, Limit, Mark, Outline, ShutWant, Sureness
from kinematics.room import FrontEdge, Room
from kinematics.values import shown

if TYPE_CHECKING:
    from kinematics.project import Project
    from kinematics.values import Point

EVEN = 1.0 / 3.0
"""Share by which a shut gap may differ from the usual one and still look even (common practice, no source)."""


# --------------------------------------------------------------------------------------------------------- shut gaps
def usual_shut(width: float) -> ShutWant:
    """The shut gap to propose: about `width` (mm), and even: within a third of it.

    With 3/16 in that is 1/8 to 1/4 in, which leaves room for rubber strips and paint (common practice, no source).
    """
    if width <= 0.0:
        return ShutWant(at_least=0.0)
    return ShutWant(round(width * (1.0 - EVEN), 6), round(width * (1.0 + EVEN), 6))


def set_shut_gap(
    project: Project, between: tuple[str, str], shut: ShutWant | None, which: int | None = None
) -> Project:
    """Want a shut gap of a pair, or with None no more; what is wanted of it in travel stays.

    A pair that nobody watches yet gets a want of 0 mm in travel.
    which : place in `project.gaps` of the want to change, for a pair with several.
    """
    if which is None:
        which = next((place for place, gap in enumerate(project.gaps) if gap.pairs(*between)), None)
    if which is None:
        return project if shut is None else replace(project, gaps=(*project.gaps, GapWant(between, shut=shut)))
    if not 0 <= which < len(project.gaps):
        raise ProjectError(f"there is no want {which + 1} among {len(project.gaps)}", "gaps")
    old = project.gaps[which]
    if old.shut == shut:
        return project
    gaps = tuple(replace(gap, shut=shut) if gap is old else gap for gap in project.gaps)
    return replace(project, gaps=gaps)


# ----------------------------------------------------------------------------------------------------------- corners
def watch_corner(project: Project, on: str, at: Point, name: str, **limits: float) -> Project:
    """Put a mark on a link, with a limit on how far it may move: sides as in `Limit`, mm.

    A mark of that link that stands there already is taken instead, and keeps its name and what is wanted of it besides.
    """
    mark = corner_at(project, on, at)
    if mark is None:
        mark = Mark(edits.free_id(project, name), on, at)
        project = edits.add_mark(project, mark)
    old = next((limit for limit in project.limits if limit.mark == mark.id), Limit(mark.id))
    return edits.set_limit(project, replace(old, **limits))  # type: ignore[arg-type]  # only its float fields


def corner_at(project: Project, on: str, at: Point) -> Mark | None:
    """Give the mark of a link that stands at a point, if there is one."""
    return next((mark for mark in project.marks if mark.on == on and mark.at == at), None)


# ----------------------------------------------------------------------------------------------------- floor and roof
def set_floor(project: Project, floor: float | None) -> Project:
    """Put the floor at a height (y, mm), or with None take it away, and what is wanted over it too."""
    room = project.room or Room()
    return _with_room(project, replace(room, floor=floor, front_edge=None if floor is None else room.front_edge))


def set_roof(project: Project, roof: float | None) -> Project:
    """Put the roof at a height (y, mm), or with None take it away."""
    return _with_room(project, replace(project.room or Room(), roof=roof))


def set_front_height(project: Project, at_least: float | None) -> Project:
    """Want the front edge so high over the floor (mm) at the largest opening reached, or with None nothing."""
    front = front_of(project)
    return _with_front(project, replace(front, at_least=at_least))


def set_front_mark(project: Project, mark: str | None) -> Project:
    """Take a mark for the front edge, or with None the panel's own foremost point."""
    return _with_front(project, replace(front_of(project), mark=mark))


def front_of(project: Project) -> FrontEdge:
    """Give what is said of the front edge; as much as nothing where nobody said anything."""
    return (project.room.front_edge if project.room is not None else None) or FrontEdge()


def _with_front(project: Project, front: FrontEdge) -> Project:
    kept = front if front.mark is not None or front.at_least is not None or front.unknown else None
    return _with_room(project, replace(project.room or Room(), front_edge=kept))


def _with_room(project: Project, room: Room) -> Project:
    """The project with a room; with one that says nothing it has none."""
    kept = room if room != Room() else None
    return project if kept == project.room else replace(project, room=kept)


# ------------------------------------------------------------------------------------------------ things in the way
def tick_thing(project: Project, name: str, ticked: bool = True) -> Project:
    """Take a thing into the list of those to keep clear of, or out of it; its outline, if it has one, stays."""
    if ticked == (name in project.keep_clear):
        return project
    others = tuple(each for each in project.keep_clear if each != name)
    return replace(project, keep_clear=(*others, name) if ticked else others)


def place_thing(project: Project, name: str, corners: tuple[Point, ...], on: str, at_least: float) -> Project:
    """Draw a thing to keep clear of as a solid of these corners on a link, and watch it against all that passes.

    A thing that is there already gets other corners, and keeps its name, its wants and all else. A new one is watched
    against the panel's outlines and the links that have a width, as far as they ride on other links than it does:
    at_least, mm, is wanted of each. It is ticked in either case.
    """
    if name in project.link_index:
        raise ProjectError("a link has this name", f"thing {shown(name)}", "Give it another name.")
    project = tick_thing(project, name)
    if any(outline.id == name for outline in project.outlines):
        old = project.outline(name)
        return edits.replace_outline(project, name, replace(old, points=corners, closed=True))
    project = edits.add_outline(project, Outline(name, on, corners, closed=True))
    for other in passing(project, on):
        project = edits.set_gap(project, (name, other), at_least)
    return project


def watch_links(project: Project, at_least: float) -> Project:
    """Watch every link that has a width against every outline of the fixed link: at_least, mm, is wanted of each pair.

    A pair that is watched already keeps what is wanted of it.
    """
    watched = {frozenset(gap.between) for gap in project.gaps}
    fixed = project.fixed.id
    bands = [link.id for link in project.links if link.kind != "fixed" and link.width > 0.0]
    pairs = [(outline.id, band) for band in bands for outline in project.outlines if outline.on == fixed]
    new = tuple(GapWant(pair, at_least) for pair in pairs if frozenset(pair) not in watched)
    return replace(project, gaps=(*project.gaps, *new)) if new else project


def passing(project: Project, on: str) -> tuple[str, ...]:
    """Give what may pass a thing on a link: outlines of the panel, and links that have a width."""
    panel = project.panel.id
    outlines = [outline.id for outline in project.outlines if outline.on == panel != on]
    return (
        *outlines,
        *(link.id for link in project.links if link.kind == "link" and link.width > 0.0 and link.id != on),
    )


def watch_all_round(project: Project, thing: str, at_least: float, panel_alone: bool = False) -> Project:
    """Want so large a gap (mm), from shut on, between an outline of the fixed link and all that moves past it.

    What moves past: every outline that rides on another link, and the links that have a width; with panel_alone the
    panel's outlines. A pair of which as much is wanted already stays as it is, a want that asks for less is raised, one
    that holds only from some opening on stays beside the new one. Outlines of two stations don't meet: no want of them.
    """
    for other in _moving(project, thing, panel_alone):
        of_pair = [(place, gap) for place, gap in enumerate(project.gaps) if gap.pairs(thing, other)]
        if any(gap.at_least >= at_least and gap.after_deg <= 0.0 for _, gap in of_pair):
            continue
        lax = next((place for place, gap in of_pair if gap.after_deg <= 0.0), None)
        if lax is not None:
            project = edits.set_gap(project, (thing, other), at_least, which=lax)
        else:
            project = replace(project, gaps=(*project.gaps, GapWant((thing, other), at_least)))
    return project


def _moving(project: Project, thing: str, panel_alone: bool) -> tuple[str, ...]:
    """Give what moves past an outline of the fixed link and can be watched against it."""
    station, fixed, panel = project.outline(thing).station, project.fixed.id, project.panel.id
    outlines = [
        outline.id
        for outline in project.outlines
        if (outline.on == panel if panel_alone else outline.on != fixed)
        and (not station or not outline.station or outline.station == station)
    ]
    bands = [link.id for link in project.links if link.kind == "link" and link.width > 0.0 and not panel_alone]
    return (*outlines, *bands)


def box(one: Point, other: Point) -> tuple[Point, ...]:
    """Give the corners of the upright box between two of its corners; ProjectError where it has no area."""
    left, right = sorted((one[0], other[0]))
    low, high = sorted((one[1], other[1]))
    if right - left < 1e-6 or high - low < 1e-6:
        raise ProjectError("a box needs a width and a height", "box", "Drag from one corner to the opposite one.")
    return (left, low), (right, low), (right, high), (left, high)


def is_placed(project: Project, name: str) -> bool:
    """Tell whether a thing to keep clear of is drawn."""
    return any(outline.id == name for outline in project.outlines)


# ------------------------------------------------------------------------------------------------------------ sureness
def set_sureness(project: Project, holes: float | None = None, play: float | None = None) -> Project:
    """Say how far each hole may be off (mm) and how much play each pin has (mm); what is not given stays.

    With both 0 nothing is said, and every figure is taken as drawn.
    """
    old = project.sureness or Sureness()
    new = replace(old, holes=old.holes if holes is None else holes, play=old.play if play is None else play)
    kept = new if new.holes > 0.0 or new.play > 0.0 or new.unknown else None
    return project if kept == project.sureness else replace(project, sureness=kept)
