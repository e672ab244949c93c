"""Writing a file whole or not at all.

The new content goes into a *temporary file* in the same folder, is pushed to the disk, and only then takes the old
file's name, in one step of the file system. Whenever the program is killed or the power fails, the name stands for
the whole old file or the whole new one. A write that fails removes its temporary file and leaves the old file alone.
A program that is killed in the middle may leave a temporary file, named `.hingewright-HOME-PID-….part` for who wrote
it; `sweep` takes away those whose writer is gone.
"""

from __future__ import annotations

import contextlib
import errno
import os
import re
import secrets
import stat
import time
from pathlib import Path

from app.files.writers import home_code, pid_runs

PART = re.compile(r"\.hingewright-(?:(?P<home>[0-9a-f]{8})-(?P<pid>\d{1,10})-)?[0-9a-f]{16}\.part")
LONGEST_WRITE_S = 86_400.0  # a temporary file that was not touched for a day is nobody's any more
NEW_FILE_MODE = 0o666  # less what the user's umask takes away, as for any new file
NO_NEWLINE_CHANGES = getattr(os, "O_BINARY", 0)  # on Windows alone


def write_whole(path: Path, content: bytes, like: Path | None = None) -> None:
    """Put `content` in the place of a file, or make the file; permissions and, where allowed, the owner stay.

    like : a file whose permissions and owner a new file is to have, if that file exists.
    A symbolic link stays one: the file that it points to is written. Raises OSError, and then nothing has changed.
    """
    target = Path(os.path.realpath(path))
    old = _state(target)
    if old is None and like is not None:
        with contextlib.suppress(OSError):
            old = like.stat()
    temporary = target.with_name(f".hingewright-{home_code()}-{os.getpid()}-{secrets.token_hex(8)}.part")
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | NO_NEWLINE_CHANGES
    handle = os.open(temporary, flags, NEW_FILE_MODE)
    try:
        try:
            _write_all(handle, content)
            if old is not None:
                _take_over(handle, old)
            os.fsync(handle)
        finally:
            os.close(handle)
        os.replace(temporary, target)  # noqa: PTH105  one family of calls for the whole of it
    except BaseException:  # Ctrl-C too
        with contextlib.suppress(OSError):
            temporary.unlink()
        raise
    _settle_folder(target.parent)


def sweep(folder: Path) -> None:
    """Take away the temporary files in a folder whose writer is gone: one of this computer that runs no more, or any
    other after a day. What can't be taken away stays.
    """
    with contextlib.suppress(OSError):
        for path in folder.iterdir():
            match = PART.fullmatch(path.name)
            if match is not None and _is_left(path, match["home"], match["pid"]):
                with contextlib.suppress(OSError):
                    path.unlink()


def _is_left(path: Path, home: str | None, pid: str | None) -> bool:
    if home == home_code() and pid is not None:
        return not pid_runs(int(pid))
    try:
        return time.time() - path.stat().st_mtime > LONGEST_WRITE_S
    except OSError:
        return False


def _state(target: Path) -> os.stat_result | None:
    """The old file's state, None if there is none; OSError if it is none that may be replaced."""
    try:
        old = target.stat()
    except FileNotFoundError:
        return None
    if stat.S_ISDIR(old.st_mode):
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(target))
    if not stat.S_ISREG(old.st_mode):
        raise OSError(errno.EINVAL, "this is a device, not a file", str(target))
    if not os.access(target, os.W_OK, effective_ids=os.access in os.supports_effective_ids):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(target))
    return old


def _write_all(handle: int, content: bytes) -> None:
    rest = memoryview(content)
    while rest:
        rest = rest[os.write(handle, rest) :]


def _take_over(handle: int, old: os.stat_result) -> None:
    """Give the new file the old one's owner, if this user may, and its permissions."""
    if not hasattr(os, "fchown"):  # Windows keeps rights by folder
        return
    new = os.fstat(handle)
    if (new.st_uid, new.st_gid) != (old.st_uid, old.st_gid):
        with contextlib.suppress(OSError):
            os.fchown(handle, old.st_uid, old.st_gid)
    os.fchmod(handle, stat.S_IMODE(old.st_mode))


def _settle_folder(folder: Path) -> None:
    """Push the new name to the disk; where a folder can't be opened or pushed, the system does so in its own time."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
