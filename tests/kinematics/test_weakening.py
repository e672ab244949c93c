"""What pins do to strength: differences that shrink as they should, and a hinge put right that was too weak then."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from app.files import load
from kinematics import analyse
from kinematics.edits import move_pivot
from kinematics.mending import mend
from kinematics.weakening import key_of, weakening, with_weak
from resources import find

HATCH = load(find("demos") / "launch hatch.hinge")


def test_a_rate_says_what_a_move_does() -> None:
    analysis = analyse(HATCH, steps=2)
    weak = min((check for check in analysis.checks if check.kind == "strength"), key=lambda check: check.margin)
    place = [pivot.id for pivot in HATCH.pivots].index("P1")
    rates = weakening(analysis, [weak], [place])[key_of(weak)]
    assert not np.delete(rates, place, axis=0).any()  # the others weren't free
    x, y = HATCH.pivot("P1").at
    there = analyse(move_pivot(HATCH, "P1", (x + 0.1, y + 0.2)), steps=2)
    again = next(check for check in there.checks if key_of(check) == key_of(weak))
    assert again.margin - weak.margin == pytest.approx(rates[place] @ (0.1, 0.2), rel=0.05)


def test_a_row_stands_in_mm_of_the_pin_that_changes_it_most() -> None:
    analysis = analyse(HATCH, steps=2)
    weak = next(check for check in analysis.checks if check.kind == "strength")
    rates = np.zeros((len(HATCH.pivots), 2))
    rates[2] = (0.0, -0.25)
    from kinematics.nearmisses import near_misses

    rows = near_misses(analysis)
    joined = with_weak(rows, analysis, {key_of(weak): rates})
    assert len(joined.margins) == len(rows.margins) + 1
    assert joined.margins[-1] == pytest.approx(weak.margin / 0.25)
    assert np.abs(joined.rates[-1]).max() == 1.0
    assert with_weak(rows, analysis, {}) is rows


def test_a_hinge_that_the_least_moves_would_leave_too_weak_is_put_right_all_the_same() -> None:
    strength = HATCH.strength
    assert strength is not None
    assert strength.bushing is not None
    weaker = replace(strength.bushing, pressure_mpa=strength.bushing.pressure_mpa / 1.45)
    spoilt = move_pivot(replace(HATCH, strength=replace(strength, bushing=weaker)), "O1", (141.0, 265.0))
    firm = mend(replace(spoilt, strength=None))
    assert firm.ok
    least = analyse(replace(firm.project, strength=spoilt.strength), steps=2)
    assert [check.kind for check in least.checks if not check.ok] == ["strength"]
    mended = mend(spoilt)
    assert mended.ok
    assert all(check.ok for check in analyse(mended.project, steps=2).checks)
