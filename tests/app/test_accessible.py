"""A screen reader finds a name on every control, and a tool tip teaches what it does, in every state of the window."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtGui import QAccessible, QAction
from PySide6.QtWidgets import QApplication, QMenu, QWidget

from app.about import about_dialog
from app.board.measure_tools import leave
from app.document import Selection
from app.drawers.trace import PasteDialog
from app.preferences_dialog import PreferencesDialog
from kinematics.measures import Anchor
from tests.app.accessible import Role, Text, everything
from tests.app.sharing import begin_again

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from pytestqt.qtbot import QtBot

    from app.window import Window


def with_a_measure(window: Window) -> None:
    """Leave a measure on the board, selected."""
    leave(window.document, "distance", (Anchor(pivot="Q"), Anchor(pivot="O1")))


STATES: dict[str, Callable[[Window], object]] = {
    "as it opens": lambda _: None,
    "Trace": lambda window: window.area.open_drawer("Trace"),
    "Pins": lambda window: window.area.open_drawer("Pins"),
    "Pins, starts": lambda window: (window.area.open_drawer("Pins"), window.pins.choose_start.click()),
    "Lift": lambda window: window.area.open_drawer("Lift"),
    "Lift, all unfolded": lambda window: (
        window.area.open_drawer("Lift"),
        [section.unfold() for section in window.lift.sections.values()],
    ),
    "mass": lambda window: window.document.select(Selection("mass", "on hatch")),
    "device": lambda window: window.document.select(Selection("device", "strut")),
    "Build": lambda window: window.area.open_drawer("Build"),
    "parts": lambda window: window.checks.entry.show_parts(),
    "pivot": lambda window: window.document.select(Selection("pivot", "Q")),
    "link": lambda window: window.document.select(Selection("link", "arm")),
    "outline": lambda window: window.document.select(Selection("outline", "hatch skin", 1)),
    "mark": lambda window: window.document.select(Selection("mark", "rear corner")),
    "a notice": lambda window: window.document.noticed.emit("Something is amiss."),
    "keep clear": lambda window: window.show_keep_clear(),
    "a measure": with_a_measure,
    "a tool in hand": lambda window: (window.board.take_tool("Link"), window.board.cross.begin()),
    "nothing drawn": lambda window: window.document.new(),
}


@pytest.fixture(autouse=True)
def _listening() -> Iterator[None]:
    """Something reads the screen, as far as Qt can tell."""
    QAccessible.setActive(True)
    yield
    QAccessible.setActive(False)


def assert_all_named(widget: QWidget) -> int:
    """Every control below a widget has a name and a tip; gives how many there are."""
    QApplication.processEvents()
    controls = [found for found in everything(widget) if found.is_control]
    assert [found for found in controls if not found.name] == []
    assert [found for found in controls if not found.tip and found.role != Role.StaticText] == []
    return len(controls)


def test_every_control_of_the_window_has_a_name_and_a_tip(window: Window) -> None:
    """In every state, one after the other in one window: what was opened before stands there too, and is held again."""
    for state, turn_to in STATES.items():
        begin_again(window)
        turn_to(window)
        assert assert_all_named(window) > 25, state


@pytest.mark.parametrize("make", [about_dialog, lambda parent: PasteDialog("mm", parent)])
def test_every_control_of_a_dialog_has_a_name_and_a_tip(window: Window, make: Callable[[QWidget], QWidget]) -> None:
    dialog = make(window)
    dialog.show()
    assert assert_all_named(dialog) > 0
    dialog.close()


def test_every_preference_has_a_name_and_a_tip(window: Window) -> None:
    window.show_preferences()
    dialog = window.findChild(PreferencesDialog)
    assert dialog is not None
    assert assert_all_named(dialog) >= 10
    dialog.close()


def commands(menu: QMenu) -> Iterator[QAction]:
    """All commands of a menu and of those within it, filled as when they open."""
    menu.aboutToShow.emit()
    for action in menu.actions():
        inner = action.menu()
        if isinstance(inner, QMenu):
            yield from commands(inner)
        elif not action.isSeparator():
            yield action


def test_every_command_of_the_menus_has_words_and_a_tip_of_its_own(window: Window) -> None:
    found = 0
    for top in window.menuBar().actions():
        menu = top.menu()
        assert isinstance(menu, QMenu)
        for action in commands(menu):
            found += 1
            words = action.text().replace("&", "")
            assert words
            assert action.toolTip() not in ("", words, words.rstrip("…")), f"{words}: its tip says nothing more"
    assert found > 25


def test_a_choice_says_what_it_is_for_besides_what_is_chosen(window: Window) -> None:
    """Qt's interface on Linux names a combo box by what is chosen in it; its description must say the rest."""
    boxes = [found for found in everything(window) if found.role == Role.ComboBox]
    assert len(boxes) >= 3
    for box in boxes:
        assert box.name in box.description


def test_the_strip_says_where_the_panel_is(window: Window) -> None:
    def name() -> str:
        found = QAccessible.queryAccessibleInterface(window.strip)
        return found.text(Text.Name) if found is not None else ""

    window.document.set_opening(40.0)
    assert name() == "Travel strip, open 40°"
    window.document.set_opening(0.0)
    assert name() == "Travel strip, shut"


def test_keys_reach_every_control_that_the_mouse_reaches(window: Window, qtbot: QtBot) -> None:
    """Tab goes round the window through all controls that take keys, and comes back."""
    window.document.select(Selection("pivot", "Q"))
    QApplication.processEvents()
    window.board.setFocus()
    seen: list[QWidget] = []
    for _ in range(200):
        here = QApplication.focusWidget()
        assert here is not None
        if here in seen:
            break
        seen.append(here)
        window.focusNextPrevChild(True)
    names = [widget.accessibleName() for widget in seen]
    check = next(name for name in names if name.startswith("screen and sill – hatch skin: "))
    way = ["Board", "Tool Hand", "Tool Clearance", check, "Wants", "Parts", "Selected part", "Name of pivot Q",
           "x of pivot Q", "Remove pivot", "Travel strip, shut", "Drawer Trace", "Drawer Build"]  # fmt: skip
    assert [name for name in names if name in way] == way, "as the eye goes: board, tools, checks, entry, travel"
