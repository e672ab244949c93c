"""The mount as it is made: bracket and base laid out from the pins, with bolts, slots, bends, welds, and what is wrong.

Both lie in the frame of the face that they are held at (`kinematics.faces`): u along it, v off it, to the pins. Their
*seat* is where bracket or base plate begins: the face, raised by doubler or shims. The *web* is a band laid round the
pins' eyes and the foot at the seat. Of the base, tabs stick out of its foot through the base plate; of the bracket, a
flange is bent off it by 90° less or more the skin's lean.

Nothing is typed twice: bolts come from the tables (`Hardware`) by their thread, pins' holes from the joints. Where a
thread is in no table, a fault says so and plain figures stand in. Lengths mm. Common practice, no source: a bolt's
middle two diameters from an edge, engagement in a tapped hole of one diameter in steel, a slot 0.2 wider than its tab.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from kinematics import sheet_metal
from kinematics.errors import HingewrightError
from kinematics.faces import pins_of, skin, wall
from kinematics.joints_made import joint_of
from kinematics.mount_shapes import feet, tabbed, web
from kinematics.threads import thread_of
from kinematics.walling import is_ground, shim_middle

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kinematics.contours import Contour
    from kinematics.faces import Face
    from kinematics.hardware import Hardware
    from kinematics.mount_parts import Base, Bracket
    from kinematics.project import Link, Project
    from kinematics.threads import Thread

Pin = tuple[str, complex, float]
"""Id, place in the seat's frame, diameter that is cut for it."""
EDGE, ENGAGED = 2.0, 1.0
"""Over a bolt's diameter: from its middle to an edge, and thread that must be engaged in steel."""
FOOT = 60.0
"""Mm of foot at least where nobody says."""
ROUND = 10.0
"""Mm of base plate beyond the foot, for the weld to run round its end."""
LOOSE = 0.1
"""Mm by which a bar that holds plates in line while they are tacked is thinner than their holes as cut."""
MOST_BOLTS = 40
LEAST = 1.0
"""Mm: rows of bolts that would be nearer to each other are one."""


@dataclass(frozen=True, slots=True)
class MountFault:
    """What is wrong with a mount.

    kind : "behind" (a pin's eye reaches behind the seat), "near" (an eye nearer to the skin than wanted), "shape"
    (no web can be laid out), "radius", "flange", "hole at bend", "edge" (bolts nearer to an edge), "pitch" (too many
    bolts), "under web" (a bolt where the web stands), "thread" (in no table), "engaged" (too little thread), "weld
    thin", "weld thick", "weld counts" (too thin to be reckoned with), "tabs" (don't fit), "gusset" (reaches the bolts).
    of : "bracket" or "base".   pin : whose eye, or "".   have, want : mm.   is_caution : whether it can be made so.
    """

    kind: str
    of: str
    pin: str = ""
    have: float | None = None
    want: float | None = None
    is_caution: bool = False


@dataclass(frozen=True, slots=True)
class Bend:
    """The bracket's bend: angle (deg), inner radius, k, and the lengths that follow (`kinematics.sheet_metal`)."""

    angle_deg: float
    radius: float
    k: float
    allowance: float
    setback: float
    deduction: float
    least: float


@dataclass(frozen=True, slots=True, eq=False)
class BracketMade:
    """The bracket.   face, seat : skin and where the flange lies.   foot : from … to along it.   eye : radius.

    web : its contour with the flange laid flat, in the seat's frame; None where there is none.   flange : outside.
    bolts : (across from the web's plane, along) of each bolt, from the foot's middle.   clear : least way from an eye
    to the skin.
    """

    part: Bracket
    face: Face
    seat: Face
    pins: tuple[Pin, ...]
    eye: float
    foot: tuple[float, float]
    blank: Contour | None
    bend: Bend
    flange: float
    thread: Thread
    bolts: tuple[complex, ...]
    clear: float
    density: float
    faults: tuple[MountFault, ...]


@dataclass(frozen=True, slots=True, eq=False)
class BaseMade:
    """The base.   pins : id, place in the seat's frame, diameter that is cut.   web : contour there, None: none.

    tabs : their middles along the foot, from its middle.   bolts : (across, along) from the plate's middle.   bars :
    (pin, diameter) of the bar that holds the webs in line while they are tacked.   throat : of the welds; weld : mm of
    them for one base.   ground : whether the feet are ground to a bevel: a foot that goes to the belt has no tabs.
    """

    part: Base
    face: Face
    seat: Face
    pins: tuple[Pin, ...]
    eye: float
    foot: tuple[float, float]
    web: Contour | None
    tabs: tuple[float, ...]
    height: float
    edge: float
    thread: Thread
    bolts: tuple[complex, ...]
    bars: tuple[tuple[str, float], ...]
    throat: float
    weld: float
    density: float
    ground: bool
    faults: tuple[MountFault, ...]


