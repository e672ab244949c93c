"""What lies under the pointer: the finest thing within reach wins, at any pose."""

from __future__ import annotations

import pytest

from app.board.hits import Hit, bodies_at, edge_hit, hit, is_inside, nearest_edge, on_hull, pivot_place
from app.shapes import placed
from kinematics import analyse, arranging, building, edits
from kinematics.building import Spot
from kinematics.project import Link, Mark
from tests import specimens

DEMO = specimens.demo_six_bar


@pytest.mark.parametrize(
    ("at", "found"),
    [
        ((141.0, 257.0), Hit("pivot", "O1")),  # lies on the arm too
        ((-28.0, 312.0), Hit("mark", "rear corner")),  # lies on the hatch skin too
        ((190.0, 170.0), Hit("link", "cross link")),
        ((600.0, 298.0), Hit("outline", "hatch skin", 1)),
        ((6.0, -100.0), Hit("outline", "screen and sill", 5)),
        ((-100.0, 430.0), Hit("outline", "screen and sill", 0)),
        ((700.0, 100.0), None),
    ],
)
def test_shut_the_finest_thing_wins(at: tuple[float, float], found: Hit | None) -> None:
    assert hit(DEMO, {}, at, 8.0) == found


def test_the_nearer_of_two_pins_wins() -> None:
    assert hit(DEMO, {}, (134.0, 236.0), 60.0) == Hit("pivot", "O1")
    assert hit(DEMO, {}, (132.0, 233.0), 60.0) == Hit("pivot", "X")


def test_at_a_pose_things_are_hit_where_they_stand() -> None:
    analysis = analyse(DEMO)
    where = placed(analysis, analysis.pose(40.0))
    place = pivot_place(DEMO, where, "P2")
    assert abs(place[1] - 290.0) > 30.0
    assert hit(DEMO, where, place, 3.0) == Hit("pivot", "P2")
    assert hit(DEMO, where, where["hatch"].carry((900.0, 279.2)), 3.0) == Hit("outline", "hatch skin", 2)


def test_the_points_of_the_selected_outline_win_over_all() -> None:
    at = DEMO.outline("hatch skin").points[1]
    assert hit(DEMO, {}, at, 8.0, "hatch skin") == Hit("point", "hatch skin", 1)
    assert hit(DEMO, {}, at, 8.0, "screen and sill") == Hit("mark", "rear corner")
    assert hit(DEMO, {}, at, 8.0, "gone") == Hit("mark", "rear corner")


def test_reach_is_in_mm_so_a_target_keeps_its_size_on_the_screen() -> None:
    assert hit(DEMO, {}, (1190.0, 275.0), 12.0) is None
    assert hit(DEMO, {}, (1190.0, 275.0), 14.0) == Hit("outline", "hatch skin", 2)


def test_a_thick_outline_is_hit_within_its_thickness() -> None:
    thick = edits.replace_outline(DEMO, "hatch skin", _thick(10.0))
    assert hit(thick, {}, (900.0, 270.0), 1.0) == Hit("outline", "hatch skin", 2)
    assert hit(DEMO, {}, (900.0, 270.0), 1.0) is None


def _thick(half_width: float) -> specimens.Outline:
    skin = DEMO.outline("hatch skin")
    return specimens.Outline(skin.id, skin.on, skin.points, half_width=half_width)


def test_a_bare_link_is_hit_along_its_line() -> None:
    bare = edits.set_width(DEMO, "lift link", 0.0)
    at = 200.0, 252.0  # 2.5 mm off the line Q–P2, and on no band
    assert hit(edits.remove_link(bare, "arm"), {}, at, 4.0) == Hit("link", "lift link")


def test_on_an_empty_project_there_is_nothing() -> None:
    assert hit(specimens.empty, {}, (0.0, 0.0), 8.0) is None
    alone = edits.add_mark(specimens.empty, Mark("m", specimens.empty.panel.id, (1.0, 1.0)))
    assert hit(alone, {}, (0.0, 0.0), 8.0) == Hit("mark", "m")


