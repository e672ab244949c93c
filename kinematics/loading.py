"""Edits of the loads: masses, the handle, struts and springs, and who shares them.

Pure functions from one project to the next, as in `kinematics.edits`: what isn't touched is shared, an edit that
changes nothing gives back the project itself, and what can't be is a `ProjectError`. Points are mm, panel shut.

Terms. Masses have no ids; a mass goes by its link, as zones do: "on hatch", the second of that link "2 on hatch"
(`mass_names`). A device has two *ends*: number 0 is its `from`, 1 its `to`. A *spot* is a place of the loads that the
hand can move: a mass, the handle, an end of a device. Loads that say nothing any more are no loads.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from kinematics import weighing
from kinematics.errors import ProjectError
from kinematics.loads import LiftWants, Loads, PinFriction, WorstCase
from kinematics.parts import SPRINGS, Attachment, Device, Handle, Mass
from kinematics.values import shown

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from kinematics.parts import GapWant, MadeOf
    from kinematics.project import Point, Project

ENDS = ("from_end", "to_end")
"""Fields of a device's ends, by their number."""
HANDLE = "handle"
"""What the handle goes by: there is one."""
SPARE = 5.0
"""Mm that a strut taken for a place has left at either end, at least (common practice, no source)."""
ROUND = 5.0
"""Its lengths are whole multiples of this (mm)."""
STRUT_FORCE, STRUT_RATIO = 200.0, 1.35
"""A new strut's force (N) and ratio, to begin with (common practice, no source)."""
SPRING_RATE = 1.0
"""A new spring's rate (N/mm), to begin with."""
WORST = WorstCase(temperature=-10.0, slope_deg=5.0)
"""What may go against an open panel, to begin with (common practice, no source)."""
MOMENT, MOMENT_RATE = 5000.0, 20.0
"""A new torsion spring's moment (N·mm) and what that loses per degree, to begin with."""


# -------------------------------------------------------------------------------------------------------------- masses
def mass_names(project: Project) -> tuple[str, ...]:
    """What each mass of a project goes by, in order."""
    return names_of(_loads(project).masses)


def names_of(masses: Iterable[Mass]) -> tuple[str, ...]:
    """What each of these masses goes by, in order: "on hatch", the second of that link "2 on hatch"."""
    counted: dict[str, int] = {}
    names = []
    for mass in masses:
        number = counted[mass.on] = counted.get(mass.on, 0) + 1
        names.append(f"on {mass.on}" if number == 1 else f"{number} on {mass.on}")
    return tuple(names)


def mass_place(project: Project, name: str) -> int:
    """Place of a mass in the list by what it goes by; ProjectError when there is none."""
    names = mass_names(project)
    if name not in names:
        raise ProjectError(f"there is no mass {shown(name)}")
    return names.index(name)


def mass_named(project: Project, name: str) -> Mass:
    """Give the mass that goes by a name; ProjectError when there is none."""
    return _loads(project).masses[mass_place(project, name)]


def add_mass(project: Project, mass: Mass) -> Project:
    """Add a mass, after those that are there."""
    return with_loads(project, masses=(*_loads(project).masses, mass))


def change_mass(project: Project, name: str, **fields: Any) -> Project:  # noqa: ANN401  any field of a mass
    """Change some fields of a mass: `mass` (kg), `on`, `at`. On another link it may come to go by another name.

    One that followed what is drawn follows no more, once another mass or place is given.
    """
    place, masses = mass_place(project, name), list(_loads(project).masses)
    old = masses[place]
    if any(fields.get(key, getattr(old, key)) != getattr(old, key) for key in ("mass", "at")):
        fields = {"made_of": None, **fields}
    masses[place] = replace(old, **fields)
    return with_loads(project, masses=tuple(masses))


def follow_drawing(project: Project, name: str, made_of: MadeOf) -> Project:
    """Let a mass follow what it is made of; ProjectError where that isn't drawn, or bounds nothing."""
    place, masses = mass_place(project, name), list(_loads(project).masses)
    made = weighing.came_to(project, made_of, masses[place].on)
    masses[place] = replace(masses[place], on=made.on, mass=made.mass, at=made.at, made_of=made_of)
    return with_loads(project, masses=tuple(masses))


