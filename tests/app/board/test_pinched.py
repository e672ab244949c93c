"""Pinch places on the board: there while nothing is dragged, told anew after a drag, and switched off at will."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.board.items import layer_of
from app.look import dark
from kinematics import edits
from kinematics.pinching import pinches

if TYPE_CHECKING:
    from app.board import Board


def marked(board: Board) -> int:
    """How many signs stand on the board."""
    return sum(board.scene.shown(f"pinch:{place}") is not None for place in range(20))


def test_every_place_of_the_demo_is_marked(board: Board) -> None:
    assert marked(board) == len(pinches(board.document.analysis)) > 0


def test_none_is_shown_during_a_drag_and_new_ones_after_it(board: Board) -> None:
    document = board.document
    x, y = document.project.pivot("Q").at
    document.begin("Move pivot Q")
    document.preview(edits.move_pivot(document.project, "Q", (x + 3.0, y)))
    document.flush()
    assert marked(board) == 0
    document.commit()
    assert marked(board) == len(pinches(document.analysis)) > 0
    document.begin("Move pivot Q")
    document.preview(edits.move_pivot(document.project, "Q", (x + 5.0, y)))
    document.flush()
    document.cancel()
    assert marked(board) > 0


def test_they_can_be_switched_off_and_on(board: Board) -> None:
    board.pinched.is_wanted = False
    assert marked(board) == 0
    board.document.apply("Open less", edits.set_travel(board.document.project, wanted_deg=60.0))
    assert marked(board) == 0
    board.pinched.is_wanted = True
    assert marked(board) > 0


def test_they_outlive_another_sheet(board: Board) -> None:
    before = marked(board)
    board.set_look(dark())
    assert marked(board) == before


def test_no_leader_lies_over_a_pins_name(board: Board) -> None:
    """Where it is so crowded that a leader must cross a name, the name's scrap of paper covers it."""
    tied, name = (board.scene.shown(key) for key in ("pinch:0:label", "name of pivot:O1"))
    assert tied is not None
    assert name is not None
    assert layer_of(tied) < layer_of(name)
