"""Edits of what is wanted: what they do, and that they leave all else as the very same object."""

from __future__ import annotations

from dataclasses import fields, replace

import pytest

from kinematics import edits, wanting
from kinematics.errors import ProjectError
from kinematics.project import FrontEdge, GapWant, Limit, Mark, Project, Room, ShutWant
from tests.specimens import demo_six_bar, single_pivot

PAIR = ("screen and sill", "hatch skin")
USUAL = ShutWant(3.175, 6.35)


def changed(before: Project, after: Project) -> set[str]:
    """The fields of a project that are not the very same object any more."""
    return {each.name for each in fields(Project) if getattr(before, each.name) is not getattr(after, each.name)}


# --------------------------------------------------------------------------------------------------------- shut gaps
def test_the_usual_shut_gap_is_3_16_in_within_a_third() -> None:
    assert wanting.usual_shut(25.4 * 3 / 16) == ShutWant(25.4 / 8, 25.4 / 4)
    assert wanting.usual_shut(0.0) == ShutWant(at_least=0.0)


def test_a_shut_gap_is_set_beside_the_clearance_and_taken_away() -> None:
    before = demo_six_bar
    after = wanting.set_shut_gap(before, PAIR, USUAL)
    assert after.gaps == (replace(before.gaps[0], shut=USUAL),)
    assert changed(before, after) == {"gaps"}
    assert wanting.set_shut_gap(after, PAIR, USUAL) is after
    assert wanting.set_shut_gap(after, tuple(reversed(PAIR)), None) == before
    assert edits.set_gap(after, PAIR, 7.0).gaps == (GapWant(PAIR, 7.0, shut=USUAL),)


def test_a_pair_that_nobody_watched_wants_0_in_travel() -> None:
    after = wanting.set_shut_gap(demo_six_bar, ("arm", "hatch skin"), USUAL)
    assert after.gaps[-1] == GapWant(("arm", "hatch skin"), 0.0, 0.0, USUAL)
    assert wanting.set_shut_gap(demo_six_bar, ("arm", "hatch skin"), None) is demo_six_bar


def test_one_of_several_wants_is_changed() -> None:
    twice = replace(demo_six_bar, gaps=(GapWant(PAIR, 6.0), GapWant(PAIR, 10.0, 20.0)))
    assert [gap.shut for gap in wanting.set_shut_gap(twice, PAIR, USUAL, which=1).gaps] == [None, USUAL]
    with pytest.raises(ProjectError, match="no want 3 among 2"):
        wanting.set_shut_gap(twice, PAIR, USUAL, which=2)


# ----------------------------------------------------------------------------------------------------------- corners
def test_a_corner_gets_a_mark_and_a_limit_in_one_go() -> None:
    after = wanting.watch_corner(single_pivot, "lid", (-30.0, 0.0), "rear corner", dx_at_least=-2.0)
    assert after.marks[-1] == Mark("rear corner", "lid", (-30.0, 0.0))
    assert after.limits == (Limit("rear corner", dx_at_least=-2.0),)
    assert changed(single_pivot, after) == {"marks", "limits"}


def test_a_corner_that_is_watched_keeps_its_name_and_its_other_limits() -> None:
    once = wanting.watch_corner(single_pivot, "lid", (400.0, 0.0), "corner", dy_at_most=500.0)
    assert once.marks == single_pivot.marks
    twice = wanting.watch_corner(once, "lid", (400.0, 0.0), "corner", dx_at_most=1.0)
    assert twice.limits == (Limit("front edge", dx_at_most=1.0, dy_at_most=500.0),)


def test_a_mark_of_another_link_is_no_corner() -> None:
    assert wanting.corner_at(single_pivot, "body", (400.0, 0.0)) is None
    assert wanting.corner_at(single_pivot, "lid", (400.0, 0.0)) == single_pivot.marks[0]


# ---------------------------------------------------------------------------------------------------- floor and roof
def test_floor_and_roof_come_and_go() -> None:
    after = wanting.set_roof(wanting.set_floor(single_pivot, -700.0), 900.0)
    assert after.room == Room(-700.0, 900.0)
    assert changed(single_pivot, after) == {"room"}
    assert wanting.set_floor(after, -700.0) is after
    assert wanting.set_floor(wanting.set_roof(after, None), None) == single_pivot
    with pytest.raises(ProjectError, match="not above"):
        wanting.set_roof(after, -800.0)


def test_a_front_edge_needs_a_floor_and_goes_with_it() -> None:
    with pytest.raises(ProjectError, match="no floor"):
        wanting.set_front_height(single_pivot, 1800.0)
    after = wanting.set_front_height(wanting.set_floor(single_pivot, -700.0), 1800.0)
    assert wanting.front_of(after) == FrontEdge(at_least=1800.0)
    marked = wanting.set_front_mark(after, "front edge")
    assert wanting.front_of(marked) == FrontEdge("front edge", 1800.0)
    assert wanting.set_front_mark(wanting.set_front_height(marked, None), None).room == Room(-700.0)
    assert wanting.set_floor(marked, None).room is None
    with pytest.raises(ProjectError, match="nobody defines"):
        wanting.set_front_mark(after, "nose")


