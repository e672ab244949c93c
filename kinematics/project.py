"""The project: everything a builder has drawn and wants, as one frozen value.

Coordinates are mm in the side view with the panel shut, x to the right, y up. Masses kg, forces N, spring rates N/mm,
angles degrees. A *link* is a rigid body: one of them is the *fixed link* (the body of the vehicle), one is the *panel*.
A *pivot* is a pin that joins links. An *outline* is a line or a solid that rides on a link; two outlines, or the band
of a link with a width, may be watched by a *gap want*. A *mark* is a point whose path is shown; a *limit* is a want on
how far a mark moves. The *room* has a floor and a roof (`kinematics.room`). *Zones* say where pivots may be, *loads*
what the panel weighs and what helps to lift it. *Measures* are what was measured and left on the board
(`kinematics.measures`), *pictures* are photos beneath the board (`kinematics.pictures`).

Every part checks itself when it is built, and the project checks that the parts fit together, so whoever holds a
`Project` holds a sound one. Half-drawn ones are sound: links may hang free, and there may be no pivots yet. `unknown`
carries keys of a file that this version doesn't know; they mean nothing here. All is compared by value;
`kinematics.edits` makes new projects from old ones.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal, TypeVar

from kinematics import values
from kinematics.build_parts import Cutout, EyeSize, LayerChoice, PinChoice, Plate, Plates, Prices, Side, Stack
from kinematics.errors import ProjectError
from kinematics.fittings import Cushion, Latch, Prop, Stop
from kinematics.loaded import named_links
from kinematics.loads import LiftWants, Loads, PinFriction, WorstCase
from kinematics.made_parts import AsMade, FoundAt, HandMade, MadeDistance, MadeSheet, OnPin, Turned
from kinematics.measures import Anchor, Measure
from kinematics.mount_parts import Base, Bracket, Mount, StopPart
from kinematics.parts import (
    Attachment,
    Device,
    GapWant,
    Handle,
    Limit,
    Link,
    MadeOf,
    Mark,
    Mass,
    Outline,
    Pivot,
    ShutWant,
    Sureness,
    Travel,
    Zone,
    keep,
    kept_keys,
    put,
)
from kinematics.pictures import Length, Pick, Picture, Place
from kinematics.room import FrontEdge, Room
from kinematics.strength_parts import Bushing, JointStrength, Metal, Strength
from kinematics.values import Kept, Point, shown
from kinematics.wall_parts import HandWall, Wall

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence

__all__ = [
    "Anchor",
    "AsMade",
    "Attachment",
    "Base",
    "Bracket",
    "Bushing",
    "Cushion",
    "Cutout",
    "Device",
    "EyeSize",
    "FoundAt",
    "FrontEdge",
    "GapWant",
    "HandMade",
    "HandWall",
    "Handle",
    "JointStrength",
    "Kept",
    "Latch",
    "LayerChoice",
    "Length",
    "LiftWants",
    "Limit",
    "Link",
    "Loads",
    "MadeDistance",
    "MadeOf",
    "MadeSheet",
    "Mark",
    "Mass",
    "Measure",
    "Metal",
    "Mount",
    "OnPin",
    "Outline",
    "Pick",
    "Picture",
    "PinChoice",
    "PinFriction",
    "Pivot",
    "Place",
    "Plate",
    "Plates",
    "Point",
    "Prices",
    "Project",
    "ProjectError",
    "Prop",
    "Room",
    "ShutWant",
    "Side",
    "Stack",
    "Stop",
    "StopPart",
    "Strength",
    "Sureness",
    "Travel",
    "Turned",
    "Wall",
    "WorstCase",
    "Zone",
    "entry",
]

UNITS = ("mm", "in")
LISTS = ("links", "pivots", "outlines", "marks", "limits", "gaps", "zones", "measures", "pictures", "trials")

Named = TypeVar("Named", Link, Pivot, Outline, Mark, Measure, Picture)


@dataclass(frozen=True, slots=True, kw_only=True)
class Project:
    """One hinge: what is drawn, what is wanted. Built by keyword; `links` and `travel` have no default.

    pin_spacing : mm, the least distance wanted between two pins of a link that has a width.
    transmission_at_least : deg, the least transmission angle wanted of any link over the travel; None: no want.
    room : floor and roof, None where nobody gave any.
    keep_clear : names of things in the way that panel and links are to keep clear of; each is drawn, or still to be
    drawn, as the outline of its name.
    sureness : how far holes may be off and how much play pins have, None where nobody said.
    strength : what pins and plates are made of, None where nobody said.
    pictures : photos beneath the board; among them, as the JSON objects that a file carried, those that are no sound
    ones (`photos` leaves them out).
    plates, stack, mount, wall, as_made : what links and pins are built of, what holds the hinge, how the wall stands,
    and how the parts came out, None where nobody said; what a file carried in their place is kept as the JSON value
    that it was, and means nothing (`plating`, `stacking`, `mounted`, `walled`, `made`).
    trials : JSON values as a file carries them; nobody changes them in place.
    """

    title: str = ""
    notes: str = ""
    display_units: Literal["mm", "in"] = "mm"
    links: tuple[Link, ...]
    pivots: tuple[Pivot, ...] = ()
    outlines: tuple[Outline, ...] = ()
    marks: tuple[Mark, ...] = ()
    limits: tuple[Limit, ...] = ()
    travel: Travel
    gaps: tuple[GapWant, ...] = ()
    zones: tuple[Zone, ...] = ()
    loads: Loads | None = None
    pin_spacing: float = 30.0
    transmission_at_least: float | None = None
    measures: tuple[Measure, ...] = ()
    room: Room | None = None
    keep_clear: tuple[str, ...] = ()
    sureness: Sureness | None = None
    strength: Strength | None = None
    pictures: tuple[Picture | Mapping[str, Any], ...] = field(default=(), hash=False)
    trials: tuple[Any, ...] = field(default=(), hash=False)
    plates: Any = field(default=None, hash=False)
    stack: Any = field(default=None, hash=False)
    mount: Any = field(default=None, hash=False)
    wall: Any = field(default=None, hash=False)
    as_made: Any = field(default=None, hash=False)
    version: int = 1
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        for name in LISTS:
            if type(getattr(self, name)) is not tuple:
                put(self, **{name: tuple(getattr(self, name))})
        values.text(self.title, "", "title")
        values.text(self.notes, "", "notes")
        values.one_of(self.display_units, "", "display_units", UNITS)
        put(self, pin_spacing=values.not_negative(self.pin_spacing, "", "pin_spacing"))
        if self.transmission_at_least is not None:
            put(self, transmission_at_least=values.positive(self.transmission_at_least, "", "transmission_at_least"))
            if self.transmission_at_least > 90:
                what = (
                    f"transmission_at_least is {self.transmission_at_least:g}, but such an angle is 90 degrees at best"
                )
                raise ProjectError(what, "transmission_at_least", "Take it out, or put in less.")
        named = values.identifiers(self.keep_clear, "", "keep_clear")
        if type(self.keep_clear) is not tuple:
            put(self, keep_clear=named)
        keep(self)
        _check_ids(self)
        _check_references(self)
        _check_gaps(self)
        _check_measures(self)

    def link(self, id: str) -> Link:
        """Find a link by its id; ProjectError when there is none."""
        return _find(self.links, id, "link")

    def pivot(self, id: str) -> Pivot:
        """Find a pivot by its id; ProjectError when there is none."""
        return _find(self.pivots, id, "pivot")

    def outline(self, id: str) -> Outline:
        """Find an outline by its id; ProjectError when there is none."""
        return _find(self.outlines, id, "outline")

    def mark(self, id: str) -> Mark:
        """Find a mark by its id; ProjectError when there is none."""
        return _find(self.marks, id, "mark")

    def measure(self, id: str) -> Measure:
        """Find a measure by its id; ProjectError when there is none."""
        return _find(self.measures, id, "measure")

    def picture(self, id: str) -> Picture:
        """Find a picture by its id; ProjectError when there is none that can be shown."""
        return _find(self.photos, id, "picture")

    def zone(self, name: str) -> Zone:
        """Find a zone by what it goes by (`zone_names`); ProjectError when there is none."""
        return self.zones[self.zone_place(name)]

    def zone_place(self, name: str) -> int:
        """Place of a zone in `zones` by what it goes by; ProjectError when there is none."""
        names = self.zone_names
        if name not in names:
            raise ProjectError(f"there is no zone {shown(name)}")
        return names.index(name)

    @property
    def zone_names(self) -> tuple[str, ...]:
        """What each zone goes by, as zones have no ids: "on body", the second of that link "2 on body"."""
        counted: dict[str, int] = {}
        names = []
        for zone in self.zones:
            number = counted[zone.on] = counted.get(zone.on, 0) + 1
            names.append(f"on {zone.on}" if number == 1 else f"{number} on {zone.on}")
        return tuple(names)

    @property
    def plating(self) -> Plates:
        """What the plates are of: as the file says, else as is usual."""
        return self.plates if isinstance(self.plates, Plates) else Plates()

    @property
    def stacking(self) -> Stack:
        """What lies on the pins: as the file says, else as is usual."""
        return self.stack if isinstance(self.stack, Stack) else Stack()

    @property
    def mounted(self) -> Mount:
        """What holds the hinge, as far as anything is said of it."""
        return self.mount if isinstance(self.mount, Mount) else Mount()

    @property
    def walled(self) -> Wall:
        """How the wall stands: as the file says, else square."""
        return self.wall if isinstance(self.wall, Wall) else Wall()

    @property
    def made(self) -> AsMade:
        """How the parts came out: as the file says, else as drawn."""
        return self.as_made if isinstance(self.as_made, AsMade) else AsMade()

    @property
    def photos(self) -> tuple[Picture, ...]:
        """The pictures that can be shown."""
        return tuple(picture for picture in self.pictures if isinstance(picture, Picture))

    @property
    def fixed(self) -> Link:
        """The fixed link."""
        return next(link for link in self.links if link.kind == "fixed")

    @property
    def panel(self) -> Link:
        """The link that opens."""
        return next(link for link in self.links if link.kind == "panel")

    @property
    def link_index(self) -> dict[str, int]:
        """Place of each link in `links`, by id."""
        return {link.id: place for place, link in enumerate(self.links)}

    def pivots_on(self, link_id: str) -> tuple[Pivot, ...]:
        """Give the pivots of a link, in the project's order."""
        return tuple(pivot for pivot in self.pivots if link_id in pivot.joins)

    def is_device(self, name: str) -> bool:
        """Tell whether a gap's partner is a strut or spring: where an outline or a link has the name, that is meant."""
        known = any(part.id == name for parts in (self.links, self.outlines) for part in parts)
        return not known and self.loads is not None and any(device.id == name for device in self.loads.devices)

    def rides_on(self, name: str) -> str:
        """Give the id of the link that a gap's partner (an outline, or a link itself) moves with.

        "" for a strut or spring, which rides between two. ProjectError when nobody defines it.
        """
        for outline in self.outlines:
            if outline.id == name:
                return outline.on
        return "" if self.is_device(name) else _find(self.links, name, "outline or link").id


