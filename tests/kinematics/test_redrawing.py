"""Edits that redraw an outline: the line is what was asked, all else stays, and what can't be is told."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from kinematics import edits, redrawing
from kinematics.errors import HingewrightError, OutlineError
from kinematics.project import GapWant, Outline, Project
from tests import strategies
from tests.specimens import demo_six_bar, single_pivot

BODY = replace(
    single_pivot,
    outlines=(
        Outline("sill", "body", ((0.0, 0.0), (100.0, 0.0), (100.0, 80.0), (160.0, 80.0))),
        Outline("post", "body", ((200.0, 90.0), (200.0, 300.0))),
        Outline("frame", "body", ((0.0, 0.0), (60.0, 0.0), (60.0, 60.0), (0.0, 60.0)), closed=True),
        Outline("skin", "lid", ((50.0, -20.0), (50.0, 200.0)), half_width=1.0),
    ),
    gaps=(GapWant(("sill", "skin"), 3.0),),
)


def points(project: Project, id: str) -> tuple[tuple[float, float], ...]:
    return project.outline(id).points


def test_a_corner_is_rounded_in_place() -> None:
    after = redrawing.round_corner(BODY, "sill", 1, 10.0)
    assert points(after, "sill")[:2] == ((0.0, 0.0), (90.0, 0.0))
    assert any(point == pytest.approx((100.0, 10.0)) for point in points(after, "sill"))
    assert after.gaps == BODY.gaps
    assert after.outline("post") is BODY.outline("post")


@pytest.mark.parametrize("place", [0, 1, 2, 3])
def test_every_corner_of_a_closed_line_bends(place: int) -> None:
    after = redrawing.bend(BODY, "frame", place)
    ring = points(after, "frame")
    radius, centre = 30.0 * math.sqrt(2.0), (30.0, 30.0)
    assert set(points(BODY, "frame")) <= set(ring)
    # the arc through three corners of a square is half its circle; the fourth corner stays: half circle, half square
    area = shapely.Polygon(ring).area
    assert area == pytest.approx(0.5 * math.pi * radius**2 + 0.5 * 3600.0, rel=1e-3)
    assert all(math.dist(point, centre) <= radius + 1e-9 for point in ring)


def test_an_end_does_not_bend() -> None:
    with pytest.raises(OutlineError, match="on either side"):
        redrawing.bend(BODY, "sill", 0)


def test_a_line_is_cut_where_others_cross_and_the_chosen_piece_stays() -> None:
    after = redrawing.trim(BODY, "sill", 0)
    assert points(after, "sill") == ((0.0, 0.0), (50.0, 0.0))
    whole = redrawing.trim(BODY, "frame", 0)
    assert whole.outline("frame").closed is False


def test_two_lines_become_one() -> None:
    after = redrawing.join(BODY, "sill", "post")
    assert points(after, "sill") == (*points(BODY, "sill"), *points(BODY, "post"))
    assert [each.id for each in after.outlines] == ["sill", "frame", "skin"]
    for other, words in (("frame", "open lines"), ("skin", "move together")):
        with pytest.raises(OutlineError, match=words):
            redrawing.join(BODY, "sill", other)


def test_a_line_beside_is_another_outline_with_the_same_pen() -> None:
    after = redrawing.beside(BODY, "skin", -5.0)
    assert points(after, "skin beside") == ((55.0, -20.0), (55.0, 200.0))
    assert after.outline("skin beside").half_width == 1.0
    assert after.outlines[: len(BODY.outlines)] == BODY.outlines


def test_the_edge_of_the_panel_faces_the_body_at_the_gap() -> None:
    after = redrawing.facing_edge(BODY, "post", 4.0)
    edge = after.outline("edge along post")
    assert edge.on == "lid"
    assert edge.points == ((196.0, 90.0), (196.0, 300.0))  # on the side of the lid
    with pytest.raises(OutlineError, match="panel's own"):
        redrawing.facing_edge(BODY, "skin", 4.0)


def test_mirrored_in_place_or_as_a_copy() -> None:
    there = redrawing.mirror(BODY, "post", (0.0, 0.0), (0.0, 1.0))
    assert points(there, "post") == ((-200.0, 90.0), (-200.0, 300.0))
    copied = redrawing.mirror_copy(BODY, "post", (0.0, 0.0), (0.0, 1.0))
    assert points(copied, "post mirrored") == points(there, "post")
    assert copied.outline("post") is BODY.outline("post")


def test_thinned_and_smoothed() -> None:
    fine = redrawing.smooth(BODY, "sill")
    assert set(points(BODY, "sill")) <= set(points(fine, "sill"))
    coarse = redrawing.thin_out(fine, "sill", 0.5)
    assert 4 <= len(points(coarse, "sill")) < len(points(fine, "sill"))


@settings(max_examples=60, phases=[Phase.generate])
@given(strategies.ready_projects(), st.data())
def test_on_any_project_it_is_drawn_or_told(project: Project, data: st.DataObject) -> None:
    if not project.outlines:
        return
    id_ = data.draw(st.sampled_from([each.id for each in project.outlines]))
    place = data.draw(st.integers(0, len(project.outline(id_).points)))
    size = data.draw(st.floats(-300.0, 300.0))
    ways = [
        lambda: redrawing.round_corner(project, id_, place, size),
        lambda: redrawing.bend(project, id_, place),
        lambda: redrawing.smooth(project, id_),
        lambda: redrawing.thin_out(project, id_, size),
        lambda: redrawing.trim(project, id_, place),
        lambda: redrawing.join(project, id_, project.outlines[0].id),
        lambda: redrawing.beside(project, id_, size),
        lambda: redrawing.facing_edge(project, id_, size),
        lambda: redrawing.mirror_copy(project, id_, (size, 0.0), (0.0, 1.0)),
    ]
    try:
        after = data.draw(st.sampled_from(ways))()
    except HingewrightError:
        return  # told
    assert (after.pivots, after.links, after.travel) == (project.pivots, project.links, project.travel)


def test_measures_of_points_that_are_gone_go_and_others_stay() -> None:
    assert redrawing.thin_out(demo_six_bar, demo_six_bar.outlines[0].id, 0.0) is demo_six_bar
    assert edits.replace_outline(demo_six_bar, demo_six_bar.outlines[0].id, demo_six_bar.outlines[0]) is demo_six_bar
