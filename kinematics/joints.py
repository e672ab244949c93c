"""The joints of a project as they are built: which link's plates are outside, how thick, how far to their edges.

Of the links on a pin one has the *outer* plates, the others are *inner* ones: what a joint names, else the fixed link
or the panel, whose brackets take the arms between them as a rule, else the first link that its pivot joins, one that
is built of a pair of plates before the others. Where the project says what its links' plates are, their thickness,
metal, edge distance and number are the joints' too: one place says them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from kinematics import strength as formulas
from kinematics.build_parts import PAIR
from kinematics.plating import are_said
from kinematics.strength_parts import Joint, joint_of

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping

    from kinematics.build_parts import Plate
    from kinematics.project import Project
    from kinematics.strength_parts import Strength

LEAST_EDGE = 1.5
"""From a hole's centre to the plate's edge it is so many times the hole at least (common practice, no source; codes for
steel structures allow 1.2: EN 1993-1-8, table 3.3)."""


Build = tuple[tuple[tuple[str, tuple[str, ...]], ...], tuple[tuple[str, str, float], ...], tuple["Plate", ...]]
"""What joints are made of, besides the strength."""


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
    return (joint.inner if joint.bushing is None else joint.bushing.length, joint.outer, joint.washer)


def made_joints(project: Project) -> tuple[Made, ...]:
    """The joint of every pivot; () where the project says nothing of pins and plates."""
    return tuple(joint_by_pivot(project).values())


def joint_by_pivot(project: Project) -> Mapping[str, Made]:
    """The same by pivot."""
    return {} if project.strength is None else made_of(project.strength, *build_of(project))


def build_of(project: Project) -> Build:
    """Pivots with the links on each, links with kind and width, plates: what stays while pins are dragged."""
    pins = tuple((pivot.id, pivot.joins) for pivot in project.pivots)
    links = tuple((link.id, link.kind, link.width) for link in project.links)
    return pins, links, _plated(project)


def _plated(project: Project) -> tuple[Plate, ...]:
    """The links' plates as they are built; none where the project says nothing of plates."""
    if not are_said(project):
        return ()
    return tuple(project.plating.of(link.id, link.width) for link in project.links if link.kind == "link")


@lru_cache(maxsize=16)
def made_of(
    strength: Strength,
    pins: tuple[tuple[str, tuple[str, ...]], ...],
    links: tuple[tuple[str, str, float], ...],
    plated: tuple[Plate, ...] = (),
) -> Mapping[str, Made]:
    """The joints, by pivot."""
    brackets = {id for id, kind, _ in links if kind != "link"}
    widths = {id: width for id, _, width in links}
    built = {plate.link: plate for plate in plated}
    found = {}
    for pin, joins in pins:
        joint = joint_of(strength, pin)
        outer = joint.outer_link if joint.outer_link in joins else usual_outer(_pairs_first(joins, built), brackets)
        inner = tuple(link for link in joins if link != outer)
        joint = _as_built(joint, built.get(outer or ""), [built[link] for link in inner if link in built])
        plates = {
            link: _plates(*_reach(joint, widths[link], built.get(link)), is_outer=link == outer) for link in joins
        }
        found[pin] = Made(joint, outer or joins[0], inner, strength.factor, strength.opens_in_s, plates)
    return found


def _pairs_first(joins: tuple[str, ...], built: Mapping[str, Plate]) -> tuple[str, ...]:
    """The links on a pin, those before the others that are a pair of plates: they lie outside."""
    return tuple(sorted(joins, key=lambda link: link not in built or built[link].count != PAIR))


def _as_built(joint: Joint, outer: Plate | None, inner: list[Plate]) -> Joint:
    """The joint with what the links' plates say: thickness, metal (the weakest), and whether they are a pair."""
    if outer is not None:
        shear = "double" if outer.count == PAIR else "single"
        joint = replace(joint, outer=outer.thickness or joint.outer, shear=shear)
    if inner:
        joint = replace(joint, inner=min((plate.thickness or 0.0) * (plate.count or 1) for plate in inner))
    metals = [plate.metal for plate in (*inner, *([outer] if outer else [])) if plate.metal is not None]
    return replace(joint, plate_material=min(metals, key=lambda metal: metal.yield_mpa)) if metals else joint


def _reach(joint: Joint, wide: float, plate: Plate | None) -> tuple[Joint, float]:
    """The joint with a link's edge distance at its pin, and the link's width there: of its plate, where it has one."""
    if plate is None:
        return joint, wide
    own = {eye.pivot: eye.radius for eye in plate.eyes}
    radius = own.get(joint.pivot, plate.radius or 0.0)
    return replace(joint, edge=radius), 2.0 * radius


def usual_outer(joins: tuple[str, ...], brackets: Collection[str]) -> str:
    """The link whose plates are outside where nobody says which; brackets : the fixed link and the panel."""
    return next((link for link in joins if link in brackets), joins[0])


def _plates(joint: Joint, wide: float, *, is_outer: bool) -> HolePlates:
    """A link's plates at a pin; wide : the link's width."""
    edge = joint.edge or (0.5 * wide if wide > 0.0 else None)
    width = wide if wide > 0.0 else None if edge is None else 2.0 * edge
    thick, hole, bushing = joint.inner, joint.diameter, joint.bushing
    if not is_outer and bushing is None:
        return HolePlates(thick, hole, formulas.bearing(1.0, hole, thick), False, edge, width, 0.0)
    if not is_outer and bushing is not None:
        hole = bushing.outside
        pressure = formulas.bearing(1.0, hole, min(bushing.length, thick))
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
