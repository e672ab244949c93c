"""Exact rates for all pins at once, against whole analyses: what is left falls with the square of the step."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from kinematics import analyse, edits
from kinematics.project import GapWant, Outline, Project, ShutWant, Zone
from kinematics.room import FrontEdge, Room
from kinematics.slopes import slopes, zone_slopes
from kinematics.zoning import inside
from tests import specimens
from tests.kinematics.making import demo_layouts
from tests.kinematics.random_linkages import linkage
from tests.thorough import cases

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.results import Check

DEMOS = demo_layouts()
HATCH = DEMOS["launch hatch"]


def key(check: Check) -> tuple[object, ...]:
    return check.kind, check.subject if check.kind != "roof" else (), check.side, check.after_deg, check.want


WAY = (0.6, 0.8)  # along which pins are moved here


def margins(analysis: Analysis, pivot: str, step: float) -> dict[object, float]:
    """The margin of every check with one pin moved."""
    x, y = analysis.project.pivot(pivot).at
    moved = edits.move_pivot(analysis.project, pivot, (x + step * WAY[0], y + step * WAY[1]))
    return {key(each): each.margin for each in analyse(moved, steps=2, near=analysis).checks}


def compare(analysis: Analysis, checks: list[Check], step: float, floor: float) -> int:
    """Compare every other pin's rates at two steps; give how many bent enough to show the square of the step."""
    told = {key(check): slopes(analysis, check) for check in checks}
    shown = 0
    for k, pivot in list(enumerate(analysis.project.pivots))[::2]:
        at = {side: margins(analysis, pivot.id, side * step) for side in (-1.0, -0.5, 0.5, 1.0)}
        for name, exact in told.items():
            assert exact is not None
            rate = float(exact[k] @ WAY)
            wide = (at[1.0][name] - at[-1.0][name]) / (2.0 * step) - rate
            narrow = (at[0.5][name] - at[-0.5][name]) / step - rate
            assert abs(narrow) <= 0.3 * abs(wide) + floor, (name, pivot.id, rate, wide, narrow)
            shown += abs(wide) > 20 * floor
    return shown


def difference(project: Project, check: Check, pivot: str, step: float) -> float:
    analysis = analyse(project, steps=2)
    ahead, behind = (margins(analysis, pivot, side)[key(check)] for side in (step, -step))
    return (ahead - behind) / (2.0 * step)


def wanting(project: Project) -> Project:
    """The same with every kind of want: bands, a shut gap, a roof, a front edge."""
    panel = next(outline.id for outline in project.outlines if outline.on == project.panel.id)
    fixed = next(outline.id for outline in project.outlines if outline.on == project.fixed.id)
    arm = next(link.id for link in project.links if link.kind == "link")
    project = replace(project, gaps=())
    project = edits.set_gap(project, (panel, fixed), 2.0)
    project = edits.set_gap(project, (fixed, arm), 1.0, after_deg=20.0)
    high, low = (pick(pin.at[1] for pin in project.pivots) for pick in (max, min))
    shut = GapWant((panel, arm), 0.0, shut=ShutWant(1.0, 90.0))
    room = Room(floor=low - 300.0, roof=high + 2000.0, front_edge=FrontEdge(None, 100.0))
    return replace(project, gaps=(*project.gaps, shut), room=room)


@pytest.mark.parametrize("name", sorted(DEMOS))
def test_every_kind_of_check_of_the_demos(name: str) -> None:
    """At 1 and 0.5 mm; 3e-6 is far above what the analysis itself may be off by (1e-7 mm) over the step.

    Plates are watched within 0.003 mm, so their rates are as good as that over the step, either way.
    """
    built = analyse(wanting(DEMOS[name]), steps=2)
    gaps = [check for check in built.checks if check.kind in ("gap", "shut gap") and check.have]
    compare(built, gaps, 1.0, 0.006)
    analysis = analyse(wanting(replace(DEMOS[name], plates=None)), steps=2)
    checks = [check for check in analysis.checks if check.kind != "gap" or check.have]
    assert {each.kind for each in checks} == {
        *("gap", "shut gap", "limit", "opening", "pin spacing", "roof", "front edge")
    }
    assert compare(analysis, checks, 1.0, 3e-6) >= 3


def test_a_pin_at_the_roof_moves_by_itself_too() -> None:
    """A very wide link's pin is the highest thing: half its width above it is what comes near the roof."""
    links = tuple(replace(link, width=4000.0) if link.id == "arm" else link for link in HATCH.links)
    project = replace(HATCH, links=links, plates=None, room=Room(roof=2900.0))
    analysis = analyse(project, steps=2)
    check = next(check for check in analysis.checks if check.kind == "roof")
    assert check.subject == ("arm",)
    assert compare(analysis, [check], 1.0, 3e-6) >= 2


def test_the_largest_opening_and_what_is_read_there_go_with_the_dead_point() -> None:
    """The bench's dead point lies at 108°; wanted beyond it, limit and front edge are read at the dead point itself."""
    bench = DEMOS["potting bench"]
    room = Room(floor=-500.0, front_edge=FrontEdge(None, 100.0))
    project = replace(bench, travel=replace(bench.travel, wanted_deg=150.0), room=room)
    project = edits.set_limit(project, replace(project.limits[0], dy_at_most=1.0, dx_at_most=0.0))
    analysis = analyse(project)
    assert analysis.opening.ends == "dead point"
    at_end = [check for check in analysis.checks if check.deg == analysis.opening.reached_deg]
    assert {check.kind for check in at_end} >= {"opening", "limit", "front edge"}
    compare(analysis, [check for check in at_end if check.kind != "gap"], 0.4, 1e-5)


