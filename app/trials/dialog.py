"""The sheet of trials: keep the present layout, compare all in a table and one on the board, return, branch, delete.

It stands beside the work, so that a trial can be held against what is being dragged. *Beside* shows the chosen trial in
thin lines on the board, at the opening that is looked at. Returning is a step that Undo undoes; to *branch* is to keep
what is on the board before returning, so that both go on.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from app.buttons import StayingDialog, close_only
from app.dialog_places import undo_from
from app.drawers.starts import paint_miniature
from app.entry.form import push_button
from app.fields import named
from app.ticks import TickBox
from app.trials.figure_words import NAME, NOTE, PICTURE
from app.trials.kept import free_name, keep_trial, move_trial, remove_trial, return_to
from app.trials.picture import small_picture
from app.trials.table import PICTURE_SIZE, TrialsModel

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtCore import QModelIndex, QPersistentModelIndex

    from app.document import Document
    from app.look import Look
    from app.trials.beside import Beside
    from app.trials.readings import Readings
    from kinematics.analysis import Analysis
    from kinematics.layouts import Miniature
    from kinematics.project import Project

EMPTY = "No trial is kept yet. Keep the layout on the board, go on, and compare."


class _PictureDelegate(QStyledItemDelegate):
    """Paints the small picture of a row."""

    def __init__(self, model: TrialsModel, look: Callable[[], Look], parent: QWidget) -> None:
        super().__init__(parent)
        self._model, self._look = model, look
        self._known: dict[int, tuple[Analysis, Miniature]] = {}

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Paint the row's background as every cell has it, then the picture."""
        super().paint(painter, option, index)
        analysis = self._model.analysis(index.row())
        if analysis is None:
            return
        found = self._known.get(index.row())
        if found is None or found[0] is not analysis:
            found = self._known[index.row()] = (analysis, small_picture(analysis))
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        area = QRectF(option.rect).adjusted(4, 4, -4, -4)
        painter.setClipRect(area)
        paint_miniature(painter, area, found[1], self._look())
        painter.restore()


