"""Exact entry of what is wanted: how far the panel opens and which way, the least pin spacing, the gaps of each pair in
travel and shut, floor and roof.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QHBoxLayout, QWidget

from app.entry.form import ChoiceBox, Form, push_button
from app.entry.pair_rows import PairRows
from app.entry.room_rows import RoomRows
from app.fields import named
from app.words import gap_name
from kinematics import edits

if TYPE_CHECKING:
    from app.document import Document
    from kinematics.project import Project

OPENS = (("anticlockwise", "anticlockwise ↺"), ("clockwise", "clockwise ↻"))


class WantsForm(Form):
    """The wants of the whole project."""

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self._add_travel()
        self.heading("Gaps")
        wanted = [PairRows(self, want.between, which) for which, want in enumerate(document.project.gaps)]
        unasked = [PairRows(self, between, None) for between in unasked_pairs(document)]
        self.pairs = (*wanted, *unasked)
        if not self.pairs:
            self.told("No pair is watched yet: pairs of panel and fixed link are, once both have an outline.")
        self._add_pair_row()
        self.room = RoomRows(self)
        self.told("Corners that must not go far back or down: the board's tool Corner (W).")
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
        self.transmission = self.optional_angle(
            "Transmission",
            "Want transmission angle",
            "Least transmission angle of every link over the travel, 90 degrees at most: the smaller, the stiffer it "
            "goes and the more play tells.",
            lambda project: project.transmission_at_least,
            edits.set_transmission,
        )

    @staticmethod
    def shape(document: Document) -> object:
        """Say when other rows are needed: when other pairs are watched or could be."""
        return (
            tuple(want.between for want in document.project.gaps),
            unasked_pairs(document),
            watchable(document.project),
            RoomRows.shape(document.project),
        )

    def _add_pair_row(self) -> None:
        names = [(name, name) for name in watchable(self.document.project)]
        if len(names) < 2:
            return
        self.heading("Watch another pair")
        self.first, self.second = ChoiceBox(names), ChoiceBox(names)
        for box in (self.first, self.second):
            box.setMinimumContentsLength(6)  # two stand beside each other
        named(self.first, "First of the pair", "An outline, a link that has a width, a strut or a spring.")
        named(
            self.second,
            "Second of the pair",
            "An outline, a link that has a width, a strut or a spring; it must ride on another link than the first.",
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
    """Give what can be named in a gap want: outlines, links that have a width, struts and springs."""
    named = (*(outline.id for outline in project.outlines), *(link.id for link in project.links if link.width > 0.0))
    return tuple(dict.fromkeys((*named, *(each.id for each in (project.loads.devices if project.loads else ())))))
