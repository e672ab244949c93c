"""Exact entry of what has points, an outline or a zone: all of them in a table, to be typed, inserted, deleted."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtWidgets import QAbstractItemView, QHBoxLayout, QHeaderView, QLabel, QTableView, QWidget

from app.document import Selection
from app.entry.form import Form, push_button
from app.fields import named
from app.lengths import exact_length, parse_length
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.document import Document
    from kinematics.project import Outline, Point, Project, Zone

Index = QModelIndex | QPersistentModelIndex
ROOT = QModelIndex()


class PointsForm(Form):
    """A form with a table of points; which edits they are, those who derive from it say."""

    def __init__(self, document: Document, kind: str, id_: str) -> None:
        super().__init__(document)
        self._kind, self._id = kind, id_
        self._word = "corner" if kind == "zone" else "point"
        self._name = f"zone {id_}" if kind == "zone" else id_
        ends = "" if kind == "zone" else "; after the last one, beyond it"
        self._insert_tip = f"Insert a {self._word} half way to the next one{ends}."

    def line(self, project: Project) -> Outline | Zone:
        """Give the outline or zone of a project."""
        found: Outline | Zone = getattr(project, self._kind)(self._id)
        return found

    def move_label(self, place: int) -> str:
        """Name the step that moves a point."""
        return f"Move {self._word} {place + 1} of {self._name}"

    def put_point(self, project: Project, place: int, at: Point) -> Project:
        """Put a point at a typed place."""
        raise NotImplementedError

    def with_point(self, project: Project, place: int, at: Point) -> Project:
        """Insert a point, so that it becomes number `place`."""
        raise NotImplementedError

    def without_point(self, project: Project, place: int) -> Project:
        """Take a point out."""
        raise NotImplementedError

    def add_table(self) -> None:
        """Add the table of points with its buttons."""
        word = self._word
        self.heading(f"{word.capitalize()}s, while shut")
        self.points = PointsModel(self)
        self.table = QTableView()
        named(
            self.table,
            f"{word.capitalize()}s of {self._name}",
            'Double-click a number, or press F2, to type another: 12, 12,5 mm, 3 1/16", 25.4/2. '
            f"The selected {word} is marked on the board.",
        )
        self.table.setModel(self.points)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.table.verticalHeader().setDefaultSectionSize(22)
        self.table.setMinimumHeight(150)
        self.table.setTabKeyNavigation(False)  # Tab leaves the table, as it leaves every other control
        # Not currentRowChanged: Qt makes the first row the current one as soon as the keyboard comes here.
        self.table.selectionModel().selectionChanged.connect(lambda *_: self._select_point())
        self.wide(self.table)
        self.said = QLabel()
        self.said.setObjectName("fault")
        self.said.setWordWrap(True)
        self.said.hide()
        self.wide(self.said)
        self.points.said = self._say
        buttons = QWidget()
        row = QHBoxLayout(buttons)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(push_button(f"Insert {word}", self._insert_tip, self._insert))
        row.addWidget(
            push_button(f"Delete {word}", f"Take the selected {word} out; its neighbours are joined.", self._delete)
        )
        self.wide(buttons)
        self.on_refresh(lambda _: self._refresh_table())

    def _refresh_table(self) -> None:
        self.points.refresh()
        selection = self.document.selection
        if selection is not None:
            self.show_part(selection.part)

    def show_part(self, part: int | None) -> None:
        """Show which point is selected on the board."""
        if part is not None and part != self._chosen():
            self.table.setCurrentIndex(self.points.index(part, 0))

    def _say(self, sentence: str) -> None:
        self.said.setText(f"✗ {sentence}" if sentence else "")
        self.said.setVisible(bool(sentence))

    def _chosen(self) -> int:
        """The row that is selected, −1 for none."""
        return next((index.row() for index in self.table.selectionModel().selectedRows()), -1)

    def _select_point(self) -> None:
        if 0 <= self._chosen() < len(self.line(self.document.project).points):
            self.document.select(Selection(self._kind, self._id, self._chosen()))

    def _insert(self) -> None:
        line = self.line(self.document.project)
        place = self._chosen()
        place = len(line.points) - 1 if place < 0 else place
        at = between_next(line, place)
        label = f"Insert {self._word} in {self._name}"
        if self.document.attempt(label, lambda project: self.with_point(project, place + 1, at)):
            self.table.setCurrentIndex(self.points.index(place + 1, 0))

    def _delete(self) -> None:
        place = self._chosen()
        if place < 0:
            self._say(f"Select a {self._word} of the table first.")
            return
        self._say("")
        label = f"Delete {self._word} of {self._name}"
        self.document.attempt(label, lambda project: self.without_point(project, place))


def is_closed(line: Outline | Zone) -> bool:
    """Tell whether the last point is joined to the first; a zone's always is."""
    return bool(getattr(line, "closed", True))


def between_next(line: Outline | Zone, place: int) -> Point:
    """Find where a point inserted after number `place` goes: half way to the next; after the last of a line, as far on
    as the last stretch.
    """
    points = line.points
    here = points[place]
    if place + 1 < len(points) or is_closed(line):
        there = points[(place + 1) % len(points)]
        return (here[0] + there[0]) / 2, (here[1] + there[1]) / 2
    before = points[place - 1]
    return 2 * here[0] - before[0], 2 * here[1] - before[1]


class PointsModel(QAbstractTableModel):
    """The points of an outline or zone of the newest project, x and y in the builder's units."""

    def __init__(self, form: PointsForm) -> None:
        super().__init__(form)
        self._document, self._form = form.document, form
        self._line = form.line(form.document.project)
        self._units = form.document.units
        self.said: Callable[[str], None] = lambda _sentence: None

    def refresh(self) -> None:
        """Take the newest points over."""
        line, units = self._form.line(self._document.project), self._document.units
        if line is self._line and units == self._units:
            return
        if len(line.points) != len(self._line.points):
            self.beginResetModel()
            self._line, self._units = line, units
            self.endResetModel()
            return
        self._line, self._units = line, units
        self.dataChanged.emit(self.index(0, 0), self.index(len(line.points) - 1, 1))

    def rowCount(self, parent: Index = ROOT) -> int:
        """One row a point."""
        return 0 if parent.isValid() else len(self._line.points)

    def columnCount(self, parent: Index = ROOT) -> int:
        """Columns x and y."""
        return 0 if parent.isValid() else 2

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:  # noqa: ANN401  Qt's own
        """x, y; and the number of each point, from 1."""
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        return ("x", "y")[section] if orientation == Qt.Orientation.Horizontal else str(section + 1)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:  # noqa: ANN401  Qt's own
        """A coordinate in the builder's units."""
        if role not in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole):
            return None
        return exact_length(self._line.points[index.row()][index.column()], self._units)

    def flags(self, _index: Index) -> Qt.ItemFlag:
        """Every number can be typed anew."""
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsEditable

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:  # noqa: ANN401  Qt's own
        """Take a typed coordinate over; a wrong one is told and the old one stays."""
        if role != Qt.ItemDataRole.EditRole or str(value) == self.data(index):
            return False
        place, axis = index.row(), index.column()
        try:
            at = list(self._line.points[place])
            at[axis] = parse_length(str(value), self._units)
            self._document.commit()
            moved = self._form.put_point(self._document.project, place, (at[0], at[1]))
            self._document.apply(self._form.move_label(place), moved)
        except HingewrightError as error:
            self.said(f"{error} Still {self.data(index)}.")
            return False
        self.said("")
        return True
