"""Adjusters: their rates against hinges that are adjusted and analysed anew, and which of them to turn."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest

from kinematics import analyse
from kinematics.adjusting import Adjuster, Adjusting, adjusting, alone, rest_of, which
from kinematics.fittings import Cushion, Latch
from kinematics.loads import Loads
from kinematics.mount_parts import Base, Bracket
from kinematics.rear_edge import front_point, rear_point
from tests.specimens import demo_six_bar, empty

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.project import Outline, Project

BRACKET, BASE = Bracket(at=(90.0, 330.0), skin_deg=2.0), Base(at=(10.0, 220.0), wall_deg=88.0)
SPANS = (50.0, 90.0)
STEP = 0.01


@cache
def drawn() -> Analysis:
    return analyse(demo_six_bar, steps=2)


def told(resting: bool = True) -> Adjusting:
    found = adjusting(drawn(), BRACKET, BASE, SPANS, resting)
    assert found is not None
    return found


def adjusted(adjuster: Adjuster, by: float) -> Project:
    """The demo with an adjuster turned: what it carries goes the other way from what it is held at, links unchanged.

    Moved are the panel's outlines on its pins, or the body's under the hinge, which stays where it is.
    """
    link, way = (demo_six_bar.panel.id, by) if adjuster.carries == "panel" else (demo_six_bar.fixed.id, -by)

    def moved(outline: Outline) -> Outline:
        if outline.on != link:
            return outline
        places = np.array([complex(*point) for point in outline.points])
        if adjuster.turn:
            pivot = -adjuster.shift / (1j * adjuster.turn)
            places = pivot + np.exp(1j * adjuster.turn * way) * (places - pivot)
        else:
            places = places + way * adjuster.shift
        return replace(outline, points=tuple((z.real, z.imag) for z in places.tolist()))

    return replace(demo_six_bar, outlines=tuple(map(moved, demo_six_bar.outlines)))


KEYS = ("fore_aft", "height", "front_height", "up_down", "off_wall", "top_off_wall")


@pytest.mark.parametrize("key", KEYS)
def test_gaps_go_as_those_of_the_adjusted_hinge(key: str) -> None:
    found = told(resting=False)
    effect = next(each for each in found.effects if each.adjuster.key == key)
    sides = [analyse(adjusted(effect.adjuster, by), steps=2, near=drawn()) for by in (STEP, -STEP)]
    for place, gap in enumerate(found.gaps):
        ahead, behind = (next(each for each in side.gaps if each.between == gap.between) for side in sides)
        for rate, name in ((effect.shut[place], "shut"), (effect.travel[place], "smallest")):
            before, now, after = (getattr(each, name) for each in (behind, gap, ahead))
            # where two edges lie along each other, a tilt brings one end nearer either way: a bend, and a rate between
            assert rate is not None
            assert (after - now) / STEP - 5e-3 <= rate <= (now - before) / STEP + 5e-3


@pytest.mark.parametrize("key", KEYS)
def test_the_panel_comes_back_to_its_rest_along_its_motion(key: str) -> None:
    found, analysis = told(), drawn()
    effect = next(each for each in found.effects if each.adjuster.key == key)
    front, rear = front_point(demo_six_bar), rear_point(demo_six_bar)
    assert effect.front is not None
    assert effect.rear is not None
    assert front is not None
    assert rear is not None
    assert effect.front.imag == pytest.approx(0.0, abs=1e-9)
    # the exact pose at which the front edge, lowered by the adjuster, is at its height again
    adjuster = effect.adjuster
    by = -STEP if adjuster.carried(complex(*front)).imag > 0.0 else STEP
    panel = analysis.links.index(demo_six_bar.panel.id)

    def at(deg: float, point: tuple[float, float]) -> complex:
        pose = analysis.pose(deg)
        place = complex(*point)
        if adjuster.carries == "panel":
            place += by * adjuster.carried(place)
        stands = complex(*pose.place(panel, (place.real, place.imag)))
        return stands + by * adjuster.carried(stands) if adjuster.carries == "hinge" else stands

    low, high = 0.0, 1.0
    for _ in range(40):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if at(middle, front).imag > front[1] else (middle, high)
    went = (at(low, rear[0]) - complex(*rear[0])) / by
    assert abs(effect.rear - went) < 2e-2 * max(1.0, abs(went))


def test_the_rest_is_an_adjuster_and_raises_itself_alone() -> None:
    rest = told().effects[-1]
    assert rest.adjuster.key == "rest"
    assert rest.front is not None
    assert rest.front.imag == pytest.approx(1.0)
    assert rest.travel == (0.0,) * len(told().gaps)


def test_the_panel_rests_on_its_bump_stop_before_its_latch_before_its_front_edge() -> None:
    latch = Latch("hatch", (1100.0, 250.0))
    stop = Cushion("buffer", "bump stop", "hatch", (900.0, 250.0), 3.0, force=20.0)
    cases = ((), None, "front edge"), ((), latch, "latch"), ((stop,), latch, "bump stop")
    for cushions, held, kind in cases:
        rest = rest_of(replace(demo_six_bar, loads=Loads(cushions=cushions, latch=held)))
        assert rest is not None
        assert (rest.kind, round(rest.way.imag, 9)) == (kind, 1.0)
    assert rest_of(empty) is None


def test_the_adjuster_to_turn_brings_the_gap_that_is_wanted() -> None:
    found = told()
    first = alone(found, 0, 1.0)[0]
    assert first[2]
    assert (found.effects[first[0]].shut[0] or 0.0) * first[1] == pytest.approx(1.0)
    turned = which(found, {0: 1.0})
    assert turned is not None
    assert turned.meets
    assert turned.changes[0] == pytest.approx(1.0, abs=1e-3)
    beyond = which(replace(found, rest=None, effects=found.effects[:2]), {0: 50.0})
    assert beyond is not None
    assert not beyond.meets
    assert beyond.by[0] == pytest.approx(BRACKET.fore_aft)  # all that its slot lets it go
    assert which(found, {}) is None


def test_ranges_are_what_is_left_of_slots_and_shims() -> None:
    found = adjusting(drawn(), replace(BRACKET, fore_aft_at=1.0), BASE, (0.0, 0.0))
    assert found is not None
    left = {each.adjuster.key: (each.adjuster.less, each.adjuster.more) for each in found.effects}
    assert left["fore_aft"] == (5.0, 3.0)
    assert left["height"] == (2.0, 3.0)
    assert "front_height" not in left  # one row of bolts can't be tilted
    assert adjusting(analyse(empty, steps=2), BRACKET, BASE, SPANS) is None
