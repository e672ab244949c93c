"""Edits: every change a builder can make, as a function from one project to the next.

None of them changes what it is given. What an edit doesn't touch is shared with the project before, as the very same
object, so `new.outlines is old.outlines` tells truly that no outline changed; an edit that changes nothing gives back
the project itself. New names are carried to every place that names the thing; what named a removed thing goes with it.

All raise a `ProjectError` when the result would not be a sound project, and when they are asked for what isn't there.
Points are mm, panel shut.
"""

from __future__ import annotations

from dataclasses import replace
from operator import is_
from typing import TYPE_CHECKING, Any, TypeVar

from kinematics import measures, strength_parts
from kinematics.built import among, followed, renamed
from kinematics.errors import ProjectError
from kinematics.loaded import carried, kept_on, outline_renamed
from kinematics.made_parts import made_among, made_renamed
from kinematics.parts import GapWant
from kinematics.pictures import Picture
from kinematics.project import anchored
from kinematics.values import shown

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from kinematics.project import Limit, Link, Mark, Measure, Outline, Pivot, Point, Project
    from kinematics.room import Room

Part = TypeVar("Part")


# ------------------------------------------------------------------------------------------------------------ pivots
def move_pivot(project: Project, id: str, at: Point) -> Project:
    """Put a pivot at another place; what is cut out of its links' plates follows."""
    old = project.pivot(id)
    new = replace(old, at=at)
    if new == old:
        return project
    pivots = _swapped(project.pivots, old, new)
    return replace(project, pivots=pivots, plates=followed(project.plates, project.pivots, pivots))


def add_pivot(project: Project, pivot: Pivot) -> Project:
    """Add a pivot, after those that are there."""
    return replace(project, pivots=(*project.pivots, pivot))


def remove_pivot(project: Project, id: str) -> Project:
    """Take a pivot out; the links it joined stay."""
    return _cut(project, pivots=_without(project.pivots, project.pivot(id)))


def rename_pivot(project: Project, id: str, new_id: str) -> Project:
    """Give a pivot another name, in the measures too."""
    pivot = project.pivot(id)
    if new_id == id:
        return project
    pivots = _swapped(project.pivots, pivot, replace(pivot, id=new_id))
    named = measures.renamed(project.measures, "pivot", id, new_id)
    strength = strength_parts.pivot_renamed(project.strength, id, new_id)
    built = renamed(project.plates, project.stack, "pivot", id, new_id)
    built["as_made"] = made_renamed(project.as_made, "pivot", id, new_id)
    return replace(project, pivots=pivots, measures=named, strength=strength, **built)


def rejoin_pivot(project: Project, id: str, joins: Iterable[str]) -> Project:
    """Let a pivot join other links."""
    return _swap(project, "pivots", project.pivot(id), joins=tuple(joins))


def lock_pivot(project: Project, id: str, locked: bool = True) -> Project:
    """Lock a pivot, or free it."""
    return _swap(project, "pivots", project.pivot(id), locked=locked)


# ------------------------------------------------------------------------------------------------------------- links
def add_link(project: Project, link: Link) -> Project:
    """Add a link, joined to nothing yet."""
    return replace(project, links=(*project.links, link))


def set_width(project: Project, id: str, width: float) -> Project:
    """Make a link a band of this width (mm), or with 0 a bare line that is not watched."""
    return _swap(project, "links", project.link(id), width=width)


def set_kind(project: Project, id: str, kind: str) -> Project:
    """Make a link the fixed link or the panel; the link that was it until now takes over this one's kind.

    Raises ProjectError for making the fixed link or the panel an ordinary link: say which other link is it instead.
    """
    link = project.link(id)
    if kind == link.kind:
        return project
    if kind == "link":
        word = "fixed link" if link.kind == "fixed" else "panel"
        raise ProjectError(f"{shown(id)} is the {word}, and one link must be", remedy=f"Make another link the {word}.")
    former = project.fixed if kind == "fixed" else project.panel
    links = _swapped(project.links, former, replace(former, kind=link.kind))
    return replace(project, links=_swapped(links, link, replace(link, kind=kind)))  # type: ignore[arg-type]