def test_dead_points_of_many_made_up_linkages() -> None:
    """Where the two steps of a difference agree at all, the exact rate is theirs, within their error of h²."""
    told = 0
    for seed in range(cases(48, 80)):
        project = linkage(seed).project()
        analysis = analyse(project, steps=2)
        if analysis.state != "moves" or not analysis.sweep.folds or analysis.opening.largest_deg < 3.0:
            continue
        if analysis.sweep.branch.curve.redundant:
            continue
        check = next(check for check in analysis.checks if check.kind == "opening")
        exact = slopes(analysis, check)
        assert exact is not None
        step = 1e-4 * analysis.sweep.closure.size
        pivot = project.pivots[seed % len(project.pivots)].id
        rate = float(exact[seed % len(project.pivots)] @ WAY)
        wide, narrow = (difference(project, check, pivot, each) for each in (step, step / 2))
        if abs(wide - narrow) < 0.01 * abs(narrow):
            assert narrow == pytest.approx(rate, rel=0.01, abs=1e-4), seed
            told += 1
    assert told >= 8


def test_the_ends_of_a_contact() -> None:
    """P1 thirty higher strikes the bulkhead; degrees in contact, by differences over ± 0.1 and ± 0.05 mm."""
    project = edits.move_pivot(specimens.demo_six_bar, "P1", (25.0, 285.0))
    analysis = analyse(project)
    check = next(check for check in analysis.checks if check.kind == "gap")
    exact = slopes(analysis, check)
    assert exact is not None

    def contact(pivot: str, by: float) -> float:
        x, y = project.pivot(pivot).at
        gap = analyse(edits.move_pivot(project, pivot, (x, y + by))).gaps[0]
        return sum(high - low for low, high in gap.touching_deg)

    for k, pivot in enumerate(project.pivots):
        told = (contact(pivot.id, -0.05) - contact(pivot.id, 0.05)) / 0.1
        assert float(exact[k, 1]) == pytest.approx(told, abs=0.02), pivot.id


def test_an_end_of_a_contact_beside_which_bodies_still_touch() -> None:
    """X at (141, 227): the upper end is off by some thousandths of a degree; over ± 1 and ± 0.5 mm that is little."""
    project = edits.move_pivot(HATCH, "X", (141.0, 227.0))
    analysis = analyse(project, steps=2)
    check = next(check for check in analysis.checks if check.kind == "gap")
    exact = slopes(analysis, check)
    assert exact is not None

    def contact(pivot: str, by: float) -> float:
        x, y = project.pivot(pivot).at
        gap = analyse(
            edits.move_pivot(project, pivot, (x + by * WAY[0], y + by * WAY[1])), steps=2, near=analysis
        ).gaps[0]
        return sum(high - low for low, high in gap.touching_deg)

    for k, pivot in list(enumerate(project.pivots))[::2]:
        told = (contact(pivot.id, -0.2) - contact(pivot.id, 0.2)) / 0.4
        assert float(exact[k] @ WAY) == pytest.approx(told, abs=0.03, rel=0.02), pivot.id


def test_pins_of_a_band_at_one_place_have_no_honest_rate() -> None:
    """Whichever of the two goes outwards takes the edge along, and neither does inwards."""
    line = Outline("line", "frame", ((-50.0, -80.0), (150.0, -80.0)))
    project = specimens.hinge(
        "frame panel arm", {"A": (0j, "frame arm"), "B": (0j, "arm panel"), "C": (80 + 40j, "panel frame")}
    )
    project = replace(project, outlines=(line,), gaps=(GapWant(("line", "arm"), 5.0),))
    analysis = analyse(project)
    check = next(check for check in analysis.checks if check.kind == "gap")
    assert slopes(analysis, check) is None


@pytest.mark.parametrize("ring", [1, -1])
@pytest.mark.parametrize("place", [(3.0, 5.0), (-4.0, 5.0), (-3.0, -4.0), (0.0, 7.0), (9.0, 18.0), (26.0, 30.0)])
def test_a_pin_in_its_zone(place: tuple[float, float], ring: int) -> None:
    """A zone with a notch, its corners listed either way round: inside, outside, off a corner, on the edge."""
    corners = ((0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (20.0, 20.0), (20.0, 28.0), (0.0, 28.0))[::ring]
    project = replace(HATCH, zones=(Zone("bulkhead", corners),))
    project = edits.move_pivot(project, "O1", place)
    margin, rates = zone_slopes(project, "bulkhead", "O1")[0]
    assert margin == pytest.approx(inside(corners, place), abs=1e-12)
    way = rates[[pivot.id for pivot in project.pivots].index("O1")]
    assert math.hypot(*way) == pytest.approx(1.0)
    assert np.abs(rates).sum() == pytest.approx(np.abs(way).sum()), "no other pin has a part in it"
    step = 1e-4
    there = inside(corners, (place[0] + step * float(way[0]), place[1] + step * float(way[1])))
    assert there - margin == pytest.approx(step, abs=1e-9), "it is the steepest way"


@pytest.mark.parametrize("name", sorted(specimens.ALL))
def test_every_specimen_has_finite_rates_or_none(name: str) -> None:
    analysis = analyse(specimens.ALL[name])
    for check in analysis.checks:
        rates = slopes(analysis, check)
        assert rates is None or (rates.shape == (len(analysis.project.pivots), 2) and np.isfinite(rates).all())
        assert rates is not None or check.have is None or not math.isfinite(check.margin) or check.kind != "limit"
