"""The board's tools under a real mouse and real keys: each action is what it says, and one step."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.board.hits import pivot_place
from app.board.toolbox import EDGE, GAP, HAND, LEAST_SIDE, SIDE
from app.board.tools import TOOLS
from app.document import Selection
from app.shapes import placed
from kinematics import edits
from tests.app import mouse
from tests.specimens import ALL, demo_six_bar

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.board import Board
    from kinematics.project import Point, Project

PAPER, PAPER_2 = (290.0, 130.0), (230.0, 90.0)


def pin(board: Board, name: str) -> Point:
    document = board.document
    return pivot_place(document.project, placed(document.analysis, document.pose), name)


def key(qtbot: QtBot, board: Board, letter: str) -> None:
    qtbot.keyClick(board, Qt.Key[f"Key_{letter}"])
    QApplication.processEvents()


def use(qtbot: QtBot, board: Board, letter: str, *places: Point) -> None:
    """Take a tool up and click at places."""
    key(qtbot, board, letter)
    for place in places:
        mouse.click(qtbot, board.view, place)


def joins(project: Project) -> list[set[str]]:
    return [set(each.joins) for each in project.pivots]


def one_step(board: Board, label: str, before: Project = demo_six_bar) -> None:
    """Exactly one step leads back to where it began."""
    document = board.document
    assert document.undo_label == label
    after = document.project
    document.undo()
    assert document.project == before
    assert not document.can_undo
    document.redo()
    assert document.project == after


def skin_at(board: Board, x: float) -> Point:
    """A point of the hatch's skin above or below x."""
    points = board.document.project.outline("hatch skin").points
    for (ax, ay), (bx, by) in pairwise(points):
        if ax != bx and min(ax, bx) <= x <= max(ax, bx):
            return x, ay + (x - ax) / (bx - ax) * (by - ay)
    raise AssertionError(x)


# ------------------------------------------------------------------------------------------------ the toolbox itself
def test_every_tool_has_a_key_a_name_a_tip_and_a_button(board: Board) -> None:
    assert len({tool.key for tool in TOOLS}) == len(TOOLS)
    for tool in TOOLS:
        button = board.toolbox.buttons[tool.name]
        assert button.accessibleName() == f"Tool {tool.name}"
        assert button.toolTip().endswith(f"Key: {tool.key}.")
        assert not button.icon().isNull()


@pytest.mark.parametrize("tool", TOOLS, ids=lambda tool: tool.name)
def test_a_tool_is_taken_up_by_key_or_button_and_left_by_esc(qtbot: QtBot, board: Board, tool: object) -> None:
    key(qtbot, board, tool.key)  # type: ignore[attr-defined]
    name = tool.name  # type: ignore[attr-defined]
    assert board.toolbox.buttons[name].isChecked()
    assert board._glass.hint.startswith(f"{name}: ")
    assert board.view.viewport().cursor().shape() == Qt.CursorShape.CrossCursor
    key(qtbot, board, "Escape")
    assert board.toolbox.buttons[HAND].isChecked()
    assert board._glass.hint == ""
    qtbot.mouseClick(board.toolbox.buttons[name], mouse.LEFT)
    assert board._glass.hint.startswith(f"{name}: ")
    assert board.hasFocus()
    qtbot.mouseClick(board.toolbox.buttons[HAND], mouse.LEFT)
    assert board._glass.hint == ""
    assert not board.document.can_undo


def test_a_low_board_has_its_tools_in_more_columns(qtbot: QtBot, board: Board) -> None:
    assert {button.x() for button in board.toolbox.buttons.values()} == {board.toolbox.buttons[HAND].x()}
    board.resize(800, 240)
    QApplication.processEvents()
    assert len({button.x() for button in board.toolbox.buttons.values()}) > 1
    for button in board.toolbox.buttons.values():
        assert board.toolbox.rect().contains(button.geometry())


def test_smaller_tools_stay_in_one_column_before_there_is_a_second(board: Board) -> None:
    buttons = board.toolbox.buttons.values()
    for side in (LEAST_SIDE, SIDE):
        board.resize(800, len(buttons) * (side + GAP) - GAP + 2 * EDGE)
        QApplication.processEvents()
        assert len({button.x() for button in buttons}) == 1
        assert {button.width() for button in buttons} == {side}
        assert all(board.toolbox.rect().contains(button.geometry()) for button in buttons)