def rename_link(project: Project, id: str, new_id: str) -> Project:
    """Give a link another name, wherever it is named."""
    link = project.link(id)

    def carry(part: Any) -> Any:  # noqa: ANN401  any part that rides on a link
        return replace(part, on=new_id) if part.on == id else part

    def carry_photo(picture: Any) -> Any:  # noqa: ANN401  a picture, or what a file carried in its place
        return carry(picture) if isinstance(picture, Picture) else picture

    def rejoin(pivot: Pivot) -> Pivot:
        joins = _renamed(pivot.joins, id, new_id)
        return pivot if joins is pivot.joins else replace(pivot, joins=joins)

    if new_id == id:
        return project
    return replace(
        project,
        links=_swapped(project.links, link, replace(link, id=new_id)),
        pivots=_mapped(project.pivots, rejoin),
        outlines=_mapped(project.outlines, carry),
        marks=_mapped(project.marks, carry),
        zones=_mapped(project.zones, carry),
        gaps=_gaps_renamed(project, id, new_id),
        measures=measures.renamed(project.measures, "link", id, new_id),
        pictures=_mapped(project.pictures, carry_photo),
        loads=carried(project.loads, carry, lambda name: new_id if name == id else name),
        strength=strength_parts.link_renamed(project.strength, id, new_id),
        as_made=made_renamed(project.as_made, "link", id, new_id),
        **renamed(project.plates, project.stack, "link", id, new_id),
    )


def remove_link(project: Project, id: str) -> Project:
    """Take a link out with all that rides on it; a pivot that joined it and one other goes too.

    The fixed link and the panel stay: ProjectError.
    """
    link = project.link(id)
    if link.kind != "link":
        name = "fixed link" if link.kind == "fixed" else "panel"
        raise ProjectError(f"this is the {name}, and there is no hinge without it", f"link {shown(id)}")
    riding = {outline.id for outline in project.outlines if outline.on == id} | {id}
    riding |= _devices_on(project, id)
    marks = _kept(project.marks, lambda mark: mark.on != id)
    mark_ids = {mark.id for mark in marks}
    return _cut(
        project,
        links=_without(project.links, link),
        pivots=_unjoined(project.pivots, id),
        outlines=_kept(project.outlines, lambda outline: outline.on != id),
        marks=marks,
        limits=_kept(project.limits, lambda limit: limit.mark in mark_ids),
        zones=_kept(project.zones, lambda zone: zone.on != id),
        gaps=_kept(project.gaps, lambda gap: riding.isdisjoint(gap.between)),
        pictures=_kept(project.pictures, lambda picture: not isinstance(picture, Picture) or picture.on != id),
        loads=kept_on(project.loads, lambda name: name != id),
    )


def _devices_on(project: Project, link_id: str) -> set[str]:
    """Ids of the devices that are pinned to a link, but for those that gap wants can't mean: an outline or a link has
    the name too.
    """
    others = {part.id for parts in (project.links, project.outlines) for part in parts}
    devices = () if project.loads is None else project.loads.devices
    return {each.id for each in devices if link_id in (each.from_end.on, each.to_end.on)} - others


def _unjoined(pivots: tuple[Pivot, ...], link_id: str) -> tuple[Pivot, ...]:
    """The pivots as they are once a link is gone."""

    def let_go(pivot: Pivot) -> Pivot:
        if link_id not in pivot.joins:
            return pivot
        return replace(pivot, joins=tuple(name for name in pivot.joins if name != link_id))

    return _mapped(_kept(pivots, lambda pivot: len(pivot.joins) > 2 or link_id not in pivot.joins), let_go)


# ---------------------------------------------------------------------------------------------------------- outlines
def add_outline(project: Project, outline: Outline) -> Project:
    """Add an outline, after those that are there."""
    return replace(project, outlines=(*project.outlines, outline))


def remove_outline(project: Project, id: str) -> Project:
    """Take an outline out, and every gap want and measure that names it."""
    outlines = _without(project.outlines, project.outline(id))
    return _cut(
        project,
        outlines=outlines,
        gaps=_kept(project.gaps, lambda gap: id not in gap.between),
        loads=outline_renamed(project.loads, id, None),
    )


def rename_outline(project: Project, id: str, new_id: str) -> Project:
    """Give an outline another name, in the gap wants too."""
    return replace_outline(project, id, replace(project.outline(id), id=new_id))


