"""Watching a corner: one click makes a mark and a limit, by mouse, key and menu; in the builder's words."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.board.corners import NO_CORNER, corner_near, first_limit
from app.board.menu import menu_at
from app.document import Document, Selection
from app.preferences import Preferences
from app.words import check_sentence
from kinematics.project import Limit, Mark
from tests.app import mouse
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.board import Board

FLANGE, CORNER = (-28.0, 267.0), (-28.0, 312.0)  # of the hatch's skin; a mark stands at the second


def test_one_click_watches_a_corner_as_one_step(qtbot: QtBot, board: Board) -> None:
    document = board.document
    qtbot.keyClick(board, Qt.Key.Key_W)
    QApplication.processEvents()
    mouse.click(qtbot, board.view, (FLANGE[0] + 3.0, FLANGE[1] - 2.0))
    assert document.project.marks[-1] == Mark("rear corner 2", "hatch", FLANGE)
    assert document.project.limits[-1] == Limit("rear corner 2", dx_at_least=-2.0)
    assert document.selection == Selection("mark", "rear corner 2")
    assert document.undo_label == "Watch rear corner"
    check = next(check for check in document.analysis.checks if check.subject == ("rear corner 2",))
    assert check_sentence(check, "mm").endswith("wants at most 2.0 mm back")
    document.undo()
    assert document.project == demo_six_bar
    assert not document.can_undo


def test_a_mark_that_stands_there_is_taken(qtbot: QtBot, board: Board) -> None:
    qtbot.keyClick(board, Qt.Key.Key_W)
    mouse.click(qtbot, board.view, CORNER)
    assert board.document.project.marks == demo_six_bar.marks
    assert board.document.project.limits == (replace(demo_six_bar.limits[0], dx_at_least=-2.0),)


def test_a_click_that_meets_no_corner_says_so_and_goes_on(qtbot: QtBot, board: Board, notices: list[str]) -> None:
    qtbot.keyClick(board, Qt.Key.Key_W)
    mouse.click(qtbot, board.view, (200.0, 100.0))
    assert notices == [NO_CORNER]
    assert board.document.project == demo_six_bar
    mouse.click(qtbot, board.view, FLANGE)
    assert len(board.document.project.marks) == 2


def test_a_selected_point_is_watched_by_enter(qtbot: QtBot, board: Board) -> None:
    board.document.select(Selection("outline", "hatch skin", 0))
    qtbot.keyClick(board, Qt.Key.Key_W)
    qtbot.keyClick(board, Qt.Key.Key_Return)
    assert board.document.project.marks[-1].at == FLANGE


def test_how_far_is_what_preferences_say(qtbot: QtBot, board: Board) -> None:
    board.document.set_preferences(Preferences(corner=7.5), system_comma=False)
    qtbot.keyClick(board, Qt.Key.Key_W)
    mouse.click(qtbot, board.view, FLANGE)
    assert board.document.project.limits[-1].dx_at_least == -7.5


def test_the_menu_of_the_panels_outline_offers_it(board: Board) -> None:
    for at, offered in ((FLANGE, True), ((100.0, 308.94), True), ((6.0, 0.0), False)):
        words = [action.text() for action in menu_at(board, at).actions()]
        assert ("Watch this corner" in words) is offered
    menu = menu_at(board, FLANGE)
    next(action for action in menu.actions() if action.text() == "Watch this corner").trigger()
    assert board.document.project.marks[-1].at == FLANGE


def test_at_an_open_pose_the_corner_that_is_seen_is_meant(board: Board) -> None:
    document = board.document
    document.set_opening(40.0)
    at = document.pose.place(document.analysis.links.index("hatch"), FLANGE)
    assert corner_near(document, at, 4.0) == FLANGE


# ------------------------------------------------------------------------------------------------------- plain figures
@pytest.mark.parametrize(
    ("at", "limit"),
    [
        (FLANGE, {"dx_at_least": -2.0}),
        ((1190.0, 262.0), {"dy_at_least": -2.0}),
        ((600.0, 297.0), {"dy_at_least": -2.0}),
    ],
)
def test_a_rear_corner_is_limited_backwards_and_another_one_downwards(
    at: tuple[float, float], limit: dict[str, float]
) -> None:
    assert first_limit(demo_six_bar, at, 2.0) == limit


def test_the_nearest_place_of_the_panels_outline(qapp: object) -> None:
    document = Document(demo_six_bar)
    assert corner_near(document, (-25.0, 310.0), 8.0) == CORNER
    assert corner_near(document, (-40.0, 290.0), 8.0) is None
    on_edge = corner_near(document, (-25.0, 290.0), 8.0)
    assert on_edge == pytest.approx((-28.0, 290.0))
    assert corner_near(document, (6.0, 0.0), 8.0) is None  # the body's outline is no panel
    document.apply("Bare", replace(demo_six_bar, outlines=(), gaps=()))
    assert corner_near(document, (-25.0, 310.0), 8.0) is None
