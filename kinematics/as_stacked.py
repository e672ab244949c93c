"""What pins, plates and bushings bear in the stack that was found: strength with the real ways between plates.

Layers that are found take the whole travel, so the strength that follows a drag has a washer between two plates, and
bushings as long as their plates are thick. Once the stack is known, what each force does is reckoned anew with the
real ways between the faces, single or double shear as the plates really lie, and the bushings of the tables. The forces
stay: they follow from the linkage, and so do the poses at which they are largest.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from kinematics.failing import ways_of
from kinematics.joints import Seen, build_of
from kinematics.strength import safety

if TYPE_CHECKING:
    from kinematics.failing import Way
    from kinematics.project import Project
    from kinematics.results import StrengthFigures, Utilised
    from kinematics.stacking import PinStack, StackMade

SAME = 1e-6
"""Stresses that differ by a smaller share are the same."""


def seen_in(stack: StackMade) -> tuple[Seen, ...]:
    """What a stack tells of each of its pins."""
    return tuple(_seen(pin) for pin in stack.pins if not pin.lone)


def _seen(pin: PinStack) -> Seen:
    """What lies on one pin: its bearing, the widest housing, and the least that presses on it from one link."""
    housings = [bushing.nominal_outside for _, bushing in pin.joint.bushings]
    pressing: dict[str, float] = {}
    for piece in pin.pieces:
        turns = piece.link != pin.joint.holder and pin.joint.hole(piece.link).bushing is None if piece.link else False
        if piece.kind == "bushing" or (piece.kind == "plate" and turns):
            pressing[piece.link] = pressing.get(piece.link, 0.0) + piece.thickness
    return Seen(pin.pivot, pin.bearing, max(housings, default=None), min(pressing.values(), default=0.0))


def as_stacked(project: Project, told: StrengthFigures | None, stack: StackMade) -> tuple[Utilised, ...]:
    """The figures that the stack changes, as they are in it, worst first; none where nothing is told of strength.

    told : of the same project, with what is known without its stack.
    """
    if project.strength is None or told is None or told.untold:
        return ()
    before = {(way.mode, way.pivot, way.link): way for way in ways_of(project.strength, build_of(project)).ways}
    after = ways_of(project.strength, build_of(project, seen_in(stack))).ways
    had = {(figure.mode, figure.pivot, figure.link): figure for figure in told.figures}
    found = []
    for way in after:
        key = (way.mode, way.pivot, way.link)
        figure = had.get(key) or had.get(("bearing", way.pivot, way.link))
        old = before.get(key if key in had else ("bearing", way.pivot, way.link))
        if way.pivot and figure is not None and old is not None:
            new = _restated(figure, old, way)
            if new is not None:
                found.append(new)
    return tuple(sorted(found, key=lambda figure: figure.ratio))


def _restated(figure: Utilised, old: Way, way: Way) -> Utilised | None:
    """A figure as the stack has it; None where it is the same.   old : the way that the figure was reckoned by."""
    if figure.stress is None or old.each <= 0.0 or way.steady is not None:
        return None
    stress = figure.stress * way.each / old.each
    have = safety(way.strength, stress)
    is_new = figure.mode != way.mode
    if figure.have is None or (not is_new and abs(have - figure.have) <= SAME * max(have, figure.have)):
        return None
    return replace(figure, mode=way.mode, stress=stress, strength=way.strength, want=way.want, have=have, note=way.note)
