"""What the adjusters do, in the drawer Build: a table of slots and shims, and which to turn for a wanted gap."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.as_made import spans_of
from app.drawers.lift_box import LiftBox, say
from app.drawers.row_table import RowTable
from app.entry.form import ChoiceBox
from app.fields import length_field, named
from app.lengths import format_length
from app.mount_words import (
    NO_ADJUSTERS,
    NOT_MOVING,
    adjuster_name,
    effect_sentence,
    moved_words,
    rate_words,
    rest_sentence,
    turning_sentences,
)
from kinematics.adjusting import adjusting, alone, which
from kinematics.faces import skin, wall

if TYPE_CHECKING:
    from app.board import Board
    from app.document import Document
    from kinematics.adjusting import Adjusting, Effect
    from kinematics.analysis import Analysis
    from kinematics.project import Point

HEADS = ("for each 1 of", "rear", "front", "gap")
WIDTHS = (52, 52, 52)


class AdjustersTable(RowTable):
    """A row for each adjuster: how rear corner and front edge go (x over y), and a gap (shut over in travel)."""

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(
            len(HEADS),
            "What the adjusters do",
            "Each row: turned by 1 in both hinges, the shut panel's rear corner and front edge go so far right, and "
            "beneath it up; the gap grows so far, shut, and beneath it in travel. Click a row, or press Enter on it, "
            "to see the panel shut and where the adjuster is.",
        )
        self._document, self._board = document, board
        self.places: list[Point | None] = []
        self.choose_rows(HEADS, WIDTHS)

    def show_told(self, told: Adjusting, gap: int, places: list[Point | None]) -> None:
        """Show what all adjusters do, with one of the gaps."""
        units, self.places = self._document.units, places
        self.setRowCount(len(told.effects))
        for row, effect in enumerate(told.effects):
            tip = effect_sentence(told, effect, units)
            rear, front = (moved_words(each, units).replace(", ", "\n") for each in (effect.rear, effect.front))
            rates = (
                ""
                if not told.gaps
                else "\n".join(rate_words(each[gap], units) for each in (effect.shut, effect.travel))
            )
            words = (f"{adjuster_name(effect)}\n  {_left(effect, self._document)}", rear, front, rates)
            for column, each in enumerate(words):
                self.put_words(row, column, each, tip, each.replace("\n", ", ") if column else tip)
        self.fit()

    def go_to(self, row: int) -> None:
        """Show the panel shut, and where the adjuster is."""
        if 0 <= row < len(self.places):
            self._document.set_opening(0.0)
            self._board.show_place(self.places[row], 0.0)


def _left(effect: Effect, document: Document) -> str:
    """What is left of an adjuster, in short: the way more, and the way less."""
    adjuster = effect.adjuster
    if adjuster.more is None or adjuster.less is None:
        return "as its thread goes"
    more, less = (format_length(each, document.units, unit=False) for each in (adjuster.more, adjuster.less))
    return f"left +{more} −{less}"


class AdjustersBox(LiftBox):
    """The table, and which to turn."""

    title: ClassVar[str] = "Adjusters"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self._told: Adjusting | None = None
        self.change = 0.0
        self.why = self.text_row()
        self.body = LiftBox(document, board)
        self.wide(self.body)
        self.gap = ChoiceBox([])
        named(self.gap, "Gap to set", "Which gap the table and the answer below are of.")
        self.gap.activated.connect(self._show_told)
        self.body.row("Gap", self.gap)
        self.table = AdjustersTable(document, board)
        self.body.wide(self.table)
        self.rest = self.body.text_row()
        self.wider = length_field(
            "Change of the shut gap",
            "How much wider you want this gap, panel shut; negative: narrower. It changes nothing in the drawing.",
            lambda: self.units,
            self._want,
        )
        self.body.row("Wider by", self.wider)
        self.wider.set_value(0.0)
        self.answer = self.body.text_row()

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:  # noqa: ARG003  as all boxes have it
        """Nothing: what is in it follows from bracket and base."""
        return ""

    def show_analysis(self, analysis: Analysis) -> None:
        """Work the table out anew."""
        super().show_analysis(analysis)
        project = analysis.project
        bracket, base = project.mounted.bracket, project.mounted.base
        self._told = None
        if bracket is not None or base is not None:
            self._told = adjusting(analysis, bracket, base, spans_of(project))
        why = "" if self._told is not None else NOT_MOVING if bracket or base else NO_ADJUSTERS
        say(self.why, [why] if why else [])
        self.body.setVisible(self._told is not None)
        if self._told is not None:
            pairs = [(str(place), " – ".join(gap.between)) for place, gap in enumerate(self._told.gaps)]
            self.gap.set_options(pairs)
            say(self.rest, [rest_sentence(self._told)])
        self._show_told()

    def _show_told(self) -> None:
        if self._told is None:
            return
        self.table.show_told(self._told, self._place, [self._where(each) for each in self._told.effects])
        self._answer()

    @property
    def _place(self) -> int:
        """Place of the gap that is chosen."""
        return int(self.gap.value) if self.gap.value else 0

    def _where(self, effect: Effect) -> Point | None:
        """Where an adjuster is on the sheet."""
        project = self.document.project
        mounted = project.mounted
        if effect.adjuster.key == "rest":
            at = None if self._told is None or self._told.rest is None else self._told.rest.at
        elif effect.adjuster.key in ("up_down", "off_wall", "top_off_wall"):
            face = None if mounted.base is None else wall(project, mounted.base)
            at = None if face is None else face.at
        else:
            face = None if mounted.bracket is None else skin(project, mounted.bracket)
            at = None if face is None else face.at
        return None if at is None else (at.real, at.imag)

    def _want(self, mm: float) -> None:
        self.change = mm
        self._answer()

    def _answer(self) -> None:
        if self._told is None or not self._told.gaps or abs(self.change) < 1e-6:
            say(self.answer, [])
            return
        single = alone(self._told, self._place, self.change)
        turned = which(self._told, {self._place: self.change})
        say(self.answer, turning_sentences(self._told, self._place, self.change, single, turned, self.units))
