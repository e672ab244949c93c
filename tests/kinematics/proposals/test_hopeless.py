"""What no hinge can do: each reason told once, in a sentence that says where; and never a false alarm."""

from __future__ import annotations

import random
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely
from hypothesis import given, settings

from kinematics.analysis import analyse
from kinematics.errors import ProjectError
from kinematics.project import GapWant, Limit, Link, Mark, Outline, Pivot, Project, Room, ShutWant, Travel, Zone
from kinematics.proposals import fields, seeding, unit
from kinematics.proposals.chains import FOUR_BAR
from kinematics.proposals.drafting import drafted
from kinematics.proposals.hopeless import cannot, sound_zones
from kinematics.proposals.results import KINDS, Settings
from tests.kinematics.proposals.making import DEMOS, bare, cramped, demo, mirrored, turned
from tests.strategies import projects

if TYPE_CHECKING:
    from kinematics.project import Point

WALL = Outline("wall", "body", ((-40.0, 30.0), (-40.0, -500.0)))
SKIN = Outline("skin", "lid", ((-30.0, 0.0), (600.0, 0.0)))
SQUARE = ((20.0, -90.0), (120.0, -90.0), (120.0, -10.0), (20.0, -10.0))
BOW_TIE = ((0.0, 0.0), (100.0, 100.0), (100.0, 0.0), (0.0, 100.0))
LINE = ((0.0, 0.0), (50.0, 50.0), (100.0, 100.0))


def hatch(**others: object) -> Project:
    """A lid 10 mm off a wall, its tip marked, and an arm."""
    base = Project(
        links=(Link("body", "fixed"), Link("lid", "panel"), Link("arm")),
        outlines=(WALL, SKIN),
        marks=(Mark("tip", "lid", (600.0, 0.0)), Mark("elbow", "arm", (0.0, 0.0)), Mark("foot", "body", (0.0, 0.0))),
        travel=Travel("anticlockwise", 60.0),
    )
    return replace(base, **others)  # type: ignore[arg-type]


def told(project: Project, kinds: tuple[str, ...] = KINDS) -> list[str]:
    """The sentences, each of which must come once and be an error that names its place."""
    errors = cannot(project, Settings(kinds=kinds))
    sentences = [str(error) for error in errors]
    assert len(set(sentences)) == len(sentences)
    assert all(isinstance(error, ProjectError) and error.where and error.remedy for error in errors)
    return sentences


def one(project: Project, *words: str, kinds: tuple[str, ...] = KINDS) -> None:
    """Exactly one sentence is told, with these words in it."""
    (sentence,) = told(project, kinds)
    assert all(word in sentence for word in words), sentence


def pin(name: str, at: Point, *joins: str) -> Pivot:
    return Pivot(name, at, joins, locked=True)


def test_a_gap_that_is_short_when_shut() -> None:
    wide = GapWant(("wall", "skin"), 12.0)
    one(hatch(gaps=(wide,)), "gaps, entry 1", "10.00 mm apart", "12 mm")
    assert not told(hatch(gaps=(replace(wide, at_least=10.0),)))
    assert not told(hatch(gaps=(replace(wide, after_deg=1.0),)))
    unsure = replace(WALL, uncertain=3.0)
    one(hatch(gaps=(replace(wide, at_least=8.0),), outlines=(unsure, SKIN)), "7.00 mm apart")
    pen = replace(WALL, half_width=4.0)
    one(hatch(gaps=(replace(wide, at_least=8.0),), outlines=(pen, SKIN)), "6.00 mm apart")
    crossing = replace(SKIN, points=((-90.0, 0.0), (600.0, 0.0)))
    one(hatch(gaps=(replace(wide, at_least=1.0),), outlines=(WALL, crossing)), "touch or cross")


@pytest.mark.parametrize(
    ("shut", "short"),
    [
        (ShutWant(9.0, 11.0), False),
        (ShutWant(10.0, 10.0), False),
        (ShutWant(11.0), True),
        (ShutWant(None, 9.0), True),
        (ShutWant(None, 11.0), False),
    ],
)
def test_a_shut_gap_that_is_not_as_wanted(shut: ShutWant, short: bool) -> None:
    project = hatch(gaps=(GapWant(("wall", "skin"), 2.0, 20.0, shut),))
    if short:
        one(project, "shut gap", "gaps, entry 1")
    else:
        assert not told(project)


def test_both_wants_of_a_pair_are_told_each_by_itself() -> None:
    gaps = (GapWant(("wall", "skin"), 12.0, shut=ShutWant(11.0)), GapWant(("skin", "wall"), 13.0))
    assert len(told(hatch(gaps=gaps))) == 3


