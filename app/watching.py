"""The watch over the file on the disk: whether another program has changed it, or it is gone.

Looked at when the system says that something happened (QFileSystemWatcher), and whenever the window comes to the fore,
as not every file system tells. Compared by stamp (`app.files.stamps`), so a file that was merely touched is no news.

*Known* is what the document's work stands on: the file as it was opened or saved, or as the builder has accepted it.
*Told* is what was told last, so that nothing is told twice.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QFileSystemWatcher, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication

from app.files.stamps import Stamp, look, stamp

if TYPE_CHECKING:
    from pathlib import Path

    from app.document import Document
    from app.files.stamps import State
    from app.keeping import Keeper

SETTLE_MS = 300  # programs write in several steps


class Watch(QObject):
    """Watches one document's file. `told` says "changed", "gone", or "same" when it is again what is known."""

    told = Signal(str)

    def __init__(self, document: Document, keeper: Keeper, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document, self._keeper = document, keeper
        self._path: Path | None = None
        self._known: Stamp | None = None
        self._now: Stamp | None = None
        self._state: State = "same"
        self._watcher = QFileSystemWatcher(self)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(SETTLE_MS)
        self._timer.timeout.connect(self.check)
        self._watcher.fileChanged.connect(self._check_soon)
        self._watcher.directoryChanged.connect(self._check_soon)
        document.file_changed.connect(self._take_file)
        application = QGuiApplication.instance()
        if isinstance(application, QGuiApplication):
            application.applicationStateChanged.connect(self._come_to_the_fore)
        self._take_file()

    def check(self) -> None:
        """Have the file looked at, in the worker's thread."""
        if self._path is not None:
            against = (self._path, self._known)
            self._keeper.check(partial(look, *against), lambda seen: self._take(against, *seen))

    def state_now(self) -> State:
        """Look at the file here and now: before it is written over."""
        return look(self._path, self._known)[0] if self._path is not None else "same"

    def accept(self) -> None:
        """Take the file as it is now for known: the builder has decided, and is asked no more."""
        self._known, self._state = self._now, "same"

    def _take_file(self) -> None:
        """Begin anew with the file that was opened or saved just now."""
        path, saved = self._document.path, self._document.saved
        if path is not None and (saved is not None or path != self._path):
            self._known, self._state = stamp(path), "same"
        self._path = path
        self._follow()

    def _follow(self) -> None:
        """Watch the file and its folder: a file that was replaced, or has come back, is no longer watched itself."""
        places = (self._path, self._path.absolute().parent) if self._path is not None else ()
        wanted = {str(each) for each in places if each.exists()}
        watched = {*self._watcher.files(), *self._watcher.directories()}
        if watched - wanted:
            self._watcher.removePaths(sorted(watched - wanted))
        if wanted - watched:
            self._watcher.addPaths(sorted(wanted - watched))

    def _check_soon(self) -> None:
        if not self._timer.isActive():  # a folder where something is written all the time doesn't put it off
            self._timer.start()

    def _come_to_the_fore(self, state: Qt.ApplicationState) -> None:
        if state == Qt.ApplicationState.ApplicationActive:
            self.check()

    def _take(self, against: tuple[Path, Stamp | None], state: State, now: Stamp | None) -> None:
        if against != (self._path, self._known):  # saved or opened meanwhile
            return
        self._follow()
        is_news = state != self._state or (state == "changed" and _content(now) != _content(self._now))
        self._state, self._now = state, now
        if state == "same":
            self._known = now
        if is_news:
            self.told.emit(state)


def _content(of: Stamp | None) -> bytes:
    return of.digest if of is not None else b""
