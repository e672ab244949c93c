"""Who writes: the process that left a file behind, and whether it still runs.

A process is known by its computer, the start of that computer, its number there and its own start; so a number that
another process has been given since is no one's we know. A process on another computer, or one shut off from ours in a
container, can't be asked: nobody knows then, and nothing is done in its name.
"""

from __future__ import annotations

import os
import platform
import sys
from contextlib import suppress
from dataclasses import asdict, dataclass
from functools import cache
from pathlib import Path
from zlib import crc32

from kinematics.values import shown

LONGEST = 200  # characters of a value that is believed


@dataclass(frozen=True, slots=True)
class Writer:
    """A process. `boot`: the start of its computer; `space`: the numbering that `pid` belongs to; `started`: its own
    start. Each is "" where the system doesn't tell.
    """

    pid: int
    host: str
    boot: str = ""
    space: str = ""
    started: str = ""

    def as_json(self) -> dict[str, object]:
        """As an object of JSON."""
        return asdict(self)


def this_process() -> Writer:
    """Who we are."""
    pid = os.getpid()
    return Writer(pid, platform.node() or "this computer", _boot(), _space(), _started(pid))


def writer_of(data: object) -> Writer | None:
    """Read a writer from an object of JSON; None when it is none."""
    if not isinstance(data, dict):
        return None
    pid = data.get("pid")
    texts = {name: data.get(name, "") for name in ("host", "boot", "space", "started")}
    if isinstance(pid, bool) or not isinstance(pid, int) or not 0 < pid < 2**31 or not texts["host"]:
        return None
    if not all(isinstance(text, str) and len(text) <= LONGEST and text.isprintable() for text in texts.values()):
        return None
    return Writer(pid, **texts)


def is_running(writer: Writer) -> bool | None:
    """Whether a process still runs; None when it can't be known."""
    us = this_process()
    if writer.host != us.host:
        return None
    if writer.boot != us.boot:
        return False
    if writer.space != us.space:
        return None
    if not pid_runs(writer.pid):
        return False
    started = _started(writer.pid)
    return not (writer.started and started) or writer.started == started


def home_code() -> str:
    """Eight letters for where our process numbers count: this start of this computer, and our numbering in it."""
    us = this_process()
    return f"{crc32(repr((us.host, us.boot, us.space)).encode()):08x}"


def pid_runs(pid: int) -> bool:
    """Whether a process of this number runs on this computer."""
    if sys.platform == "win32":
        return _runs_on_windows(pid)
    try:
        os.kill(pid, 0)  # asks only
    except PermissionError:
        return True
    except (OSError, OverflowError):
        return False
    return _stat(pid)[:1] != ["Z"]  # one that has ended and waits to be told of does nothing any more


def named(writer: Writer) -> str:
    """A writer for a sentence."""
    if writer.host == this_process().host:
        return f"process {writer.pid}"
    return f"the computer {shown(writer.host)}"


@cache
def _boot() -> str:
    with suppress(OSError):
        return Path("/proc/sys/kernel/random/boot_id").read_text("ascii").strip()
    return ""


@cache
def _space() -> str:
    with suppress(OSError):
        return str(Path("/proc/self/ns/pid").stat().st_ino)
    return ""


def _started(pid: int) -> str:
    """The start of a process in the system's own ticks since the computer's (proc(5): field 22 of `stat`)."""
    fields = _stat(pid)
    return fields[19] if len(fields) > 19 else ""


def _stat(pid: int) -> list[str]:
    """The fields of /proc/PID/stat from the third on: what stands before is a name that may hold anything."""
    try:
        return Path(f"/proc/{pid}/stat").read_text("utf-8", errors="replace").rpartition(")")[2].split()
    except OSError:
        return []


def _runs_on_windows(pid: int) -> bool:
    """There, `os.kill` would end the process; so it is opened and asked. From memory of the maker's reference."""
    if sys.platform == "win32":
        import ctypes

        limited_information, still_active, access_denied = 0x1000, 259, 5
        kernel = ctypes.windll.kernel32
        handle = kernel.OpenProcess(limited_information, False, pid)
        if not handle:
            return bool(kernel.GetLastError() == access_denied)  # it is there, and another user's
        code = ctypes.c_ulong()
        kernel.GetExitCodeProcess(handle, ctypes.byref(code))
        kernel.CloseHandle(handle)
        return code.value == still_active
    return False
