"""Lines that are drawn with arcs and smooth curves: by plain events, and by the key and the drawer of the window."""

from __future__ import annotations

from math import dist
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from app.board.course import WAYS, Course
from app.board.drawing import draw_outline
from app.board.gestures import Enter, Move, Press, Turn
from app.document import Document
from kinematics import curves
from tests import specimens
from tests.app.board.plain import PlainDesk, perform

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window
    from kinematics.project import Point

A, B, C, D = (0.0, 0.0), (50.0, 50.0), (100.0, 0.0), (200.0, 0.0)


def course(*clicks: tuple[str, Point]) -> Course:
    made = Course()
    for way, point in clicks:
        made.way = next(each for each in WAYS if each == way)
        made.put(point)
    return made


def test_an_arc_runs_between_straight_pieces() -> None:
    made = course(("straight", A), ("straight", (0.0, -20.0)), ("straight", A), ("arc", B), ("arc", C), ("straight", D))
    line = made.line()
    assert line[:3] == (A, (0.0, -20.0), A)
    assert line[-2:] == (C, D)
    arc = line[2:-1]
    assert arc == curves.arc(A, B, C)
    assert all(abs(dist(each, (50.0, 0.0)) - 50.0) < 1e-9 for each in arc)


def test_arcs_follow_each_other_and_half_of_one_is_straight() -> None:
    made = course(("arc", A), ("arc", B), ("arc", C), ("arc", D))
    assert made.line() == (*curves.arc(A, B, C), D)
    assert made.line((300.0, 100.0)) == (*curves.arc(A, B, C), *curves.arc(C, D, (300.0, 100.0))[1:])
    assert made.line(D) == (*made.line(), D)  # the pointer is on the point just clicked: no arc yet


def test_a_smooth_run_is_one_curve_through_its_points() -> None:
    made = course(("straight", (-100.0, 0.0)), ("straight", A), ("smooth", B), ("smooth", C), ("straight", D))
    line = made.line()
    assert line == ((-100.0, 0.0), *curves.smooth([A, B, C]), D)
    assert course(("smooth", A), ("smooth", B)).line() == (A, B)


def test_closed_lines_come_back_on_the_way_that_is_in_force() -> None:
    assert course(("smooth", A), ("smooth", B), ("smooth", C)).line(closed=True) == curves.smooth(
        [A, B, C], closed=True
    )
    made = course(("straight", A), ("straight", C), ("arc", (50.0, -50.0)))
    assert made.line(closed=True) == (A, *curves.arc(C, (50.0, -50.0), A)[:-1])
    assert course(("straight", A), ("straight", B), ("straight", C)).line(closed=True) == (A, B, C)


@pytest.mark.usefixtures("qapp")
def test_a_turn_while_drawing_is_seen_and_kept() -> None:
    desk, done = PlainDesk(Document(specimens.demo_six_bar)), []
    gesture = draw_outline(desk, "bulkhead", lambda *found: done.append(found))
    perform(gesture, Press(A), Turn("arc"), Press(B), Move(C))
    assert desk.sketched == curves.arc(A, B, C)
    assert desk.spots == (A, B)
    for event in (Press(C), Turn("straight"), Press(D)):
        gesture.send(event)
    with pytest.raises(StopIteration):
        gesture.send(Enter())
    assert done == [((*curves.arc(A, B, C), D), False)]


def test_the_key_and_the_drawer_say_how_the_next_piece_runs(window: Window, qtbot: QtBot) -> None:
    board, trace = window.board, window.trace
    window.area.open_drawer("Trace")
    qtbot.keyClick(board, Qt.Key.Key_B)
    assert board.way == "straight"  # nothing is drawn
    trace.draw_outline()
    board.cross.begin()
    assert "now straight pieces; B: arcs." in board._glass.hint
    qtbot.keyClick(board, Qt.Key.Key_Return)
    qtbot.keyClick(board, Qt.Key.Key_B)
    assert trace.way.value == "arc"
    assert "arcs: a point on the arc" in board._glass.hint
    for key in (Qt.Key.Key_Up, Qt.Key.Key_Right):
        for _ in range(3):
            qtbot.keyClick(board, key, Qt.KeyboardModifier.ControlModifier)
        qtbot.keyClick(board, Qt.Key.Key_Return)
    trace.way.choose("smooth")
    trace.way.activated.emit(trace.way.currentIndex())
    assert board.way == "smooth"
    assert board.hasFocus()
    qtbot.keyClick(board, Qt.Key.Key_Return)  # twice at one place: the end
    assert not board.is_drawing
    drawn = window.document.project.outlines[-1]
    assert len(drawn.points) > 10
    board.set_way("straight")
