"""From pins to a project: a candidate drawn as links and pivots, so that `analyse` can hold it against the wants.

The fixed link and the panel stay as they are, with all that rides on them. Every other link goes, and what rides on it
or speaks of it goes too; a want of a gap between such a link and an outline is asked of each new link instead. Locked
pivots keep their names.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from kinematics.loaded import kept_on
from kinematics.project import GapWant, Link, Pivot
from kinematics.proposals.chains import FIXED, PANEL

if TYPE_CHECKING:
    from collections.abc import Iterable

    from kinematics.arrays import Complexes
    from kinematics.project import Outline, Project, Room
    from kinematics.proposals.chains import Chain
    from kinematics.proposals.results import Settings

PLACES = 2
"""Decimals of a pin's place, mm."""


def drafted(project: Project, settings: Settings, chain: Chain, pins: Complexes) -> Project:
    """Draw one candidate: pins (pins,) complex mm."""
    kept = {project.fixed.id, project.panel.id}
    outlines = tuple(outline for outline in project.outlines if outline.on in kept)
    marks = tuple(mark for mark in project.marks if mark.on in kept)
    links = _links(project, settings, chain, {outline.id for outline in outlines})
    names = [link.id for link in links]
    return replace(
        project,
        links=(project.fixed, *links[2:], project.panel),
        pivots=_pivots(project, chain, pins, names),
        outlines=outlines,
        marks=marks,
        limits=tuple(limit for limit in project.limits if limit.mark in {mark.id for mark in marks}),
        gaps=_gaps(project, settings, names[2:], outlines),
        zones=tuple(zone for zone in project.zones if zone.on in kept),
        loads=kept_on(project.loads, kept.__contains__),
        strength=None if project.strength is None else replace(project.strength, joints=()),
        room=_room(project, {mark.id for mark in marks}),
        measures=(),
        pictures=(),
        trials=(),
        plates=None,
        stack=None,
    )


def _free(names: Iterable[str], taken: set[str]) -> list[str]:
    """The first names that nobody has."""
    return [name for name in names if name not in taken]


def _links(project: Project, settings: Settings, chain: Chain, taken: set[str]) -> list[Link]:
    """Fixed link, panel, and new links in the chain's order."""
    taken = taken | {project.fixed.id, project.panel.id}
    names = _free((f"link {k}" for k in range(1, 200)), taken)
    new = [Link(id=names[k], width=settings.width) for k in range(chain.links - 2)]
    return [project.fixed, project.panel, *new]


def _pivots(project: Project, chain: Chain, pins: Complexes, names: list[str]) -> tuple[Pivot, ...]:
    locked = [pivot for pivot in project.pivots if pivot.locked]
    free = iter(_free((chr(65 + k % 26) * (1 + k // 26) for k in range(200)), {pivot.id for pivot in locked}))
    ends = {project.fixed.id, project.panel.id}
    found = []
    for pair, place in zip(chain.pins, pins, strict=True):
        x, y = float(place.real), float(place.imag)
        joins = tuple(names[link] for link in sorted(pair, key=_outward))
        stays = next((pivot for pivot in locked if pivot.at == (x, y) and _is_like(pivot, joins, ends)), None)
        if stays is None:
            found.append(Pivot(id=next(free), at=(round(x, PLACES), round(y, PLACES)), joins=joins))
        else:
            locked.remove(stays)  # two may be locked at one place
            found.append(replace(stays, joins=joins))
    return tuple(found)


def _is_like(pivot: Pivot, joins: tuple[str, ...], ends: set[str]) -> bool:
    """Whether a locked pivot was on the same one of fixed link and panel, or between other links as this one is."""
    return bool(ends & set(pivot.joins) & set(joins)) or not ends & (set(pivot.joins) | set(joins))


def _outward(link: int) -> int:
    """The fixed link is named first, the panel last."""
    return {FIXED: -1, PANEL: 99}.get(link, link)


def _gaps(project: Project, settings: Settings, links: list[str], outlines: tuple[Outline, ...]) -> tuple[GapWant, ...]:
    """What is wanted of what stays, as it is, and then what is asked of the new links, the strictest of each pair."""
    kept_links = {project.fixed.id, project.panel.id}
    devices = () if project.loads is None else project.loads.devices
    there = {each.id for each in devices if {each.from_end.on, each.to_end.on} <= kept_links}
    there |= {outline.id for outline in outlines} | kept_links
    gone = {link.id for link in project.links if link.kind == "link"}
    kept = [want for want in project.gaps if set(want.between) <= there]
    asked: dict[tuple[str, str, float], GapWant] = {}

    def ask(want: GapWant) -> None:
        key = (*want.between, want.after_deg)
        if key not in asked or asked[key].at_least < want.at_least:
            asked[key] = want

    for want in project.gaps:
        one, other = want.between if want.between[0] in gone else want.between[::-1]
        if one in gone and other in there:
            for link in links:
                ask(replace(want, between=(link, other), shut=None))
    if settings.bands_clear is not None:
        for outline in (each for each in outlines if each.on == project.fixed.id):
            for link in links:
                ask(GapWant(between=(link, outline.id), at_least=settings.bands_clear))
    return (*kept, *asked.values())


def _room(project: Project, marks: set[str]) -> Room | None:
    room = project.room
    if room is None or room.front_edge is None or room.front_edge.mark is None or room.front_edge.mark in marks:
        return room
    return replace(room, front_edge=None)
