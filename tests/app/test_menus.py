"""The menus: every command once, with a tip and a key that nothing else has."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QAbstractButton, QApplication

from app.board.tools import TOOLS
from app.document import Selection
from app.menus import FALLBACKS
from kinematics import edits

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.window import Window


def commands(window: Window) -> list[QAction]:
    return [action for action in window.actions() if action.text()]


def test_no_two_commands_share_a_key(window: Window) -> None:
    keys = Counter(key.toString() for action in commands(window) for key in action.shortcuts())
    assert [key for key, count in keys.items() if count > 1] == []


def test_no_command_takes_a_key_that_the_board_or_the_strip_uses(window: Window) -> None:
    """Bare keys of commands come before those of the part that has the focus."""
    taken = {
        QKeySequence(key)
        for key in ("F", "L", "Space", "Esc", "Del", "Home", "End", "Left", "Right", "PgUp", "PgDown", "+", "-")
    }
    assert [action.text() for action in commands(window) for key in action.shortcuts() if key in taken] == []


def test_every_command_teaches(window: Window) -> None:
    assert [action.text() for action in commands(window) if len(action.toolTip()) < 15] == []


def test_files_and_steps_have_the_usual_keys(window: Window) -> None:
    keys = {action.text().replace("&", ""): action.shortcuts() for action in commands(window)}
    key = QKeySequence.StandardKey
    for name, standard in (
        ("New", key.New), ("Open…", key.Open), ("Save", key.Save), ("Undo", key.Undo), ("Redo", key.Redo),
    ):  # fmt: skip
        assert keys[name][0] == QKeySequence(standard), name


def test_every_standard_key_is_as_qts_own_table_has_it(window: Window) -> None:
    """All that the table has for this desktop, not the first alone; where it has none, ours."""
    key = QKeySequence.StandardKey
    used = {
        "New": key.New, "Open…": key.Open, "Save": key.Save, "Save as…": key.SaveAs, "Layout sheet…": key.Print,
        "Quit": key.Quit, "Undo": key.Undo, "Redo": key.Redo, "Select all pins": key.SelectAll,
        "Preferences…": key.Preferences, "Zoom in": key.ZoomIn, "Zoom out": key.ZoomOut,
        "Full screen": key.FullScreen, "Help on this": key.HelpContents,
    }  # fmt: skip
    keys = {action.text().replace("&", ""): action.shortcuts() for action in commands(window)}
    for name, standard in used.items():
        bindings = QKeySequence.keyBindings(standard)
        assert keys[name], name
        assert keys[name] == bindings or (not bindings and keys[name] == [QKeySequence(FALLBACKS[standard])]), name


def test_keys_work_from_the_board(window: Window, qtbot: QtBot) -> None:
    document = window.document
    document.apply("Turn", edits.set_travel(document.project, wanted_deg=60.0))
    qtbot.keyClick(window.board, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert document.project.travel.wanted_deg == 75.0
    qtbot.keyClick(window.board, Qt.Key.Key_2, Qt.KeyboardModifier.AltModifier)
    assert window.area.open_name == "Pins"
    qtbot.keyClick(window.board, Qt.Key.Key_End, Qt.KeyboardModifier.ControlModifier)
    assert document.pose.deg == 75.0
    qtbot.keyClick(window.board, Qt.Key.Key_Home, Qt.KeyboardModifier.ControlModifier)
    assert document.pose.deg == 0.0


def test_recent_files_are_listed_newest_first_and_open(window: Window, tmp_path: Path) -> None:
    for name in ("one & two.hinge", "three.hinge"):
        window.document.save(tmp_path / name)
        window.settings.add_recent(tmp_path / name)
    window.menus.recent.aboutToShow.emit()
    actions = window.menus.recent.actions()
    assert [action.text() for action in actions][:2] == ["three.hinge", "one && two.hinge"]
    actions[1].trigger()
    assert window.document.path == tmp_path / "one & two.hinge"
    actions[-1].trigger()
    window.menus.recent.aboutToShow.emit()
    assert [action.isEnabled() for action in window.menus.recent.actions()] == [False]


def test_play_says_what_it_does_next(window: Window) -> None:
    window.menus.play.trigger()
    assert window.menus.play.text() == "&Stop"
    window.menus.play.trigger()
    assert window.menus.play.text() == "&Play"


def test_controls_that_have_a_key_say_it_in_their_tips(window: Window) -> None:
    """What a button does, the menus or the board do by a key: the tip teaches it."""
    window.document.select(Selection("pivot", "Q"))
    assert all(drawer.isHidden() for drawer in window.area.drawers.values()), "made, not opened"
    QApplication.processEvents()
    keys = {
        "Play": "Space", "Parts": "Ctrl+L", "From a file": "Ctrl+I", "Keep clear of": "Ctrl+K", "Remove pivot": "Del",
        "Delete outline": "Del", "Lock": "L on the board",
        **{f"Drawer {name}": f"Alt+{place}" for place, name in enumerate(window.area.drawers, 1)},
        **{f"Tool {tool.name}": f"Key: {tool.key}." for tool in TOOLS}, "Tool Hand": "Esc",
    }  # fmt: skip
    tips = {button.accessibleName(): button.toolTip() for button in window.findChildren(QAbstractButton)}
    assert [name for name, key in keys.items() if key not in tips[name]] == []
