"""Rates of transmission angles, and the want of one: against whole analyses, checked, mended, told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from app.files import load
from app.words import change_since, check_sentence
from kinematics import analyse, edits
from kinematics.errors import ProjectError
from kinematics.mending import mend
from kinematics.slopes import slopes
from resources import find
from tests import specimens

HATCH = replace(load(find("demos/launch hatch.hinge")), transmission_at_least=20.0)
BENCH = replace(load(find("demos/potting bench.hinge")), transmission_at_least=30.0)


@pytest.mark.parametrize("project", [HATCH, BENCH, replace(BENCH, travel=replace(BENCH.travel, wanted_deg=120.0))])
def test_rates_against_whole_analyses(project: edits.Project) -> None:
    """Differences at 2 and 1 mm: what is left falls with the square of the step; the angle is found to 1e-4."""
    analysis = analyse(project, steps=2)
    check = next(check for check in analysis.checks if check.kind == "transmission")
    exact = slopes(analysis, check)
    if analysis.opening.ends == "dead point":
        assert exact is None, "the angle is nothing at a dead point, and has no rate there"
        return
    assert exact is not None

    def margin(pivot: str, step: float) -> float:
        x, y = project.pivot(pivot).at
        moved = analyse(edits.move_pivot(project, pivot, (x + 0.6 * step, y + 0.8 * step)), steps=2, near=analysis)
        return next(each.margin for each in moved.checks if each.kind == "transmission")

    for k, pivot in enumerate(project.pivots):
        rate = float(exact[k] @ (0.6, 0.8))
        wide, narrow = ((margin(pivot.id, s) - margin(pivot.id, -s)) / (2.0 * s) - rate for s in (2.0, 1.0))
        assert abs(narrow) <= 0.3 * abs(wide) + 2e-4, (pivot.id, rate, wide, narrow)


def test_the_want_is_a_check_in_words() -> None:
    analysis = analyse(HATCH)
    check = next(check for check in analysis.checks if check.kind == "transmission")
    assert not check.ok
    assert check_sentence(check, "mm") == "transmission angle of lift link: only 17.7° at 0°, wants 20°"
    assert change_since(check, replace(check, have=16.0), "mm") == "+1.7°"


def test_no_figure_where_no_link_has_two_pins() -> None:
    single = specimens.hinge("frame panel", {"A": (0j, "frame panel")})
    check = next(c for c in analyse(replace(single, transmission_at_least=30.0)).checks if c.kind == "transmission")
    assert (check.have, check.ok) == (None, False)
    assert "no link has just two pins" in check_sentence(check, "mm")


@pytest.mark.parametrize("project", [HATCH, BENCH])
def test_it_is_put_right(project: edits.Project) -> None:
    found = mend(project)
    assert found.ok
    transmission = analyse(found.project).transmission
    assert transmission is not None
    assert project.transmission_at_least is not None
    assert transmission.smallest_deg >= project.transmission_at_least - 1e-9


@pytest.mark.parametrize("wrong", [0.0, -3.0, 91.0])
def test_what_is_no_such_angle_is_refused(wrong: float) -> None:
    with pytest.raises(ProjectError, match="transmission_at_least"):
        edits.set_transmission(HATCH, wrong)
