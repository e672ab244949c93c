"""Which steps a build takes, in the order of the work; what doesn't apply is left out. Values, without Qt."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.build_sheet import body_steps, hole_steps, metal_steps, running_steps

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from app.build_sheet.facts import Facts
    from app.build_sheet.step import Step

ORDER: tuple[Callable[[Facts], Iterator[Step]], ...] = (
    metal_steps.cut,
    metal_steps.deburr,
    metal_steps.bend,
    metal_steps.mock_up,
    metal_steps.bevel,
    metal_steps.weld,
    metal_steps.straighten,
    metal_steps.edges,
    hole_steps.ream,
    hole_steps.bushings,
    hole_steps.stack,
    body_steps.set_out,
    body_steps.drill,
    body_steps.hang,
    body_steps.tack,
    running_steps.cycle,
    running_steps.adjust,
    running_steps.struts,
    running_steps.stop,
    running_steps.prop,
    running_steps.latch,
    running_steps.last,
)
"""Each gives its step, or none where there is nothing to do."""


def steps_of(facts: Facts) -> tuple[Step, ...]:
    """All steps of a build."""
    return tuple(step for make in ORDER for step in make(facts))
