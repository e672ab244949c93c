"""Building by hand: a link between two places, a pin through links, a link split, pins joined and parted.

Edits that take several steps of `kinematics.edits` at once, each what one action on the board means. A *spot* is where
the hand wants a pin: on a pin that is there, on a link, or on bare paper. A pin joins two links or more, so on bare
paper there can be none yet: there the link has a *free end*, kept as a mark named "end of …" that rides on it and goes
once a pin takes its place. Places are mm, panel shut.

All raise a `ProjectError` when the result would make no sense, with what to do instead.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import dist
from typing import TYPE_CHECKING, Any

from kinematics import edits, measures
from kinematics.errors import ProjectError
from kinematics.loaded import carried
from kinematics.project import GapWant, Link, Mark, Pivot, Zone
from kinematics.values import shown

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from kinematics.project import Point, Project

END = "end of "
ONE_PLACE = 1e-6
"""Places no further apart than this (mm) are one."""


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a pin is wanted (mm, shut): on the pin `pivot`, through the link `link`, or, both "", on bare paper."""

    at: Point
    pivot: str = ""
    link: str = ""


def free_pin(project: Project) -> str:
    """Give the first free name for a pin: A … Z, then P, P 2 and so on."""
    taken = {pivot.id for pivot in project.pivots}
    letters = (chr(code) for code in range(ord("A"), ord("Z") + 1))
    return next((letter for letter in letters if letter not in taken), edits.free_id(project, "P"))


# ------------------------------------------------------------------------------------------------------------- linking
def make_link(project: Project, name: str, first: Spot, second: Spot, width: float = 0.0) -> Project:
    """Make a link between two spots: it joins a pin that is there, gets a pin on a link, has a free end on paper."""
    if dist(first.at, second.at) <= ONE_PLACE:
        raise ProjectError("both ends are at one place", f"link {shown(name)}", "Pick two places apart.")
    if first.pivot and first.pivot == second.pivot:
        raise ProjectError(f"both ends are on pivot {shown(first.pivot)}", f"link {shown(name)}", "Pick another place.")
    project = edits.add_link(project, Link(name, "link", width))
    return add_pin_to_link(add_pin_to_link(project, name, first), name, second)


def add_pin_to_link(project: Project, link_id: str, spot: Spot) -> Project:
    """Give a link one more pin at a spot: with a third one it is ternary. On bare paper: a free end for it."""
    link = project.link(link_id)
    if spot.pivot:
        pivot = project.pivot(spot.pivot)
        if link.id in pivot.joins:
            what = f"pivot {shown(pivot.id)} is on link {shown(link.id)} already"
            raise ProjectError(what, remedy="Pick another place or another link.")
        return _end_pinned(edits.rejoin_pivot(project, pivot.id, (*pivot.joins, link.id)), (link.id,), pivot.at)
    if not spot.link:
        return edits.add_mark(project, Mark(_end_name(project, link.id), link.id, spot.at))
    if spot.link == link.id:
        what = f"a pin joins two links, and both picks are on {shown(link.id)}"
        raise ProjectError(what, remedy="Pick the other link that the pin goes through.")
    joins = project.link(spot.link).id, link.id
    return _end_pinned(edits.add_pivot(project, Pivot(free_pin(project), spot.at, joins)), joins, spot.at)


def _end_name(project: Project, link_id: str) -> str:
    return edits.free_id(project, f"{END}{link_id}"[:76])


def _end_pinned(project: Project, links: tuple[str, ...], at: Point) -> Project:
    """The project without the free ends of these links that a pin at a place has pinned; what is wanted or measured of
    a mark keeps it.
    """
    wanted = {limit.mark for limit in project.limits} | {
        anchor.mark for measure in project.measures for anchor in measure.of
    }
    for mark in project.marks:
        is_end = mark.id.startswith(END) and mark.on in links and mark.id not in wanted
        if is_end and dist(mark.at, at) <= ONE_PLACE:
            project = edits.remove_mark(project, mark.id)
    return project


def free_ends(project: Project, link_id: str) -> tuple[Mark, ...]:
    """Give the marks that stand for free ends of a link."""
    return tuple(mark for mark in project.marks if mark.on == link_id and mark.id.startswith(END))


# ----------------------------------------------------------------------------------------------------------- splitting
def split_link(project: Project, link_id: str, at: Point, new_link: str) -> Project:
    """Split a link in two at a place, with a pin between them.

    What lies on the far side of the place, seen from the link's first pin, goes with the new link: pins, and whatever
    rides on it. The new link is watched against all that the old one is watched against.
    """
    link = project.link(link_id)
    if link.kind != "link":
        word = "fixed link" if link.kind == "fixed" else "panel"
        raise ProjectError(f"the {word} can't be split", f"link {shown(link_id)}", "Split a link between the two.")
    pins = project.pivots_on(link_id)
    first = pins[0].at if pins else at
    way = at[0] - first[0], at[1] - first[1]

    def is_far(place: Point) -> bool:
        return (place[0] - at[0]) * way[0] + (place[1] - at[1]) * way[1] > ONE_PLACE

    far = {pin.id for pin in pins if is_far(pin.at)}
    if not far or any(dist(pin.at, at) <= ONE_PLACE for pin in pins):
        what = "there must be a pin on either side of the split"
        raise ProjectError(what, f"link {shown(link_id)}", "Pick a place between two of its pins.")
    project = edits.add_link(project, Link(new_link, "link", link.width))
    carried = _riders_carried(project, link_id, new_link, is_far)
    pivots = tuple(
        replace(pin, joins=tuple(new_link if name == link_id else name for name in pin.joins)) if pin.id in far else pin
        for pin in project.pivots
    )
    between = Pivot(free_pin(project), at, (link_id, new_link))
    return replace(carried, pivots=(*pivots, between), gaps=_gaps_doubled(carried, link_id, new_link))