def replace_outline(project: Project, id: str, outline: Outline) -> Project:
    """Put an outline in the place of another; gap wants and measures follow its name.

    Measures of a point that it doesn't have any more go.
    """
    old = project.outline(id)
    if outline == old:
        return project
    return _cut(
        project,
        outlines=_swapped(project.outlines, old, outline),
        gaps=_gaps_renamed(project, id, outline.id),
        measures=measures.renamed(project.measures, "outline", id, outline.id),
        keep_clear=_things_renamed(project.keep_clear, id, outline.id),
        loads=outline_renamed(project.loads, id, outline.id),
    )


def _things_renamed(names: tuple[str, ...], id: str, new_id: str) -> tuple[str, ...]:
    """Things to keep clear of, once one has another name, perhaps that of a thing still to be drawn."""
    renamed = _renamed(names, id, new_id)
    return names if renamed is names else tuple(dict.fromkeys(renamed))


def move_outline_point(project: Project, id: str, place: int, at: Point) -> Project:
    """Put one point of an outline elsewhere; `place` counts from 0."""
    points = _point_list(project, id, place)
    points[place] = at
    return _with_points(project, id, points)


def insert_outline_point(project: Project, id: str, place: int, at: Point) -> Project:
    """Insert a point, so that it becomes the outline's point number `place` (from 0; their number: at the end)."""
    points = _point_list(project, id, place, one_more=True)
    points.insert(place, at)
    return _with_points(project, id, points, measures=measures.shifted(project.measures, id, place, 1))


def delete_outline_point(project: Project, id: str, place: int) -> Project:
    """Take one point out, with the measures of it; ProjectError when too few would be left."""
    points = _point_list(project, id, place)
    del points[place]
    others = measures.surviving(project.measures, lambda anchor: (anchor.outline, anchor.point) != (id, place))
    return _with_points(project, id, points, measures=measures.shifted(others, id, place, -1))


def close_outline(project: Project, id: str, closed: bool = True) -> Project:
    """Make an outline a solid, or a line again."""
    return _swap(project, "outlines", project.outline(id), closed=closed)


def ride_outline(project: Project, id: str, on: str) -> Project:
    """Let an outline ride on another link; ProjectError when a watched pair would come to ride on one link."""
    return _swap(project, "outlines", project.outline(id), on=on)


def _point_list(project: Project, id: str, place: int, one_more: bool = False) -> list[Point]:
    points = list(project.outline(id).points)
    if not 0 <= place < len(points) + one_more:
        raise ProjectError(f"there is no point {place + 1} among {len(points)}", f"outline {shown(id)}")
    return points


def _with_points(project: Project, id: str, points: list[Point], **lists: Any) -> Project:  # noqa: ANN401  lists
    old = project.outline(id)
    new = replace(old, points=tuple(points))
    return project if new == old else replace(project, outlines=_swapped(project.outlines, old, new), **lists)


# --------------------------------------------------------------------------------------------------------- gap wants
def set_gap(
    project: Project, between: tuple[str, str], at_least: float, after_deg: float = 0.0, which: int | None = None
) -> Project:
    """Want a gap of a pair: at least so many mm from the opening `after_deg` on.

    A want that watches the pair already, in either order, is changed in its place; else a new one is added at the end.
    which : place in `project.gaps` of the want to change, for a pair with several, or to change a want's pair.
    """
    if which is None:
        which = next((place for place, gap in enumerate(project.gaps) if gap.pairs(*between)), None)
    if which is None:
        return replace(project, gaps=(*project.gaps, GapWant(between, at_least, after_deg)))
    old = _at(project.gaps, which, "gaps")
    if old.pairs(*between):
        between = old.between  # the order that the builder gave first stays
    return _swap(project, "gaps", old, between=between, at_least=at_least, after_deg=after_deg)


def remove_gap(project: Project, between: tuple[str, str], which: int | None = None) -> Project:
    """Watch a pair no more: all its wants go, or only the one at the place `which` in `project.gaps`."""
    if which is not None:
        _at(project.gaps, which, "gaps")
        return replace(project, gaps=project.gaps[:which] + project.gaps[which + 1 :])
    gaps = _kept(project.gaps, lambda gap: not gap.pairs(*between))
    return project if gaps is project.gaps else replace(project, gaps=gaps)


