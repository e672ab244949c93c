"""What can go wrong with files, in words a builder understands; they hang under `HingewrightError` as all errors do."""

from __future__ import annotations

import errno
from typing import TYPE_CHECKING

from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from pathlib import Path


class FileError(HingewrightError):
    """A file that can't be read, or can't be written."""


class NewerVersionError(FileError):
    """A project file written by a newer version of the program."""


# What the system says most often, in our words; all else is told in the system's own.
FAULTS = {
    errno.ENOENT: "there is no such file or folder",
    errno.ENOTDIR: "a part of its path is no folder",
    errno.EISDIR: "this is a folder, not a file",
    errno.EACCES: "this may not be done here: access is denied",
    errno.EPERM: "this may not be done here: access is denied",
    errno.EROFS: "this disk can only be read",
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your share of the disk is used up",
    errno.EFBIG: "the file would be larger than this disk or system allows",
    errno.ENAMETOOLONG: "the name is too long",
    errno.ELOOP: "its links go round in a circle",
    errno.EIO: "the disk reports a fault",
}


def fault_of(problem: OSError) -> str:
    """Say what the system reported, as a part of a sentence."""
    if problem.errno in FAULTS:
        return FAULTS[problem.errno]
    return f"the system reports: {problem.strerror or problem}"


def shown_name(path: Path) -> str:
    """Give a file's name as it can be shown on one line, whatever bytes it has."""
    name = path.name or str(path)
    return "".join(letter if letter.isprintable() else "?" for letter in name)
