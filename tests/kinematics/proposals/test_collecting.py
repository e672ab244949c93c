"""Taking units in: what holds in the order found, without copies; of what doesn't, the nearest of each kind."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kinematics.analysis import analyse
from kinematics.figures import key_figures
from kinematics.proposals.chains import FOUR_BAR, SINGLE_PIVOT, WATT_FIRST, WATT_SECOND
from kinematics.proposals.collecting import ALIKE, BETTER_DEG, CLEARLY, Collector, are_alike
from kinematics.proposals.drafting import drafted
from kinematics.proposals.results import KINDS, Proposal, Settings, UnitResult
from tests.kinematics.proposals.making import about
from tests.specimens import single_pivot

if TYPE_CHECKING:
    from kinematics.arrays import Complexes
    from kinematics.proposals.chains import Chain


@cache
def first(chain: Chain) -> Proposal:
    """Some layout of a chain."""
    return at(chain, about(chain, 1, 2)[:, 0])


def at(chain: Chain, pins: Complexes) -> Proposal:
    project = drafted(single_pivot, Settings(), chain, pins)
    analysis = analyse(single_pivot, steps=2)
    return Proposal(
        project, chain.kind, chain.family, True, 0.0, key_figures(analysis), analysis.checks[0], unit=0, short=()
    )


def layout(
    chain: Chain = FOUR_BAR, moved: complex = 0j, degrees: float | None = 40.0, short_by: float = 0.0
) -> Proposal:
    """A proposal whose pins are all moved by so much, and its figures as told."""
    base = first(chain)
    pins = tuple(replace(pin, at=(pin.at[0] + moved.real, pin.at[1] + moved.imag)) for pin in base.project.pivots)
    figures = replace(base.figures, transmission_deg=degrees)
    project = replace(base.project, pivots=pins)
    return replace(base, project=project, figures=figures, ok=short_by == 0.0, short_by=short_by)


def taken(*units: tuple[Proposal, ...], kinds: tuple[str, ...] = KINDS) -> tuple[Collector, list[tuple[Proposal, ...]]]:
    collector = Collector(Settings(kinds=kinds))
    told = [collector.take(UnitResult(k, "four-bar", each, 100 + k)) for k, each in enumerate(units)]
    return collector, told


def size_of(chain: Chain) -> float:
    """How large a layout is: twice the way from the pins' middle to the furthest."""
    pins = np.array([complex(*pin.at) for pin in first(chain).project.pivots])
    return max(100.0, 2.0 * float(np.abs(pins - pins.mean()).max())) if len(pins) > 1 else 100.0


def test_what_holds_is_kept_in_the_order_found() -> None:
    one, other, third = layout(), layout(WATT_FIRST), layout(moved=500.0)
    collector, told = taken((one, other), (), (third,))
    assert told == [(one, other), (), (third,)]
    assert collector.kept == (one, other, third)
    assert collector.best_by_kind == {"single pivot": None, "four-bar": one, "six-bar": other}
    assert (collector.tried, collector.units) == (100 + 101 + 102, 3)


@pytest.mark.parametrize("chain", [SINGLE_PIVOT, FOUR_BAR, WATT_FIRST], ids=lambda chain: chain.family)
def test_alike_is_what_no_pin_of_is_further_off_than_a_share_of_the_size(chain: Chain) -> None:
    limit = ALIKE * size_of(chain)
    assert are_alike(layout(chain), layout(chain, 0.99 * limit))
    assert not are_alike(layout(chain), layout(chain, 1.01 * limit))
    one = layout(chain)
    last = one.project.pivots[-1]
    away = replace(last, at=(last.at[0], last.at[1] + 1.5 * limit))
    moved = replace(one, project=replace(one.project, pivots=(*one.project.pivots[:-1], away)))
    assert not are_alike(one, moved)


def test_layouts_of_two_chains_are_not_alike_though_one_name_serves_both() -> None:
    pins = about(WATT_FIRST, 1, 2)[:, 0]
    one, other = at(WATT_FIRST, pins), at(WATT_SECOND, pins)
    assert one.family == other.family == "Watt I"
    assert not are_alike(one, other)
    assert not are_alike(layout(FOUR_BAR), layout(SINGLE_PIVOT))