def _riders_carried(project: Project, old: str, new: str, is_far: Callable[[Point], bool]) -> Project:
    """The project with what rides on a link beyond the split riding on the new link; zones hold for both."""

    def carry(part: Any) -> Any:  # noqa: ANN401  any part that rides on a link at a place
        return replace(part, on=new) if part.on == old and is_far(_middle(part)) else part

    zones = tuple(Zone(new, zone.points, zone.unknown) for zone in project.zones if zone.on == old)
    return replace(
        project,
        outlines=tuple(map(carry, project.outlines)),
        marks=tuple(map(carry, project.marks)),
        zones=(*project.zones, *zones),
        loads=carried(project.loads, carry),
    )


def _middle(part: Any) -> Point:  # noqa: ANN401  any part that rides on a link at a place
    """Where a part is: its place, or the mean of its points."""
    at: Point | None = getattr(part, "at", None)
    if at is not None:
        return at
    return sum(p[0] for p in part.points) / len(part.points), sum(p[1] for p in part.points) / len(part.points)


def _gaps_doubled(project: Project, old: str, new: str) -> tuple[GapWant, ...]:
    """The gap wants, those that watch the old link doubled for the new one, but for what rides on that."""
    more = []
    for gap in project.gaps:
        if old in gap.between:
            other = gap.between[1] if gap.between[0] == old else gap.between[0]
            if project.rides_on(other) != new:
                names = tuple(new if name == old else name for name in gap.between)
                more.append(replace(gap, between=names))  # type: ignore[arg-type]  # two names stay two
    return (*project.gaps, *more)


# -------------------------------------------------------------------------------------------------- joining and parting
def join_pivots(project: Project, kept: str, gone: str) -> Project:
    """Make one pin of two: it stands where `kept` does and joins all that both joined."""
    stays, goes = project.pivot(kept), project.pivot(gone)
    if stays is goes:
        raise ProjectError(f"pivot {shown(kept)} is one pin", remedy="Pick two pins to join.")
    for link in project.links:
        pins = {pin.id for pin in project.pivots_on(link.id)}
        if link.kind == "link" and pins == {kept, gone}:
            what = f"{shown(kept)} and {shown(gone)} are the two pins of {shown(link.id)}, which would be a point"
            raise ProjectError(what, remedy="Take that link out instead.")
    joins = (*stays.joins, *(name for name in goes.joins if name not in stays.joins))
    # a measure between the two has nothing to measure any more
    left = tuple(each for each in project.measures if not {kept, gone} <= {anchor.pivot for anchor in each.of})
    project = replace(project, measures=measures.renamed(left, "pivot", gone, kept))
    return edits.rejoin_pivot(edits.remove_pivot(project, gone), kept, joins)


def part_pivot(project: Project, id: str, link_id: str = "") -> Project:
    """Take a link off a pin; where only one would be left on it, the pin goes.

    link_id : may be left out for a pin of two links. Links between that lose their pin have a free end there.
    """
    pivot = project.pivot(id)
    if not link_id and len(pivot.joins) > 2:
        what = f"it joins {len(pivot.joins)} links"
        raise ProjectError(what, f"pivot {shown(id)}", "Say which of them is taken off.")
    link_id = link_id or pivot.joins[-1]
    if link_id not in pivot.joins:
        raise ProjectError(f"it doesn't join link {shown(link_id)}", f"pivot {shown(id)}", "Pick one that it joins.")
    stay = tuple(name for name in pivot.joins if name != link_id)
    loose = (link_id,) if len(stay) > 1 else (link_id, *stay)
    parted = edits.rejoin_pivot(project, id, stay) if len(stay) > 1 else edits.remove_pivot(project, id)
    for name in loose:
        if project.link(name).kind == "link":
            parted = edits.add_mark(parted, Mark(_end_name(parted, name), name, pivot.at))
    return parted


# ------------------------------------------------------------------------------------------------------ several at once
def move_parts(
    project: Project, pivots: Mapping[str, Point], marks: Mapping[str, Point], points: Mapping[tuple[str, int], Point]
) -> Project:
    """Put pivots, marks and points of outlines (by id and number from 0) at other places, all at once."""
    for id_, at in pivots.items():
        project = edits.move_pivot(project, id_, at)
    for id_, at in marks.items():
        project = edits.move_mark(project, id_, at)
    for (id_, place), at in points.items():
        project = edits.move_outline_point(project, id_, place, at)
    return project
