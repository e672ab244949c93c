"""The list of parts: everything that the board shows, as a table that the keyboard and a screen reader reach.

What is selected here is selected on the board, and the other way round; several rows with Shift or Ctrl. The table
changes names, coordinates, what is shown and what is locked in place; beneath it parts are put in another order or
taken out.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QItemSelection, QItemSelectionModel, Qt
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QMenu,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from app.board import actions
from app.board.menu import add_part_actions
from app.entry.form import push_button
from app.entry.parts_model import FOLDING, LOCKED, NAME, RENAMERS, SHOWN, PartsModel, X, Y
from app.fields import named
from app.icons import icon
from app.removing import remove_all
from app.ticks import TickDelegate
from kinematics import arranging

if TYPE_CHECKING:
    from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QShowEvent

    from app.document import Document
    from app.entry.parts_model import Row
    from app.look import Look

ROW_HEIGHT = 22
TICK_WIDTH = 28
SMALL = 14  # pixels of a picture above a column
FOLD_PX = 16  # how far the sign before an outline's name reaches
TABLE_HEIGHT = 190


class PartsTable(QTableView):
    """The table itself."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self.parts = PartsModel(document)
        named(
            self,
            "Parts of this hinge",
            "Every pin, link, outline, mark and zone. Arrow keys go through it; F2 or Enter types, Space ticks, Right "
            "and Left fold the points of an outline or zone, Alt with Up and Down changes the order, Delete takes out.",
        )
        self.setModel(self.parts)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.DoubleClicked | QAbstractItemView.EditTrigger.EditKeyPressed)
        self.setTabKeyNavigation(False)  # Tab leaves the table, as it leaves every other control
        self.setWordWrap(False)
        self.setShowGrid(False)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.DefaultContextMenu)
        self._lay_out()
        self._syncing = False
        self.selectionModel().selectionChanged.connect(self._tell_selection)

    def _lay_out(self) -> None:
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(ROW_HEIGHT)
        header = self.horizontalHeader()
        header.setMinimumSectionSize(TICK_WIDTH)
        header.setHighlightSections(False)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setResizeContentsPrecision(0)  # by what is seen: an outline may have thousands of points
        header.setSectionResizeMode(NAME, QHeaderView.ResizeMode.Stretch)
        for column in (X, Y):
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.ResizeToContents)
        self._boxes = TickDelegate(self)
        for column in (SHOWN, LOCKED):
            self.setItemDelegateForColumn(column, self._boxes)
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
            header.resizeSection(column, TICK_WIDTH)

    def set_look(self, look: Look) -> None:
        """Take other colours."""
        self.parts.icons = {SHOWN: icon("shown", look.ink, SMALL), LOCKED: icon("locked", look.ink, SMALL)}
        self.parts.headerDataChanged.emit(Qt.Orientation.Horizontal, NAME, LOCKED)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Stand on the first part where the keyboard stood nowhere: from no row, or a heading, arrows lead nowhere."""
        if not self.currentIndex().isValid() and event.reason() != Qt.FocusReason.MouseFocusReason:
            place = next((at for at, row in enumerate(self.parts.rows) if row.id), None)
            if place is not None:
                here = self.parts.index(place, NAME)
                self.selectionModel().setCurrentIndex(here, QItemSelectionModel.SelectionFlag.NoUpdate)
        super().focusInEvent(event)

    def row_now(self) -> Row | None:
        """Give the row that the keyboard is on."""
        place = self.currentIndex().row()
        return self.parts.rows[place] if 0 <= place < len(self.parts.rows) else None

    # Selection, both ways --------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        """Show the newest project; the row and the column that the keyboard is on stay."""
        column = max(self.currentIndex().column(), NAME)
        before = self.parts.rows
        self._syncing = True
        self.parts.refresh()
        self._syncing = False
        if self.parts.rows != before:
            self.show_selection(column)

    def show_selection(self, column: int | None = None) -> None:
        """Mark the rows of what is selected in the document."""
        selections = self._document.selections
        for each in selections:
            if each.part is not None and each.kind in FOLDING:
                self.parts.unfold(each.id)
        places = [place for each in selections if (place := self.parts.row_of(each)) is not None]
        wanted = QItemSelection()
        for place in places:
            wanted.select(self.parts.index(place, NAME), self.parts.index(place, LOCKED))
        self._syncing = True
        model = self.selectionModel()
        model.select(wanted, QItemSelectionModel.SelectionFlag.ClearAndSelect)
        if places and self.currentIndex().row() != places[-1]:
            column = max(self.currentIndex().column(), NAME) if column is None else column
            here = self.parts.index(places[-1], column)
            model.setCurrentIndex(here, QItemSelectionModel.SelectionFlag.NoUpdate)
            self.scrollTo(here)
        self._syncing = False

    def _tell_selection(self) -> None:
        """Select in the document what is selected here, the row that the keyboard is on last."""
        if self._syncing:
            return
        here = self.currentIndex().row()
        places = sorted(
            {index.row() for index in self.selectionModel().selectedIndexes()}, key=lambda at: (at == here, at)
        )
        chosen = [self.parts.rows[place].selection for place in places]
        self._document.select_all(each for each in chosen if each is not None)

    # Hands and keys --------------------------------------------------------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A press on the sign before an outline's name folds or unfolds its points."""
        index = self.indexAt(event.position().toPoint())
        row = self.parts.rows[index.row()] if index.isValid() else None
        on_sign = event.position().x() < self.visualRect(index).left() + FOLD_PX
        super().mousePressEvent(event)
        if (
            row is not None
            and row.kind in FOLDING
            and row.id
            and row.part is None
            and index.column() == NAME
            and on_sign
        ):
            self.parts.unfold(row.id, not self.parts.is_unfolded(row.id))
            self.show_selection()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Fold and unfold, put in order, type; what isn't known here is the table's or the window's."""
        row, key, alone = self.row_now(), event.key(), event.modifiers() == Qt.KeyboardModifier.NoModifier
        if self.state() == QAbstractItemView.State.EditingState:
            super().keyPressEvent(event)  # Enter ends the typing and comes by here too
        elif row is not None and self._do(row, key, event.modifiers()):
            event.accept()
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace) and alone:
            self.remove_chosen()
        elif key == Qt.Key.Key_Escape:
            event.ignore()
        else:
            super().keyPressEvent(event)

    def _do(self, row: Row, key: int, modifiers: Qt.KeyboardModifier) -> bool:
        index = self.currentIndex()
        is_fold = row.kind in FOLDING and row.part is None and index.column() == NAME
        if modifiers == Qt.KeyboardModifier.AltModifier and key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.put(-1 if key == Qt.Key.Key_Up else 1)
        elif modifiers & ~Qt.KeyboardModifier.KeypadModifier:
            return False
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and index.flags() & Qt.ItemFlag.ItemIsEditable:
            self.edit(index)
        elif key == Qt.Key.Key_Right and is_fold and not self.parts.is_unfolded(row.id):
            self.parts.unfold(row.id)
            self.show_selection()
        elif key == Qt.Key.Key_Left and is_fold and self.parts.is_unfolded(row.id):
            self.parts.unfold(row.id, unfolded=False)
            self.show_selection()
        else:
            return False
        return True

    def put(self, step: int) -> None:
        """Move the part that the keyboard is on down its list (negative: up)."""
        row = self.row_now()
        if row is None or not row.id or row.kind not in arranging.LISTS:
            return
        way = "up" if step < 0 else "down"
        self._document.attempt(
            f"Put {row.kind} {row.id} further {way}", lambda project: arranging.reorder(project, row.kind, row.id, step)
        )

    def remove_chosen(self) -> None:
        """Take out what is selected: parts, or single points of an outline."""
        chosen = self._document.selections
        if len(chosen) == 1 and chosen[0].part is not None:
            actions.delete_part(self._document, chosen[0])
        elif chosen:
            remove_all(self._document, chosen)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Open the menu of the part: by the right button, or by the menu key where the keyboard is."""
        by_mouse = event.reason() == QContextMenuEvent.Reason.Mouse
        index = self.indexAt(event.pos()) if by_mouse else self.currentIndex()
        row = self.parts.rows[index.row()] if index.isValid() else None
        if row is not None and row.id:
            menu = self.menu_of(row)
            menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
            menu.popup(event.globalPos() if by_mouse else self.viewport().mapToGlobal(self.visualRect(index).center()))

    def menu_of(self, row: Row) -> QMenu:
        """Make the menu of a part."""
        menu, place = QMenu(self), self.parts.rows.index(row)
        if row.part is None and row.kind in RENAMERS:
            menu.addAction("Rename\tF2", lambda: self.edit(self.parts.index(place, NAME)))
        if row.kind in FOLDING and row.part is None:
            unfolded = self.parts.is_unfolded(row.id)
            points = "ends" if row.kind == "device" else "points"
            words = f"Fold the {points}\tLeft" if unfolded else f"Unfold the {points}\tRight"
            menu.addAction(words, lambda: self.parts.unfold(row.id, not unfolded))
        if row.kind in arranging.LISTS:
            menu.addAction("Further up\tAlt+Up", lambda: self.put(-1))
            menu.addAction("Further down\tAlt+Down", lambda: self.put(1))
            menu.addSeparator()
        add_part_actions(menu, self._document, row.kind, row.id)
        return menu


class PartsPage(QWidget):
    """The table with what is said of it, and the buttons beneath."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.setObjectName("page")
        self._document = document
        self.table = PartsTable(document)
        self.table.setMinimumHeight(TABLE_HEIGHT)
        self.said = QLabel()
        self.said.setObjectName("fault")
        self.said.setWordWrap(True)
        self.said.setTextFormat(Qt.TextFormat.PlainText)
        self.said.hide()
        self.table.parts.said = self._say
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 4, 12, 8)
        column.setSpacing(6)
        column.addWidget(self.table, 1)
        column.addWidget(self.said)
        column.addLayout(self._buttons())
        document.changed.connect(self._refresh)
        document.selected.connect(self._show_selection)
        document.restyled.connect(self._refresh)

    def _buttons(self) -> QHBoxLayout:
        self.up = push_button("Up", "Put the selected part further up its list (Alt+Up).", lambda: self.table.put(-1))
        self.down = push_button(
            "Down",
            "Put the selected part further down its list (Alt+Down). What stands lower is drawn over the others.",
            lambda: self.table.put(1),
        )
        self.remove = push_button("Remove", "Take out what is selected (Delete).", self.table.remove_chosen)
        self.show_hidden = push_button(
            "Show all", "Show every part that is hidden.", lambda: actions.show_hidden(self._document)
        )
        row = QHBoxLayout()
        row.setSpacing(6)
        for button in (self.up, self.down, self.remove, self.show_hidden):
            row.addWidget(button)
        row.addStretch(1)
        return row

    def set_look(self, look: Look) -> None:
        """Take other colours."""
        self.table.set_look(look)

    def showEvent(self, event: QShowEvent) -> None:
        """Bring the list up to date when the page is turned to."""
        super().showEvent(event)
        self._refresh()
        self._show_selection()

    def _refresh(self) -> None:
        if self.isVisible():
            self.table.refresh()
            self._enable()

    def _show_selection(self) -> None:
        if self.isVisible():
            self.table.show_selection()
            self._enable()

    def _enable(self) -> None:
        chosen = self._document.selection
        self.remove.setEnabled(chosen is not None)
        for button in (self.up, self.down):
            button.setEnabled(chosen is not None and chosen.kind in arranging.LISTS)
        self.show_hidden.setEnabled(arranging.hidden_count(self._document.project) > 0)

    def _say(self, sentence: str) -> None:
        self.said.setText(sentence)
        self.said.setVisible(bool(sentence))
