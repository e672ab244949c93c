"""Figures of the newest layout that take too long for the window's own process, worked out beside it by one process.

Who shows something of them asks for the `newest`: there they are, or None, and then they are begun; `changed` tells
when to ask again. Nothing is worked out that nobody asks for, nor while something is dragged. Until it is done the last
ones may go on being shown, as `last`, in a low voice: never as those of the layout which is on the board. Layouts that
were worked out a moment ago are remembered, for undo and redo. A job names the module whose `run` does the work
(`app.proposals.worker`), and the words by which it is told.

A process that is at an older layout is given a moment to end with it, as most take a tenth of a second; then it is
ended, and another one started. It ends with the window, and when it has had nothing to do for a while.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, ClassVar, TypeVar

from PySide6.QtCore import QCoreApplication, QObject, QTimer, Signal

from app.layout_unit import LayoutUnit
from app.proposals.dealing import Fault, framed, order_of
from app.proposals.process import WorkProcess
from app.proposals.processes import how_ended
from kinematics.proposals.results import Settings

if TYPE_CHECKING:
    from PySide6.QtCore import QProcess

    from app.document import Document
    from kinematics.project import Project

SLOW_MS = 300
"""From when on it is said that it is at work: before, words would only flicker."""
PATIENCE_MS = 1500
"""For a layout that is no longer the newest."""
IDLE_MS = 120_000
MOST_KEPT = 4
NOTHING, RESTS, WORKS, STOPPED, FAILED = "", "rests", "works", "stopped", "failed"
"""What there is to say beside what is shown: nothing; something is dragged; and so on."""

Kept = tuple["Project", Any]
Job = TypeVar("Job", bound="LayoutJob")


class LayoutJob(QObject):
    """One kind of figures of one document's newest layout. `changed`: ask anew."""

    changed = Signal()
    runner: ClassVar[str] = ""
    cannot: ClassVar[str] = ""
    """Begins the sentence when it fails: "The stack can't be worked out"."""
    words: ClassVar[dict[str, str]] = {}
    """The sentence for each state."""
    asks: ClassVar[str] = ""
    """What the button does that begins it once more."""

    def __init__(self, document: Document, runner: str = "") -> None:
        super().__init__(document)
        self._document, self._runner = document, runner or self.runner
        self._process: WorkProcess | None = None
        self._kept: list[Kept] = []  # the newest last
        self._at: Project | None = None  # what the process is at
        self._number = 0
        self._left: Project | None = None  # stopped by hand, or failed: not begun again unasked
        self._why = ""
        self._shown_state = NOTHING
        self._slow, self._patience, self._idle = (self._timer(ms) for ms in (SLOW_MS, PATIENCE_MS, IDLE_MS))
        self._slow.timeout.connect(self._tell)
        self._patience.timeout.connect(self._drop_old)
        self._idle.timeout.connect(self.close)
        document.analysed.connect(self._look)
        program = QCoreApplication.instance()
        if program is not None:
            program.aboutToQuit.connect(self.close)

    def _timer(self, ms: int) -> QTimer:
        timer = QTimer(self)
        timer.setSingleShot(True)
        timer.setInterval(ms)
        return timer

    # What others ask -------------------------------------------------------------------------------------------------

    def newest(self) -> Any | None:  # noqa: ANN401  what a job's module gives
        """The figures of the layout that is on the board; None while there are none: then they are begun."""
        if self._found() is None:
            self._ask()
        return self._found()

    @property
    def last(self) -> Kept | None:
        """The newest one that was worked out, with its project, whichever that is."""
        return self._kept[-1] if self._kept else None

    @property
    def state(self) -> str:
        """What there is to say beside what is shown; nothing where it is up to date, or will be in a moment."""
        if self._found() is not None:
            return NOTHING
        if self._document.is_dragging:
            return RESTS
        if self._left is self._project:
            return FAILED if self._why else STOPPED
        return WORKS if self._at is not None and not self._slow.isActive() else NOTHING

    @property
    def why(self) -> str:
        """Why it failed, a sentence."""
        return self._why

    def stop(self) -> None:
        """Leave it; it isn't begun again until there is another layout, or `go_on`."""
        if self._at is not None:
            self._end()
            self._left, self._why = self._project, ""
            self._tell()

    def go_on(self) -> None:
        """Begin what was stopped."""
        self._left = None
        self._ask()
        self._tell()

    def close(self) -> None:
        """End the process, at work or not."""
        self._end()

    # Inside ----------------------------------------------------------------------------------------------------------

    @property
    def _project(self) -> Project:
        return self._document.analysis.project

    def _found(self) -> Any | None:  # noqa: ANN401
        newest = self._project
        return next((found for project, found in self._kept if project is newest), None)

    def _look(self, _: object) -> None:
        """Another layout: what is shown is no longer of it."""
        if self._kept and self._found() is None and self.state != self._shown_state:
            self._tell()

    def _ask(self) -> None:
        newest = self._project
        if self._document.is_dragging or newest is self._at or newest is self._left:
            return
        if self._at is not None:
            if not self._patience.isActive():
                self._patience.start()
            return
        self._left, self._at = None, newest
        self._number += 1
        self._idle.stop()
        self._slow.start()
        self._send(newest)

    def _send(self, project: Project) -> None:
        """Have it worked out."""
        if self._process is None:
            self._process = WorkProcess(self._runner, self)
            self._process.readyReadStandardOutput.connect(self._read)
            self._process.finished.connect(self._lose)
            self._process.errorOccurred.connect(self._fail)
        self._process.write(order_of(project, Settings()))
        self._process.write(framed(self._number))

    def _read(self) -> None:
        process = self._process
        if process is None:
            return
        for message in process.frames.feed(bytes(process.readAllStandardOutput().data())):
            if isinstance(message, Fault) and message.unit in (-1, self._number):
                self._give_up(f"{self.cannot}: {message.sentence}")
            elif isinstance(message, LayoutUnit) and message.unit == self._number:
                self._take(message.found)

    def _take(self, found: Any) -> None:  # noqa: ANN401
        if self._at is None:
            return
        self._kept = [*self._kept[1 - MOST_KEPT :], (self._at, found)]
        self._rest()
        self._idle.start()
        self._tell()

    def _rest(self) -> None:
        self._at = None
        self._slow.stop()
        self._patience.stop()

    def _drop_old(self) -> None:
        """Leave an older layout that takes too long."""
        if self._at is not None and self._at is not self._project:
            self._end()
            self._tell()

    def _end(self) -> None:
        self._rest()
        self._idle.stop()
        process, self._process = self._process, None
        if process is not None:
            process.end()

    def _lose(self, code: int, status: QProcess.ExitStatus) -> None:
        if self._process is None:
            return
        crashed = status == WorkProcess.ExitStatus.CrashExit
        if self._at is None:  # it had nothing to do: another one is started when it is needed
            self._end()
        else:
            how = how_ended(-code if crashed else code)
            self._give_up(f"{self.cannot}: its process ended unasked ({how}). Is there memory left?")

    def _fail(self, error: QProcess.ProcessError) -> None:
        if error == WorkProcess.ProcessError.FailedToStart and self._process is not None:
            self._give_up(f"{self.cannot}: {self._process.errorString()}.")

    def _give_up(self, sentence: str) -> None:
        at = self._at
        self._end()
        self._left, self._why = at, sentence
        self._tell()

    def _tell(self) -> None:
        self._shown_state = self.state
        self.changed.emit()


MADE_AS: dict[Any, Any] = {}
"""Kinds of jobs that are made as something else: by tests, without a process."""


def job_of(document: Document, kind: type[Job]) -> Job:
    """The one of a document, made when it is first asked for."""
    found = document.findChild(kind)
    return found if found is not None else MADE_AS.get(kind, kind)(document)