def test_edges_are_numbered_from_their_first_point() -> None:
    square = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
    assert edge_hit(square, (5.0, -1.0), closed=True) == (0, 1.0)
    assert edge_hit(square, (-2.0, 5.0), closed=True) == (3, 2.0)
    assert edge_hit(square, (-2.0, 5.0), closed=False)[0] in (0, 2)  # the last edge isn't there
    assert edge_hit(((1.0, 1.0), (1.0, 1.0)), (4.0, 5.0), closed=False) == (0, 5.0)
    assert nearest_edge(DEMO.outline("hatch skin"), {}, (300.0, 400.0))[0] == 1


def test_inside() -> None:
    corner = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (5.0, 10.0), (5.0, 5.0), (0.0, 5.0))
    assert is_inside(corner, (7.0, 8.0))
    assert not is_inside(corner, (2.0, 8.0))
    assert not is_inside(corner, (12.0, 2.0))


@pytest.mark.parametrize(
    ("kind", "id_", "at", "found"),
    [
        ("pivot", "O1", (141.0, 257.0), Hit("link", "arm")),
        ("mark", "rear corner", (-28.0, 312.0), Hit("outline", "hatch skin", 0)),
        ("link", "cross link", (190.0, 170.0), None),
        ("outline", "hatch skin", (600.0, 298.0), None),
    ],
)
def test_what_is_hidden_is_not_hit(kind: str, id_: str, at: tuple[float, float], found: Hit | None) -> None:
    assert hit(arranging.hide_part(DEMO, kind, id_), {}, at, 8.0) == found


# ------------------------------------------------------------------------------------------------ links at a place
def test_all_links_at_a_place_are_given_each_once() -> None:
    assert sorted(bodies_at(DEMO, {}, (131.5, 221.5), 6.0)) == ["arm", "cross link"]
    assert bodies_at(DEMO, {}, (6.0, 150.0), 6.0) == ["bulkhead"]
    assert bodies_at(DEMO, {}, (290.0, 130.0), 6.0) == []
    hidden = arranging.hide_part(DEMO, "link", "arm")
    assert bodies_at(hidden, {}, (131.5, 221.5), 6.0) == ["cross link"]


def test_a_place_comes_to_the_line_between_a_links_pins() -> None:
    o2, b = DEMO.pivot("O2").at, DEMO.pivot("B").at
    middle = (o2[0] + b[0]) / 2, (o2[1] + b[1]) / 2
    across = (b[1] - o2[1]) / 40, (o2[0] - b[0]) / 40
    beside = middle[0] + across[0], middle[1] + across[1]
    assert on_hull(DEMO, "short link", beside, 6.0) == pytest.approx(middle)
    assert on_hull(DEMO, "short link", beside, 1.0) == beside
    lone = edits.add_link(DEMO, Link("spare"))
    assert on_hull(lone, "spare", beside, 6.0) == beside


def test_a_link_is_hit_by_the_line_to_its_free_end() -> None:
    loose = building.make_link(DEMO, "new", Spot((0.0, 0.0), pivot="Q"), Spot((358.0, 127.0)), 0.0)
    assert hit(loose, {}, (308.0, 177.0), 3.0) == Hit("link", "new")


def test_a_link_whose_pins_stand_at_one_place_is_hit_there() -> None:
    bare = edits.set_width(DEMO, "lift link", 0.0)
    one = edits.move_pivot(bare, "P2", bare.pivot("Q").at)
    seen = one
    for kind, name in (("pivot", "P2"), ("pivot", "Q"), ("link", "hatch")):
        seen = arranging.hide_part(seen, kind, name)
    x, y = seen.pivot("Q").at
    assert hit(seen, {}, (x + 2.0, y), 3.0) == Hit("link", "lift link")
    assert edge_hit(((3.0, 4.0),), (0.0, 0.0), closed=False) == (0, 5.0)
