"""The table of measured points, by hand: typed, told by row, made an outline in one step."""

from __future__ import annotations

from math import dist
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QLineEdit, QPushButton

from app.shapes import Symbol

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.drawers.taped_box import TapedBox
    from app.shapes import Shape
    from app.window import Window


@pytest.fixture
def box(window: Window) -> TapedBox:
    """The table, unfolded over an empty project."""
    window.document.new()
    window.area.open_drawer("Trace")
    window.trace.measured_button.click()
    QApplication.processEvents()
    return window.trace.measured


def type_rows(qtbot: QtBot, box: TapedBox, rows: list[tuple[str, ...]]) -> None:
    """Type cells as a person does: click one, type, Enter."""
    table = box.table
    for row, cells in enumerate(rows):
        for column, text in enumerate(cells):
            table.scrollTo(table.model().index(row, column))
            spot = table.visualRect(table.model().index(row, column)).center()
            qtbot.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=spot)
            qtbot.keyClicks(table, text[:1])
            editor = QApplication.focusWidget()
            assert isinstance(editor, QLineEdit)
            qtbot.keyClicks(editor, text[1:])
            qtbot.keyClick(editor, Qt.Key.Key_Return)
            QApplication.processEvents()
    qtbot.waitUntil(lambda: not box._soon.isActive())  # the table is read once the cell's editor is closed


def make(box: TapedBox) -> None:
    next(each for each in box.findChildren(QPushButton) if each.text() == "Make outline").click()


def signs(box: TapedBox) -> list[str]:
    last = box.table.columnCount() - 1
    return [box.table.item(row, last).text() for row in range(len(box.table_told.rows))]


def test_stations_and_offsets_become_an_outline_in_one_step(box: TapedBox, qtbot: QtBot) -> None:
    type_rows(qtbot, box, [("0", "100"), ("250", "12o"), ("600", "90")])
    assert signs(box) == ["✓", "✗", "✓"]
    assert box.told.text().startswith("Row 2: ")
    said: list[str] = []
    box._document.noticed.connect(said.append)
    make(box)
    assert "Row 2" in said[-1]
    assert not box._document.project.outlines
    type_rows(qtbot, box, [("0", "100"), ("250", "120")])
    assert box._board.scene.has("measured points")
    make(box)
    (outline,) = box._document.project.outlines
    assert outline.points == ((0.0, 100.0), (250.0, 120.0), (600.0, 90.0))
    assert (outline.on, outline.uncertain, outline.closed) == ("panel", 1.0, False)
    assert box._document.undo_label == "Measure panel measured"
    box._document.undo()
    assert not box._document.project.outlines


