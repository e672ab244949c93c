"""Masses, the handle, struts and springs under a real mouse and real keys: each gesture one step, told by name."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.board.hits import Hit
from app.board.menu import menu_at
from app.document import Selection
from app.entry.parts_model import Row, moved, rows_of
from app.removing import remove_all
from kinematics import loading
from kinematics.parts import Attachment, Mass
from tests.app import mouse
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.board import Board
    from kinematics.project import Point, Project

FIXED, PANEL = demo_six_bar.fixed.id, demo_six_bar.panel.id
START, END = (250.0, -60.0), (330.0, 180.0)


def loaded() -> Project:
    ends = Attachment(FIXED, START), Attachment(PANEL, END)
    project = loading.put_handle(replace(demo_six_bar, loads=None), PANEL, (1100.0, 230.0))
    project = loading.add_mass(
        loading.add_mass(project, Mass(PANEL, 8.0, (600.0, 220.0))), Mass(FIXED, 2.0, (60.0, 60.0))
    )
    return loading.add_device(project, loading.usual_device("strut", "gas strut", *ends, 200.0, 700.0))


LOADED = loaded()
SPOTS = [Selection("mass", f"on {PANEL}"), Selection("handle", loading.HANDLE), Selection("device", "strut", 1)]


@pytest.fixture
def board_of(board: Board) -> Board:
    """A board with loads on it."""
    board.document.new(LOADED)
    QApplication.processEvents()
    board.fit()
    return board


def at(board: Board, selection: Selection) -> Point:
    spot = loading.spot_of(board.document.project, selection.kind, selection.id, selection.part)
    return board.placements[spot.on].carry(spot.at)


def one_step(board: Board, label: str) -> None:
    assert board.document.undo_label == label
    board.document.undo()
    assert board.document.project == LOADED
    assert not board.document.can_undo


@pytest.mark.parametrize("deg", [0.0, 30.0])
@pytest.mark.parametrize("selection", SPOTS, ids=lambda each: each.kind)
def test_a_drag_moves_it_on_its_link_as_one_step(
    qtbot: QtBot, board_of: Board, selection: Selection, deg: float
) -> None:
    board_of.document.set_opening(deg)
    start = at(board_of, selection)
    to = start[0] + 30.0 / board_of.view.camera.scale, start[1] + 20.0 / board_of.view.camera.scale
    mouse.drag(qtbot, board_of.view, start, to)
    assert at(board_of, selection) == pytest.approx(to, abs=1.5 / board_of.view.camera.scale)
    assert board_of.document.selection == selection
    names = {"mass": f"Move mass on {PANEL}", "handle": "Move handle", "device": "Move second end of strut"}
    one_step(board_of, names[selection.kind])


def test_esc_in_a_drag_leaves_no_step(qtbot: QtBot, board_of: Board) -> None:
    start = at(board_of, SPOTS[2])
    mouse.press(qtbot, board_of.view, start)
    mouse.move(qtbot, board_of.view, start, (start[0] + 60.0, start[1]))
    qtbot.keyClick(board_of, Qt.Key.Key_Escape)
    assert board_of.document.project is LOADED
    assert not board_of.document.can_undo


def test_an_end_snaps_onto_a_pin(qtbot: QtBot, board_of: Board) -> None:
    board_of.set_snaps(True)
    pin = LOADED.pivot("Q").at
    near = pin[0] + 3.0 / board_of.view.camera.scale, pin[1] + 2.0 / board_of.view.camera.scale
    mouse.drag(qtbot, board_of.view, at(board_of, SPOTS[2]), near)
    assert loading.device_named(board_of.document.project, "strut").to_end.at == pytest.approx(pin, abs=1e-9)


@pytest.mark.parametrize("selection", SPOTS, ids=lambda each: each.kind)
def test_arrows_nudge_and_delete_removes(qtbot: QtBot, board_of: Board, selection: Selection) -> None:
    before = at(board_of, selection)
    board_of.document.select(selection)
    qtbot.keyClick(board_of, Qt.Key.Key_Right)
    assert at(board_of, selection) == pytest.approx((before[0] + 1.0, before[1]), abs=1e-9)
    board_of.document.undo()
    board_of.document.select(selection)
    assert remove_all(board_of.document, [selection])
    assert not loading.has_load(board_of.document.project, selection.kind, selection.id)
    assert board_of.document.selection is None


def test_del_on_an_end_takes_the_whole_device(qtbot: QtBot, board_of: Board) -> None:
    board_of.document.select(SPOTS[2])
    qtbot.keyClick(board_of, Qt.Key.Key_Delete)
    assert not loading.has_load(board_of.document.project, "device", "strut")
    one_step(board_of, "Remove device strut")


def test_its_body_is_hit_and_a_click_selects_it(qtbot: QtBot, board_of: Board) -> None:
    middle = (START[0] + END[0]) / 2, (START[1] + END[1]) / 2
    assert board_of.hit_at(middle) == Hit("device", "strut")
    mouse.click(qtbot, board_of.view, middle)
    assert board_of.document.selection == Selection("device", "strut")
    words = [action.text() for action in menu_at(board_of, middle).actions()]
    assert "Turn strut round" in words
    assert "Remove device strut\tDel" in words


def test_the_ends_of_the_selected_device_lie_over_pins(board_of: Board) -> None:
    pin = LOADED.pivot("Q")
    board_of.document.new(loading.move_end(LOADED, "strut", 1, pin.at))
    QApplication.processEvents()
    assert board_of.hit_at(pin.at) == Hit("pivot", "Q")
    board_of.document.select(Selection("device", "strut"))
    assert board_of.hit_at(pin.at) == Hit("end", "strut", 1)


def test_a_crowd_of_loads_and_pins_moves_together(board_of: Board) -> None:
    from app.board import crowd

    document = board_of.document
    members = [*SPOTS, Selection("pivot", "Q")]
    document.select_all(members)
    document.begin("Move")
    crowd.nudge(document, members, (2.0, -1.0))
    document.commit()
    for each in SPOTS:
        was = loading.spot_of(LOADED, each.kind, each.id, each.part).at
        assert at(board_of, each) == pytest.approx((was[0] + 2.0, was[1] - 1.0), abs=1e-9)
    assert crowd.count_words([SPOTS[0], SPOTS[0]]) == "2 masses"
    assert crowd.count_words([SPOTS[2], SPOTS[2]]) == "2 ends"
    assert remove_all(document, members)
    assert document.project.loads is not None
    assert (document.project.loads.devices, document.project.loads.handle) == ((), None)


def test_a_frame_gathers_them(board_of: Board) -> None:
    from app.board.crowd import framed

    found = framed(board_of.document, (-2000.0, -2000.0), (2000.0, 2000.0))
    assert {*SPOTS, Selection("device", "strut", 0)} < set(found)


# --------------------------------------------------------------------------------------------------------------- tools
def use(qtbot: QtBot, board: Board, letter: str, *places: Point) -> None:
    qtbot.keyClick(board, Qt.Key[f"Key_{letter}"])
    QApplication.processEvents()
    for place in places:
        mouse.click(qtbot, board.view, place)


SKIN = LOADED.outline("hatch skin").points[-1]


def test_a_strut_is_put_with_two_clicks_and_fits_its_place(qtbot: QtBot, board_of: Board) -> None:
    use(qtbot, board_of, "U", (300.0, 20.0), SKIN)
    made = loading.device_named(board_of.document.project, "strut 2")
    assert (made.kind, made.from_end.on, made.to_end.on) == ("gas strut", FIXED, PANEL)
    assert board_of.document.selection == Selection("device", "strut 2")
    assert board_of.document.analysis.opening.ends == "wanted opening", "it doesn't stop the sweep"
    one_step(board_of, "Add strut 2")


def test_a_second_end_on_paper_asks_for_its_link(qtbot: QtBot, board_of: Board) -> None:
    use(qtbot, board_of, "I", (300.0, 20.0), (500.0, 120.0))
    assert not loading.has_load(board_of.document.project, "device", "spring")
    mouse.click(qtbot, board_of.view, SKIN)
    made = loading.device_named(board_of.document.project, "spring")
    assert (made.kind, made.to_end.on) == ("tension spring", PANEL)
    assert made.to_end.at == pytest.approx((500.0, 120.0), abs=2.0 / board_of.view.camera.scale)


def test_a_mass_and_the_handle_are_put_with_one_click(qtbot: QtBot, board_of: Board) -> None:
    told: list[str] = []
    board_of.document.noticed.connect(told.append)
    use(qtbot, board_of, "M", SKIN)
    assert board_of.document.selection == Selection("mass", f"2 on {PANEL}")
    assert told == ["Type at the right how heavy it is."]
    use(qtbot, board_of, "K", SKIN)
    assert loading.handle_of(board_of.document.project).at == pytest.approx(SKIN, abs=1.5 / board_of.view.camera.scale)
    assert board_of.document.undo_label == "Put handle"


def test_the_keyboard_puts_a_strut_too(qtbot: QtBot, board_of: Board) -> None:
    board_of.document.select(Selection("pivot", "Q"))
    use(qtbot, board_of, "U")
    assert board_of.cross.at is not None
    for place in ((300.0, 20.0), SKIN):
        board_of.cross._go(place)
        qtbot.keyClick(board_of, Qt.Key.Key_Return)
    assert loading.has_load(board_of.document.project, "device", "strut 2")
    places = board_of.cross._places()
    assert at(board_of, SPOTS[2]) in places


# ---------------------------------------------------------------------------------------------------- the list of parts
def test_the_list_holds_them_with_their_ends() -> None:
    rows = rows_of(LOADED, frozenset({"strut"}))
    assert Row("mass", f"on {PANEL}") in rows
    assert Row("handle", "handle") in rows
    assert rows[-3:] == (Row("device", "strut"), Row("device", "strut", 0), Row("device", "strut", 1))
    changed = moved(LOADED, Row("device", "strut", 1), (1.0, 2.0))
    assert loading.device_named(changed, "strut").to_end.at == (1.0, 2.0)
