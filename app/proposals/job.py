"""A search beside the window: the same processes and numbers as without one, told by signals of Qt.

Processes are started before they are needed (`warm`), as loading takes them longer than a unit of work. The one thread
is the window's: Qt watches the pipes, so nothing of Qt is ever reached from another. Stopping ends every process at
once; what was found stays, and a search that was stopped can go on from there (`start` with the same collector).
"""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QObject, QProcess, QTimer, Signal

from app.proposals.dealing import Deal, Fault, order_of
from app.proposals.enough import Enough
from app.proposals.process import WorkProcess
from app.proposals.processes import cores, how_ended
from app.proposals.worker import RUNNER

if TYPE_CHECKING:
    from app.proposals.command import Collects
    from kinematics.project import Project
    from kinematics.proposals.results import Settings, UnitResult

TELL_MS = 250
LONGEST_S = 120.0
"""A search that nobody stops ends by itself, so that a sheet that is forgotten doesn't heat the shop."""


class SearchJob(QObject):
    """The search of one sheet.

    Signals: `found` when there are other layouts than before; `progressed` a few times a second; `told` with a sentence
    on what went wrong; `ended` with the sentence on why it can't go on, "" where it was stopped or is done.

    collector : of the newest search, None before the first.     kind : looked among just now.
    units : taken in, `seconds` spent, by the newest search and those that it goes on from.
    """

    found = Signal()
    progressed = Signal()
    told = Signal(str)
    ended = Signal(str)

    def __init__(self, parent: QObject | None = None, runner: str = RUNNER, count: int | None = None) -> None:
        super().__init__(parent)
        self._runner, self._count = runner, count or cores()
        self._processes: list[WorkProcess] = []
        self._deal = Deal()
        self._enough = Enough()
        self._spent, self._began = 0.0, 0.0
        self.collector: Collects | None = None
        self.kind, self.units, self.is_running = "", 0, False
        self._timer = QTimer(self)
        self._timer.setInterval(TELL_MS)
        self._timer.timeout.connect(self._tick)
        program = QCoreApplication.instance()
        if program is not None:
            program.aboutToQuit.connect(self.close)

    @property
    def seconds(self) -> float:
        """How long has been searched."""
        return self._spent + (time.monotonic() - self._began if self.is_running else 0.0)

    def warm(self) -> None:
        """Start the processes, so that they are ready when they are needed."""
        while len(self._processes) < self._count:
            process = WorkProcess(self._runner, self)
            process.readyReadStandardOutput.connect(self._read)
            process.finished.connect(self._lose)
            process.errorOccurred.connect(self._fail)
            self._processes.append(process)

    def start(self, project: Project, settings: Settings, collector: Collects, enough: Enough | None = None) -> None:
        """Search; with the collector of the search before, go on from where that was."""
        if self.is_running:
            return
        goes_on = collector is self.collector
        self._deal = Deal(self._deal.due if goes_on else 0)
        if not goes_on:
            self._spent, self.units, self.kind = 0.0, 0, ""
        self.collector, self._enough = collector, enough or Enough()
        self.is_running, self._began = True, time.monotonic()
        self.warm()
        self._order = order_of(project, settings)
        for process in self._processes:
            process.write(self._order)
            process.give(self._deal.give())
        self._timer.start()
        self.progressed.emit()

    def stop(self) -> None:
        """Stop at once; new processes are started, to be ready again."""
        if self.is_running:
            self._finish("")
            self.warm()

    def close(self) -> None:
        """Stop, and end every process: nobody searches here any more."""
        if self.is_running:
            self._finish("")
        self._end_all()

    def _finish(self, sentence: str) -> None:
        self._spent, self.is_running = self.seconds, False
        self._timer.stop()
        self._end_all()
        self.progressed.emit()
        self.ended.emit(sentence)

    def _end_all(self) -> None:
        processes, self._processes = self._processes, []
        for process in processes:
            process.end()

    def _tick(self) -> None:
        self.progressed.emit()
        if self.seconds >= LONGEST_S:
            self.stop()

    # What comes from the processes -----------------------------------------------------------------------------------

    def _read(self) -> None:
        process = self.sender()
        if not isinstance(process, WorkProcess):
            return
        for message in process.frames.feed(bytes(process.readAllStandardOutput().data())):
            if not self.is_running or process not in self._processes:
                return
            if not isinstance(message, Fault) or message.unit >= 0:
                process.give(self._deal.give())
            self._take(self._deal.take(message))

    def _lose(self, code: int, status: QProcess.ExitStatus) -> None:
        process = self.sender()
        if not isinstance(process, WorkProcess) or process not in self._processes:
            return
        self._processes.remove(process)
        process.deleteLater()
        if not self.is_running:
            return
        crashed = status == QProcess.ExitStatus.CrashExit
        ready = self._deal.lose(process.unit, how_ended(-code if crashed else code))
        if not self._deal.broken:
            self.warm()
            newest = self._processes[-1]
            newest.write(self._order)
            newest.give(self._deal.give())
        self._take(ready)

    def _fail(self, error: QProcess.ProcessError) -> None:
        process = self.sender()
        if error == QProcess.ProcessError.FailedToStart and isinstance(process, WorkProcess) and self.is_running:
            self._finish(f"The search can't start its processes: {process.errorString()}.")

    def _take(self, ready: list[UnitResult]) -> None:
        """Take results in, and tell what there is to tell."""
        collector = self.collector
        assert collector is not None
        is_news, is_enough = False, False
        for result in ready:
            news = collector.take(result)
            self.units, self.kind = self.units + 1, result.kind or self.kind
            is_news = is_news or bool(news)
            is_enough = self._enough.after(news, collector.kept) or is_enough
        for sentence in self._deal.told:
            self.told.emit(sentence)
        self._deal.told.clear()
        if is_news:
            self.found.emit()
        if self._deal.broken:
            self._finish(self._deal.broken)
        elif is_enough:
            self.stop()