def _find(parts: Iterable[Named], wanted: str, kind: str) -> Named:
    for part in parts:
        if part.id == wanted:
            return part
    raise ProjectError(f"there is no {kind} {shown(wanted)}")


def entry(list_name: str, place: int, part_id: object = None) -> str:
    """Say where an entry stands, as `pivots, entry 3 "A"`; `place` counts from 0."""
    name = "" if part_id is None else f" {shown(part_id)}"
    return f"{list_name}, entry {place + 1}{name}"


def _check_ids(project: Project) -> None:
    """Ids occur once in their list; one link is fixed, one is the panel; no outline is named like a link."""
    named: dict[str, Sequence[Link | Pivot | Outline | Mark | Measure | Picture | Device | Cushion]] = {
        "links": project.links,
        "pivots": project.pivots,
        "outlines": project.outlines,
        "marks": project.marks,
        "measures": project.measures,
        "pictures": project.photos,
        "loads, devices": project.loads.devices if project.loads else (),
        "loads, cushions": project.loads.cushions if project.loads else (),
    }
    for list_name, parts in named.items():
        seen: set[str] = set()
        for place, part in enumerate(parts):
            if part.id in seen:
                raise ProjectError("this id occurs twice", entry(list_name, place, part.id), "Give each its own name.")
            seen.add(part.id)
    for kind in ("fixed", "panel"):
        found = [link.id for link in project.links if link.kind == kind]
        if len(found) != 1:
            names = f": {', '.join(shown(each) for each in found)}" if found else ""
            raise ProjectError(f'{len(found)} links are of kind "{kind}"{names}', "links", "Exactly one must be.")
    if len(set(project.keep_clear)) < len(project.keep_clear):
        raise ProjectError("a name occurs twice", "keep_clear", "Name each thing once.")
    links = project.link_index
    for place, outline in enumerate(project.outlines):
        if outline.id in links:
            raise ProjectError(
                "a link has this id too", entry("outlines", place, outline.id), "Give the outline another name."
            )