def test_building_brings_the_panel_shut_but_measuring_does_not(qtbot: QtBot, board: Board) -> None:
    board.document.set_opening(30.0)
    key(qtbot, board, "D")
    assert board.document.pose.deg == pytest.approx(30.0)
    key(qtbot, board, "N")
    assert board.document.pose.deg == 0.0


def test_letters_take_up_no_tool_while_something_is_dragged(qtbot: QtBot, board: Board) -> None:
    start = pin(board, "X")
    mouse.press(qtbot, board.view, start)
    mouse.move(qtbot, board.view, start, (start[0] + 20.0, start[1]))
    key(qtbot, board, "N")
    assert board.document.is_dragging
    assert board.toolbox.buttons[HAND].isChecked()
    mouse.release(qtbot, board.view, (start[0] + 20.0, start[1]))


def test_another_project_puts_the_tool_away(qtbot: QtBot, board: Board) -> None:
    use(qtbot, board, "N", PAPER)
    board.document.new(ALL["single_pivot"])
    assert board.toolbox.buttons[HAND].isChecked()
    assert not board.scene.has("sketch")


def test_a_click_half_way_and_esc_leave_nothing(qtbot: QtBot, board: Board) -> None:
    use(qtbot, board, "N", pin(board, "Q"))
    mouse.hover(qtbot, board.view, PAPER)
    assert board.scene.has("sketch")
    key(qtbot, board, "Escape")
    assert not board.scene.has("sketch")
    assert board.document.project is demo_six_bar


# ------------------------------------------------------------------------------------------------ linking
def test_a_link_from_a_pin_to_the_panel(qtbot: QtBot, board: Board) -> None:
    end = skin_at(board, 250.0)
    use(qtbot, board, "N", pin(board, "B"), end)
    project = board.document.project
    assert board.document.selection == Selection("link", "link")
    assert project.link("link").width == 28.0  # as wide as the one made last
    assert project.pivot("B").joins == (*demo_six_bar.pivot("B").joins, "link")
    assert project.pivots[-1].joins == ("hatch", "link")
    assert math.dist(project.pivots[-1].at, end) < 2.0 / board.view.camera.scale
    one_step(board, "Make link")


def test_a_link_between_a_link_and_the_body_by_dragging(qtbot: QtBot, board: Board) -> None:
    body = (6.0, 150.0)  # on the sill
    key(qtbot, board, "N")
    mouse.drag(qtbot, board.view, (190.0, 170.0), body)
    project = board.document.project
    assert joins(project)[-2:] == [{"cross link", "link"}, {"bulkhead", "link"}]
    one_step(board, "Make link")


def test_on_bare_paper_ends_stay_free_and_are_drawn(qtbot: QtBot, board: Board) -> None:
    use(qtbot, board, "N", pin(board, "Q"), PAPER)
    assert board.document.project.marks[-1].on == "link"
    shape = board.scene.shown("to come:link")
    assert shape is not None
    one_step(board, "Make link")
    middle = (pin(board, "Q")[0] + PAPER[0]) / 2, (pin(board, "Q")[1] + PAPER[1]) / 2
    key(qtbot, board, "Escape")
    mouse.click(qtbot, board.view, middle)
    assert board.document.selection == Selection("link", "link")


def test_one_place_twice_is_no_link_and_is_said(qtbot: QtBot, board: Board, notices: list[str]) -> None:
    use(qtbot, board, "N", pin(board, "Q"), pin(board, "Q"))
    assert len(notices) == 1
    assert board.document.project is demo_six_bar
    assert board._glass.hint.startswith("Link: click its first end")


def test_enter_picks_what_is_selected(qtbot: QtBot, board: Board) -> None:
    """By keys alone: the pins that Page Down comes to."""
    key(qtbot, board, "N")
    for _ in range(2):
        key(qtbot, board, "PageDown")
        key(qtbot, board, "Return")
    first, second = demo_six_bar.pivots[:2]
    assert board.document.project.pivot(first.id).joins == (*first.joins, "link")
    assert board.document.project.pivot(second.id).joins == (*second.joins, "link")


def test_a_hinge_is_built_from_nothing_by_clicks(qtbot: QtBot, board: Board) -> None:
    """Outlines of panel and body, two links between them: it moves."""
    ends = tuple(link for link in demo_six_bar.links if link.kind != "link")
    document = board.document
    document.new(replace(demo_six_bar, links=ends, pivots=(), limits=(), gaps=(), marks=()))
    board.fit()
    use(qtbot, board, "N", (6.0, 100.0), skin_at(board, 250.0), (6.0, 170.0), skin_at(board, 80.0))
    assert joins(document.project) == [
        {"bulkhead", "link"},
        {"hatch", "link"},
        {"bulkhead", "link 2"},
        {"hatch", "link 2"},
    ]
    assert (document.analysis.mobility, document.analysis.state) == (1, "moves")