def add_plates(project: Project, made_of: MadeOf) -> Project:
    """Add the weight of each link's plates, where a link has a band and no weight follows it yet; the same object
    where there is none. made_of : of each link, by its band.
    """
    masses = () if project.loads is None else project.loads.masses
    weighed = {mass.on for mass in masses if mass.made_of is not None and mass.made_of.outline is None}
    bands = [link.id for link in project.links if link.kind == "link" and link.width > 0.0 and link.id not in weighed]
    new = tuple(Mass(name, 0.0, pins[0].at, made_of) for name in bands if (pins := project.pivots_on(name)))
    return weighing.settled(with_loads(project, masses=(*masses, *new))) if new else project


def follow_no_more(project: Project, name: str) -> Project:
    """Let a mass stay as heavy, and where, it is."""
    return change_mass(project, name, made_of=None)


def move_mass(project: Project, name: str, at: Point) -> Project:
    """Put a mass's centre of gravity at another place."""
    return change_mass(project, name, at=at)


def remove_mass(project: Project, name: str) -> Project:
    """Take a mass out."""
    place, masses = mass_place(project, name), _loads(project).masses
    return with_loads(project, masses=masses[:place] + masses[place + 1 :])


# -------------------------------------------------------------------------------------------------------------- handle
def set_handle(project: Project, handle: Handle | None) -> Project:
    """Say where the hand lifts, or with None that nobody said."""
    return with_loads(project, handle=handle)


def put_handle(project: Project, on: str, at: Point) -> Project:
    """Put the handle on a link, wherever it was; keys of it that nobody knows stay."""
    old = _loads(project).handle
    return with_loads(project, handle=Handle(on, at) if old is None else replace(old, on=on, at=at))


def move_handle(project: Project, at: Point) -> Project:
    """Put the handle at another place on its link; ProjectError when there is none."""
    return put_handle(project, handle_of(project).on, at)


def handle_of(project: Project) -> Handle:
    """Give the handle; ProjectError when there is none."""
    handle = _loads(project).handle
    if handle is None:
        raise ProjectError("there is no handle")
    return handle


# ------------------------------------------------------------------------------------------------------------- devices
def device_named(project: Project, id: str) -> Device:
    """Give a device by its id; ProjectError when there is none."""
    for device in _loads(project).devices:
        if device.id == id:
            return device
    raise ProjectError(f"there is no device {shown(id)}")


def free_device_id(project: Project, stem: str) -> str:
    """Give a name that no device, link or outline has, so that gap wants can tell them apart: the stem, "stem 2", …"""
    taken = {part.id for parts in (_loads(project).devices, project.links, project.outlines) for part in parts}
    name, number = stem, 2
    while name in taken:
        name, number = f"{stem} {number}", number + 1
    return name


def add_device(project: Project, device: Device) -> Project:
    """Add a device, after those that are there."""
    return with_loads(project, devices=(*_loads(project).devices, device))


def change_device(project: Project, id: str, **fields: Any) -> Project:  # noqa: ANN401  any field of a device
    """Change some fields of a device, but for its id (`rename_device`)."""
    old = device_named(project, id)
    return _with_device(project, old, replace(old, **fields))


def rename_device(project: Project, id: str, new_id: str) -> Project:
    """Give a device another name, in the gap wants too."""
    old = device_named(project, id)
    return _with_device(project, old, replace(old, id=new_id))


def _with_device(project: Project, old: Device, new: Device) -> Project:
    """The project with another device in the place of one; gap wants follow its name."""
    if new == old:
        return project
    loads = _loads(project)
    devices = tuple(new if device is old else device for device in loads.devices)
    return replace(project, loads=replace(loads, devices=devices), gaps=_gaps_follow(project, old.id, new.id))


def move_end(project: Project, id: str, number: int, at: Point, on: str | None = None) -> Project:
    """Put an end of a device (0: from, 1: to) at another place, perhaps on another link."""
    field = ENDS[number]
    old: Attachment = getattr(device_named(project, id), field)
    return change_device(project, id, **{field: replace(old, on=old.on if on is None else on, at=at)})


def turn_round(project: Project, id: str) -> Project:
    """Let a device's ends change places: a strut's tube comes to the other side, a torsion spring keeps its way."""
    old = device_named(project, id)
    moment = None if old.moment is None else -old.moment
    return change_device(project, id, from_end=old.to_end, to_end=old.from_end, moment=moment)


