"""Edits of the stack: which layers plates run in by hand, and what lies between them.

Pure functions from one project to the next, as in `kinematics.edits`: an edit that changes nothing gives back the
project itself. What runs where is set for all links at once, so that nothing else moves when one of them is moved by
hand; layers are numbered from 1 again where something went beneath the first.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from kinematics.build_parts import LayerChoice, Stack
from kinematics.errors import ProjectError
from kinematics.values import shown

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from kinematics.project import Project

MOST = 99
"""No plate goes beyond this layer."""


def set_stack(project: Project, **fields: Any) -> Project:  # noqa: ANN401  any field
    """Change what all pins have: washer, end_float, … (`Stack`)."""
    new = replace(project.stacking, **fields)
    return project if new == project.stacking else replace(project, stack=new)


def run_by_hand(project: Project, layers: Mapping[str, Sequence[int]]) -> Project:
    """Let plates run in these layers, whatever else might be found."""
    lowest = min((layer for on in layers.values() for layer in on), default=1)
    up = max(1 - lowest, 0)
    choices = tuple(LayerChoice(link, tuple(layer + up for layer in on)) for link, on in layers.items() if on)
    own = {choice.link: choice for choice in project.stacking.layers}
    same = tuple(
        own[each.link] if each.link in own and own[each.link].layers == each.layers else each for each in choices
    )
    return set_stack(project, layers=same)


def run_as_found(project: Project) -> Project:
    """Let all layers be found."""
    return set_stack(project, layers=()) if project.stacking.layers else project


def move_plate(project: Project, layers: Mapping[str, Sequence[int]], link: str, layer: int, to: int) -> Project:
    """Move one plate of a link from a layer to another; all others stay where they are.

    layers : where all plates run now.   Raises ProjectError where the link has no plate there, or has one in the other
    layer already.
    """
    on = layers.get(link, ())
    if layer not in on:
        raise ProjectError(f"it has no plate in layer {layer}", f"layers of {shown(link)}")
    if to == layer:
        return project
    if to in on:
        raise ProjectError(f"its other plate is in layer {to}", f"layers of {shown(link)}", "Move that one away first.")
    if to > MOST:
        raise ProjectError(f"no stack has more than {MOST} layers", f"layers of {shown(link)}")
    moved = tuple(sorted(to if each == layer else each for each in on))
    return run_by_hand(project, {**layers, link: moved})


def is_by_hand(project: Project) -> bool:
    """Whether somebody set layers."""
    return isinstance(project.stack, Stack) and bool(project.stack.layers)
