"""The stack of the newest analysis, worked out once when it is first asked for, and never during a drag."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from app.hardware import hardware
from kinematics.joints_made import joints_made
from kinematics.stacking import StackMade, stack_of

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.project import Project


@lru_cache(maxsize=2)  # by the analysis itself, of which each is one value
def stacked(analysis: Analysis) -> StackMade:
    """The stack of what was analysed: 0.1 s or so for a hinge of six links."""
    project, tables = analysis.project, hardware()
    return stack_of(project, analysis.sweep, joints_made(project, tables), tables, analysis.loads)


def web_off(project: Project, stack: StackMade) -> float | None:
    """How far the middle of the panel's plates lies outboard of the middle of the fixed link's, mm; None: unknown.

    The panel's middle is beneath the first layer, so outboard is up the stack.
    """
    middles = [_middle(stack, link.id) for link in (project.panel, project.fixed)]
    return None if middles[0] is None or middles[1] is None else middles[0] - middles[1]


def _middle(stack: StackMade, link: str) -> float | None:
    """Half way from the lowest face of a link's plates to the highest."""
    plates = [piece for pin in stack.pins for piece in pin.pieces if piece.kind == "plate" and piece.link == link]
    if not plates:
        return None
    return 0.5 * (min(piece.low for piece in plates) + max(piece.high for piece in plates))
