"""Which pins matter: rates by hand, the exact way against whole analyses, and honest silence where there is none."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from kinematics import analyse, edits
from kinematics.errors import ProjectError
from kinematics.influence import differences, influence, influence_on
from kinematics.project import GapWant, Limit, Link, Mark, Outline, Pivot, Project, Travel
from kinematics.room import Room
from tests import specimens
from tests.kinematics.making import demo_layouts

DEMOS = demo_layouts()


def door(**limit: float) -> Project:
    """One pin, opening by a quarter turn: the mark goes from (100, 0) to (a + b, 100 − a + b) for a pin at (a, b)."""
    return Project(
        links=(Link("post", "fixed"), Link("door", "panel")),
        pivots=(Pivot("A", (0.0, 0.0), ("post", "door")),),
        marks=(Mark("edge", "door", (100.0, 0.0)),),
        limits=(Limit("edge", **limit),),  # type: ignore[arg-type]
        travel=Travel("anticlockwise", 90.0),
    )


@pytest.mark.parametrize(("limit", "rate"), [({"dx_at_least": -50.0}, (1.0, 1.0)), ({"dy_at_most": 50.0}, (1.0, -1.0))])
def test_a_single_pin_by_hand(limit: dict[str, float], rate: tuple[float, float]) -> None:
    """At 90° dx = a + b − 100 and dy = 100 − a + b; better is more dx, less dy."""
    analysis = analyse(door(**limit))
    check = next(check for check in analysis.checks if check.kind == "limit")
    found = influence_on(analysis, check, "A")
    assert found is not None
    assert found.per_mm == pytest.approx(rate, abs=1e-9)


def test_a_gap_by_hand() -> None:
    """A door whose tip passes a wall at x = −110 when it is open by 180°: the tip is at 2a − 100, so 2 mm per mm."""
    project = replace(
        door(dx_at_least=-999.0),
        outlines=(
            Outline("wall", "post", ((-110.0, -50.0), (-110.0, 50.0))),
            Outline("leaf", "door", ((10.0, 0.0), (100.0, 0.0))),
        ),
        gaps=(GapWant(("wall", "leaf"), 5.0),),
        travel=Travel("anticlockwise", 180.0),
    )
    analysis = analyse(project)
    check = next(check for check in analysis.checks if check.kind == "gap")
    assert check.have == pytest.approx(10.0, abs=1e-6)
    found = influence_on(analysis, check, "A")
    assert found is not None
    assert found.per_mm == pytest.approx((2.0, 0.0), abs=1e-6)


@pytest.mark.parametrize("name", sorted(DEMOS))
def test_the_exact_way_agrees_with_whole_analyses(name: str) -> None:
    """Differences over ±0.02 mm miss the rate by their step squared times its bend: 1e-4 is far above that here."""
    analysis = analyse(DEMOS[name])
    told = 0
    for check in analysis.checks:
        if check.kind == "opening":
            continue
        for pivot in analysis.project.pivots[::2]:
            found, other = influence_on(analysis, check, pivot.id), differences(analysis, check, pivot.id)
            assert found is not None
            assert other is not None
            assert found.per_mm == pytest.approx(other, abs=1e-4)
            told += any(abs(rate) > 0.01 for rate in found.per_mm)
    assert told >= 4


def test_half_a_millimetre_does_what_the_rate_says() -> None:
    analysis = analyse(specimens.demo_six_bar)
    check = next(check for check in analysis.checks if check.kind == "gap")
    found = influence_on(analysis, check, "X")
    assert found is not None
    x, y = analysis.project.pivot("X").at
    moved = analyse(edits.move_pivot(analysis.project, "X", (x, y + 0.5)))
    margin = next(each.margin for each in moved.checks if each.subject == check.subject and each.kind == "gap")
    assert margin - check.margin == pytest.approx(0.5 * found.per_mm[1], abs=0.01)


def test_a_pin_of_a_watched_band_moves_the_band_too() -> None:
    """The arm's edge goes with its pin; differences over ±0.02 mm are off by their rounding and their bend."""
    project = edits.set_gap(specimens.demo_six_bar, ("hatch skin", "arm"), 400.0)
    analysis = analyse(project)
    check = next(check for check in analysis.checks if "arm" in check.subject and check.kind == "gap")
    if check.have == 0.0:
        pytest.fail("the arm shall be clear of the skin in this test")
    found = influence_on(analysis, check, "O1")
    assert found is not None
    assert found.per_mm == pytest.approx(differences(analysis, check, "O1"), abs=1e-5)


