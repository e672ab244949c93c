"""The whole window with names of forty letters: nothing is clipped without a tip that says it, nothing lies on pins."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QHelpEvent
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QScrollArea, QToolButton, QToolTip, QWidget

from app.board.items import LabelItem, SymbolItem
from app.buttons import ElidedButton
from app.checks import CheckRow
from app.document import Selection
from app.entry.wants import WantsForm
from app.lettering import ON_SHEET
from app.ticks import TickBox
from kinematics import edits, zoning

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.labels import Box
    from app.window import Window

TAIL = "hauptschwenkarmverbindungsgliedplatte"


def long(name: str) -> str:
    """Make a word of forty letters of a name."""
    return f"{name.replace(' ', '')}{TAIL}"[:37] + name[-3:]


@pytest.fixture
def wordy(window: Window) -> Window:
    """A window on the demo, every name of which is one long word."""
    project = window.document.project
    for link in project.links:
        project = edits.rename_link(project, link.id, long(link.id))
    for outline in project.outlines:
        project = edits.rename_outline(project, outline.id, long(outline.id))
    for pivot in project.pivots:
        project = edits.rename_pivot(project, pivot.id, long(pivot.id))
    for mark in project.marks:
        project = edits.rename_mark(project, mark.id, long(mark.id))
    window.document.apply("Long names", project)
    window.board.fit()
    QApplication.processEvents()
    return window


def choose_zone(window: Window) -> None:
    project = window.document.project
    window.document.apply("Draw", zoning.add_zone(project, project.fixed.id, ((0.0, 0.0), (90.0, 0.0), (90.0, 90.0))))
    window.document.select(Selection("zone", window.document.project.zone_names[0]))


STATES: dict[str, Callable[[Window], object]] = {
    "wants": lambda _: None,
    "Trace": lambda window: window.area.open_drawer("Trace"),
    "Pins": lambda window: window.area.open_drawer("Pins"),
    "Lift": lambda window: window.area.open_drawer("Lift"),
    "Build": lambda window: window.area.open_drawer("Build"),
    "parts": lambda window: window.checks.entry.show_parts(),
    **{
        kind: lambda window, kind=kind: window.document.select(  # type: ignore[misc]
            Selection(kind, getattr(window.document.project, f"{kind}s")[1 if kind != "mark" else 0].id)
        )
        for kind in ("pivot", "link", "outline", "mark")
    },
    "zone": choose_zone,
}


def test_nothing_is_clipped(wordy: Window) -> None:
    """Pages are no wider than their column; sentences wrap; buttons show all their words or end in "…"."""
    for turn_to in STATES.values():
        wordy.area.open_drawer("")
        wordy.document.select(None)
        wordy.checks.entry.show_wants()
        turn_to(wordy)
        for _ in range(3):
            QApplication.processEvents()
        assert_nothing_is_clipped(wordy)


def assert_nothing_is_clipped(wordy: Window) -> None:
    for area in wordy.findChildren(QScrollArea):
        page = area.widget()
        if area.isVisible() and page is not None:
            assert page.width() <= area.viewport().width(), page.objectName()
    for label in wordy.findChildren(QLabel):
        if label.isVisible() and label.wordWrap() and label.text():
            assert label.height() >= label.heightForWidth(label.width()), label.text()
            assert label.width() >= label.minimumSizeHint().width(), label.text()
    for button in wordy.findChildren(QAbstractButton):
        plain = not isinstance(button, TickBox | ElidedButton | CheckRow | QToolButton)
        if button.isVisible() and plain and button.text():
            words = button.fontMetrics().size(int(Qt.TextFlag.TextShowMnemonic), button.text())
            assert words.width() <= button.width(), button.text()


def test_what_is_told_in_short_is_said_whole_by_its_tip(wordy: Window) -> None:
    pivot = wordy.document.project.pivots[0]
    wordy.document.select(Selection("pivot", pivot.id))
    QApplication.processEvents()
    boxes = [box for box in wordy.findChildren(TickBox) if box.isVisible() and "…" in box.shown()]
    assert boxes, "there was not room for all"
    assert all(box.text() in box.toolTip() for box in boxes)
    button = wordy.checks.entry.part_button
    assert "…" in button.shown()
    assert pivot.id in button.toolTip()
    wordy.checks.entry.show_wants()
    form = wordy.checks.entry.form
    assert isinstance(form, WantsForm)
    choice = form.first
    spot = choice.rect().center()
    QApplication.sendEvent(choice, QHelpEvent(QEvent.Type.ToolTip, spot, choice.mapToGlobal(spot)))
    assert "…" in choice.shown()
    assert QToolTip.text().startswith(choice.currentText())
    QToolTip.hideText()
    wordy.checks.entry.show_parts()
    table = wordy.checks.entry.parts.table
    model = table.model()
    tips = [model.index(row, 0).data(Qt.ItemDataRole.ToolTipRole) or "" for row in range(model.rowCount())]
    assert any(pivot.id in tip for tip in tips)


def test_every_line_of_a_check_has_room(wordy: Window) -> None:
    """The name is bold, and so wider than plain words: its lines are counted as they are painted."""
    for row in wordy.checks.rows:
        assert row.height() >= row.heightForWidth(row.width())
        assert row.lines_height() <= row.height()


def on_screen(window: Window, item: LabelItem) -> Box:
    at = window.board.view.viewportTransform().map(item.scenePos())
    return item.box.moved(at.x(), at.y())


@pytest.mark.parametrize("deg", [0.0, 40.0])
def test_names_on_the_sheet_are_short_and_lie_on_no_pin(wordy: Window, deg: float) -> None:
    """Not even the signs at pinch places hide a pin, which is there to be dragged."""
    wordy.document.set_opening(deg)
    QApplication.processEvents()
    view = wordy.board.view
    items = view.scene().items()
    pins = [
        view.viewportTransform().map(item.scenePos())
        for item in items
        if isinstance(item, SymbolItem) and item.shape_shown.key.startswith("pin:")
    ]
    labels = [item for item in items if isinstance(item, LabelItem) and item.isVisible()]
    assert len(pins) == len(wordy.document.project.pivots)
    names = [item for item in labels if item.shape_shown.key.startswith("name of")]
    assert names
    assert all(len(item.shape_shown.text) <= ON_SHEET for item in names)
    signs = [on_screen(wordy, item) for item in labels if item.shape_shown.glyph]
    assert signs
    assert not [(box, pin) for box in signs for pin in pins if box.holds((pin.x(), pin.y()))]


def test_no_tip_is_a_line_across_the_screen(window: Window) -> None:
    window.document.select(Selection("pivot", "Q"))
    QApplication.processEvents()
    tips = [widget.toolTip() for widget in window.findChildren(QWidget)]
    tips += [action.toolTip() for action in window.actions()]
    assert len(tips) > 100
    assert [tip for tip in tips if max(map(len, tip.split("\n"))) > 90] == []
