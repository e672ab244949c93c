"""Round numbers: a proposal's pins moved to whole steps, if every want still holds there.

Pins go to the nearest multiples of a step, counted from the sheet's origin; locked ones stay. Where a want falls short
by that, the coordinates that lay nearest to halfway between two multiples are tried the other way round, as that moves
them hardly any further; then a finer step. Nothing is called round that was not analysed with its round pins.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import product
from typing import TYPE_CHECKING

from kinematics.analysis import analyse
from kinematics.figures import key_figures
from kinematics.proposals.results import searched

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from kinematics.project import Point, Project
    from kinematics.proposals.results import Proposal

MOST_TURNED = 3
"""So many coordinates are tried the other way: 2³ layouts a step, some 0.1 s."""


def rounded(proposal: Proposal, steps: Sequence[float]) -> tuple[Proposal, float] | None:
    """The proposal with round pins, and the step (mm) that they are round to; None where no step lets all wants hold.

    steps : mm, the coarsest first.
    """
    near = None
    for step in steps:
        for project in _layouts(proposal.project, step):
            analysis = near = analyse(project, near=near)
            checks = searched(analysis.checks)
            if all(check.ok for check in checks):
                worst, figures = checks[0], key_figures(analysis)
                whole = replace(
                    proposal, project=project, ok=True, short_by=0.0, short=(), figures=figures, worst=worst
                )
                return whole, step
    return None


def _layouts(project: Project, step: float) -> Iterator[Project]:
    """The project with every free pin on a multiple of the step, the nearest first; none twice."""
    free = [pivot for pivot in project.pivots if not pivot.locked]
    shares = [value / step for pivot in free for value in pivot.at]
    nearest = [math.floor(share + 0.5) for share in shares]
    offs = [share - whole for share, whole in zip(shares, nearest, strict=True)]
    turned = sorted((k for k, off in enumerate(offs) if off != 0.0), key=lambda k: -abs(offs[k]))[:MOST_TURNED]
    for turns in sorted(product((0, 1), repeat=len(turned)), key=sum):
        wholes = list(nearest)
        for k, turn in zip(turned, turns, strict=True):
            wholes[k] += turn * (1 if offs[k] > 0.0 else -1)
        values = iter([whole * step for whole in wholes])
        places: dict[str, Point] = {pivot.id: (next(values), next(values)) for pivot in free}
        pivots = tuple(replace(pivot, at=places.get(pivot.id, pivot.at)) for pivot in project.pivots)
        yield replace(project, pivots=pivots)