def _check_references(project: Project) -> None:
    """Whatever names a link or a mark names one that is defined."""
    links = project.link_index
    for where, key, name in _named_links(project):
        if name not in links:
            raise ProjectError(
                f"{key} names the link {shown(name)}, which nobody defines",
                where,
                "Define it under links, or correct the name.",
            )
    marks = {mark.id for mark in project.marks}
    for where, name in _named_marks(project):
        if name not in marks:
            raise ProjectError(
                f"mark names {shown(name)}, which nobody defines", where, "Define it under marks, or correct the name."
            )


def _named_links(project: Project) -> Iterable[tuple[str, str, str]]:
    """Give every place that names a link: where, key, name."""
    for place, pivot in enumerate(project.pivots):
        for name in pivot.joins:
            yield entry("pivots", place, pivot.id), "joins", name
    riding = {"outlines": project.outlines, "marks": project.marks, "pictures": project.pictures}
    for list_name, parts in riding.items():
        for place, part in enumerate(parts):
            if isinstance(part, (Outline, Mark, Picture)):
                yield entry(list_name, place, part.id), "on", part.on
    for place, zone in enumerate(project.zones):
        yield entry("zones", place), "on", zone.on
    if project.loads is not None:
        yield from named_links(project.loads)


def _named_marks(project: Project) -> Iterable[tuple[str, str]]:
    """Give every place that names a mark: where, name."""
    for place, limit in enumerate(project.limits):
        yield entry("limits", place), limit.mark
    front = project.room.front_edge if project.room is not None else None
    if front is not None and front.mark is not None:
        yield "room, front_edge", front.mark


