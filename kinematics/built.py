"""What is built follows what it is built for: plates and pins under new names, and gone with their links and pivots."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from kinematics.build_parts import Plates, Stack

if TYPE_CHECKING:
    from collections.abc import Callable, Collection


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
