"""Ctrl-C closes the window as its button would, and whatever handled it before handles it afterwards."""

from __future__ import annotations

import signal
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QEventLoop, QTimer
from PySide6.QtWidgets import QWidget

from app import interrupts
from app.interrupts import STOPPED, interrupt_closes

if TYPE_CHECKING:
    from PySide6.QtGui import QCloseEvent
    from pytestqt.qtbot import QtBot


class Asking(QWidget):
    """A window that stays open: its question has not been answered."""

    asked = 0

    def closeEvent(self, event: QCloseEvent) -> None:
        self.asked += 1
        event.ignore()


pytestmark = pytest.mark.usefixtures("python_interrupts")


def test_the_first_interrupt_closes_the_window(qtbot: QtBot) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    window.show()
    before = signal.getsignal(signal.SIGINT)
    with interrupt_closes(window):
        QTimer.singleShot(0, lambda: signal.raise_signal(signal.SIGINT))
        qtbot.waitUntil(lambda: not window.isVisible(), timeout=5000)
    assert signal.getsignal(signal.SIGINT) is before
    with pytest.raises(KeyboardInterrupt):
        signal.raise_signal(signal.SIGINT)


def test_a_second_one_ends_the_loop_without_asking(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    window = Asking()
    qtbot.addWidget(window)
    window.show()
    ends: list[int] = []
    monkeypatch.setattr(interrupts.QCoreApplication, "exit", ends.append)
    with interrupt_closes(window):
        signal.raise_signal(signal.SIGINT)
        qtbot.waitUntil(lambda: window.asked == 1, timeout=5000)
        assert window.isVisible()
        signal.raise_signal(signal.SIGINT)
        qtbot.waitUntil(lambda: ends == [STOPPED], timeout=5000)
    assert window.asked == 1


def test_a_wake_up_for_another_signal_closes_nothing(qtbot: QtBot) -> None:
    window = Asking()
    qtbot.addWidget(window)
    before = signal.signal(signal.SIGTERM, lambda *_: None)
    try:
        with interrupt_closes(window):
            signal.raise_signal(signal.SIGTERM)
            loop = QEventLoop()
            QTimer.singleShot(50, loop.quit)
            loop.exec()
    finally:
        signal.signal(signal.SIGTERM, before)
    assert window.asked == 0


def test_where_interrupts_are_ignored_they_stay_so(qtbot: QtBot) -> None:
    """A job in the background of a shell."""
    window = Asking()
    qtbot.addWidget(window)
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    with interrupt_closes(window):
        assert signal.getsignal(signal.SIGINT) is signal.SIG_IGN
