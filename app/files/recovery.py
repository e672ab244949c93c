"""The recovery copy: work that is not saved yet, kept beside its file without ever touching it.

A *copy* is a whole project file (it may be renamed and opened by hand) with one key more, `KEY`, that says who wrote
it, when, and of which file. It stands in the hidden folder beside the file (`app.files.places`), named for the file
and for the *session*, the one window's life that wrote it: two windows never write over each other's copy, and no
session writes over what an earlier one left. Work without a file, or whose folder can't be written (a stick that was
pulled out), is kept in the user's data folder.

A copy goes away when its work is saved or given up. One that is there although its writer is gone was *left behind* by
a crash, and is offered. Taken or not, it ends as a backup of its file (`app.files.backups`), never as nothing.
"""

from __future__ import annotations

import os
import sys
import time
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import unquote_to_bytes, urlsplit

from app.files.atomic import write_whole
from app.files.backups import add_backup
from app.files.errors import FileError, fault_of, shown_name
from app.files.places import BESIDE, beside, data_folder, made_private
from app.files.project_file import load, read, written
from app.files.writers import Writer, is_running, this_process, writer_of
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from kinematics.project import Project

KEY = "hingewright_kept"
ENDING = ".kept"
UNNAMED = "untitled.hinge"
SESSION_LETTERS = 16


@dataclass(frozen=True, slots=True)
class Left:
    """A copy that was left behind.

    at : where it stands.     of : the file whose work it holds, or None.     time : seconds since 1970.
    running : None when the writer is on another computer, so that nobody knows; else False.
    """

    at: Path
    project: Project
    of: Path | None
    time: float
    writer: Writer
    running: bool | None


class Copy:
    """The recovery copy of the work in one session, on one file or none. For one thread at a time."""

    def __init__(self, path: Path | None, session: str) -> None:
        self._path, self._session = path, session
        self._at: set[Path] = set()

    @property
    def is_there(self) -> bool:
        """Whether a copy was written and not dropped."""
        return bool(self._at)

    def keep(self, project: Project) -> Path:
        """Write the copy anew, whole or not at all; gives where it stands. Raises FileError when it can't be kept."""
        content = written(replace(project, unknown={**project.unknown, KEY: self._header()}))
        read(content, "the recovery copy")  # what can't be read back must never take a good copy's place
        fault: OSError | None = None
        for place in self._places():
            try:
                _make_folder(place.parent)
                write_whole(place, content, like=self._path)
            except OSError as why:
                fault = why
                continue
            self._forget(self._at - {place})
            self._at.add(place)
            return place
        assert fault is not None
        what = f"work that is not saved can't be kept beside it, nor in {data_folder()}: {fault_of(fault)}"
        raise FileError(what, self._name(), "Save it, or save it under another name.")

    def drop(self) -> None:
        """Take the copy away: its work is saved, or given up. What can't be taken away stays to be offered."""
        self._forget(set(self._at))
        if self._path is not None:
            with suppress(OSError):
                beside(self._path).rmdir()  # refused while something stands in it

    def _forget(self, places: set[Path]) -> None:
        for place in places:
            with suppress(OSError):
                place.unlink(missing_ok=True)
                self._at.discard(place)

    def _places(self) -> Iterator[Path]:
        """Where to keep it, the best place first."""
        if self._path is not None:
            real = Path(os.path.realpath(self._path))
            yield beside(real) / f"{real.name}.{self._session}{ENDING}"
        yield data_folder() / "kept" / f"{self._session}{ENDING}"

    def _header(self) -> dict[str, object]:
        header: dict[str, object] = {"writer": this_process().as_json(), "time": round(time.time(), 3)}
        if self._path is not None:
            header["of"] = Path(os.path.realpath(self._path)).as_uri()  # any bytes of a name, in plain letters
        return header

    def _name(self) -> str:
        return shown_name(self._path) if self._path is not None else "this hinge"


def _make_folder(folder: Path) -> None:
    """Make the folder of a copy; one beside a file only where the file's own folder is there."""
    if folder.name == BESIDE:
        folder.mkdir(exist_ok=True)
    else:
        made_private(folder)


