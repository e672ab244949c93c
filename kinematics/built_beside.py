"""The hinge as built beside the hinge as drawn: gaps, checks, what lies on the pins, and left against right.

Everything is said of two hinges that came out alike; how the two of a pair differ is told by itself:

*Left against right.* Both hinges carry one panel. At the same turn of it, each would have it at its own place; the two
places differ by a mere shift d (mm), which the panel, the mounts and the play must bear. With the hinges `spacing`
apart, it stands *askew*, turned about the upright by d_x over the spacing, so that its front edge goes sideways; and
it is *twisted*, turned about the way fore and aft by d_y over the spacing, so that one front corner stands above the
other. To first order, links and panel rigid.

*On a pin.* The pin was bought or made for the stack as drawn. As built it is thicker by the sheets on this pin, as far
as they and not a bushing that stands proud of them make up the stack, and by what is put on more; by so much less is
the end float. Washers and tubes count as drawn.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from kinematics.analysis import analyse
from kinematics.as_built import Built, MadeError, built_of
from kinematics.errors import ProjectError
from kinematics.made_parts import HANDS
from kinematics.rear_edge import front_point, rear_point

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kinematics.analysis import Analysis
    from kinematics.made_parts import HandMade
    from kinematics.project import Project
    from kinematics.results import Check, Gap
    from kinematics.stacking import PinStack, StackMade

POSES = 61
"""Openings at which left and right are compared."""


@dataclass(frozen=True, slots=True)
class PinBeside:
    """What lies on a pin: grip and end float (mm), as drawn and as built.   play : measured, None where nobody did."""

    pivot: str
    grip: tuple[float, float]
    end_float: tuple[float, float]
    play: float | None

    @property
    def is_changed(self) -> bool:
        """Whether its end float is another than drawn."""
        return abs(self.end_float[1] - self.end_float[0]) > 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class Beside:
    """One hinge as built.

    fault : why it can't be told, or "".   built, analysis : None then.
    """

    hand: str
    made: HandMade
    fault: str
    built: Built | None
    analysis: Analysis | None


@dataclass(frozen=True, slots=True)
class Apart:
    """Right against left: where the right hinge would have the panel, less where the left would.

    rear, front : of rear corner and front edge, shut, each panel lying on its rest (complex mm).   turn_deg : how far
    their turns then differ.   worst, at_deg : the largest shift at the same turn over the travel (mm), and the opening.
    askew : mm by which the front edge goes sideways, just shut.   twisted : mm by which the front corners differ in
    height; both None where nobody said how far apart the hinges are.
    """

    rear: complex
    front: complex
    turn_deg: float
    worst: float
    at_deg: float
    askew: float | None
    twisted: float | None


# ----------------------------------------------------------------------------------------------------------- one hinge
def beside(
    project: Project, hand: str, spans: tuple[float, float] = (0.0, 0.0), near: Analysis | None = None
) -> Beside:
    """Put one hinge together and analyse it.   near : an analysis of the drawn one, as first guess."""
    return beside_of(project, project.made.of(hand), spans, near)


def beside_of(
    project: Project, made: HandMade, spans: tuple[float, float] = (0.0, 0.0), near: Analysis | None = None
) -> Beside:
    """The same of what was read off, whatever the project says of it."""
    if not made.is_said and near is not None and near.project is project:
        return Beside(made.hand, made, "", Built(project, {}, (), rests=True), near)
    try:
        built = built_of(project, made, spans)
    except (MadeError, ProjectError) as fault:  # the latter where it would reach off the sheet
        return Beside(made.hand, made, str(fault), None, None)
    steps = 181 if near is None else max(len(near.openings), 2)
    return Beside(made.hand, made, "", built, analyse(built.project, steps=steps, near=near))


def check_key(check: Check) -> tuple[object, ...]:
    """What makes checks of two hinges one and the same want."""
    subject = {"roof": (), "transmission": (), "zone": check.subject[:1]}.get(check.kind, check.subject)
    side = "" if check.kind in ("strength", "stop") else check.side
    return check.kind, subject, side, check.after_deg, check.want, check.most if check.kind == "shut gap" else None


def paired_checks(drawn: Analysis, built: Analysis) -> tuple[tuple[Check, Check | None], ...]:
    """Every check as drawn with the same as built, the worst as built first."""
    there = {check_key(check): check for check in built.checks}
    pairs = [(check, there.get(check_key(check))) for check in drawn.checks]
    return tuple(sorted(pairs, key=lambda pair: (1, 0.0) if pair[1] is None else (int(pair[1].ok), pair[1].margin)))


def broken(drawn: Analysis, built: Analysis) -> tuple[Check, ...]:
    """The checks that hold as drawn and not as built, as they are built."""
    return tuple(now for was, now in paired_checks(drawn, built) if was.ok and now is not None and not now.ok)


def off_course(drawn: Analysis, built: Analysis) -> tuple[Check, ...]:
    """Those of them that adjusters or other holes may bring back: what a thin plate bears isn't among them."""
    return tuple(check for check in broken(drawn, built) if check.kind != "strength")


