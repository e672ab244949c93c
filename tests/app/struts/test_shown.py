"""A strut that was found in the travel strip, and zones on the board that ride on their links."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from app.board.board import Board
from app.document import Document
from app.lift_lanes import EFFORT
from app.look import light
from app.strip import TravelStrip
from app.struts.shown import ZONES, StrutShown
from kinematics.project import Zone
from kinematics.struts.fitting import held
from tests.kinematics.struts.making import hatch, hatch_problem, placement

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.lanes import LaneView


@pytest.fixture
def board(qtbot: QtBot) -> Board:
    made = Board(Document(hatch()), light())
    qtbot.addWidget(made)
    return made


@pytest.fixture
def strip(board: Board, qtbot: QtBot) -> TravelStrip:
    made = TravelStrip(board.document, light())
    made.resize(900, 400)
    qtbot.addWidget(made)
    return made


def effort(strip: TravelStrip) -> LaneView:
    return next(lane.view for lane in strip.lanes if lane.figures is not None and lane.figures.title == EFFORT)


def test_its_push_is_drawn_beside_the_one_there_is(board: Board, strip: TravelStrip) -> None:
    shown = StrutShown(board, strip)
    shown.low = -120.0
    lane = effort(strip)
    assert lane.curve_beside.isEmpty()
    found = held(hatch_problem(), placement())
    before = lane.spot(0.0, 0.0)[1]
    shown.show(found)
    assert lane.curve_beside.size() == len(found.openings)
    assert lane.curve_beside.at(0).y() == pytest.approx(lane.spot(0.0, found.efforts[0])[1])
    assert lane.curve_beside.at(lane.curve_beside.size() - 1).y() < lane.height()  # it reaches down to it
    assert lane.spot(0.0, 0.0)[1] < before
    board.document.analysed.emit(board.document.analysis)  # lanes are told anew
    assert not effort(strip).curve_beside.isEmpty()
    shown.show(None)
    assert effort(strip).curve_beside.isEmpty()
    assert lane.spot(0.0, 0.0)[1] == before


def test_no_other_lane_shows_it(board: Board, strip: TravelStrip) -> None:
    StrutShown(board, strip).show(held(hatch_problem(), placement()))
    others = [lane.view for lane in strip.lanes if lane.view is not effort(strip)]
    assert others
    assert all(view.curve_beside.isEmpty() for view in others)


def test_zones_ride_on_their_links_and_those_of_links_that_are_gone_are_not_shown(board: Board) -> None:
    shown = StrutShown(board)
    square = ((0.0, 0.0), (50.0, 0.0), (50.0, 50.0))
    shown.show_zones((Zone("hatch", square), Zone("nowhere", square)))
    shape = board.scene.shown(f"{ZONES}:0")
    assert shape is not None
    assert shape.link == "hatch"
    assert board.scene.shown(f"{ZONES}:1") is None
    shown.close()
    assert not board.scene.has(ZONES)