def change_kind(project: Project, id: str, kind: str) -> Project:
    """Make a device one of another kind between the same ends; figures that the new kind lacks get usual ones."""
    old = device_named(project, id)
    if kind == old.kind:
        return project
    spans = math.dist(old.from_end.at, old.to_end.at)
    usual = usual_device(id, kind, old.from_end, old.to_end, spans, spans)
    figures = {name: getattr(usual, name) for name in FIGURES if getattr(old, name) in (None, 0.0)}
    return change_device(project, id, kind=kind, **figures)


def remove_device(project: Project, id: str) -> Project:
    """Take a device out, and every gap want that names it."""
    gone = device_named(project, id)
    if not _is_other(project, id):
        gaps = tuple(gap for gap in project.gaps if id not in gap.between)
        project = project if len(gaps) == len(project.gaps) else replace(project, gaps=gaps)
    return with_loads(project, devices=tuple(device for device in _loads(project).devices if device is not gone))


FIGURES = ("extended", "stroke", "force", "ratio", "free", "initial", "rate", "moment", "moment_rate")
"""Fields of a device that say how hard it works."""


def usual_device(id: str, kind: str, start: Attachment, end: Attachment, shortest: float, longest: float) -> Device:
    """Give a device for a place, with figures to begin with: a strut fits, a spring pulls or pushes all along.

    shortest, longest : mm from end to end over the travel.   Its count is 1; all figures are there to be changed.
    """
    figures: dict[str, float] = {}
    if kind == "gas strut":
        extended = ROUND * math.ceil((longest + SPARE) / ROUND)
        compressed = ROUND * math.floor((shortest - SPARE) / ROUND)
        stroke = extended - compressed if compressed > 0.0 else ROUND * math.ceil(0.4 * extended / ROUND)
        figures = {"extended": extended, "stroke": stroke, "force": STRUT_FORCE, "ratio": STRUT_RATIO}
    elif kind in SPRINGS:
        free = 0.8 * shortest if kind == "tension spring" else 1.2 * longest
        figures = {"free": float(round(free)), "initial": 0.0, "rate": SPRING_RATE}
    elif kind == "torsion spring":
        figures = {"moment": MOMENT, "moment_rate": MOMENT_RATE}
    return Device(id, kind, 1, start, end, **figures)  # type: ignore[arg-type]  # the device checks its kind


# --------------------------------------------------------------------------------------------------------------- spots
@dataclass(frozen=True, slots=True)
class Spot:
    """A place of the loads that the hand can move.

    kind : "mass", "handle" or "device".   id : what it goes by.   number : of a device's end, else None.
    on, at : the link, and the shut point on it.
    """

    kind: str
    id: str
    number: int | None
    on: str
    at: Point


def spots(project: Project) -> tuple[Spot, ...]:
    """Give every place of the loads: masses, handle, ends of devices."""
    return tuple(_spots(project)) if project.loads is not None else ()


def _spots(project: Project) -> Iterator[Spot]:
    loads = _loads(project)
    for name, mass in zip(mass_names(project), loads.masses, strict=True):
        yield Spot("mass", name, None, mass.on, mass.at)
    if loads.handle is not None:
        yield Spot("handle", HANDLE, None, loads.handle.on, loads.handle.at)
    for device in loads.devices:
        for number, end in enumerate((device.from_end, device.to_end)):
            yield Spot("device", device.id, number, end.on, end.at)


def spot_of(project: Project, kind: str, id: str, number: int | None = None) -> Spot:
    """Give one place by what it goes by; ProjectError when there is none. A device without a number: its first end."""
    wanted = (kind, id, (number or 0) if kind == "device" else None)
    for spot in spots(project):
        if (spot.kind, spot.id, spot.number) == wanted:
            return spot
    raise ProjectError(f"there is no {kind} {shown(id)}")


def has_load(project: Project, kind: str, id: str, number: int | None = None) -> bool:
    """Tell whether there is such a mass, handle or device, and such an end of it; None: any."""
    of = {(spot.kind, spot.id, spot.number) for spot in spots(project)}
    return (kind, id, number) in of or (kind == "device" and number is None and (kind, id, 0) in of)


def move_spot(project: Project, kind: str, id: str, at: Point, number: int | None = None) -> Project:
    """Put a mass, the handle or an end of a device at another place on its link."""
    if kind == "mass":
        return move_mass(project, id, at)
    if kind == "handle":
        return move_handle(project, at)
    return move_end(project, id, number or 0, at)


