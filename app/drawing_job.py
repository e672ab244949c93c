"""What takes long to draw, in a process of its own: the window goes on, progress is told, and it can be stopped.

The process is the command line itself (`hingewright picture … --progress`), on a copy of the hinge as it stands; so the
window draws nothing that the command line wouldn't. A file is written whole or not at all: stopping leaves none.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QObject, QProcess, QProcessEnvironment, QTemporaryDir, Signal

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kinematics.project import Project

GIVE_UP_MS = 2000


class DrawingJob(QObject):
    """One picture on its way. Signals: `progressed` (0 to 100), `ended` with a sentence: "" where all went well."""

    progressed = Signal(int)
    ended = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._folder = QTemporaryDir()
        self._process = QProcess(self)
        self._said = b""
        self.is_stopped = False
        environment = QProcessEnvironment.systemEnvironment()
        environment.insert("QT_QPA_PLATFORM", "offscreen")  # no second window, nor a wait for a display
        self._process.setProcessEnvironment(environment)
        self._process.readyReadStandardOutput.connect(self._read)
        self._process.finished.connect(lambda *_: self._finish())
        self._process.errorOccurred.connect(self._fail)

    def start(self, project: Project, out: Path, words: Sequence[str] = ()) -> None:
        """Draw a hinge into a file; `words`: more of the command line. Raises FileError where no copy can be made."""
        from app.files import save

        copy = Path(self._folder.path()) / "hinge.hinge"
        save(project, copy)
        root = str(Path(__file__).parent.parent)  # a checkout runs without being installed
        self._process.setWorkingDirectory(root)
        command = ["-m", "app", "picture", str(copy), "--to", str(out.absolute()), *words, "--progress"]
        self._process.start(sys.executable, command)
        program = QCoreApplication.instance()
        if program is not None:
            program.aboutToQuit.connect(self.wait)

    def stop(self) -> None:
        """Stop it; `ended` comes all the same, with ""."""
        self.is_stopped = True
        self._process.kill()

    def wait(self) -> None:
        """Stop it and wait for its end: the window closes."""
        if self._process.state() != QProcess.ProcessState.NotRunning:
            self.stop()
            self._process.waitForFinished(GIVE_UP_MS)

    def _read(self) -> None:
        self._said += bytes(self._process.readAllStandardOutput().data())
        *lines, self._said = self._said.split(b"\n")
        numbers = [int(line) for line in lines if line.isdigit()]
        if numbers:
            self.progressed.emit(min(numbers[-1], 100))

    def _finish(self) -> None:
        said = bytes(self._process.readAllStandardError().data()).decode("utf-8", "replace").strip()
        failed = self._process.exitCode() != 0 or self._process.exitStatus() == QProcess.ExitStatus.CrashExit
        sentence = (said or "The picture could not be drawn: its process ended unasked.") if failed else ""
        self.ended.emit("" if self.is_stopped else sentence)

    def _fail(self, error: QProcess.ProcessError) -> None:
        if error == QProcess.ProcessError.FailedToStart:
            self.ended.emit(f"The picture can't be drawn: {self._process.errorString()}.")
