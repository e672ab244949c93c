"""The one hook for what nobody else has caught: a sentence in the window instead of a traceback, and the work is kept.

Qt calls our slots; an exception that leaves one of them goes to `sys.excepthook`. A `HingewrightError` is a sentence
for the builder already. Anything else is a fault of the program: it is told as such, and written into the log of this
run (`app.faultlog`), which can be sent along.
"""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QApplication

from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from types import TracebackType

    from app.document import Document
    from app.faultlog import FaultLog


class Faults:
    """Tells faults through a document's notices, and logs them."""

    def __init__(self, document: Document, log: FaultLog) -> None:
        self._document, self._log = document, log

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
        written = self._log.write(error.with_traceback(trace))
        where = f" What happened is written down in {written}." if written else ""
        self._document.noticed.emit(
            f"This is a fault of the program, not yours ({kind.__name__}: {error}). Your work is kept; save it "
            f"under another name to be sure.{where}"
        )
