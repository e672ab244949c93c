"""The parts of a mount as they are cut: bracket blank, doubler, webs, base plate, backing plate, gussets.

Each in coordinates of its own. Slots and bolt holes are contours beside the pin holes; *bend lines* are the middles of
bends, and lines at which another part stands (`Part.bends` has both: neither is cut). The bracket is bent, so its blank
is of one hand; the others lie the same from both sides.
"""

from __future__ import annotations

import math
from dataclasses import replace
from types import MappingProxyType
from typing import TYPE_CHECKING

from kinematics import sheet_metal
from kinematics.cutting import Hole, Line, Part, clipped
from kinematics.mount_shapes import CORNER, gusset, rectangle, slot, web
from kinematics.mounting import base_made, bracket_made, web_places
from kinematics.wall_feet import lower_by
from kinematics.wall_parts import HANDS
from kinematics.walling import FLAT, bevels_of, wedge

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from kinematics.contours import Contour
    from kinematics.hardware import Hardware
    from kinematics.mounting import BaseMade, BracketMade
    from kinematics.project import Project

SLOT_WIDER, SLOT_LONGER = 0.2, 0.4
"""Mm by which a tab's slot is wider and longer than the tab (common practice, no source)."""
TICKS = 10.0
"""Mm between the ticks that mark a weld, about."""
KIND = "mount"
Further = tuple[str, complex, float]
"""A further hole: link, place (shut), diameter."""
NOTHING: Mapping[str, Sequence[Line]] = MappingProxyType({})


def mount_parts(
    project: Project,
    hardware: Hardware,
    holes: Iterable[Further] = (),
    lines: Mapping[str, Sequence[Line]] | None = None,
) -> tuple[Part, ...]:
    """All parts of one hinge's mounts that somebody asked for; what can't be laid out is left out.

    holes : further round ones in webs: the link's id, place (mm, shut), diameter.   lines : that are scribed on webs,
    by link (mm, shut).
    """
    holes, scribed = tuple(holes), lines or {}
    told, found = project.mounted, []
    if told.bracket is not None:
        bracket = bracket_made(project, told.bracket, hardware)
        found += [] if bracket is None else bracket_parts(project, bracket, holes, scribed)
    if told.base is not None:
        base = base_made(project, told.base, hardware)
        found += [] if base is None else base_parts(project, base, holes, scribed)
    return tuple(_centred(part) for part in found)


def _centred(part: Part) -> Part:
    """The part about the middle of its area, where its mark is written."""
    return part.moved(0.0, -part.outer.centre)


def bracket_parts(
    project: Project, made: BracketMade, more: Iterable[Further] = (), lines: Mapping[str, Sequence[Line]] = NOTHING
) -> list[Part]:
    """Blank of the bracket, and its doubler."""
    link, part, parts = project.panel.id, made.part, []
    middle = 0.5 * (made.foot[0] + made.foot[1])
    if made.blank is not None:
        bend, begins = made.bend, made.bend.setback
        line = begins - bend.allowance / 2.0
        holes = tuple(Hole(pin, at - middle, cut) for pin, at, cut in made.pins)
        lengthened = bend.deduction  # what lies beyond the corner comes nearer when the blank is laid flat
        slots = tuple(
            slot(complex(bolt.imag, lengthened - bolt.real), made.thread.clearance, 2.0 * part.fore_aft, 1.0 + 0j)
            for bolt in made.bolts
        )
        half = 0.5 * (made.foot[1] - made.foot[0]) - CORNER
        outer = made.blank.moved(0.0, complex(-middle, 0.0))
        bends = ((complex(-half, line), complex(half, line)), *_scribed(link, made, outer, lines))
        parts.append(
            Part(
                KIND,
                link,
                "bracket",
                outer,
                holes,
                (*slots, *_further(link, made, more)),
                bends,
                part.thickness,
                1,
                made.density,
                "left",
            )
        )
    if part.doubler > 0.0:
        parts.append(_doubler(link, made))
    return parts


def _doubler(link: str, made: BracketMade) -> Part:
    """A plate as large as the bolts with their slots and a margin all round; its slots run across."""
    part, radius = made.part, made.thread.clearance / 2.0
    across = [bolt.real for bolt in made.bolts]
    middle = 0.5 * (min(across) + max(across))
    height = max(across) - min(across) + 2.0 * (part.side + radius + part.doubler_margin)
    width = 2.0 * (max(abs(bolt.imag) for bolt in made.bolts) + part.fore_aft + radius + part.doubler_margin)
    slots = tuple(
        slot(complex(bolt.imag, bolt.real - middle), made.thread.clearance, 2.0 * part.side, 1j) for bolt in made.bolts
    )
    outer = rectangle(width, height, min(6.0, part.doubler_margin))
    return Part(KIND, link, "doubler", outer, (), slots, (), part.doubler, 1, made.density)


