"""The sheet of preferences: each is taken over the moment it is chosen or typed, so that its effect is seen at once.

There is nothing to confirm; "As at first" brings all of them back to what the program came with. What is typed wrongly
changes nothing and is answered beneath its field.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QFormLayout, QLabel, QPushButton, QVBoxLayout

from app.buttons import close_only
from app.entry.form import ChoiceBox
from app.fields import Field, length_field, named
from app.lengths import FRACTIONS, format_length
from app.preferences import DECIMALS, Preferences

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from app.document import Document

EXAMPLE = 25.4 * 21 / 64  # mm, a length that every habit shows otherwise
UNIT_WORDS = (("mm", "millimetres"), ("in", "inches and fractions"))
SIGN_WORDS = (("system", "as the desktop has it"), ("point", "a point: 8.3"), ("comma", "a comma: 8,3"))
SHEET_WORDS = (
    ("system", "as the desktop has it"),
    ("light", "light: ink on paper"),
    ("dark", "dark: chalk on a dark sheet"),
)


class PreferencesDialog(QDialog):
    """All preferences of one window.

    take : takes changed preferences over.     set_units : shows the open hinge in other units.
    """

    def __init__(
        self,
        document: Document,
        take: Callable[[Preferences], None],
        set_units: Callable[[str], None],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Preferences")
        self.setAccessibleName("Preferences")
        self._document, self._take, self._set_units = document, take, set_units
        self.choices: dict[str, ChoiceBox] = {}
        self.fields: dict[str, Field[float]] = {}
        self._column = QVBoxLayout(self)
        self._column.setSpacing(6)
        self._add_lengths()
        self._add_amounts()
        self._add_sheet()
        self._add_buttons()
        document.changed.connect(self.refresh)
        document.restyled.connect(self.refresh)
        self.refresh()

    @property
    def _now(self) -> Preferences:
        return self._document.preferences

    # Rows ------------------------------------------------------------------------------------------------------------

    def _add_lengths(self) -> None:
        self._heading("Lengths")
        self._choice("units", "Units", "Of this hinge, and of those that you begin from now on.", UNIT_WORDS)
        self._choice(
            "fraction",
            "Fractions to",
            "The finest part of an inch that lengths are rounded to. Exact entry shows all digits all the same.",
            [(str(part), f"1/{part}″") for part in sorted(FRACTIONS)],
        )
        self._choice(
            "decimals",
            "Decimals",
            "How many decimals of a millimetre are shown. Exact entry shows all digits all the same.",
            [
                (str(count), ("none: 8 mm", "one: 8.3 mm", "two: 8.33 mm", "three: 8.334 mm")[count])
                for count in DECIMALS
            ],
        )
        self._choice("sign", "Decimals behind", "What stands before decimals; both are read when you type.", SIGN_WORDS)
        self.example = QLabel()
        self.example.setObjectName("faint")
        self._rows.addRow("", self.example)

    def _add_amounts(self) -> None:
        self._heading("Arrow keys on the board")
        self._length("nudge", "Nudge", "How far an arrow key moves what is selected.")
        self._length("fine_nudge", "Fine nudge", "How far it moves with Shift held.")
        self._heading("New wants begin with")
        self._length("clearance", "Clearance in travel", "The least gap wanted of a pair that is newly watched.")
        self._length(
            "shut_gap",
            "Shut gap, about",
            "The visible line wanted around the shut panel, its seal and paint included. It is even within a third.",
        )
        self._length("corner", "Corner, at most", "How far back or down a corner that is newly watched may go.")

    def _add_sheet(self) -> None:
        self._heading("Sheet")
        self._choice("sheet", "Sheet", "Light or dark paper, for the window and what it draws.", SHEET_WORDS)

    def _add_buttons(self) -> None:
        buttons = close_only()
        reset = buttons.addButton("As at first", QDialogButtonBox.ButtonRole.ResetRole)
        named(reset, "As at first", "Bring every preference back to what the program came with.")
        reset.clicked.connect(self._reset)
        for button in buttons.buttons():  # Enter takes a field over; it presses none of them
            if isinstance(button, QPushButton):
                button.setAutoDefault(False)
        buttons.rejected.connect(self.reject)
        self._column.addStretch(1)
        self._column.addWidget(buttons)

    def _heading(self, words: str) -> None:
        label = QLabel(words)
        label.setObjectName("subheading")
        label.setContentsMargins(0, 6, 0, 0)
        self._column.addWidget(label)
        self._rows = QFormLayout()
        self._rows.setHorizontalSpacing(14)
        self._rows.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        self._rows.setLabelAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        self._column.addLayout(self._rows)

    def _row(self, words: str, widget: QWidget) -> None:
        label = QLabel(words)
        label.setMinimumWidth(150)
        label.setBuddy(widget.line if isinstance(widget, Field) else widget)
        self._rows.addRow(label, widget)

    def _choice(self, name: str, words: str, tip: str, options: Any) -> None:  # noqa: ANN401  pairs, listed or not
        box = ChoiceBox(options)
        box.setMinimumWidth(230)
        named(box, words, tip)
        box.activated.connect(lambda _: self._choose(name, box.value))
        self.choices[name] = box
        self._row(words, box)

    def _length(self, name: str, words: str, tip: str) -> None:
        field = length_field(words, tip, lambda: self._document.units, lambda mm: self._change(**{name: mm}))
        self.fields[name] = field
        self._row(words, field)

    # Taking over -----------------------------------------------------------------------------------------------------

    def refresh(self, _: object = None) -> None:
        """Show what holds now."""
        for name, box in self.choices.items():
            box.choose(str(getattr(self._now, name)))
        self.choices["units"].choose(self._document.project.display_units)
        for name, field in self.fields.items():
            field.set_value(getattr(self._now, name))
        self.example.setText(f"21/64″, or 8.334 mm, reads {format_length(EXAMPLE, self._document.units)}.")

    def _choose(self, name: str, value: str) -> None:
        self._change(**{name: int(value) if value.isdigit() else value})
        if name == "units":
            self._set_units(value)

    def _change(self, **changes: Any) -> None:  # noqa: ANN401  values of any preference
        self._take(replace(self._now, **changes))
        self.refresh()

    def _reset(self) -> None:
        self._take(Preferences())
        self.refresh()
