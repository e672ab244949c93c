"""The parts of the newest project as a table: a row for each pin, link, outline, mark, zone, mass, strut and spring and
the handle, under the heading of its kind; and one for each point of an outline, corner of a zone or end of a strut or
spring that is unfolded. Name, coordinates, shown and locked can be changed in place; a zone and a mass go by their
link, and zones and loads are always shown.

Every change is an edit of the project, one step; what can't be taken over is told by `said` and changes nothing. Each
cell says to a screen reader what it is, not only its number.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtGui import QFont

from app.device_words import load_name
from app.document import Selection
from app.lengths import exact_length, parse_length
from app.part_words import SECTIONS, part_words
from kinematics import arranging, edits, loading, zoning
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtGui import QIcon

    from app.document import Document
    from kinematics.project import Point, Project

NAME, X, Y, SHOWN, LOCKED = range(5)
FOLDING = ("outline", "zone", "device")
"""Kinds whose points can be unfolded."""
UNFOLDED, FOLDED = "▾ ", "▸ "
RENAMERS = {
    "pivot": edits.rename_pivot,
    "link": edits.rename_link,
    "outline": edits.rename_outline,
    "mark": edits.rename_mark,
    "device": loading.rename_device,
}
LOADS = ("mass", "handle", "device")
TIPS = {
    NAME: "What each part is called. F2 or a double click types another name; Right unfolds the points of an outline.",
    X: "How far right of the origin it is while the panel is shut. Type as you would write it: 12, 3 1/16″, 25.4/2.",
    Y: "How far above the origin it is while the panel is shut. Type as you would write it: 12, 3 1/16″, 25.4/2.",
    SHOWN: "Shown: whether it is drawn on the board. What is hidden counts in the mechanism all the same.",
    LOCKED: "Locked: whether the mouse and the arrow keys leave it where it is.",
}
WORDS = {NAME: "Name", SHOWN: "Shown", LOCKED: "Locked"}
Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole
NUMBERS = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
ROOT = QModelIndex()


@dataclass(frozen=True, slots=True)
class Row:
    """A row: a part, with `part` one point of an outline, or without an id the heading of a kind."""

    kind: str
    id: str = ""
    part: int | None = None

    @property
    def selection(self) -> Selection | None:
        """What is selected with this row; None for a heading."""
        return Selection(self.kind, self.id, self.part) if self.id else None


def rows_of(project: Project, unfolded: frozenset[str]) -> tuple[Row, ...]:
    """All rows of a project, the points of unfolded outlines among them."""
    rows = []
    for kind in SECTIONS:
        names = names_of(project, kind)
        if names:
            rows.append(Row(kind))
        for name in names:
            rows.append(Row(kind, name))
            if kind in FOLDING and name in unfolded:
                rows += [Row(kind, name, place) for place in range(len(points_of(project, kind, name)))]
    return tuple(rows)


def names_of(project: Project, kind: str) -> tuple[str, ...]:
    """What the parts of a kind go by."""
    if kind in LOADS:
        return tuple(dict.fromkeys(spot.id for spot in loading.spots(project) if spot.kind == kind))
    return project.zone_names if kind == "zone" else tuple(part.id for part in arranging.parts_of(project, kind))


def points_of(project: Project, kind: str, name: str) -> tuple[Point, ...]:
    """Give the points of an outline or a zone, or the two ends of a device."""
    if kind == "device":
        device = loading.device_named(project, name)
        return device.from_end.at, device.to_end.at
    found: tuple[Point, ...] = getattr(project, kind)(name).points
    return found


class PartsModel(QAbstractTableModel):
    """The table over a document."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self._project = document.project
        self._unfolded: frozenset[str] = frozenset()
        self.rows = rows_of(self._project, self._unfolded)
        self.icons: dict[int, QIcon] = {}
        self.said: Callable[[str], None] = lambda _sentence: None
        self._says: dict[Qt.ItemDataRole, Callable[[Row, int], Any]] = {
            Role.DisplayRole: self._shown,
            Role.EditRole: lambda row, column: row.id if column == NAME else self._number(row, column),
            Role.CheckStateRole: self._check_state,
            Role.ToolTipRole: self._tip,
            Role.AccessibleTextRole: self._told,
            Role.FontRole: self._font,
            Role.TextAlignmentRole: lambda _, column: NUMBERS if column in (X, Y) else None,
        }

    # What the view asks for ------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        """Take the newest project over."""
        self._project = self._document.project
        rows = rows_of(self._project, self._unfolded)
        if rows != self.rows:
            self.beginResetModel()
            self.rows = rows
            self.endResetModel()
        elif rows:
            self.dataChanged.emit(self.index(0, NAME), self.index(len(rows) - 1, LOCKED))

    def unfold(self, outline_id: str, unfolded: bool = True) -> None:
        """Show the points of an outline, or no longer."""
        before = self._unfolded
        self._unfolded = before | {outline_id} if unfolded else before - {outline_id}
        if self._unfolded != before:
            self.refresh()

    def is_unfolded(self, outline_id: str) -> bool:
        """Tell whether an outline's points are shown."""
        return outline_id in self._unfolded

    def row_of(self, selection: Selection) -> int | None:
        """Find the row of what is selected; of an outline's point that is folded away, the outline's."""
        for wanted in (Row(selection.kind, selection.id, selection.part), Row(selection.kind, selection.id)):
            if wanted in self.rows:
                return self.rows.index(wanted)
        return None

    # The table -------------------------------------------------------------------------------------------------------

    def rowCount(self, parent: Index = ROOT) -> int:
        """One row a part, heading or point."""
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = ROOT) -> int:
        """Name, x, y, shown, locked."""
        return 0 if parent.isValid() else len(TIPS)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> Any:  # noqa: ANN401  Qt's own
        """Words above the columns, or a picture where they would take too much room."""
        if orientation == Qt.Orientation.Vertical:
            return None
        units = self._document.project.display_units
        word = WORDS.get(section) or f"{'x' if section == X else 'y'}, {units}"
        if role == Role.ToolTipRole:
            return TIPS[section]
        if role == Role.DecorationRole:
            return self.icons.get(section)
        if role == Role.TextAlignmentRole:
            return NUMBERS if section in (X, Y) else None
        if role == Role.AccessibleTextRole or (role == Role.DisplayRole and section not in self.icons):
            return word
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Headings are passed by; a cell can be typed into or ticked where that means something."""
        row, column = self.rows[index.row()], index.column()
        if not row.id:
            return Qt.ItemFlag.NoItemFlags
        found = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren
        if (column == NAME and row.part is None and row.kind in RENAMERS) or (
            column in (X, Y) and self._at(row) is not None
        ):
            found |= Qt.ItemFlag.ItemIsEditable
        if self._tick(row, column) is not None:
            found |= Qt.ItemFlag.ItemIsUserCheckable
        return found

    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:  # noqa: ANN401  Qt's own
        """What a cell shows, and what it says of itself."""
        say = self._says.get(Role(role))
        return None if say is None else say(self.rows[index.row()], index.column())

    def setData(self, index: Index, value: Any, role: int = Role.EditRole) -> bool:  # noqa: ANN401  Qt's own
        """Take over what was typed or ticked, as one step; what is wrong with it is told."""
        row, column = self.rows[index.row()], index.column()
        try:
            if role == Role.CheckStateRole:
                self._take_tick(row, column, Qt.CheckState(value) == Qt.CheckState.Checked)
            elif role == Role.EditRole and str(value) != self.data(index, Role.EditRole):
                self._take_text(row, column, str(value))
            else:
                return False
        except HingewrightError as error:
            self.said(f"✗ {error} Still {self.data(index, Role.EditRole) or 'as it was'}.")
            return False
        self.said("")
        return True

    # Cells -----------------------------------------------------------------------------------------------------------

    def _part(self, row: Row) -> Any:  # noqa: ANN401  a link, pivot, outline, mark or zone
        return getattr(self._project, row.kind)(row.id)

    def _at(self, row: Row) -> Point | None:
        """Where a row's thing is; None for what has no single place."""
        if row.part is not None:
            return points_of(self._project, row.kind, row.id)[row.part]
        if row.kind in ("link", *FOLDING) or not row.id:
            return None
        if row.kind in LOADS:
            return loading.spot_of(self._project, row.kind, row.id).at
        at: Point = self._part(row).at
        return at

    def _number(self, row: Row, column: int) -> str:
        at = self._at(row) if column in (X, Y) else None
        return "" if at is None else exact_length(at[column - X], self._document.units, unit=False)

    def _shown(self, row: Row, column: int) -> str:
        if column != NAME:
            return self._number(row, column)
        if not row.id:
            return SECTIONS[row.kind]
        if row.part is not None:
            return f"      {point_words(row.kind, row.part)}"
        sign = (UNFOLDED if self.is_unfolded(row.id) else FOLDED) if row.kind in FOLDING else ""
        return f"{sign}{row.id}"

    def _name(self, row: Row) -> str:
        """What a row is, in words that stand alone."""
        if not row.id:
            return SECTIONS[row.kind]
        whole = load_name(row.kind, row.id) if row.kind in LOADS else f"{row.kind} {row.id}"
        return whole if row.part is None else f"{point_words(row.kind, row.part)} of {whole}"

    def _told(self, row: Row, column: int) -> str:
        name = self._name(row)
        if column == NAME or not row.id:
            folded = row.kind in FOLDING and row.id and row.part is None
            return f"{name}, {'un' if self.is_unfolded(row.id) else ''}folded" if folded else name
        if column in (X, Y):
            number = self._number(row, column)
            axis = "x" if column == X else "y"
            return (
                f"{axis} of {name}: {number} {self._document.project.display_units}" if number else f"{name}, no {axis}"
            )
        tick = self._tick(row, column)
        words = {SHOWN: ("hidden", "shown"), LOCKED: ("not locked", "locked")}[column]
        return (
            f"{name}: {words[tick]}"
            if tick is not None
            else f"{name}, not {'lockable' if column == LOCKED else 'hidden'}"
        )

    def _tip(self, row: Row, _: int) -> str | None:
        words = part_words(self._project, row.kind, row.id, self._document.units) if row.id else ""
        return f"{self._name(row)}: {words}" if words else None

    def _font(self, row: Row, _: int) -> QFont | None:
        """Headings stand bold, what is hidden in italics."""
        if row.id and (row.kind in ("zone", *LOADS) or not self._part(row).hidden):
            return None
        font = QFont()
        font.setBold(not row.id)
        font.setItalic(bool(row.id))
        return font

    def _check_state(self, row: Row, column: int) -> Qt.CheckState | None:
        tick = self._tick(row, column)
        return None if tick is None else Qt.CheckState.Checked if tick else Qt.CheckState.Unchecked

    def _tick(self, row: Row, column: int) -> bool | None:
        """Whether a cell is ticked; None where there is nothing to tick."""
        if not row.id or row.part is not None or row.kind in ("zone", *LOADS):
            return None
        if column == SHOWN:
            return not self._part(row).hidden
        return bool(self._part(row).locked) if column == LOCKED and row.kind in arranging.LOCKABLE else None

    # Taking over -----------------------------------------------------------------------------------------------------

    def _apply(self, label: str, edit: Callable[[Project], Project]) -> None:
        self._document.commit()
        self._document.apply(label, edit(self._document.project))

    def _take_tick(self, row: Row, column: int, ticked: bool) -> None:
        kind, id_ = row.kind, row.id
        if column == SHOWN:
            label = f"{'Show' if ticked else 'Hide'} {kind} {id_}"
            self._apply(label, lambda project: arranging.hide_part(project, kind, id_, not ticked))
        else:
            label = f"{'Lock' if ticked else 'Free'} {kind} {id_}"
            self._apply(label, lambda project: arranging.lock_part(project, kind, id_, ticked))

    def _take_text(self, row: Row, column: int, text: str) -> None:
        if column == NAME:
            self._rename(row, text.strip())
            return
        was = self._at(row)
        if was is None:
            return
        value = parse_length(text, self._document.units)
        at = (value, was[1]) if column == X else (was[0], value)
        self._apply(f"Move {self._name(row)}", lambda project: moved(project, row, at))

    def _rename(self, row: Row, name: str) -> None:
        is_unfolded = self.is_unfolded(row.id)
        self._apply(f"Rename {row.kind} {row.id}", lambda project: RENAMERS[row.kind](project, row.id, name))
        self._unfolded = (self._unfolded - {row.id}) | ({name} if is_unfolded else frozenset())
        self.refresh()
        self._document.select(Selection(row.kind, name))


def moved(project: Project, row: Row, at: Point) -> Project:
    """The project with the thing of a row at another place."""
    if row.kind in LOADS:
        return loading.move_spot(project, row.kind, row.id, at, row.part)
    if row.part is not None and row.kind == "zone":
        return zoning.put_zone_point(project, project.zone_place(row.id), row.part, at)
    if row.part is not None:
        return edits.move_outline_point(project, row.id, row.part, at)
    return edits.move_pivot(project, row.id, at) if row.kind == "pivot" else edits.move_mark(project, row.id, at)


def point_words(kind: str, part: int) -> str:
    """What a point of a part is called: an outline has points, a zone corners, a device two ends."""
    if kind == "device":
        return "second end" if part else "first end"
    return f"{'corner' if kind == 'zone' else 'point'} {part + 1}"
