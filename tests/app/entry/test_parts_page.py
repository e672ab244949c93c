"""The list of parts: selected both ways, changed in place by keys and mouse, one step for each change."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QModelIndex, QPoint, Qt
from PySide6.QtWidgets import QApplication, QLineEdit

from app.checks import ChecksPanel
from app.document import Document, Selection
from app.entry.parts_model import LOCKED, NAME, SHOWN, PartsModel, Row, X, Y, rows_of
from app.look import light
from app.preferences import Preferences
from kinematics import edits
from tests import specimens
from tests.app.sharing import demo

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.entry.parts_page import PartsPage, PartsTable
    from app.window import Window
    from kinematics.project import Project

Key, Modifier = Qt.Key, Qt.KeyboardModifier


@pytest.fixture
def document(qapp: object) -> Document:
    return Document(demo())


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> ChecksPanel:
    panel = ChecksPanel(document, light())
    panel.set_look(light())
    qtbot.addWidget(panel)
    panel.resize(330, 760)
    with qtbot.waitExposed(panel):
        panel.show()
    return panel


@pytest.fixture
def page(panel: ChecksPanel, qtbot: QtBot) -> PartsPage:
    qtbot.mouseClick(panel.entry.list_button, Qt.MouseButton.LeftButton)
    assert panel.entry.parts.isVisible()
    return panel.entry.parts


def cell(page: PartsPage, row: Row, column: int) -> QModelIndex:
    return page.table.parts.index(page.table.parts.rows.index(row), column)


def spot(table: PartsTable, index: QModelIndex) -> QPoint:
    table.scrollTo(index)
    QApplication.processEvents()
    return table.visualRect(index).center()


def click(
    qtbot: QtBot, page: PartsPage, row: Row, column: int = NAME, modifier: Qt.KeyboardModifier = Modifier.NoModifier
) -> None:
    index = cell(page, row, column)
    qtbot.mouseClick(page.table.viewport(), Qt.MouseButton.LeftButton, modifier, spot(page.table, index))


def type_in(qtbot: QtBot, page: PartsPage, text: str) -> None:
    """Type into the cell that the keyboard is on, as one does: F2, all of it anew, Enter."""
    qtbot.keyClick(page.table, Key.Key_F2)
    editor = page.table.findChild(QLineEdit)
    assert editor is not None
    editor.selectAll()
    qtbot.keyClick(editor, Key.Key_Delete)
    qtbot.keyClicks(editor, text)
    qtbot.keyClick(editor, Key.Key_Return)
    QApplication.processEvents()


# ------------------------------------------------------------------------------------------------------------- the rows
def test_every_part_has_a_row_under_the_heading_of_its_kind() -> None:
    rows = rows_of(specimens.demo_six_bar, frozenset())
    project = specimens.demo_six_bar
    parts = (*project.pivots, *project.links, *project.outlines, *project.marks)
    assert [row.id for row in rows if row.id] == [*(part.id for part in parts), "on hatch"]  # a mass goes by its link
    assert [row.kind for row in rows if not row.id] == ["pivot", "link", "outline", "mark", "mass"]


@pytest.mark.parametrize("name", sorted(specimens.ALL))
def test_all_cells_of_all_specimens_say_what_they_are(qapp: object, name: str) -> None:
    model = PartsModel(Document(specimens.ALL[name]))
    for outline in specimens.ALL[name].outlines:
        model.unfold(outline.id)
    for place, row in enumerate(model.rows):
        for column in range(model.columnCount()):
            index = model.index(place, column)
            told = index.data(Qt.ItemDataRole.AccessibleTextRole)
            assert told
            assert row.id in told
            assert "nan" not in told.lower()
            assert (index.data(Qt.ItemDataRole.CheckStateRole) is not None) == (
                bool(row.id)
                and row.part is None
                and row.kind not in ("zone", "mass", "handle", "device")
                and (column == SHOWN or (column == LOCKED and row.kind != "link"))
            )


# ------------------------------------------------------------------------------------------------------- selected alike
def test_a_click_selects_and_the_selected_row_is_marked(page: PartsPage, document: Document, qtbot: QtBot) -> None:
    click(qtbot, page, Row("link", "arm"))
    assert document.selection == Selection("link", "arm")
    document.select(Selection("mark", "rear corner"))
    assert page.table.row_now() == Row("mark", "rear corner")
    assert {index.row() for index in page.table.selectedIndexes()} == {page.table.currentIndex().row()}
    document.select(None)
    assert page.table.selectedIndexes() == []


def test_several_rows_are_several_things(page: PartsPage, document: Document, qtbot: QtBot) -> None:
    click(qtbot, page, Row("pivot", "O1"))
    click(qtbot, page, Row("pivot", "X"), modifier=Modifier.ShiftModifier)
    assert {each.id for each in document.selections} == {"O1", "O2", "X"}
    assert document.selection == Selection("pivot", "X")
    document.select_all([Selection("pivot", "B"), Selection("link", "arm")])
    chosen = {page.table.parts.rows[index.row()].id for index in page.table.selectedIndexes()}
    assert chosen == {"B", "arm"}


def test_arrow_keys_go_through_the_parts_and_pass_the_headings_by(
    page: PartsPage, document: Document, qtbot: QtBot
) -> None:
    click(qtbot, page, Row("pivot", "P2"))
    qtbot.keyClick(page.table, Key.Key_Down)
    assert document.selection == Selection("link", "bulkhead")
    qtbot.keyClick(page.table, Key.Key_Up)
    assert document.selection == Selection("pivot", "P2")


def test_a_point_selected_on_the_board_unfolds_its_outline(page: PartsPage, document: Document) -> None:
    document.select(Selection("outline", "hatch skin", 2))
    assert page.table.row_now() == Row("outline", "hatch skin", 2)


def test_outlines_are_folded_by_keys_and_by_their_sign(page: PartsPage, document: Document, qtbot: QtBot) -> None:
    row = Row("outline", "hatch skin")
    click(qtbot, page, row)
    count = len(page.table.parts.rows)
    qtbot.keyClick(page.table, Key.Key_Right)
    assert len(page.table.parts.rows) == count + len(document.project.outline("hatch skin").points)
    assert document.selection == Selection("outline", "hatch skin")
    qtbot.keyClick(page.table, Key.Key_Left)
    assert len(page.table.parts.rows) == count
    at = page.table.visualRect(cell(page, row, NAME))
    qtbot.mouseClick(page.table.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(at.left() + 6, at.center().y()))
    assert page.table.parts.is_unfolded("hatch skin")
    assert "unfolded" in cell(page, row, NAME).data(Qt.ItemDataRole.AccessibleTextRole)


# ----------------------------------------------------------------------------------------------------- changed in place
@pytest.mark.parametrize(
    ("row", "column", "text", "at"),
    [
        (Row("pivot", "X"), X, "25.4/2", (12.7, 213.0)),
        (Row("pivot", "X"), Y, '8 1/2"', (125.0, 215.9)),
        (Row("mark", "rear corner"), Y, "300,5 mm", (-28.0, 300.5)),
        (Row("outline", "hatch skin", 1), X, "-30", (-30.0, 312.0)),
    ],
)
def test_a_coordinate_is_typed_as_one_step(
    page: PartsPage, document: Document, qtbot: QtBot, row: Row, column: int, text: str, at: tuple[float, float]
) -> None:
    def place(project: Project) -> tuple[float, float]:
        if row.part is not None:
            return project.outline(row.id).points[row.part]
        return project.pivot(row.id).at if row.kind == "pivot" else project.mark(row.id).at

    before = document.project
    document.select(row.selection)
    click(qtbot, page, row, column)
    type_in(qtbot, page, text)
    assert place(document.project) == pytest.approx(at, abs=1e-9)
    assert document.undo_label.startswith("Move ")
    assert page.table.currentIndex() == cell(page, row, column), "the keyboard stays where it was"
    document.undo()
    assert document.project is before
    assert not document.can_undo


def test_a_wrong_coordinate_is_told_and_the_old_one_stays(page: PartsPage, document: Document, qtbot: QtBot) -> None:
    before = document.project
    click(qtbot, page, Row("pivot", "X"), X)
    for text in ("", "abc", "1e99", "9" * 30, "0/0", "12 13"):
        type_in(qtbot, page, text)
        assert page.said.isVisible()
        assert page.said.text().startswith("✗ ")
        assert page.said.text().endswith("Still 125.")
        assert document.project is before
    type_in(qtbot, page, "126")
    assert not page.said.isVisible()


@pytest.mark.parametrize(
    ("row", "name"),
    [
        (Row("pivot", "X"), "crossing"),
        (Row("link", "arm"), "rear arm"),
        (Row("outline", "hatch skin"), "skin"),
        (Row("mark", "rear corner"), "corner"),
    ],
)
def test_a_name_is_typed_in_place_and_stays_selected(
    page: PartsPage, document: Document, qtbot: QtBot, row: Row, name: str
) -> None:
    if row.kind == "outline":
        page.table.parts.unfold(row.id)
    click(qtbot, page, row)
    type_in(qtbot, page, f" {name} ")
    assert document.selection == Selection(row.kind, name)
    assert page.table.row_now() == Row(row.kind, name)
    assert document.undo_label == f"Rename {row.kind} {row.id}"
    assert page.table.parts.is_unfolded(name) == (row.kind == "outline")
    document.undo()
    assert not document.can_undo


def test_a_name_that_is_taken_is_told(page: PartsPage, document: Document, qtbot: QtBot) -> None:
    click(qtbot, page, Row("pivot", "X"))
    type_in(qtbot, page, "O1")
    assert "twice" in page.said.text()
    assert page.said.text().endswith("Still X.")
    assert not document.can_undo


@pytest.mark.parametrize("by", ["mouse", "keys"])
def test_boxes_hide_and_lock(page: PartsPage, document: Document, qtbot: QtBot, by: str) -> None:
    row = Row("mark", "rear corner")
    for column, verb in ((SHOWN, "Hide"), (LOCKED, "Lock")):
        if by == "mouse":
            click(qtbot, page, row, column)
        else:
            document.select(row.selection)
            page.table.setCurrentIndex(cell(page, row, column))
            qtbot.keyClick(page.table, Key.Key_Space)
        assert document.undo_label == f"{verb} mark rear corner"
    mark = document.project.mark("rear corner")
    assert (mark.hidden, mark.locked) == (True, True)
    assert cell(page, row, SHOWN).data(Qt.ItemDataRole.AccessibleTextRole) == "mark rear corner: hidden"
    assert cell(page, row, LOCKED).data(Qt.ItemDataRole.AccessibleTextRole) == "mark rear corner: locked"
    qtbot.mouseClick(page.show_hidden, Qt.MouseButton.LeftButton)
    assert not document.project.mark("rear corner").hidden
    assert not page.show_hidden.isEnabled()


def test_parts_are_put_in_another_order(page: PartsPage, document: Document, qtbot: QtBot) -> None:
    click(qtbot, page, Row("pivot", "X"))
    qtbot.keyClick(page.table, Key.Key_Up, Modifier.AltModifier)
    assert [pivot.id for pivot in document.project.pivots][:3] == ["O1", "X", "O2"]
    assert document.undo_label == "Put pivot X further up"
    assert page.table.row_now() == Row("pivot", "X")
    qtbot.mouseClick(page.down, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(page.down, Qt.MouseButton.LeftButton)
    assert [pivot.id for pivot in document.project.pivots][:4] == ["O1", "O2", "B", "X"]
    assert document.selection == Selection("pivot", "X")


def test_the_menu_of_a_row(page: PartsPage, document: Document, qtbot: QtBot) -> None:
    document.select(Selection("outline", "hatch skin"))
    menu = page.table.menu_of(Row("outline", "hatch skin"))
    words = [action.text() for action in menu.actions()]
    assert words[:4] == ["Rename\tF2", "Unfold the points\tRight", "Further up\tAlt+Up", "Further down\tAlt+Down"]
    assert "Hide outline hatch skin\tH" in words
    menu.actions()[1].trigger()
    assert page.table.parts.is_unfolded("hatch skin")


def test_units_and_habits_are_taken_over(page: PartsPage, document: Document) -> None:
    index = cell(page, Row("pivot", "X"), X)
    document.set_preferences(Preferences(sign="comma"))
    document.apply("Move", edits.move_pivot(document.project, "X", (12.75, 0.0)))
    assert index.data() == "12,75"
    document.apply("Show inches", edits.set_units(document.project, "in"))
    assert index.data() == "0,502"
    assert page.table.parts.headerData(X, Qt.Orientation.Horizontal) == "x, in"


# ------------------------------------------------------------------------------------------------------------ the panel
def test_the_list_stays_while_other_things_are_selected(
    panel: ChecksPanel, page: PartsPage, document: Document, qtbot: QtBot
) -> None:
    document.select(Selection("pivot", "Q"))
    assert page.isVisible()
    qtbot.mouseClick(panel.entry.part_button, Qt.MouseButton.LeftButton)
    assert not page.isVisible()
    document.select(Selection("pivot", "X"))
    assert not page.isVisible()


def test_the_list_has_more_room_and_gives_it_back(panel: ChecksPanel, qtbot: QtBot) -> None:
    before = panel.split.sizes()
    panel.entry.show_parts()
    assert panel.entry.height() > before[1]
    panel.entry.show_wants()
    assert panel.split.sizes() == before


def test_the_window_turns_to_it_by_a_key_and_board_and_list_agree(window: Window, qtbot: QtBot) -> None:
    qtbot.keyClick(window, Key.Key_L, Modifier.ControlModifier)
    table = window.checks.entry.parts.table
    assert table.hasFocus()
    at = window.board.view.to_px(window.document.project.pivot("Q").at).toPoint()
    qtbot.mouseClick(window.board.view.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert table.row_now() == Row("pivot", "Q")
    table.setFocus()
    qtbot.keyClick(table, Key.Key_Delete)
    assert all(pivot.id != "Q" for pivot in window.document.project.pivots)
    assert window.document.undo_label == "Remove pivot Q"


def test_a_long_outline_unfolds_without_measuring_all_of_it(qtbot: QtBot) -> None:
    points = tuple((float(place), float(place % 7)) for place in range(5000))
    project = edits.replace_outline(demo(), "hatch skin", edits.replace(demo().outline("hatch skin"), points=points))
    model = PartsModel(Document(project))
    model.unfold("hatch skin")
    assert model.rowCount() > 5000


def test_delete_takes_out_the_point_not_the_outline(page: PartsPage, document: Document, qtbot: QtBot) -> None:
    count = len(document.project.outline("hatch skin").points)
    document.select(Selection("outline", "hatch skin", 1))
    qtbot.keyClick(page.table, Key.Key_Delete)
    assert len(document.project.outline("hatch skin").points) == count - 1
    document.select_all([Selection("pivot", "Q"), Selection("mark", "rear corner")])
    qtbot.mouseClick(page.remove, Qt.MouseButton.LeftButton)
    assert not document.project.marks
    assert document.undo_label == "Remove 2 things"
