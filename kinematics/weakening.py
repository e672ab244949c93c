"""What moving pins does to strength, by differences: for the few checks that fall short where all else is put right.

There is no exact rate of a safety, as it is the worst of many ways to fail over the whole travel. Near a place a
difference serves: each free pin moved a little, the hinge analysed anew. That costs two analyses a pin, so it is done
once for a check, and its rates are kept while margins are read anew at every look. A row of it stands in mm, as all
rows do: so many mm of the pin that changes it most as its safety falls short by.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from kinematics.analysis import analyse
from kinematics.edits import move_pivot

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from kinematics.analysis import Analysis
    from kinematics.arrays import Floats
    from kinematics.nearmisses import Rows
    from kinematics.results import Check

Key = tuple[str, tuple[str, ...]]
LITTLE = 0.25
"""mm by which a pin is moved to see what that does."""
IDLE = 1e-6
"""Safety a mm of pin below which a pin changes nothing."""


def key_of(check: Check) -> Key:
    """By what a check of strength is found again after a move; its way to fail may be another then."""
    return check.kind, check.subject


def weakening(analysis: Analysis, checks: Iterable[Check], free: Sequence[int]) -> dict[Key, Floats]:
    """Of checks of strength, safety a mm of each pin, (pivots, 2); those that no free pin changes are left out."""
    keys = [key_of(check) for check in checks]
    now, project = _margins(analysis), analysis.project
    rates = {key: np.zeros((len(project.pivots), 2)) for key in keys}
    for place in free:
        pivot = project.pivots[place]
        for axis in (0, 1):
            at = (pivot.at[0] + LITTLE * (axis == 0), pivot.at[1] + LITTLE * (axis == 1))
            there = _margins(analyse(move_pivot(project, pivot.id, at), steps=2, near=analysis))
            for key in keys:
                rates[key][place, axis] = (there.get(key, now[key]) - now[key]) / LITTLE
    return {key: rate for key, rate in rates.items() if np.abs(rate).max() > IDLE}


def _margins(analysis: Analysis) -> dict[Key, float]:
    return {key_of(check): check.margin for check in analysis.checks if check.kind == "strength"}


def with_weak(rows: Rows, analysis: Analysis, known: Mapping[Key, Floats]) -> Rows:
    """The rows, and those of the checks of strength whose rates are known."""
    found = [(place, check) for place, check in enumerate(analysis.checks) if key_of(check) in known]
    if not found:
        return rows
    rates = np.array([known[key_of(check)] for _, check in found])
    scales = np.abs(rates).max(axis=(1, 2))
    return replace(
        rows,
        checks=np.append(rows.checks, [place for place, _ in found]),
        margins=np.append(rows.margins, np.array([check.margin for _, check in found]) / scales),
        rates=np.concatenate([rows.rates, rates / scales[:, None, None]]),
    )