def left_behind(paths: Iterable[Path]) -> tuple[list[Left], list[str]]:
    """Find the copies that no running process owns: beside these files, and in the user's data folder.

    Gives them with the newest first, one a session, and a sentence for each that can't be read (it stays where it is).
    A copy that says just what its file says is taken away: the program ended between saving and dropping it.
    """
    newest: dict[str, Left] = {}
    faults = []
    for at, of in _copies(paths):
        try:
            left = read_copy(at, of)
        except HingewrightError as fault:
            faults.append(str(fault))
            continue
        session = at.name[: -len(ENDING)][-SESSION_LETTERS:]
        if left.running or (session in newest and newest[session].time >= left.time):
            continue
        if _is_saved(left):
            with suppress(OSError):
                at.unlink()
            continue
        newest[session] = left
    return sorted(newest.values(), key=lambda left: left.time, reverse=True), faults


def read_copy(at: Path, of: Path | None = None) -> Left:
    """Read a copy; `of` is the file beside which it stands, None in the data folder. Raises FileError."""
    held = load(at)
    unknown = dict(held.unknown)
    header = unknown.pop(KEY, None)
    writer = writer_of(header.get("writer")) if isinstance(header, dict) else None
    if not isinstance(header, dict) or writer is None:
        raise FileError("it does not say who wrote it", shown_name(at), "It was left where it is.")
    when = header.get("time")
    seconds = float(when) if isinstance(when, (int, float)) and 0 <= when < 253_402_300_000 else 0.0
    return Left(
        at, replace(held, unknown=unknown), of or _path_of(header.get("of")), seconds, writer, is_running(writer)
    )


def set_aside(left: Left) -> None:
    """Make a copy that was left behind a backup of its file, and take it away. Raises FileError if it can't be."""
    content = written(left.project)
    try:
        _keep_beside_something(left, content)
        left.at.unlink(missing_ok=True)
    except OSError as fault:
        what = f"it could not be put with the earlier saves: {fault_of(fault)}"
        raise FileError(what, shown_name(left.at), "It was left where it is.") from fault


def set_aside_folder() -> Path:
    """Where copies go whose file has no folder any more, or that never had a file."""
    return beside(data_folder() / "left" / UNNAMED)


def _keep_beside_something(left: Left, content: bytes) -> None:
    if left.of is not None:
        with suppress(OSError):
            add_backup(left.of, content, left.time)
            return
    name = left.of.name if left.of is not None else UNNAMED
    add_backup(made_private(data_folder() / "left") / name, content, left.time)


def _copies(paths: Iterable[Path]) -> Iterator[tuple[Path, Path | None]]:
    """Every file that may be a copy, with the file beside which it stands."""
    for path in dict.fromkeys(Path(os.path.realpath(path)) for path in paths):
        for at in _inside(beside(path)):
            if at.name.startswith(f"{path.name}.") and len(at.name) == len(path.name) + 1 + SESSION_LETTERS + len(
                ENDING
            ):
                yield at, path
    for at in _inside(data_folder() / "kept"):
        yield at, None


def _inside(folder: Path) -> list[Path]:
    try:
        return sorted(at for at in folder.iterdir() if at.name.endswith(ENDING))
    except OSError:
        return []


def _is_saved(left: Left) -> bool:
    if left.of is None or left.running is None:
        return False
    try:
        return load(left.of) == left.project
    except HingewrightError:
        return False


def _path_of(uri: object) -> Path | None:
    """The path of a file: URI; None for anything else."""
    if not isinstance(uri, str):
        return None
    try:
        parts = urlsplit(uri)
    except ValueError:
        return None
    if parts.scheme != "file" or not parts.path or "%00" in parts.path:
        return None
    if sys.platform == "win32":
        from urllib.request import url2pathname  # slow to load

        return Path(url2pathname(parts.path))
    return Path(os.fsdecode(unquote_to_bytes(parts.path)))
