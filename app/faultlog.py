"""The log of one run: what a fault of the program leaves for whoever mends it. No Qt here.

One text file a run, in the user's folder for logs (`app.files.places`): a head with the versions and the system, then
each fault as its kind and where in the program it came from. No name, no value and no message stands in it, as these
may come from the project; nor where the user's files are. Python's own `faulthandler` writes into the same file when
the process breaks down so badly that no Python runs any more; its paths are shortened later.

While the program runs the file is called `….running`. A run that ends well takes it away if nothing was added; one
that is found `.running` although its process is gone *broke off*, and becomes `.txt` if it says anything.
"""

from __future__ import annotations

import faulthandler
import os
import platform
import re
import sys
import time
import traceback
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from app import __version__
from app.files.places import made_private, state_folder
from app.files.writers import home_code, pid_runs

if TYPE_CHECKING:
    from typing import TextIO

MOST = 20  # logs that stay
PARTS_OF_PATH = 2  # of a file in a traceback: enough to find it, too little to tell whose computer it is
QUOTED_PATH = re.compile(r'"([^"\n]*[/\\][^"\n]*)"')  # as faulthandler writes them
END_OF_HEAD = "----\n"
RUNNING = re.compile(r"(?P<when>.*) (?P<home>[0-9a-f]{8})-(?P<pid>\d{1,10})\.running")


class FaultLog:
    """The log of this run. Where none can be written there is none."""

    def __init__(self) -> None:
        self._file: TextIO | None = None
        self._path: Path | None = None
        self._is_catching = False

    def start(self) -> None:
        """Begin the log, and have Python write into it when the process breaks down."""
        name = f"{time.strftime('%Y-%m-%d %H.%M.%S')} {home_code()}-{os.getpid()}.running"
        try:
            path = made_private(folder()) / name
            file = path.open("w", encoding="utf-8", errors="replace")
        except OSError:
            return
        file.write(head())
        file.flush()
        self._file, self._path = file, path
        if not faulthandler.is_enabled():  # else someone wants it elsewhere: PYTHONFAULTHANDLER, a test run
            faulthandler.enable(file)
            self._is_catching = True

    def write(self, error: BaseException) -> Path | None:
        """Write down a fault; gives where, None where it can't be."""
        if self._file is None or self._path is None:
            return None
        try:
            self._file.write(f"{time.strftime('%H:%M:%S')}\n{told(error)}\n")
            self._file.flush()
        except (OSError, ValueError):  # the disk is full, the log was ended
            return None
        return self._path

    def end(self) -> None:
        """End the log in good order: it stays as a text if a fault stands in it."""
        file, path = self._file, self._path
        self._file = None
        if file is None or path is None:
            return
        if self._is_catching:
            faulthandler.disable()
        with suppress(OSError):
            file.close()
            _close(path)


def folder() -> Path:
    """Where the logs are; it may not exist."""
    return state_folder() / "faults"


def made_folder() -> Path:
    """The folder of the logs, made if it is missing and can be."""
    with suppress(OSError):
        made_private(folder())
    return folder()


def earlier_logs() -> list[Path]:
    """The logs in which a fault stands, the oldest first; those of runs that go on included."""
    try:
        logs = sorted(path for path in folder().iterdir() if path.suffix in (".txt", ".running"))
        return [path for path in logs if path.read_text("utf-8", errors="replace").partition(END_OF_HEAD)[2].strip()]
    except OSError:
        return []


def broken_off() -> list[Path]:
    """Close the logs of runs that are gone without having ended well; gives those in which something stands."""
    try:
        running = sorted(path for path in folder().iterdir() if _is_left(path))
    except OSError:
        return []
    closed = [_close(path) for path in running]
    _prune()
    return [path for path in closed if path is not None]


def head() -> str:
    """The head of a log: versions and system, nothing of the user."""
    lines = [
        f"Hingewright {__version__}",
        f"Python {platform.python_version()}, PySide6 {_version('PySide6')}, numpy {_version('numpy')}",
        platform.platform(),
        f"Qt platform {os.environ.get('QT_QPA_PLATFORM', 'as usual')}, scale {os.environ.get('QT_SCALE_FACTOR', '1')}",
        "Below: where in the program something went wrong. Nothing of a project stands here.",
    ]
    return "\n".join(lines) + "\n" + END_OF_HEAD


def told(error: BaseException) -> str:
    """A fault and what it came from: kinds and places in the program only."""
    parts, each, seen = [], error, set[int]()
    while id(each) not in seen:
        seen.add(id(each))
        places = [
            f"  {_short(frame.filename)}, line {frame.lineno}, in {frame.name}\n"
            for frame in traceback.extract_tb(each.__traceback__)
        ]
        parts.append("".join(places) + f"{type(each).__module__}.{type(each).__qualname__}\n")
        earlier = each.__cause__ or (None if each.__suppress_context__ else each.__context__)
        if earlier is None:
            break
        each = earlier
    return "then\n".join(reversed(parts))


def _short(path: str) -> str:
    return "/".join(Path(path).parts[-PARTS_OF_PATH:])


def _is_left(path: Path) -> bool:
    match = RUNNING.fullmatch(path.name)
    if match is None:
        return False
    return match["home"] != home_code() or not pid_runs(int(match["pid"]))


def _close(path: Path) -> Path | None:
    """Give a log its last name, or take it away when nothing stands in it; gives the log if it stays."""
    try:
        begun, end, said = path.read_text("utf-8", errors="replace").partition(END_OF_HEAD)
        if not said.strip():
            path.unlink()
            return None
        path.write_text(begun + end + QUOTED_PATH.sub(lambda found: f'"{_short(found[1])}"', said), "utf-8")
        return path.rename(path.with_suffix(".txt"))
    except OSError:
        return None


def _prune() -> None:
    with suppress(OSError):
        for old in sorted(folder().glob("*.txt"))[:-MOST]:
            old.unlink()


def _version(module: str) -> str:
    return str(getattr(sys.modules.get(module), "__version__", "not loaded"))
