"""Things in the way: the list for ticking off, with how each stands."""

from __future__ import annotations

from dataclasses import replace

from app.look import light
from app.things import THINGS, bounds, things, untick
from app.traces import shown_gaps, traces
from kinematics import analyse, wanting
from tests.specimens import demo_six_bar

BOX = wanting.box((250.0, -100.0), (700.0, 120.0))


def test_common_things_come_first_then_those_of_the_project() -> None:
    ticked = wanting.tick_thing(wanting.tick_thing(demo_six_bar, "tow hook"), "knee")
    found = things(ticked, "mm")
    assert [thing.name for thing in found] == [*THINGS, "tow hook"]
    states = {thing.name: (thing.ticked, thing.placed, thing.words) for thing in found}
    assert states["knee"] == (True, False, "to be drawn")
    assert states["engine"] == (False, False, "")
    assert len(set(THINGS)) == len(THINGS)


def test_a_placed_thing_tells_its_size_and_link() -> None:
    placed = wanting.place_thing(demo_six_bar, "engine", BOX, "bulkhead", 5.0)
    thing = next(thing for thing in things(placed, "mm") if thing.name == "engine")
    assert (thing.ticked, thing.placed, thing.words) == (True, True, "placed")
    assert thing.size == "450.0 × 220.0 mm on bulkhead"
    assert bounds(placed.outline("engine")) == ((250.0, -100.0), (700.0, 120.0))
    assert untick(placed, "engine") == demo_six_bar


def test_the_board_shows_the_nearest_gap_of_a_thing_and_those_that_fall_short() -> None:
    placed = wanting.place_thing(demo_six_bar, "engine", BOX, "bulkhead", 5.0)
    shown = [gap.between for gap in shown_gaps(analyse(placed)) if "engine" in gap.between]
    assert shown == [("engine", "cross link")]
    strict = replace(placed, gaps=tuple(replace(gap, at_least=100.0) for gap in placed.gaps))
    shown = [gap.between for gap in shown_gaps(analyse(strict)) if "engine" in gap.between]
    assert set(shown) == {("engine", "cross link"), ("engine", "lift link")}
    assert any(shape.key == "gap:engine|cross link" for shape in traces(analyse(placed), light()))
    unticked = replace(placed, keep_clear=())  # an outline like all others: every want of it is shown
    assert len([gap for gap in shown_gaps(analyse(unticked)) if "engine" in gap.between]) == len(placed.gaps) - 1