def paired_gaps(drawn: Analysis, built: Analysis) -> tuple[tuple[Gap, Gap], ...]:
    """Every gap as drawn with the same as built."""
    there = {(gap.between, gap.after_deg): gap for gap in built.gaps}
    found = ((gap, there.get((gap.between, gap.after_deg))) for gap in drawn.gaps)
    return tuple((was, now) for was, now in found if now is not None)


# ---------------------------------------------------------------------------------------------------------- on the pins
def pins_beside(stack: StackMade, made: HandMade) -> tuple[PinBeside, ...]:
    """What lies on each pin.   stack : as drawn."""
    thick = {sheet.link: sheet.thickness for sheet in made.sheets}
    on_pins = {each.pivot: each for each in made.on_pins}
    found = []
    for pin in stack.pins:
        own = on_pins.get(pin.pivot)
        more = _thicker(pin, thick) + (0.0 if own is None else own.more)
        left = pin.length.end_float
        play = None if own is None else own.play
        found.append(PinBeside(pin.pivot, (pin.grip, pin.grip + more), (left, left - more), play))
    return tuple(found)


def _thicker(pin: PinStack, thick: Mapping[str, float]) -> float:
    """Mm by which sheets make a pin's stack thicker than drawn."""
    pieces, more = [*pin.pieces, None], 0.0
    for plate, after in pairwise(pieces):
        if plate is None or plate.kind != "plate" or plate.link not in thick:
            continue
        proud = after.thickness if after is not None and after.kind == "bushing" else 0.0
        more += max(thick[plate.link], proud) - max(plate.thickness, proud)
    return more


# ------------------------------------------------------------------------------------------------------ left and right
def apart(drawn: Analysis, left: Beside, right: Beside) -> Apart | None:
    """Right against left; None where one of them can't be told, or nothing of the panel is drawn."""
    project = drawn.project
    rear, front = rear_point(project), front_point(project)
    if rear is None or front is None or left.built is None or right.built is None:
        return None
    ends = complex(*rear[0]), complex(*front)
    hinges = left.built, right.built
    shut = [[built.panel_place(end) for end in ends] for built in hinges]
    turns = [panel_turn(built) for built in hinges]
    degs = _shared(left, right, turns)
    shifts = [_shift_at(left, right, ends[1], turns, deg) for deg in degs]
    worst = max(range(len(degs)), key=lambda each: abs(shifts[each]))
    askew, twisted = _skew(project, shifts[0], ends)
    return Apart(
        shut[1][0] - shut[0][0],
        shut[1][1] - shut[0][1],
        math.degrees(turns[1] - turns[0]),
        abs(shifts[worst]),
        degs[worst],
        askew,
        twisted,
    )


def both(project: Project, spans: tuple[float, float], near: Analysis | None = None) -> tuple[Beside, Beside]:
    """Left and right; a hinge nobody measured is as drawn."""
    left, right = (beside(project, hand, spans, near) for hand in HANDS)
    return left, right


def panel_turn(built: Built) -> float:
    """By how much (rad, anticlockwise) the shut panel is turned from where it is drawn."""
    motion = built.motions.get(built.project.panel.id)
    return 0.0 if motion is None else motion.turn


def _shift_at(left: Beside, right: Beside, place: complex, turns: list[float], deg: float) -> complex:
    """By how much right would have the panel elsewhere than left, at the same turn of it, `deg` from shut as drawn."""
    stands = []
    for each, turn in zip((left, right), turns, strict=True):
        assert each.analysis is not None
        assert each.built is not None
        sign = each.analysis.sweep.sign
        pose = each.analysis.pose(deg - sign * math.degrees(turn))
        column = each.analysis.links.index(each.built.project.panel.id)
        own = each.built.panel_place(place)
        stands.append(complex(*pose.place(column, (own.real, own.imag))))
    return stands[1] - stands[0]


def _shared(left: Beside, right: Beside, turns: list[float]) -> list[float]:
    """Openings (deg from shut as drawn) that both reach, the first where the later of them is shut."""
    first, last = 0.0, math.inf
    for each, turn in zip((left, right), turns, strict=True):
        assert each.analysis is not None
        off = each.analysis.sweep.sign * math.degrees(turn)
        first, last = max(first, off), min(last, each.analysis.opening.reached_deg + off)
    degs: list[float] = np.linspace(first, max(last, first), POSES).tolist()
    return degs


def _skew(project: Project, shift: complex, ends: tuple[complex, complex]) -> tuple[float | None, float | None]:
    """How far the front edge goes sideways, and how much its corners differ in height."""
    loads = project.loads
    if loads is None or loads.spacing is None or loads.hinges < 2:
        return None, None
    pins = [complex(*pin.at) for pin in project.pivots_on(project.panel.id)]
    reach = abs((ends[1] - sum(pins) / len(pins)).real) if pins else 0.0
    across = loads.across or loads.spacing
    return reach * abs(shift.real) / loads.spacing, across * abs(shift.imag) / loads.spacing
