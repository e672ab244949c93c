"""One process that does units of work beside a window (`app.proposals.worker`), its pipes watched by Qt.

It is started before it is needed, as loading takes it longer than many a unit does, and ends with the window.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QProcess

from app.proposals.dealing import Frames, framed
from app.proposals.processes import ROOT, command

if TYPE_CHECKING:
    from PySide6.QtCore import QObject

GIVE_UP_MS = 2000
NICE = 5


class WorkProcess(QProcess):
    """One process: its frames, and the unit that it is at."""

    def __init__(self, runner: str, parent: QObject) -> None:
        super().__init__(parent)
        self.unit: int | None = None
        self.frames = Frames()
        self.setWorkingDirectory(str(ROOT))
        self.setStandardErrorFile(QProcess.nullDevice())
        program, *words = command(runner)
        self.start(program, [*words, str(NICE)])

    def give(self, unit: int) -> None:
        """Have a unit done."""
        self.unit = unit
        self.write(framed(unit))

    def end(self) -> None:
        """End it now."""
        self.blockSignals(True)  # it doesn't end unasked
        self.kill()
        self.waitForFinished(GIVE_UP_MS)
        self.deleteLater()
