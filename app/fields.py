"""Fields for exact entry: what is typed is read, taken over as one step, or answered with a sentence beside the field.

A field shows a value of the project and takes what a person types: lengths in mm or inches with fractions and sums,
angles, names. A wrong entry changes nothing: the old value stays in the project, the typed text stays to be mended,
the sentence stands beneath it. Enter or leaving the field takes it over; Esc brings the old value back.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Generic, TypeVar

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence, QMouseEvent
from PySide6.QtWidgets import QComboBox, QLabel, QLineEdit, QVBoxLayout, QWidget

from app.lengths import exact_length, format_angle, parse_angle, parse_length
from app.lettering import in_lines
from app.quantities import parse_count
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.lengths import Units
    from app.quantities import Quantity


Value = TypeVar("Value")


def named(widget: QWidget, name: str, tip: str) -> QWidget:
    """Give a control the name that a screen reader says and the tip that teaches; returns the control."""
    widget.setAccessibleName(name)
    widget.setToolTip(in_lines(tip))
    if isinstance(widget, QComboBox):  # Qt may say what is chosen as its name, so the description must name it too
        widget.setAccessibleDescription(f"{name}. {tip}")
    return widget


def in_tab_order(before: QWidget, page: QWidget) -> QWidget:
    """Let Tab go from a control through all those of a page, in the order in which they were made. Gives the last."""
    window = before.window()
    for widget in page.findChildren(QWidget):
        takes_keys = bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus) and widget.focusProxy() is None
        if takes_keys and widget.window() is window:  # the list that a choice drops down is a window of its own
            QWidget.setTabOrder(before, widget)
            before = widget
    return before


class _Line(QLineEdit):
    """A line that gives its text up on Esc."""

    given_up = Signal()
    is_wrong = False  # what stands here was refused
    _is_entered = False  # the mouse has just given it the keys

    def event(self, event: QEvent) -> bool:
        """Leave undo and redo to the window, unless there is typing here to take back."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.ShortcutOverride and self._leaves(event):
            event.ignore()
            return False
        return super().event(event)

    def _leaves(self, event: QKeyEvent) -> bool:
        keys = (QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo)
        return not self.isModified() and any(event.matches(key) for key in keys)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Remember that a click brought the keys."""
        super().focusInEvent(event)
        self._is_entered = event.reason() == Qt.FocusReason.MouseFocusReason

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """The first click selects all, as Tab does: what is typed next takes the old value's place."""
        super().mouseReleaseEvent(event)
        if self._is_entered and not self.hasSelectedText():
            self.selectAll()
        self._is_entered = False

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc gives up only what was typed; without that it goes on to the window."""
        if event.key() == Qt.Key.Key_Escape and (self.isModified() or self.is_wrong):
            self.given_up.emit()
        else:
            super().keyPressEvent(event)


class Field(QWidget, Generic[Value]):
    """One value of the project in a line, and a sentence beneath when what was typed cannot be used.

    read : text → value; raises HingewrightError.     show : value → text.     take : puts the value into the project;
    may raise it too.
    """

    def __init__(
        self,
        name: str,
        tip: str,
        read: Callable[[str], Value],
        show: Callable[[Value], str],
        take: Callable[[Value], None],
    ) -> None:
        super().__init__()
        self._read, self._show, self._take = read, show, take
        self._shown = ""
        self.line = _Line()
        named(self.line, name, tip)
        self._message = QLabel()
        self._message.setObjectName("fault")
        self._message.setWordWrap(True)
        self._message.setTextFormat(Qt.TextFormat.PlainText)
        self._message.hide()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(2)
        self._column.addWidget(self.line)
        self._column.addWidget(self._message)
        self.line.editingFinished.connect(self._finish)
        self.line.given_up.connect(self._give_up)

    @property
    def message(self) -> str:
        """The sentence beside the field, or ""."""
        return self._message.text()

    def lend_message(self) -> QLabel:
        """Give the sentence's own widget away, to stand where it has more room than beneath a narrow line."""
        self._column.removeWidget(self._message)
        return self._message

    def set_value(self, value: Value) -> None:
        """Show the project's value, unless someone is typing here."""
        shown = self._show(value)
        typing = self.line.isModified() and self.line.text() != self._shown
        if shown == self._shown and (typing or self.message):
            return
        self._shown = shown
        if not (typing and self.line.hasFocus()):
            self._give_up()

    def _give_up(self) -> None:
        if self.line.text() != self._shown or self.line.isUndoAvailable():  # its own history ends here
            self.line.setText(self._shown)
        self.line.setCursorPosition(0)
        self.line.setModified(False)
        self._say("")

    def _finish(self) -> None:
        text = self.line.text()
        if text == self._shown:
            self._say("")
            return
        try:
            value = self._read(text)
            self.line.setModified(False)
            self._take(value)
        except HingewrightError as error:
            self._say(f"✗ {error} Still {self._shown or 'empty'}.")
            return
        # What was taken may read the same as before (12.0 for 12): show it in our own spelling.
        self._shown = self._show(value)
        self._give_up()

    def _say(self, sentence: str) -> None:
        self.line.is_wrong = bool(sentence)
        if sentence != self._message.text():
            self._message.setText(sentence)
            self._message.setVisible(bool(sentence))
            self.line.setAccessibleDescription(sentence)


