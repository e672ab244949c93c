"""The rows of one pair among the wants: its clearance in travel and its shut gap, side by side.

In travel: the least gap, and the opening from which on it is wanted. Shut: the visible gap, from one width to another;
"usual" proposes what Preferences say, about that and even.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QSizePolicy, QToolButton, QWidget

from app.fields import Field, angle_field, length_field, named, optional_length_field
from app.lengths import exact_length, format_length
from app.lettering import breakable
from app.words import gap_name
from kinematics import edits, wanting
from kinematics.errors import HingewrightError
from kinematics.project import ShutWant

if TYPE_CHECKING:
    from app.entry.form import Form
    from app.lengths import Units
    from kinematics.project import GapWant, Project

INDENT = 8
NO_WANT = "no want"


class PairRows:
    """The rows of one pair in a form. which : place of its want in the project's gaps; None where nobody asked."""

    def __init__(self, form: Form, between: tuple[str, str], which: int | None) -> None:
        self._form, self._between, self._which = form, between, which
        self.name = gap_name(between)
        form.wide(self._head())
        self.travel = self._travel_fields()
        self.shut = self._shut_fields()
        form.wide(self._grid())

    def _head(self) -> QWidget:
        label = QLabel(breakable(self.name))
        label.setTextFormat(Qt.TextFormat.PlainText)  # a name may look like markup
        label.setWordWrap(True)
        label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        line = QWidget()
        row = QHBoxLayout(line)
        row.setContentsMargins(0, 2, 0, 0)
        row.addWidget(label, 1)
        if self._which is not None:
            row.addWidget(self._drop_button())
        return line

    def _drop_button(self) -> QToolButton:
        drop = QToolButton()
        drop.setText("×")
        tip = "Take this want out, in travel and shut. A pair of panel and fixed link stays watched all the same."
        named(drop, f"Want nothing of {self.name}", tip)
        drop.clicked.connect(
            lambda: self._form.document.attempt(
                f"Remove want {self.name}", lambda project: edits.remove_gap(project, self._between, self._which)
            )
        )
        return drop

    def _grid(self) -> QWidget:
        """Two columns: what is wanted in travel, and what is wanted shut."""
        box = QWidget()
        grid = QGridLayout(box)
        grid.setContentsMargins(INDENT, 0, 0, 6)
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(2)
        grid.addWidget(_faint("in travel"), 0, 0, 1, 2)
        grid.addWidget(_faint("shut"), 0, 3)
        grid.addWidget(self._usual_button(), 0, 4, Qt.AlignmentFlag.AlignRight)
        for column, fields in ((0, self.travel), (3, self.shut)):
            for place, (words, field) in enumerate(fields.items()):
                row = 1 + 3 * place  # beneath each line there is room for what it and its neighbour refuse
                grid.addWidget(field.lend_message(), row + (1 if column == 0 else 2), 0, 1, 5)
                label = _faint(words)
                label.setContentsMargins(0, 4, 0, 0)
                label.setBuddy(field)
                grid.addWidget(label, row, column, Qt.AlignmentFlag.AlignTop)
                grid.addWidget(field, row, column + 1)
        grid.setColumnMinimumWidth(2, 6)
        for column in (1, 4):
            grid.setColumnStretch(column, 1)
        return box

    def _usual_button(self) -> QToolButton:
        button = QToolButton()
        button.setObjectName("offer")  # framed, as nothing else tells it from a word
        button.setText("usual")
        button.clicked.connect(self._take_usual)

        def say(_: Project) -> None:
            named(button, f"Usual shut gap, {self.name}", self._usual_tip())

        self._form.on_refresh(say)
        return button

    def _usual_tip(self) -> str:
        document = self._form.document
        about = document.preferences.shut_gap
        usual = wanting.usual_shut(about)
        least, most = (format_length(mm, document.units) for mm in (usual.at_least, usual.at_most))
        return (
            f"Want the usual shut gap: about {format_length(about, document.units)}, from {least} to {most}, so that "
            "it looks even and leaves room for rubber and paint (common practice). Preferences say how wide."
        )

    def _take_usual(self) -> None:
        usual = wanting.usual_shut(self._form.document.preferences.shut_gap)
        self._form.document.attempt(f"Want shut gap {self.name}", lambda project: self._with_shut(project, usual))

    # In travel -------------------------------------------------------------------------------------------------------

    def _travel_fields(self) -> dict[str, Field[float] | Field[float | None]]:
        if self._which is None:
            return {"at least": self._unasked_field()}
        least = length_field(
            f"Least gap, {self.name}",
            f"The least gap wanted between {self._between[0]} and {self._between[1]} while the panel moves.",
            lambda: self._form.units,
            lambda mm: self._take_gap(mm, self._want.after_deg),
        )
        after = angle_field(
            f"From opening, {self.name}",
            "The opening from which on this holds; 0 is from shut, where a panel may lie on its seal.",
            lambda: self._form.units,
            lambda deg: self._take_gap(self._want.at_least, deg),
        )
        self._form.on_refresh(lambda _: least.set_value(self._want.at_least))
        self._form.on_refresh(lambda _: after.set_value(self._want.after_deg))
        return {"at least": least, "from": after}

    def _unasked_field(self) -> Field[float | None]:
        field = optional_length_field(
            f"Least gap, {self.name}",
            "Watched without being asked, as it is a pair of panel and fixed link. Type a least gap to make it a "
            "check.",
            lambda: self._form.units,
            lambda mm: None if mm is None else self._take_gap(mm, 0.0),
        )
        field.line.setPlaceholderText(NO_WANT)
        return field

    def _take_gap(self, mm: float, deg: float) -> None:
        document = self._form.document
        document.apply(f"Want gap {self.name}", edits.set_gap(document.project, self._between, mm, deg, self._which))

    # Shut ------------------------------------------------------------------------------------------------------------

    def _shut_fields(self) -> dict[str, Field[float | None]]:
        return {
            "at least": self._shut_field("Least", "at_least", "The narrowest that the visible gap may be."),
            "at most": self._shut_field("Largest", "at_most", "The widest that the visible gap may be."),
        }

    def _shut_field(self, word: str, side: str, tip: str) -> Field[float | None]:
        def take(mm: float | None) -> None:
            document = self._form.document
            document.commit()
            document.apply(f"Want shut gap {self.name}", self._with_shut(document.project, self._changed(side, mm)))

        field = optional_length_field(
            f"{word} shut gap, {self.name}",
            f"{tip} It is read with the panel shut, paint and rubber included.",
            lambda: self._form.units,
            take,
        )
        field.line.setPlaceholderText(NO_WANT)
        self._form.on_refresh(lambda _: field.set_value(getattr(self._shut, side, None)))
        return field

    def _changed(self, side: str, mm: float | None) -> ShutWant | None:
        """The shut gap wanted once one of its sides is another; None where nothing is wanted any more."""
        old = self._shut
        least, most = (getattr(old, each, None) if each != side else mm for each in ("at_least", "at_most"))
        if least is None and most is None:
            return None
        check_widths(least, most, self._form.units)
        return ShutWant(least, most) if old is None else replace(old, at_least=least, at_most=most)

    def _with_shut(self, project: Project, shut: ShutWant | None) -> Project:
        return wanting.set_shut_gap(project, self._between, shut, self._which)

    @property
    def _shut(self) -> ShutWant | None:
        return None if self._which is None else self._want.shut

    @property
    def _want(self) -> GapWant:
        """The want of this pair; while rows wait to be made anew there may be fewer."""
        gaps = self._form.document.project.gaps
        return gaps[min(self._which or 0, len(gaps) - 1)]


def check_widths(least: float | None, most: float | None, units: Units) -> None:
    """Refuse the sides (mm) of a shut gap that no gap meets, in the builder's words; HingewrightError."""
    if least is not None and least < 0.0:
        raise HingewrightError("a gap may not be negative", remedy="Where the two may touch, empty this.")
    if most is not None and most <= 0.0:
        raise HingewrightError("the largest must be more than 0", remedy="At 0 the two would touch.")
    if least is not None and most is not None and least > most:
        sides = f"the least, {exact_length(least, units)}, is more than the largest, {exact_length(most, units)}"
        raise HingewrightError(sides, remedy="No gap is both.")


def _faint(words: str) -> QLabel:
    label = QLabel(words)
    label.setObjectName("faint")
    return label
