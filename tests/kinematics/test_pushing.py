"""Which way to push: by hand for one pin, locked and idle pins left out, and the way really is the best one."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from kinematics import analyse, edits
from kinematics.placing import drag_pivot
from kinematics.project import Limit, Link, Mark, Pivot, Project, Travel
from kinematics.pushing import pushes
from tests import specimens
from tests.kinematics.test_deepest import door as in_the_ceiling


def door() -> Project:
    """One pin, opening by a quarter turn: the mark's dx is a + b − 100 for a pin at (a, b)."""
    return Project(
        links=(Link("post", "fixed"), Link("door", "panel")),
        pivots=(Pivot("A", (0.0, 0.0), ("post", "door")),),
        marks=(Mark("edge", "door", (100.0, 0.0)),),
        limits=(Limit("edge", dx_at_least=-50.0),),
        travel=Travel("anticlockwise", 90.0),
    )


def test_one_pin_by_hand() -> None:
    found = pushes(analyse(door()))
    assert found is not None
    assert found.check.kind == "limit"
    (push,) = found.pins
    assert push.way == pytest.approx((math.sqrt(0.5), math.sqrt(0.5)), abs=1e-9)
    assert push.per_mm == pytest.approx(math.sqrt(2.0), abs=1e-9)
    assert not found.in_degrees


def test_locked_pins_are_left_out() -> None:
    project = replace(door(), pivots=(replace(door().pivots[0], locked=True),))
    found = pushes(analyse(project))
    assert found is not None
    assert found.pins == ()


def test_the_way_is_the_best_one() -> None:
    """Along the arrow the margin grows by the rate; 50° to either side by less; across by nothing."""
    project = specimens.demo_six_bar
    analysis = analyse(project)
    found = pushes(analysis)
    assert found is not None
    assert found.check is analysis.checks[0]
    for push in found.pins:
        grown = []
        for turn in (-90.0, -50.0, 0.0, 50.0):
            x, y = project.pivot(push.pivot).at
            c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
            way = (push.way[0] * c - push.way[1] * s, push.way[0] * s + push.way[1] * c)
            moved = edits.move_pivot(project, push.pivot, (x + 0.05 * way[0], y + 0.05 * way[1]))
            checks = analyse(moved, near=analysis).checks
            margin = next(each.margin for each in checks if each.subject == found.check.subject)
            grown.append((margin - found.check.margin) / 0.05)
        assert grown[2] == pytest.approx(push.per_mm, abs=0.01)
        assert grown[2] > max(grown[1], grown[3])
        assert grown[0] == pytest.approx(0.0, abs=0.01)


def test_pins_pushed_at_a_pose_go_that_way_there() -> None:
    """Dragged at 40° by 0.05 mm along the arrow, the margin grows by the rate told for that pose."""
    project = specimens.demo_six_bar
    analysis = analyse(project)
    pose = analysis.pose(40.0)
    found = pushes(analysis, pose=pose)
    assert found is not None
    assert len(found.pins) >= 3
    for push in found.pins:
        pin = project.pivot(push.pivot)
        x, y = pose.place(analysis.links.index(pin.joins[0]), pin.at)
        moved = drag_pivot(project, analysis, pin.id, pose, (x + 0.05 * push.way[0], y + 0.05 * push.way[1]))
        if moved is None:
            continue  # the hand couldn't drag it there either
        checks = analyse(moved, near=analysis).checks
        margin = next(each.margin for each in checks if each.subject == found.check.subject)
        assert (margin - found.check.margin) / 0.05 == pytest.approx(push.per_mm, rel=0.03, abs=0.01), push.pivot


def test_a_gap_that_touches_is_pushed_out_of_contact_in_degrees() -> None:
    project = edits.move_pivot(specimens.demo_six_bar, "P1", (25.0, 285.0))
    found = pushes(analyse(project))
    assert found is not None
    assert found.in_degrees
    by_name = {push.pivot: push for push in found.pins}
    assert by_name["P1"].way[1] < -0.2, "back down, whence it came"


def test_bodies_that_still_touch_beside_the_end_of_a_contact() -> None:
    """X at (141, 227) touches from 2° to 41°; the upper end is known to some thousandths, and told all the same."""
    analysis = analyse(edits.move_pivot(specimens.demo_six_bar, "X", (141.0, 227.0)))
    found = pushes(analysis, pose=analysis.pose(20.0))
    assert found is not None
    assert found.in_degrees
    assert len(found.pins) >= 4


def test_what_touches_all_the_way_is_pushed_by_its_depth_in_mm() -> None:
    """A door's tip in the ceiling at all openings that count, 80° to 100°: at 90° it stands at 100 + b − a."""
    analysis = analyse(edits.set_gap(in_the_ceiling(100.0), ("ceiling", "leaf"), 5.0, after_deg=80.0), steps=2)
    check = next(each for each in analysis.checks if each.kind == "gap" and each.after_deg == 80.0)
    found = pushes(analysis, check)
    assert found is not None
    assert found.by_depth
    assert not found.in_degrees
    (push,) = found.pins
    assert push.per_mm == pytest.approx(math.sqrt(2.0), abs=0.02)
    assert push.way == pytest.approx((math.sqrt(0.5), -math.sqrt(0.5)), abs=0.02)


@pytest.mark.parametrize("start", [(141.0, 227.0), (145.0, 215.0)])
def test_who_follows_the_arrows_comes_free(start: tuple[float, float]) -> None:
    """Each time 2 mm, all pins as the arrows say: some ten such pushes do."""
    analysis = analyse(edits.move_pivot(specimens.demo_six_bar, "X", start), steps=2)
    for _ in range(20):
        touching = [check for check in analysis.checks if check.kind == "gap" and check.have == 0.0]
        if not touching:
            break
        found = pushes(analysis, touching[0])
        assert found is not None
        whole = math.hypot(*(push.per_mm for push in found.pins))
        project = analysis.project
        for push in found.pins:
            (x, y), by = project.pivot(push.pivot).at, 2.0 * push.per_mm / whole
            project = edits.move_pivot(project, push.pivot, (x + by * push.way[0], y + by * push.way[1]))
        analysis = analyse(project, steps=2, near=analysis)
    assert not touching


@pytest.mark.parametrize("name", sorted(specimens.ALL))
def test_every_specimen(name: str) -> None:
    found = pushes(analyse(specimens.ALL[name]))
    for push in found.pins if found is not None else ():
        assert math.hypot(*push.way) == pytest.approx(1.0)
        assert push.per_mm > 0.0