def test_a_limit_at_shut() -> None:
    for limit in (
        Limit("tip", dx_at_least=3.0),
        Limit("tip", dy_at_least=0.5),
        Limit("tip", dx_at_most=-1.0),
        Limit("tip", dy_at_most=-1.0),
    ):
        one(hatch(limits=(limit,)), "moved at shut", "limits, entry 1")
        assert not told(hatch(limits=(replace(limit, after_deg=5.0),)))
    assert not told(hatch(limits=(Limit("tip", dx_at_least=-3.0, dy_at_most=0.0),)))


def test_limits_that_cross_in_whatever_order() -> None:
    low, high = Limit("tip", dx_at_least=20.0, after_deg=30.0), Limit("tip", dx_at_most=10.0)
    for limits in ((low, high), (high, low)):
        one(hatch(limits=limits), "at least 20 mm", "at most 10 mm", "dx")
    one(hatch(limits=(Limit("tip", dy_at_least=20.0, dy_at_most=10.0, after_deg=30.0),)), "dy")
    assert not told(hatch(limits=(low, replace(high, dx_at_most=20.0))))
    assert not told(hatch(limits=(low, replace(high, mark="foot"))))


def test_the_same_crossing_twice_is_told_once() -> None:
    limit = Limit("tip", dx_at_least=20.0, dx_at_most=10.0, after_deg=30.0)
    one(hatch(limits=(limit, limit)), "at least 20 mm")


def test_what_is_asked_of_links_that_go_stops_nobody() -> None:
    limits = (Limit("elbow", dx_at_least=20.0, dx_at_most=10.0),)
    assert not told(hatch(limits=limits, zones=(Zone("arm", LINE), Zone("arm", BOW_TIE))))


def test_a_panel_above_its_roof() -> None:
    one(hatch(room=Room(None, -4.0)), "4.0 mm above the roof")
    assert not told(hatch(room=Room(-900.0, 0.0)))
    assert not told(hatch(room=Room(-900.0)))


@pytest.mark.parametrize("on", ["body", "lid"])
def test_zones_without_room(on: str) -> None:
    for points in (BOW_TIE, LINE, tuple((0.01 * x, 0.01 * y) for x, y in SQUARE[:3])):
        one(hatch(zones=(Zone(on, points),)), on, "zones, entry 1")
    assert len(told(hatch(zones=(Zone(on, LINE), Zone(on, BOW_TIE))))) == 2
    assert not told(hatch(zones=(Zone(on, LINE), Zone(on, SQUARE))))  # pins may stand in the other
    assert sound_zones(hatch(zones=(Zone(on, LINE), Zone(on, SQUARE))), on) == [Zone(on, SQUARE)]


def test_a_locked_pin_outside_its_zones() -> None:
    zones = (Zone("body", SQUARE), Zone("body", LINE))
    free = Pivot("B", (50.0, -50.0), ("arm", "lid"))
    one(hatch(zones=zones, pivots=(pin("A", (10.0, -50.0), "body", "arm"), free)), '"A"', "outside")
    assert not told(hatch(zones=zones, pivots=(pin("A", (20.0, -50.0), "body", "arm"), free)))
    assert not told(hatch(zones=zones, pivots=(pin("A", (10.0, -50.0), "lid", "arm"), free)))


def test_more_locked_pins_than_any_linkage_has() -> None:
    pins = tuple(pin(f"p{k}", (20.0 * k, -50.0), "body", "arm") for k in range(4))
    free = Pivot("B", (50.0, -50.0), ("arm", "lid"))
    one(hatch(pivots=(*pins, free)), "4 pins", '"body"')
    assert not told(hatch(pivots=(*pins[:3], free)))
    one(hatch(pivots=(*pins[:3], free)), "3 pins", kinds=("four-bar",))
    one(hatch(pivots=(*pins[:2], free)), "2 pins", kinds=("single pivot",))


def locked_four_bar() -> Project:
    places = np.array([0j, 60 + 10j, 10 + 70j, 90 + 60j])
    made = drafted(hatch(), Settings(), FOUR_BAR, places)
    return replace(made, pivots=tuple(replace(each, locked=True) for each in made.pivots))


def test_all_pins_locked() -> None:
    one(locked_four_bar(), "every pin is locked", kinds=("four-bar",))
    assert not told(locked_four_bar())  # a six-bar on these four has three more
    assert not told(locked_four_bar(), ("six-bar",))
    inner = (*locked_four_bar().pivots, pin("E", (5.0, 5.0), "link 1", "link 2"))
    assert not told(replace(locked_four_bar(), pivots=inner))  # a six-bar has a place for the fifth and two more
    one(replace(locked_four_bar(), pivots=inner), "1 pin between links", kinds=("four-bar",))
    one(hatch(pivots=(pin("A", (0.0, 0.0), "body", "lid"),)), "every pin", kinds=("single pivot",))


