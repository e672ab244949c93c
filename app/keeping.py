"""Work that can't be lost: what is not saved is kept beside its file, seconds behind the hand.

The *keeper* watches a document. After an edit it has the newest project written to a recovery copy
(`app.files.recovery`), `KEEP_AFTER_S` later at the latest, by a worker thread (`app.worker`): a project is a frozen
value, so the thread can have it, and neither a slow disk nor a long analysis puts it off. The copy goes away as soon as
the work is saved or given up. The keeper also notes that the file is open (`app.files.claims`), and finds the copies
that a crash has left behind; what to do with them is asked elsewhere (`app.offers`).
"""

from __future__ import annotations

import secrets
from contextlib import suppress
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, Signal

from app.files.atomic import sweep
from app.files.claims import claim, release
from app.files.places import beside, data_folder
from app.files.recovery import SESSION_LETTERS, Copy, Left, left_behind, set_aside
from app.worker import Worker
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable
    from pathlib import Path

    from app.document import Document
    from kinematics.project import Project

KEEP_AFTER_S = 0.7  # writing comes on top, so that no more than the last 2 s of edits can be lost
LAST_WORDS_S = 5.0  # how long a closing window waits for a slow disk


class Keeper(QObject):
    """Keeps one document's work. `found` tells copies left behind, `shared` who else has the file open."""

    found = Signal(object)  # tuple[Left, ...]
    shared = Signal(object)  # Holder
    _failed = Signal(object)  # Exception, from the worker's thread

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.session = secrets.token_hex(SESSION_LETTERS // 2)
        self._worker = Worker(self._tell)
        self._path = document.path
        self._copy = Copy(document.path, self.session)
        self._taken: list[Left] = []
        self._told = ""
        self._is_open = True
        self._failed.connect(self._show_fault, Qt.ConnectionType.QueuedConnection)
        document.changed.connect(self._note)
        document.file_changed.connect(self._take_file)
        self._begin()

    # What others ask for ---------------------------------------------------------------------------------------------

    def look_for(self, paths: Iterable[Path]) -> None:
        """Look for copies left behind beside these files and in the user's data folder; `found` tells of them."""
        self._worker.do("find", partial(self._find, tuple(paths)))

    def take(self, left: Left) -> None:
        """Know that a copy is in the document now: it stays until this work is saved or given up."""
        self._taken.append(left)

    def leave(self, left: Left) -> None:
        """Put a copy that nobody wants now with the earlier saves of its file."""
        self._worker.do(f"aside {left.at}", partial(set_aside, left))

    def check(self, job: Callable[[], object]) -> None:
        """Have the worker look at the disk for someone else."""
        self._worker.do("check", job)

    def flush(self) -> None:
        """Wait until all that is due is on the disk, or until that takes too long."""
        self._worker.finish(LAST_WORDS_S)

    def close(self) -> None:
        """End in good order: the work is saved or given up, nothing is left to recover. Does nothing twice."""
        if not self._is_open:
            return
        self._is_open = False
        self._document.changed.disconnect(self._note)
        self._document.file_changed.disconnect(self._take_file)
        self._worker.do("keep", self._copy.drop)
        self._settle_taken()
        if self._path is not None:
            self._worker.do(f"release {self._path}", partial(release, self._path, self.session))
        self.flush()

    # What the document tells -----------------------------------------------------------------------------------------

    def _note(self, project: Project) -> None:
        self._worker.do("keep", partial(self._keep, self._copy, project, self._document.saved), KEEP_AFTER_S)

    def _take_file(self) -> None:
        """The document was opened, begun, saved, or knows of another file: its copy goes or moves."""
        if self._document.path != self._path:
            self._worker.forget("keep")
            self._worker.do(f"drop {self._path}", self._copy.drop)
            if self._path is not None:
                self._worker.do(f"release {self._path}", partial(release, self._path, self.session))
            self._path = self._document.path
            self._copy = Copy(self._path, self.session)
            self._begin()
        if not self._document.is_modified:
            self._settle_taken()
        self._worker.do("keep", partial(self._keep, self._copy, self._document.project, self._document.saved))

    def _begin(self) -> None:
        """Begin with another file: note that it is open, and take away what a kill left lying about."""
        if self._path is not None:
            self._worker.do("claim", partial(self._claim, self._path))
            self._worker.do("sweep", partial(_sweep, self._path))

    def _settle_taken(self) -> None:
        for left in self._taken:
            self.leave(left)
        self._taken.clear()

    # In the worker's thread ------------------------------------------------------------------------------------------

    def _keep(self, copy: Copy, project: Project, saved: Project | None) -> None:
        if project is not saved and project != saved:
            copy.keep(project)
            self._told = ""
        elif copy.is_there:
            copy.drop()

    def _claim(self, path: Path) -> None:
        holder = claim(path, self.session)
        if holder is not None:
            with suppress(RuntimeError):  # the window is gone
                self.shared.emit(holder)

    def _find(self, paths: tuple[Path, ...]) -> None:
        found, faults = left_behind(paths)
        with suppress(RuntimeError):
            self.found.emit(tuple(found))
        for fault in faults:
            self._tell(HingewrightError(fault))

    def _tell(self, fault: Exception) -> None:
        with suppress(RuntimeError):
            self._failed.emit(fault)

    # And back in the window's ----------------------------------------------------------------------------------------

    def _show_fault(self, fault: Exception) -> None:
        """Tell what went wrong, once as long as it stays the same; a fault of the program goes where they all go."""
        if not isinstance(fault, HingewrightError):
            raise fault
        if str(fault) != self._told:
            self._told = str(fault)
            self._document.noticed.emit(self._told)


def _sweep(path: Path) -> None:
    for folder in (path.absolute().parent, beside(path), data_folder() / "kept"):
        sweep(folder)
