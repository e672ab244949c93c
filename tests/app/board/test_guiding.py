"""Guides at work in a drag: snapping, keys that leave it, lines and lengths that are kept, pins joined by dropping."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

from app.board import hands
from app.board.gestures import Move, Press, Release
from app.board.guiding import Guide
from app.board.hits import pivot_place
from app.board.snapping import Snap
from app.document import Document, Selection
from app.shapes import placed
from tests import specimens
from tests.app.board.plain import PlainDesk, perform

if TYPE_CHECKING:
    from kinematics.project import Point

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.fixture
def desk() -> PlainDesk:
    return PlainDesk(Document(specimens.demo_six_bar), snaps=True, reach=4.0)


def shut(desk: PlainDesk, pivot_id: str) -> Point:
    return desk.document.project.pivot(pivot_id).at


def length(desk: PlainDesk, one: str, other: str) -> float:
    return math.dist(shut(desk, one), shut(desk, other))


def holds(desk: PlainDesk) -> list[str]:
    return [] if desk.led is None else [hold.kind for hold in desk.led.holds]


# ------------------------------------------------------------------------------------------------ snapping
def test_a_pin_comes_level_with_another(desk: PlainDesk) -> None:
    x, y = shut(desk, "X")
    gesture = hands.drag_pivot(desk, Press(shut(desk, "Q")), "Q")
    perform(gesture, Move((x + 150.0, y + 1.5)))
    assert shut(desk, "Q") == pytest.approx((x + 150.0, y), abs=1e-9)
    assert holds(desk) == ["level"]
    assert "Ctrl" in desk.said
    with pytest.raises(StopIteration):
        gesture.send(Release((x + 150.0, y + 1.5)))
    assert shut(desk, "Q")[1] == y
    assert (desk.led, desk.said) == (None, "")
    assert desk.document.undo_label == "Move pivot Q"


def test_a_key_leaves_it_and_a_switch_too(desk: PlainDesk) -> None:
    x, y = shut(desk, "X")
    for held, snaps in ((frozenset({"free"}), True), (frozenset(), False)):
        desk.held, desk.snaps = held, snaps
        perform(hands.drag_pivot(desk, Press(shut(desk, "Q")), "Q"), Move((x + 150.0, y + 1.5)), Release((0.0, 0.0)))
        assert shut(desk, "Q") == pytest.approx((x + 150.0, y + 1.5), abs=1e-9)
        desk.document.undo()


def test_at_a_pose_it_snaps_to_what_stands_there(desk: PlainDesk) -> None:
    document = desk.document
    document.set_opening(40.0)
    where = placed(document.analysis, document.pose)
    stood, start = (pivot_place(document.project, where, name) for name in ("X", "B"))  # 6 mm beside each other
    to = stood[0] + 1.5, start[1] + 0.5
    perform(hands.drag_pivot(desk, Press(start), "B"), Move((start[0] - 3.0, start[1])), Move(to), Release(to))
    where = placed(document.analysis, document.pose)
    there, b = (pivot_place(document.project, where, name) for name in ("X", "B"))
    assert b[0] == pytest.approx(there[0], abs=1e-3)
    assert math.dist(there, stood) > 0.05  # it moves along with what is dragged, and still they are plumb in the end
    assert abs(shut(desk, "B")[0] - shut(desk, "X")[0]) > 1.0  # it is where they stand in the pose that counts


def test_a_link_comes_to_be_as_long_as_another_to_the_last_digit(desk: PlainDesk) -> None:
    """Q on the lift link, whose other pin is P2: as long as the short link."""
    for deg in (0.0, 35.0):
        document = desk.document
        document.set_opening(deg)
        wanted = length(desk, "O2", "B")
        where = placed(document.analysis, document.pose)
        p2, q = (pivot_place(document.project, where, name) for name in ("P2", "Q"))
        way = (q[0] - p2[0]) / math.dist(p2, q), (q[1] - p2[1]) / math.dist(p2, q)
        gesture = hands.drag_pivot(desk, Press(q), "Q")
        next(gesture)
        for far in (150.0, 130.0, 110.0, wanted + 1.0):
            gesture.send(Move((p2[0] + far * way[0], p2[1] + far * way[1])))
        assert "length" in holds(desk)
        assert length(desk, "P2", "Q") == pytest.approx(wanted, abs=1e-9)
        gesture.close()


def test_the_squares_draw_only_where_they_mean_something(desk: PlainDesk) -> None:
    desk.grid, desk.reach = 10.0, 2.0
    document = desk.document
    perform(hands.drag_pivot(desk, Press(shut(desk, "B")), "B"), Move((80.6, 80.7)), Release((80.6, 80.7)))
    assert shut(desk, "B") == (80.0, 80.0)
    document.undo()
    document.set_opening(30.0)
    where = placed(document.analysis, document.pose)
    b = pivot_place(document.project, where, "B")
    gesture = hands.drag_pivot(desk, Press(b), "B")
    perform(gesture, Move((b[0] - 3.0, b[1] - 5.0)))
    assert "grid" not in holds(desk)  # B moves with its links: as it stands now, squares say nothing of its shut place
    gesture.close()


def test_marks_and_outline_points_snap_too(desk: PlainDesk) -> None:
    corner = desk.document.project.outline("hatch skin").points[0]
    perform(
        hands.drag_point(desk, Press((-28.0, 312.0)), Selection("mark", "rear corner"), "hatch"),
        Move((corner[0] + 1.0, corner[1] + 1.0)),
        Release((0.0, 0.0)),
    )
    assert desk.document.project.mark("rear corner").at == pytest.approx(corner)
    o1 = shut(desk, "O1")
    point = desk.document.project.outline("hatch skin").points[2]
    perform(
        hands.drag_point(desk, Press(point), Selection("outline", "hatch skin", 2), "hatch"),
        Move((o1[0] + 1.0, 400.0)),
        Release((0.0, 0.0)),
    )
    assert desk.document.project.outline("hatch skin").points[2] == pytest.approx((o1[0], 400.0))


def test_a_point_does_not_snap_to_itself(desk: PlainDesk) -> None:
    point = desk.document.project.outline("hatch skin").points[2]
    gesture = hands.drag_point(desk, Press(point), Selection("outline", "hatch skin", 2), "hatch")
    perform(gesture, Move((point[0] + 1.0, point[1] + 1.0)), Move((point[0] + 1.2, point[1] + 1.0)))
    assert "on" not in holds(desk)
    gesture.close()


# ------------------------------------------------------------------------------------------------ keeping
def test_a_line_is_kept(desk: PlainDesk) -> None:
    desk.held = frozenset({"line"})
    x, y = shut(desk, "X")
    gesture = hands.drag_pivot(desk, Press((x, y)), "X")
    perform(gesture, Move((x + 9.0, y + 2.0)))
    assert shut(desk, "X") == (x + 9.0, y)
    assert desk.led is not None
    assert desk.led.holds[0].way == "level"
    gesture.send(Move((x + 2.0, y - 9.0)))
    assert shut(desk, "X") == pytest.approx((x, y - 9.0))
    gesture.close()


@pytest.mark.parametrize("deg", [0.0, 30.0])
def test_a_links_length_is_kept_to_the_last_digit(desk: PlainDesk, deg: float) -> None:
    document = desk.document
    document.set_opening(deg)
    before = length(desk, "Q", "P2"), length(desk, "Q", "X"), length(desk, "Q", "B")
    where = placed(document.analysis, document.pose)
    q, p2 = (pivot_place(document.project, where, name) for name in ("Q", "P2"))
    desk.held = frozenset({"length"})
    across = (q[1] - p2[1]) / 40, (p2[0] - q[0]) / 40  # along the circle about P2
    gesture = hands.drag_pivot(desk, Press(q), "Q")
    next(gesture)
    for step in range(1, 5):
        gesture.send(Move((q[0] + step * across[0], q[1] + step * across[1])))
        document.flush()
        assert holds(desk) == ["kept length"]
        assert length(desk, "Q", "P2") == pytest.approx(before[0], abs=1e-9)
    assert length(desk, "Q", "X") != pytest.approx(before[1], abs=0.1)
    with pytest.raises(StopIteration):
        gesture.send(Release(q))
    assert document.can_undo


def test_a_pin_of_fixed_link_and_panel_alone_has_no_length_to_keep() -> None:
    desk = PlainDesk(Document(specimens.single_pivot), held=frozenset({"length"}))
    perform(hands.drag_pivot(desk, Press((0.0, 0.0)), "A"), Move((5.0, 6.0)), Release((5.0, 6.0)))
    assert desk.document.project.pivot("A").at == (5.0, 6.0)


# ------------------------------------------------------------------------------------------------ joining by dropping
def test_a_pin_dropped_on_another_with_the_key_held_is_joined_with_it(desk: PlainDesk) -> None:
    document = desk.document
    o1 = shut(desk, "O1")
    gesture = hands.drag_pivot(desk, Press(shut(desk, "O2")), "O2")
    perform(gesture, Move((40.0, 200.0)), Move((o1[0] + 2.0, o1[1])))
    desk.held = frozenset({"join"})
    gesture.send(Move((o1[0] + 5.0, o1[1])))
    assert desk.said == "Let go to join O2 with O1."
    with pytest.raises(StopIteration):
        gesture.send(Release((o1[0] + 5.0, o1[1])))
    assert document.undo_label == "Join pivots O1 and O2"
    assert "O2" not in [pin.id for pin in document.project.pivots]
    assert set(document.project.pivot("O1").joins) == {"bulkhead", "arm", "short link"}
    assert document.selection == Selection("pivot", "O1")
    document.undo()
    assert document.project == specimens.demo_six_bar
    assert not document.can_undo


def test_without_the_key_it_only_lies_on_it(desk: PlainDesk) -> None:
    o1 = shut(desk, "O1")
    perform(
        hands.drag_pivot(desk, Press(shut(desk, "O2")), "O2"), Move((o1[0] + 2.0, o1[1])), Release((o1[0] + 2.0, o1[1]))
    )
    assert shut(desk, "O2") == o1
    assert desk.document.undo_label == "Move pivot O2"


def test_what_can_not_be_joined_stays_where_it_was_and_says_why(desk: PlainDesk) -> None:
    heard: list[str] = []
    desk.document.noticed.connect(heard.append)
    desk.held = frozenset({"join"})
    b = shut(desk, "B")
    perform(
        hands.drag_pivot(desk, Press(shut(desk, "O2")), "O2"), Move((b[0] + 2.0, b[1])), Release((b[0] + 2.0, b[1]))
    )
    assert desk.document.project == specimens.demo_six_bar
    assert len(heard) == 1
    assert "short link" in heard[0]


def test_squares_do_not_lead_off_the_paper(desk: PlainDesk) -> None:
    desk.reach, desk.grid = 30000.0, 304800.0 / 4  # a far look in feet
    assert Guide(desk, about=(0.0, 0.0)).lead((70000.0, -70000.0)).at == (76200.0, -76200.0)
    desk.grid = 67000.0
    assert Guide(desk, about=(0.0, 0.0)).lead((99990.0, 0.0)).at == (99990.0, 0.0)
    desk.grid, at = 52000.0, (99990.0, 0.0)
    assert Guide(desk, about=(0.0, 0.0)).lead(at) == Snap(at)