# ------------------------------------------------------------------------------------------------ pivots
def test_where_two_links_lie_a_pin_joins_them_at_one_click(qtbot: QtBot, board: Board) -> None:
    place = (131.5, 221.5)
    assert sorted(board.pointer.desk.bodies_at(place)) == ["arm", "cross link"]
    use(qtbot, board, "V", place)
    assert joins(board.document.project)[-1] == {"arm", "cross link"}
    one_step(board, "Add pivot A")


def test_a_pin_is_put_through_links_that_are_clicked(qtbot: QtBot, board: Board) -> None:
    use(qtbot, board, "V", PAPER, (190.0, 170.0), skin_at(board, 250.0))
    made = board.document.project.pivots[-1]
    assert set(made.joins) == {"cross link", "hatch"}
    assert math.dist(made.at, PAPER) < 2.0 / board.view.camera.scale
    one_step(board, "Add pivot A")


def test_a_pin_that_is_there_takes_one_link_more(qtbot: QtBot, board: Board) -> None:
    use(qtbot, board, "V", pin(board, "B"), skin_at(board, 250.0))
    assert board.document.project.pivot("B").joins == (*demo_six_bar.pivot("B").joins, "hatch")
    one_step(board, "Put hatch on B")


def test_a_free_end_is_pinned_and_its_mark_goes(qtbot: QtBot, board: Board) -> None:
    use(qtbot, board, "N", pin(board, "B"), PAPER)
    use(qtbot, board, "V", PAPER, skin_at(board, 250.0))
    project = board.document.project
    assert set(project.pivots[-1].joins) == {"link", "hatch"}
    assert [mark.id for mark in project.marks] == ["rear corner"]
    assert board.scene.shown("to come:link") is None


def test_where_no_link_is_it_asks_again(qtbot: QtBot, board: Board, notices: list[str]) -> None:
    use(qtbot, board, "V", PAPER, PAPER_2)
    assert len(notices) == 1
    assert board._glass.hint.startswith("Pivot: click the first link")
    assert board.document.project is demo_six_bar


def test_a_third_pin(qtbot: QtBot, board: Board) -> None:
    use(qtbot, board, "T", (60.0, 130.0), skin_at(board, 250.0))
    assert joins(board.document.project)[-1] == {"short link", "hatch"}
    assert len(board.document.project.pivots_on("short link")) == 3
    one_step(board, "Give short link a pin")


def test_a_third_pin_on_paper_is_a_free_end(qtbot: QtBot, board: Board) -> None:
    use(qtbot, board, "T", (60.0, 130.0), PAPER)
    mark = board.document.project.marks[-1]
    assert (mark.on, mark.id) == ("short link", "end of short link")
    shape = board.scene.shown("to come:short link")
    assert shape is not None
    assert shape.closed  # type: ignore[union-attr]


# ------------------------------------------------------------------------------------------------ splitting, joining
def test_a_link_is_split(qtbot: QtBot, board: Board) -> None:
    use(qtbot, board, "S", (52.0, 140.0))
    project = board.document.project
    new = project.pivots[-1]
    assert set(new.joins) == {"short link", "link"}
    o2, b = project.pivot("O2").at, project.pivot("B").at
    assert abs((b[0] - o2[0]) * (new.at[1] - o2[1]) - (b[1] - o2[1]) * (new.at[0] - o2[0])) < 1e-6  # in line with them
    one_step(board, "Split short link")


def test_what_can_not_be_split_is_said(qtbot: QtBot, board: Board, notices: list[str]) -> None:
    use(qtbot, board, "S", PAPER, skin_at(board, 250.0))
    assert len(notices) == 2
    assert "panel" in notices[1]
    assert board.document.project is demo_six_bar


def test_pins_are_joined_by_two_clicks(qtbot: QtBot, board: Board, notices: list[str]) -> None:
    use(qtbot, board, "J", PAPER)
    assert len(notices) == 1
    mouse.click(qtbot, board.view, pin(board, "O1"))
    mouse.click(qtbot, board.view, pin(board, "O2"))
    assert set(board.document.project.pivot("O1").joins) == {"bulkhead", "arm", "short link"}
    one_step(board, "Join pivots O1 and O2")


