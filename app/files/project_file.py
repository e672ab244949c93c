"""The project file, `NAME.hinge`: one JSON object in UTF-8.

History of the format:

- Version 1: links, pivots, outlines, marks, limits, travel, gaps, zones, loads, pin spacing; reserved: pictures,
  trials, plates, stack, mount, wall.

Reading is strict: what isn't sound is refused in one sentence that names the file, the fault and the place. A key that
stands twice in one object is refused too, as either of its values might be the one that is meant. Keys that this
version doesn't know are kept and written back. A file of an older version is brought up step by step by `UPGRADES`; one
of a newer version is refused. Numbers are written with as many digits as it takes to read the very same ones back.
"""

from __future__ import annotations

import json
import os
import stat
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from app.files.atomic import write_whole
from app.files.errors import FileError, NewerVersionError, fault_of, shown_name
from app.files.project_json import FORMAT, Doubled, Json, json_of, object_of, project_of
from kinematics.errors import ProjectError
from kinematics.values import count, shown

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.project import Project

VERSION = 1
MOST_BYTES = 64_000_000
LONG = 10_000  # letters
DAMAGED = "It may be cut off or damaged; try a copy of it."

# From the version that is the key to the next one: takes the file's object, gives a new one.
UPGRADES: dict[int, Callable[[Json], Json]] = {}


def load(path: str | os.PathLike[str]) -> Project:
    """Read a project file.

    Raises FileError when it can't be read or holds no sound project, NewerVersionError when a newer program wrote it.
    """
    where = Path(path)
    try:
        state = where.stat()
        if not stat.S_ISREG(state.st_mode):
            what = "this is a folder" if stat.S_ISDIR(state.st_mode) else "this is a device"
            raise FileError(f"{what}, not a project file", shown_name(where))
        _check_size(state.st_size, where)
        with where.open("rb") as file:
            content = file.read(MOST_BYTES + 1)  # not more, should the file grow meanwhile
    except OSError as fault:
        raise FileError(f"it can't be read: {fault_of(fault)}", shown_name(where)) from fault
    except ValueError as fault:  # a NUL in the path
        raise FileError("this is no name of a file", shown_name(where)) from fault
    _check_size(len(content), where)
    return read(content, shown_name(where))


def save(project: Project, path: str | os.PathLike[str]) -> None:
    """Write a project file, whole or not at all; `load` gives an equal project back.

    Raises FileError, and then the old file is as it was.
    """
    where = Path(path)
    content = written(project)
    if len(content) > MOST_BYTES:
        what = f"the project has {len(content) / 1e6:.0f} MB, more than the {MOST_BYTES / 1e6:.0f} MB of a project file"
        raise FileError(what, shown_name(where), "It was not saved; take pictures out of it.")
    read(content, shown_name(where))  # what can't be read back must never take the place of a good file
    try:
        write_whole(where, content)
    except OSError as fault:
        what = f"it could not be saved: {fault_of(fault)}"
        left = "The file on the disk is as it was; save" if os.path.isfile(where) else "Save"  # noqa: PTH113  never raises, whatever the name
        raise FileError(what, shown_name(where), f"{left} under another name or in another folder.") from fault
    except ValueError as fault:
        raise FileError("it could not be saved: this is no name of a file", shown_name(where)) from fault


def read(content: bytes, name: str) -> Project:
    """Read a project from a file's bytes; `name` stands in the sentences. Raises as `load` does."""
    data = _parsed(content, name)
    try:
        return project_of(_upgraded(data, name))
    except ProjectError as fault:
        where = f"{name}: {fault.where}" if fault.where else name
        raise FileError(fault.what, where, fault.remedy) from fault


