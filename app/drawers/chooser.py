"""The chooser: which lines of a drawing become outlines, and on which link each rides.

At the left the drawing as it was read, at the right its layers and its lines. A line is picked in the picture or in
the list; then it is put on a link. What is on no link is left out. The unit is asked where the source doesn't say it.
"""

from __future__ import annotations

from pathlib import PurePath
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QSortFilterProxyModel, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from app.buttons import go_on_or_cancel
from app.drawers.incoming import UNITS, Incoming, next_link, unit_words
from app.drawers.preview import Preview
from app.entry.form import ChoiceBox, push_button
from app.fields import named
from app.lengths import LengthStyle, format_length
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from app.files.outline_import import Curve
    from app.lengths import Units
    from app.look import Look
    from kinematics.project import Project

Index = QModelIndex | QPersistentModelIndex
ROOT = QModelIndex()
COLUMNS = ("Name", "Layer", "Length", "Goes on")
ASK = ""


class LinesModel(QAbstractTableModel):
    """The lines that were read, with the name and link chosen for each. `on[i]` is "" for a line that is left out."""

    def __init__(self, incoming: Incoming, units: Units) -> None:
        super().__init__()
        self._units = units
        self.curves: tuple[Curve, ...] = ()
        self.in_mm = False
        self.names: list[str] = []
        self.on: list[str] = []
        self.take(incoming)

    def take(self, incoming: Incoming) -> None:
        """Show what was read; where it has as many lines as before, names and links stay."""
        self.beginResetModel()
        if len(incoming.curves) != len(self.curves):
            self.names = [curve.name or f"outline {place + 1}" for place, curve in enumerate(incoming.curves)]
            if len(self.names) == 1 and not incoming.curves[0].name:
                self.names = [PurePath(incoming.name).stem]
            self.on = [""] * len(incoming.curves)
        self.curves = incoming.curves
        self.in_mm = incoming.unit is not None
        self.endResetModel()

    def put(self, places: list[int], link_id: str) -> None:
        """Put lines on a link, or with "" leave them out."""
        for place in places:
            self.on[place] = link_id
        if places:
            self.dataChanged.emit(self.index(min(places), 3), self.index(max(places), 3))

    def rowCount(self, parent: Index = ROOT) -> int:
        """One row a line."""
        return 0 if parent.isValid() else len(self.curves)

    def columnCount(self, parent: Index = ROOT) -> int:
        """Name, layer, length, link."""
        return 0 if parent.isValid() else len(COLUMNS)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:  # noqa: ANN401  Qt's own
        """Words above the columns."""
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        return COLUMNS[section] if orientation == Qt.Orientation.Horizontal else str(section + 1)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:  # noqa: ANN401  Qt's own
        """Words in the cells."""
        place, curve = index.row(), self.curves[index.row()]
        if role not in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole):
            return None
        closed = ", closed" if curve.closed else ""
        length = format_length(curve.length, self._units) if self.in_mm else f"{curve.length:.1f} units"
        return (self.names[place], curve.layer, length + closed, self.on[place] or "— left out")[index.column()]

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Names can be typed."""
        base = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        return base | Qt.ItemFlag.ItemIsEditable if index.column() == 0 else base

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:  # noqa: ANN401  Qt's own
        """Take a typed name over; an empty one keeps the old."""
        if role != Qt.ItemDataRole.EditRole or not str(value).strip():
            return False
        self.names[index.row()] = str(value).strip()
        return True


class LayerFilter(QSortFilterProxyModel):
    """Shows only the lines of the layers that are ticked."""

    def __init__(self, model: LinesModel) -> None:
        super().__init__()
        self._lines = model
        self.layers: set[str] = {curve.layer for curve in model.curves}
        self.setSourceModel(model)

    def filterAcceptsRow(self, row: int, _parent: Index) -> bool:  # noqa: N802  Qt's own name
        """Whether a line's layer is ticked."""
        return self._lines.curves[row].layer in self.layers


