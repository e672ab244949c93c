"""Whether a file on the disk is still what it was: its *stamp*.

The system's own figures (size, time, number of the file) are looked at first, as that costs nothing; only when they
differ is the content read. A file that was merely touched, or written anew with the same content, has not changed.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from pathlib import Path

State = Literal["same", "changed", "gone"]


@dataclass(frozen=True, slots=True)
class Stamp:
    """A file at an instant: bytes, time of its last change in ns, number in its file system, hash of its content."""

    size: int
    time_ns: int
    number: int
    digest: bytes


def stamp(path: Path) -> Stamp | None:
    """Take a file's stamp; None when it is gone or can't be read."""
    figures = _figures(path)
    if figures is None:
        return None
    try:
        with path.open("rb") as file:
            return Stamp(*figures, hashlib.file_digest(file, "sha256").digest())
    except OSError:
        return None


def look(path: Path, known: Stamp | None) -> tuple[State, Stamp | None]:
    """Compare a file with what is known of it (None: that it was gone). Gives what happened, and what is known now.

    "gone" and "changed" are told when they are news: a file that was known to be gone and still is, is the "same".
    """
    figures = _figures(path)
    if known is not None and figures == (known.size, known.time_ns, known.number):
        return "same", known
    now = stamp(path) if figures is not None else None
    if now is None:
        return ("gone" if known is not None else "same"), None
    return ("same" if known is not None and known.digest == now.digest else "changed"), now


def _figures(path: Path) -> tuple[int, int, int] | None:
    try:
        state = path.stat()
    except (OSError, ValueError):
        return None
    return state.st_size, state.st_mtime_ns, state.st_ino