def base_parts(
    project: Project, made: BaseMade, more: Iterable[Further] = (), lines: Mapping[str, Sequence[Line]] = NOTHING
) -> list[Part]:
    """Web, base plate, tapered shims, backing plate, gussets."""
    link, part, parts = project.fixed.id, made.part, []
    middle = 0.5 * (made.foot[0] + made.foot[1])
    if made.web is not None:
        holes = tuple(Hole(pin, at - middle, cut) for pin, at, cut in made.pins)
        outer = _web_as_cut(project, made, made.web).moved(0.0, complex(-middle, 0.0))
        parts.append(
            Part(
                KIND,
                link,
                "base web",
                outer,
                holes,
                _further(link, made, more),
                _scribed(link, made, outer, lines),
                part.web,
                part.webs,
                made.density,
            )
        )
    outer = rectangle(part.width, made.height, part.corner)
    holds = tuple(slot(bolt, made.thread.clearance, 2.0 * part.up_down, 1j) for bolt in made.bolts)
    slots, scribed = (*holds, *_tab_slots(made)), (*_stands(project, made), *_welded(project, made))
    plate = Part(KIND, link, "base plate", outer, (), slots, scribed, part.plate, 1, made.density)
    parts.append(replace(plate, note=weld_note(made)))
    parts += _tapered(project, made, outer, holds)
    if part.backing > 0.0:
        taps = tuple(slot(bolt, made.thread.drill, 0.0, 1j) for bolt in made.bolts)
        parts.append(Part(KIND, link, "backing plate", outer, (), taps, (), part.backing, 1, made.density))
    if part.gussets:
        shape = gusset(part.gusset, 1.5 * sheet_metal.leg(made.throat))
        parts.append(Part(KIND, link, "gusset", shape, (), (), (), part.web, 2 * part.gussets, made.density))
    return parts


def weld_note(made: BaseMade) -> str:
    """What the base plate says of the fillets along its webs: their throat, and on which side of a web they run."""
    side = made.part.weld_side
    return f"weld a{made.throat:.1f} on {'both sides' if side == 'both' else f'the {side}'}"


def _further(link: str, made: BracketMade | BaseMade, more: Iterable[Further]) -> tuple[Contour, ...]:
    """Further round holes in a web, from its foot's middle."""
    middle = 0.5 * (made.foot[0] + made.foot[1])
    return tuple(slot(made.seat.seen(at) - middle, size, 0.0, 1j) for on, at, size in more if on == link)


def _scribed(
    link: str, made: BracketMade | BaseMade, outer: Contour, lines: Mapping[str, Sequence[Line]]
) -> tuple[Line, ...]:
    """Lines on a web with this edge, from its foot's middle."""
    middle = 0.5 * (made.foot[0] + made.foot[1])
    seen = [(made.seat.seen(a) - middle, made.seat.seen(b) - middle) for a, b in lines.get(link, ())]
    return clipped(outer, seen)


def _tab_slots(made: BaseMade) -> tuple[Contour, ...]:
    """The slots in the base plate for the webs' tabs."""
    part = made.part
    shape = rectangle(part.web + SLOT_WIDER, part.tab + SLOT_LONGER)
    return tuple(shape.moved(0.0, complex(x, tab)) for x in web_places(made) for tab in made.tabs)


def _stands(project: Project, made: BaseMade) -> tuple[tuple[complex, complex], ...]:
    """Lines on the base plate at which the webs' sides stand, left of each slot and right of it.

    Ground feet stand wider apart, as they meet the plate at the bevel: by 1 / cos B, the steeper hand's.
    """
    half, side = 0.5 * (made.foot[1] - made.foot[0]), 0.5 * made.part.web
    wider = _wider(project, made)
    places = [(x + way * side) * wider for x in web_places(made) for way in (-1.0, 1.0)]
    return tuple((complex(x, -half), complex(x, half)) for x in places)


def _wider(project: Project, made: BaseMade) -> float:
    """By how much ground feet are wider apart on the plate than where the webs stand square."""
    steepest = max((abs(bevel) for bevel in bevels_of(project, made.part)), default=0.0) if made.ground else 0.0
    return 1.0 / math.cos(math.radians(steepest))


def _welded(project: Project, made: BaseMade) -> tuple[Line, ...]:
    """Ticks on the base plate, as long as the weld is wide, on those sides of the webs that are welded."""
    half, side, wider = 0.5 * (made.foot[1] - made.foot[0]), 0.5 * made.part.web, _wider(project, made)
    ways = {"both": (-1.0, 1.0), "left": (-1.0,), "right": (1.0,)}[made.part.weld_side]
    count = max(int(2.0 * half / TICKS), 2)
    ticks = [half * ((2.0 * k + 1.0) / count - 1.0) for k in range(count)]
    leg = sheet_metal.leg(made.throat)
    return tuple(
        (complex((x + way * side) * wider, y), complex((x + way * side) * wider + way * leg, y))
        for x in web_places(made)
        for way in ways
        for y in ticks
    )


def _web_as_cut(project: Project, made: BaseMade, laid_out: Contour) -> Contour:
    """The web with what is ground off its foot left on it."""
    lower = lower_by(project, made)
    if lower == 0.0:
        return laid_out
    return web([at for _, at, _ in made.pins], made.eye, made.foot, -lower)


def _tapered(project: Project, made: BaseMade, outer: Contour, holds: Sequence[Contour]) -> list[Part]:
    """The tapered shims, as large as the base plate and with its slots: one for both hands where these are alike, as
    it is turned round for the other, else one for each. Cut from stock as thick as the thick end.
    """
    wedges = [wedge(project, made.part, hand) for hand in HANDS] if project.walled.trued == "shim" else []
    told = [each for each in wedges if each is not None]
    if all(each.rise < FLAT for each in told):
        return []
    alike = abs(told[0].thick - told[-1].thick) < 1e-6
    return [
        Part(
            KIND, project.fixed.id, "tapered shim", outer, (), tuple(holds), (), each.thick, 1, made.density,
            "" if alike else each.hand, (each.thin, each.thick),
        )
        for each in (told[:1] if alike else told)
    ]  # fmt: skip
