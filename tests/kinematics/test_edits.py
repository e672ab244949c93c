"""Edits: each gives the project that is meant, shares the rest, and carries names and removals everywhere."""

from __future__ import annotations

import inspect
from dataclasses import fields, replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kinematics import edits
from kinematics.errors import ProjectError
from kinematics.project import Anchor, GapWant, Limit, Link, Mark, Measure, Outline, Pivot, Project
from tests import strategies
from tests.specimens import ALL, demo_six_bar, empty, with_everything

if TYPE_CHECKING:
    from collections.abc import Callable

PAIR = ("screen and sill", "hatch skin")
FLAP = Outline("flap", "hatch", ((0.0, 0.0), (5.0, 5.0), (9.0, 0.0)))


def changed(before: Project, after: Project) -> set[str]:
    """The fields of a project that are not the very same object any more."""
    return {each.name for each in fields(Project) if getattr(before, each.name) is not getattr(after, each.name)}


# What is done, and the only fields that it may touch.
TOUCHES: dict[str, tuple[Callable[[Project], Project], set[str]]] = {
    "move_pivot": (lambda p: edits.move_pivot(p, "X", (1.0, 2.0)), {"pivots"}),
    "add_pivot": (lambda p: edits.add_pivot(p, Pivot("N", (0.0, 0.0), ("arm", "hatch"))), {"pivots"}),
    "remove_pivot": (lambda p: edits.remove_pivot(p, "X"), {"pivots", "measures", "as_made"}),
    "rename_pivot": (lambda p: edits.rename_pivot(p, "X", "Y"), {"pivots", "measures", "as_made"}),
    "rejoin_pivot": (lambda p: edits.rejoin_pivot(p, "X", ["arm", "hatch"]), {"pivots"}),
    "lock_pivot": (lambda p: edits.lock_pivot(p, "X", locked=True), {"pivots"}),
    "add_link": (lambda p: edits.add_link(p, Link("new")), {"links"}),
    "remove_link": (lambda p: edits.remove_link(p, "spare"), {"links"}),
    "rename_link": (lambda p: edits.rename_link(p, "spare", "stay"), {"links"}),
    "set_width": (lambda p: edits.set_width(p, "arm", 30.0), {"links"}),
    "set_kind": (lambda p: edits.set_kind(p, "arm", "panel"), {"links"}),
    "add_outline": (lambda p: edits.add_outline(p, FLAP), {"outlines"}),
    "remove_outline": (lambda p: edits.remove_outline(p, "seal"), {"outlines", "gaps"}),
    "rename_outline": (lambda p: edits.rename_outline(p, "seal", "rubber"), {"outlines", "gaps", "keep_clear"}),
    "replace_outline": (
        lambda p: edits.replace_outline(p, "seal", replace(FLAP, on="arm")),
        {"outlines", "gaps", "keep_clear"},
    ),
    "move_outline_point": (lambda p: edits.move_outline_point(p, "seal", 0, (1.0, 2.0)), {"outlines"}),
    "insert_outline_point": (lambda p: edits.insert_outline_point(p, "seal", 3, (1.0, 2.0)), {"outlines"}),
    "delete_outline_point": (lambda p: edits.delete_outline_point(p, "hatch skin", 3), {"outlines", "measures"}),
    "close_outline": (lambda p: edits.close_outline(p, "hatch skin"), {"outlines"}),
    "ride_outline": (lambda p: edits.ride_outline(p, "seal", "arm"), {"outlines"}),
    "set_gap": (lambda p: edits.set_gap(p, PAIR, 8.0, 1.0), {"gaps"}),
    "remove_gap": (lambda p: edits.remove_gap(p, PAIR), {"gaps"}),
    "add_mark": (lambda p: edits.add_mark(p, Mark("tip", "arm", (0.0, 0.0))), {"marks"}),
    "move_mark": (lambda p: edits.move_mark(p, "rear corner", (0.0, 0.0)), {"marks"}),
    "ride_mark": (lambda p: edits.ride_mark(p, "rear corner", "arm"), {"marks"}),
    "rename_mark": (lambda p: edits.rename_mark(p, "rear corner", "corner"), {"marks", "limits", "measures", "room"}),
    "remove_mark": (lambda p: edits.remove_mark(p, "rear corner"), {"marks", "limits", "measures", "room"}),
    "set_limit": (lambda p: edits.set_limit(p, Limit("rear corner", dy_at_most=3.0)), {"limits"}),
    "remove_limit": (lambda p: edits.remove_limit(p, "rear corner"), {"limits"}),
    "add_measure": (lambda p: edits.add_measure(p, Measure("m", "path", (Anchor(pivot="Q"),))), {"measures"}),
    "rename_measure": (lambda p: edits.rename_measure(p, "room", "air"), {"measures"}),
    "remove_measure": (lambda p: edits.remove_measure(p, "room"), {"measures"}),
    "set_travel": (lambda p: edits.set_travel(p, wanted_deg=60.0), {"travel"}),
    "set_units": (lambda p: edits.set_units(p, "mm"), {"display_units"}),
    "set_title": (lambda p: edits.set_title(p, "Hatch"), {"title"}),
    "set_notes": (lambda p: edits.set_notes(p, ""), {"notes"}),
    "set_pin_spacing": (lambda p: edits.set_pin_spacing(p, 20.0), {"pin_spacing"}),
    "set_transmission": (lambda p: edits.set_transmission(p, 20.0), {"transmission_at_least"}),
}