def test_a_locked_pin_does_not_come_to_another(qtbot: QtBot, board: Board, notices: list[str]) -> None:
    board.document.apply("Lock pivot O2", edits.lock_pivot(board.document.project, "O2"))
    use(qtbot, board, "J", pin(board, "O1"), pin(board, "O2"))
    assert notices == ["Pivot O2 is locked, so it stays. Press L to free it."]
    assert board.document.undo_label == "Lock pivot O2"


def test_what_was_picked_may_be_undone_meanwhile(qtbot: QtBot, board: Board, notices: list[str]) -> None:
    """A link, then its pin is picked for another one, then undo takes both: a sentence, and the tool goes on."""
    document = board.document
    for letter in ("N", "V", "D", "C"):
        use(qtbot, board, "N", pin(board, "Q"), skin_at(board, 250.0))
        made = document.project.pivots[-1].at
        use(qtbot, board, letter, made)
        document.undo()
        mouse.hover(qtbot, board.view, (60.0, 130.0))
        before = len(notices)
        mouse.click(qtbot, board.view, (60.0, 130.0))
        mouse.click(qtbot, board.view, skin_at(board, 200.0))
        assert len(notices) > before
        assert document.project == demo_six_bar
        key(qtbot, board, "Escape")


def test_a_double_click_is_one_pick(qtbot: QtBot, board: Board, notices: list[str]) -> None:
    key(qtbot, board, "N")
    mouse.double_click(qtbot, board.view, pin(board, "B"))
    assert notices == []
    mouse.double_click(qtbot, board.view, skin_at(board, 250.0))
    one_step(board, "Make link")


def test_pins_are_joined_by_dropping_one_with_the_key_held(qtbot: QtBot, board: Board) -> None:
    start, end = pin(board, "O2"), pin(board, "O1")
    mouse.press(qtbot, board.view, start)
    mouse.move(qtbot, board.view, start, end)
    qtbot.keyPress(board, Qt.Key.Key_J)
    assert board._glass.hint == "Let go to join O2 with O1."
    mouse.release(qtbot, board.view, end)
    qtbot.keyRelease(board, Qt.Key.Key_J)
    assert set(board.document.project.pivot("O1").joins) == {"bulkhead", "arm", "short link"}
    one_step(board, "Join pivots O1 and O2")


def test_a_pin_of_two_links_is_parted_at_one_click(qtbot: QtBot, board: Board) -> None:
    use(qtbot, board, "X", pin(board, "Q"))
    assert [mark.on for mark in board.document.project.marks[1:]] == ["lift link", "cross link"]
    one_step(board, "Part pivot Q")


def test_of_three_links_the_clicked_one_comes_off(qtbot: QtBot, board: Board, notices: list[str]) -> None:
    use(qtbot, board, "J", pin(board, "O1"), pin(board, "O2"))
    use(qtbot, board, "X", pin(board, "O1"), (190.0, 170.0))  # the cross link isn't on it
    assert "cross link" in notices[-1]
    mouse.click(qtbot, board.view, (60.0, 262.0))
    assert board.document.project.pivot("O1").joins == ("bulkhead", "short link")
    assert board.document.undo_label == "Take arm off O1"


def test_the_menu_joins_two_selected_pins_and_parts_one(qtbot: QtBot, board: Board) -> None:
    from app.board.menu import menu_at

    document = board.document
    document.select_all((Selection("pivot", "O1"), Selection("pivot", "O2")))
    menu = menu_at(board, pin(board, "O2"))
    assert [action.text().split("\t")[0] for action in menu.actions()][:2] == ["Join O2 with O1", "Remove 2 pivots"]
    menu.actions()[0].trigger()
    assert set(document.project.pivot("O1").joins) == {"bulkhead", "arm", "short link"}
    menu = menu_at(board, pin(board, "O1"))
    off = next(action.menu() for action in menu.actions() if action.text() == "Take a link off O1")
    assert [action.text() for action in off.actions()] == ["bulkhead", "arm", "short link"]  # type: ignore[union-attr]
    off.actions()[1].trigger()  # type: ignore[union-attr]
    assert document.project.pivot("O1").joins == ("bulkhead", "short link")


