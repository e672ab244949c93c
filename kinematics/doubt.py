"""How sure a gap is: a traced line may be off, and what is read between two such lines is off by as much as both.

An outline's `uncertain` (mm) says how far its line may stand from the thing itself, either way. A gap between two
outlines then lies within its figure ± the sum of both: the worst case, as nobody knows on which side a trace is off. A
want holds only if it holds at the *low end*. What is drawn exactly, and a link's band, adds nothing.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from kinematics.project import Project
    from kinematics.results import Gap


def moving_doubt(project: Project) -> float:
    """How far (mm) any outline that moves may be off: what is held under a roof is held so for the worst of them."""
    moving = (outline for outline in project.outlines if outline.on != project.fixed.id)
    return max((outline.uncertain for outline in moving), default=0.0)


def doubted(project: Project, gaps: tuple[Gap, ...]) -> tuple[Gap, ...]:
    """The gaps with how far they may be off, and with `ok` held against the low end."""
    off = {outline.id: outline.uncertain for outline in project.outlines if outline.uncertain > 0.0}
    return tuple(_doubted(gap, sum(off.get(name, 0.0) for name in gap.between)) for gap in gaps) if off else gaps


def _doubted(gap: Gap, uncertain: float) -> Gap:
    if uncertain == 0.0:
        return gap
    if gap.ok is None or gap.smallest is None:
        return replace(gap, uncertain=uncertain)
    return replace(gap, uncertain=uncertain, ok=gap.smallest - uncertain >= (gap.at_least or 0.0) - 1e-9)