# ------------------------------------------------------------------------------------------------------------- bracket
def bracket_made(project: Project, part: Bracket, hardware: Hardware) -> BracketMade | None:
    """Lay the panel's bracket out; None where the panel has no pins."""
    face = skin(project, part)
    if face is None:
        return None
    seat = face.raised(part.doubler + part.shims)
    link, thread = project.panel, thread_of(part.bolt, hardware)
    sheet = project.plating.of(link.id, link.width)
    eye, density = sheet.radius or 0.0, sheet.density or 0.0
    pins = _seen(project, link, seat, hardware)
    bend = bend_of(part, density)
    spread = (part.columns - 1) * part.pitch + 2.0 * (part.fore_aft + EDGE * thread.diameter)
    foot = _foot(pins, eye, part.foot, spread, _typed(part))
    rows = (part.rows - 1) * part.row_pitch
    first = bend.setback + sheet_metal.HOLE_OFF * part.thickness + thread.clearance / 2.0
    flange = part.flange or first + rows + EDGE * thread.diameter
    bolts = _grid(part, first)
    blank, wrong = _laid(pins, eye, foot, (bend.setback, bend.setback - flange + _flat(bend)))
    clear = min(at.imag for _, at, _ in pins) - eye + part.doubler + part.shims
    faults = _bracket_faults(part, bend, flange, foot, thread, bolts, clear)
    return BracketMade(
        part, face, seat, pins, eye, foot, blank, bend, flange, thread, bolts, clear, density, (*wrong, *faults)
    )


def standing(made: BracketMade) -> Contour | None:
    """The bracket as it stands in the side view, down to its seat: the flange is bent off, not below it.

    In the seat's frame; None where it can't be laid out.
    """
    if made.blank is None:
        return None
    shape = web([at for _, at, _ in made.pins], made.eye, made.foot, made.bend.setback)
    try:
        return feet(shape, made.foot, made.bend.setback, 0.0)
    except HingewrightError:  # the bend is lower than the rounds of a flange
        return shape


def bend_of(part: Bracket, density: float) -> Bend:
    """The bend between web and flange."""
    angle = 90.0 - part.lean_deg
    least = sheet_metal.least_radius(part.thickness, density)
    radius = part.inside_radius or least
    k = part.k_factor or sheet_metal.k_factor(radius, part.thickness)
    return Bend(
        angle,
        radius,
        k,
        sheet_metal.allowance(angle, radius, part.thickness, k),
        sheet_metal.setback(angle, radius, part.thickness),
        sheet_metal.deduction(angle, radius, part.thickness, k),
        least,
    )


def _flat(bend: Bend) -> float:
    """How much higher the flange's edge lies in the blank than were it folded down about the sharp corner."""
    return bend.deduction - bend.setback


def _grid(part: Bracket, first: float) -> tuple[complex, ...]:
    """Bolts: across from the outer corner of the bend, along from the foot's middle."""
    along = [(k - 0.5 * (part.columns - 1)) * part.pitch for k in range(part.columns)]
    return tuple(complex(first + row * part.row_pitch, u) for row in range(part.rows) for u in along)


def _laid(
    pins: Sequence[Pin], eye: float, foot: tuple[float, float], flange: tuple[float, float]
) -> tuple[Contour | None, tuple[MountFault, ...]]:
    """The blank: the web down to where the bend begins, and the flange flat below it; or what is wrong."""
    begins, ends = flange
    behind = _behind([pin for pin in pins if not _is_beside(pin[1], eye, foot, begins)], eye, begins, "bracket")
    if behind:
        return None, behind
    try:
        shape = web([at for _, at, _ in pins], eye, foot, begins)
        return feet(shape, foot, begins, ends), ()
    except HingewrightError:
        return None, (MountFault("shape", "bracket"),)


def _is_beside(at: complex, eye: float, foot: tuple[float, float], begins: float) -> bool:
    """Whether a pin's eye lies beside a bracket's foot, as far from it as its bend is high, and not behind the seat."""
    return at.imag >= eye and (at.real - eye >= foot[1] + begins or at.real + eye <= foot[0] - begins)


def _behind(pins: Sequence[Pin], eye: float, low: float, of: str) -> tuple[MountFault, ...]:
    """The pins whose eyes reach below v = low."""
    return tuple(MountFault("behind", of, pin, at.imag - eye, low) for pin, at, _ in pins if at.imag - eye < low)


