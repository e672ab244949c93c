"""A search in small, in place of the real one: a unit moves the pins of a start by its number, and nothing else."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from kinematics import analyse, edits
from kinematics.families import family
from kinematics.figures import key_figures
from kinematics.proposals.results import KINDS, Proposal, UnitResult, searched
from kinematics.starts import start

if TYPE_CHECKING:
    from kinematics.project import Project
    from kinematics.proposals.results import Settings

STARTS = dict(zip(KINDS, ("single pivot", "four-bar", "Watt I"), strict=True))
TRIED = 100


def run(project: Project, settings: Settings, number: int) -> UnitResult:
    """One proposal a unit: the start of its kind, its first moving pin moved by the number."""
    kind = settings.kinds[number % len(settings.kinds)]
    laid = start(replace(project, trials=(), pictures=()), STARTS[kind])
    pin = laid.pivots[-1]
    moved = edits.move_pivot(laid, pin.id, (pin.at[0] + number + 0.01 * settings.seed, pin.at[1]))
    return UnitResult(number, kind, (proposal(moved, kind, number),), TRIED)


def proposal(project: Project, kind: str, unit: int) -> Proposal:
    """A layout as the search hands it over."""
    analysis = analyse(project)
    worst = searched(analysis.checks)[0]
    short = 0.0 if worst.ok else -worst.margin
    return Proposal(project, kind, family(project) or kind, worst.ok, short, key_figures(analysis), worst, unit)


class Collector:
    """Keeps all that it is given."""

    def __init__(self, settings: Settings) -> None:
        self.tried = 0
        self.kept: tuple[Proposal, ...] = ()
        self.best_by_kind: dict[str, Proposal | None] = dict.fromkeys(settings.kinds)
        self.numbers: list[int] = []

    def take(self, result: UnitResult) -> tuple[Proposal, ...]:
        """Take a unit in."""
        self.numbers.append(result.unit)
        self.tried += result.tried
        self.kept = tuple(sorted((*self.kept, *result.proposals), key=lambda each: (not each.ok, each.unit)))
        for each in result.proposals:
            best = self.best_by_kind[each.kind]
            if best is None or each.short_by < best.short_by:
                self.best_by_kind[each.kind] = each
        return result.proposals


def cannot(project: Project, settings: Settings) -> tuple[str, ...]:
    """Nothing hinders."""
    return ()