# ------------------------------------------------------------------------------------------------ several things
def test_shift_and_a_drag_on_paper_gather(qtbot: QtBot, board: Board) -> None:
    before = board.view.camera.middle
    mouse.drag(qtbot, board.view, (280.0, 190.0), (100.0, 240.0), keys=mouse.Keys.ShiftModifier)
    assert set(board.document.selections) == {Selection("pivot", "X"), Selection("pivot", "Q")}
    assert board.view.camera.middle == before
    assert board.scene.shown("ring:pivot") is not None
    assert board.scene.shown("ring:pivot:0") is not None
    mouse.drag(qtbot, board.view, PAPER, (PAPER[0] - 5.0, PAPER[1]))  # without Shift the sheet is pushed, as ever
    assert board.view.camera.middle != before


@pytest.mark.parametrize("leaves", [True, False])
def test_the_tool_gathers_and_together_they_move(qtbot: QtBot, board: Board, leaves: bool) -> None:
    """By the hand, and by the very tool that gathered them."""
    key(qtbot, board, "G")
    mouse.drag(qtbot, board.view, (280.0, 190.0), (100.0, 240.0))
    if leaves:
        key(qtbot, board, "Escape")
    start = pin(board, "X")
    end = start[0] + 30.0, start[1] - 20.0
    mouse.drag(qtbot, board.view, start, end)
    project = board.document.project
    shifts = [
        (
            project.pivot(name).at[0] - demo_six_bar.pivot(name).at[0],
            project.pivot(name).at[1] - demo_six_bar.pivot(name).at[1],
        )
        for name in "XQ"
    ]
    assert shifts[0] == pytest.approx(shifts[1])
    assert math.dist(shifts[0], (30.0, -20.0)) < 2.0 / board.view.camera.scale
    one_step(board, "Move 2 pivots")


@pytest.mark.parametrize("keys", [mouse.Keys.ControlModifier, mouse.Keys.ShiftModifier])
def test_clicks_with_ctrl_or_shift_select_several(qtbot: QtBot, board: Board, keys: mouse.Keys) -> None:
    mouse.click(qtbot, board.view, pin(board, "X"))
    mouse.click(qtbot, board.view, pin(board, "Q"), keys)
    mouse.click(qtbot, board.view, (60.0, 130.0), keys)
    assert [each.id for each in board.document.selections] == ["X", "Q", "short link"]
    mouse.click(qtbot, board.view, pin(board, "X"), keys)
    assert [each.id for each in board.document.selections] == ["Q", "short link"]
    mouse.click(qtbot, board.view, pin(board, "B"))
    assert [each.id for each in board.document.selections] == ["B"]


def test_arrows_nudge_all_and_delete_takes_all_out(qtbot: QtBot, board: Board) -> None:
    from app.removing import remove_all

    document = board.document
    document.select_all((Selection("pivot", "X"), Selection("pivot", "Q"), Selection("mark", "rear corner")))
    qtbot.keyPress(board, Qt.Key.Key_Right)
    qtbot.keyPress(board, Qt.Key.Key_Right)
    qtbot.keyRelease(board, Qt.Key.Key_Right)
    assert document.project.pivot("X").at == (127.0, 213.0)
    assert document.project.pivot("Q").at == (260.0, 227.0)
    one_step(board, "Nudge 3 things")
    assert remove_all(document, document.selections)
    assert {"X", "Q"}.isdisjoint(each.id for each in document.project.pivots)
    assert document.project.marks == ()
    document.undo()
    document.undo()
    assert document.project == demo_six_bar


def test_several_outline_points_are_taken_out_at_once(board: Board) -> None:
    from app.removing import remove_all

    document = board.document
    chosen = [Selection("outline", "screen and sill", k) for k in (1, 4, 2)]
    points = document.project.outline("screen and sill").points
    assert remove_all(document, chosen)
    left = document.project.outline("screen and sill").points
    assert left == tuple(point for k, point in enumerate(points) if k not in (1, 2, 4))


# ------------------------------------------------------------------------------------------------ snapping by the mouse
def test_a_drag_snaps_shows_and_says_what_to_and_ctrl_leaves_it(qtbot: QtBot, board: Board) -> None:
    board.set_snaps(True)
    start, x = pin(board, "Q"), pin(board, "X")
    near = start[0] + 15.0, x[1] + 2.0 / board.view.camera.scale
    mouse.press(qtbot, board.view, start)
    mouse.move(qtbot, board.view, start, near)
    assert board.document.project.pivot("Q").at[1] == pytest.approx(x[1], abs=1e-9)
    words = board.scene.shown("led:words")
    assert words is not None
    assert words.text.startswith("level with X")  # type: ignore[union-attr]
    assert board.scene.shown("led:0") is not None
    qtbot.keyPress(board, Qt.Key.Key_Control)
    board.document.flush()
    assert board.document.project.pivot("Q").at[1] != pytest.approx(x[1], abs=1e-3)
    assert board.scene.shown("led:words") is None
    qtbot.keyRelease(board, Qt.Key.Key_Control)
    board.document.flush()
    assert board.document.project.pivot("Q").at[1] == pytest.approx(x[1], abs=1e-9)
    mouse.release(qtbot, board.view, near)
    assert board.scene.shown("led:words") is None
    one_step(board, "Move pivot Q")