def _check_gaps(project: Project) -> None:
    """A gap's two partners are defined and ride on different links."""
    devices = () if project.loads is None else project.loads.devices
    rides: dict[str, object] = {device.id: device for device in devices}  # an outline or a link of its name is meant
    rides |= {link.id: link.id for link in project.links} | {outline.id: outline.on for outline in project.outlines}
    for place, gap in enumerate(project.gaps):
        where = entry("gaps", place)
        for name in gap.between:
            if name not in rides:
                raise ProjectError(
                    f"between names {shown(name)}, which is no outline, no link and no strut or spring",
                    where,
                    "Define it, or correct the name.",
                )
        one, other = gap.between
        if one == other and isinstance(rides[one], Device):
            raise ProjectError(f"between names {shown(one)} twice", where, "Watch it against something else.")
        if rides[one] == rides[other]:
            what = f"{shown(one)} and {shown(other)} ride on one link, so the gap between them never changes"
            raise ProjectError(what, where, "Watch a pair on different links.")


def _check_measures(project: Project) -> None:
    """What a measure takes hold of is there."""
    if not project.measures:
        return
    there = anchored(project.links, project.pivots, project.outlines, project.marks)
    for place, measure in enumerate(project.measures):
        for anchor in measure.of:
            if not there(anchor):
                point = "" if anchor.point is None else f"point {anchor.point + 1} of "
                raise ProjectError(
                    f"of names {point}the {anchor.kind} {shown(anchor.name)}, which nobody defines",
                    entry("measures", place, measure.id),
                    "Define it, or take the measure out.",
                )


def anchored(
    links: Iterable[Link], pivots: Iterable[Pivot], outlines: Iterable[Outline], marks: Iterable[Mark]
) -> Callable[[Anchor], bool]:
    """Give the function that tells whether what an anchor names is among these parts."""
    points = {outline.id: len(outline.points) for outline in outlines}
    names: dict[str, set[str]] = {
        "link": {part.id for part in links},
        "pivot": {part.id for part in pivots},
        "outline": set(points),
        "mark": {part.id for part in marks},
    }

    def there(anchor: Anchor) -> bool:
        if anchor.name not in names[anchor.kind]:
            return False
        return anchor.point is None or anchor.point < points[anchor.name]

    return there
