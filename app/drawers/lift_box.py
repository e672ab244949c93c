"""What every box of the drawer Lift is made of: rows of exact entry (`app.entry.form`) that know board and document.

A box has a `title`, the heading of its section, and says by `gist` in a few words what is in it, for the time that
the section is folded. The drawer brings a box up to date (`show_analysis`) when it is unfolded and whenever there is
another analysis, never during a drag; a box needs no signals for that. Rows that are added by `row`, `length`, `angle`,
… follow by themselves.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFormLayout, QHBoxLayout, QLabel, QWidget

from app.entry.form import Form
from app.fields import HOW_LENGTHS, Field
from app.lengths import exact_length, parse_length
from app.lettering import breakable
from app.quantities import format_temperature, parse_temperature
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from app.board import Board
    from app.document import Document
    from app.entry.form import Edit, Read
    from app.quantities import Quantity
    from kinematics.analysis import Analysis

HOW = "Enter takes it over, Esc brings the old value back."


class LiftBox(Form):
    """One section's body. Subclasses name their title, add their rows when they are made, and say what is in them."""

    title: ClassVar[str] = ""
    wanted = Signal(str)
    """Something that the window shows is wanted, by a word that it knows."""

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document)
        self.board = board
        self._forms: dict[QWidget, QFormLayout] = {}
        self._column.setContentsMargins(0, 0, 0, 6)

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:  # noqa: ARG003  subclasses need them
        """Say in a few words what is in it, "" for nothing. The box may not be made yet."""
        return ""

    @classmethod
    def unfolds(cls, analysis: Analysis) -> bool:  # noqa: ARG003  subclasses need it
        """Tell whether the section stands unfolded when the drawer is first opened: where something is to be done."""
        return False

    def show_analysis(self, analysis: Analysis) -> None:
        """Bring the box up to date with an analysis; the rows show its project."""
        self.refresh(analysis.project)

    def put_away(self) -> None:
        """Take off the board what the box has drawn there, as it is folded or the drawer closed. Shown anew, it is told
        so by `show_analysis`.
        """

    def row(self, label: str, widget: QWidget) -> None:
        """Add a widget with its label, and remember where."""
        super().row(label, widget)
        if self._rows is not None:
            self._forms[widget] = self._rows

    def set_row(self, widget: QWidget, visible: bool) -> None:
        """Show or hide a widget with the label beside it."""
        form = self._forms.get(widget)
        if form is None:
            widget.setVisible(visible)
        else:
            form.setRowVisible(widget, visible)

    # More rows -------------------------------------------------------------------------------------------------------

    def text_row(self) -> QLabel:
        """Add a paragraph that can be copied; `say` fills it."""
        label = paragraph()
        self.wide(label)
        return label

    def beside(self, *widgets: QWidget) -> QWidget:
        """Add widgets beside each other."""
        box = QWidget()
        row = QHBoxLayout(box)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        for widget in widgets:
            row.addWidget(widget)
        row.addStretch(1)
        return self.wide(box)

    def over_nothing(
        self, label: str, name: str, tip: str, read: Read[float | None], edit: Edit[float | None]
    ) -> Field[float | None]:
        """Add a length that may be missing, and is more than nothing where it is there."""
        parse, show = (lambda text: parse_length(text, self.units)), (lambda mm: exact_length(mm, self.units))
        field = optional_field(name, f"{tip}\n{HOW_LENGTHS}", above_zero(parse), show, self._taker(name, edit))
        field.line.setPlaceholderText("not known")
        return self._field(label, field, read)

    def optional_quantity(
        self, label: str, name: str, tip: str, quantity: Quantity, read: Read[float | None], edit: Edit[float | None]
    ) -> Field[float | None]:
        """Add a force or the like that may be missing: nothing is wanted then."""
        tip = f"{tip}\nType as you would write it, {quantity.example}. {HOW}\nEmpty it to want nothing."
        parse, show = (lambda text: quantity.parse(text, self.units)), (lambda it: quantity.exact(it, self.units))
        field = optional_field(name, tip, parse, show, self._taker(name, edit))
        field.line.setPlaceholderText("no want")
        return self._field(label, field, read)

    def warmth(
        self, label: str, name: str, tip: str, read: Read[float | None], edit: Edit[float | None]
    ) -> Field[float | None]:
        """Add a temperature that may be missing."""
        parse, show = (
            (lambda text: parse_temperature(text, self.units)),
            (lambda it: format_temperature(it, self.units)),
        )
        return self._field(label, optional_field(name, f"{tip}\n{HOW}", parse, show, self._taker(name, edit)), read)


def optional_field(
    name: str, tip: str, parse: Callable[[str], float], show: Callable[[float], str], take: Callable[..., None]
) -> Field[float | None]:
    """Make a field whose value may be missing: an empty line is None."""
    return Field(
        name,
        tip,
        lambda text: parse(text) if text.strip() else None,
        lambda value: "" if value is None else show(value),
        take,
    )


def above_zero(parse: Callable[[str], float]) -> Callable[[str], float]:
    """Read a value that must be more than nothing; what isn't is answered with a sentence."""

    def checked(text: str) -> float:
        value = parse(text)
        if not value > 0.0:
            raise HingewrightError(f"{' '.join(text.split())[:30]} isn't more than 0", remedy="Type a larger value.")
        return value

    return checked


def paragraph() -> QLabel:
    """Make a paragraph that can be copied; `say` fills it."""
    label = QLabel()
    label.setTextFormat(Qt.TextFormat.PlainText)  # a name may look like markup
    label.setWordWrap(True)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label


def say(label: QLabel, sentences: Iterable[str]) -> None:
    """Show sentences, a line each, and nothing where there are none."""
    label.setText(breakable("\n".join(sentences)))
    label.setVisible(bool(label.text()))
