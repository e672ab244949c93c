"""A folder of files, written whole or not at all.

All files go into a *stage*, a hidden folder on the same disk, and are pushed to the disk there. Then they are moved to
their places; what stood there goes into the stage first, and comes back where any move fails. A folder that isn't there
yet is the stage itself under its new name: one step. A program that is killed leaves a stage, which the next run takes
away once its writer is gone.

Only files that an earlier run has written give way, known by that run's `index.json`; where anything else stands in the
way the folder is refused, as it may be somebody's work.
"""

from __future__ import annotations

import json
import os
import re
import secrets
import shutil
from contextlib import suppress
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING, Any

from app.files.errors import FileError, fault_of, shown_name
from app.files.writers import home_code, pid_runs

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

INDEX = "index.json"
STAGE = re.compile(r"\.hingewright-(?P<home>[0-9a-f]{8})-(?P<pid>\d{1,10})-[0-9a-f]{16}\.making")
OURS = (".dxf", ".svg", ".pdf", ".csv")
"""Endings of files that are written here, and may give way."""
OLD = "old"
"""Within a stage, where what gives way waits."""


def write_set(to: Path, contents: Mapping[str, bytes], index: Mapping[str, Any]) -> None:
    """Write files (path within the folder → content) and their index; raises FileError, and then nothing has changed.

    Parent folders that are missing are made. Files of an earlier run that this one has no more go.
    """
    earlier = written_before(to)
    check_place(to, contents, earlier)
    text = json.dumps(index, ensure_ascii=False, allow_nan=False, indent=1) + "\n"
    try:
        gone = {path for path in earlier - set(contents) if not (to / path).parent.is_symlink()}
        _write(to, {**contents, INDEX: text.encode()}, gone)
    except OSError as fault:
        raise _refused(to, fault_of(fault)) from fault


def check_place(to: Path, paths: Iterable[str], earlier: frozenset[str] | None = None) -> None:
    """Raise FileError where the files can't go there, as far as that can be told beforehand."""
    earlier = written_before(to) if earlier is None else earlier
    if to.exists() and not to.is_dir():
        raise _refused(to, "there is a file of that name")
    parent = next((each for each in (to.absolute(), *to.absolute().parents) if each.exists()), None)
    if parent is None or not parent.is_dir() or not os.access(parent, os.W_OK | os.X_OK):
        raise _refused(to, "it can't be made or written to")
    if not to.exists():
        return
    for path in (*paths, INDEX):
        _check_file(to, path, earlier)


def _check_file(to: Path, path: str, earlier: frozenset[str]) -> None:
    target = to / path
    if (
        target.parent != to
        and os.path.lexists(target.parent)
        and (target.parent.is_symlink() or not target.parent.is_dir())
    ):
        raise _refused(to, f"{target.parent.name} in it is no folder of its own")
    if target.is_dir() and not target.is_symlink():
        raise _refused(to, f"there is a folder named {path} in it")
    # "Arm.dxf" of an earlier run is "arm.dxf" of this one where capitals don't count.
    ours = path.casefold() in {each.casefold() for each in earlier} or (path == INDEX and is_set(to))
    if os.path.lexists(target) and not ours:
        raise _refused(to, f"it holds {path}, which wasn't written there by this")


def written_before(to: Path) -> frozenset[str]:
    """The files that an earlier run has written there, by its index; only such as it could have written."""
    try:
        rows = json.loads((to / INDEX).read_text("utf-8"))["files"]
        return frozenset(row["path"] for row in rows if _is_ours(row["path"]))
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return frozenset()


def faults_told(to: Path) -> tuple[str, ...]:
    """The faults that the index of a set tells; none where it can't be read."""
    try:
        found = json.loads((to / INDEX).read_text("utf-8"))["faults"]
        return tuple(str(each) for each in found)
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return ()


def is_set(to: Path) -> bool:
    """Whether a set of ours stands there, by its index."""
    try:
        found = json.loads((to / INDEX).read_text("utf-8"))
    except (OSError, ValueError, RecursionError):
        return False
    return isinstance(found, dict) and {"files", "faults"} <= set(found)


def _is_ours(path: object) -> bool:
    """Whether a path of an index is one that is written here: of our kinds, at most one folder deep, nowhere else."""
    if not isinstance(path, str) or "\\" in path or "\0" in path or ":" in path:
        return False
    pure = PurePosixPath(path)
    return not pure.is_absolute() and ".." not in pure.parts and len(pure.parts) <= 2 and pure.suffix in OURS


# ------------------------------------------------------------------------------------------------------------- writing
def _write(to: Path, contents: Mapping[str, bytes], gone: Iterable[str]) -> None:
    is_new = not to.exists()
    home = to.parent if is_new else to
    home.mkdir(parents=True, exist_ok=True)
    _sweep(home)
    stage = home / f".hingewright-{home_code()}-{os.getpid()}-{secrets.token_hex(8)}.making"
    try:
        stage.mkdir()
        for path, content in contents.items():
            _put(stage / path, content)
        if is_new:
            stage.rename(to)
        else:
            _move_in(stage, to, list(contents), gone)
    finally:
        shutil.rmtree(stage, ignore_errors=True)


def _put(path: Path, content: bytes) -> None:
    """Write a file and push it to the disk."""
    path.parent.mkdir(exist_ok=True)
    with path.open("xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _move_in(stage: Path, to: Path, paths: list[str], gone: Iterable[str]) -> None:
    """Move all to their places, the index last; puts everything back where one can't be moved."""
    done: list[str] = []
    kept: list[str] = []
    made: list[Path] = []
    try:
        for path in (*gone, *paths):  # what goes is first, as its name may be a new one's where capitals don't count
            if os.path.lexists(to / path):
                _move(to / path, stage / OLD / path)
                kept.append(path)
            if path in paths:
                if not (to / path).parent.exists():
                    (to / path).parent.mkdir()
                    made.append((to / path).parent)
                _move(stage / path, to / path)
                done.append(path)
    except BaseException:  # Ctrl-C too
        for path in done:
            with suppress(OSError):
                (to / path).unlink()
        for path in kept:
            with suppress(OSError):
                _move(stage / OLD / path, to / path)
        for folder in made:
            with suppress(OSError):
                folder.rmdir()
        raise


def _move(path: Path, target: Path) -> None:
    if OLD in target.parts:
        target.parent.mkdir(parents=True, exist_ok=True)
    path.rename(target)


def _sweep(home: Path) -> None:
    """Take away stages of this computer whose writer runs no more."""
    with suppress(OSError):
        for path in home.iterdir():
            match = STAGE.fullmatch(path.name)
            if match is not None and match["home"] == home_code() and not pid_runs(int(match["pid"])):
                shutil.rmtree(path, ignore_errors=True)


def _refused(to: Path, why: str) -> FileError:
    return FileError(f"nothing is written: {why}", shown_name(to), "Name another folder.")
