"""The joints of a project as they are built: which link's plates are outside, how thick, how far to their edges.

Of the links on a pin one has the *outer* plates, the others are *inner* ones (`kinematics.bearing`). One place says
what they are: where anything is said of what is built (plates, stack, mount), thickness, metal, edge distance and
number of the plates, the pin, its bushing and the washers are the joints' too. What the build says nothing of is as the
strength has it: the plates of fixed link and panel without a mount, all plates where links are mere bands.

How far apart plates stand follows from their layers. Where somebody set those by hand they are known; where they are
found it takes the whole travel, and joints have a washer between their plates until somebody who found them says so
(`Seen`). A bushing is as long as its plate allows of the lengths that
it is made in.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from kinematics import strength as formulas
from kinematics.bearing import bearing_in_layers, holding
from kinematics.build_parts import PAIR, PLATES, Stack
from kinematics.plating import are_said, sheet_of
from kinematics.strength_parts import Joint, joint_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from kinematics.bearing import Bearing
    from kinematics.build_parts import PinChoice, Plate, Plates
    from kinematics.mount_parts import Mount
    from kinematics.parts import Link
    from kinematics.project import Project
    from kinematics.strength_parts import Strength

LEAST_EDGE = 1.5
"""From a hole's centre to the plate's edge it is so many times the hole at least (common practice, no source; codes for
steel structures allow 1.2: EN 1993-1-8, table 3.3)."""
USUAL_WALL = 0.25
"""Of a bushing's bore, where nobody says how thick its wall is: as much as standard ones have at most (ISO 4379)."""


class Seen(NamedTuple):
    """What only the whole stack tells of a pin: how its plates load it, and its bushing.

    housing : the hole for it.   pressed : mm of the pin on which bushings (or inner plates) press.
    """

    pivot: str
    bearing: Bearing | None
    housing: float | None
    pressed: float


class Build(NamedTuple):
    """What joints are made of, besides the strength: what stays while pins are dragged.

    pins : with the links on each.   links : with kind and width.   plated : plates of links, and of brackets that a
    mount says.   stack : None where nothing is said of what is built.   sheets : thickness by link, where layers were
    set by hand.   seen : what is known of the whole stack.
    """

    pins: tuple[tuple[str, tuple[str, ...]], ...]
    links: tuple[tuple[str, str, float], ...]
    plated: tuple[Plate, ...] = ()
    stack: Stack | None = None
    sheets: tuple[tuple[str, float], ...] = ()
    seen: tuple[Seen, ...] = ()


@dataclass(frozen=True, slots=True)
class HolePlates:
    """The plates of one link at one pin.

    thickness : mm, of all of them together.   hole : mm.   pressure : MPa per N in the hole.   bushed : whether a
    bushing sits in it.   edge, width : mm from the hole's centre to the edge, and across the plate; None: not known.
    offset : mm, by which a single plate that holds the pin is pulled beside its middle, else 0.
    """

    thickness: float
    hole: float
    pressure: float
    bushed: bool
    edge: float | None
    width: float | None
    offset: float


@dataclass(frozen=True, slots=True)
class LinkPlates:
    """A link's plates as one of its joints has them: thickness of all together and of each, what they bear (MPa)."""

    thickness: float
    single: float
    yields: float
    modulus: float
    factor: float


@dataclass(frozen=True, slots=True, eq=False)
class Made:
    """A joint, the link outside and those inside.

    factor, seconds : safety wanted, and time for the opening.   plates : of each of its links.
    """

    joint: Joint
    outer: str
    inner: tuple[str, ...]
    factor: float
    seconds: float
    plates: Mapping[str, HolePlates]

    @property
    def links(self) -> tuple[str, ...]:
        """All links on it."""
        return (self.outer, *self.inner)

    @property
    def stack(self) -> tuple[float, float, float]:
        """The length on which the inner plate (or its bushing) presses, an outer plate, a washer; mm."""
        return stack_of(self.joint)


def stack_of(joint: Joint) -> tuple[float, float, float]:
    """As `Made.stack`."""
    return (joint.pressed, joint.outer, joint.washer)


