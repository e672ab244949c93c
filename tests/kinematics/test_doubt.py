"""An outline's doubt goes into every clearance and shut gap, and a want holds only at the low end."""

from __future__ import annotations

from dataclasses import replace

import pytest

from kinematics import analyse, edits
from kinematics import wanting as wanting_edits
from kinematics.project import Project, ShutWant
from tests.specimens import demo_six_bar, single_pivot

PAIR = ("wall", "lid skin")  # 22 mm apart at shut


def unsure(project: Project, **off: float) -> Project:
    outlines = tuple(replace(each, uncertain=off.get(each.id.replace(" ", "_"), 0.0)) for each in project.outlines)
    return replace(project, outlines=outlines)


def wanting(at_least: float, **off: float) -> Project:
    return unsure(edits.set_gap(single_pivot, PAIR, at_least), **off)


@pytest.mark.parametrize(("wall", "skin"), [(0.5, 0.0), (0.0, 0.5), (0.2, 0.3)])
def test_a_want_holds_only_at_the_low_end(wall: float, skin: float) -> None:
    exact = analyse(wanting(0.0)).gaps[0].smallest
    assert exact is not None
    for at_least, ok in ((exact - 0.5, True), (exact - 0.499, False), (exact - 0.501, True)):
        analysis = analyse(wanting(max(at_least, 0.0), wall=wall, lid_skin=skin))
        gap = analysis.gaps[0]
        assert gap.smallest == exact
        assert gap.uncertain == pytest.approx(0.5)
        if at_least > 0.0:
            (check,) = [each for each in analysis.checks if each.kind == "gap"]
            assert (gap.ok, check.ok) == (ok, ok)
            assert check.margin == pytest.approx(exact - 0.5 - at_least)
            assert check.uncertain == gap.uncertain


@pytest.mark.parametrize(
    ("want", "off", "ok", "margin"),
    [
        (ShutWant(20.0, 24.0), 2.0, True, 0.0),
        (ShutWant(20.0, 24.0), 2.1, False, -0.1),
        (ShutWant(at_most=23.0), 1.5, False, -0.5),
        (ShutWant(at_least=1.0), 3.0, True, 18.0),
    ],
)
def test_a_shut_gap_must_hold_at_both_ends(want: ShutWant, off: float, ok: bool, margin: float) -> None:
    project = unsure(edits.set_gap(single_pivot, PAIR, 0.0), wall=off)
    project = replace(project, gaps=(replace(project.gaps[0], shut=want),))
    (check,) = [each for each in analyse(project).checks if each.kind == "shut gap"]
    assert check.have == pytest.approx(22.0)
    assert (check.ok, check.margin) == (ok, pytest.approx(margin))


def test_what_nobody_asked_for_stays_unjudged() -> None:
    project = unsure(replace(single_pivot, gaps=()), wall=1.0)
    gap = next(each for each in analyse(project).gaps if "wall" in each.between)
    assert (gap.uncertain, gap.ok) == (1.0, None)


def test_without_doubt_nothing_changes() -> None:
    analysis = analyse(demo_six_bar)
    assert all(gap.uncertain == 0.0 for gap in analysis.gaps)


def test_what_goes_under_a_roof_is_held_at_the_worse_end() -> None:
    roofed = wanting_edits.set_roof(single_pivot, 500.0)
    (sure,) = [each for each in analyse(roofed).checks if each.kind == "roof"]
    assert sure.have is not None
    for off, ok in ((sure.have - 0.001, True), (sure.have + 0.001, False)):
        (check,) = [each for each in analyse(unsure(roofed, lid_skin=off)).checks if each.kind == "roof"]
        assert (check.ok, check.have, check.uncertain) == (ok, sure.have, off)
        assert check.margin == pytest.approx(sure.have - off)


def test_the_front_edge_of_a_traced_panel_too() -> None:
    floored = wanting_edits.set_front_height(wanting_edits.set_floor(single_pivot, -600.0), 900.0)
    (sure,) = [each for each in analyse(floored).checks if each.kind == "front edge"]
    (check,) = [each for each in analyse(unsure(floored, lid_skin=3.0)).checks if each.kind == "front edge"]
    assert sure.have == check.have
    assert check.margin == pytest.approx(sure.margin - 3.0)
