"""Collecting: from what units bring to what is worth showing.

A layout that holds is taken if it differs from all that were taken: another chain, or pins that stand elsewhere by more
than a share of the hinge's size. One that resembles another takes its place only where it keeps further from dead
points. Of a kind in which nothing holds, the nearest is kept, to tell how near it comes.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import as_complex
from kinematics.proposals.results import KINDS

if TYPE_CHECKING:
    from kinematics.proposals.results import Proposal, Settings, UnitResult

ALIKE = 0.12
"""Two layouts of one chain are alike where no pin is further off than this share of the hinge's size."""
CLEARLY = 0.9
"""Of a kind in which nothing holds, another is shown once it misses less than this share of the nearest before."""
BETTER_DEG = 3.0
"""deg of transmission angle by which a layout betters one that it resembles."""


class Collector:
    """Takes in units by number.

    kept : what holds, in the order found.     best_by_kind : the first that holds, or the nearest, of each kind asked.
    tried : candidates scored.     units : how many units were taken.
    """

    def __init__(self, settings: Settings) -> None:
        self._all: list[Proposal] = []
        self.best_by_kind: dict[str, Proposal | None] = {kind: None for kind in KINDS if kind in settings.kinds}
        self.tried = 0
        self.units = 0

    @property
    def kept(self) -> tuple[Proposal, ...]:
        """What holds in the order found, then the nearest of the kinds in which nothing does."""
        near = [each for each in self.best_by_kind.values() if each is not None and not each.ok]
        return (*self._all, *sorted(near, key=lambda each: each.short_by))

    def take(self, result: UnitResult) -> tuple[Proposal, ...]:
        """Take in the next unit and give what is new and worth showing. Units come in the order of their numbers."""
        if result.unit != self.units:
            raise ValueError(f"unit {result.unit} came where {self.units} was expected")
        self.units += 1
        self.tried += result.tried
        return tuple(each for each in result.proposals if (self._holds(each) if each.ok else self._is_nearer(each)))

    def _holds(self, new: Proposal) -> bool:
        best = self.best_by_kind[new.kind]
        if best is None or not best.ok:
            self.best_by_kind[new.kind] = new
        for place, old in enumerate(self._all):
            if are_alike(old, new):
                if (new.figures.transmission_deg or 0.0) < (old.figures.transmission_deg or 0.0) + BETTER_DEG:
                    return False
                self._all[place] = new
                return True
        self._all.append(new)
        return True

    def _is_nearer(self, new: Proposal) -> bool:
        best = self.best_by_kind[new.kind]
        if best is not None and (best.ok or new.short_by >= CLEARLY * best.short_by):
            return False
        self.best_by_kind[new.kind] = new
        return True


def are_alike(one: Proposal, other: Proposal) -> bool:
    """Whether two layouts are nearly copies: one chain, and every pin near its fellow."""
    mine, theirs = (as_complex(pivot.at for pivot in each.project.pivots) for each in (one, other))
    if one.family != other.family or len(mine) != len(theirs):
        return False
    joined = [[pivot.joins for pivot in each.project.pivots] for each in (one, other)]
    if joined[0] != joined[1]:
        return False
    size = float(np.abs(mine - mine.mean()).max()) * 2.0 if len(mine) > 1 else 100.0
    return bool(np.abs(mine - theirs).max() < ALIKE * max(size, 100.0))
