"""What is asked about files in the notice bar: work that a crash left behind, a file that two windows have open, one
that has changed on the disk or is gone, and saving over a file that isn't the one that was opened.

Every answer leaves a way back: taking back and reloading are steps that Undo undoes, what is written over becomes a
backup, and a question that is put off is asked again at the next start.
"""

from __future__ import annotations

import os
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QDateTime, QLocale, QObject, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QMessageBox

from app.faultlog import earlier_logs, folder, made_folder
from app.files.backups import backups
from app.files.claims import holder_of
from app.files.errors import shown_name
from app.files.writers import named as named_writer
from app.keeping import Keeper
from app.notice import Choice, Question
from app.watching import Watch
from kinematics.errors import HingewrightError
from kinematics.values import shown

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.files.claims import Holder
    from app.files.recovery import Left
    from app.window import Window

UNDO = "It is one step, which Undo takes back; the file stays as it is until you save."


class Offers(QObject):
    """Asks for one window, and does what is answered."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window, self._document, self._notice = window, window.document, window.area.notice
        self.keeper = Keeper(window.document, self)
        self.watch = Watch(window.document, self.keeper, self)
        self._path = window.document.path
        self._asked: set[Path] = set()  # copies that were asked about in this run
        self._answered: set[Path] = set()
        self.keeper.found.connect(self._offer)
        self.keeper.shared.connect(self._tell_shared)
        self.watch.told.connect(self._tell_disk)
        self._document.file_changed.connect(self._take_file)

    def start(self, broken_off: Sequence[Path] = ()) -> None:
        """Look for work that an earlier run left behind: of the files used last, and of hinges without a file.

        broken_off : the logs of runs that broke off, if any said something; told once.
        """
        self.keeper.look_for([*([self._path] if self._path is not None else []), *self._window.settings.remembered()])
        if broken_off:
            self._ask_about_log(
                f"The program broke off last time. What happened is written down in {broken_off[-1]}; it tells nothing "
                "of your work."
            )

    def show_log(self) -> None:
        """Tell where the logs of faults are."""
        logs = earlier_logs()
        there = f"The faults of earlier runs are written down in {folder()}" if logs else "No fault is written down"
        self._ask_about_log(f"{there}. A log holds versions and places in the program, nothing of your work.")

    def _ask_about_log(self, sentence: str) -> None:
        choices = (
            Choice("Show the folder", "Open the folder with the logs, so that one can be sent along.", show_folder),
            Choice(
                "Put this hinge with it",
                "Save a copy of the hinge that is open beside the logs: it helps who looks for the fault.",
                self._put_hinge_to_logs,
            ),
        )
        self._notice.ask(Question("log", sentence, choices))

    def _put_hinge_to_logs(self) -> None:
        from app.files import save

        try:
            save(self._document.project, made_folder() / "hinge of the fault.hinge")
        except HingewrightError as fault:
            self._document.noticed.emit(str(fault))
            return
        show_folder()

    def _take_file(self) -> None:
        """With another file, what was asked about the last one is asked no more."""
        if self._document.path != self._path:
            self._path = self._document.path
            self._notice.take_back("disk")
            self._notice.take_back("shared")
            if self._path is not None:
                self.keeper.look_for([self._path])

    # Work that was left behind ---------------------------------------------------------------------------------------

    def _offer(self, found: tuple[Left, ...]) -> None:
        """Ask about each copy; about one that was put off only when its own file is opened."""
        for left in found:
            is_due = left.at not in self._asked or (left.of is not None and left.of == self._resolved())
            if is_due and left.at not in self._answered:
                self._asked.add(left.at)
                self._ask(left)

    def _ask(self, left: Left) -> None:
        choices = (
            Choice("Take it back", f"Show the work that was kept. {UNDO}", partial(self._take_back, left)),
            Choice("Leave it", "Put it with the earlier saves; nothing else changes.", partial(self._leave, left)),
        )
        self._notice.ask(Question(f"left {left.at}", left_sentence(left), choices))

    def _leave(self, left: Left) -> None:
        self._answered.add(left.at)
        self.keeper.leave(left)

    def _resolved(self) -> Path | None:
        return Path(os.path.realpath(self._path)) if self._path is not None else None

    def _take_back(self, left: Left) -> None:
        self._answered.add(left.at)
        if self._show_file_of(left):
            self._document.apply("Take back kept work", left.project)
            self.keeper.take(left)
        else:
            self._answered.discard(left.at)
            self._ask(left)

    def _show_file_of(self, left: Left) -> bool:
        """Have the file of a copy open, or no file when there is none; False when the builder stays with the work."""
        if left.of is not None and left.of == self._resolved():
            return True
        if left.of is not None and left.of.is_file():
            return self._window.open_path(left.of)
        if not self._window.may_leave():
            return False
        if self._path is not None:
            self._document.new()
        return True

    # Two windows, one file -------------------------------------------------------------------------------------------

    def _tell_shared(self, holder: Holder) -> None:
        if self._path is None:
            return
        choices = (
            Choice(
                "Work on a copy",
                "Go on without a file; saving asks for another name. The other window keeps the file.",
                self._document.leave_file,
            ),
            Choice(
                "Work here too", "Go on with this file in both windows; a save over the other's is asked for.", _go_on
            ),
        )
        self._notice.ask(Question("shared", shared_sentence(self._path, holder), choices))

    # The file on the disk --------------------------------------------------------------------------------------------

    def _tell_disk(self, state: str) -> None:
        if self._path is None or state == "same":
            self._notice.take_back("disk")
            return
        name = shown_name(self._path)
        if state == "gone":
            self._document.disown_file()
            self._notice.ask(Question("disk", gone_sentence(name), self._choices_gone()))
        else:
            self._notice.ask(Question("disk", changed_sentence(name), self._choices_changed()))

    def _choices_gone(self) -> tuple[Choice, ...]:
        return (
            Choice("Save it again", "Write the file where it was.", self._window.save),
            Choice("Save elsewhere…", "Save under another name, or on another disk.", self._window.save_as),
        )

    def _choices_changed(self) -> tuple[Choice, ...]:
        return (
            Choice("Reload it", f"Show what the file holds now. {UNDO}", self._document.reload),
            Choice(
                "Keep mine",
                "Go on with what is shown here. Saving writes over the file; what it holds becomes a backup.",
                self._keep_mine,
            ),
        )

    def _keep_mine(self) -> None:
        self.watch.accept()
        self._document.disown_file()

    # Saving ----------------------------------------------------------------------------------------------------------

    def may_write(self, path: Path, is_agreed: bool) -> bool:
        """Ask before a save that would write over another's work; `is_agreed`: the builder has agreed to this name."""
        what = self._objection(path, is_agreed)
        if not what:
            return True
        key = QMessageBox.StandardButton
        box = QMessageBox(self._window)
        box.setWindowTitle("Save over it?")
        box.setText(what)
        box.setInformativeText("Saving writes over it; what it holds now becomes a backup beside it.")
        box.setStandardButtons(key.Save | key.Cancel)
        box.button(key.Save).setText("Save over it")
        box.button(key.Cancel).setText("Don't save")
        box.setDefaultButton(key.Cancel)
        return box.exec() == key.Save

    def _objection(self, path: Path, is_agreed: bool) -> str:
        name = shown_name(path)
        if path == self._path:
            return f"{name} has been changed on the disk since it was opened here." * (
                self.watch.state_now() == "changed"
            )
        holder = holder_of(path)
        is_ours = (
            holder is not None and holder.session == self.keeper.session
        )  # a file left just now is let go behind us
        if holder is not None and not is_ours and holder.running is not False:
            return shared_sentence(path, holder)
        return "" if is_agreed or not path.exists() else f"There is a file {name} already."

    # Earlier saves ---------------------------------------------------------------------------------------------------

    def earlier_saves(self) -> list[Path]:
        """The backups of the open file, the newest first."""
        return backups(self._path) if self._path is not None else []

    def take_earlier(self, backup: Path) -> None:
        """Show an earlier save as one step."""
        from app.files import load

        self._document.attempt("Take an earlier save", lambda _: load(backup))


