"""The build's files made beside the window: the command line's `make` in a process of its own."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.drawing_job import DrawingJob

if TYPE_CHECKING:
    from pathlib import Path

    from app.making.planned import MakeOptions
    from kinematics.project import Project


class MakeJob(DrawingJob):
    """One set of files on its way; signals as of a picture. Files with faults are written too."""

    verb: ClassVar[str] = "make"
    what: ClassVar[str] = "The files"
    well: ClassVar[tuple[int, ...]] = (0, 1)

    def make(self, project: Project, to: Path, options: MakeOptions) -> None:
        """Begin. Raises FileError where no copy of the project can be made."""
        paper = ["--paper", options.paper] if options.paper else []
        self.start(project, to, ["--formats", ",".join(options.formats), "--units", options.units, *paper])
