"""That a project file is open: a small note beside it, so that a second window on the same file is told.

The note `NAME.hinge.open` in the hidden folder beside the file (`app.files.places`) names the process, its computer
and since when. It keeps nobody out: it only lets the builder know. A note whose process is gone is *stale* and is
taken over; so is one of noise. Where no note can be written there is none, and nothing else is lost.
"""

from __future__ import annotations

import json
import os
import time
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from app.files.places import beside
from app.files.writers import Writer, is_running, this_process, writer_of

LONGEST = 4096  # bytes of a note that are read
TRIES = 3  # the note may come and go while we look


@dataclass(frozen=True, slots=True)
class Holder:
    """Who has a file open, in which `session` (one window's life), since when (seconds since 1970); `running`: None if
    nobody knows whether it still runs.
    """

    writer: Writer
    session: str
    since: float
    running: bool | None


def claim(path: Path, session: str) -> Holder | None:
    """Note that we have a file open; gives who else has it open, and then the note stays theirs. Never raises."""
    for _ in range(TRIES):
        try:
            _write(note_of(path), session)
        except FileExistsError:
            holder = holder_of(path)
            if holder is not None and holder.session == session:
                return None
            if holder is not None and holder.running is not False:
                return holder
            with suppress(OSError):
                note_of(path).unlink()
        except (OSError, ValueError):
            return None
        else:
            return None
    return None


def release(path: Path, session: str) -> None:
    """Take our note away, and the folder if nothing else stands in it. Never raises."""
    holder = holder_of(path)
    with suppress(OSError, ValueError):
        if holder is not None and holder.session == session:
            note_of(path).unlink()
        beside(path).rmdir()  # refused while something stands in it


def holder_of(path: Path) -> Holder | None:
    """Read who has a file open; None when there is no note, or one that says nothing."""
    try:
        with note_of(path).open("rb") as file:
            data = json.loads(file.read(LONGEST))
    except (OSError, ValueError, RecursionError):
        return None
    writer = writer_of(data.get("writer")) if isinstance(data, dict) else None
    if writer is None:
        return None
    since = data.get("since")
    return Holder(writer, str(data.get("session", "")), float(since) if _is_time(since) else 0.0, is_running(writer))


def note_of(path: Path) -> Path:
    """Where the note of a file stands."""
    real = Path(os.path.realpath(path))
    return beside(path) / f"{real.name}.open"


def _write(note: Path, session: str) -> None:
    content = json.dumps({"writer": this_process().as_json(), "session": session, "since": round(time.time())})
    if note.parent.parent.is_dir():
        note.parent.mkdir(exist_ok=True)
    with note.open("x", encoding="utf-8") as file:
        file.write(content)


def _is_time(value: object) -> bool:
    """Whether a value can be a time: seconds since 1970, up to the year 9999."""
    return isinstance(value, (int, float)) and not isinstance(value, bool) and 0 <= value < 253_402_300_000
