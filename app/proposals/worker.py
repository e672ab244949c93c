"""A process of the search: `python -m app.proposals.worker [MODULE [NICE]]`. It knows no window and no file.

It loads what the units need, then waits: an `Order` says what is searched, a number which unit to do, each a frame on
standard input; every unit is answered by a `UnitResult` or a `Fault` on standard output. It ends when its input does,
in the middle of a unit too: so none is left behind, however the program that started it came to its end.

MODULE : where `run(project, settings, number)` is; the search's own unless told otherwise.     NICE : by how much it
lets others go first, as beside a window that must follow the hand.
"""

from __future__ import annotations

import contextlib
import os
import signal
import sys
import threading
from importlib import import_module
from queue import SimpleQueue
from typing import TYPE_CHECKING, Any

from app.proposals.dealing import Fault, Frames, Order, framed

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.proposals.results import UnitResult

RUNNER = "kinematics.proposals.unit"
READ = 65_536


def main() -> None:
    """Work until there is no more input."""
    with contextlib.suppress(ValueError):
        signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the one who started this
    if len(sys.argv) > 2 and hasattr(os, "nice"):
        os.nice(int(sys.argv[2]))
    out = os.dup(1)
    os.dup2(2, 1)  # whatever prints must not get between the answers
    inbox: SimpleQueue[Any] = SimpleQueue()
    threading.Thread(target=_listen, args=(inbox,), daemon=True).start()
    try:
        run = import_module(sys.argv[1] if len(sys.argv) > 1 else RUNNER).run
    except Exception as fault:  # noqa: BLE001  whatever it is, the one who started this is told
        _send(out, Fault(-1, f"The search can't be started: {type(fault).__name__}: {fault}."))
        return
    order: Order | None = None
    while True:
        message = inbox.get()
        if isinstance(message, Order):
            order = message
        elif order is not None:
            _send(out, _done(run, order, message))


def _listen(inbox: SimpleQueue[Any]) -> None:
    """Put what comes in into the box; end the process with the input."""
    frames = Frames()
    while True:
        more = os.read(0, READ)
        if not more:
            os._exit(0)
        for message in frames.feed(more):
            inbox.put(message)


def _done(run: Callable[..., UnitResult], order: Order, unit: int) -> UnitResult | Fault:
    try:
        return run(order.project, order.settings, unit)
    except Exception as fault:  # noqa: BLE001  one unit's fault is told and ends no search
        return Fault(unit, f"{type(fault).__name__}: {fault}.")


def _send(out: int, message: object) -> None:
    rest = memoryview(framed(message))
    try:
        while rest:
            rest = rest[os.write(out, rest) :]
    except OSError:  # nobody listens any more
        os._exit(0)


if __name__ == "__main__":
    main()
