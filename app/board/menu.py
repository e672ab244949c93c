"""The menu of what lies under the pointer. It says the keys that do the same."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMenu

from app.board import actions, foot_hands, load_hands
from app.board.corners import corner_near, watch
from app.board.crowd import count_words
from app.board.pointer import selection_of
from app.board.tools import join_pins, part_pin
from app.device_words import load_name
from app.document import Selection
from app.entry.line_dialog import change_line
from app.lettering import in_menu
from app.removing import remove, remove_all
from kinematics import arranging

if TYPE_CHECKING:
    from app.board.board import Board
    from app.board.hits import Hit
    from app.document import Document
    from kinematics.project import Point


def menu_at(board: Board, at: Point) -> QMenu:
    """Make the menu of what lies at a point of the board, and select that."""
    menu, document, found = QMenu(board), board.document, board.hit_at(at)
    if found is not None and found.kind == foot_hands.HIT:
        found = None
    if found is None:
        document.select(None)
    elif len(document.selections) > 1 and selection_of(found) in document.selections:
        _add_several(menu, document)
        found = None
    elif found.kind in ("outline", "point"):
        _add_outline_actions(menu, board, found, at)
    elif found.kind in ("zone", "corner"):
        _add_zone_actions(menu, document, found, at)
    else:
        document.select(selection_of(found))
    if found is not None and found.kind == "measure":
        name = found.id
        menu.addAction(f"Remove measure {in_menu(name)}\tDel", lambda: remove(document, Selection("measure", name)))
        menu.addSeparator()
    elif found is not None:
        add_part_actions(menu, document, selection_of(found).kind, found.id)
        if found.kind == "pivot":
            _add_pin_actions(menu, document, found.id)
        menu.addSeparator()
    hidden = arranging.hidden_count(document.project)
    if hidden:
        menu.addAction(f"Show what is hidden ({hidden})", lambda: actions.show_hidden(document))
    menu.addAction("Show all\tF", board.fit)
    menu.addAction("Show the pins\tShift+F", board.fit_pins)
    return menu


def add_part_actions(menu: QMenu, document: Document, kind: str, id_: str) -> None:
    """Add what can be done to any part, wherever it is taken: on the board or in the list."""
    if kind in load_hands.KINDS:
        _add_load_actions(menu, document, kind, id_)
        return
    part, name = getattr(document.project, kind)(id_), in_menu(id_)
    if kind == "zone":
        menu.addAction(f"Remove zone {name}\tDel", lambda: remove(document, Selection("zone", id_)))
        return
    if kind in arranging.LOCKABLE:
        word = "Free" if part.locked else "Lock"
        menu.addAction(f"{word} {kind} {name}\tL", lambda: actions.toggle_lock(document, kind, id_))
    word = "Show" if part.hidden else "Hide"
    menu.addAction(f"{word} {kind} {name}\tH", lambda: actions.toggle_hidden(document, kind, id_))
    removing = menu.addAction(f"Remove {kind} {name}\tDel", lambda: remove(document, Selection(kind, id_)))
    removing.setEnabled(kind != "link" or part.kind == "link")  # the fixed link and the panel stay


def _add_load_actions(menu: QMenu, document: Document, kind: str, id_: str) -> None:
    """Add what can be done to a mass, the handle or a device."""
    if kind == "device":
        menu.addAction(f"Turn {in_menu(id_)} round", lambda: load_hands.turn_round(document, id_))
    name = in_menu(load_name(kind, id_))
    menu.addAction(f"Remove {name}\tDel", lambda: remove(document, Selection(kind, id_)))


def _add_several(menu: QMenu, document: Document) -> None:
    """Add what can be done to all that is selected."""
    chosen = document.selections
    pins = [each.id for each in chosen if each.kind == "pivot"]
    if len(chosen) == len(pins) == 2:
        kept, gone = pins
        menu.addAction(f"Join {in_menu(gone)} with {in_menu(kept)}", lambda: join_pins(document, kept, gone))
    menu.addAction(f"Remove {count_words(chosen)}\tDel", lambda: remove_all(document, chosen))
    menu.addSeparator()


def _add_pin_actions(menu: QMenu, document: Document, name: str) -> None:
    """Add what parts a pin: for one of two links at once, else by the link that comes off."""
    joins = document.project.pivot(name).joins
    if len(joins) == 2:
        menu.addAction(f"Part pivot {in_menu(name)}", lambda: part_pin(document, name))
        return
    off = menu.addMenu(f"Take a link off {in_menu(name)}")
    for link_id in joins:
        off.addAction(in_menu(link_id), partial(part_pin, document, name, link_id))


def _add_corner_action(menu: QMenu, board: Board, at: Point) -> None:
    """Add the watch on the place of the panel that lies there."""
    document = board.document
    place = corner_near(document, at, 2.0 * board.pointer.desk.reach)
    if place is not None:
        menu.addAction("Watch this corner", lambda: watch(document, place))


def _add_zone_actions(menu: QMenu, document: Document, found: Hit, at: Point) -> None:
    document.select(Selection("zone", found.id, found.part if found.kind == "corner" else None))
    if found.kind == "corner":
        menu.addAction("Delete this corner\tDel", lambda: actions.delete_corner(document, found.id, found.part or 0))
    else:
        menu.addAction("Insert a corner here", lambda: actions.insert_corner(document, found.id, at))


def _add_outline_actions(menu: QMenu, board: Board, found: Hit, at: Point) -> None:
    document, closed = board.document, board.document.project.outline(found.id).closed
    document.select(Selection("outline", found.id, found.part if found.kind == "point" else None))
    if found.kind == "point":
        menu.addAction("Delete this point\tDel", lambda: actions.delete_point(document, found.id, found.part or 0))
    else:
        menu.addAction("Insert a point here", lambda: actions.insert_point(document, found.id, at))
    if document.project.outline(found.id).on == document.project.panel.id:
        _add_corner_action(menu, board, at)
    part = found.part if found.kind == "point" else None
    menu.addAction("Change the line…", lambda: change_line(document, found.id, part, board.window()))
    word = "Open the outline" if closed else "Close the outline"
    menu.addAction(word, lambda: actions.toggle_closed(document, found.id))
