"""Arrows at the pins: there while a check falls short, live in a drag, with a figure where it is asked for."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from app.document import Selection
from app.look import dark
from app.push_marks import push_length, push_words
from app.shapes import Label, Symbol
from kinematics import edits
from kinematics.pushing import Push
from tests.app.mouse import hover

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.board import Board


def arrow(board: Board, pin: str) -> Symbol | None:
    shape = board.scene.shown(f"push:{pin}")
    assert shape is None or isinstance(shape, Symbol)
    return shape


def figure(board: Board, pin: str) -> str:
    shape = board.scene.shown(f"push:{pin}:label")
    return shape.text if isinstance(shape, Label) else ""


def fall_short(board: Board, want: float = 30.0) -> None:
    document = board.document
    document.apply("Want more", edits.set_gap(document.project, document.project.gaps[0].between, want))
    assert not document.analysis.checks[0].ok


def test_none_while_all_checks_hold(board: Board) -> None:
    assert all(check.ok for check in board.document.analysis.checks)
    assert not board.scene.has("pushes")


def test_free_pins_have_them_and_locked_ones_not(board: Board) -> None:
    fall_short(board, 12.0)
    pins = [pin.id for pin in board.document.project.pivots if arrow(board, pin.id) is not None]
    assert len(pins) >= 5
    project = board.document.project
    locked = tuple(replace(pin, locked=pin.id == pins[0]) for pin in project.pivots)
    board.document.apply("Lock", replace(project, pivots=locked))
    assert arrow(board, pins[0]) is None
    assert arrow(board, pins[1]) is not None


def test_they_turn_while_a_pin_is_dragged(board: Board) -> None:
    fall_short(board, 12.0)
    document = board.document
    before = arrow(board, "P1")
    x, y = document.project.pivot("Q").at
    document.begin("Move pivot Q")
    document.preview(edits.move_pivot(document.project, "Q", (x + 15.0, y)))
    document.flush()
    during = arrow(board, "P1")
    assert before is not None
    assert during is not None
    assert during.turn_deg != before.turn_deg
    document.cancel()


def test_they_stand_at_the_pins_at_any_pose(board: Board) -> None:
    fall_short(board, 12.0)
    shut = arrow(board, "P1")
    board.document.set_opening(40.0)
    there = arrow(board, "P1")
    assert shut is not None
    assert there is not None
    assert shut.at[0] == board.document.project.pivot("P1").at
    assert there.at[0] == pytest.approx(
        board.document.pose.place(board.document.analysis.links.index("arm"), shut.at[0])
    )


def test_the_figure_is_told_of_what_is_selected_or_under_the_pointer(qtbot: QtBot, board: Board) -> None:
    fall_short(board, 12.0)
    assert figure(board, "P1") == ""
    board.document.select(Selection("pivot", "P1"))
    assert figure(board, "P1").endswith(" mm per mm")
    board.document.select(None)
    assert figure(board, "P1") == ""
    hover(qtbot, board.view, board.document.project.pivot("O1").at)
    assert figure(board, "O1").startswith("+")


def test_they_can_be_switched_off_and_outlive_another_sheet(board: Board) -> None:
    fall_short(board, 12.0)
    board.set_look(dark())
    found = arrow(board, "P1")
    assert found is not None
    assert found.ink == dark().ink
    board.pushed.is_wanted = False
    assert not board.scene.has("pushes")
    board.pushed.is_wanted = True
    assert board.scene.has("pushes")


@pytest.mark.parametrize(("rate", "px"), [(0.03, 18), (1.0, 42), (2.0, 84), (50.0, 102)])
def test_the_length_is_on_a_fixed_scale(rate: float, px: int) -> None:
    assert push_length(rate) == px


def test_the_figure_in_either_unit() -> None:
    push = Push("A", (1.0, 0.0), 0.8)
    assert push_words(push, False, "mm") == "+0.8 mm per mm"
    assert push_words(push, False, "in") == "+0.8 in per in"
    assert push_words(push, True, "mm") == "+0.8° per mm"
    assert push_words(push, True, "in") == "+1.3° per 1/16 in"