def test_what_this_version_does_not_know_of_the_room_stays() -> None:
    known = replace(single_pivot, room=Room(1.0, unknown={"shed": "north"}))
    after = wanting.set_floor(known, None)
    assert after.room is not None
    assert after.room.unknown == {"shed": "north"}


# ------------------------------------------------------------------------------------------------ things in the way
BOX = wanting.box((40.0, -60.0), (10.0, -20.0))


def test_a_box_runs_round_from_its_lower_left_corner() -> None:
    assert BOX == ((10.0, -60.0), (40.0, -60.0), (40.0, -20.0), (10.0, -20.0))
    for flat in ((10.0, 5.0), (3.0, -20.0)):
        with pytest.raises(ProjectError, match="width and a height"):
            wanting.box((10.0, -20.0), flat)


def test_a_thing_is_ticked_and_unticked() -> None:
    after = wanting.tick_thing(demo_six_bar, "knee")
    assert after.keep_clear == ("knee",)
    assert wanting.tick_thing(after, "knee") is after
    assert wanting.tick_thing(after, "knee", ticked=False) == demo_six_bar
    assert not wanting.is_placed(after, "knee")


def test_a_placed_thing_is_watched_against_panel_and_wide_links() -> None:
    after = wanting.place_thing(demo_six_bar, "knee", BOX, "bulkhead", 5.0)
    assert after.keep_clear == ("knee",)
    outline = after.outline("knee")
    assert (outline.on, outline.closed, outline.points) == ("bulkhead", True, BOX)
    wide = {link.id for link in demo_six_bar.links if link.width > 0.0 and link.kind == "link"}
    assert wide
    assert {gap.between for gap in after.gaps[1:]} == {("knee", "hatch skin"), *(("knee", name) for name in wide)}
    assert all(gap.at_least == 5.0 for gap in after.gaps[1:])
    assert wanting.is_placed(after, "knee")


def test_a_thing_is_watched_all_round_from_shut_on() -> None:
    wall = "screen and sill"
    skin, (arm, cross, *rest) = "hatch skin", [link.id for link in demo_six_bar.links if link.kind == "link"]
    wants = (
        GapWant((skin, wall), 4.0, shut=USUAL),  # laxer: raised, and its shut gap stays
        GapWant((wall, arm), 15.0),  # asks for more: stays
        GapWant((wall, cross), 20.0, after_deg=30.0),  # holds later only: stays, and one from shut comes beside it
    )
    after = wanting.watch_all_round(replace(demo_six_bar, gaps=wants), wall, 12.0)
    assert after.gaps == (
        GapWant((skin, wall), 12.0, shut=USUAL),
        *wants[1:],
        GapWant((wall, cross), 12.0),
        *(GapWant((wall, band), 12.0) for band in rest),
    )
    assert changed(demo_six_bar, after) == {"gaps"}
    assert wanting.watch_all_round(after, wall, 12.0) is after
    alone = wanting.watch_all_round(replace(demo_six_bar, gaps=()), wall, 5.0, panel_alone=True)
    assert alone.gaps == (GapWant((wall, skin), 5.0),)


def test_all_round_other_stations_and_bare_links_are_left_out_and_outlines_of_links_are_not() -> None:
    arm = next(link for link in demo_six_bar.links if link.kind == "link")
    (wall, skin) = demo_six_bar.outlines
    project = replace(
        demo_six_bar,
        links=tuple(replace(link, width=0.0) for link in demo_six_bar.links),
        outlines=(
            replace(wall, station="middle"),
            replace(skin, station="corner"),
            replace(skin, id="at all", station=""),
            replace(skin, id="arm's edge", on=arm.id, station="middle"),
        ),
        gaps=(),
    )
    assert [gap.between[1] for gap in wanting.watch_all_round(project, wall.id, 5.0).gaps] == ["at all", "arm's edge"]


def test_a_thing_on_a_link_is_not_watched_against_that_link() -> None:
    after = wanting.place_thing(demo_six_bar, "lamp", BOX, "arm", 5.0)
    assert ("lamp", "hatch skin") in {gap.between for gap in after.gaps}
    assert ("lamp", "arm") not in {gap.between for gap in after.gaps}
    onboard = wanting.place_thing(demo_six_bar, "light", BOX, "hatch", 5.0)
    assert "hatch skin" not in {name for gap in onboard.gaps[1:] for name in gap.between}


def test_placing_again_moves_it_and_keeps_its_wants() -> None:
    once = edits.set_gap(wanting.place_thing(demo_six_bar, "knee", BOX, "bulkhead", 5.0), ("knee", "hatch skin"), 80.0)
    corners = wanting.box((0.0, 0.0), (1.0, 1.0))
    again = wanting.place_thing(once, "knee", corners, "bulkhead", 5.0)
    assert changed(once, again) == {"outlines"}
    assert again.outline("knee").points == corners


def test_a_thing_may_not_be_named_like_a_link() -> None:
    with pytest.raises(ProjectError, match="a link has this name"):
        wanting.place_thing(demo_six_bar, "arm", BOX, "bulkhead", 5.0)