class _Table(QTableView):
    """The table; Enter on a row, unless something is being typed there, is told by `entered_row`."""

    entered_row = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter is for the row, not for the sheet."""
        typing = self.state() == QAbstractItemView.State.EditingState
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not typing:
            self.entered_row.emit()
        else:
            super().keyPressEvent(event)


class TrialsDialog(StayingDialog):
    """The sheet; it goes on showing the document's trials as long as it is open."""

    def __init__(
        self, document: Document, readings: Readings, beside: Beside, look: Callable[[], Look], parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Trials")
        self.setObjectName("trials")  # by which the help knows it
        self.setAccessibleName("Trials")
        self._document, self._readings, self._beside = document, readings, beside
        self.model = TrialsModel(document, readings)
        self._build(look)
        document.changed.connect(self._refresh)
        document.analysed.connect(self._refresh)
        document.restyled.connect(self._refresh)
        readings.read.connect(self._refresh)
        undo_from(self, document)
        self.resize(1180, 330)
        self._refresh()

    def _build(self, look: Callable[[], Look]) -> None:
        column = QVBoxLayout(self)
        self.hint = QLabel(EMPTY)
        self.hint.setWordWrap(True)
        column.addWidget(self.hint)
        self.table = _Table()
        named(
            self.table,
            "Trials and their key figures",
            "A row a layout, the one on the board first; the best figure of a column is bold. Arrow keys go through "
            "it, F2 types a name or a note, Enter returns to the trial.",
        )
        self.table.setModel(self.model)
        self.table.setItemDelegateForColumn(PICTURE, _PictureDelegate(self.model, look, self.table))
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.setTabKeyNavigation(False)
        self.table.verticalHeader().hide()
        self.table.verticalHeader().setDefaultSectionSize(PICTURE_SIZE.height())
        header = self.table.horizontalHeader()
        header.setHighlightSections(False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(NAME, QHeaderView.ResizeMode.Interactive)
        header.resizeSection(NAME, 130)
        header.setSectionResizeMode(NOTE, QHeaderView.ResizeMode.Stretch)
        self.table.selectionModel().currentRowChanged.connect(lambda *_: self._choose())
        self.model.modelReset.connect(self._choose)
        self.table.entered_row.connect(self.go_back)
        column.addWidget(self.table, 1)
        self._build_buttons(column)

    def _build_buttons(self, column: QVBoxLayout) -> None:
        row = QHBoxLayout()
        self.keep = push_button(
            "Keep this layout", "Keep the layout on the board as a trial, by a name of your own.", self.keep_present
        )
        self.back = push_button(
            "Return to it", "Make the chosen trial the layout on the board. One step; Undo brings back.", self.go_back
        )
        self.branch = push_button(
            "Keep, then return",
            "Keep what is on the board as a trial first, then return to the chosen one: both go on.",
            self.keep_and_go_back,
        )
        self.up = push_button("Up", "Put the chosen trial one row higher.", lambda: self._move(-1))
        self.down = push_button("Down", "Put the chosen trial one row lower.", lambda: self._move(1))
        self.delete = push_button("Delete", "Take the chosen trial out. Undo brings it back.", self.take_out)
        self.shows = TickBox("Show it on the board")
        named(
            self.shows,
            "Show it on the board",
            "Draw the chosen trial over the board in thin dashed lines, at the opening that is looked at.",
        )
        self.shows.toggled.connect(lambda _: self._choose())
        for button in (self.keep, self.back, self.branch, self.up, self.down, self.delete):
            row.addWidget(button)
        row.addStretch(1)
        row.addWidget(self.shows)
        column.addLayout(row)
        box = close_only()
        box.rejected.connect(self.close)
        column.addWidget(box)
        self.keep.setFocus()

    # Showing ---------------------------------------------------------------------------------------------------------

    @property
    def place(self) -> int | None:
        """The place of the chosen trial among the trials; None for the layout on the board, or nothing."""
        row = self.table.currentIndex().row()
        return row - 1 if 0 < row < self.model.rowCount() else None

    def _refresh(self, _: object = None) -> None:
        if self._document.is_dragging and self.model.trials == self._readings.trials:
            self.model.tell_figures()
            return
        row = self.table.currentIndex().row()
        self.model.refresh()
        if self.table.currentIndex().row() < 0 <= row:
            self.table.setCurrentIndex(self.model.index(min(row, self.model.rowCount() - 1), NAME))
        self.hint.setVisible(not self.model.trials)
        self._choose()

    def _choose(self) -> None:
        """Let the buttons and the board follow the chosen trial."""
        place = self.place
        trial = None if place is None else self.model.trials[place]
        readable = trial is not None and trial.project is not None
        for button in (self.back, self.branch):
            button.setEnabled(readable)
        self.up.setEnabled(place is not None and place > 0)
        self.down.setEnabled(place is not None and place + 1 < len(self.model.trials))
        self.delete.setEnabled(trial is not None)
        self.shows.setEnabled(readable)
        shown = trial if readable and self.shows.isChecked() else None
        self._beside.show(None if shown is None else self._readings.read_now(shown))

    # Doing -----------------------------------------------------------------------------------------------------------

    def keep_present(self) -> None:
        """Keep the layout on the board, under a name that can be typed over at once."""
        name = free_name(self._document.project)
        if self._document.attempt(f"Keep {name}", lambda project: keep_trial(project, name)):
            index = self.model.index(self.model.rowCount() - 1, NAME)
            self.table.setCurrentIndex(index)
            self.table.edit(index)

    def go_back(self) -> None:
        """Return to the chosen trial, one step."""
        place = self.place
        if place is not None:
            name = self.model.trials[place].name
            self._document.attempt(f"Return to {name}", lambda project: return_to(project, place))

    def keep_and_go_back(self) -> None:
        """Keep what is on the board, and return to the chosen trial: one step."""
        place = self.place
        if place is None:
            return

        def both(project: Project) -> Project:
            return return_to(keep_trial(project, free_name(project)), place)

        self._document.attempt(f"Return to {self.model.trials[place].name}", both)

    def take_out(self) -> None:
        """Take the chosen trial out."""
        place = self.place
        if place is not None:
            self._document.attempt(
                f"Delete {self.model.trials[place].name}", lambda project: remove_trial(project, place)
            )

    def _move(self, by: int) -> None:
        place = self.place
        if place is not None:
            self._document.attempt("Order of trials", lambda project: move_trial(project, place, place + by))
            self.table.setCurrentIndex(self.model.index(place + 1 + by, NAME))

    def done(self, result: int) -> None:
        """Take the trial off the board with the sheet."""
        self._beside.show(None)
        super().done(result)