def show_folder() -> None:
    """Have the desktop show the folder with the logs."""
    QDesktopServices.openUrl(QUrl.fromLocalFile(str(made_folder())))


def left_sentence(left: Left) -> str:
    """What is asked of a copy that was left behind."""
    what = (
        f"Work on {shown_name(left.of)}"
        if left.of is not None
        else f"The hinge {shown(left.project.title)}, which has no file,"
    )
    when = moment(left.time)
    if left.running is None:
        return f"{what} was kept by {named_writer(left.writer)}, {when}; it may still be open there."
    gone = " Its file is gone." if left.of is not None and not left.of.is_file() else ""
    return f"{what} was not saved when the program broke off; it was kept, {when}.{gone}"


def shared_sentence(path: Path, holder: Holder) -> str:
    """What is told of a file that someone else has open."""
    since = f" since {moment(holder.since)}" if holder.since else ""
    name = shown_name(path)
    if holder.running is None:
        return f"{name} is open at {named_writer(holder.writer)}{since}, or was when that one broke off."
    return f"{name} is open in another window as well ({named_writer(holder.writer)}){since}."


def changed_sentence(name: str) -> str:
    """What is told of a file that another program has changed."""
    return f"{name} has been changed on the disk by another program. What you see here is your own work, untouched."


def gone_sentence(name: str) -> str:
    """What is told of a file that has vanished."""
    return (
        f"{name} is gone from the disk: deleted, moved, or its drive was taken away. Your work is all here; save it "
        "again, or elsewhere."
    )


def moment(seconds: float) -> str:
    """A day and time as the desktop writes them."""
    if not seconds:
        return "at an unknown time"
    return QLocale().toString(QDateTime.fromSecsSinceEpoch(int(seconds)), QLocale.FormatType.ShortFormat)


def _go_on() -> None:
    """Nothing is to be done."""
