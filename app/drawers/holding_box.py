"""Holding open: the prop, the stop, the gust, and what they come to."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.board.prop_hands import put_prop
from app.drawers.lift_box import LiftBox, say
from app.entry.form import push_button
from app.holding_words import (
    gust_sentences,
    holding_cautions,
    prop_sentences,
    rest_sentences,
    short_holding,
    stop_sentences,
    width_words,
)
from app.quantities import WIND
from app.words import CAUTION
from kinematics import holding_edits
from kinematics.balance import holding_in_full
from kinematics.results import HoldingFigures

if TYPE_CHECKING:
    from PySide6.QtWidgets import QLabel, QPushButton

    from app.board import Board
    from app.document import Document
    from app.entry.form import ChoiceBox
    from app.fields import Field
    from kinematics.analysis import Analysis
    from kinematics.project import Point, Project

PUT, AGAIN = "Put a prop", "Put it anew"
PUT_TIP = (
    "Click on the board where the prop hangs, then its seat. Swing the panel first to where the prop is to hold it: "
    "the prop is set at the opening that is shown."
)
ADD_STOP = "Add a stop"
ADD_STOP_TIP = "Two faces that meet a little past the prop, so that the panel can be lifted off it but goes no further."
RIGHT = "How far right of the origin {} is while the panel is shut."
ABOVE = "How far above the origin {} is while the panel is shut."
BETWEEN = " – "
TURN_ROUND, REMOVE_PROP = "Turn prop round", "Remove prop"
EDITS = {TURN_ROUND: holding_edits.turn_prop_round, REMOVE_PROP: holding_edits.remove_prop}


class HoldingBox(LiftBox):
    """Rows for prop, stop and gust, each with its figures beneath it."""

    title: ClassVar[str] = "Holding open"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.heading("Prop")
        self.prop_button = self.button(PUT, PUT_TIP, lambda: board.start_gesture(put_prop))
        self.prop_rows = PropRows(document, board)
        self.wide(self.prop_rows)
        self.prop_told = self.text_row()
        self.heading("Stop")
        self.stop_button = self.button(ADD_STOP, ADD_STOP_TIP, self._add_stop)
        self.stop_rows = StopRows(document, board)
        self.wide(self.stop_rows)
        self.stop_told = self.text_row()
        self.rest_heading = self.heading("Fully open")
        self.rest_told = self.text_row()
        self._add_gust()
        self.cautions = self.text_row()

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:
        """Say which of them there are."""
        return short_holding(analysis.project, document.units)

    def show_analysis(self, analysis: Analysis) -> None:
        """Show the rows that there is something to enter in, and the newest figures."""
        super().show_analysis(analysis)
        loads = analysis.project.loads
        prop, stop = (None, None) if loads is None else (loads.prop_rod, loads.stop)
        self.prop_button.setText(PUT if prop is None else AGAIN)
        self.stop_button.setVisible(stop is None)
        for rows, part in ((self.prop_rows, prop), (self.stop_rows, stop)):
            rows.setVisible(part is not None)
            if part is not None:
                rows.show_project(analysis.project)
        told = holding_in_full(analysis.project, analysis.sweep) or HoldingFigures()
        say(self.prop_told, prop_sentences(analysis, told, self.units))
        say(self.stop_told, stop_sentences(analysis, told, self.units))
        rest = rest_sentences(told, self.units)
        say(self.rest_told, rest)
        self.rest_heading.setVisible(bool(rest))
        say(self.across, [width_words(analysis.project, self.units)])
        say(self.gust_told, gust_sentences(analysis, told, self.units))
        say(self.cautions, [f"{CAUTION} {each}" for each in holding_cautions(analysis.project)])

    # Making ----------------------------------------------------------------------------------------------------------

    def _add_gust(self) -> None:
        self.heading("Gust")
        self.wind = self.quantity(
            "Wind",
            "Set wind",
            "The gust in which the panel is to stay open, from the worse side; 0 for none. It is a want, held by a "
            "check with all else of the worst case.",
            WIND,
            holding_edits.wind_of,
            holding_edits.set_wind,
        )
        self.across = self.text_row()
        self.gust_told: QLabel = self.text_row()

    def _add_stop(self) -> None:
        self.document.attempt("Add stop", holding_edits.add_stop)


class PropRows(LiftBox):
    """The prop's opening, its two ends, and what is done with it. Hidden while there is none."""

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._readers: list[tuple[Field[float], int, int]] = []
        self.at = self.angle(
            "Set at",
            "Set the prop's opening",
            "The opening at which the rod is set into its seat; it makes the rod's length.",
            lambda project: 0.0 if _prop(project) is None else holding_edits.prop_of(project).at_deg,
            holding_edits.set_prop_opening,
        )
        self.hangs = self._end(0, "Hangs on", "the end that the prop hangs by")
        self.seat = self._end(1, "Sits on", "the prop's seat")
        self.show_button = push_button("Swing there", "Open the panel to where the prop is set.", self._swing)
        self.turn_button = self._doer("Turn round", "Let it hang by its seat, and sit where it hung.", TURN_ROUND)
        self.remove_button = self._doer("Remove", "Take the prop out.", REMOVE_PROP)
        self.beside(self.show_button, self.turn_button, self.remove_button)

    def show_project(self, project: Project) -> None:
        """Show the prop of a project that has one."""
        for box in (self.hangs[0], self.seat[0]):
            box.set_options((link.id, link.id) for link in project.links)
        self.refresh(project)

    def _end(self, number: int, label: str, what: str) -> tuple[ChoiceBox, Field[float], Field[float]]:
        def at(project: Project) -> Point:
            return (0.0, 0.0) if _prop(project) is None else holding_edits.prop_end(project, number).at

        def ride(project: Project, on: str) -> Project:
            return holding_edits.move_prop_end(project, number, at(project), on)

        def move_x(project: Project, x: float) -> Project:
            return holding_edits.move_prop_end(project, number, (x, at(project)[1]))

        def move_y(project: Project, y: float) -> Project:
            return holding_edits.move_prop_end(project, number, (at(project)[0], y))

        on = self.choice(label, f"Set the link of {what}", "The link on which that end is.", (), ride)
        self.on_refresh(lambda project: on.choose("" if _prop(project) is None else _on(project, number)))
        x = self.length("x", f"Move {what}", RIGHT.format(what), lambda project: at(project)[0], move_x)
        y = self.length("y", f"Move {what}", ABOVE.format(what), lambda project: at(project)[1], move_y)
        x.line.setAccessibleName(f"x of {what}")
        y.line.setAccessibleName(f"y of {what}")
        return on, x, y

    def _swing(self) -> None:
        self.document.set_opening(holding_edits.prop_of(self.document.project).at_deg)

    def _doer(self, words: str, tip: str, label: str) -> QPushButton:
        button = push_button(words, tip, lambda: self.document.attempt(label, EDITS[label]))
        button.setAccessibleName(label)
        return button