class OutlineChooser(QDialog):
    """Asks which lines go on which link. After `exec`, `chosen` holds (curve, name, link id)."""

    def __init__(
        self,
        project: Project,
        incoming: Incoming,
        look: Look,
        parent: QWidget | None = None,
        units: LengthStyle | None = None,
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(f"Outlines from {incoming.name}")
        self.setObjectName("choose outlines")  # by which the help knows it
        self.resize(960, 600)
        self._project, self.incoming = project, incoming
        self._own_unit = incoming.unit  # that of the file, which stays on offer
        self._units = units or LengthStyle(project.display_units)
        self.lines = LinesModel(incoming, self._units)
        self.filter = LayerFilter(self.lines)
        self.preview = Preview(look)
        self.preview.picked.connect(self._pick)
        self._build()
        self._show_incoming()
        self._put_lone()

    @property
    def chosen(self) -> list[tuple[Curve, str, str]]:
        """What goes on a link: (curve, name, link id). Lines of layers that aren't ticked are left out."""
        lines = self.lines
        every = zip(lines.curves, lines.names, lines.on, strict=True)
        return [(curve, name, on) for curve, name, on in every if on and curve.layer in self.filter.layers]

    # Layout ----------------------------------------------------------------------------------------------------------

    def _build(self) -> None:
        whole = QVBoxLayout(self)
        middle = QHBoxLayout()
        middle.addWidget(self.preview, 3)
        side = QVBoxLayout()
        middle.addLayout(side, 2)
        whole.addLayout(middle, 1)
        self._build_unit(side)
        self._build_layers(side)
        self._build_table(side)
        self._build_links(side)
        self._told = QLabel()
        self._told.setObjectName("faint")
        self._told.setWordWrap(True)
        whole.addWidget(self._told)
        self.buttons, self.ok = go_on_or_cancel(
            "Bring in", "Add the lines that are on a link to the project, as one step."
        )
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        whole.addWidget(self.buttons)

    def _build_unit(self, side: QVBoxLayout) -> None:
        row = QHBoxLayout()
        label = QLabel("Drawn in")
        row.addWidget(label)
        self.unit = ChoiceBox([])
        named(
            self.unit,
            "Unit of the drawing",
            "What one unit of the drawing is. The size in brackets is that of everything in it: which one is your "
            "panel?",
        )
        label.setBuddy(self.unit)
        self.unit.activated.connect(self._read_in_unit)
        row.addWidget(self.unit, 1)
        side.addLayout(row)

    def _build_layers(self, side: QVBoxLayout) -> None:
        self.layer_list = QListWidget()
        named(
            self.layer_list,
            "Layers",
            "The drawing's layers; only lines of ticked ones are listed, shown and brought in.",
        )
        self.layer_list.setMaximumHeight(96)
        for layer in dict.fromkeys(curve.layer for curve in self.lines.curves):
            item = QListWidgetItem(layer or "(no layer)")
            item.setData(Qt.ItemDataRole.UserRole, layer)
            item.setCheckState(Qt.CheckState.Checked)
            self.layer_list.addItem(item)
        self.layer_list.setVisible(self.layer_list.count() > 1)
        self.layer_list.itemChanged.connect(lambda _: self._filter_layers())
        side.addWidget(self.layer_list)

    def _build_table(self, side: QVBoxLayout) -> None:
        self.table = QTableView()
        named(
            self.table,
            "Lines",
            "Pick one line or several, here or in the picture, then put them on a link. Double-click a name to "
            "change it.",
        )
        self.table.setModel(self.filter)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.verticalHeader().setDefaultSectionSize(22)
        self.table.verticalHeader().hide()
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        self.table.horizontalHeader().setStretchLastSection(True)
        self.table.horizontalHeader().setHighlightSections(False)
        self.table.selectionModel().selectionChanged.connect(lambda *_: self._show_picked())
        side.addWidget(self.table, 1)

    def _build_links(self, side: QVBoxLayout) -> None:
        row = QHBoxLayout()
        label = QLabel("Put on")
        row.addWidget(label)
        kinds = {"fixed": "the fixed link", "panel": "the panel", "link": "a link"}
        self.link = ChoiceBox([(link.id, f"{link.id} ({kinds[link.kind]})") for link in self._project.links])
        self.link.choose(next_link(self._project))
        named(self.link, "Link to put them on", "The fixed link is the body; the panel is what opens.")
        label.setBuddy(self.link)
        self.link.activated.connect(self._put_lone)
        row.addWidget(self.link, 1)
        self.put = push_button("Put", "Put the picked lines on this link.", lambda: self._put(self.link.value))
        self.leave = push_button("Leave out", "Leave the picked lines out.", lambda: self._put(""))
        row.addWidget(self.put)
        row.addWidget(self.leave)
        side.addLayout(row)

    # What is shown ---------------------------------------------------------------------------------------------------

    def _show_incoming(self) -> None:
        incoming, display = self.incoming, self._units
        offered = dict.fromkeys((*UNITS, self._own_unit, incoming.unit))
        options = [(unit, unit_words(incoming, unit, display)) for unit in offered if unit]
        self.unit.set_options([(ASK, "choose …"), *options] if incoming.unit is None else options)
        self.unit.choose(incoming.unit or ASK)
        self.preview.show_curves(self.lines.curves, self.lines.on, self._project)
        self._filter_layers()
        self.table.resizeColumnsToContents()

    def _tell(self) -> None:
        """Say what is still to be done; the button works once it is."""
        count = len(self.chosen)
        if self.incoming.unit is None:
            said = "The drawing doesn't say its unit: choose it above, by the size that your panel has."
        elif not count:
            said = "Pick the lines that matter, in the picture or in the list, and put each on its link."
        else:
            said = f"{count} line{'s' if count != 1 else ''} will be brought in."
        self._told.setText(" ".join((said, *self.incoming.remarks)))
        self.ok.setEnabled(self.incoming.unit is not None and count > 0)

    def _read_in_unit(self) -> None:
        unit = self.unit.value
        if unit in (ASK, self.incoming.unit):
            return
        try:
            self.incoming = self.incoming.read_in(unit)
        except HingewrightError as error:
            self._told.setText(str(error))
            self.unit.choose(self.incoming.unit or ASK)
            return
        self.lines.take(self.incoming)
        self._show_incoming()

    def _filter_layers(self) -> None:
        items = (self.layer_list.item(row) for row in range(self.layer_list.count()))
        self.filter.layers = {
            item.data(Qt.ItemDataRole.UserRole) for item in items if item.checkState() == Qt.CheckState.Checked
        }
        self.filter.invalidate()
        self.preview.show_layers(self.filter.layers)
        self._tell()

    # Picking ---------------------------------------------------------------------------------------------------------

    def picked(self) -> list[int]:
        """Give the numbers of the picked lines."""
        rows = self.table.selectionModel().selectedRows()
        return sorted(self.filter.mapToSource(index).row() for index in rows)

    def _pick(self, place: int, more: bool) -> None:
        index = self.filter.mapFromSource(self.lines.index(place, 0))
        mode = self.table.selectionModel().SelectionFlag
        self.table.selectionModel().select(index, mode.Rows | (mode.Toggle if more else mode.ClearAndSelect))
        self.table.scrollTo(index)

    def _show_picked(self) -> None:
        self.preview.show_picked(self.picked())

    def _put_lone(self) -> None:
        """A line that is alone needs no picking: it goes on the link that is offered."""
        if len(self.lines.curves) == 1:
            self.table.selectRow(0)
            self._put(self.link.value)

    def _put(self, link_id: str) -> None:
        picked = self.picked()
        if not picked:
            self._told.setText("Pick a line first, in the picture or in the list.")
            return
        self.lines.put(picked, link_id)
        self.preview.show_on(self.lines.on)
        self._tell()
