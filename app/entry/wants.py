"""Exact entry of what is wanted: how far the panel opens and which way, the least gap of each pair, the least pin
spacing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QToolButton, QWidget

from app.entry.form import ChoiceBox, Form, push_button
from app.fields import angle_field, length_field, named, optional_length_field
from app.words import gap_name
from kinematics import edits

if TYPE_CHECKING:
    from app.document import Document
    from kinematics.project import GapWant, Project

OPENS = (("anticlockwise", "anticlockwise ↺"), ("clockwise", "clockwise ↻"))


class WantsForm(Form):
    """The wants of the whole project."""

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self._add_travel()
        self.heading("Gaps: at least, from opening on")
        self.gap_fields: dict[str, QWidget] = {}
        for which, want in enumerate(document.project.gaps):
            self._wanted_row(which, want)
        for between in unasked_pairs(document):
            self._unasked_row(between)
        if not self.gap_fields:
            self.told("No pair is watched yet: pairs of panel and fixed link are, once both have an outline.")
        self._add_pair_row()
        self.end()

    def _add_travel(self) -> None:
        self.text(
            "Title",
            "Set title",
            "What this hinge is called; it heads the pictures and the report.",
            lambda project: project.title,
            edits.set_title,
        )
        self.opening = self.angle(
            "Opens to",
            "Set wanted opening",
            "How far the panel is to turn from shut, more than 0 and at most 180 degrees. Reaching it is a check.",
            lambda project: project.travel.wanted_deg,
            lambda project, deg: edits.set_travel(project, wanted_deg=deg),
        )
        opens = self.choice(
            "Turns",
            "Set which way it opens",
            "Which way the panel turns as it opens, seen in this side view.",
            OPENS,
            lambda project, opens: edits.set_travel(project, opens=opens),
        )
        self.on_refresh(lambda project: opens.choose(project.travel.opens))
        self.spacing = self.length(
            "Pin spacing",
            "Set least pin spacing",
            "Least distance between two pins of a link that has a width, so that its plate keeps enough metal.",
            lambda project: project.pin_spacing,
            edits.set_pin_spacing,
        )

    @staticmethod
    def shape(document: Document) -> object:
        """Say when other rows are needed: when other pairs are watched or could be."""
        return (
            tuple(want.between for want in document.project.gaps),
            unasked_pairs(document),
            watchable(document.project),
        )

    def _wanted_row(self, which: int, want: GapWant) -> None:
        between, name = want.between, gap_name(want.between)
        label = f"Want gap {name}"

        def take_least(mm: float) -> None:
            after = self._want(which).after_deg
            self.document.apply(label, edits.set_gap(self.document.project, between, mm, after, which))

        def take_after(deg: float) -> None:
            least = self._want(which).at_least
            self.document.apply(label, edits.set_gap(self.document.project, between, least, deg, which))

        least = length_field(
            f"Least gap, {name}",
            f"The least gap wanted between {between[0]} and {between[1]}.",
            lambda: self.units,
            take_least,
        )
        after = angle_field(
            f"From opening, {name}",
            "The opening from which on the want holds; 0 is from shut, where a panel may lie on its seal.",
            lambda: self.units,
            take_after,
        )
        drop = QToolButton()
        drop.setText("×")
        named(
            drop,
            f"Want nothing of {name}",
            "Take this want out. A pair of panel and fixed link stays watched all the same.",
        )
        drop.clicked.connect(
            lambda: self.document.attempt(
                f"Remove want {name}", lambda project: edits.remove_gap(project, between, which)
            )
        )
        self._pair_row(name, least, after, drop)
        self.on_refresh(lambda _: least.set_value(self._want(which).at_least))
        self.on_refresh(lambda _: after.set_value(self._want(which).after_deg))
        self.gap_fields[name] = least

    def _want(self, which: int) -> GapWant:
        """Give the want at a place; while rows wait to be made anew there may be fewer."""
        gaps = self.document.project.gaps
        return gaps[min(which, len(gaps) - 1)]

    def _unasked_row(self, between: tuple[str, str]) -> None:
        name = gap_name(between)

        def take(mm: float | None) -> None:
            if mm is not None:
                self.document.apply(f"Want gap {name}", edits.set_gap(self.document.project, between, mm))

        field = optional_length_field(
            f"Least gap, {name}",
            "Watched without being asked, as it is a pair of panel and fixed link. Type a least gap to make it a "
            "check.",
            lambda: self.units,
            take,
        )
        field.line.setPlaceholderText("watched, no want")
        self._pair_row(name, field)
        self.gap_fields[name] = field

    def _pair_row(self, name: str, *widgets: QWidget) -> None:
        label = QLabel(name)
        label.setWordWrap(True)
        label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.wide(label)
        line = QWidget()
        row = QHBoxLayout(line)
        row.setContentsMargins(12, 0, 0, 4)
        for widget in widgets:
            row.addWidget(widget, 0 if isinstance(widget, QToolButton) else 1)
        self.wide(line)

    def _add_pair_row(self) -> None:
        names = [(name, name) for name in watchable(self.document.project)]
        if len(names) < 2:
            return
        self.heading("Watch another pair")
        self.first, self.second = ChoiceBox(names), ChoiceBox(names)
        named(self.first, "First of the pair", "An outline, or a link that has a width.")
        named(
            self.second,
            "Second of the pair",
            "An outline, or a link that has a width; it must ride on another link than the first.",
        )
        self.second.setCurrentIndex(1)
        line = QWidget()
        row = QHBoxLayout(line)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.first, 1)
        row.addWidget(self.second, 1)
        row.addWidget(
            push_button(
                "Watch",
                "Watch the gap between these two and want the clearance that Preferences say; change it above.",
                self._add_pair,
            )
        )
        self.wide(line)

    def _add_pair(self) -> None:
        between = self.first.value, self.second.value
        least = self.document.preferences.clearance
        self.document.attempt(f"Want gap {gap_name(between)}", lambda project: edits.set_gap(project, between, least))


def unasked_pairs(document: Document) -> tuple[tuple[str, str], ...]:
    """Give the pairs that are watched although nobody asked for them."""
    return tuple(gap.between for gap in document.analysis.gaps if not gap.wanted)


def watchable(project: Project) -> tuple[str, ...]:
    """Give what can be named in a gap want: outlines, and links that have a width."""
    return (*(outline.id for outline in project.outlines), *(link.id for link in project.links if link.width > 0.0))