class StopRows(LiftBox):
    """The stop's links, its opening, its arm. Hidden while there is none."""

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self._column.setContentsMargins(0, 0, 0, 0)
        tip = "Two links that a pivot joins: one face is on each of them."
        self.between = self.choice("Between", "Set the stop's links", tip, (), _set_between)
        self.on_refresh(lambda project: self.between.choose("" if _stop(project) is None else _chosen(project)))
        self.at = self.angle(
            "Meets at",
            "Set the stop's opening",
            "The opening at which its faces meet: past the wanted one and the prop's, before the dead point.",
            lambda project: 0.0 if _stop(project) is None else holding_edits.stop_of(project).at_deg,
            lambda project, deg: holding_edits.change_stop(project, at_deg=deg),
        )
        self.arm = self.length(
            "Arm",
            "Set the stop's arm",
            "How far from the pivot of the two links its faces meet: the longer, the less they bear.",
            lambda project: 0.0 if _stop(project) is None else holding_edits.stop_of(project).arm,
            lambda project, mm: holding_edits.change_stop(project, arm=mm),
        )
        self.remove_button = self.button(
            "Remove stop", "Take the stop out.", lambda: document.attempt("Remove stop", holding_edits.remove_stop)
        )

    def show_project(self, project: Project) -> None:
        """Show the stop of a project that has one."""
        chosen = holding_edits.stop_of(project).between
        pairs = holding_edits.joined_pairs(project)
        there = pairs if chosen in pairs else (*(pair for pair in pairs if pair != chosen[::-1]), chosen)
        self.between.set_options((_key(pair), BETWEEN.join(pair)) for pair in there)
        self.refresh(project)


def _key(pair: tuple[str, str]) -> str:
    """What a pair goes by in a choice: no id holds a control character."""
    return "\x1f".join(pair)


def _chosen(project: Project) -> str:
    return _key(holding_edits.stop_of(project).between)


def _on(project: Project, number: int) -> str:
    return holding_edits.prop_end(project, number).on


def _set_between(project: Project, key: str) -> Project:
    return holding_edits.change_stop(project, between=tuple(key.split("\x1f")))


def _prop(project: Project) -> object:
    return None if project.loads is None else project.loads.prop_rod


def _stop(project: Project) -> object:
    return None if project.loads is None else project.loads.stop
