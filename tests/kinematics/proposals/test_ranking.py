"""Preferences order what was found: each figure's merit moves one way, and nothing depends on the order of arrival."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest

from kinematics.figures import KeyFigures
from kinematics.project import Link, Outline, Pivot, Project, Travel
from kinematics.proposals.ranking import NAMES, Preferences, longest_link, merits, panel_size, ranked, score
from kinematics.proposals.results import Proposal
from kinematics.results import Check

FIGURES = KeyFigures(
    opens_deg=75.0,
    opens=True,
    clearance=6.0,
    of=("wall", "skin"),
    of_drawn=6.0,
    uncertain=0.0,
    back=2.0,
    back_deg=30.0,
    transmission_deg=40.0,
    room=(200.0, 150.0),
    effort=80.0,
    short=0,
    checks=3,
)
NOTHING = Preferences(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
WORST = Check("gap", ("wall", "skin"), 6.0, 6.0, True, 0.0)


def four_bar(arm: float = 120.0) -> Project:
    joins = (("body", "arm"), ("arm", "lid"), ("body", "link"), ("link", "lid"))
    places = ((0.0, 0.0), (arm, 0.0), (0.0, -60.0), (70.0, -60.0))
    return Project(
        links=(Link("body", "fixed"), Link("lid", "panel"), Link("arm"), Link("link")),
        pivots=tuple(Pivot(name, at, join) for name, at, join in zip("ABCD", places, joins, strict=True)),
        outlines=(Outline("skin", "lid", ((0.0, 0.0), (300.0, 0.0), (300.0, -400.0))),),
        travel=Travel("anticlockwise", 75.0),
    )


def proposal(project: Project | None = None, unit: int = 0, short_by: float = 0.0, **figures: object) -> Proposal:
    told = replace(FIGURES, **figures)  # type: ignore[arg-type]
    return Proposal(project or four_bar(), "four-bar", "four-bar", short_by == 0.0, short_by, told, WORST, unit)


WORSE: dict[str, list[Proposal]] = {
    "few_pins": [proposal(replace(four_bar(), pivots=four_bar().pivots[:count])) for count in (1, 2, 4)],
    "compact": [proposal(room=room) for room in (None, (10.0, 10.0), (200.0, 150.0), (200.0, 151.0), (9000.0, 1.0))],
    "short_links": [proposal(four_bar(arm)) for arm in (75.0, 120.0, 121.0, 4000.0)],
    "transmission": [proposal(transmission_deg=deg) for deg in (None, 89.0, 45.0, 44.0, 1.0)],
    "never_back": [proposal(back=back) for back in (0.0, 0.1, 5.0, 500.0)],
    "low_effort": [proposal(effort=effort) for effort in (0.0, 50.0, 199.0, 201.0, 3000.0)],
}


@pytest.mark.parametrize("name", NAMES)
def test_a_merit_falls_with_its_figure_and_stays_between_0_and_1(name: str) -> None:
    values = [merits(each)[name] for each in WORSE[name]]
    assert values == sorted(set(values), reverse=True), "strictly falling"
    assert all(0.0 <= value <= 1.0 for value in values)


@pytest.mark.parametrize("name", NAMES)
def test_a_preference_alone_orders_by_its_figure_alone(name: str) -> None:
    wish = replace(NOTHING, **{name: 0.7})
    numbered = [replace(each, unit=99 - place) for place, each in enumerate(WORSE[name])]
    assert ranked(reversed(numbered), wish) == tuple(numbered)


@pytest.mark.parametrize("name", NAMES)
def test_a_better_figure_never_lowers_the_score(name: str) -> None:
    better, worse = WORSE[name][0], WORSE[name][-1]
    for weight in (0.0, 0.2, 1.0):
        wish = replace(Preferences(), **{name: weight})
        assert score(better, wish) >= score(worse, wish)
        assert weight == 0.0 or score(better, wish) > score(worse, wish)


def test_the_order_of_arrival_does_not_matter() -> None:
    found = [proposal(unit=k, back=back) for k, back in enumerate((0.0, 3.0, 3.0, 7.0))]
    orders = {ranked(order, Preferences()) for order in itertools.permutations(found)}
    assert len(orders) == 1


def test_another_find_changes_no_order_among_the_others() -> None:
    found = [proposal(unit=k, back=1.0 * k, room=(300.0 - 40.0 * k, 100.0)) for k in range(5)]
    more = proposal(unit=9, back=0.0, room=(1.0, 1.0))
    without = ranked(found, Preferences())
    assert tuple(each for each in ranked([more, *found], Preferences()) if each is not more) == without


def test_what_holds_comes_first_then_what_falls_short_least() -> None:
    poor, good = proposal(unit=1, back=200.0), proposal(unit=2)
    near, far = proposal(unit=3, short_by=0.2, back=300.0), proposal(unit=4, short_by=5.0)
    assert ranked([far, near, poor, good], Preferences()) == (good, poor, near, far)


def test_no_preference_at_all_leaves_the_order_of_finding() -> None:
    found = [proposal(unit=k, back=9.0 - k) for k in range(4)]
    assert ranked(reversed(found), NOTHING) == tuple(found)
    assert score(found[0], NOTHING) == 0.0


def test_the_formula_by_hand() -> None:
    """S = 500 (a panel of 300 × 400), d = 250, l = 120, µ = 40°, b = 2, F = 80 N; worked out by a pocket calculator."""
    known = merits(proposal())
    assert panel_size(four_bar()) == pytest.approx(500.0, abs=1e-12)
    assert longest_link(four_bar()) == pytest.approx(120.0, abs=1e-12)
    assert known["few_pins"] == pytest.approx(4 / 7, abs=1e-12)
    assert known["compact"] == pytest.approx(0.5, abs=1e-12)
    assert known["short_links"] == pytest.approx(0.675675675676, abs=1e-12)
    assert known["transmission"] == pytest.approx(0.642787609687, abs=1e-12)
    assert known["never_back"] == pytest.approx(0.925925925926, abs=1e-12)
    assert known["low_effort"] == pytest.approx(0.714285714286, abs=1e-12)
    wish = Preferences(0.0, 1.0, 0.0, 0.5, 0.0, 0.0)
    assert score(proposal(), wish) == pytest.approx(0.547595869896, abs=1e-12)


def test_a_panel_that_nobody_drew_has_the_size_of_the_pins() -> None:
    assert panel_size(replace(four_bar(), outlines=())) == pytest.approx(134.16407865, abs=1e-8)
    assert panel_size(replace(four_bar(), outlines=(), pivots=())) == 1.0
    assert longest_link(replace(four_bar(), pivots=())) == 0.0
