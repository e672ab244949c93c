"""How much each figure of a hinge counts: a slider each; moved, what was found is put in another order at once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QSlider, QWidget

from app.fields import named
from kinematics.proposals.ranking import NAMES, Preferences

if TYPE_CHECKING:
    from PySide6.QtGui import QWheelEvent

FULL = 100
COLUMNS = 2
WORDS = {
    "few_pins": ("Few pins", "The fewer pins, the less there is to drill and to wear."),
    "compact": ("Compact when shut", "All pins within a small box while shut."),
    "short_links": ("Short links", "The longest link short: stiffer, lighter."),
    "transmission": ("Runs freely", "A large least transmission angle: it runs freely, and play tells less."),
    "never_back": ("Never goes back", "The rear corner goes back as little as can be, at any opening."),
    "low_effort": ("Light to lift", "A small largest push at the handle."),
}


class _Slider(QSlider):
    """A slider that leaves the wheel alone: a sheet that is scrolled must change no wish."""

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the page."""
        event.ignore()


class Wishes(QWidget):
    """The sliders. `changed` tells of each move."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.sliders: dict[str, QSlider] = {}
        self._labels: dict[str, QLabel] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(3)
        first = Preferences()
        for place, name in enumerate(NAMES):
            words, tip = WORDS[name]
            slider = _Slider(Qt.Orientation.Horizontal)
            slider.setRange(0, FULL)
            slider.setPageStep(FULL // 5)
            slider.setValue(round(FULL * float(getattr(first, name))))
            named(slider, words, f"{tip} At the left end it doesn't count; arrow keys move it.")
            slider.valueChanged.connect(lambda _: self.changed.emit())
            label = QLabel(words)
            label.setBuddy(slider)
            row, column = divmod(place, COLUMNS)
            grid.addWidget(label, row, 2 * column)
            grid.addWidget(slider, row, 2 * column + 1)
            grid.setColumnStretch(2 * column + 1, 1)
            self.sliders[name], self._labels[name] = slider, label
        self.show_effort(False)

    @property
    def preferences(self) -> Preferences:
        """What counts, and how much."""
        return Preferences(**{name: slider.value() / FULL for name, slider in self.sliders.items()})

    def show_effort(self, known: bool) -> None:
        """Offer the wish for a light lift only where what it takes to lift is known."""
        self.sliders["low_effort"].setVisible(known)
        self._labels["low_effort"].setVisible(known)
