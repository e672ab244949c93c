"""What brings a hinge back: nothing where it is as drawn, else adjusters and holes, each built and analysed anew."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import pytest

from kinematics import analyse
from kinematics.built_beside import beside_of, broken
from kinematics.made_parts import AsMade, FoundAt, HandMade, MadeDistance, Turned
from kinematics.mount_parts import Base, Bracket, Mount
from kinematics.putting_back import FINEST, LEFT, needs_nothing, put_back, redrill
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from kinematics.analysis import Analysis

MOUNT = Mount(Bracket(at=(90.0, 345.0), skin_deg=-1.4), Base())
SPANS = (50.0, 90.0)
HIGH = HandMade("left", (), (FoundAt("bulkhead", "O1", y=259.0),))
LONG = HandMade("left", (MadeDistance("lift link", ("Q", "P2"), 157.35),))


@cache
def drawn() -> Analysis:
    return analyse(replace(demo_six_bar, mount=MOUNT), steps=2)


def afresh(made: HandMade) -> Analysis:
    """The hinge built and analysed without anything that the search had."""
    found = beside_of(replace(demo_six_bar, mount=MOUNT), made, SPANS).analysis
    assert found is not None
    return found


def test_a_hinge_as_drawn_needs_nothing() -> None:
    now = beside_of(drawn().project, HandMade("left", (), (FoundAt("bulkhead", "O1", y=257.0),)), SPANS, drawn())
    assert needs_nothing(drawn(), now)
    assert put_back(drawn(), now, SPANS) is None
    assert redrill(drawn(), now, SPANS) is None


@pytest.mark.parametrize("made", [HIGH, LONG], ids=["a fixed pin too high", "a link too long"])
def test_adjusters_bring_back_what_came_out_otherwise(made: HandMade) -> None:
    now = beside_of(drawn().project, made, SPANS, drawn())
    assert now.analysis is not None
    assert broken(drawn(), now.analysis)
    found = put_back(drawn(), now, SPANS)
    assert found is not None
    assert found.meets
    again = afresh(found.made)
    assert broken(drawn(), again) == ()
    assert abs((again.gaps[0].shut or 0.0) - (drawn().gaps[0].shut or 0.0)) <= LEFT
    for key, by in found.by.items():
        assert by / FINEST == pytest.approx(round(by / FINEST))
        assert key in {each.adjuster for each in found.made.turned}


def test_adjusters_stay_within_what_is_left_of_them() -> None:
    """No shims left to put in and the slots at their ends: what can't be brought back is said to stay."""
    bracket, base = MOUNT.bracket, MOUNT.base
    assert bracket is not None
    assert base is not None
    bracket = replace(bracket, fore_aft=0.1, side=0.0, shims=0.1, shims_most=0.2)
    base = replace(base, up_down=0.1, shims=0.1, shims_most=0.2)
    tight = analyse(replace(drawn().project, mount=Mount(bracket, base)), steps=2)
    now = beside_of(tight.project, replace(LONG, turned=(Turned("fore_aft", 0.1),)), SPANS, tight)
    found = put_back(tight, now, SPANS)
    assert found is not None
    assert not found.meets
    for turned in found.made.turned:
        if turned.adjuster != "rest":
            assert abs(turned.by) <= 0.1 + 1e-9
    bare = replace(tight.project, mount=None)
    alone = put_back(analyse(bare, steps=2), beside_of(bare, LONG), (0.0, 0.0))
    assert alone is None or set(alone.by) == {"rest"}


@pytest.mark.parametrize("made", [HIGH, LONG], ids=["a fixed pin too high", "a link too long"])
def test_a_hole_drilled_anew_brings_the_wants_back(made: HandMade) -> None:
    now = beside_of(drawn().project, made, SPANS, drawn())
    found = redrill(drawn(), now, SPANS)
    assert found is not None
    assert broken(drawn(), found.after) == ()
    link, pivot = found.hole
    # made once more from its own distances: what a builder would measure then
    spans = tuple(MadeDistance(link, (pivot, other), mm) for other, _, mm in found.distances)
    assert link not in (demo_six_bar.fixed.id, demo_six_bar.panel.id)
    pins = {pin.id: complex(*pin.at) for pin in demo_six_bar.pivots_on(link)}
    assert all(was == pytest.approx(abs(pins[pivot] - pins[other])) for other, was, _ in found.distances)
    again = afresh(replace(made, distances=(*made.distances, *spans)))
    assert all(check.margin > -0.02 for check in broken(drawn(), again))
    assert abs(found.by) < 2.0  # what came out wrong is 2 mm off: putting that back would do as well


def test_as_made_of_a_project_is_what_is_put_back() -> None:
    project = replace(drawn().project, as_made=AsMade((HIGH,)))
    now = beside_of(project, project.made.of("left"), SPANS, drawn())
    assert math.isclose(now.analysis.gaps[0].shut or 0.0, afresh(HIGH).gaps[0].shut or 0.0, abs_tol=1e-9)  # type: ignore[union-attr]
