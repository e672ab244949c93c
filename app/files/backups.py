"""The last saves of a project file: before a save takes its place, what the file held becomes a *backup*.

Backups stand in the hidden folder beside the file (`app.files.places`) as `NAME~N.hinge`, N counting up; they are whole
project files and open as such. The newest has the largest number, whatever clocks say, and none is ever renamed or
written over. The order of a save is what keeps them safe: the old content is copied into a backup of its own, then the
new file takes the old one's name, then the oldest backups beyond the last `MOST` different ones go. At whatever instant
the program ends, there are at least as many different good copies as before the save.
"""

from __future__ import annotations

import os
import re
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from app.files.atomic import write_whole
from app.files.errors import FileError, fault_of, shown_name
from app.files.places import beside
from app.files.project_file import MOST_BYTES, save, written

if TYPE_CHECKING:
    from kinematics.project import Project

MOST = 5
NUMBER_DIGITS = 9


def save_with_backup(project: Project, path: str | os.PathLike[str]) -> str:
    """Save a project as `app.files.save` does, and keep what the file held as a backup.

    Saving the same once more makes no backup, so that it doesn't push older ones out. Gives "" or a sentence that says
    why there is no backup: a save that can be made is not refused for that. Raises FileError when it can't be saved,
    and then the old file is as it was.
    """
    where = Path(path)
    missing = ""
    try:
        if not _same(where, written(project)):
            keep_backup(where)
    except FileError as fault:
        missing = str(fault)
    save(project, where)
    prune(where)
    return missing


def keep_backup(path: Path) -> Path | None:
    """Copy what a file holds into a new backup; None where there is nothing to copy, or the newest backup has it.

    Raises FileError when that can't be done.
    """
    try:
        content = _content(path)
        return add_backup(path, content, saved_at(path)) if content is not None else None
    except OSError as fault:
        what = f"it is saved, but what it held before could not be kept as a backup: {fault_of(fault)}"
        raise FileError(what, shown_name(path)) from fault


def add_backup(path: Path, content: bytes, when: float) -> Path | None:
    """Make `content` the newest backup of a file; None when the newest one holds the same. Raises OSError.

    when : the time of the content, seconds since 1970, for people to see; nothing here goes by it.
    """
    there = backups(path)
    if there and _same(there[0], content):
        return None
    folder = beside(path)
    folder.mkdir(exist_ok=True)
    made = folder / _name(path, _number(path, there[0]) + 1 if there else 1)
    write_whole(made, content, like=path)
    with suppress(OSError):
        os.utime(made, (when, when))
    return made


def backups(path: Path) -> list[Path]:
    """The backups of a file, the newest first; none where the folder can't be read."""
    try:
        there = [each for each in beside(path).iterdir() if _number(path, each) > 0]
    except OSError:
        return []
    return sorted(there, key=lambda each: _number(path, each), reverse=True)


def saved_at(backup: Path) -> float:
    """When the content of a backup was saved, seconds since 1970; 0 when nobody knows."""
    try:
        return backup.stat().st_mtime
    except OSError:
        return 0.0


def prune(path: Path) -> None:
    """Take away the oldest backups beyond the last `MOST`, and older ones that say the same as a newer one; one that
    says what the file says doesn't count. What can't be taken away stays.
    """
    kept: list[Path] = []
    others = 0
    for backup in backups(path):
        if others == MOST or any(_alike(backup, newer) for newer in kept):
            with suppress(OSError):
                backup.unlink()
            continue
        kept.append(backup)
        others += not _alike(backup, path)


def _content(path: Path) -> bytes | None:
    """What a file holds; None where there is no file, or one too large to be a project. Raises OSError."""
    try:
        if not path.is_file() or path.stat().st_size > MOST_BYTES:
            return None
        return path.read_bytes()
    except (FileNotFoundError, ValueError):
        return None


def _same(path: Path, content: bytes) -> bool:
    try:
        return path.is_file() and path.stat().st_size == len(content) and path.read_bytes() == content
    except (OSError, ValueError):
        return False


def _alike(one: Path, other: Path) -> bool:
    """Whether two files hold the same; read only when they are of one size."""
    try:
        return one.stat().st_size == other.stat().st_size and one.read_bytes() == other.read_bytes()
    except OSError:
        return False


def _name(path: Path, number: int) -> str:
    real = Path(os.path.realpath(path))
    return f"{real.stem}~{number}{real.suffix}"


def _number(path: Path, backup: Path) -> int:
    """The number of a backup of `path`; 0 for any other file."""
    real = Path(os.path.realpath(path))
    pattern = rf"{re.escape(real.stem)}~(\d{{1,{NUMBER_DIGITS}}}){re.escape(real.suffix)}"
    match = re.fullmatch(pattern, backup.name)
    return int(match[1]) if match else 0