def test_pasted_cells_and_tapes_with_a_misread_one(box: TapedBox, qtbot: QtBot) -> None:
    box.way.choose("three")
    box.way.activated.emit(0)
    assert box.table.columnCount() == 4
    assert not box.fields["Cx"].isHidden()
    assert box.fields["along"].isHidden()
    known = [(0.0, 0.0), (1000.0, 0.0), (1000.0, 500.0)]
    points = [(300.0, 400.0), (500.0, 350.0), (700.0, 420.0)]
    rows = [[dist(place, at) for place in known] for at in points]
    rows[1][2] += 50.0
    text = "\n".join("\t".join(f"{reading:.1f}" for reading in row) for row in rows)
    QGuiApplication.clipboard().setText(text)
    box.table.setCurrentCell(0, 0)
    qtbot.keyClick(box.table, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    QApplication.processEvents()
    assert signs(box) == ["✓", "?", "✓"]
    assert "misread" in box.told.text()
    assert "misread" in box.table.item(1, 3).toolTip()
    box.table.setCurrentCell(0, 0)
    assert box.told.text().startswith("Row 1: the tapes agree to")
    make(box)
    (outline,) = box._document.project.outlines
    assert outline.points[0] == pytest.approx(points[0], abs=0.2)
    assert outline.uncertain > 1.0
    next(each for each in box.findChildren(QPushButton) if each.text() == "Empty table").click()
    QApplication.processEvents()
    assert box.table_told.rows == ()


def test_folding_it_takes_the_drawing_away(box: TapedBox, window: Window, qtbot: QtBot) -> None:
    type_rows(qtbot, box, [("0", "100"), ("250", "120")])
    assert window.board.scene.has("measured points")
    window.trace.measured_button.click()
    assert not window.board.scene.has("measured points")
    window.trace.measured_button.click()
    assert window.board.scene.has("measured points")


def test_each_measured_point_has_its_square_the_last_one_too(
    box: TapedBox, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown: list[tuple[tuple[float, float], ...]] = []
    scene = box._board.scene
    show = scene.show_shapes

    def watched(name: str, shapes: list[Shape]) -> None:
        shown.extend(shape.at for shape in shapes if isinstance(shape, Symbol))
        show(name, shapes)

    monkeypatch.setattr(scene, "show_shapes", watched)
    type_rows(qtbot, box, [("0", "100"), ("250", "120")])
    qtbot.waitUntil(lambda: shown[-1:] == [((0.0, 100.0), (250.0, 120.0))])


def test_too_few_rows_are_told(box: TapedBox) -> None:
    said: list[str] = []
    box._document.noticed.connect(said.append)
    make(box)
    assert "0 points" in said[-1]


def test_the_third_tape_can_be_typed_after_rows_of_two_lengths(box: TapedBox, qtbot: QtBot) -> None:
    type_rows(qtbot, box, [("360.6", "854.4"), ("531.5", "649.6")])  # read by station and offset, and told so
    box.way.choose("three")
    box.way.activated.emit(box.way.currentIndex())
    type_rows(qtbot, box, [("360.6", "854.4", "824.6")])
    assert box.table.rows() == [("360.6", "854.4", "824.6"), ("531.5", "649.6", "")]


def type_on(qtbot: QtBot, box: TapedBox, row: int, column: int, *keys: str) -> None:
    """Click a cell and type on from there, each text ended by the key whose name comes after it."""
    index = box.table.model().index(row, column)
    qtbot.mouseClick(box.table.viewport(), Qt.MouseButton.LeftButton, pos=box.table.visualRect(index).center())
    for text, end in zip(keys[::2], keys[1::2], strict=True):
        editor = QApplication.focusWidget()
        if not isinstance(editor, QLineEdit):
            qtbot.keyClicks(box.table, text[:1])
            editor, text = QApplication.focusWidget(), text[1:]  # noqa: PLW2901  the cell took the first letter
        qtbot.keyClicks(editor, text)
        qtbot.keyClick(editor, getattr(Qt.Key, f"Key_{end}"))
        QApplication.processEvents()


def test_tab_along_a_row_and_enter_go_on_at_the_next_row_where_this_one_began(box: TapedBox, qtbot: QtBot) -> None:
    type_on(qtbot, box, 0, 0, "0", "Tab", "262", "Return", "600", "Tab", "297", "Tab", "1190", "Tab", "262", "Return")
    assert box.table.rows() == [("0", "262"), ("600", "297"), ("1190", "262")]
    type_on(qtbot, box, 0, 1, "260", "Return", "290", "Return")  # down a column, too
    assert box.table.rows() == [("0", "260"), ("600", "290"), ("1190", "262")]
    type_on(qtbot, box, 1, 0, "500", "Backtab", "261", "Return")
    assert box.table.rows() == [("0", "261"), ("500", "290"), ("1190", "262")]
    many = [key for n in range(9) for key in (str(n), "Tab", "7", "Tab")]  # beyond the rows that are there at first
    type_on(qtbot, box, 0, 0, *many, "9", "Tab", "7", "Return")
    assert box.table.rows() == [(str(n), "7") for n in range(10)]


def test_readings_of_the_third_tape_come_back_with_it(box: TapedBox, qtbot: QtBot) -> None:
    def choose(way: str) -> None:
        box.way.choose(way)
        box.way.activated.emit(box.way.currentIndex())

    choose("three")
    rows = [("360.6", "854.4", "824.6"), ("531.5", "649.6", "649.6")]
    type_rows(qtbot, box, rows)
    for between in ("two", "chain"):
        choose(between)
        assert box.table.rows() == [row[:2] for row in rows]
        choose("three")
        assert box.table.rows() == rows
    choose("two")
    next(each for each in box.findChildren(QPushButton) if each.text() == "Empty table").click()
    choose("three")
    assert box.table.rows() == []