def ride_spot(project: Project, kind: str, id: str, on: str, number: int | None = None) -> Project:
    """Let a mass, the handle or an end of a device ride on another link, at the same place when shut."""
    if kind == "mass":
        return change_mass(project, id, on=on)
    if kind == "handle":
        return put_handle(project, on, handle_of(project).at)
    return move_end(project, id, number or 0, spot_of(project, kind, id, number).at, on)


def remove_load(project: Project, kind: str, id: str) -> Project:
    """Take out a mass, the handle, or a whole device."""
    if kind == "mass":
        return remove_mass(project, id)
    if kind == "handle":
        handle_of(project)
        return set_handle(project, None)
    return remove_device(project, id)


# ----------------------------------------------------------------------------------------------------------- all loads
def set_hinges(project: Project, hinges: int) -> Project:
    """Say how many hinges share the load."""
    return with_loads(project, hinges=hinges)


def set_temperature(project: Project, temperature: float | None) -> Project:
    """Say at how many °C the struts work, or with None at the 20 °C at which makers state their force."""
    return with_loads(project, temperature=temperature)


def set_pin_friction(project: Project, friction: PinFriction | None) -> Project:
    """Say how the pins rub, or with None that they don't."""
    return with_loads(project, pin_friction=friction)


def rub_pins(project: Project, **fields: Any) -> Project:  # noqa: ANN401  a figure of the friction
    """Change `pin_radius` (mm) or `coefficient` of the pins' friction; with both 0 they don't rub."""
    new = replace(pin_friction_of(project), **fields)
    return set_pin_friction(project, None if new == PinFriction(0.0, 0.0) else new)


def pin_friction_of(project: Project) -> PinFriction:
    """Give how the pins rub; not at all where nobody said."""
    return _loads(project).pin_friction or PinFriction(0.0, 0.0)


def want_lifting(project: Project, **fields: Any) -> Project:  # noqa: ANN401  any field of the wants
    """Change some of what is wanted of lifting; None (False) wants nothing of that kind."""
    new = replace(lift_wants_of(project), **fields)
    return set_lift_wants(project, None if new == LiftWants() else new)


def lift_wants_of(project: Project) -> LiftWants:
    """Give what is wanted of lifting; nothing where nobody said."""
    return _loads(project).wants or LiftWants()


def want_worst(project: Project, **fields: Any) -> Project:  # noqa: ANN401  any field of the worst case
    """Change what may go against the open panel at worst; it is wanted to stay open in that case then."""
    old = lift_wants_of(project).stays_open_in or WORST
    return want_lifting(project, stays_open_in=replace(old, **fields))


def set_lift_wants(project: Project, wants: LiftWants | None) -> Project:
    """Say what is wanted of lifting, or with None nothing."""
    return with_loads(project, wants=wants)


def with_loads(project: Project, **fields: Any) -> Project:  # noqa: ANN401  any field of the loads
    """The project with some fields of its loads changed; loads that say nothing are None."""
    old = project.loads
    new = replace(old or Loads(), **fields)
    if old is not None and new == old:
        return project
    kept = None if new == Loads() else new
    return project if kept is None and old is None else replace(project, loads=kept)


def _loads(project: Project) -> Loads:
    """The loads, as much as nothing where nobody said anything."""
    return project.loads or Loads()


def _is_other(project: Project, name: str) -> bool:
    """Whether a gap want that names this means an outline or a link."""
    return any(part.id == name for parts in (project.links, project.outlines) for part in parts)


def _gaps_follow(project: Project, id: str, new_id: str) -> tuple[GapWant, ...]:
    """The gap wants, following a device's new name.

    ProjectError where wants of it would come to mean an outline or a link.
    """
    if new_id == id or _is_other(project, id) or not any(id in gap.between for gap in project.gaps):
        return project.gaps
    if _is_other(project, new_id):
        what = f"{shown(new_id)} is an outline or a link, and gaps are watched of {shown(id)}"
        raise ProjectError(what, f"device {shown(id)}", "Give it a name of its own.")
    return tuple(replace(gap, between=_renamed(gap.between, id, new_id)) for gap in project.gaps)


def _renamed(between: tuple[str, str], id: str, new_id: str) -> tuple[str, str]:
    one, other = (new_id if name == id else name for name in between)
    return one, other
