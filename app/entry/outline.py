"""Exact entry of an outline: its name, what it rides on, how thick it is, and every one of its points in a table."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtWidgets import QAbstractItemView, QHBoxLayout, QHeaderView, QLabel, QTableView, QWidget

from app.document import Selection
from app.entry.form import Form, push_button
from app.entry.line_dialog import change_line
from app.fields import named
from app.lengths import exact_length, parse_length
from kinematics import edits
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.document import Document
    from kinematics.project import Outline, Point, Project

Index = QModelIndex | QPersistentModelIndex
ROOT = QModelIndex()


class OutlineForm(Form):
    """All of one outline."""

    def __init__(self, document: Document, outline_id: str) -> None:
        super().__init__(document)
        self._id = outline_id
        self._add_values()
        self._add_table()
        self.button(
            "Change the line…",
            "Round a corner, run an arc or a smooth curve, cut, join, mirror it, leave points out, draw a line beside "
            "it; seen on the board before it is taken.",
            lambda: change_line(document, self._id, self._part(), self.window()),
        )
        self.button(
            "Remove outline",
            "Take this outline out (Del), and every gap want that names it.",
            lambda: document.attempt(
                f"Remove outline {self._id}", lambda project: edits.remove_outline(project, self._id)
            ),
        )
        self.end()

    def _add_values(self) -> None:
        self.rename("outline", self._id, edits.rename_outline)
        on = self.choice(
            "Rides on",
            f"Set what {self._id} rides on",
            "The link that this outline moves with.",
            [(link.id, link.id) for link in self.document.project.links],
            lambda project, link_id: edits.ride_outline(project, self._id, link_id),
        )
        self.on_refresh(lambda project: on.choose(self._of(project).on))
        self.closed = self.flag(
            "closed: a solid",
            f"Close {self._id}",
            "A closed outline is a solid: what lies inside touches it too. An open one is a line.",
            lambda project: self._of(project).closed,
            lambda project, closed: edits.close_outline(project, self._id, closed),
        )
        self.half_width = self.length(
            "Half width",
            f"Set half width of {self._id}",
            "Radius of a round pen along the line: half the sheet's thickness, or a seal. Gaps are measured from "
            "its edge.",
            lambda project: self._of(project).half_width,
            lambda project, mm: self._with(project, half_width=mm),
        )
        self.uncertain = self.length(
            "Off by up to ±",
            f"Set how far {self._id} may be off",
            "How far this line may stand from the thing itself, either way: the doubt of a tape, a photo, a worn edge. "
            "Clearances then read such as 7 ± 2 mm, and a want holds only if it holds at the low end.",
            lambda project: self._of(project).uncertain,
            lambda project, mm: self._with(project, uncertain=mm),
        )
        self.text(
            "Station",
            f"Set station of {self._id}",
            "The section across the body at which it was taken, such as centreline or corner. Outlines of "
            "different stations aren't compared "
            "unless you ask for it; empty: it is at all of them.",
            lambda project: self._of(project).station,
            lambda project, text: self._with(project, station=text),
        )

    @staticmethod
    def shape(project: Project, _id: str) -> object:
        """Say when other rows are needed: when there are other links."""
        return tuple(link.id for link in project.links)

    def _part(self) -> int | None:
        """The number of the point that is selected, if one is."""
        chosen = self.document.selection
        return chosen.part if chosen is not None and chosen.id == self._id else None

    def _of(self, project: Project) -> Outline:
        return project.outline(self._id)

    def _with(self, project: Project, **changes: Any) -> Project:  # noqa: ANN401  any field of an outline
        return edits.replace_outline(project, self._id, replace(self._of(project), **changes))

    # Points ----------------------------------------------------------------------------------------------------------

    def _add_table(self) -> None:
        self.heading("Points, while shut")
        self.points = PointsModel(self.document, self._id)
        self.table = QTableView()
        named(
            self.table,
            f"Points of {self._id}",
            'Double-click a number, or press F2, to type another: 12, 12,5 mm, 3 1/16", 25.4/2. '
            "The selected point is marked on the board.",
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
        row.addWidget(
            push_button(
                "Insert point", "Insert a point half way to the next one; after the last one, beyond it.", self._insert
            )
        )
        row.addWidget(
            push_button("Delete point", "Take the selected point out; its neighbours are joined.", self._delete)
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
        if 0 <= self._chosen() < len(self._of(self.document.project).points):
            self.document.select(Selection("outline", self._id, self._chosen()))

    def _insert(self) -> None:
        outline = self._of(self.document.project)
        place = self._chosen()
        place = len(outline.points) - 1 if place < 0 else place
        at = between_next(outline, place)
        if self.document.attempt(
            f"Insert point in {self._id}", lambda project: edits.insert_outline_point(project, self._id, place + 1, at)
        ):
            self.table.setCurrentIndex(self.points.index(place + 1, 0))

    def _delete(self) -> None:
        place = self._chosen()
        if place < 0:
            self._say("Select a point of the table first.")
            return
        self._say("")
        self.document.attempt(
            f"Delete point of {self._id}", lambda project: edits.delete_outline_point(project, self._id, place)
        )


def between_next(outline: Outline, place: int) -> Point:
    """Find where a point inserted after number `place` goes: half way to the next; after the last of a line, as far on
    as the last stretch.
    """
    points = outline.points
    here = points[place]
    if place + 1 < len(points) or outline.closed:
        there = points[(place + 1) % len(points)]
        return (here[0] + there[0]) / 2, (here[1] + there[1]) / 2
    before = points[place - 1]
    return 2 * here[0] - before[0], 2 * here[1] - before[1]


class PointsModel(QAbstractTableModel):
    """The points of one outline of the newest project, x and y in the builder's units."""

    def __init__(self, document: Document, outline_id: str) -> None:
        super().__init__(document)
        self._document, self._id = document, outline_id
        self._outline = document.project.outline(outline_id)
        self._units = document.units
        self.said: Callable[[str], None] = lambda _sentence: None

    def refresh(self) -> None:
        """Take the newest points over."""
        project = self._document.project
        outline, units = project.outline(self._id), self._document.units
        if outline is self._outline and units == self._units:
            return
        if len(outline.points) != len(self._outline.points):
            self.beginResetModel()
            self._outline, self._units = outline, units
            self.endResetModel()
            return
        self._outline, self._units = outline, units
        self.dataChanged.emit(self.index(0, 0), self.index(len(outline.points) - 1, 1))

    def rowCount(self, parent: Index = ROOT) -> int:
        """One row a point."""
        return 0 if parent.isValid() else len(self._outline.points)

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
        return exact_length(self._outline.points[index.row()][index.column()], self._units)

    def flags(self, _index: Index) -> Qt.ItemFlag:
        """Every number can be typed anew."""
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsEditable

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:  # noqa: ANN401  Qt's own
        """Take a typed coordinate over; a wrong one is told and the old one stays."""
        if role != Qt.ItemDataRole.EditRole or str(value) == self.data(index):
            return False
        place, axis = index.row(), index.column()
        try:
            at = list(self._outline.points[place])
            at[axis] = parse_length(str(value), self._units)
            self._document.commit()
            moved = edits.move_outline_point(self._document.project, self._id, place, (at[0], at[1]))
            self._document.apply(f"Move point {place + 1} of {self._id}", moved)
        except HingewrightError as error:
            self.said(f"{error} Still {self.data(index)}.")
            return False
        self.said("")
        return True
