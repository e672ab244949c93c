"""Into which folder a set goes, from the one that a builder pointed at."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.making.names import portable
from app.making.writing import is_set

if TYPE_CHECKING:
    from pathlib import Path


def folder_within(chosen: Path, name: str) -> Path:
    """The folder for a set: the chosen one where it is empty or holds a set, else one of its own within it.

    name : of the hinge.   So neither plates lie about among other files, nor does a set lie within another.
    """
    try:
        empty = chosen.is_dir() and not any(chosen.iterdir())
    except OSError:
        empty = False
    if empty or not chosen.exists() or is_set(chosen):
        return chosen
    return chosen / f"{portable(name, 'hinge')} build"
