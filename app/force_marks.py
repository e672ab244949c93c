"""Forces on pins: an arrow for what a pin puts on each link that it joins, in its true direction. No Qt here.

All are of one scale, so many newtons for each pixel, that doesn't change with pose or zoom. An arrow leaves the pin; of
two links they point opposite ways, as the force on one is the other's, turned round. Of a pin that is selected the
figure says on which link; of the others it is the largest on any of their links.
"""

from __future__ import annotations

from math import atan2, degrees, floor, log10
from typing import TYPE_CHECKING

from app.lengths import format_force
from app.lettering import short_name
from app.shapes import Label, Layer, Shape, Symbol
from app.symbols import FORCE_MOST, FORCE_STEP, FORCE_TAIL, FORCE_TAIL_RINGED

if TYPE_CHECKING:
    from collections.abc import Container, Mapping

    from app.lengths import Units
    from app.look import Look
    from kinematics.carrying import Carried
    from kinematics.project import Point

LONGEST = 120.0
"""Pixels of the largest force over the travel, at most."""
ANYWHERE = 1e9  # room for words that are rather left out than laid on something


def newtons_a_pixel(largest: float) -> float:
    """The scale, 1, 2 or 5 times a power of ten: it stays the same while the largest force (N) changes but a little."""
    rough = max(largest, 1e-6) / LONGEST
    power = 10.0 ** floor(log10(rough))
    return next(power * step for step in (1.0, 2.0, 5.0, 10.0) if power * step >= rough * (1.0 - 1e-9))


def force_length(newtons: float, scale: float) -> int:
    """Length of an arrow, pixels, in the steps in which there are arrows; 0 for a force too small to be seen."""
    return min(round(newtons / scale / FORCE_STEP) * FORCE_STEP, FORCE_MOST)


def force_marks(
    now: Carried,
    places: Mapping[str, Point],
    chosen: Container[str],
    scale: float,
    link_id: str,
    look: Look,
    units: Units,
) -> list[Shape]:
    """Give the arrows, with their figures, of all pins that have a place.

    places : where each pin stands now, on the link `link_id` (the fixed one).   chosen : pins that are selected.
    scale : N for each pixel.
    """
    shapes: list[Shape] = []
    largest = {pivot: max(abs(f) for (pin, _), f in now.forces.items() if pin == pivot) for pivot in now.pins}
    told: set[str] = set()
    for (pivot, link), force in now.forces.items():
        at = places.get(pivot)
        length = force_length(abs(force), scale)
        if at is None or length == 0:
            continue
        key, is_chosen = f"force:{pivot}|{link}", pivot in chosen
        tip = (FORCE_TAIL_RINGED if is_chosen else FORCE_TAIL) + length
        ink = look.selection if is_chosen else look.ink
        turn = degrees(atan2(force.imag, force.real))
        glyph = f"{'chosen ' if is_chosen else ''}force {length}"
        shapes.append(Symbol(key, link_id, (at,), glyph, ink, look.paper, Layer.HANDS, turn))
        words = format_force(abs(force), units)
        if is_chosen:
            words = f"{words} on {short_name(link)}"
        elif pivot in told or abs(force) < largest[pivot] * (1.0 - 1e-9):
            continue
        told.add(pivot)
        away = (force.real, force.imag)
        shapes.append(
            Label(
                f"{key}:label", link_id, at, words, ink, look.paper, look.small_px, away,
                rank=1 if is_chosen else 7, bold=is_chosen, clear_px=tip + 3.0,
                span=0.0 if is_chosen else ANYWHERE,
            )
        )  # fmt: skip
    return shapes