def written(project: Project) -> bytes:
    """Give the bytes of a project's file: one line an entry, so that versions can be compared line by line.

    Raises FileError when a value that is only carried along can't be written as JSON.
    """
    try:
        pieces: list[bytes] = []
        for key, value in json_of(project).items():
            pieces += [b",\n  " if pieces else b"{\n  ", _dumps(key).encode(), b": ", *_laid_out(value, key)]
        return b"".join([*pieces, b"\n}\n"])  # once, as photos make it long
    except (TypeError, ValueError, RecursionError) as fault:
        raise FileError(f"the project holds a value that no file can hold ({fault})", "the project") from fault


def _laid_out(value: object, key: str) -> list[bytes]:
    """A value on one line, but lists of objects with a line for each; in pieces."""
    if not (isinstance(value, (list, tuple)) and value and all(isinstance(each, dict) for each in value)):
        return [_line(value)]
    pieces: list[bytes] = []
    for each in value:
        pieces += [b",\n    " if pieces else b"[\n    ", *(_photo(each) if key == "pictures" else [_line(each)])]
    return [*pieces, b"\n  ]"]


def _line(value: object) -> bytes:
    return _dumps(value).encode()


def _photo(told: Json) -> list[bytes]:
    """One picture. Its data, millions of letters, are brought into form once, not at each of many saves."""
    data = told.get("data")
    if not isinstance(data, str) or len(data) < LONG:
        return [_line(told)]
    # In what stands before, a quote within a text is escaped; so the first of these is the key itself, unless an object
    # stands before it that may have such a key, which somebody has put there by hand: then all goes the plain way.
    before, found, after = _line({**told, "data": ""}).partition(b'"data": ""')
    is_plain = found and b"{" not in before[1:]
    return [before, b'"data": ', _quoted(data), after] if is_plain else [_line(told)]


@lru_cache(maxsize=3)
def _quoted(text: str) -> bytes:
    return _line(text)


def _dumps(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def _check_size(size: int, path: Path) -> None:
    if size > MOST_BYTES:
        what = f"it has {size / 1e6:.0f} MB, more than the {MOST_BYTES / 1e6:.0f} MB of a project file"
        raise FileError(what, shown_name(path), "It was not read.")


def _parsed(content: bytes, name: str) -> Json:
    """The file's JSON object."""
    if not content.strip():
        raise FileError("the file is empty", name)
    try:
        data: Any = json.loads(content.decode("utf-8-sig"), object_pairs_hook=object_of)
    except UnicodeDecodeError as fault:
        raise FileError(f"this is no text in UTF-8: byte {fault.start + 1} does not belong", name, DAMAGED) from fault
    except json.JSONDecodeError as fault:
        raise FileError(_json_fault(fault), name, DAMAGED) from fault
    except RecursionError as fault:
        raise FileError("its lists and objects are nested too deeply", name, DAMAGED) from fault
    except ValueError as fault:  # an integer of thousands of digits
        raise FileError("it holds a number of far too many digits", name, DAMAGED) from fault
    if not isinstance(data, dict):
        raise FileError(f"{shown(data)} stands where a project, an object {{…}}, is expected", name)
    return data


def _json_fault(fault: json.JSONDecodeError) -> str:
    if not fault.doc[fault.pos :].strip():
        return "the JSON text breaks off before its end"
    return f"this is no JSON: line {fault.lineno} can't be read from its place {fault.colno} on"


def _upgraded(data: Json, name: str) -> Json:
    """The object brought to the newest version, once it is sure that it is of this format."""
    if isinstance(data, Doubled):
        return data  # whatever reads it says so
    if data.get("format") != FORMAT:
        what = f'"format" is {shown(data["format"])}' if "format" in data else '"format" is missing'
        raise FileError(f'{what}, where "{FORMAT}" is expected', name, "This is no project of this program.")
    if "version" not in data:
        raise FileError('"version" is missing', name)
    version = count(data["version"], "", "version")
    if version > VERSION:
        what = f"it is of version {version} of the format, and this program reads up to version {VERSION}"
        raise NewerVersionError(what, name, "Open it with a newer version of the program.")
    for step in range(version, VERSION):
        data = UPGRADES[step](data)
    return data
