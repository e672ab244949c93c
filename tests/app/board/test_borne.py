"""The forces on the pins on the board: of what is selected, of all where asked for, live in a drag and on any pose."""

from __future__ import annotations

from math import atan2, degrees
from typing import TYPE_CHECKING

import pytest

from app.board import Board
from app.document import Document, Selection
from app.look import dark, light
from app.shapes import Label, Symbol
from kinematics import edits
from kinematics.carrying import carried_at
from tests import specimens
from tests.app.mouse import click, move, press, release
from tests.loaded import hatch

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot


@pytest.fixture
def lifting(qtbot: QtBot) -> Iterator[Board]:
    board = Board(Document(hatch()), light())
    board.resize(1000, 700)
    with qtbot.waitExposed(board):
        board.show()
    board.fit_pins()
    board.document.set_opening(10.0)
    yield board
    board.close()
    board.deleteLater()


def arrow(board: Board, pin: str, link: str) -> Symbol | None:
    shape = board.scene.shown(f"force:{pin}|{link}")
    assert shape is None or isinstance(shape, Symbol)
    return shape


def figure(board: Board, pin: str, link: str) -> str:
    shape = board.scene.shown(f"force:{pin}|{link}:label")
    return shape.text if isinstance(shape, Label) else ""


def length(shape: Symbol | None) -> int:
    assert shape is not None
    return int(shape.glyph.split()[-1])


def test_a_click_on_a_pin_shows_what_it_puts_on_its_links(lifting: Board, qtbot: QtBot) -> None:
    assert not lifting.scene.has("forces")
    document = lifting.document
    place = document.pose.place(document.analysis.links.index("arm"), document.project.pivot("X").at)
    click(qtbot, lifting.view, place)
    now = carried_at(document.analysis, 10.0)
    for link in ("arm", "cross link"):
        force, shape = now.forces["X", link], arrow(lifting, "X", link)
        assert shape is not None
        assert shape.at[0] == pytest.approx(place)
        assert shape.turn_deg == pytest.approx(degrees(atan2(force.imag, force.real)))
        assert shape.ink == light().selection
        assert figure(lifting, "X", link) == f"{abs(force):.0f} N on {link}"
    assert arrow(lifting, "Q", "lift link") is None
    document.select(None)
    assert not lifting.scene.has("forces")


def test_lengths_are_in_proportion(lifting: Board) -> None:
    lifting.borne.is_wanted = True
    now = carried_at(lifting.document.analysis, 10.0)
    scale = abs(now.forces["X", "arm"]) / length(arrow(lifting, "X", "arm"))
    for (pin, link), force in now.forces.items():
        assert length(arrow(lifting, pin, link)) == pytest.approx(abs(force) / scale, abs=2.5)  # steps of 2 px
    lifting.document.set_opening(0.0)
    assert length(arrow(lifting, "X", "arm")) == pytest.approx(599.0 / scale, abs=6.0)


def test_of_all_pins_each_has_one_figure(lifting: Board) -> None:
    lifting.borne.is_wanted = True
    told = [
        [link for link in pivot.joins if figure(lifting, pivot.id, link)] for pivot in lifting.document.project.pivots
    ]
    assert all(len(links) == 1 for links in told)
    lifting.document.select(Selection("pivot", "Q"))
    assert figure(lifting, "Q", "cross link").endswith(" N on cross link")
    assert figure(lifting, "Q", "lift link").endswith(" N on lift link")
    lifting.borne.is_wanted = False
    assert arrow(lifting, "X", "arm") is None
    assert arrow(lifting, "Q", "lift link") is not None


def test_they_follow_a_drag_and_their_scale_stands_still(lifting: Board, qtbot: QtBot) -> None:
    document = lifting.document
    document.set_opening(0.0)
    start = document.project.pivot("Q").at
    press(qtbot, lifting.view, start)
    before = lifting.borne._scale
    move(qtbot, lifting.view, start, (start[0] + 14.0, start[1] - 9.0))
    assert document.is_dragging
    assert lifting.borne._scale == before
    shape = arrow(lifting, "Q", "lift link")
    force = carried_at(document.analysis, 0.0).forces["Q", "lift link"]
    assert shape is not None
    assert shape.at[0] == pytest.approx(document.analysis.project.pivot("Q").at)
    assert shape.turn_deg == pytest.approx(degrees(atan2(force.imag, force.real)))
    assert length(shape) == pytest.approx(abs(force) / before, abs=2.0)
    release(qtbot, lifting.view, (start[0] + 14.0, start[1] - 9.0))


def test_in_inches_and_on_the_dark_sheet(lifting: Board) -> None:
    document = lifting.document
    document.select(Selection("pivot", "X"))
    document.apply("Inches", edits.set_units(document.project, "in"))
    assert figure(lifting, "X", "arm").endswith(" lbf on arm")
    lifting.set_look(dark())
    shape = arrow(lifting, "X", "arm")
    assert shape is not None
    assert shape.ink == dark().selection


def test_nothing_where_nothing_is_told(qtbot: QtBot) -> None:
    for project in (specimens.demo_six_bar, hatch(handle=None), specimens.half_drawn):
        board = Board(Document(project), light())
        qtbot.addWidget(board)
        board.borne.is_wanted = True
        if project.pivots:
            board.document.select(Selection("pivot", project.pivots[0].id))
        assert not board.scene.has("forces")
