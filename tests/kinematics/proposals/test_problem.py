"""What a search reads off a project: openings, pairs, bands, limits, room, zones and locked pins."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings

from kinematics.project import FrontEdge, GapWant, Limit, Link, Mark, Outline, Pivot, Project, Room, Travel, Zone
from kinematics.proposals.problem import LEAST_POSES, UNASKED, coarser, finer, read_problem
from kinematics.proposals.results import Settings
from tests.strategies import projects

WALL = Outline("wall", "body", ((-40.0, 30.0), (-40.0, -300.0)), uncertain=1.0)
POST = Outline("post", "body", ((500.0, -200.0), (500.0, -90.0)), half_width=2.0, station="fore")
SKIN = Outline("skin", "lid", ((-30.0, 0.0), (600.0, 0.0)), half_width=3.0, uncertain=0.5)
RIB = Outline("rib", "lid", ((100.0, -20.0), (300.0, -20.0)), station="aft")
TIP = Mark("tip", "lid", (600.0, 0.0))


def hatch(**others: object) -> Project:
    base = Project(
        links=(Link("body", "fixed"), Link("lid", "panel"), Link("arm", width=20.0), Link("brace")),
        outlines=(WALL, SKIN),
        marks=(TIP, Mark("elbow", "arm", (0.0, 0.0))),
        travel=Travel("anticlockwise", 60.0),
    )
    return replace(base, **others)  # type: ignore[arg-type]


@pytest.mark.parametrize(("opens", "sign"), [("anticlockwise", 1.0), ("clockwise", -1.0)])
@pytest.mark.parametrize("wanted", [5.0, 60.0, 180.0])
def test_openings_go_from_shut_to_what_is_wanted_closer_at_first(opens: str, sign: float, wanted: float) -> None:
    project = hatch(travel=Travel(opens, wanted))  # type: ignore[arg-type]
    problem = read_problem(project, Settings())
    openings = sign * problem.openings
    assert openings[0] == 0.0
    assert abs(openings[-1] - np.radians(wanted)) < 1e-12
    steps = np.diff(openings)
    assert (np.diff(steps) > 0.0).all()
    assert len(openings) >= LEAST_POSES
    assert np.degrees(steps).max() < 9.0
    assert len(finer(problem).openings) == 2 * len(openings)


def test_a_want_has_what_the_lines_may_be_off_and_their_radii_added() -> None:
    problem = read_problem(hatch(gaps=(GapWant(("skin", "wall"), 4.0, after_deg=20.0),)), Settings())
    (pair,) = problem.pairs
    assert pair.want == 4.0 + 1.0 + 0.5 + 3.0
    assert pair.names == ("skin", "wall")
    counts = problem.counts(pair.after)
    assert (counts == (np.degrees(problem.openings) >= 20.0 - 1e-9)).all()
    assert 0 < counts.sum() < len(counts)
    assert abs(np.degrees(problem.openings[counts][0]) - 20.0) < 1e-9  # looked at where it begins


def test_what_nobody_asked_about_is_kept_from_touching() -> None:
    (pair,) = read_problem(hatch(), Settings()).pairs
    assert pair.want == UNASKED + 1.0 + 0.5 + 3.0
    close = replace(SKIN, points=((-36.0, 0.0), (600.0, 0.0)))  # 1 mm off when shut, radius and all
    (pair,) = read_problem(hatch(outlines=(WALL, close)), Settings()).pairs
    assert abs(pair.want - (0.5 + 1.0 + 0.5 + 3.0)) < 0.01
    touching = replace(SKIN, points=((-37.0, 0.0), (600.0, 0.0)))
    assert not read_problem(hatch(outlines=(WALL, touching)), Settings()).pairs


def test_pairs_of_two_stations_are_watched_only_where_asked() -> None:
    names = {pair.names for pair in read_problem(hatch(outlines=(WALL, POST, SKIN, RIB)), Settings()).pairs}
    assert names == {("skin", "wall"), ("post", "skin"), ("rib", "wall")}
    asked = hatch(outlines=(WALL, POST, SKIN, RIB), gaps=(GapWant(("post", "rib"), 2.0),))
    assert {pair.names for pair in read_problem(asked, Settings()).pairs} == names | {("post", "rib")}


def test_every_want_of_a_pair_counts() -> None:
    gaps = (GapWant(("wall", "skin"), 4.0), GapWant(("skin", "wall"), 9.0, after_deg=30.0))
    problem = read_problem(hatch(gaps=gaps), Settings())
    wants = [(pair.want, int(problem.counts(pair.after).sum())) for pair in problem.pairs]
    assert [want for want, _ in wants] == [8.5, 13.5]
    assert wants[0][1] > wants[1][1]


def test_bands_take_the_strictest_want_of_any_link() -> None:
    gaps = (
        GapWant(("arm", "wall"), 3.0, after_deg=10.0),
        GapWant(("wall", "brace"), 5.0, after_deg=20.0),
        GapWant(("brace", "skin"), 2.0),
        GapWant(("arm", "brace"), 9.0),
    )
    problem = read_problem(hatch(gaps=gaps), Settings(width=24.0))
    on_body, on_lid = problem.bands
    assert (on_body.on_panel, on_lid.on_panel) == (False, True)
    assert on_body.want == 5.0 + 1.0 + 12.0
    assert on_lid.want == 2.0 + 0.5 + 3.0 + 12.0
    assert (problem.counts(on_body.after) == (np.degrees(problem.openings) >= 10.0 - 1e-9)).all()
    assert problem.counts(on_lid.after).all()


@pytest.mark.parametrize(("clear", "want"), [(2.0, 3.0), (8.0, 8.0)])
def test_bands_clear_adds_to_wants_and_holds_from_shut(clear: float, want: float) -> None:
    gaps = (GapWant(("arm", "wall"), 3.0, after_deg=10.0),)
    (band,) = read_problem(hatch(gaps=gaps), Settings(width=0.0, bands_clear=clear)).bands
    assert band.want == want + 1.0
    assert band.after == 0.0


def test_limits_are_read_as_ways_of_marks_on_the_panel() -> None:
    limits = (
        Limit("tip", dx_at_least=1.0, dx_at_most=2.0, after_deg=30.0),
        Limit("tip", dy_at_least=3.0, dy_at_most=4.0),
        Limit("elbow", dx_at_least=9.0),
    )
    problem = read_problem(hatch(limits=limits), Settings())
    moved = 5.0 + 7.0j
    told = [((bound.way * moved).real, bound.want, round(np.degrees(bound.after), 9)) for bound in problem.bounds]
    assert told == [(5.0, 1.0, 30.0), (-5.0, -2.0, 30.0), (7.0, 3.0, 0.0), (-7.0, -4.0, 0.0)]
    assert [(bound.mark, bound.side) for bound in problem.bounds] == [
        ("tip", side) for side in ("dx_at_least", "dx_at_most", "dy_at_least", "dy_at_most")
    ]
    assert all(bound.at == 600 + 0j for bound in problem.bounds)


def test_the_room_is_read_with_the_doubts_of_the_lines() -> None:
    problem = read_problem(hatch(room=Room(-500.0, 800.0, FrontEdge(None, 900.0))), Settings())
    assert problem.roof == 800.0 - 3.5
    assert problem.front == (600 + 0j, -500.0 + 900.0 + 0.5)
    marked = read_problem(hatch(room=Room(-500.0, None, FrontEdge("tip", 900.0))), Settings())
    assert (marked.roof, marked.front) == (None, (600 + 0j, 400.0))
    assert read_problem(hatch(room=Room(-500.0, None, FrontEdge("elbow", 900.0))), Settings()).front is None
    assert read_problem(hatch(), Settings()).front is None


def test_locked_pins_and_zones_go_by_their_link() -> None:
    square = ((0.0, -90.0), (100.0, -90.0), (100.0, -10.0), (0.0, -10.0))
    bow_tie = ((0.0, 0.0), (100.0, 100.0), (100.0, 0.0), (0.0, 100.0))
    project = hatch(
        zones=(Zone("body", square), Zone("arm", square), Zone("body", bow_tie), Zone("lid", square)),
        pivots=(
            Pivot("A", (10.0, -50.0), ("body", "arm"), locked=True),
            Pivot("B", (20.0, -50.0), ("body", "brace")),
            Pivot("C", (30.0, -50.0), ("arm", "lid"), locked=True),
            Pivot("D", (40.0, -50.0), ("arm", "brace"), locked=True),
        ),
    )
    problem = read_problem(project, Settings())
    assert [[pin.id for pin in pins] for pins in problem.locked] == [["A"], ["C"], ["D"]]
    assert [len(zones) for zones in problem.zones] == [1, 1]  # one that crosses itself holds no pin
    assert problem.zones[0][0].at(np.array([50 - 30j, 50 + 20j]))[0] == pytest.approx([-20.0, 30.0], abs=0.01)


def test_coarser_looks_at_every_other_opening_the_last_and_where_wants_begin() -> None:
    problem = read_problem(hatch(gaps=(GapWant(("skin", "wall"), 4.0, after_deg=20.0),)), Settings())
    few = coarser(problem)
    assert set(few.openings) <= set(problem.openings)
    assert len(few.openings) <= len(problem.openings) // 2 + 3
    assert (few.openings[0], few.openings[-1]) == (0.0, problem.openings[-1])
    assert np.abs(np.degrees(few.openings) - 20.0).min() < 1e-9
    assert few.pairs is problem.pairs


@given(projects(4))
@settings(max_examples=4)
def test_any_project_can_be_read(project: Project) -> None:
    problem = read_problem(project, Settings())
    assert np.isfinite(problem.openings).all()
    assert 60.0 <= problem.size <= 400.0
    assert all(np.isfinite(pair.panel_points).all() and np.isfinite(pair.fixed_points).all() for pair in problem.pairs)
