"""Work that can't be lost: what is not saved is kept beside its file, seconds behind the hand.

The *keeper* watches a document. After an edit it has the newest project written to a recovery copy
(`app.files.recovery`), `KEEP_AFTER_S` later at the latest, by a worker thread (`app.worker`): a project is a frozen
value, so the thread can have it, and neither a slow disk nor a long analysis puts it off. The copy goes away as soon as
the work is saved or given up. The keeper also notes that the file is open (`app.files.claims`), and finds the copies
that a crash has left behind; what to do with them is asked elsewhere (`app.offers`).
"""

from __future__ import annotations

import secrets
from functools import partial
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, QTimer, Signal

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
    from app.files.claims import Holder
    from kinematics.project import Project

KEEP_AFTER_S = 0.7  # writing comes on top, so that no more than the last 2 s of edits can be lost
PUMP_MS = 50  # how often the worker's results are looked at, while it is busy
LAST_WORDS_S = 5.0  # how long a closing window waits for a slow disk


class Keeper(QObject):
    """Keeps one document's work. `found` tells copies left behind, `shared` who else has the file open."""

    found = Signal(object)  # tuple[Left, ...]
    shared = Signal(object)  # Holder

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.session = secrets.token_hex(SESSION_LETTERS // 2)
        self._worker = Worker(self._tell_fault)
        self._timer = QTimer(self)
        self._timer.setInterval(PUMP_MS)
        self._timer.timeout.connect(self._pump)
        self._path = document.path
        self._copy = Copy(document.path, self.session)
        self._told = ""
        self._is_open = True
        document.changed.connect(self._note)
        document.saving.connect(self._keep_before_saving)
        document.file_changed.connect(self._take_file)
        self._begin()

    # What others ask for ---------------------------------------------------------------------------------------------

    def look_for(self, paths: Iterable[Path]) -> None:
        """Look for copies left behind beside these files and in the user's data folder; `found` tells of them."""
        self._do("find", partial(left_behind, tuple(paths)), then=self._tell_found)

    def take(self, left: Left) -> None:
        """Know that a copy is in the document now: our own copy follows at once, then that one is put aside."""
        self._keep_now()
        self.leave(left)

    def leave(self, left: Left) -> None:
        """Put a copy that nobody wants now with the earlier saves of its file."""
        self._do(f"aside {left.at}", partial(set_aside, left))

    def check(self, job: Callable[[], object], then: Callable[[Any], object]) -> None:
        """Have the worker look at the disk for someone else; the job may hold plain values only (`app.worker`)."""
        self._do("check", job, then=then)

    def flush(self) -> None:
        """Wait until all that is due is on the disk, or until that takes too long."""
        self._worker.finish(LAST_WORDS_S)
        self._pump()

    def close(self) -> None:
        """End in good order: the work is saved or given up, nothing is left to recover. Does nothing twice."""
        if not self._is_open:
            return
        self._is_open = False
        self._document.changed.disconnect(self._note)
        self._document.saving.disconnect(self._keep_before_saving)
        self._document.file_changed.disconnect(self._take_file)
        self._do("keep", self._copy.drop)
        if self._path is not None:
            self._do(f"release {self._path}", partial(release, self._path, self.session))
        self.flush()

    # What the document tells -----------------------------------------------------------------------------------------

    def _note(self, project: Project) -> None:
        self._do("keep", partial(_keep, self._copy, project, self._document.saved), KEEP_AFTER_S, self._know_kept)

    def _keep_now(self) -> None:
        self._do("keep", partial(_keep, self._copy, self._document.project, self._document.saved), 0.0, self._know_kept)

    def _keep_before_saving(self) -> None:
        """Have the copy say what the file is about to say: else a kill before it is dropped leaves one that is older
        than the file, and it would be offered.
        """
        self._keep_now()
        self._worker.finish(LAST_WORDS_S)

    def _take_file(self) -> None:
        """The document was opened, begun, saved, or knows of another file: its copy goes or moves."""
        if self._document.path != self._path:
            self._worker.forget("keep")
            self._do(f"drop {self._path}", self._copy.drop)
            if self._path is not None:
                self._do(f"release {self._path}", partial(release, self._path, self.session))
            self._path = self._document.path
            self._copy = Copy(self._path, self.session)
            self._begin()
        self._keep_now()

    def _begin(self) -> None:
        """Begin with another file: note that it is open, and take away what a kill left lying about."""
        if self._path is not None:
            self._do("claim", partial(claim, self._path, self.session), then=self._tell_shared)
            self._do("sweep", partial(_sweep, self._path))

    # What the worker has done ----------------------------------------------------------------------------------------

    def _do(
        self, key: str, job: Callable[[], object], after_s: float = 0.0, then: Callable[[Any], object] | None = None
    ) -> None:
        self._worker.do(key, job, after_s, then)
        if not self._timer.isActive():
            self._timer.start()

    def _pump(self) -> None:
        """Take what the worker has done."""
        is_busy = self._worker.is_busy
        self._worker.pump()
        if not is_busy:
            self._timer.stop()

    def _tell_fault(self, fault: Exception) -> None:
        """Tell what went wrong, once as long as it stays the same; a fault of the program goes where they all go."""
        if not isinstance(fault, HingewrightError):
            raise fault
        if str(fault) != self._told:
            self._told = str(fault)
            self._document.noticed.emit(self._told)

    def _know_kept(self, _: object) -> None:
        self._told = ""

    def _tell_shared(self, holder: Holder | None) -> None:
        if holder is not None:
            self.shared.emit(holder)

    def _tell_found(self, left_and_faults: tuple[list[Left], list[str]]) -> None:
        left, faults = left_and_faults
        self.found.emit(tuple(left))
        for fault in faults:
            self._tell_fault(HingewrightError(fault))


# In the worker's thread: plain values only ---------------------------------------------------------------------------


def _keep(copy: Copy, project: Project, saved: Project | None) -> None:
    if project is not saved and project != saved:
        copy.keep(project)
    elif copy.is_there:
        copy.drop()


def _sweep(path: Path) -> None:
    for folder in (path.absolute().parent, beside(path), data_folder() / "kept"):
        sweep(folder)
