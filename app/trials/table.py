"""The table of trials: the layout on the board first, then every trial; a row each, a column for each key figure.

Names and notes are typed in place, each change one step. A figure that a trial has worse than the layout on the board
is told as such to a screen reader and in its tip; the best of a column stands bold.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QSize, Qt
from PySide6.QtGui import QFont

from app.lengths import format_angle
from app.trials.figure_words import (
    BACK,
    CHECKS,
    CLEARANCE,
    EFFORT,
    HOLD,
    NAME,
    NOTE,
    OPENS,
    PICTURE,
    PIN,
    ROOM,
    TRANSMISSION,
    clearance_tip,
    figure_words,
)
from app.trials.kept import note_trial, rename_trial, trials_of
from kinematics.figures import KeyFigures, key_figures

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.document import Document
    from app.trials.kept import Trial
    from app.trials.readings import Readings
    from kinematics.analysis import Analysis

PICTURE_SIZE = QSize(96, 64)
NOW = "on the board"
HEADS = {
    PICTURE: ("Picture", "The layout, its panel half open."),
    NAME: ("Trial", "What the layout is called. F2 or a double click types another name."),
    OPENS: ("Opens to", "How far the panel opens; ✗ where that is less than wanted."),
    CLEARANCE: (
        "Clearance",
        "The smallest clearance among the pairs that are wanted; where outlines may be off, its low end.",
    ),
    BACK: ("Rear corner back", "How far the panel's rear corner goes back at most, away from the front."),
    TRANSMISSION: (
        "Transmission",
        "The least transmission angle: the smaller, the stiffer it goes and the more play tells.",
    ),
    ROOM: ("Room when shut", "Width and height of the box around all pins while shut."),
    EFFORT: ("Lift", "The largest push at the handle; it takes a weight and a handle."),
    PIN: ("Pin", "The most that a pin of one hinge carries over the travel, and which."),
    HOLD: (
        "Stays open",
        "At full opening, in the worst case wanted: what is left before it comes down, or what must hold it.",
    ),
    CHECKS: ("Checks", "How many checks fall short."),
    NOTE: ("Note", "What you want to remember of it. F2 or a double click types."),
}
Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole
ROOT = QModelIndex()


def merit(figures: KeyFigures, column: int) -> float | None:
    """How good a figure is, more is better; None where there is no telling.

    Rounded: what an analysis reached from another start gives differs in digits that mean nothing.
    """
    better = {
        OPENS: figures.opens_deg,
        CLEARANCE: figures.clearance,
        BACK: None if figures.back is None else -figures.back,
        TRANSMISSION: figures.transmission_deg,
        EFFORT: None if figures.effort is None else -figures.effort,
        PIN: None if figures.pin is None else -figures.pin,
        HOLD: None if figures.hold is None else -figures.hold,
    }
    if column in better:
        value = better[column]
        return None if value is None else round(value, 2)
    if column == ROOM:
        return None if figures.room is None else -(figures.room[0] * figures.room[1])
    return -float(figures.short) if column == CHECKS else None


class TrialsModel(QAbstractTableModel):
    """Row 0 is the layout on the board, row k + 1 the trial k."""

    def __init__(self, document: Document, readings: Readings) -> None:
        super().__init__()
        self._document, self._readings = document, readings
        self._figures: dict[int, tuple[Analysis, KeyFigures]] = {}
        self._trials: tuple[Trial, ...] = ()
        self.said: Callable[[str], None] = lambda _: None
        self.refresh()

    # What stands there -----------------------------------------------------------------------------------------------

    @property
    def trials(self) -> tuple[Trial, ...]:
        """The trials, in the order of their rows."""
        return self._trials

    def analysis(self, row: int) -> Analysis | None:
        """The analysis of a row; None where it isn't worked out."""
        return self._document.analysis if row == 0 else self._readings.of(self._trials[row - 1])

    def figures(self, row: int) -> KeyFigures | None:
        """The key figures of a row."""
        analysis = self.analysis(row)
        if analysis is None:
            return None
        found = self._figures.get(row)
        if found is None or found[0] is not analysis:
            found = self._figures[row] = (analysis, key_figures(analysis))
        return found[1]

    def refresh(self) -> None:
        """Show the newest trials and figures."""
        trials = trials_of(self._document.project)
        if trials != self._trials:
            self.beginResetModel()
            self._trials = trials
            self._figures.clear()
            self.endResetModel()
        else:
            self.tell_figures()

    def tell_figures(self) -> None:
        """Tell that pictures and figures may be others; names and notes stay, as one may be typed just now."""
        last = self.rowCount() - 1
        for first, end in ((PICTURE, PICTURE), (OPENS, CHECKS)):
            self.dataChanged.emit(self.index(0, first), self.index(last, end))

    # As Qt asks ------------------------------------------------------------------------------------------------------

    def rowCount(self, parent: Index = ROOT) -> int:
        """One for the board, one for each trial."""
        return 0 if parent.isValid() else 1 + len(self._trials)

    def columnCount(self, parent: Index = ROOT) -> int:
        """Picture, name, figures, note."""
        return 0 if parent.isValid() else len(HEADS)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> Any:  # noqa: ANN401
        """Heads of the columns."""
        if orientation != Qt.Orientation.Horizontal or section not in HEADS:
            return None
        return {Role.DisplayRole: HEADS[section][0], Role.ToolTipRole: HEADS[section][1]}.get(Role(role))

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Names and notes of trials can be typed."""
        flags = Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsEnabled
        typed = index.row() > 0 and index.column() in (NAME, NOTE)
        return flags | Qt.ItemFlag.ItemIsEditable if typed else flags

    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:  # noqa: ANN401
        """What a cell says."""
        if not index.isValid():
            return None
        row, column = index.row(), index.column()
        say: dict[int, Callable[[], Any]] = {
            Role.DisplayRole: lambda: self._words(row, column),
            Role.EditRole: lambda: self._words(row, column),
            Role.AccessibleTextRole: lambda: f"{HEADS[column][0]}: {self._words(row, column)}",
            Role.ToolTipRole: lambda: self._tip(row, column),
            Role.FontRole: lambda: _bold() if self._is_best(row, column) else None,
            Role.SizeHintRole: lambda: PICTURE_SIZE if column == PICTURE else None,
        }
        return say[role]() if role in say else None

    def setData(self, index: Index, value: Any, role: int = Role.EditRole) -> bool:  # noqa: ANN401
        """Take another name or note, one step."""
        if role != Role.EditRole or index.row() == 0:
            return False
        place, text = index.row() - 1, str(value)
        if index.column() == NAME:
            return self._document.attempt("Rename trial", lambda project: rename_trial(project, place, text))
        return self._document.attempt("Note on a trial", lambda project: note_trial(project, place, text))

    def _words(self, row: int, column: int) -> str:
        if column == PICTURE:
            return ""
        if column == NAME:
            return NOW if row == 0 else self._trials[row - 1].name
        if column == NOTE:
            return "" if row == 0 else self._trials[row - 1].note
        figures = self.figures(row)
        if figures is None:
            return "can't be read" if row and self._trials[row - 1].fault and column == OPENS else "…"
        return figure_words(figures, column, self._document.units)

    def _tip(self, row: int, column: int) -> str:
        if row and self._trials[row - 1].fault:
            return f"This trial can't be read; it stays in the file. {self._trials[row - 1].fault}"
        figures = self.figures(row)
        if figures is None:
            return "It is being worked out."
        if column == CLEARANCE and figures.of is not None:
            return clearance_tip(figures, self._document.units)
        if column == BACK and figures.back_deg is not None and figures.back:
            return f"At {format_angle(figures.back_deg, self._document.units)}."
        return HEADS[column][1]

    def _is_best(self, row: int, column: int) -> bool:
        """Whether no other row has a better figure here, and some have a worse one."""
        rows = [found for each in range(self.rowCount()) if (found := self.figures(each)) is not None]
        values = [value for figures in rows if (value := merit(figures, column)) is not None]
        mine = self.figures(row)
        value = None if mine is None else merit(mine, column)
        return value is not None and value >= max(values) and value > min(values)


def _bold() -> QFont:
    font = QFont()
    font.setBold(True)
    return font