def _bracket_faults(
    part: Bracket,
    bend: Bend,
    flange: float,
    foot: tuple[float, float],
    thread: Thread,
    bolts: Sequence[complex],
    clear: float,
) -> tuple[MountFault, ...]:
    """What is wrong with a bracket's sizes."""
    half, radius = 0.5 * (foot[1] - foot[0]), thread.clearance / 2.0
    to_end = half - max(abs(bolt.imag) for bolt in bolts) - part.fore_aft
    to_edge = min(to_end, flange - max(bolt.real for bolt in bolts))
    to_bend = min(bolt.real for bolt in bolts) - radius - bend.setback
    short = sheet_metal.least_flange(bend.radius, part.thickness)
    looked = (
        ("near", clear, part.clearance, False),
        ("radius", bend.radius, bend.least, False),
        ("flange", flange, short, False),
        ("hole at bend", to_bend, sheet_metal.HOLE_OFF * part.thickness, True),
        ("edge", to_edge, 1.5 * thread.diameter, True),
    )
    found = [
        MountFault(kind, "bracket", "", have, want, caution)
        for kind, have, want, caution in looked
        if have < want - 1e-9
    ]
    return (*found, *_unknown_thread(thread, "bracket"))


# ---------------------------------------------------------------------------------------------------------------- base
def base_made(project: Project, part: Base, hardware: Hardware) -> BaseMade | None:
    """Lay the wall's base out; None where the fixed link has no pins."""
    face = wall(project, part)
    if face is None:
        return None
    seat = face.raised(part.plate + part.shims + shim_middle(project, part))
    link, thread = project.fixed, thread_of(part.bolt, hardware)
    sheet = project.plating.of(link.id, link.width)
    eye, density = sheet.radius or 0.0, sheet.density or 0.0
    pins = _seen(project, link, seat, hardware)
    edge = part.edge or EDGE * thread.diameter
    asked = None if part.height is None else max(part.height - 2.0 * ROUND, 1.0)
    foot = _foot(pins, eye, asked, max(FOOT, 4.0 * (edge + part.up_down) - 2.0 * ROUND), _typed(part))
    height = part.height or foot[1] - foot[0] + 2.0 * ROUND
    bolts = perimeter(part.width - 2.0 * edge, height - 2.0 * (edge + part.up_down), part.pitch)
    length = foot[1] - foot[0]
    ground = is_ground(project, part)
    tabs = () if ground else tuple(((k + 0.5) / part.tabs - 0.5) * length for k in range(part.tabs))
    shape, wrong = _web(pins, eye, foot, part, tabs)
    throat = part.weld or sheet_metal.usual_throat(part.plate, part.web)
    sides = 2 if part.weld_side == "both" else 1
    gussets = 2 * part.gussets * 4.0 * part.gusset
    weld = part.webs * (sides * length + 2.0 * part.web) + gussets
    faults = _base_faults(part, foot, height, edge, thread, bolts, throat)
    bars = tuple((pin, math.floor((cut - LOOSE) * 10.0 + 1e-6) / 10.0) for pin, _, cut in pins)
    return BaseMade(
        part, face, seat, pins, eye, foot, shape, tabs, height, edge, thread, bolts, bars, throat, weld, density,
        ground, (*wrong, *faults),
    )  # fmt: skip


def _typed(part: Base | Bracket) -> float | None:
    """Where the foot's middle is: at a place that somebody typed, else below the pins."""
    return 0.0 if part.at is not None else None


def perimeter(width: float, height: float, pitch: float) -> tuple[complex, ...]:
    """Bolts round a rectangle, one at each corner, evenly between and no further apart than `pitch`: across + i·along.

    A side of no length has one row of bolts; more than MOST_BOLTS stand along none, whatever the pitch.
    """
    width, height = max(width, 0.0), max(height, 0.0)
    across, along = (_between(side, pitch) for side in (width, height))
    x = [width * (k / across - 0.5) for k in range(across + 1)] if width > LEAST else [0.0]
    y = [height * (k / along - 0.5) for k in range(along + 1)] if height > LEAST else [0.0]
    ends = {x[0], x[-1]}, {y[0], y[-1]}
    return tuple(complex(a, b) for b in y for a in x if a in ends[0] or b in ends[1])


def _between(side: float, pitch: float) -> int:
    """How many spaces between bolts there are along a side."""
    return max(math.ceil(min(side / pitch, MOST_BOLTS) - 1e-9), 1)


