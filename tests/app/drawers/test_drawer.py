"""What drawers are made of: their lists of parts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QContextMenuEvent
from PySide6.QtWidgets import QApplication, QLabel, QMenu

from app.drawers.drawer import PartsList
from kinematics import edits

if TYPE_CHECKING:
    import pytest

    from app.window import Window


def pins_list(window: Window) -> PartsList:
    window.area.open_drawer("Pins")
    QApplication.processEvents()
    lists = window.pins.findChildren(PartsList)
    return next(each for each in lists if each.accessibleName() == "Pivots of the project")


def test_the_right_button_opens_the_menu_of_the_part_and_selects_it(
    window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(QMenu, "popup", lambda _menu, _at: None)  # offscreen, none may take the keys
    parts = pins_list(window)
    spot = parts.visualItemRect(parts.item(2)).center()
    event = QContextMenuEvent(QContextMenuEvent.Reason.Mouse, spot, parts.viewport().mapToGlobal(spot))
    QApplication.sendEvent(parts.viewport(), event)
    third = window.document.project.pivots[2].id
    assert window.document.selection is not None
    assert window.document.selection.id == third
    menu = parts.findChild(QMenu)
    assert menu is not None
    words = [action.text().split("\t")[0] for action in menu.actions()]
    assert words == [f"Lock pivot {third}", f"Hide pivot {third}", f"Remove pivot {third}"]
    menu.actions()[0].trigger()
    assert window.document.project.pivot(third).locked
    menu.deleteLater()


def test_a_name_with_an_ampersand_or_like_markup_reads_as_it_is(window: Window) -> None:
    document, first = window.document, window.document.project.pivots[0].id
    document.apply("Rename", edits.rename_pivot(document.project, first, "<b>A&B"))
    parts = pins_list(window)
    menu = parts.menu_of(0)
    assert menu.actions()[0].text().startswith("Lock pivot <b>A&&B")
    parts.setCurrentRow(0)
    assert window.checks.entry.part_button.text() == "Pivot <b>A&&B"
    document.apply("Rename arm", edits.rename_link(document.project, "arm", "<b>arm"))
    told = [label for label in window.findChildren(QLabel) if label.wordWrap() and "<b>" in label.text()]
    assert all(label.textFormat().name == "PlainText" for label in told)
    document.undo()
    document.undo()
    document.apply("Rename pivot A&B", edits.rename_pivot(document.project, first, "C"))
    assert window.menus.undo.text() == "&Undo: Rename pivot A&&B"
