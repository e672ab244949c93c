"""What can go wrong, told in words a builder understands.

Every error of the program hangs under `HingewrightError`. It carries three pieces: *what* is wrong, *where* it stands,
and the *remedy*: what to do about it. Only the command line and one hook in the window catch these; whoever raises one
writes the sentence.
"""

from __future__ import annotations


class HingewrightError(Exception):
    """Something the user can mend; `str()` of it is the sentence to show.

    what : the fault, without full stop.     where : the place, or "".     remedy : a whole sentence, or "".
    """

    def __init__(self, what: str, where: str = "", remedy: str = "") -> None:
        super().__init__(what, where, remedy)  # all three, so that the error survives pickling to another process
        self.what = what
        self.where = where
        self.remedy = remedy

    def __str__(self) -> str:
        """Where, what, and the remedy, as "where: what. remedy"."""
        sentence = f"{self.what.rstrip('.')}."
        if self.where:
            sentence = f"{self.where}: {sentence}"
        return f"{sentence} {self.remedy}" if self.remedy else sentence


class ProjectError(HingewrightError):
    """A project, or a part of one, that contradicts itself or the limits of its numbers."""


class OutlineError(HingewrightError):
    """An outline that cannot be used for what was asked of it."""
