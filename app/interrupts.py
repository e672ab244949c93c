"""Ctrl-C in the terminal closes the window, as its own button would: unsaved work is asked for.

While Qt's loop waits no Python runs, so a Python signal handler would not be called before the next event. The signal
is therefore also written to a socket (`signal.set_wakeup_fd`) that wakes the loop.
"""

from __future__ import annotations

import contextlib
import signal
import socket
import threading
from contextlib import contextmanager
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QSocketNotifier

if TYPE_CHECKING:
    from collections.abc import Iterator

    from PySide6.QtWidgets import QWidget

__all__ = ["STOPPED", "interrupt_closes"]

STOPPED = 130
"""Exit status after a second Ctrl-C, which asks nothing: 128 + 2, the signal's number, as shells have it."""


@contextmanager
def interrupt_closes(window: QWidget) -> Iterator[None]:
    """While this lasts, a first Ctrl-C closes `window`; a second one, while it still asks, ends the event loop."""
    if threading.current_thread() is not threading.main_thread() or signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
        yield  # only the main thread may ask for signals; a job in the background of a shell is not to be stopped
        return
    reader, writer = socket.socketpair()
    reader.setblocking(False)
    writer.setblocking(False)
    asked: list[int] = []
    notifier = QSocketNotifier(reader.fileno(), QSocketNotifier.Type.Read)

    def woken() -> None:
        with contextlib.suppress(BlockingIOError):
            numbers = reader.recv(64)
            if signal.SIGINT in numbers:
                asked.append(signal.SIGINT)
        if len(asked) > 1:
            QCoreApplication.exit(STOPPED)
        elif asked:
            window.close()

    notifier.activated.connect(woken)
    before = signal.signal(signal.SIGINT, lambda *_: None)
    woke = signal.set_wakeup_fd(writer.fileno(), warn_on_full_buffer=False)
    try:
        yield
    finally:
        signal.set_wakeup_fd(woke)
        signal.signal(signal.SIGINT, before)
        notifier.setEnabled(False)
        reader.close()
        writer.close()
