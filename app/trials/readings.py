"""The analyses of trials, worked out one by one between other things, so that no list stops the hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from app.trials.kept import trials_of

if TYPE_CHECKING:
    from app.document import Document
    from app.trials.kept import Trial
    from kinematics.analysis import Analysis


class Readings(QObject):
    """Keeps an analysis of every trial of the document; `read` tells that there is one more, or one less."""

    read = Signal()

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._known: dict[int, tuple[Trial, Analysis]] = {}
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self._read_next)
        document.changed.connect(lambda _: self._take())
        self._kept: tuple[object, ...] | None = None
        self._take()

    @property
    def trials(self) -> tuple[Trial, ...]:
        """The trials of the newest project."""
        return trials_of(self._document.project)

    def of(self, trial: Trial) -> Analysis | None:
        """Give the analysis of a trial; None where it isn't worked out yet, or can't be."""
        found = self._known.get(id(trial.project))
        return found[1] if found is not None else None

    def read_now(self, trial: Trial) -> Analysis | None:
        """Give the analysis of a trial, worked out now if need be."""
        if trial.project is not None and self.of(trial) is None:
            self._read(trial)
        return self.of(trial)

    def _take(self) -> None:
        """Look at the trials again, if there are others now."""
        kept = self._document.project.trials
        if kept is self._kept:
            return
        self._kept = kept
        there = {id(trial.project) for trial in self.trials}
        self._known = {key: value for key, value in self._known.items() if key in there}
        self._timer.start()
        self.read.emit()

    def _read_next(self) -> None:
        for trial in self.trials:
            if trial.project is not None and self.of(trial) is None:
                self._read(trial)
                self.read.emit()
                self._timer.start()
                return

    def _read(self, trial: Trial) -> None:
        from kinematics import analyse

        if trial.project is not None:
            self._known[id(trial.project)] = (trial, analyse(trial.project))