@pytest.mark.parametrize("name", TOUCHES)
def test_an_edit_shares_what_it_does_not_touch(name: str) -> None:
    edit, touched = TOUCHES[name]
    kept = ALL["with_everything"]
    before = replace(kept)
    after = edit(kept)
    assert changed(kept, after) == touched
    assert after != before
    assert kept == before  # nothing was changed in place
    assert after.unknown == before.unknown


def test_every_edit_is_tried() -> None:
    public = {
        name
        for name, value in inspect.getmembers(edits, inspect.isfunction)
        if value.__module__ == edits.__name__ and not name.startswith("_")
    }
    assert public - {"free_id"} == set(TOUCHES)


UNCHANGED: dict[str, Callable[[Project], Project]] = {
    "move_pivot": lambda p: edits.move_pivot(p, "X", (125.0, 213.0)),
    "lock_pivot": lambda p: edits.lock_pivot(p, "X", locked=False),
    "rename_pivot": lambda p: edits.rename_pivot(p, "X", "X"),
    "rename_link": lambda p: edits.rename_link(p, "arm", "arm"),
    "set_width": lambda p: edits.set_width(p, "arm", 28),
    "set_kind": lambda p: edits.set_kind(p, "hatch", "panel"),
    "rename_outline": lambda p: edits.rename_outline(p, "seal", "seal"),
    "close_outline": lambda p: edits.close_outline(p, "seal"),
    "ride_outline": lambda p: edits.ride_outline(p, "seal", "bulkhead"),
    "set_gap": lambda p: edits.set_gap(p, ("hatch skin", "screen and sill"), 10.0, 0.1),
    "remove_gap": lambda p: edits.remove_gap(p, ("arm", "hatch skin")),
    "rename_mark": lambda p: edits.rename_mark(p, "rear corner", "rear corner"),
    "set_limit": lambda p: edits.set_limit(p, p.limits[0]),
    "remove_limit": lambda p: edits.remove_limit(p, "no such mark"),
    "set_travel": edits.set_travel,
    "set_units": lambda p: edits.set_units(p, "in"),
    "set_title": lambda p: edits.set_title(p, p.title),
    "set_pin_spacing": lambda p: edits.set_pin_spacing(p, 25.4),
    "set_transmission": lambda p: edits.set_transmission(p, None),
}


@pytest.mark.parametrize("name", UNCHANGED)
def test_an_edit_that_changes_nothing_gives_the_project_itself(name: str) -> None:
    assert UNCHANGED[name](with_everything) is with_everything


