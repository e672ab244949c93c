"""Several things at once: gathered, added one by one, dragged and nudged together, each time in one step."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

from app.board import crowd, hands
from app.board.gestures import Move, Press, Release
from app.board.hits import pivot_place
from app.document import Document, Selection
from app.shapes import placed
from kinematics import edits
from kinematics.arranging import lock_part
from tests import specimens
from tests.app.board.plain import PlainDesk, perform

if TYPE_CHECKING:
    from kinematics.project import Point

pytestmark = pytest.mark.usefixtures("qapp")

X, Q, B = (Selection("pivot", name) for name in "XQB")
CORNER = Selection("mark", "rear corner")


@pytest.fixture
def desk() -> PlainDesk:
    return PlainDesk(Document(specimens.demo_six_bar))


@pytest.fixture
def notices(desk: PlainDesk) -> list[str]:
    heard: list[str] = []
    desk.document.noticed.connect(heard.append)
    return heard


def shut(document: Document, pivot_id: str) -> Point:
    return document.project.pivot(pivot_id).at


def moved(document: Document, pivot_id: str) -> Point:
    old = specimens.demo_six_bar.pivot(pivot_id).at
    return shut(document, pivot_id)[0] - old[0], shut(document, pivot_id)[1] - old[1]


# ------------------------------------------------------------------------------------------------ gathering
def test_a_frame_gathers_pins_and_marks(desk: PlainDesk) -> None:
    gesture = crowd.gather(desk, Press((100.0, 200.0)), more=False)
    perform(gesture, Move((150.0, 220.0)), Move((300.0, 230.0)))
    assert [shape.key for shape in desk.drawn] == ["sketch:frame"]
    with pytest.raises(StopIteration):
        gesture.send(Release((300.0, 230.0)))
    assert desk.drawn == []
    assert set(desk.document.selections) == {X, Q}
    assert not desk.document.can_undo


def test_any_corner_may_come_first_and_more_are_added(desk: PlainDesk) -> None:
    desk.document.select(B)
    perform(crowd.gather(desk, Press((300.0, 230.0)), more=True), Move((100.0, 200.0)), Release((100.0, 200.0)))
    assert set(desk.document.selections) == {B, X, Q}
    perform(crowd.gather(desk, Press((-60.0, 330.0)), more=False), Move((-10.0, 300.0)), Release((-10.0, 300.0)))
    assert desk.document.selections == (CORNER,)


def test_with_an_outline_selected_its_points_are_gathered(desk: PlainDesk) -> None:
    desk.document.select(Selection("outline", "hatch skin"))
    first = desk.document.project.outline("hatch skin").points[0]
    corner = first[0] - 5.0, first[1] - 5.0
    perform(crowd.gather(desk, Press(corner), more=False), Move((620.0, 400.0)), Release((620.0, 400.0)))
    assert {each.kind for each in desk.document.selections} == {"outline"}
    assert all(each.part is not None for each in desk.document.selections)


def test_a_click_on_paper_selects_nothing(desk: PlainDesk) -> None:
    desk.document.select(X)
    perform(crowd.gather(desk, Press((500.0, 100.0)), more=True), Release((500.0, 100.0)))
    assert desk.document.selections == (X,)
    perform(crowd.gather(desk, Press((500.0, 100.0)), more=False), Release((500.0, 100.0)))
    assert desk.document.selections == ()


def test_given_up_it_changes_nothing(desk: PlainDesk) -> None:
    desk.document.select(X)
    gesture = crowd.gather(desk, Press((100.0, 0.0)), more=False)
    perform(gesture, Move((300.0, 300.0)))
    gesture.close()
    assert (desk.drawn, desk.document.selections) == ([], (X,))


# ------------------------------------------------------------------------------------------------ one more, one less
def test_a_click_with_a_key_adds_and_takes_away(desk: PlainDesk) -> None:
    document = desk.document
    document.select(X)
    for at, expected in (((258.0, 227.0), (X, Q)), ((258.0, 227.0), (X,))):
        perform(crowd.take_more(desk, Press(at, more=True), Q, None), Release(at))
        assert document.selections == expected


def test_a_drag_with_a_key_moves_what_is_selected_or_the_thing_alone(desk: PlainDesk) -> None:
    document = desk.document
    document.select_all((X, Q))
    press = Press((125.0, 213.0), more=True)
    alone = hands.drag_pivot(desk, press, "X")
    assert perform(crowd.take_more(desk, press, X, alone), Move((130.0, 213.0)), Release((130.0, 213.0)))
    assert (moved(document, "X"), moved(document, "Q")) == ((5.0, 0.0), (5.0, 0.0))
    document.undo()
    press = Press(shut(document, "B"), more=True)
    to = press.at[0] + 7.0, press.at[1]
    assert perform(crowd.take_more(desk, press, B, hands.drag_pivot(desk, press, "B")), Move(to), Release(to))
    assert (moved(document, "X"), moved(document, "B")) == ((0.0, 0.0), (7.0, 0.0))
    assert document.selections == (B,)


def test_given_up_with_a_key_held_the_inner_drag_is_given_up_too(desk: PlainDesk) -> None:
    press = Press((125.0, 213.0), more=True)
    gesture = crowd.take_more(desk, press, X, hands.drag_pivot(desk, press, "X"))
    perform(gesture, Move((150.0, 213.0)))
    assert desk.document.is_dragging
    gesture.close()
    assert desk.document.project == specimens.demo_six_bar
    assert not desk.document.is_dragging


# ------------------------------------------------------------------------------------------------ moving together
def test_pins_and_a_mark_move_together_in_one_step(desk: PlainDesk) -> None:
    document = desk.document
    document.select_all((X, CORNER, Q))
    assert perform(
        crowd.drag(desk, Press((259.0, 227.0)), Q), Move((265.0, 230.0)), Move((269.0, 233.0)), Release((269.0, 233.0))
    )
    assert (moved(document, "X"), moved(document, "Q"), moved(document, "B")) == ((10.0, 6.0), (10.0, 6.0), (0.0, 0.0))
    assert document.project.mark("rear corner").at == pytest.approx((-18.0, 318.0))
    assert document.undo_label == "Move 3 things"
    document.undo()
    assert document.project == specimens.demo_six_bar
    assert not document.can_undo
    assert document.selections == (X, CORNER, Q)


@pytest.mark.parametrize("grabbed", ["X", "Q", "B"])
def test_at_a_pose_the_grabbed_pin_stays_under_the_hand(desk: PlainDesk, grabbed: str) -> None:
    document = desk.document
    document.set_opening(35.0)
    document.select_all((X, Q, B))
    start = pivot_place(document.project, placed(document.analysis, document.pose), grabbed)
    gesture = crowd.drag(desk, Press(start), Selection("pivot", grabbed))
    next(gesture)
    for step in range(1, 6):
        to = start[0] + 1.0 * step, start[1] - 0.5 * step
        gesture.send(Move(to))
        document.flush()
        assert document.pose.deg == pytest.approx(35.0, abs=1e-9)
        assert math.dist(pivot_place(document.project, placed(document.analysis, document.pose), grabbed), to) < 0.05
    with pytest.raises(StopIteration):
        gesture.send(Release(to))
    shifts = [moved(document, name) for name in "XQB"]
    assert shifts[1:] == [pytest.approx(shifts[0])] * 2
    assert document.undo_label == "Move 3 pivots"
    document.undo()
    assert document.project == specimens.demo_six_bar


def test_where_the_linkage_can_not_close_all_stay_and_a_sentence_says_so(desk: PlainDesk, notices: list[str]) -> None:
    document = desk.document
    document.set_opening(35.0)
    document.select_all((X, Q))
    start = pivot_place(document.project, placed(document.analysis, document.pose), "X")
    gesture = crowd.drag(desk, Press(start), X)
    perform(gesture, Move((start[0] + 2.0, start[1])))
    good = document.project
    assert good != specimens.demo_six_bar
    gesture.send(Move((start[0] + 2000.0, start[1])))
    gesture.send(Move((start[0] + 2001.0, start[1])))
    assert document.project is good
    assert notices == ["The linkage can't close with the pins there; they stay at the last place where it can."]
    gesture.close()


def test_outline_points_move_together(desk: PlainDesk) -> None:
    document = desk.document
    points = document.project.outline("hatch skin").points
    chosen = [Selection("outline", "hatch skin", k) for k in (1, 2)]
    document.select_all(chosen)
    start = points[2]
    to = start[0] + 4.0, start[1] + 3.0
    assert perform(crowd.drag(desk, Press(start), chosen[1]), Move(to), Release(to))
    after = document.project.outline("hatch skin").points
    assert after[0] == points[0]
    assert [after[1], after[2]] == [pytest.approx((x + 4.0, y + 3.0)) for x, y in points[1:3]]
    assert document.undo_label == "Move 2 points"


def test_what_is_locked_stays_and_says_so(desk: PlainDesk, notices: list[str]) -> None:
    document = desk.document
    document.apply("Lock pivot X", edits.lock_pivot(document.project, "X"))
    document.select_all((X, Q))
    at = shut(document, "Q")
    perform(crowd.drag(desk, Press(at), Q), Move((at[0] + 5.0, at[1])), Release((at[0] + 5.0, at[1])))
    assert (moved(document, "X"), moved(document, "Q")) == ((0.0, 0.0), (5.0, 0.0))
    assert notices == ["Pivot X is locked, so it stays. Press L to free it."]
    at = shut(document, "X")
    assert perform(crowd.drag(desk, Press(at), X), Move((at[0] + 5.0, at[1])))
    assert moved(document, "X") == (0.0, 0.0)


def test_a_click_on_one_of_several_selects_it_alone(desk: PlainDesk) -> None:
    desk.document.select_all((X, Q))
    perform(crowd.drag(desk, Press((125.0, 213.0)), X), Release((125.0, 213.0)))
    assert desk.document.selections == (X,)


def test_a_drag_of_several_is_given_up(desk: PlainDesk) -> None:
    desk.document.select_all((X, Q))
    gesture = crowd.drag(desk, Press((125.0, 213.0)), X)
    perform(gesture, Move((150.0, 213.0)))
    gesture.close()
    assert desk.document.project == specimens.demo_six_bar
    assert not desk.document.can_undo
    assert desk.said == ""


def test_a_place_beyond_the_sheet_is_refused_in_a_sentence(desk: PlainDesk, notices: list[str]) -> None:
    desk.document.select_all((X, Q))
    gesture = crowd.drag(desk, Press((125.0, 213.0)), X)
    perform(gesture, Move((3e5, 213.0)))
    assert len(notices) == 1
    gesture.close()
    assert desk.document.project == specimens.demo_six_bar


def test_nudges_of_several_add_up_without_dust(desk: PlainDesk) -> None:
    document = desk.document
    document.begin("Nudge 2 pivots")
    for _ in range(3):
        crowd.nudge(document, (X, Q), (0.1, 0.0))
    document.commit()
    assert (shut(document, "X"), shut(document, "Q")) == ((125.3, 213.0), (258.3, 227.0))


def test_several_are_counted_for_the_steps_name() -> None:
    assert crowd.count_words((X, Q)) == "2 pivots"
    assert crowd.count_words((X, CORNER)) == "2 things"
    assert crowd.count_words((Selection("outline", "o", 1), Selection("outline", "o", 2))) == "2 points"
    assert crowd.count_words((CORNER, CORNER)) == "2 marks"


def test_only_what_is_free_is_movable(desk: PlainDesk) -> None:
    document = desk.document
    document.apply("Lock", lock_part(document.project, "mark", "rear corner"))
    document.select_all((CORNER, Selection("link", "arm"), X, Selection("outline", "hatch skin")))
    assert crowd.movable(document) == [X]
