"""The names of controls that the pages name are there, word for word, in the window itself."""

from __future__ import annotations

import ast
import re
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QAbstractButton, QLabel, QMenu

from app import offers
from app.board.tools import TOOLS
from app.document import Selection
from app.entry.form import ChoiceBox
from app.help import pages
from app.proposals.search_sheet import GO
from app.proposals.sheet import FindSheet
from app.stack.showing import IN_SPACE, SECTIONS, show_stack
from app.struts.sheet import StrutSheet
from app.struts.shown import StrutShown
from app.working_row import AGAIN
from tests.app.proposals import fake
from tests.app.proposals.here_and_now import HereAndNow

if TYPE_CHECKING:
    from PySide6.QtGui import QAction

    from app.window import Window

SPOKEN = re.compile(r"\b(?:tool|drawer|menu|button) ([A-Z]\w*)")
IN_MENU = re.compile(r"`([^`]+)`(?: in the menu) `([^`]+)`")


def on_show(window: Window) -> set[str]:
    """All words of the window's menus, buttons, tools and labels, those of the sheets beside the board too."""
    for drawer in ("Trace", "Pins", "Lift", "Build"):
        window.area.open_drawer(drawer)
    for section in (*window.lift.sections.values(), *window.build.sections.values()):
        section.unfold()
    found = words_of(window)  # with nothing selected: the wants
    window.document.select(Selection("mass", "on hatch"))
    found |= words_of(window)
    window.document.select(Selection("outline", window.document.project.outlines[0].id))
    window.show_trials()
    window.show_swept_room()
    show_stack(window, SECTIONS)
    show_stack(window, IN_SPACE)
    # what finds hinges, with a search that needs no processes; its first button says three things in turn
    FindSheet(window.document, window._proposed, lambda: window.look, window, HereAndNow(), fake.Collector, fake.cannot)
    StrutSheet(window.board, StrutShown(window.board), lambda: window.look, window, HereAndNow())
    return found | words_of(window) | set(GO) | {AGAIN} | {tool.name for tool in TOOLS}


def words_of(window: Window) -> set[str]:
    """All words of the window as it stands, with their dots and without."""
    actions = [action.text() for menu in window.findChildren(QMenu) for action in (*menu.actions(), menu.menuAction())]
    widgets = [widget.text() for kind in (QAbstractButton, QLabel) for widget in window.findChildren(kind)]
    choices = [box.itemText(place) for box in window.findChildren(ChoiceBox) for place in range(box.count())]
    told = [words.partition("\t")[0].replace("&", "") for words in (*actions, *widgets, *choices)]
    return {words for each in told for words in (each, each.removesuffix("…"))}


def answers() -> set[str]:
    """The answers that questions about files offer: the first words of each `Choice`."""
    tree = ast.parse(Path(offers.__file__).read_text("utf-8"))
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)]
    firsts = [call.args[0] for call in calls if isinstance(call.func, ast.Name) and call.func.id == "Choice"]
    return {first.value for first in firsts if isinstance(first, ast.Constant) and isinstance(first.value, str)}


def test_every_control_that_a_page_names_is_there(fresh_window: Window) -> None:
    there = on_show(fresh_window) | answers()
    named = {(page, name) for page in pages.ORDER for name in pages.CONTROL.findall(pages.source(page))}
    assert len(named) > 15
    assert not {(page, name) for page, name in named if name not in there}


def test_a_command_is_in_the_menu_where_a_page_says_it_is(window: Window) -> None:
    menus = {bare(action): action.menu() for action in window.menuBar().actions()}
    said = [found for page in pages.ORDER for found in IN_MENU.findall(pages.source(page))]
    assert len(said) > 4
    for command, menu in said:
        there = menus[menu]
        assert isinstance(there, QMenu)
        assert command in {bare(action) for action in there.actions()}, menu


def bare(action: QAction) -> str:
    """A command's words without its letter and its dots."""
    return action.text().partition("\t")[0].replace("&", "").removesuffix("…")


def test_no_control_is_named_without_being_marked_as_one() -> None:
    for page in pages.ORDER:
        assert not SPOKEN.findall(pages.source(page)), page
