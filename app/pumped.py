"""A worker whose results are handed over by themselves: it looks for them as long as there is something to come."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, QTimer

from app.worker import Worker
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Callable

LOOK_MS = 15


class Pumped(QObject):
    """Does jobs off the window's thread; `told` gets what a job refuses with a sentence. Other faults are raised here,
    where the window's own hook tells them.
    """

    def __init__(self, parent: QObject, told: Callable[[HingewrightError], object]) -> None:
        super().__init__(parent)
        self._told = told
        self._worker = Worker(self._fail)
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_MS)
        self._timer.timeout.connect(self._look)

    @property
    def is_busy(self) -> bool:
        """Whether a result is still to come."""
        return self._timer.isActive()

    def do(self, key: str, job: Callable[[], object], then: Callable[[Any], object]) -> None:
        """Have a job done; `then` gets its result. Jobs hold plain values only (`app.worker`)."""
        self._worker.do(key, job, then=then)
        self._timer.start()

    def _look(self) -> None:
        self._worker.pump()
        if not self._worker.is_busy:
            self._timer.stop()

    def _fail(self, fault: Exception) -> None:
        if not isinstance(fault, HingewrightError):
            raise fault
        self._told(fault)
