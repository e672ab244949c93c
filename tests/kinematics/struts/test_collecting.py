"""What units bring, put together: copies go, the better ones stay, and what falls short gives way."""

from __future__ import annotations

import pytest

from kinematics.struts.collecting import MOST, NEAR, StrutCollector, are_alike
from kinematics.struts.results import Placement, StrutUnit
from tests.kinematics.struts.making import placement


def unit(number: int, *placements: Placement, **more: object) -> StrutUnit:
    return StrutUnit(number, placements, 100, **more)  # type: ignore[arg-type]


def test_copies_give_way_to_the_better_one() -> None:
    """Alike: both ends nearer than 12 % of 388 mm, which is 46.56."""
    first = placement()
    assert are_alike(first, placement(from_at=(446.0, 150.0)))
    assert not are_alike(first, placement(from_at=(447.0, 150.0)))
    assert not are_alike(first, placement(to_on="lift link"))
    better = placement(from_at=(420.0, 150.0), score=9.95)
    collector = StrutCollector()
    assert collector.take(unit(0, first)) == (first,)
    assert collector.take(unit(1, placement(score=9.905))) == ()
    assert collector.take(unit(2, better)) == (better,)
    assert collector.kept == (better,)


def test_one_that_holds_stands_before_one_that_doesn_t() -> None:
    near = placement(ok=False, score=0.1)
    good = placement(from_at=(100.0, 0.0), score=9.0)
    alike = placement(score=8.0)
    collector = StrutCollector()
    collector.take(unit(0, near))
    assert collector.kept == (near,)
    assert collector.best_by_kind == {"": near}
    collector.take(unit(1, good))
    assert collector.kept == (good,)
    collector.take(unit(2, alike))
    assert collector.kept == (good, alike)


def test_only_the_nearest_few_of_those_that_fall_short() -> None:
    collector = StrutCollector()
    poor = [placement(from_at=(60.0 * k, 0.0), ok=False, margin=-9.0 + k, score=-0.1 * k) for k in range(8)]
    collector.take(unit(0, *poor))
    assert collector.kept == tuple(reversed(poor))[:NEAR]


def test_no_more_than_anyone_looks_through() -> None:
    collector = StrutCollector()
    collector.take(unit(0, *(placement(from_at=(60.0 * k, 0.0), score=9.0 + 0.01 * k) for k in range(70))))
    assert len(collector.kept) == MOST
    assert collector.kept[0].score == pytest.approx(9.69)


def test_counts_add_up() -> None:
    collector = StrutCollector()
    collector.take(unit(0, drawn=50, fitting=20, looked=9, unclear=3, in_the_way=(("rests", 4),)))
    collector.take(unit(1, drawn=50, fitting=10, looked=1, unclear=1, in_the_way=(("rests", 1), ("worst", 2))))
    assert (collector.tried, collector.drawn, collector.fitting, collector.units) == (200, 100, 30, 2)
    assert (collector.looked, collector.unclear) == (10, 4)
    assert collector.in_the_way == {"rests": 5, "worst": 2}


def test_units_come_in_order() -> None:
    with pytest.raises(ValueError, match="unit 1 came where 0"):
        StrutCollector().take(unit(1))
