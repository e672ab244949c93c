"""A drawn plate laid onto a link's pins: which of its holes are the pins', and which only make it lighter.

A drawing for the cutter has coordinates of its own. Where it has a hole for each pin, at their distances, it is turned
and shifted (never mirrored) until they meet; of several ways, the one is taken in which the first pin lies nearest to
the drawing's origin, as in drawings that are made here. A drawing without such holes must lie round the pins already.
"""

from __future__ import annotations

from itertools import permutations
from typing import TYPE_CHECKING

import numpy as np

from kinematics import plate_edits as edits
from kinematics.build_parts import Cutout
from kinematics.plating import pins_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from kinematics.contours import Contour
    from kinematics.project import Project

MEET = 0.05
"""Mm within which a hole is a pin's."""
MOST_HOLES = 40


def take_drawing(project: Project, link: str, contours: Sequence[Contour]) -> Project:
    """Give a plate the largest contour as its edge, and round ones within it, but for the pins', as cutouts.

    Raises ProjectError where it can't be laid onto the link's pins.
    """
    pins = [at for _, at in pins_of(project, project.link(link))]
    outer, *inner = contours
    holes = [(each.centre, _diameter(each)) for each in inner if _is_round(each)][:MOST_HOLES]
    turn, shift = _laid(pins, [at for at, _ in holes])
    edge = outer.moved(float(np.angle(turn)), shift)
    rows = zip(edge.corners.tolist(), edge.bulges.tolist(), strict=True)
    new = edits.set_edge(project, link, [(round(z.real, 6), round(z.imag, 6), bulge) for z, bulge in rows])
    placed = ((at * turn + shift, diameter) for at, diameter in holes)
    cutouts = tuple(
        Cutout((round(at.real, 6), round(at.imag, 6)), round(diameter, 6))
        for at, diameter in placed
        if min((abs(at - pin) for pin in pins), default=1.0) > MEET
    )
    return edits.checked(edits.set_cutouts(new, link, cutouts), link)


def _laid(pins: list[complex], holes: list[complex]) -> tuple[complex, complex]:
    """Turn (a unit vector) and shift that bring holes onto the pins; none where they lie there or there are too few."""
    if all(any(abs(hole - pin) <= MEET for hole in holes) for pin in pins):
        return 1.0 + 0j, 0j
    ways = sorted(_ways(pins, holes), key=lambda way: way[0])
    return (ways[0][1], ways[0][2]) if ways else (1.0 + 0j, 0j)


def _ways(pins: list[complex], holes: list[complex]) -> Iterator[tuple[float, complex, complex]]:
    """How far the first pin's hole lies from the drawing's origin, turn, shift: of each way that fits."""
    if len(pins) < 2:
        for hole in holes:
            yield abs(hole), 1.0 + 0j, pins[0] - hole
        return
    far = max(range(1, len(pins)), key=lambda k: abs(pins[k] - pins[0]))
    span = pins[far] - pins[0]
    for one, other in permutations(holes, 2):
        if abs(abs(other - one) - abs(span)) > MEET or other == one:
            continue
        turn = span / (other - one) * abs(other - one) / abs(span)
        shift = (pins[0] + pins[far]) / 2.0 - turn * (one + other) / 2.0
        if all(any(abs(hole * turn + shift - pin) <= MEET for hole in holes) for pin in pins):
            yield abs(one), turn, shift


def _is_round(contour: Contour) -> bool:
    """Whether it is a circle: all its corners as far from its centre, and its area that of the circle."""
    away = np.abs(contour.corners - contour.centre)
    radius = float(away.mean())
    return bool(np.ptp(away) < 0.01) and abs(contour.area / (np.pi * radius**2) - 1.0) < 1e-3


def _diameter(contour: Contour) -> float:
    return 2.0 * float(np.sqrt(contour.area / np.pi))
