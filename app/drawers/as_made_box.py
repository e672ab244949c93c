"""As made, in the drawer Build: what was measured on each hinge, what follows beside what was drawn, what mends it.

Measured values go into the project, one step each. Adjusters and holes are looked for between frames, a look at a time,
so that the window stays at hand; a change of the project drops what was found.
"""

from __future__ import annotations

from time import perf_counter
from typing import TYPE_CHECKING, ClassVar

from PySide6.QtCore import QTimer

from app.as_made import both_built, built, is_measured, left_and_right, spans_of, wants_stack
from app.drawers.lift_box import LiftBox, say
from app.drawers.made_rows import ON_PINS, rows_of
from app.drawers.made_table import MadeTable
from app.drawers.row_table import RowTable
from app.entry.form import ChoiceBox, push_button
from app.fields import named
from app.lengths import NOTHING
from app.made_words import (
    ALL_WELL,
    MADE_CAUTION,
    NOT_MEASURED,
    apart_sentences,
    built_sentences,
    doubt_sentence,
    float_words,
    gap_sentences,
    made_gist,
    put_back_sentences,
    redrill_sentences,
)
from app.stack.job import stack_job
from app.words import FAILS, HOLDS, check_have, check_name
from kinematics.built_beside import off_course, paired_checks, pins_beside
from kinematics.errors import HingewrightError
from kinematics.made_edits import copy_hand, forget_hand, show_built, turn_adjusters
from kinematics.made_shapes import readings
from kinematics.putting_back import needs_nothing, putting_back, redrilling

if TYPE_CHECKING:
    from collections.abc import Generator

    from app.board import Board
    from app.document import Document
    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.built_beside import Beside
    from kinematics.putting_back import PutBack, Redrilled
    from kinematics.results import Check

SLICE_S = 0.012
"""How long is looked at a time: less than a frame."""
OTHER = {"left": "right", "right": "left"}
FIND = "Find what brings it back"


class ChecksBeside(RowTable):
    """The checks that read otherwise as built, the worst first; click one to go to where it is read."""

    row_height: ClassVar[int] = 52
    seen: ClassVar[int | None] = 4

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(
            3,
            "Checks as drawn and as built",
            "Each check that reads otherwise as built, with its figure as drawn and as built. Click one, or press "
            "Enter on it, to go to the opening at which it is read.",
        )
        self._document, self._board = document, board
        self.pairs: tuple[tuple[Check, Check | None], ...] = ()
        self.choose_rows(("check", "drawn", "built"), (84, 84))
        self.setWordWrap(True)

    def show_pairs(self, pairs: tuple[tuple[Check, Check | None], ...]) -> None:
        """Show the newest pairs, as far as they differ."""
        units = self._document.units
        self.pairs = tuple((was, now) for was, now in pairs if now is None or _read(was, units) != _read(now, units))
        self.setRowCount(len(self.pairs))
        for row, (was, now) in enumerate(self.pairs):
            sign = HOLDS if now is not None and now.ok else FAILS
            name, drawn, have = check_name(was, units), _read(was, units), NOTHING if now is None else _read(now, units)
            tip = f"{name}: {drawn} as drawn, {have} as built"
            for column, words in enumerate((f"{sign} {name}", _in_two(drawn), _in_two(have))):
                self.put_words(row, column, words, tip, tip)
        self.setVisible(bool(self.pairs))
        self.fit()

    def go_to(self, row: int) -> None:
        """Show where the check is read."""
        check = self.pairs[row][1] or self.pairs[row][0]
        if check.deg is not None:
            self._document.set_opening(check.deg)
        if check.place is not None:
            self._board.show_place(check.place, check.deg or 0.0)


def _read(check: Check, units: Units) -> str:
    return check_have(check, units)


def _in_two(words: str) -> str:
    """In two lines where it says at which opening."""
    return words.replace(" at ", "\nat ", 1)