def made_joints(project: Project) -> tuple[Made, ...]:
    """The joint of every pivot; () where the project says nothing of pins and plates."""
    return tuple(joint_by_pivot(project).values())


def joint_by_pivot(project: Project) -> Mapping[str, Made]:
    """The same by pivot."""
    return {} if project.strength is None else made_of(project.strength, build_of(project))


def is_built(project: Project) -> bool:
    """Whether anything is said of what is built: plates, stack, or mount."""
    mount = project.mounted
    return are_said(project) or isinstance(project.stack, Stack) or bool(mount.base or mount.bracket)


def build_of(project: Project, seen: tuple[Seen, ...] = ()) -> Build:
    """What is built.   seen : what is known of the whole stack."""
    pins = tuple((pivot.id, pivot.joins) for pivot in project.pivots)
    links = tuple((link.id, link.kind, link.width) for link in project.links)
    if not is_built(project):
        return Build(pins, links, seen=seen)
    stack = project.stacking
    used = {link for pivot in project.pivots for link in pivot.joins} if stack.layers else set()
    sheets = tuple((link.id, sheet_of(project, link.id)[0]) for link in project.links if link.id in used)
    return Build(pins, links, _plated(project.plating, project.links, project.mounted), stack, sheets, seen)


@lru_cache(maxsize=16)
def _plated(plates: Plates, links: tuple[Link, ...], mount: Mount) -> tuple[Plate, ...]:
    """Plates as they are built, of the links that something is said of; they stay while pins are dragged."""
    found = []
    for link in links:
        plate = plates.of(link.id, link.width)
        if link.kind == "fixed" and mount.base is not None:
            found.append(replace(plate, thickness=mount.base.web, count=mount.base.webs))
        elif link.kind == "panel" and mount.bracket is not None:
            found.append(replace(plate, thickness=mount.bracket.thickness, count=PLATES))
        elif plates.is_said and link.kind == "link":
            found.append(plate)
    return tuple(found)


@lru_cache(maxsize=16)
def made_of(strength: Strength, build: Build) -> Mapping[str, Made]:
    """The joints, by pivot."""
    brackets = {id for id, kind, _ in build.links if kind != "link"}
    widths = {id: width for id, _, width in build.links}
    built = {plate.link: plate for plate in build.plated}
    counts = {link: plate.count or PLATES for link, plate in built.items()}
    seen = {each.pivot: each for each in build.seen}
    found = {}
    for pin, joins in build.pins:
        joint = joint_of(strength, pin)
        outer = holding(joint.outer_link, joins, counts, brackets)
        inner = tuple(link for link in joins if link != outer)
        if build.stack is not None:
            joint = _as_chosen(joint, build.stack.of(pin, strength), build.stack.washer)
        joint = _as_plated(joint, built.get(outer), [built[link] for link in inner if link in built])
        joint = _as_seen(joint, seen[pin]) if pin in seen else _in_layers(joint, build, joins, outer)
        plates = {
            link: _plates(*_reach(joint, widths[link], built.get(link)), is_outer=link == outer) for link in joins
        }
        found[pin] = Made(joint, outer, inner, strength.factor, strength.opens_in_s, plates)
    return found


def _as_chosen(joint: Joint, choice: PinChoice, washer: float) -> Joint:
    """The joint with the pin that is built, its bushing, and a washer between plates; a rating of another kind of
    bushing is none.
    """
    diameter = choice.diameter or joint.diameter
    joint = replace(joint, diameter=diameter, pin_material=choice.metal or joint.pin_material, washer=washer)
    if choice.bushing == "none":
        return replace(joint, bushing=None, housing=None, pressed=joint.inner)
    rated = joint.bushing if joint.bushing is not None and joint.bushing.kind in (None, choice.bushing) else None
    housing = diameter + 2.0 * (choice.wall or USUAL_WALL * diameter)
    return replace(joint, bushing=rated, housing=housing, pressed=joint.inner if rated is None else rated.length)


