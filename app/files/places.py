"""Where the program keeps what is not a project file: beside the file, and in folders of the user's own.

*Beside*: the hidden folder `.hingewright` in the folder of a project file. What belongs to that file stands there: the
recovery copy of work that is not saved, the last saves, and the note that the file is open. One folder, so that a
bench folder stays tidy and all of it can be copied along or thrown away at once; on the file's own disk, so that a
name is given in one step of the file system and a stick takes its backups along. Only the program's own files (the
demos that ship with it) have nothing beside them: theirs stands in the data folder, as the program's folder may be read
only, is shared by all users, and goes with the next version.

*Data* and *state*: the user's folders for what must last and for logs, as the XDG Base Directory Specification 0.8 has
them on Linux (a path there must be absolute, else it is ignored); on Windows and macOS the systems' usual folders (from
memory of their makers' guides, not tried).
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

from resources import FOLDER as OURS

BESIDE = ".hingewright"
NAME = "hingewright"
PRIVATE = 0o700  # what the specification asks for folders that are made


def beside(path: Path) -> Path:
    """The hidden folder beside a project file; beside the file that a symbolic link points to. It may not exist.

    For a file that ships with the program it is one in the user's data folder.
    """
    return _kept_by(path) / BESIDE


def is_ours(path: Path) -> bool:
    """Whether a file ships with the program: a demo, which is to be read and never written."""
    return Path(os.path.realpath(path)).is_relative_to(OURS)


def _kept_by(path: Path) -> Path:
    return data_folder() / "demos" if is_ours(path) else Path(os.path.realpath(path)).parent


def data_folder() -> Path:
    """The user's folder for what must last: recovery copies of work that has no file yet. It may not exist."""
    return _home("XDG_DATA_HOME", ".local/share") / NAME


def state_folder() -> Path:
    """The user's folder for logs. It may not exist."""
    return _home("XDG_STATE_HOME", ".local/state") / NAME


def made_private(folder: Path) -> Path:
    """Make a folder that only its user may enter, if it is missing; gives it back. Raises OSError."""
    folder.mkdir(mode=PRIVATE, parents=True, exist_ok=True)
    return folder


def _home(variable: str, usual: str) -> Path:
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData/Local")
    named = os.environ.get(variable, "")
    if named and Path(named).is_absolute():
        return Path(named)
    if sys.platform == "darwin":
        return Path.home() / "Library/Application Support"
    return Path.home() / usual
