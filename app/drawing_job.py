"""What takes long to draw or make, in a process of its own: the window goes on, progress is told, it can be stopped.

The process is the command line itself (`hingewright picture … --progress`, or `make`), on a copy of the hinge as it
stands; so the window writes nothing that the command line wouldn't. A file, or a set of them, is written whole or not
at all: stopping leaves none. Where the system has it, stopping is Ctrl-C, so that a set whose files are just being
moved to their places can be put back; a process that doesn't end by that is ended.
"""

from __future__ import annotations

import os
import signal
import sys
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from PySide6.QtCore import QCoreApplication, QObject, QProcess, QProcessEnvironment, QTemporaryDir, QTimer, Signal

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kinematics.project import Project

GIVE_UP_MS = 2000


class DrawingJob(QObject):
    """One picture on its way. Signals: `progressed` (0 to 100), `ended` with a sentence: "" where all went well.

    verb : of the command line.   what : is made, in sentences.   well : exit statuses with which it is written.
    """

    verb: ClassVar[str] = "picture"
    what: ClassVar[str] = "The picture"
    well: ClassVar[tuple[int, ...]] = (0,)
    progressed = Signal(int)
    ended = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._folder = QTemporaryDir()
        self._process = QProcess(self)
        self._said = b""
        self.is_stopped = False
        self._last_resort = QTimer(self)
        self._last_resort.setSingleShot(True)
        self._last_resort.timeout.connect(self._process.kill)
        environment = QProcessEnvironment.systemEnvironment()
        environment.insert("QT_QPA_PLATFORM", "offscreen")  # no second window, nor a wait for a display
        self._process.setProcessEnvironment(environment)
        self._process.readyReadStandardOutput.connect(self._read)
        self._process.finished.connect(lambda *_: self._finish())
        self._process.errorOccurred.connect(self._fail)

    def start(self, project: Project, out: Path, words: Sequence[str] = ()) -> None:
        """Draw a hinge into a file (or a folder); `words`: more of the command line.

        Raises FileError where no copy of the hinge can be made.
        """
        from app.files import save

        copy = Path(self._folder.path()) / "hinge.hinge"
        save(project, copy)
        root = str(Path(__file__).parent.parent)  # a checkout runs without being installed
        self._process.setWorkingDirectory(root)
        command = ["-m", "app", self.verb, str(copy), "--to", str(out.absolute()), *words, "--progress"]
        self._process.start(sys.executable, command)
        program = QCoreApplication.instance()
        if program is not None:
            program.aboutToQuit.connect(self.wait)

    def stop(self) -> None:
        """Stop it; `ended` comes all the same, with ""."""
        self.is_stopped = True
        if os.name == "posix" and self._process.processId():
            with suppress(ProcessLookupError):
                os.kill(self._process.processId(), signal.SIGINT)
            self._last_resort.start(GIVE_UP_MS)
        else:
            self._process.kill()

    def wait(self) -> None:
        """Stop it and wait for its end: the window closes."""
        if self._process.state() != QProcess.ProcessState.NotRunning:
            self.stop()
            if not self._process.waitForFinished(GIVE_UP_MS):
                self._process.kill()
                self._process.waitForFinished(GIVE_UP_MS)

    def _read(self) -> None:
        self._said += bytes(self._process.readAllStandardOutput().data())
        *lines, self._said = self._said.split(b"\n")
        numbers = [int(line) for line in lines if line.isdigit()]
        if numbers:
            self.progressed.emit(min(numbers[-1], 100))

    def _finish(self) -> None:
        said = bytes(self._process.readAllStandardError().data()).decode("utf-8", "replace").strip()
        crashed = self._process.exitStatus() == QProcess.ExitStatus.CrashExit
        failed = crashed or self._process.exitCode() not in self.well
        self.is_stopped = self.is_stopped and failed  # else it was done before it could be stopped
        sentence = (said or f"{self.what} could not be made: its process ended unasked.") if failed else ""
        self.ended.emit("" if self.is_stopped else sentence)

    def _fail(self, error: QProcess.ProcessError) -> None:
        if error == QProcess.ProcessError.FailedToStart:
            self.ended.emit(f"{self.what} can't be made: {self._process.errorString()}.")
