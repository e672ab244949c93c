"""Put right: the search for the least moves, off the window's thread; what it found shown beside; taken or left.

While it is looked for, and while the answer waits, nothing of the project changes: the layout that was found stands on
the board in thin dashed lines, and the notice says what moves and which wants hold then. *Take it* is one step. Any
other step in between takes the answer back, as it speaks of pins that are elsewhere now.
"""

from __future__ import annotations

from functools import partial
from threading import Event
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from app.mend_words import HOLD_ALREADY, LOOKING, moves_sentence, refusal
from app.notice import Choice, Question
from app.pumped import Pumped
from app.trials.beside import Beside

if TYPE_CHECKING:
    from app.board.board import Board
    from app.notice import Notice
    from kinematics.analysis import Analysis
    from kinematics.mending import Mended
    from kinematics.project import Project

KEY = "put right"


def _mend(project: Project, analysis: Analysis, stopped: Event) -> Mended:
    """The job, in its thread: what it takes to load is loaded there too."""
    from kinematics.proposals.mending_again import put_right

    return put_right(project, analysis, stopped.is_set)


class PuttingRight(QObject):
    """Looks for the least moves when asked, and lets the builder take or leave them."""

    def __init__(self, board: Board, notice: Notice, parent: QObject) -> None:
        super().__init__(parent)
        self._document, self._notice = board.document, notice
        self._beside = Beside(board, KEY)
        self._pumped = Pumped(self, lambda fault: self._refuse(str(fault)))
        self._stopped = Event()
        self._asked: Project | None = None
        self._document.changed.connect(self._look_again)

    @property
    def is_asking(self) -> bool:
        """Whether it looks, or waits for an answer."""
        return self._asked is not None

    @property
    def is_busy(self) -> bool:
        """Whether it still looks."""
        return self._pumped.is_busy

    def start(self) -> None:
        """Look for the least moves with which all wants hold."""
        document = self._document
        document.commit()
        document.flush()
        self.leave()
        analysis = document.analysis
        if all(check.ok for check in analysis.checks):
            document.told.emit(HOLD_ALREADY)
            return
        self._asked, self._stopped = document.project, Event()
        stop = Choice("Stop", "Stop looking; all stays as it is.", self.leave)
        self._notice.ask(Question(KEY, LOOKING, (), stop), first=True)
        job = partial(_mend, document.project, analysis, self._stopped)
        self._pumped.do(KEY, job, partial(self._show, document.project, analysis))

    def leave(self) -> None:
        """Stop looking, or leave what was found: all stays as it is."""
        self._stopped.set()
        self._asked = None
        self._beside.show(None)
        self._notice.take_back(KEY)

    def _look_again(self, project: Project) -> None:
        """Leave what speaks of another layout."""
        if self._asked is not None and project is not self._asked:
            self.leave()

    def _show(self, asked: Project, before: Analysis, mended: Mended) -> None:
        """Show what was found, if it is still asked for."""
        if self._asked is not asked:
            return
        if not mended.ok:
            self._refuse(refusal(mended, self._document.units))
            return
        self._beside.show(mended.analysis)
        take = Choice(
            "Take it", "Move the pins so. One step; Undo brings them back.", partial(self._take, mended.project)
        )
        leave = Choice("Leave it", "Leave all as it is.", self.leave)
        question = Question(KEY, moves_sentence(mended, before, self._document.units), (take,), leave)
        self._notice.ask(question, first=True)
        if self._notice.question is question:
            self._notice.answers[0].setFocus()

    def _take(self, project: Project) -> None:
        self.leave()
        self._document.attempt("Put right", lambda _: project)

    def _refuse(self, sentence: str) -> None:
        self.leave()
        self._document.noticed.emit(sentence)