def _gaps_renamed(project: Project, id: str, new_id: str) -> tuple[GapWant, ...]:
    def follow(gap: GapWant) -> GapWant:
        between = _renamed(gap.between, id, new_id)
        return gap if between is gap.between else replace(gap, between=between)

    return _mapped(project.gaps, follow)


# -------------------------------------------------------------------------------------------------- marks and limits
def add_mark(project: Project, mark: Mark) -> Project:
    """Add a mark, after those that are there."""
    return replace(project, marks=(*project.marks, mark))


def move_mark(project: Project, id: str, at: Point) -> Project:
    """Put a mark at another place on its link."""
    return _swap(project, "marks", project.mark(id), at=at)


def ride_mark(project: Project, id: str, on: str) -> Project:
    """Let a mark ride on another link."""
    return _swap(project, "marks", project.mark(id), on=on)


def rename_mark(project: Project, id: str, new_id: str) -> Project:
    """Give a mark another name, in the limits, the measures and the room too."""
    mark = project.mark(id)
    if new_id == id:
        return project

    def follow(limit: Limit) -> Limit:
        return replace(limit, mark=new_id) if limit.mark == id else limit

    return replace(
        project,
        marks=_swapped(project.marks, mark, replace(mark, id=new_id)),
        limits=_mapped(project.limits, follow),
        measures=measures.renamed(project.measures, "mark", id, new_id),
        room=_room_renamed(project.room, id, new_id),
    )


def _room_renamed(room: Room | None, mark: str, new_mark: str) -> Room | None:
    front = room.front_edge if room is not None else None
    if room is None or front is None or front.mark != mark:
        return room
    return replace(room, front_edge=replace(front, mark=new_mark))


def remove_mark(project: Project, id: str) -> Project:
    """Take a mark out, and every limit and measure on it, and what is wanted of it as the front edge."""
    marks = _without(project.marks, project.mark(id))
    return _cut(project, marks=marks, limits=_kept(project.limits, lambda limit: limit.mark != id))


def set_limit(project: Project, limit: Limit, which: int | None = None) -> Project:
    """Want how far a mark moves: in the place of the first limit on this mark, else as a new one at the end.

    which : place in `project.limits` of the one to replace, for a mark with several limits.
    """
    if which is None:
        which = next((place for place, old in enumerate(project.limits) if old.mark == limit.mark), None)
    if which is None:
        return replace(project, limits=(*project.limits, limit))
    old = _at(project.limits, which, "limits")
    return project if limit == old else replace(project, limits=_swapped(project.limits, old, limit))


def remove_limit(project: Project, mark: str, which: int | None = None) -> Project:
    """Want nothing of a mark: all its limits go, or only the one at the place `which` in `project.limits`."""
    if which is not None:
        _at(project.limits, which, "limits")
        return replace(project, limits=project.limits[:which] + project.limits[which + 1 :])
    limits = _kept(project.limits, lambda limit: limit.mark != mark)
    return project if limits is project.limits else replace(project, limits=limits)


# ---------------------------------------------------------------------------------------------------------- measures
def add_measure(project: Project, measure: Measure) -> Project:
    """Leave a measure on the board."""
    return replace(project, measures=(*project.measures, measure))


def rename_measure(project: Project, id: str, new_id: str) -> Project:
    """Give a measure another name."""
    return _swap(project, "measures", project.measure(id), id=new_id)


def remove_measure(project: Project, id: str) -> Project:
    """Take a measure off the board; what it measures stays."""
    return replace(project, measures=_without(project.measures, project.measure(id)))


# ------------------------------------------------------------------------------------------------- the whole project
def set_travel(project: Project, opens: str | None = None, wanted_deg: float | None = None) -> Project:
    """Set which way the panel opens, or the wanted opening, or both; what is not given stays."""
    old = project.travel
    opens = old.opens if opens is None else opens
    new = replace(old, opens=opens, wanted_deg=old.wanted_deg if wanted_deg is None else wanted_deg)  # type: ignore[arg-type]
    return project if new == old else replace(project, travel=new)