HOW_LENGTHS = (
    'Type as you would write it: 12, 12,5 mm, 3 1/16", 25.4/2, 12+3/4. '
    "Enter takes it over, Esc brings the old value back."
)
HOW_ANGLES = "Degrees, such as 75 or 62.5. Enter takes it over, Esc brings the old value back."


def length_field(name: str, tip: str, units: Callable[[], Units], take: Callable[[float], None]) -> Field[float]:
    """Make a field for a length; shows and reads the project's units, hands over mm."""
    return Field(
        name,
        f"{tip}\n{HOW_LENGTHS}",
        lambda text: parse_length(text, units()),
        lambda mm: exact_length(mm, units()),
        take,
    )


def optional_length_field(
    name: str, tip: str, units: Callable[[], Units], take: Callable[[float | None], None]
) -> Field[float | None]:
    """Make a field for a length that may be missing: an empty line is None."""

    def read(text: str) -> float | None:
        return parse_length(text, units()) if text.strip() else None

    def show(mm: float | None) -> str:
        return "" if mm is None else exact_length(mm, units())

    field = Field(name, f"{tip}\n{HOW_LENGTHS}\nEmpty it to want nothing.", read, show, take)
    field.line.setPlaceholderText("not limited")
    return field


def angle_field(name: str, tip: str, units: Callable[[], Units], take: Callable[[float], None]) -> Field[float]:
    """Make a field for an angle in degrees; units say point or comma."""
    return Field(name, f"{tip}\n{HOW_ANGLES}", parse_angle, lambda deg: format_angle(deg, units(), fine=True), take)


def optional_angle_field(
    name: str, tip: str, units: Callable[[], Units], take: Callable[[float | None], None]
) -> Field[float | None]:
    """Make a field for an angle that may be missing: an empty line is None."""

    def read(text: str) -> float | None:
        return parse_angle(text) if text.strip() else None

    def show(deg: float | None) -> str:
        return "" if deg is None else format_angle(deg, units(), fine=True)

    field = Field(name, f"{tip}\n{HOW_ANGLES}\nEmpty it to want nothing.", read, show, take)
    field.line.setPlaceholderText("no want")
    return field


def quantity_field(
    name: str, tip: str, quantity: Quantity, units: Callable[[], Units], take: Callable[[float], None]
) -> Field[float]:
    """Make a field for a mass, a force or the like; units say in which of its units it is told."""
    how = f"Type as you would write it, {quantity.example}. Enter takes it over, Esc brings the old value back."
    return Field(
        name,
        f"{tip}\n{how}",
        lambda text: quantity.parse(text, units()),
        lambda value: quantity.exact(value, units()),
        take,
    )


def count_field(name: str, tip: str, units: Callable[[], Units], take: Callable[[int], None]) -> Field[int]:
    """Make a field for a whole number, 1 or more."""
    return Field(name, tip, lambda text: parse_count(text, units()), str, take)


def text_field(name: str, tip: str, take: Callable[[str], None]) -> Field[str]:
    """Make a field for a name or any other line of text."""
    return Field(name, tip, str.strip, str, take)


def is_by_key(event: QFocusEvent) -> bool:
    """Tell whether the focus came by keys: only then a large part frames itself, as a frame would disturb the mouse."""
    reasons = Qt.FocusReason
    return event.reason() in (reasons.TabFocusReason, reasons.BacktabFocusReason, reasons.ShortcutFocusReason)