def test_a_copy_is_left_out_unless_it_keeps_clearly_further_from_dead_points() -> None:
    one, copy = layout(degrees=40.0), layout(moved=3.0, degrees=40.0 + 0.9 * BETTER_DEG)
    better = layout(moved=4.0, degrees=40.0 + BETTER_DEG)
    collector, told = taken((one,), (copy,), (better,), (replace(one, unit=9),))
    assert told == [(one,), (), (better,), ()]
    assert collector.kept == (better,)
    collector, told = taken((layout(degrees=None),), (better,))
    assert collector.kept == (better,)


def test_a_better_copy_takes_the_place_of_the_one_it_resembles() -> None:
    one, far, better = layout(), layout(moved=900.0), layout(moved=2.0, degrees=80.0)
    collector, _ = taken((one, far), (better,))
    assert collector.kept == (better, far)


def test_where_nothing_holds_the_nearest_of_each_kind_comes_last_nearest_first() -> None:
    far, near = layout(short_by=20.0), layout(moved=700.0, short_by=5.0)
    hardly = layout(moved=300.0, short_by=5.0 * CLEARLY + 0.01)
    single = layout(SINGLE_PIVOT, short_by=2.0)
    six = layout(WATT_FIRST)
    collector, told = taken((far,), (near, hardly), (six, single))
    assert told == [(far,), (near,), (six, single)]
    assert collector.kept == (six, single, near)
    assert collector.best_by_kind["four-bar"] is near
    clearly = layout(short_by=5.0 * CLEARLY - 0.01)
    assert collector.take(UnitResult(3, "four-bar", (clearly,), 1)) == (clearly,)


def test_once_something_holds_what_is_short_is_not_shown() -> None:
    good, short = layout(), layout(moved=800.0, short_by=0.1)
    collector, told = taken((short,), (good,), (short,))
    assert told == [(short,), (good,), ()]
    assert collector.kept == (good,)
    assert collector.best_by_kind["four-bar"] is good


def test_only_kinds_that_were_asked_for_have_a_nearest() -> None:
    collector, _ = taken((layout(short_by=3.0),), kinds=("four-bar",))
    assert set(collector.best_by_kind) == {"four-bar"}


def test_units_come_in_order() -> None:
    collector, _ = taken(())
    for number in (0, 2):
        with pytest.raises(ValueError, match="expected"):
            collector.take(UnitResult(number, "four-bar", (), 0))
    assert collector.units == 1


lots = st.lists(
    st.builds(
        layout,
        st.sampled_from([FOUR_BAR, SINGLE_PIVOT]),
        st.integers(0, 8).map(lambda k: 12.0 * k + 0j),
        st.sampled_from([30.0, 32.0, 34.0, 50.0]),
        st.sampled_from([0.0, 0.0, 1.0, 2.0]),
    ),
    max_size=8,
)


@given(lots, st.integers(1, 4))
@settings(max_examples=40)
def test_nothing_is_kept_that_was_not_told_and_no_two_first_comers_are_alike(found: list[Proposal], size: int) -> None:
    units = [tuple(found[k : k + size]) for k in range(0, len(found), size)]
    collector, told = taken(*units)
    new = [each for some in told for each in some]
    assert all(any(each is other for other in new) for each in collector.kept)
    holding = [each for each in collector.kept if each.ok]
    assert len(collector.kept) - len(holding) <= len(KINDS)
    for kind in KINDS:
        mine = [each for each in found if each.kind == kind]
        shown = [each for each in collector.kept if each.kind == kind]
        assert bool(mine) == bool(shown)
        assert any(each.ok for each in mine) == any(each.ok for each in shown)
        if mine and not any(each.ok for each in mine):
            assert len(shown) == 1
            assert shown[0].short_by <= min(each.short_by for each in mine) / CLEARLY
    for each in found:  # whatever holds is kept, or something like it is, or like what took its place
        if each.ok:
            reached = [each]
            for near in [*found, *found]:
                if near.ok and any(are_alike(near, other) for other in reached):
                    reached.append(near)
            assert any(kept is other for kept in holding for other in reached)
    again, _ = taken(*units)
    assert again.kept == collector.kept
