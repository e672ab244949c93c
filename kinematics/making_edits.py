"""Edits of what pins and bushings are: of all pins at once, or of one pivot's.

Pure functions from one project to the next, as in `kinematics.edits`: an edit that changes nothing gives back the
project itself, and what can't be is a `ProjectError`. Lengths mm. A file whose `stack` couldn't be read keeps it until
the first edit here, which begins a new one.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from kinematics.build_parts import PinChoice, Stack

if TYPE_CHECKING:
    from kinematics.project import Project


def choose_pins(project: Project, pivot: str | None = None, **fields: Any) -> Project:  # noqa: ANN401  any field
    """Choose what all pins are, or what one pivot's pin has of its own; None: as all have it, or as is usual.

    fields : of `PinChoice`; of all pins also `washer` and `end_float` of `Stack`. Raises ProjectError for a size that
    can't be, and for a pivot that isn't there.
    """
    stack = project.stacking
    if pivot is None:
        new = replace(stack, **fields)
    else:
        id = project.pivot(pivot).id
        own = next((pin for pin in stack.pins if pin.pivot == id), PinChoice(id))
        own = replace(own, **fields)
        others = [pin for pin in stack.pins if pin.pivot != id]
        new = replace(stack, pins=_in_order(project, [*others, *([] if own == PinChoice(id) else [own])]))
    return _with(project, new)


def as_all_pins(project: Project, pivot: str) -> Project:
    """Let a pivot's pin be as all the others."""
    stack = project.stacking
    return _with(project, replace(stack, pins=tuple(pin for pin in stack.pins if pin.pivot != pivot)))


def _with(project: Project, stack: Stack) -> Project:
    """The project with another stack; none where nothing is said in it."""
    if stack == project.stacking:
        return project
    return replace(project, stack=None if stack == Stack() else stack)


def _in_order(project: Project, pins: list[PinChoice]) -> tuple[PinChoice, ...]:
    """The choices in the order of their pivots."""
    order = {pivot.id: place for place, pivot in enumerate(project.pivots)}
    return tuple(sorted(pins, key=lambda pin: order.get(pin.pivot, len(order))))