def test_shift_keeps_a_line_and_r_a_length(qtbot: QtBot, board: Board) -> None:
    start = pin(board, "Q")
    off = start[0] + 30.0, start[1] - 0.8
    mouse.press(qtbot, board.view, start)
    mouse.move(qtbot, board.view, start, off, keys=mouse.Keys.ShiftModifier)
    assert board.document.project.pivot("Q").at[1] == start[1]
    mouse.move(qtbot, board.view, off, off, steps=1)
    qtbot.keyPress(board, Qt.Key.Key_R)
    board.document.flush()
    project = board.document.project
    kept = min(
        abs(math.dist(project.pivot("Q").at, project.pivot(name).at) - math.dist(start, demo_six_bar.pivot(name).at))
        for name in ("P2", "X", "B")
    )
    assert kept < 1e-6
    words = board.scene.shown("led:words")
    assert words is not None
    assert "keeps the length of" in words.text  # type: ignore[union-attr]
    qtbot.keyRelease(board, Qt.Key.Key_R)
    mouse.release(qtbot, board.view, off)
    one_step(board, "Move pivot Q")


def test_a_letter_that_repeats_stays_held_and_counts_as_let_go_a_moment_later(qtbot: QtBot, board: Board) -> None:
    """Some desktops tell a key that repeats as let go and pressed again."""
    start = pin(board, "Q")
    mouse.press(qtbot, board.view, start)
    mouse.move(qtbot, board.view, start, (start[0] + 20.0, start[1] + 6.0))
    qtbot.keyPress(board, Qt.Key.Key_R)
    for _ in range(3):
        qtbot.keyRelease(board, Qt.Key.Key_R)
        assert board.pointer.holds("length")
        qtbot.keyPress(board, Qt.Key.Key_R)
    assert board.pointer.holds("length")
    qtbot.keyRelease(board, Qt.Key.Key_R)
    qtbot.waitUntil(lambda: not board.pointer.holds("length"))
    assert board.scene.shown("led:words") is None
    mouse.release(qtbot, board.view, start)


def test_words_keep_their_room_until_they_have_their_place(qtbot: QtBot, board: Board) -> None:
    from app.painter import label_size

    board.set_snaps(True)
    start, x = pin(board, "Q"), pin(board, "X")
    mouse.press(qtbot, board.view, start)
    mouse.move(qtbot, board.view, start, (start[0] + 15.0, x[1] + 1.0))
    qtbot.keyPress(board, Qt.Key.Key_R)  # other words, and an analysis is still to come
    item = board.scene.item("led:words")
    assert item is not None
    box = item.box  # type: ignore[union-attr]
    assert box.right - box.left == pytest.approx(label_size(item.shape_shown, board.scene.look)[0])  # type: ignore[arg-type]
    qtbot.keyRelease(board, Qt.Key.Key_R)
    mouse.release(qtbot, board.view, start)


def test_placing_snaps_too(qtbot: QtBot, board: Board) -> None:
    board.set_snaps(True)
    x, q = pin(board, "X"), pin(board, "Q")
    pixel = 1.0 / board.view.camera.scale
    use(qtbot, board, "N", (x[0] + 3 * pixel, x[1] - 3 * pixel), (q[0] - 3 * pixel, 130.0))
    project = board.document.project
    assert "link" in project.pivot("X").joins
    assert project.marks[-1].at[0] == pytest.approx(q[0], abs=1e-9)  # plumb with Q


def test_what_is_split_draws_no_hand(qtbot: QtBot, board: Board) -> None:
    """The new pin comes onto the link, so words such as "level with" would be untrue of it."""
    board.set_snaps(True)
    key(qtbot, board, "S")
    x, y = pin(board, "X")
    mouse.hover(qtbot, board.view, (x + 200.0, y))
    assert not board.scene.has("led")
