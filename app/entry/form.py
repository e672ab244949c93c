"""What every form of exact entry is made of: labelled fields that show the newest project and put what is typed back
into it.

A form belongs to one thing (a pivot, an outline, the wants) and is made anew when its *shape* changes, that is when
it would need other rows; else only its values are refreshed. Each row knows how to read its value from a project and
which edit takes it over.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QHelpEvent, QPainter, QPaintEvent, QPalette, QPen, QPolygonF, QWheelEvent
from PySide6.QtWidgets import QComboBox, QFormLayout, QLabel, QPushButton, QToolTip, QVBoxLayout, QWidget

from app.document import Selection
from app.fields import (
    Field,
    angle_field,
    count_field,
    length_field,
    named,
    optional_angle_field,
    optional_length_field,
    quantity_field,
    text_field,
)
from app.ticks import TickBox

if TYPE_CHECKING:
    from app.document import Document
    from app.lengths import LengthStyle
    from app.quantities import Quantity
    from kinematics.project import Project

Value = TypeVar("Value")
Edit = Callable[["Project", Value], "Project"]
Read = Callable[["Project"], Value]


class Form(QWidget):
    """A column of rows; subclasses add their rows when they are made."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.setObjectName("page")
        self.document = document
        self._refreshers: list[Callable[[Project], None]] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(12, 6, 12, 10)
        self._column.setSpacing(6)
        self._rows: QFormLayout | None = None

    def refresh(self, project: Project) -> None:
        """Show the values of a project."""
        for refresher in self._refreshers:
            refresher(project)

    def on_refresh(self, refresher: Callable[[Project], None]) -> None:
        """Add something to be done on each refresh, and do it once."""
        self._refreshers.append(refresher)
        refresher(self.document.project)

    @property
    def units(self) -> LengthStyle:
        """Units in which lengths are shown and typed."""
        return self.document.units

    # Rows ------------------------------------------------------------------------------------------------------------

    def wide(self, widget: QWidget) -> QWidget:
        """Add a widget across the whole width."""
        self._rows = None
        self._column.addWidget(widget)
        return widget

    def heading(self, text: str) -> QLabel:
        """Add a small heading."""
        label = QLabel(text)
        label.setObjectName("subheading")
        label.setContentsMargins(0, 6, 0, 0)
        self.wide(label)
        return label

    def told(self, text: str) -> QLabel:
        """Add a sentence or two in a low voice."""
        label = QLabel(text)
        label.setObjectName("faint")
        label.setTextFormat(Qt.TextFormat.PlainText)  # a name may look like markup
        label.setWordWrap(True)
        self.wide(label)
        return label

    def row(self, label: str, widget: QWidget) -> None:
        """Add a widget with its label to the left."""
        if self._rows is None:
            self._rows = QFormLayout()
            self._rows.setContentsMargins(0, 0, 0, 0)
            self._rows.setHorizontalSpacing(10)
            self._rows.setVerticalSpacing(4)
            self._rows.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
            self._rows.setLabelAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
            self._column.addLayout(self._rows)
        words = QLabel(label)
        words.setBuddy(widget.line if isinstance(widget, Field) else widget)
        self._rows.addRow(words, widget)

    def end(self) -> None:
        """Leave the rest of the column empty."""
        self._column.addStretch(1)

    def length(self, label: str, name: str, tip: str, read: Read[float], edit: Edit[float]) -> Field[float]:
        """Add a length; the name is also the label of the step."""
        field = length_field(name, tip, lambda: self.units, self._taker(name, edit))
        return self._field(label, field, read)

    def optional_length(
        self, label: str, name: str, tip: str, read: Read[float | None], edit: Edit[float | None]
    ) -> Field[float | None]:
        """Add a length that may be missing."""
        field = optional_length_field(name, tip, lambda: self.units, self._taker(name, edit))
        return self._field(label, field, read)

    def angle(self, label: str, name: str, tip: str, read: Read[float], edit: Edit[float]) -> Field[float]:
        """Add an angle."""
        return self._field(label, angle_field(name, tip, lambda: self.units, self._taker(name, edit)), read)

    def optional_angle(
        self, label: str, name: str, tip: str, read: Read[float | None], edit: Edit[float | None]
    ) -> Field[float | None]:
        """Add an angle that may be missing."""
        field = optional_angle_field(name, tip, lambda: self.units, self._taker(name, edit))
        return self._field(label, field, read)

    def quantity(
        self, label: str, name: str, tip: str, quantity: Quantity, read: Read[float], edit: Edit[float]
    ) -> Field[float]:
        """Add a mass, a force or the like."""
        field = quantity_field(name, tip, quantity, lambda: self.units, self._taker(name, edit))
        return self._field(label, field, read)

    def count(self, label: str, name: str, tip: str, read: Read[int], edit: Edit[int]) -> Field[int]:
        """Add a whole number, 1 or more."""
        return self._field(label, count_field(name, tip, lambda: self.units, self._taker(name, edit)), read)

    def text(self, label: str, name: str, tip: str, read: Read[str], edit: Edit[str]) -> Field[str]:
        """Add a name or other line of text."""
        return self._field(label, text_field(name, tip, self._taker(name, edit)), read)

    def rename(self, kind: str, id: str, edit: Callable[[Project, str, str], Project]) -> Field[str]:
        """Add the name of the part that this form is for; under its new name the part stays selected."""
        document, label = self.document, f"Rename {kind} {id}"

        def take(name: str) -> None:
            document.commit()
            document.apply(label, edit(document.project, id, name))
            document.select(Selection(kind, name))

        tip = f"What the {kind} is called, here and in every file. Everything that names it follows."
        return self._field("Name", text_field(f"Name of {kind} {id}", tip, take), lambda _: id)

    def choice(self, label: str, name: str, tip: str, options: Iterable[tuple[str, str]], edit: Edit[str]) -> ChoiceBox:
        """Add a choice among (value, words); the caller shows the value on refresh."""
        box = ChoiceBox(options)
        named(box, name, tip)

        def take() -> None:
            value = box.value
            if not self.document.attempt(name, lambda project: edit(project, value)):
                self.refresh(self.document.project)

        box.activated.connect(take)
        self.row(label, box)
        return box

    def flag(self, words: str, name: str, tip: str, read: Read[bool], edit: Edit[bool]) -> TickBox:
        """Add something that is so or not."""
        box = TickBox(words)
        named(box, name, tip)

        def take() -> None:
            value = box.isChecked()
            if not self.document.attempt(name, lambda project: edit(project, value)):
                self.refresh(self.document.project)

        box.clicked.connect(take)
        self.row("", box)
        self.on_refresh(lambda project: box.setChecked(read(project)))
        return box

    def button(self, words: str, tip: str, act: Callable[[], object]) -> QPushButton:
        """Add a button across the width."""
        made = push_button(words, tip, act)
        self.wide(made)
        return made

    # Inside ----------------------------------------------------------------------------------------------------------

    def _taker(self, label: str, edit: Edit[Value]) -> Callable[[Value], None]:
        """Take a typed value over as one step; what is wrong with it is raised, for the field to tell."""

        def take(value: Value) -> None:
            self.document.commit()
            self.document.apply(label, edit(self.document.project, value))

        return take

    def _field(self, label: str, field: Field[Value], read: Read[Value]) -> Field[Value]:
        self.row(label, field)
        self.on_refresh(lambda project: field.set_value(read(project)))
        return field