def test_pin_spacing_changes_along_the_line_of_the_two_pins_alone() -> None:
    analysis = analyse(specimens.demo_six_bar)
    check = next(check for check in analysis.checks if check.kind == "pin spacing" and "Q" in check.subject)
    link, first, second = check.subject
    found, other = influence_on(analysis, check, first), influence_on(analysis, check, second)
    assert found is not None
    assert other is not None
    assert math.hypot(*found.per_mm) == pytest.approx(1.0)
    assert found.per_mm == pytest.approx((-other.per_mm[0], -other.per_mm[1]))
    idle = next(pin.id for pin in analysis.project.pivots if pin.id not in (first, second))
    told = influence_on(analysis, check, idle)
    assert told is not None
    assert told.per_mm == (0.0, 0.0)
    assert link in analysis.links


def test_what_touches_is_told_by_its_contact() -> None:
    """P1 thirty higher strikes the bulkhead; the rate is of the degrees in contact, compared with a move of 0.2 mm."""
    project = edits.move_pivot(specimens.demo_six_bar, "P1", (25.0, 285.0))
    analysis = analyse(project)
    check = next(check for check in analysis.checks if check.kind == "gap")
    assert check.have == 0.0
    found = influence_on(analysis, check, "P1")
    assert found is not None
    assert found.in_contact

    def contact(by: float) -> float:
        gap = analyse(edits.move_pivot(project, "P1", (25.0, 285.0 + by))).gaps[0]
        return sum(high - low for low, high in gap.touching_deg)

    assert found.per_mm[1] == pytest.approx((contact(-0.2) - contact(0.2)) / 0.4, rel=0.02)
    assert found.per_mm[1] < -0.1, "higher is worse"


def test_the_worst_check_is_meant_and_reckoned_once() -> None:
    analysis = analyse(specimens.demo_six_bar)
    found = influence(analysis, "X")
    assert found is not None
    assert found.check is analysis.checks[0]
    assert influence(analysis, "X") is found


def test_the_room_above_by_hand() -> None:
    """A door of one pin, opened by a quarter turn: its edge stands at 100 − a + b, and the roof loses what it gains."""
    leaf = Outline("leaf", "door", ((0.0, 0.0), (100.0, 0.0)))
    project = replace(door(dx_at_least=-999.0), outlines=(leaf,), room=Room(floor=-10.0, roof=120.0))
    analysis = analyse(project)
    check = next(check for check in analysis.checks if check.kind == "roof")
    found = influence_on(analysis, check, "A")
    assert found is not None
    assert found.per_mm == pytest.approx((1.0, -1.0), abs=1e-9)


@pytest.mark.parametrize("name", sorted(specimens.ALL))
def test_every_specimen_has_finite_rates_or_none(name: str) -> None:
    """Half-drawn, locked, loose, redundant, sliding: never an exception, never NaN."""
    analysis = analyse(specimens.ALL[name])
    for pivot in analysis.project.pivots[:1]:
        found = influence(analysis, pivot.id)
        assert found is None or all(math.isfinite(rate) for rate in found.per_mm)


def test_a_pin_that_is_not_there_is_told() -> None:
    with pytest.raises(ProjectError, match="nobody"):
        influence(analyse(specimens.demo_six_bar), "nobody")
