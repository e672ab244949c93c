"""What is built follows what it is built for: plates and pins under new names, and gone with their links and pivots.

Cutouts of a plate, and an edge of its own, follow the pins of its link: they stay where they are in a frame whose
middle lies half way between the link's first two pins, and which turns with the line from one to the other. So they go
with a link that is moved or turned, whichever of its pins was moved first. Where the link becomes longer they keep
their sizes, and each end's distance to its pin changes by half of that. On a link of one pin they are carried along.
The same holds for whatever else moves pins; moved back, all is as it was.
"""

from __future__ import annotations

from dataclasses import replace
from operator import is_
from typing import TYPE_CHECKING, Any

from kinematics.build_parts import Plates, Stack

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Sequence

    from kinematics.build_parts import Plate
    from kinematics.parts import Pivot

LEAST = 1e-6
"""Mm: pins nearer to each other than this give no way."""
DIGITS = 9
"""Of places (mm) that are carried along: so that they stand in files without what turning leaves."""


def renamed(plates: Any, stack: Any, kind: str, old: str, new: str) -> dict[str, Any]:  # noqa: ANN401  as in a project
    """Plates and stack, by their names in a project, after a "link" or "pivot" got a new name."""

    def name(each: str) -> str:
        return new if each == old else each

    link, pivot = (name, str) if kind == "link" else (str, name)
    return _passed(plates, stack, link, pivot)


def among(plates: Any, stack: Any, links: Collection[str], pivots: Collection[str]) -> dict[str, Any]:  # noqa: ANN401
    """Plates and stack, by their names in a project, without what is of other links and pivots."""
    found: dict[str, Any] = {"plates": plates, "stack": stack}
    if isinstance(plates, Plates):
        each = tuple(_on_pins(plate, pivots) for plate in plates.each if plate.link in links)
        found["plates"] = plates if each == plates.each else replace(plates, each=each)
    if isinstance(stack, Stack):
        pins = tuple(pin for pin in stack.pins if pin.pivot in pivots)
        layers = tuple(choice for choice in stack.layers if choice.link in links)
        same = (pins, layers) == (stack.pins, stack.layers)
        found["stack"] = stack if same else replace(stack, pins=pins, layers=layers)
    return found


def followed(plates: Any, before: Sequence[Pivot], after: Sequence[Pivot]) -> Any:  # noqa: ANN401  as in a project
    """Plates whose cutouts and edges follow pins that were moved; the very same object where none has to."""
    if not isinstance(plates, Plates) or not any(plate.cutouts or plate.edge for plate in plates.each):
        return plates
    each = tuple(
        _carried(plate, _frame(plate.link, before), _frame(plate.link, after)) if plate.cutouts or plate.edge else plate
        for plate in plates.each
    )
    return plates if all(map(is_, each, plates.each)) else replace(plates, each=each)


def _frame(link: str, pivots: Sequence[Pivot]) -> tuple[complex, complex | None]:
    """Middle of a link's first two pins and the unit way from one to the other, None where there is none."""
    places = [complex(*pivot.at) for pivot in pivots if link in pivot.joins][:2]
    if not places:
        return 0j, None
    along = places[-1] - places[0]
    return sum(places) / len(places), along / abs(along) if abs(along) > LEAST else None


def _carried(plate: Plate, before: tuple[complex, complex | None], after: tuple[complex, complex | None]) -> Plate:
    """The plate with its cutouts and its edge moved from one frame to the other."""
    if before == after:
        return plate
    turn = 1.0 + 0j if before[1] is None or after[1] is None else after[1] / before[1]

    def carry(x: float, y: float) -> tuple[float, float]:
        z = after[0] + (complex(x, y) - before[0]) * turn
        return round(z.real, DIGITS), round(z.imag, DIGITS)

    cutouts = tuple(replace(cutout, at=carry(*cutout.at)) for cutout in plate.cutouts)
    return replace(plate, cutouts=cutouts, edge=tuple((*carry(x, y), bulge) for x, y, bulge in plate.edge))


def _on_pins(plate: Any, pivots: Collection[str]) -> Any:  # noqa: ANN401  a plate
    """The plate without eyes and sides of pins that aren't there any more."""
    eyes = tuple(eye for eye in plate.eyes if eye.pivot in pivots)
    sides = tuple(side for side in plate.sides if set(side.between) <= set(pivots))
    return plate if (eyes, sides) == (plate.eyes, plate.sides) else replace(plate, eyes=eyes, sides=sides)


def _passed(plates: Any, stack: Any, link: Callable[[str], str], pivot: Callable[[str], str]) -> dict[str, Any]:  # noqa: ANN401
    """Plates and stack with every link's and every pivot's name passed through."""
    found: dict[str, Any] = {"plates": plates, "stack": stack}
    if isinstance(plates, Plates):
        each = tuple(
            replace(
                plate,
                link=link(plate.link),
                eyes=tuple(replace(eye, pivot=pivot(eye.pivot)) for eye in plate.eyes),
                sides=tuple(
                    replace(side, between=(pivot(side.between[0]), pivot(side.between[1]))) for side in plate.sides
                ),
            )
            for plate in plates.each
        )
        found["plates"] = plates if each == plates.each else replace(plates, each=each)
    if isinstance(stack, Stack):
        pins = tuple(replace(pin, pivot=pivot(pin.pivot)) for pin in stack.pins)
        layers = tuple(replace(choice, link=link(choice.link)) for choice in stack.layers)
        same = (pins, layers) == (stack.pins, stack.layers)
        found["stack"] = stack if same else replace(stack, pins=pins, layers=layers)
    return found