def _web(
    pins: Sequence[Pin], eye: float, foot: tuple[float, float], part: Base, tabs: Sequence[float]
) -> tuple[Contour | None, tuple[MountFault, ...]]:
    """The web with its tabs, or what is wrong."""
    behind = _behind(pins, eye, 0.0, "base")
    if behind:
        return None, behind
    try:
        middle = 0.5 * (foot[0] + foot[1])
        shape = web([at for _, at, _ in pins], eye, foot, 0.0)
        return tabbed(shape, [middle + each for each in tabs], part.tab, part.plate), ()
    except HingewrightError as error:
        return None, (MountFault("tabs" if error.where == "tabs" else "shape", "base"),)


def _base_faults(
    part: Base,
    foot: tuple[float, float],
    height: float,
    edge: float,
    thread: Thread,
    bolts: Sequence[complex],
    throat: float,
) -> tuple[MountFault, ...]:
    """What is wrong with a base's sizes."""
    least, most = sheet_metal.throats(part.plate, part.web)
    across = 0.5 * (part.webs * part.web + (part.webs - 1) * part.apart) + sheet_metal.leg(throat) + thread.washer
    along = 0.5 * (foot[1] - foot[0]) + sheet_metal.leg(throat) + thread.washer + part.up_down
    under = [across - abs(bolt.real) for bolt in bolts if abs(bolt.real) < across and abs(bolt.imag) < along]
    inner = min((abs(bolt.real) for bolt in bolts if abs(bolt.imag) < 0.5 * part.gusset + thread.washer), default=1e9)
    room = inner - thread.washer - 0.5 * (part.webs * part.web + (part.webs - 1) * part.apart)
    found = []
    if max(part.width - 2.0 * edge, height - 2.0 * (edge + part.up_down)) > MOST_BOLTS * part.pitch:
        found.append(MountFault("pitch", "base", "", part.pitch))
    if edge < 1.5 * thread.diameter - 1e-9 or part.width < 2.0 * edge or height < 2.0 * (edge + part.up_down):
        found.append(MountFault("edge", "base", "", min(edge, part.width / 2.0, height / 2.0), 1.5 * thread.diameter))
    if under:
        found.append(MountFault("under web", "base", "", max(under)))
    if part.gussets and part.gusset > room:
        found.append(MountFault("gusset", "base", "", part.gusset, max(room, 0.0), is_caution=True))
    if 0.0 < part.backing < ENGAGED * thread.diameter - 1e-9:
        found.append(MountFault("engaged", "base", "", part.backing, ENGAGED * thread.diameter))
    if throat < least - 1e-9:
        found.append(MountFault("weld thin", "base", "", throat, least, is_caution=True))
    if throat > most + 1e-9:
        found.append(MountFault("weld thick", "base", "", throat, most, is_caution=True))
    if throat < sheet_metal.CARRIES:
        found.append(MountFault("weld counts", "base", "", throat, sheet_metal.CARRIES, is_caution=True))
    return (*found, *_unknown_thread(thread, "base"))


# -------------------------------------------------------------------------------------------------------------- both
def _unknown_thread(thread: Thread, of: str) -> tuple[MountFault, ...]:
    return () if thread.known else (MountFault("thread", of),)


def _seen(project: Project, link: Link, seat: Face, hardware: Hardware) -> tuple[Pin, ...]:
    """A link's pins in a face's frame, each with the diameter that is cut for it."""
    found = []
    for pin, at in pins_of(project, link):
        hole = joint_of(project, pin, hardware).hole(link.id)
        found.append((pin, seat.seen(at), hole.cut_diameter))
    return tuple(found)


def _foot(
    pins: Sequence[Pin], eye: float, asked: float | None, least: float, middle: float | None
) -> tuple[float, float]:
    """From where to where the foot reaches along the face.   middle : None: half way between the pins."""
    along = [at.real for _, at, _ in pins]
    if middle is None:
        middle = 0.5 * (min(along) + max(along))
    half = 0.5 * (asked if asked is not None else max(max(along) - min(along) + 2.0 * eye, least))
    return middle - half, middle + half


def bolt_spans(bracket: BracketMade | None, base: BaseMade | None) -> tuple[float, float]:
    """How far apart the outermost rows of bolts are, along skin and wall; 0 where there is one row, or nothing."""
    along = [[bolt.imag for bolt in made.bolts] if made is not None else [0.0] for made in (bracket, base)]
    return max(along[0]) - min(along[0]), max(along[1]) - min(along[1])


def web_places(made: BaseMade) -> tuple[float, ...]:
    """How far each web's middle stands across from the base plate's middle."""
    off = 0.5 * (made.part.web + made.part.apart)
    return (0.0,) if made.part.webs == 1 else (-off, off)
