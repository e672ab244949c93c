"""The menu of what lies under the pointer. It says the keys that do the same."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMenu

from app.board import actions
from app.document import Selection
from app.removing import remove
from kinematics import arranging

if TYPE_CHECKING:
    from app.board.board import Board
    from app.board.hits import Hit
    from app.document import Document
    from kinematics.project import Point


def menu_at(board: Board, at: Point) -> QMenu:
    """Make the menu of what lies at a point of the board, and select that."""
    menu, document, found = QMenu(board), board.document, board.hit_at(at)
    if found is None:
        document.select(None)
    elif found.kind in ("outline", "point"):
        _add_outline_actions(menu, board, found, at)
    else:
        document.select(Selection(found.kind, found.id))
    if found is not None:
        add_part_actions(menu, document, "outline" if found.kind == "point" else found.kind, found.id)
        menu.addSeparator()
    hidden = arranging.hidden_count(document.project)
    if hidden:
        menu.addAction(f"Show what is hidden ({hidden})", lambda: actions.show_hidden(document))
    menu.addAction("Show all\tF", board.fit)
    menu.addAction("Show the pins\tShift+F", board.fit_pins)
    return menu


def add_part_actions(menu: QMenu, document: Document, kind: str, id_: str) -> None:
    """Add what can be done to any part, wherever it is taken: on the board or in the list."""
    part = getattr(document.project, kind)(id_)
    if kind in arranging.LOCKABLE:
        word = "Free" if part.locked else "Lock"
        menu.addAction(f"{word} {kind} {id_}\tL", lambda: actions.toggle_lock(document, kind, id_))
    word = "Show" if part.hidden else "Hide"
    menu.addAction(f"{word} {kind} {id_}\tH", lambda: actions.toggle_hidden(document, kind, id_))
    removing = menu.addAction(f"Remove {kind} {id_}\tDel", lambda: remove(document, Selection(kind, id_)))
    removing.setEnabled(kind != "link" or part.kind == "link")  # the fixed link and the panel stay


def _add_outline_actions(menu: QMenu, board: Board, found: Hit, at: Point) -> None:
    document, closed = board.document, board.document.project.outline(found.id).closed
    document.select(Selection("outline", found.id, found.part if found.kind == "point" else None))
    if found.kind == "point":
        menu.addAction("Delete this point\tDel", lambda: actions.delete_point(document, found.id, found.part or 0))
    else:
        menu.addAction("Insert a point here", lambda: actions.insert_point(document, found.id, at))
    word = "Open the outline" if closed else "Close the outline"
    menu.addAction(word, lambda: actions.toggle_closed(document, found.id))