def set_units(project: Project, units: str) -> Project:
    """Show and type lengths in "mm" or "in"; the project itself is mm always."""
    return _set(project, display_units=units)


def set_title(project: Project, title: str) -> Project:
    """Give the project its title."""
    return _set(project, title=title)


def set_notes(project: Project, notes: str) -> Project:
    """Replace the notes."""
    return _set(project, notes=notes)


def set_pin_spacing(project: Project, pin_spacing: float) -> Project:
    """Set the least distance (mm) wanted between two pins of a link that has a width."""
    return _set(project, pin_spacing=pin_spacing)


def set_transmission(project: Project, at_least: float | None) -> Project:
    """Set the least transmission angle (deg) wanted of any link over the travel, or with None want none."""
    return _set(project, transmission_at_least=at_least)


def free_id(project: Project, stem: str) -> str:
    """Give a name that no link, pivot, outline or mark has: the stem itself, else "stem 2", "stem 3", …"""
    taken = {part.id for parts in (project.links, project.pivots, project.outlines, project.marks) for part in parts}
    name, number = stem, 2
    while name in taken:
        name, number = f"{stem} {number}", number + 1
    return name


# ----------------------------------------------------------------------------- tuples that keep what doesn't change
def _set(project: Project, **fields: Any) -> Project:  # noqa: ANN401  values of any field
    same = all(getattr(project, name) == value for name, value in fields.items())
    return project if same else replace(project, **fields)


def _cut(project: Project, **lists: Any) -> Project:  # noqa: ANN401  lists of parts
    """The project with other lists of parts; measures, a front edge, and joints of what isn't there any more go."""
    parts = {name: lists.get(name, getattr(project, name)) for name in ("links", "pivots", "outlines", "marks")}
    left = lists.get("measures", project.measures)
    lists["measures"] = measures.surviving(left, anchored(**parts)) if left else left
    pins, bodies = (tuple(part.id for part in parts[name]) for name in ("pivots", "links"))
    lists["strength"] = strength_parts.among(project.strength, pins, bodies)
    links, pivots = ({part.id for part in parts[name]} for name in ("links", "pivots"))
    lists |= among(project.plates, project.stack, links, pivots)
    lists["as_made"] = made_among(project.as_made, links, pivots)
    lists["room"] = _room_among(project.room, {mark.id for mark in parts["marks"]})
    return replace(project, **lists)


def _room_among(room: Room | None, marks: set[str]) -> Room | None:
    """The room where there are these marks: without a front edge that names none of them."""
    mark = room.front_edge.mark if room is not None and room.front_edge is not None else None
    return room if room is None or mark is None or mark in marks else replace(room, front_edge=None)


def _swap(project: Project, list_name: str, old: Any, **fields: Any) -> Project:  # noqa: ANN401  any part, any field
    """The project with some fields of one part changed; itself when nothing changes."""
    new = replace(old, **fields)
    if new == old:
        return project
    parts: Any = {list_name: _swapped(getattr(project, list_name), old, new)}
    return replace(project, **parts)


def _swapped(parts: tuple[Part, ...], old: Part, new: Part) -> tuple[Part, ...]:
    return tuple(new if part is old else part for part in parts)


def _without(parts: tuple[Part, ...], gone: Part) -> tuple[Part, ...]:
    return tuple(part for part in parts if part is not gone)


def _kept(parts: tuple[Part, ...], keep: Callable[[Part], bool]) -> tuple[Part, ...]:
    kept = tuple(filter(keep, parts))
    return parts if len(kept) == len(parts) else kept


def _mapped(parts: tuple[Part, ...], change: Callable[[Part], Part]) -> tuple[Part, ...]:
    changed = tuple(map(change, parts))
    return parts if all(map(is_, changed, parts)) else changed


def _renamed(names: Any, id: str, new_id: str) -> Any:  # noqa: ANN401  a tuple of any length, given back in its type
    return tuple(new_id if name == id else name for name in names) if id in names and new_id != id else names


def _at(parts: Sequence[Part], place: int, list_name: str) -> Part:
    if not 0 <= place < len(parts):
        raise ProjectError(f"there is no entry {place + 1} among {len(parts)}", list_name)
    return parts[place]