REFUSED: dict[str, Callable[[Project], Project]] = {
    "move nobody": lambda p: edits.move_pivot(p, "nobody", (0.0, 0.0)),
    "move too far": lambda p: edits.move_pivot(p, "X", (1e6, 0.0)),
    "add twice": lambda p: edits.add_pivot(p, p.pivots[0]),
    "rename to a taken name": lambda p: edits.rename_pivot(p, "X", "B"),
    "rename to nothing": lambda p: edits.rename_link(p, "arm", ""),
    "rename a link as an outline": lambda p: edits.rename_link(p, "arm", "seal"),
    "rename an outline as a link": lambda p: edits.rename_outline(p, "seal", "arm"),
    "join one": lambda p: edits.rejoin_pivot(p, "X", ["arm"]),
    "join nobody": lambda p: edits.rejoin_pivot(p, "X", ["arm", "nobody"]),
    "remove the panel": lambda p: edits.remove_link(p, "hatch"),
    "remove the fixed link": lambda p: edits.remove_link(p, "bulkhead"),
    "a panel no more": lambda p: edits.set_kind(p, "hatch", "link"),
    "a link of no kind": lambda p: edits.set_kind(p, "arm", "door"),
    "another panel": lambda p: edits.add_link(p, Link("second", "panel")),
    "no such point": lambda p: edits.move_outline_point(p, "seal", 3, (0.0, 0.0)),
    "point before the first": lambda p: edits.delete_outline_point(p, "seal", -1),
    "insert beyond the end": lambda p: edits.insert_outline_point(p, "seal", 4, (0.0, 0.0)),
    "too few points": lambda p: edits.delete_outline_point(p, "seal", 0),
    "watched pair on one link": lambda p: edits.ride_outline(p, "seal", "hatch"),
    "gap of nobody": lambda p: edits.set_gap(p, ("seal", "nobody"), 1.0),
    "gap negative": lambda p: edits.set_gap(p, PAIR, -1.0),
    "no such gap": lambda p: edits.set_gap(p, PAIR, 1.0, which=3),
    "no such gap to remove": lambda p: edits.remove_gap(p, PAIR, which=-1),
    "limit on nobody": lambda p: edits.set_limit(p, Limit("nobody")),
    "no such limit": lambda p: edits.remove_limit(p, "rear corner", which=1),
    "travel": lambda p: edits.set_travel(p, wanted_deg=181.0),
    "opens": lambda p: edits.set_travel(p, opens="up"),
    "units": lambda p: edits.set_units(p, "ft"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_makes_no_sound_project_is_refused(name: str) -> None:
    with pytest.raises(ProjectError) as refused:
        REFUSED[name](with_everything)
    assert "\n" not in str(refused.value)


def named(value: object, id: str) -> int:
    """How often a name stands anywhere in a project; unknown keys, texts for people and words of the form left out."""
    if isinstance(value, str):
        return int(value == id)
    if isinstance(value, tuple):
        return sum(named(each, id) for each in value)
    if not hasattr(value, "unknown"):
        return 0
    told = {
        "title",
        "notes",
        "kind",
        "display_units",
        "opens",
        "station",
        "unknown",
        "plates",
        "stack",
        "mount",
        "wall",
        "pictures",
        "trials",
    }
    parts = fields(value)
    return sum(named(getattr(value, each.name), id) for each in parts if each.name not in told)


def test_a_new_name_of_a_link_reaches_every_place() -> None:
    for link in with_everything.links:
        places = named(with_everything, link.id)
        after = edits.rename_link(with_everything, link.id, "under another name")
        assert (named(after, link.id), named(after, "under another name")) == (0, places)
    assert (
        named(with_everything, "arm") == 11
    )  # link, three pivots, gap, mass, two devices, measure, distance and plate as made


def test_new_names_of_outlines_and_marks_reach_wants() -> None:
    after = edits.rename_outline(with_everything, "hatch skin", "skin")
    assert [gap.between for gap in after.gaps] == [("screen and sill", "skin"), ("seal", "skin"), ("arm", "lift link")]
    renamed = edits.rename_mark(after, "rear corner", "corner")
    assert renamed.limits[0].mark == "corner"
    assert renamed.room is not None
    assert renamed.room.front_edge is not None
    assert (renamed.room.front_edge.mark, renamed.room.front_edge.at_least) == ("corner", 1800.0)


def test_a_front_edge_goes_with_its_mark_and_the_floor_stays() -> None:
    for after in (edits.remove_mark(with_everything, "rear corner"), edits.remove_link(riding_on_spare(), "spare")):
        assert after.room is not None
        assert (after.room.floor, after.room.roof, after.room.front_edge) == (-640.0, 1560.5, None)
        assert after.room.unknown == {"shed": "north"}


def riding_on_spare() -> Project:
    """The rear corner's mark on a link that can go."""
    return edits.ride_mark(with_everything, "rear corner", "spare")


def test_a_thing_to_keep_clear_of_follows_its_outline() -> None:
    after = edits.rename_outline(with_everything, "seal", "rubber")
    assert after.keep_clear == ("rubber", "wiper drive")
    assert edits.rename_outline(after, "rubber", "wiper drive").keep_clear == ("wiper drive",)
    assert edits.remove_outline(after, "rubber").keep_clear == ("rubber", "wiper drive")  # still to be drawn


@given(strategies.ready_projects(), st.data())
def test_renaming_there_and_back_gives_an_equal_project(project: Project, data: st.DataObject) -> None:
    link = data.draw(st.sampled_from(project.links)).id
    new = edits.free_id(project, "somewhat else")
    there = edits.rename_link(project, link, new)
    assert named(there, new) == named_links(project, link)
    assert edits.rename_link(there, new, link) == project


def named_links(project: Project, id: str) -> int:
    """How often a name stands for a link, as pivots, marks and devices may be called the same."""
    others = [*project.pivots, *project.marks, *project.measures, *(project.loads.devices if project.loads else ())]
    limits = [limit for limit in project.limits if limit.mark == id]
    anchors = [each for measure in project.measures for each in measure.of if each.kind != "link" and each.name == id]
    front = project.room.front_edge if project.room is not None else None
    elsewhere = len(limits) + len(anchors) + project.keep_clear.count(id) + (front is not None and front.mark == id)
    joints = project.strength.joints if project.strength is not None else ()
    elsewhere += named(project.strength, id) - sum(joint.outer_link == id for joint in joints)
    masses = project.loads.masses if project.loads is not None else ()
    elsewhere += sum(mass.made_of is not None and named(mass.made_of, id) for mass in masses)
    return named(project, id) - sum(part.id == id for part in others) - elsewhere


def test_a_removed_link_takes_along_what_rode_on_it() -> None:
    after = edits.remove_link(with_everything, "arm")
    assert [pin.id for pin in after.pivots] == ["O2", "B", "Q", "P2"]
    assert named(after, "arm") == 0
    assert after.loads is not None
    assert (len(after.loads.masses), len(after.loads.devices)) == (1, 0)
    assert after.loads.unknown == with_everything.loads.unknown


def test_a_pin_of_three_links_outlives_one_of_them() -> None:
    after = edits.remove_link(ALL["ternary_pin"], "stay")
    assert after.pivot("X").joins == ("arm", "bar")
    assert [pin.id for pin in after.pivots] == ["O1", "O2", "W", "X", "Y"]


def test_outlines_marks_and_wants_go_with_their_link() -> None:
    loaded = edits.add_outline(with_everything, replace(FLAP, on="arm"))
    loaded = edits.set_gap(edits.add_mark(loaded, Mark("tip", "arm", (0.0, 0.0))), ("flap", "hatch skin"), 2.0)
    loaded = edits.set_limit(loaded, Limit("tip", dx_at_most=1.0))
    after = edits.remove_link(loaded, "arm")
    assert [outline.id for outline in after.outlines] == ["screen and sill", "hatch skin", "seal"]
    assert ([mark.id for mark in after.marks], [limit.mark for limit in after.limits]) == (["rear corner"],) * 2
    assert len(after.gaps) == 2


@given(strategies.ready_projects(), st.data())
def test_any_link_can_go(project: Project, data: st.DataObject) -> None:
    others = [link for link in project.links if link.kind == "link"]
    if others:
        gone = data.draw(st.sampled_from(others)).id
        after = edits.remove_link(project, gone)
        assert named_links(after, gone) == 0


def test_another_link_becomes_the_panel_or_the_fixed_one() -> None:
    after = edits.set_kind(demo_six_bar, "arm", "panel")
    assert (after.panel.id, after.link("hatch").kind, after.fixed.id) == ("arm", "link", "bulkhead")
    turned = edits.set_kind(demo_six_bar, "hatch", "fixed")  # the two change places
    assert (turned.fixed.id, turned.panel.id) == ("hatch", "bulkhead")
    assert edits.set_kind(turned, "hatch", "panel") == demo_six_bar


def test_adding_and_removing_gives_an_equal_project() -> None:
    before = demo_six_bar
    assert edits.remove_link(edits.add_link(before, Link("new")), "new") == before
    assert edits.remove_outline(edits.add_outline(before, FLAP), "flap") == before
    assert edits.remove_pivot(edits.add_pivot(before, Pivot("N", (0, 0), ("arm", "hatch"))), "N") == before
    assert edits.remove_mark(edits.add_mark(before, Mark("n", "arm", (0, 0))), "n") == before
    assert edits.remove_gap(edits.set_gap(before, ("arm", "lift link"), 1.0), ("lift link", "arm")) == before
    inserted = edits.insert_outline_point(before, "hatch skin", 0, (1.0, 2.0))
    assert inserted.outline("hatch skin").points[0] == (1.0, 2.0)
    assert edits.delete_outline_point(inserted, "hatch skin", 0) == before


def test_a_pair_may_have_several_wants() -> None:
    strict = replace(demo_six_bar, gaps=(GapWant(PAIR, 6.0), GapWant(PAIR, 10.0, 20.0)))
    assert edits.set_gap(strict, PAIR, 7.0).gaps == (GapWant(PAIR, 7.0), GapWant(PAIR, 10.0, 20.0))
    assert edits.set_gap(strict, PAIR, 12.0, 30.0, which=1).gaps == (GapWant(PAIR, 6.0), GapWant(PAIR, 12.0, 30.0))
    assert edits.remove_gap(strict, PAIR, which=0).gaps == (GapWant(PAIR, 10.0, 20.0),)
    assert edits.remove_gap(strict, PAIR[::-1]).gaps == ()
    other = ("arm", "hatch skin")
    assert edits.set_gap(strict, other, 1.0, which=0).gaps == (GapWant(other, 1.0), GapWant(PAIR, 10.0, 20.0))


def test_a_mark_may_have_several_limits() -> None:
    early, late = Limit("rear corner", dx_at_least=-4.0), Limit("rear corner", dx_at_least=0.0, after_deg=20.0)
    two = replace(demo_six_bar, limits=(early, late))
    new = Limit("rear corner", dy_at_most=3.0)
    assert edits.set_limit(two, new).limits == (new, late)
    assert edits.set_limit(two, new, which=1).limits == (early, new)
    assert edits.remove_limit(two, "rear corner", which=0).limits == (late,)
    assert edits.remove_limit(two, "rear corner").limits == ()


def test_travel_changes_only_what_is_given() -> None:
    assert edits.set_travel(empty, opens="clockwise").travel.wanted_deg == 75.0
    assert edits.set_travel(empty, wanted_deg=60).travel.opens == "anticlockwise"


def test_a_free_name_is_found() -> None:
    assert edits.free_id(empty, "arm") == "arm"
    assert edits.free_id(demo_six_bar, "arm") == "arm 2"
    assert edits.free_id(edits.add_link(demo_six_bar, Link("arm 2")), "arm") == "arm 3"
    assert edits.free_id(demo_six_bar, "hatch skin") == "hatch skin 2"
