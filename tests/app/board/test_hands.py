"""Gestures, fed with plain events: what they do to the document, and what they leave when they are given up."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

from app.board import gestures, hands
from app.board.gestures import Move, Press, Release
from app.board.hits import pivot_place
from app.document import Document, Selection
from app.shapes import placed
from kinematics import edits
from tests import specimens
from tests.app.board.plain import PlainDesk, perform

if TYPE_CHECKING:
    from kinematics.project import Point

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.fixture
def desk() -> PlainDesk:
    return PlainDesk(Document(specimens.demo_six_bar))


@pytest.fixture
def notices(desk: PlainDesk) -> list[str]:
    heard: list[str] = []
    desk.document.noticed.connect(heard.append)
    return heard


def place_of(document: Document, pivot_id: str) -> Point:
    return pivot_place(document.project, placed(document.analysis, document.pose), pivot_id)


def shut(document: Document, pivot_id: str) -> Point:
    return document.project.pivot(pivot_id).at


# ------------------------------------------------------------------------------------------------ drag a pivot
def test_a_drag_shut_moves_the_pivot_by_what_the_hand_moves(desk: PlainDesk) -> None:
    """Pressed 2 mm beside its middle, it keeps those 2 mm."""
    ended = perform(
        hands.drag_pivot(desk, Press((127.0, 213.0)), "X"),
        Move((130.0, 215.0)),
        Move((131.0, 216.0)),
        Release((131.0, 216.0)),
    )
    assert ended
    assert shut(desk.document, "X") == pytest.approx((129.0, 216.0), abs=1e-9)
    assert desk.document.undo_label == "Move pivot X"
    assert desk.told == ["grabbed X", "dragged X 128.0 215.0", "dragged X 129.0 216.0", "dropped X"]
    desk.document.undo()
    assert shut(desk.document, "X") == (125.0, 213.0)
    assert not desk.document.can_undo


@pytest.mark.parametrize(
    ("pivot_id", "way"), [("X", (-1.0, 0.5)), ("Q", (0.8, -0.6)), ("O2", (0.8, 0.6)), ("B", (0.6, 0.6))]
)
def test_at_a_pose_the_pivot_stays_under_the_hand(desk: PlainDesk, pivot_id: str, way: Point) -> None:
    document = desk.document
    document.set_opening(30.0)
    start = place_of(document, pivot_id)
    gesture = hands.drag_pivot(desk, Press(start), pivot_id)
    next(gesture)
    for step in range(1, 6):
        to = start[0] + way[0] * step, start[1] + way[1] * step
        gesture.send(Move(to))
        document.flush()
        assert document.pose.deg == pytest.approx(30.0, abs=1e-9)
        assert math.dist(place_of(document, pivot_id), to) < 1e-3
    with pytest.raises(StopIteration):
        gesture.send(Release(to))
    assert shut(document, pivot_id) != shut(Document(specimens.demo_six_bar), pivot_id)
    assert document.can_undo


def test_given_up_it_leaves_no_step_and_no_trace(desk: PlainDesk) -> None:
    before = desk.document.project
    gesture = hands.drag_pivot(desk, Press((125.0, 213.0)), "X")
    perform(gesture, Move((140.0, 215.0)), Move((150.0, 230.0)))
    gesture.close()
    assert desk.document.project is before
    assert desk.document.analysis.project is before
    assert not desk.document.can_undo
    assert not desk.document.is_dragging
    assert desk.told[-1] == "dropped X"


def test_a_click_selects_and_is_no_step(desk: PlainDesk) -> None:
    assert perform(
        hands.drag_pivot(desk, Press((125.0, 213.0), reach=4.0), "X"), Move((126.0, 213.0)), Release((126.0, 213.0))
    )
    assert desk.document.selection == Selection("pivot", "X")
    assert not desk.document.can_undo
    assert desk.told == []


def test_a_locked_pivot_stays_and_says_so(desk: PlainDesk, notices: list[str]) -> None:
    desk.document.apply("Lock pivot X", edits.lock_pivot(desk.document.project, "X"))
    assert perform(hands.drag_pivot(desk, Press((125.0, 213.0)), "X"), Move((140.0, 215.0)))
    assert shut(desk.document, "X") == (125.0, 213.0)
    assert notices == ["Pivot X is locked, so it stays. Press L to free it."]
    assert desk.document.undo_label == "Lock pivot X"


def test_where_the_linkage_cannot_close_it_stays_at_the_last_good_place_and_says_so_once(
    desk: PlainDesk, notices: list[str]
) -> None:
    document = desk.document
    document.set_opening(60.0)
    start = place_of(document, "P2")
    gesture = hands.drag_pivot(desk, Press(start), "P2")
    perform(gesture, Move((start[0] + 3.0, start[1])))
    document.flush()
    good = document.project
    assert good.pivot("P2").at != (116.0, 290.0)
    gesture.send(Move((start[0] + 4000.0, start[1] + 4000.0)))
    gesture.send(Move((start[0] + 4100.0, start[1] + 4000.0)))
    document.flush()
    assert document.project is good
    assert notices == ["The linkage can't close with pivot P2 there; it stays at the last place where it can."]
    gesture.send(Move((start[0] + 2.0, start[1])))
    document.flush()
    assert place_of(document, "P2") == pytest.approx((start[0] + 2.0, start[1]), abs=1e-3)
    gesture.close()


def test_what_is_undone_or_closed_meanwhile_ends_the_drag(desk: PlainDesk) -> None:
    document = desk.document
    for meanwhile in (document.undo, lambda: document.new(specimens.single_pivot)):
        document.new(specimens.demo_six_bar)
        for gesture in (
            hands.drag_pivot(desk, Press((125.0, 213.0)), "X"),
            hands.drag_point(desk, Press((-28.0, 312.0)), Selection("mark", "rear corner"), "hatch"),
        ):
            perform(gesture, Move((150.0, 230.0)))
            meanwhile()
            before = document.project
            with pytest.raises(StopIteration):
                gesture.send(Move((160.0, 240.0)))
            assert document.project is before
            assert not document.can_undo
            document.new(specimens.demo_six_bar)


def test_a_swing_ends_with_the_project_it_swings(desk: PlainDesk) -> None:
    document = desk.document
    for way_out in ("move", "close"):
        document.new(specimens.demo_six_bar)
        gesture = hands.swing(desk, Press((1190.0, 262.0)), Selection("outline", "hatch skin"), "hatch")
        perform(gesture, Move((1150.0, 400.0)))
        document.new(specimens.single_pivot)
        if way_out == "close":
            gesture.close()
        else:
            with pytest.raises(StopIteration):
                gesture.send(Move((1100.0, 500.0)))
        assert document.pose.deg == 0.0


def test_a_place_beyond_the_sheets_end_is_refused_in_a_sentence(desk: PlainDesk, notices: list[str]) -> None:
    gesture = hands.drag_pivot(desk, Press((125.0, 213.0)), "X")
    perform(gesture, Move((2e5, 213.0)))
    assert len(notices) == 1
    gesture.close()
    assert shut(desk.document, "X") == (125.0, 213.0)


# ------------------------------------------------------------------------------------------------ swing
def test_the_panel_is_swung_by_any_of_its_points(desk: PlainDesk) -> None:
    """The front edge, taken shut and led to where it is at 40°, brings the panel to 40°."""
    document = desk.document
    hatch = document.analysis.links.index("hatch")
    front = (1190.0, 262.0)
    gesture = hands.swing(desk, Press(front), Selection("outline", "hatch skin"), "hatch")
    next(gesture)
    for deg in (10.0, 20.0, 30.0, 40.0):
        gesture.send(Move(document.analysis.pose(deg).place(hatch, front)))
        assert document.pose.deg == pytest.approx(deg, abs=0.01)
    with pytest.raises(StopIteration):
        gesture.send(Release(front))
    assert document.selection == Selection("outline", "hatch skin")
    assert not document.can_undo


def test_a_swing_that_is_given_up_brings_the_pose_back(desk: PlainDesk) -> None:
    document = desk.document
    document.set_opening(12.0)
    before = document.pose
    gesture = hands.swing(desk, Press(place_of(document, "B")), Selection("link", "short link"), "short link")
    x, y = place_of(document, "B")
    perform(gesture, Move((x + 20.0, y + 10.0)))
    assert document.pose.deg != pytest.approx(12.0, abs=0.1)
    gesture.close()
    assert document.pose is before


def test_what_is_locked_does_not_swing_and_says_why() -> None:
    desk = PlainDesk(Document(specimens.locked_triangle))
    heard: list[str] = []
    desk.document.noticed.connect(heard.append)
    assert perform(hands.swing(desk, Press((120.0, 90.0)), Selection("link", "panel"), "panel"), Move((150.0, 90.0)))
    assert len(heard) == 1
    assert heard[0] in desk.document.analysis.remarks


# ------------------------------------------------------------------------------------------------ marks, outline points
def test_a_mark_is_moved_on_its_link_at_a_pose(desk: PlainDesk) -> None:
    document = desk.document
    document.set_opening(50.0)
    where = gestures.placement_of(document, "hatch")
    start, end = where.carry((-28.0, 312.0)), where.carry((10.0, 300.0))
    assert perform(
        hands.drag_point(desk, Press(start), Selection("mark", "rear corner"), "hatch"), Move(end), Release(end)
    )
    assert document.project.mark("rear corner").at == pytest.approx((10.0, 300.0), abs=1e-9)
    assert document.undo_label == "Move mark rear corner"


def test_an_outlines_point_is_moved_and_given_up(desk: PlainDesk) -> None:
    document = desk.document
    selection = Selection("outline", "hatch skin", 2)
    assert perform(
        hands.drag_point(desk, Press((600.0, 297.0)), selection, "hatch"), Move((610.0, 320.0)), Release((610.0, 320.0))
    )
    assert document.project.outline("hatch skin").points[2] == pytest.approx((610.0, 320.0))
    assert document.undo_label == "Move point 3 of hatch skin"
    document.undo()
    gesture = hands.drag_point(desk, Press((600.0, 297.0)), selection, "hatch")
    perform(gesture, Move((610.0, 320.0)))
    gesture.close()
    assert document.project == specimens.demo_six_bar
    assert not document.can_undo


# ------------------------------------------------------------------------------------------------ nudges
def test_nudges_add_up_without_dust(desk: PlainDesk) -> None:
    document, chosen = desk.document, Selection("pivot", "X")
    document.begin(hands.nudge_label(document.project, chosen))
    for _ in range(3):
        hands.nudge(document, chosen, (0.1, 0.0))
    document.commit()
    assert shut(document, "X") == (125.3, 213.0)
    assert document.undo_label == "Nudge pivot X"


def test_a_nudge_at_a_pose_goes_as_seen_there(desk: PlainDesk) -> None:
    document, chosen = desk.document, Selection("pivot", "P1")
    document.set_opening(45.0)
    x, y = place_of(document, "P1")
    document.begin(hands.nudge_label(document.project, chosen))
    hands.nudge(document, chosen, (0.0, 1.0))
    document.commit()
    assert place_of(document, "P1") == pytest.approx((x, y + 1.0), abs=1e-3)


def test_what_can_be_nudged() -> None:
    assert hands.can_nudge(Selection("pivot", "A"))
    assert hands.can_nudge(Selection("mark", "m"))
    assert hands.can_nudge(Selection("outline", "o", 0))
    assert not hands.can_nudge(Selection("outline", "o"))
    assert not hands.can_nudge(Selection("link", "l"))
    assert not hands.can_nudge(None)