def test_two_body_pins_and_nothing_else_are_a_beginning() -> None:
    """All that is there is locked, but the search has the rest to choose."""
    pins = (pin("A", (20.0, -50.0), "body", "arm"), pin("B", (70.0, -40.0), "arm", "body"))
    assert not told(hatch(pivots=pins))
    assert not told(hatch(pivots=pins[:1]), ("four-bar",))


@pytest.mark.parametrize("name", DEMOS)
def test_no_alarm_on_the_demos(name: str) -> None:
    for project in (demo(name), bare(demo(name)), mirrored(demo(name)), turned(demo(name), 37.0)):
        assert not told(project)
    assert not told(cramped())


@given(projects(4))
@settings(max_examples=6)
def test_any_project_is_looked_at_without_a_fault(project: Project) -> None:
    told(project)


@given(projects(4))
@settings(max_examples=6)
def test_a_layout_that_holds_is_never_called_hopeless(project: Project) -> None:
    """Whatever is drawn: where every check of its own linkage holds, some linkage holds."""
    if all(check.ok for check in analyse(project, steps=2).checks) and not all(each.locked for each in project.pivots):
        assert not [text for text in told(project) if not text.startswith(("zones", "pivots"))]


def by_lot(dice: random.Random) -> Project:
    """A hatch with wants, limits, zones and locked pins by lot, about half of them modest."""
    apart = dice.uniform(2.0, 60.0)
    wall = replace(WALL, points=((-30.0 - apart, dice.uniform(-20.0, 60.0)), (-30.0 - apart, -500.0)))
    wants = [GapWant(("wall", "skin"), dice.uniform(0.0, 30.0), dice.choice([0.0, 0.0, 10.0]))]
    limits = [Limit("tip", dy_at_least=dice.uniform(0.0, 300.0), after_deg=dice.choice([0.0, 40.0, 40.0]))]
    if dice.random() < 0.4:
        limits.append(Limit("tip", dy_at_most=dice.uniform(200.0, 700.0)))
    zones = [Zone("body", SQUARE)] if dice.random() < 0.3 else []
    zones += [Zone(dice.choice(["body", "arm"]), dice.choice([LINE, BOW_TIE]))] if dice.random() < 0.3 else []
    pins = [
        Pivot(
            f"p{k}", (dice.uniform(0.0, 140.0), dice.uniform(-100.0, 0.0)), (dice.choice(["body", "lid"]), "arm"), lock
        )
        for k, lock in enumerate(dice.choice([(), (), (True,), (True, False), (True, True)]))
    ]
    room = Room(None, dice.uniform(-5.0, 900.0)) if dice.random() < 0.3 else None
    return hatch(
        outlines=(wall, SKIN),
        gaps=tuple(wants),
        limits=tuple(limits),
        zones=tuple(zones),
        pivots=tuple(pins),
        room=room,
        travel=Travel("anticlockwise", dice.choice([45.0, 60.0])),
    )


def keeps_pins(asked: Project, made: Project) -> bool:
    """Whether locked pins stayed, and pins stand in the zones of their links."""
    stay = {(each.id, each.at) for each in made.pivots}
    if any((each.id, each.at) not in stay for each in asked.pivots if each.locked):
        return False
    for link in ("body", "lid"):
        if any(zone.on == link for zone in asked.zones):
            region = shapely.unary_union([shapely.Polygon(zone.points) for zone in sound_zones(asked, link)])
            if not all(region.covers(shapely.Point(each.at)) for each in made.pivots_on(link)):
                return False
    return True


def test_no_alarm_where_a_search_finds_something(monkeypatch: pytest.MonkeyPatch) -> None:
    """Small units over projects by lot: where one finds a layout that holds, nothing may have been called hopeless.

    208 projects by other seeds, about half of them with such a layout, were tried when this was written.
    """
    monkeypatch.setattr(unit, "LESS", unit.Effort(150, 3, 1))
    monkeypatch.setattr(unit, "SHAKEN", 0)
    monkeypatch.setattr(unit, "MENDABLE", 0.0)
    monkeypatch.setattr(seeding, "COURSES", 300)
    monkeypatch.setattr(fields, "CELLS", 20_000)
    dice = random.Random(1)
    found = alarms = 0
    for _ in range(5):
        project = by_lot(dice)
        if told(project, ("four-bar",)):
            alarms += 1
        brought = unit.run(project, Settings(kinds=("four-bar",), width=0.0), 0).proposals
        if any(each.ok and keeps_pins(project, each.project) for each in brought):
            found += 1
            assert not told(project, ("four-bar",))
    assert found >= 2
    assert alarms >= 1
