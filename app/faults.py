"""The one hook for what nobody else has caught: a sentence in the window instead of a traceback, and the work is kept.

Qt calls our slots; an exception that leaves one of them goes to `sys.excepthook`. A `HingewrightError` is a sentence
for the builder already. Anything else is a fault of the program: it is told as such, and written into the log of this
run (`app.faultlog`), which can be sent along.
"""

from __future__ import annotations

import sys
import threading
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QApplication

from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from types import TracebackType

    from app.document import Document
    from app.faultlog import FaultLog


class Faults(QObject):
    """Tells faults through a document's notices, and logs them."""

    _elsewhere = Signal(object)  # an exception that left a thread of ours

    def __init__(self, document: Document, log: FaultLog) -> None:
        super().__init__()
        self._document, self._log = document, log
        self._elsewhere.connect(
            lambda error: self.tell(type(error), error, error.__traceback__), Qt.ConnectionType.QueuedConnection
        )

    def install(self) -> None:
        """Take the place of Python's hooks."""
        sys.excepthook = self.tell
        threading.excepthook = lambda told: self._elsewhere.emit(told.exc_value)

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