ROOM = 24
"""Pixels beside the words of an opened list."""


class ChoiceBox(QComboBox):
    """A combo box of values and their words; the wheel does nothing unless it is open or has the keys."""

    def __init__(self, options: Iterable[tuple[str, str]]) -> None:
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumContentsLength(8)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self._values: list[str] = []
        self.set_options(options)

    @property
    def value(self) -> str:
        """The value that is chosen, "" when there is none."""
        place = self.currentIndex()
        return self._values[place] if 0 <= place < len(self._values) else ""

    def sizeHint(self) -> QSize:
        """As high as a field."""
        return QSize(super().sizeHint().width(), self.fontMetrics().height() + 8)

    def showPopup(self) -> None:  # noqa: N802  Qt's own
        """Show the list as wide as its words are."""
        self.view().setMinimumWidth(self.list_width())
        super().showPopup()

    def list_width(self) -> int:
        """Pixels that the opened list needs for its words."""
        words = (self.itemText(row) for row in range(self.count()))
        return ROOM + max((self.fontMetrics().horizontalAdvance(each) for each in words), default=0)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the page, which scrolls."""
        event.ignore()

    def shown(self) -> str:
        """Give the words of what is chosen as they are painted, in the room there is."""
        return self.fontMetrics().elidedText(self.currentText(), Qt.TextElideMode.ElideRight, self.width() - 18)

    def event(self, event: QEvent) -> bool:
        """Say what is chosen in the tip, where it is told in short."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip and self.shown() != self.currentText():
            QToolTip.showText(event.globalPos(), f"{self.currentText()}\n{self.toolTip()}", self)
            return True
        return super().event(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint words and a small arrow on a rule, as fields are ruled."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ink = self.palette().color(QPalette.ColorRole.Text)
        chosen = self.palette().color(QPalette.ColorRole.Highlight)
        width, height = float(self.width()), float(self.height())
        if self.hasFocus() or self.underMouse():
            wash = QColor(ink)
            wash.setAlphaF(0.06)
            painter.fillRect(self.rect(), wash)
        painter.setPen(QPen(chosen if self.hasFocus() else self.palette().color(QPalette.ColorRole.Mid), 1))
        painter.drawLine(QPointF(0, height - 0.5), QPointF(width, height - 0.5))
        painter.setPen(ink)
        painter.drawText(QRectF(2, 0, width - 16, height), Qt.AlignmentFlag.AlignVCenter, self.shown())
        x, y = width - 9, height / 2
        painter.setBrush(ink)
        painter.drawPolygon(QPolygonF([QPointF(x - 3.5, y - 2), QPointF(x + 3.5, y - 2), QPointF(x, y + 2.5)]))
        painter.end()

    def set_options(self, options: Iterable[tuple[str, str]]) -> None:
        """Offer other values; the one chosen stays chosen where it is still there."""
        options = list(options)
        if [value for value, _ in options] == self._values:
            return
        kept = self.value
        self._values = [value for value, _ in options]
        self.clear()
        self.addItems([words for _, words in options])
        self.choose(kept)

    def choose(self, value: str) -> None:
        """Show a value as chosen; nothing happens when it isn't there."""
        if value in self._values and self.value != value:
            self.setCurrentIndex(self._values.index(value))


def push_button(words: str, tip: str, act: Callable[[], object]) -> QPushButton:
    """Make a button with a name and a tip that teaches."""
    made = QPushButton(words)
    made.setAutoDefault(False)
    named(made, words.rstrip("…"), tip)
    made.clicked.connect(act)
    return made