def _as_plated(joint: Joint, outer: Plate | None, inner: list[Plate]) -> Joint:
    """The joint with what the links' plates say: thickness, metal (the weakest), and whether they are a pair."""
    if outer is not None:
        shear = "double" if outer.count == PAIR else "single"
        joint = replace(joint, outer=outer.thickness or joint.outer, shear=shear)
    if inner:
        sheets = [(plate.thickness or 0.0, plate.count or PLATES) for plate in inner]
        bushing = joint.bushing
        pressed = min((thick if bushing is None else bushing.in_plate(thick)) * count for thick, count in sheets)
        joint = replace(joint, inner=min(thick * count for thick, count in sheets), pressed=pressed)
    metals = [plate.metal for plate in (*inner, *([outer] if outer else [])) if plate.metal is not None]
    return replace(joint, plate_material=min(metals, key=lambda metal: metal.yield_mpa)) if metals else joint


def _in_layers(joint: Joint, build: Build, joins: tuple[str, ...], outer: str) -> Joint:
    """The joint with the way between its plates, where their layers were set by hand."""
    if build.stack is None or not build.stack.layers:
        return joint
    layers = {each.link: each.layers for each in build.stack.layers}
    found = bearing_in_layers(dict(build.sheets), layers, build.stack.washer, joins, outer)
    return joint if found is None else replace(joint, shear=found.shear, washer=found.apart)


def _as_seen(joint: Joint, seen: Seen) -> Joint:
    """The joint as the whole stack shows it."""
    joint = replace(joint, housing=seen.housing, pressed=seen.pressed)
    bearing = seen.bearing
    if bearing is None:
        return joint
    return replace(joint, shear=bearing.shear, outer=bearing.outer, washer=bearing.apart)


def _reach(joint: Joint, wide: float, plate: Plate | None) -> tuple[Joint, float]:
    """The joint with a link's edge distance at its pin, and the link's width there: of its plate, where it has one."""
    if plate is None:
        return joint, wide
    own = {eye.pivot: eye.radius for eye in plate.eyes}
    radius = own.get(joint.pivot, plate.radius or 0.0)
    return replace(joint, edge=radius), 2.0 * radius


def _plates(joint: Joint, wide: float, *, is_outer: bool) -> HolePlates:
    """A link's plates at a pin; wide : the link's width."""
    edge = joint.edge or (0.5 * wide if wide > 0.0 else None)
    width = wide if wide > 0.0 else None if edge is None else 2.0 * edge
    thick, hole = joint.inner, joint.diameter
    if not is_outer and joint.housing is None:
        return HolePlates(thick, hole, formulas.bearing(1.0, hole, thick), False, edge, width, 0.0)
    if not is_outer and joint.housing is not None:
        hole = joint.housing
        pressure = formulas.bearing(1.0, hole, min(joint.pressed, thick))
        return HolePlates(thick, hole, pressure, True, edge, width, 0.0)
    if joint.shear == "double":
        thick = 2.0 * joint.outer
        return HolePlates(thick, hole, formulas.bearing(1.0, hole, thick), False, edge, width, 0.0)
    arm = joint.washer + 0.5 * stack_of(joint)[0]
    pressure = formulas.stub_bearing(1.0, hole, joint.outer, arm)
    return HolePlates(joint.outer, hole, pressure, False, edge, width, arm + 0.5 * joint.outer)


def plates_of(joints: Iterable[Made], link: str) -> tuple[LinkPlates, ...]:
    """A link's plates as each of its joints has them."""
    found = []
    for made in joints:
        if link not in made.links:
            continue
        joint, is_outer = made.joint, made.outer == link
        single = joint.outer if is_outer else joint.inner
        many = 2 if is_outer and joint.shear == "double" else 1
        metal = joint.plate_material
        found.append(LinkPlates(many * single, single, metal.yield_mpa, metal.modulus_mpa, made.factor))
    return tuple(found)


def close_edges(project: Project) -> list[tuple[str, str]]:
    """(pivot, link) of the holes that stand nearer to their plate's edge than is usual."""
    return [
        (made.joint.pivot, link)
        for made in made_joints(project)
        for link in made.links
        if (edge := made.plates[link].edge) is not None and edge < LEAST_EDGE * made.plates[link].hole - 1e-9
    ]
