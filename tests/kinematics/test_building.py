"""Building by hand: what each action makes, shares and refuses."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kinematics import analyse, building, edits
from kinematics.building import Spot
from kinematics.errors import ProjectError
from kinematics.measures import Anchor, Measure
from kinematics.project import GapWant, Limit, Link, Mark, Outline, Pivot
from tests import strategies
from tests.specimens import ALL, demo_six_bar, empty, four_bar_a1, with_everything

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.project import Project

FIXED, PANEL = empty.fixed.id, empty.panel.id


def marks_on(project: Project, link: str) -> list[tuple[str, tuple[float, float]]]:
    return [(mark.id, mark.at) for mark in project.marks if mark.on == link]


# ------------------------------------------------------------------------------------------------ linking
def test_a_four_bar_is_built_of_two_links() -> None:
    """Two links from the body to the panel: the whole linkage, and it moves in one way."""
    front = building.make_link(empty, "front", Spot((0.0, 0.0), link=FIXED), Spot((30.0, 90.0), link=PANEL))
    whole = building.make_link(front, "rear", Spot((120.0, 0.0), link=FIXED), Spot((110.0, 70.0), link=PANEL), 20.0)
    assert [(pin.id, pin.at, pin.joins) for pin in whole.pivots] == [
        ("A", (0.0, 0.0), (FIXED, "front")),
        ("B", (30.0, 90.0), (PANEL, "front")),
        ("C", (120.0, 0.0), (FIXED, "rear")),
        ("D", (110.0, 70.0), (PANEL, "rear")),
    ]
    assert (whole.link("front").width, whole.link("rear").width) == (0.0, 20.0)
    assert (analyse(whole).mobility, analyse(whole).state) == (1, "moves")
    assert whole.outlines is empty.outlines


def test_a_link_joins_a_pin_that_is_there() -> None:
    made = building.make_link(four_bar_a1, "stay", Spot((0.0, 0.0), pivot="A"), Spot((9.0, 9.0), link="rocker"))
    assert made.pivot("A").joins == ("crank", "coupler", "stay")
    assert made.pivot("A").at == four_bar_a1.pivot("A").at  # the pin says where it is, not the hand
    assert made.pivots[-1].joins == ("rocker", "stay")


def test_on_paper_a_link_has_a_free_end_until_a_pin_takes_its_place() -> None:
    loose = building.make_link(empty, "arm", Spot((0.0, 0.0), link=FIXED), Spot((50.0, 0.0)))
    assert [pin.joins for pin in loose.pivots] == [(FIXED, "arm")]
    assert marks_on(loose, "arm") == [("end of arm", (50.0, 0.0))]
    assert building.free_ends(loose, "arm") == loose.marks
    pinned = building.add_pin_to_link(loose, PANEL, Spot((50.0, 0.0), link="arm"))
    assert pinned.marks == ()
    assert (pinned.pivots[-1].at, pinned.pivots[-1].joins) == ((50.0, 0.0), ("arm", PANEL))
    elsewhere = building.add_pin_to_link(loose, PANEL, Spot((40.0, 0.0), link="arm"))
    assert marks_on(elsewhere, "arm") == [("end of arm", (50.0, 0.0))]


def test_both_ends_may_be_free() -> None:
    loose = building.make_link(empty, "bar", Spot((0.0, 0.0)), Spot((50.0, 0.0)))
    assert loose.pivots == ()
    assert marks_on(loose, "bar") == [("end of bar", (0.0, 0.0)), ("end of bar 2", (50.0, 0.0))]
    assert analyse(loose).state == "loose"
    assert any("bar" in remark for remark in analyse(loose).remarks)


def test_a_free_end_that_something_is_wanted_or_measured_of_stays() -> None:
    loose = building.make_link(empty, "arm", Spot((0.0, 0.0), link=FIXED), Spot((50.0, 0.0)))
    pin = Spot((50.0, 0.0), link="arm")
    wanted = edits.set_limit(loose, Limit("end of arm", dx_at_least=0.0))
    assert building.add_pin_to_link(wanted, PANEL, pin).marks == loose.marks
    measured = edits.add_measure(loose, Measure("way", "path", (Anchor(mark="end of arm"),)))
    assert building.add_pin_to_link(measured, PANEL, pin).marks == loose.marks


def test_a_third_pin_makes_a_link_ternary() -> None:
    made = building.add_pin_to_link(demo_six_bar, "arm", Spot((60.0, 260.0), link="hatch"))
    assert [pin.id for pin in made.pivots_on("arm")] == [pin.id for pin in demo_six_bar.pivots_on("arm")] + ["A"]
    again = building.add_pin_to_link(demo_six_bar, "hatch", Spot((0.0, 0.0), pivot="O1"))
    assert again.pivot("O1").joins == (*demo_six_bar.pivot("O1").joins, "hatch")


def test_a_long_name_leaves_room_for_its_free_ends() -> None:
    name = "x" * 80
    made = building.make_link(empty, name, Spot((0.0, 0.0)), Spot((50.0, 0.0)))
    assert {len(mark.id) <= 80 for mark in made.marks} == {True}


def test_pins_are_named_by_letters_and_then_numbered() -> None:
    assert building.free_pin(demo_six_bar) == "A"  # B and X are taken
    many = replace(empty, pivots=tuple(Pivot(chr(65 + k), (0.0, 0.0), (FIXED, PANEL)) for k in range(26)))
    assert building.free_pin(many) == edits.free_id(many, "P")


# ------------------------------------------------------------------------------------------------ splitting
SPLIT = building.make_link(empty, "arm", Spot((0.0, 0.0), link=FIXED), Spot((100.0, 0.0), link=PANEL), 25.0)


def test_a_link_is_split_in_two_with_a_pin_between() -> None:
    made = building.split_link(SPLIT, "arm", (40.0, 0.0), "arm 2")
    assert [(pin.id, pin.joins) for pin in made.pivots] == [
        ("A", (FIXED, "arm")),
        ("B", (PANEL, "arm 2")),
        ("C", ("arm", "arm 2")),
    ]
    assert (made.pivot("C").at, made.link("arm 2").width) == ((40.0, 0.0), 25.0)
    assert made.links[:3] == SPLIT.links


def test_what_rides_beyond_the_split_goes_along() -> None:
    riding = edits.add_mark(SPLIT, Mark("near", "arm", (10.0, 5.0)))
    riding = edits.add_mark(riding, Mark("far", "arm", (90.0, 5.0)))
    riding = edits.add_outline(riding, Outline("lug", "arm", ((60.0, 0.0), (30.0, 0.0), (60.0, 4.0))))
    riding = edits.add_outline(riding, Outline("wall", FIXED, ((-60.0, 0.0), (-30.0, 0.0))))
    riding = edits.set_gap(edits.set_gap(riding, ("wall", "arm"), 3.0), ("lug", "wall"), 2.0)
    made = building.split_link(riding, "arm", (40.0, 0.0), "arm 2")
    assert [mark.on for mark in made.marks] == ["arm", "arm 2"]
    assert made.outline("lug").on == "arm 2"
    assert made.gaps == (GapWant(("wall", "arm"), 3.0), GapWant(("lug", "wall"), 2.0), GapWant(("wall", "arm 2"), 3.0))


def test_loads_and_zones_follow_a_split() -> None:
    made = building.split_link(with_everything, "arm", (80.0, 230.0), "far arm")
    assert with_everything.loads is not None
    assert made.loads is not None
    before = [mass.on for mass in with_everything.loads.masses]
    assert len([mass.on for mass in made.loads.masses]) == len(before)
    assert {each.to_end.on for each in made.loads.devices} <= {"arm", "far arm"}
    zoned = replace(SPLIT, zones=(replace(with_everything.zones[0], on="arm"),))
    assert [zone.on for zone in building.split_link(zoned, "arm", (40.0, 0.0), "arm 2").zones] == ["arm", "arm 2"]


# ------------------------------------------------------------------------------------------------ joining and parting
def test_two_pins_become_one_that_joins_all() -> None:
    two = edits.add_link(demo_six_bar, Link("stay"))
    two = edits.add_pivot(two, Pivot("N", (0.0, 0.0), ("stay", "bulkhead")))
    made = building.join_pivots(two, "O1", "N")
    assert made.pivot("O1").joins == (*demo_six_bar.pivot("O1").joins, "stay")
    assert made.pivot("O1").at == demo_six_bar.pivot("O1").at
    assert len(made.pivots) == len(two.pivots) - 1


def test_measures_follow_a_joined_pin_but_not_those_between_the_two() -> None:
    place = (Anchor(link="hatch", at=(0.0, 0.0)),)
    measured = replace(
        demo_six_bar,
        measures=(
            Measure("a", "distance", (Anchor(pivot="X"), *place)),
            Measure("b", "distance", (Anchor(pivot="X"), Anchor(pivot="O1"))),
        ),
    )
    made = building.join_pivots(measured, "O1", "X")
    assert made.measures == (Measure("a", "distance", (Anchor(pivot="O1"), *place)),)


def test_a_pin_of_two_links_is_parted_into_free_ends() -> None:
    made = building.part_pivot(demo_six_bar, "Q")
    links = [name for name in demo_six_bar.pivot("Q").joins if demo_six_bar.link(name).kind == "link"]
    assert "Q" not in [pin.id for pin in made.pivots]
    assert [mark.on for mark in made.marks[1:]] == links[::-1]
    assert {mark.at for mark in made.marks[1:]} == {demo_six_bar.pivot("Q").at}


def test_one_link_is_taken_off_a_pin_of_three() -> None:
    before = ALL["ternary_pin"]
    pin = next(pin for pin in before.pivots if len(pin.joins) == 3)
    off = next(name for name in pin.joins if before.link(name).kind == "link")
    made = building.part_pivot(before, pin.id, off)
    assert made.pivot(pin.id).joins == tuple(name for name in pin.joins if name != off)
    assert marks_on(made, off) == [(f"end of {off}", pin.at)]


def test_parted_and_joined_again_is_what_it_was() -> None:
    parted = building.part_pivot(SPLIT, "B")
    assert building.add_pin_to_link(parted, "arm", Spot((100.0, 0.0), link=PANEL)) == SPLIT


# ------------------------------------------------------------------------------------------------ refused
REFUSED: dict[str, tuple[Callable[[], Project], str]] = {
    "a point": (lambda: building.make_link(empty, "a", Spot((1.0, 1.0)), Spot((1.0, 1.0))), "one place"),
    "one pin": (
        lambda: building.make_link(four_bar_a1, "a", Spot((0.0, 0.0), pivot="A"), Spot((1.0, 0.0), pivot="A")),
        'pivot "A"',
    ),
    "taken": (lambda: building.make_link(SPLIT, "arm", Spot((0.0, 0.0)), Spot((1.0, 1.0))), "twice"),
    "there already": (lambda: building.add_pin_to_link(SPLIT, "arm", Spot((0.0, 0.0), pivot="A")), "already"),
    "through itself": (lambda: building.add_pin_to_link(SPLIT, "arm", Spot((0.0, 0.0), link="arm")), "other link"),
    "through nobody": (lambda: building.add_pin_to_link(SPLIT, "arm", Spot((0.0, 0.0), link="x")), "no link"),
    "too far": (lambda: building.add_pin_to_link(SPLIT, "arm", Spot((1e6, 0.0))), "beyond"),
    "split the panel": (lambda: building.split_link(SPLIT, PANEL, (1.0, 1.0), "b"), "panel"),
    "split the fixed link": (lambda: building.split_link(SPLIT, FIXED, (1.0, 1.0), "b"), "fixed link"),
    "split at the end": (lambda: building.split_link(SPLIT, "arm", (100.0, 0.0), "b"), "either side"),
    "split beyond": (lambda: building.split_link(SPLIT, "arm", (120.0, 0.0), "b"), "either side"),
    "split before": (lambda: building.split_link(SPLIT, "arm", (-20.0, 0.0), "b"), "either side"),
    "split on the first pin": (lambda: building.split_link(SPLIT, "arm", (0.0, 0.0), "b"), "either side"),
    "split without pins": (lambda: building.split_link(edits.add_link(empty, Link("a")), "a", (0.0, 0.0), "b"), "pin"),
    "join with itself": (lambda: building.join_pivots(SPLIT, "A", "A"), "one pin"),
    "join a link's two pins": (lambda: building.join_pivots(SPLIT, "A", "B"), "two pins"),
    "part which": (lambda: building.part_pivot(ALL["ternary_pin"], "X"), "3 links"),
    "part nobody": (lambda: building.part_pivot(SPLIT, "A", PANEL), "doesn't join"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_makes_no_sense_is_refused_in_a_sentence(name: str) -> None:
    act, says = REFUSED[name]
    with pytest.raises(ProjectError) as refused:
        act()
    assert says in str(refused.value)
    assert "\n" not in str(refused.value)


# ------------------------------------------------------------------------------------------------ on any project
@given(strategies.ready_projects(), st.data())
def test_on_any_project_a_split_leaves_every_pin_and_adds_one(project: Project, data: st.DataObject) -> None:
    links = [link for link in project.links if link.kind == "link" and len(project.pivots_on(link.id)) > 1]
    if not links:
        return
    link = data.draw(st.sampled_from(links))
    one, *others = (pin.at for pin in project.pivots_on(link.id))
    other = data.draw(st.sampled_from(others))
    at = (one[0] + other[0]) / 2, (one[1] + other[1]) / 2
    new = edits.free_id(project, "another")
    try:
        made = building.split_link(project, link.id, at, new)
    except ProjectError:
        assert any(math.dist(pin.at, at) < 1e-5 for pin in project.pivots_on(link.id))
        return
    assert len(made.pivots) == len(project.pivots) + 1
    assert len(made.pivots_on(link.id)) + len(made.pivots_on(new)) == len(project.pivots_on(link.id)) + 2
    assert len(made.pivots_on(new)) > 1


def test_several_parts_are_moved_at_once() -> None:
    made = building.move_parts(
        demo_six_bar, {"X": (1.0, 2.0), "Q": (3.0, 4.0)}, {"rear corner": (5.0, 6.0)}, {("hatch skin", 1): (7.0, 8.0)}
    )
    assert (made.pivot("X").at, made.pivot("Q").at, made.mark("rear corner").at) == ((1.0, 2.0), (3.0, 4.0), (5.0, 6.0))
    assert made.outline("hatch skin").points[1] == (7.0, 8.0)
    assert made.links is demo_six_bar.links
    assert building.move_parts(demo_six_bar, {}, {}, {}) is demo_six_bar
