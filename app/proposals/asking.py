"""The upper part of the sheet: what is asked, read back in words, what hinders, and how to search."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPlainTextEdit, QVBoxLayout, QWidget

from app.fields import Field, length_field, named, optional_length_field
from app.lettering import breakable
from app.proposals.words import fault_words
from app.ticks import TickBox
from kinematics.errors import HingewrightError
from kinematics.proposals.results import KINDS, Settings

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from app.lengths import Units
    from kinematics.project import Project

LINES = 6  # of what is asked are seen at once
MOST_SEED = 999_999_999
MOST_WIDTH = 1000.0
INCH_WIDTH = 28.575  # 1 1/8", the nearest to the usual width that is told in one short fraction
KIND_TIPS = {
    "single pivot": "One pin: the simplest, where nothing stands behind the panel's rear edge.",
    "four-bar": "Two links on four pins.",
    "six-bar": "Four links on seven pins: moves a panel as no four-bar can.",
}


class Told(QLabel):
    """A paragraph that takes no room while it has no words. A name in it may look like markup, so it is plain."""

    def __init__(self, name: str = "", words: str = "") -> None:
        super().__init__()
        self.setObjectName(name)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(True)
        self.setText(words)
        if not words:
            self.hide()

    def tell(self, words: str) -> None:
        """Say this from now on."""
        self.setText(breakable(words))  # a name may be one long word
        self.setVisible(bool(words))


def subheading(words: str) -> QLabel:
    """Make a small heading."""
    label = QLabel(words)
    label.setObjectName("subheading")
    return label


class Asking(QWidget):
    """What is asked and how. `changed` tells that something else is ticked or typed."""

    changed = Signal()

    def __init__(self, project: Project, units: Callable[[], Units]) -> None:
        super().__init__()
        self._width, self._seed = first_width(project), Settings().seed
        self._clear: float | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(subheading("What is asked"))
        self.asked = QPlainTextEdit()
        self.asked.setReadOnly(True)
        self.asked.setTabChangesFocus(True)
        self.asked.setFixedHeight(LINES * self.fontMetrics().height() + 12)
        named(
            self.asked,
            "What is asked",
            "The wants, zones and locked pins that every proposal must keep. Set them on the board and under Wants.",
        )
        column.addWidget(self.asked)
        self.hinder = Told("fault")
        column.addWidget(self.hinder)
        column.addLayout(self._kinds())
        column.addLayout(self._fields(units))

    def _kinds(self) -> QHBoxLayout:
        row = QHBoxLayout()
        self.kinds: dict[str, TickBox] = {}
        for kind in KINDS:
            box = self.kinds[kind] = TickBox(kind[:1].upper() + kind[1:])
            box.setChecked(True)
            named(box, f"Look for: {kind}", KIND_TIPS[kind])
            box.toggled.connect(lambda _: self.changed.emit())
            row.addWidget(box)
        row.addStretch(1)
        return row

    def _fields(self, units: Callable[[], Units]) -> QHBoxLayout:
        row = QHBoxLayout()
        tip = "Of the links that are proposed; where a link is to keep clear of something, its edges are meant."
        self.width_field = length_field("Link width", tip, units, self._take_width)
        tip = "How far the links' edges are to keep from the body at every opening; empty: only as the wants say."
        self.clear_field = optional_length_field("Links clear the body by", tip, units, self._take_clear)
        self.clear_field.line.setPlaceholderText("as wanted")
        tip = "The same number finds the same hinges in the same order; another finds others."
        self.seed_field = Field("Seed", tip, _read_seed, str, self._take_seed)
        fields = (("Link width", self.width_field), ("Links clear", self.clear_field), ("Seed", self.seed_field))
        for words, field in fields:
            label = QLabel(words)
            label.setBuddy(field.line)
            row.addWidget(label)
            row.addWidget(field, 1)
        return row

    @property
    def settings(self) -> Settings:
        """How to search, as it is ticked and typed now."""
        kinds = tuple(kind for kind, box in self.kinds.items() if box.isChecked())
        return Settings(seed=self._seed, kinds=kinds, width=self._width, bands_clear=self._clear)

    @property
    def is_hindered(self) -> bool:
        """Whether it is known already that nothing can be found."""
        return bool(self.hinder.text())

    def tell(self, asked: Sequence[str], faults: Sequence[object]) -> None:
        """Say what is asked, and what hinders."""
        words = "\n".join(asked)
        if self.asked.toPlainText() != words:
            self.asked.setPlainText(words)
        self.hinder.tell("\n".join(f"✗ {fault_words(fault)}" for fault in faults))
        self.width_field.set_value(self._width)
        self.clear_field.set_value(self._clear)
        self.seed_field.set_value(self._seed)

    def lock(self, locked: bool) -> None:
        """Let nothing be changed while it is searched."""
        for box in (*self.kinds.values(), self.width_field, self.clear_field, self.seed_field):
            box.setEnabled(not locked)

    def _take_width(self, width: float) -> None:
        if not 0.0 < width <= MOST_WIDTH:
            raise HingewrightError("a link's width is more than 0 and at most 1 m")
        self._width = width
        self.changed.emit()

    def _take_clear(self, clear: float | None) -> None:
        if clear is not None and not 0.0 <= clear <= MOST_WIDTH:
            raise HingewrightError("what the links are to clear the body by is from 0 to 1 m")
        self._clear = clear
        self.changed.emit()

    def _take_seed(self, seed: int) -> None:
        self._seed = seed
        self.changed.emit()


def first_width(project: Project) -> float:
    """The width (mm) of links to begin with: that of the widest there is, else a usual one in the builder's units."""
    widest = max((link.width for link in project.links if link.kind == "link"), default=0.0)
    usual = INCH_WIDTH if project.display_units == "in" else Settings().width
    return widest if 0.0 < widest <= MOST_WIDTH else usual


def _read_seed(text: str) -> int:
    digits = text.strip()
    if not (digits.isascii() and digits.isdigit()) or int(digits) > MOST_SEED:
        raise HingewrightError(f"a seed is a whole number from 0 to {MOST_SEED}")
    return int(digits)
