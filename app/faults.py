"""The one hook for what nobody else has caught: a sentence in the window instead of a traceback, and the work is kept.

Qt calls our slots; an exception that leaves one of them goes to `sys.excepthook`. A `HingewrightError` is a sentence
for the builder already. Anything else is a fault of the program: it is told as such, and written with all that helps
to find it to a file that can be sent along.
"""

from __future__ import annotations

import sys
import traceback
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QStandardPaths
from PySide6.QtWidgets import QApplication

from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from types import TracebackType

    from app.document import Document


class Faults:
    """Tells faults through a document's notices."""

    def __init__(self, document: Document) -> None:
        self._document = document

    def install(self) -> None:
        """Take the place of Python's hook."""
        sys.excepthook = self.tell

    def tell(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        """Tell one exception."""
        if issubclass(kind, KeyboardInterrupt):
            QApplication.quit()
            return
        self._document.cancel()
        if isinstance(error, HingewrightError):
            self._document.noticed.emit(str(error))
            return
        written = write_down(kind, error, trace)
        where = f" What happened is written down in {written}." if written else ""
        self._document.noticed.emit(
            f"This is a fault of the program, not yours ({kind.__name__}: {error}). Your work is kept; save it "
            f"under another name to be sure.{where}"
        )


def write_down(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> Path | None:
    """Append a fault to the file of faults; None where even that can't be written."""
    folder = Path(QStandardPaths.writableLocation(QStandardPaths.StandardLocation.GenericStateLocation)) / "hingewright"
    path = folder / "faults.txt"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with path.open("a", encoding="utf-8") as file:
            file.write("".join(traceback.format_exception(kind, error, trace)) + "\n")
    except OSError:
        return None
    return path