class AsMadeBox(LiftBox):
    """Which hinge, its measured values, what follows, what to do."""

    title: ClassVar[str] = "As made"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self._search: Generator[None, None, None] | None = None
        self._found: tuple[PutBack | None, Redrilled | None] = (None, None)
        self._of: tuple[Analysis, str] | None = None  # what was looked for, and of which hinge
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._look_on)
        self.job = stack_job(document)
        self.job.changed.connect(self._renew)
        self.told("Measure the finished parts and type what came out; what stays empty is as drawn.")
        self._build_entry()
        self._build_figures()
        self._build_answers()
        self.told(MADE_CAUTION)

    def _build_entry(self) -> None:
        self.hand = ChoiceBox([("left", "left"), ("right", "right")])
        named(self.hand, "Hinge measured", "Which of the two hinges the values below are of.")
        self.hand.activated.connect(lambda: self.show_analysis(self.document.analysis))
        self.row("Hinge", self.hand)
        self.scope = ChoiceBox([])
        named(self.scope, "Part measured", "Which link’s holes and sheet are shown, or what is on the pins.")
        self.scope.activated.connect(self._show_rows)
        self.row("Part", self.scope)
        self.table = MadeTable(self.document)
        self.table.typed.connect(self._take)
        self.wide(self.table)
        self.wide(self.table.message)
        self.copy_button = push_button("Same for the other", "Say of the other hinge what is said of this.", self._copy)
        self.forget_button = push_button("As drawn again", "Take all that was read off this hinge out.", self._forget)
        self.beside(self.copy_button, self.forget_button)
        self.shown = self.flag(
            "Show as built",
            "Show hinges as built",
            "Draw the measured hinges in thin dashed lines beside what is drawn, with their smallest gaps; exported "
            "pictures have them too.",
            lambda project: project.made.shown,
            show_built,
        )

    def _build_figures(self) -> None:
        self.doubts = self.text_row()
        self.figures = self.text_row()
        self.checks = ChecksBeside(self.document, self.board)
        self.wide(self.checks)
        self.pins = self.text_row()

    def _build_answers(self) -> None:
        self.find_button = self.button(
            FIND,
            "Look for the adjusters that bring the wants and shut gaps back, or the hole to fill and drill anew. Each "
            "answer is built and analysed before it is told.",
            self._toggle,
        )
        self.by_adjusters = self.text_row()
        self.use_button = self.button(
            "Use this", "Turn the adjusters so in what is said of this hinge; its figures follow.", self._use
        )
        self.by_hole = self.text_row()
        self.apart = self.text_row()

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:  # noqa: ARG003  as all boxes have it
        """Say which hinges were measured."""
        return made_gist(analysis.project.made)

    def show_analysis(self, analysis: Analysis) -> None:
        """Show the values and what follows."""
        super().show_analysis(analysis)
        project = analysis.project
        links = [(link.id, link.id) for link in project.links if project.pivots_on(link.id)]
        self.scope.set_options([*links, (ON_PINS, "on the pins")])
        self._show_rows()
        if self._of != (analysis, self.hand.value):
            self._drop()
        now = built(analysis, self.hand.value)
        self.copy_button.setEnabled(now.made.is_said)
        self.forget_button.setEnabled(now.made.is_said)
        self._show_figures(analysis, now)
        self._show_answers()

    def put_away(self) -> None:
        """Look no further while nobody sees it."""
        self._stop()

    # Showing ---------------------------------------------------------------------------------------------------------

    def _show_rows(self, *_: object) -> None:
        hand, scope = self.hand.value, self.scope.value
        self.table.show_rows(rows_of(self.document.project, hand, scope), (hand, scope))

    def _show_figures(self, analysis: Analysis, now: Beside) -> None:
        units, measured = self.units, now.made.is_said
        read = readings(analysis.project, now.made) if measured else ()
        say(self.doubts, filter(None, (doubt_sentence(each, units) for each in read)))
        said = built_sentences(analysis, now, units) if measured else [NOT_MEASURED]
        if measured and now.analysis is not None:
            said += gap_sentences(analysis, now.analysis, units)
        say(self.figures, said)
        self.checks.show_pairs(() if not measured or now.analysis is None else paired_checks(analysis, now.analysis))
        self._show_pins()
        differ = left_and_right(analysis) if is_measured(analysis.project) else None
        say(self.apart, apart_sentences(differ, units))
        self.find_button.setEnabled(measured and now.analysis is not None and not needs_nothing(analysis, now))

    def _show_pins(self) -> None:
        """Say what lies on the pins, once the stack is worked out beside the window."""
        analysis, said = self.document.analysis, []
        made = analysis.project.made.of(self.hand.value)
        if wants_stack(analysis, made):
            stack = self.job.newest()
            if stack is None:
                return  # told of again when it is there; until then what stood here stands
            said = [float_words(pin, self.units) for pin in pins_beside(stack, made) if pin.is_changed]
        say(self.pins, said)

    def _renew(self) -> None:
        if self.isVisible():
            self._show_pins()

    def _show_answers(self) -> None:
        analysis, units = self.document.analysis, self.units
        now = both_built(analysis)[self.hand.value == "right"]
        adjusters, hole = self._found
        by_adjusters = [] if adjusters is None else put_back_sentences(analysis, now, adjusters, units)
        if now.made.is_said and now.analysis is not None and needs_nothing(analysis, now):
            by_adjusters = [ALL_WELL]
        say(self.by_adjusters, by_adjusters)
        self.use_button.setVisible(adjusters is not None and bool(adjusters.by))
        looked = self._of is not None and self._search is None
        lost = now.analysis is not None and bool(off_course(analysis, now.analysis))
        say(
            self.by_hole, redrill_sentences(analysis, now, hole, units) if hole is not None or (looked and lost) else []
        )

    # Edits -----------------------------------------------------------------------------------------------------------

    def _take(self, place: int, mm: float | None) -> None:
        row, link = self.table.rows[place], self.scope.value
        label = f"Measure {row.name}{f' of {link}' if link else ''}, {self.hand.value}"
        self.document.commit()
        try:
            self.document.apply(label, row.take(self.document.project, mm))
        except HingewrightError as fault:
            self.table.refuse(place, str(fault))
        else:
            self._show_rows()

    def _copy(self) -> None:
        hand = self.hand.value
        self.document.attempt(f"Measure {OTHER[hand]} as {hand}", lambda project: copy_hand(project, hand, OTHER[hand]))

    def _forget(self) -> None:
        hand = self.hand.value
        self.table.give_up()
        self.document.attempt(f"Take the {hand} hinge as drawn", lambda project: forget_hand(project, hand))

    def _use(self) -> None:
        adjusters, hand = self._found[0], self.hand.value
        if adjusters is not None:
            self.document.attempt(
                f"Turn adjusters, {hand}", lambda project: turn_adjusters(project, hand, adjusters.by)
            )

    # Looking ---------------------------------------------------------------------------------------------------------

    def _toggle(self) -> None:
        if self._timer.isActive():
            self._stop()
            return
        self.document.flush()
        self._of, self._found = (self.document.analysis, self.hand.value), (None, None)
        self._search = self._looks(*self._of)
        self.find_button.setText("Stop")
        self._timer.start()

    def _looks(self, analysis: Analysis, hand: str) -> Generator[None, None, None]:
        """Look for adjusters, then for a hole, showing each once it is found."""
        now, spans = built(analysis, hand), spans_of(analysis.project)
        adjusters = yield from putting_back(analysis, now, spans)
        self._found = (adjusters, None)
        self._show_answers()
        hole = yield from redrilling(analysis, now, spans)
        self._found = (adjusters, hole)

    def _look_on(self) -> None:
        """Look on for a little while."""
        until = perf_counter() + SLICE_S
        while self._search is not None and perf_counter() < until:
            try:
                next(self._search)
            except StopIteration:
                self._search = None
        if self._search is None:
            self._stop()
            self._show_answers()

    def _stop(self) -> None:
        self._timer.stop()
        self.find_button.setText(FIND)

    def _drop(self) -> None:
        """What was found is none of this hinge."""
        self._search, self._of, self._found = None, None, (None, None)
        self._stop()
