"""The menu of what lies under the pointer."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMenu

from app.board import actions
from app.document import Selection

if TYPE_CHECKING:
    from app.board.board import Board
    from app.board.hits import Hit
    from kinematics.project import Point


def menu_at(board: Board, at: Point) -> QMenu:
    """Make the menu of what lies at a point of the board, and select that."""
    menu, document, found = QMenu(board), board.document, board.hit_at(at)
    if found is None:
        document.select(None)
    elif found.kind == "pivot":
        document.select(Selection("pivot", found.id))
        word = "Free" if document.project.pivot(found.id).locked else "Lock"
        menu.addAction(f"{word} pivot {found.id}\tL", lambda: actions.toggle_lock(document, found.id))
    elif found.kind in ("outline", "point"):
        _add_outline_actions(menu, board, found, at)
    else:
        document.select(Selection(found.kind, found.id))
    menu.addAction("Show all\tF", board.fit)
    menu.addAction("Show the pins\tShift+F", board.fit_pins)
    return menu


def _add_outline_actions(menu: QMenu, board: Board, found: Hit, at: Point) -> None:
    document, closed = board.document, board.document.project.outline(found.id).closed
    document.select(Selection("outline", found.id, found.part if found.kind == "point" else None))
    if found.kind == "point":
        menu.addAction("Delete this point\tDel", lambda: actions.delete_point(document, found.id, found.part or 0))
    else:
        menu.addAction("Insert a point here", lambda: actions.insert_point(document, found.id, at))
    word = "Open the outline" if closed else "Close the outline"
    menu.addAction(word, lambda: actions.toggle_closed(document, found.id))
