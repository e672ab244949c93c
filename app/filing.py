"""The window's files: opening, saving, asking for unsaved work, bringing outlines and photos in, dropping.

A failed open leaves the open work untouched, a failed save keeps it; what goes wrong is told in the bar over the board.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QFileDialog, QLineEdit, QMainWindow, QMessageBox

from app.drawers.incoming import FILTER as OUTLINES
from app.files.photo_names import FILTER as PHOTOS
from app.files.photo_names import is_photo_name
from app.files.places import is_ours
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from PySide6.QtGui import QDragEnterEvent, QDropEvent

    from app.document import Document
    from app.drawers.trace import TraceDrawer
    from app.offers import Offers
    from app.rail import SheetArea
    from app.settings import Settings
    from app.standing import Standing
    from app.strip import TravelStrip
    from kinematics.project import Project


FILTER = f"Hinges (*.hinge);;Outlines (*.dxf *.svg *.csv *.txt);;{PHOTOS}"
OUTLINE_KINDS = (".dxf", ".svg", ".csv", ".txt", ".tsv")


class FilingWindow(QMainWindow):
    """A window that looks after the files of its document; the parts that it goes by are made by `app.window`."""

    document: Document
    settings: Settings
    area: SheetArea
    strip: TravelStrip
    offers: Offers
    standing: Standing

    @property
    def trace(self) -> TraceDrawer:
        """The drawer Trace."""
        raise NotImplementedError

    # Files -----------------------------------------------------------------------------------------------------------

    def may_leave(self) -> bool:
        """Ask for unsaved work; True when it is saved, given up or there is none."""
        self._finish_typing()
        self.document.commit()
        if not self.document.is_modified:
            return True
        key = QMessageBox.StandardButton
        box = QMessageBox(self)
        box.setWindowTitle("Unsaved work")
        box.setText(f"{self._name()} has changes that are not saved.")
        box.setInformativeText("Save them before going on?")
        box.setStandardButtons(key.Save | key.Discard | key.Cancel)
        box.setDefaultButton(key.Save)
        answer = box.exec()
        if answer == key.Save:
            return self.save()
        return answer == key.Discard

    def _name(self) -> str:
        return (
            self.document.path.name if self.document.path is not None else (self.document.project.title or "This hinge")
        )

    def new_project(self) -> None:
        """Begin another hinge; the drawer Trace opens, as outlines come first."""
        if self.may_leave():
            self.strip.stop()
            self.document.new()
            self.area.open_drawer("Trace")

    def ask_open(self) -> None:
        """Ask for a project file and open it; a file of outlines is brought in."""
        self._ask_file("Open a hinge", FILTER)

    def _ask_file(self, title: str, kinds: str) -> None:
        """Ask for a file, in the folder that was used last, and take it in."""
        name, _ = QFileDialog.getOpenFileName(self, title, str(self.settings.folder()), kinds)
        if name:
            self.settings.set_folder(Path(name).parent)
            self.take_file(Path(name))

    def open_path(self, path: Path) -> bool:
        """Open a project file once unsaved work is cared for; a demo opens as a hinge without a file."""
        if is_ours(path):
            return self.open_demo(path)
        if not self.may_leave():
            return False
        self.strip.stop()
        self.standing.remember_view()
        if not self.document.open(path):
            return False
        self.standing.show_view()
        self.settings.add_recent(path)
        self.settings.set_folder(path.parent)
        return True

    def open_demo(self, path: Path) -> bool:
        """Open a demo as a project without a file, so that saving never writes over the demo."""
        if not self.may_leave():
            return False
        project = self._load(path)
        if project is not None:
            self.strip.stop()
            self.document.new(project)
        return project is not None

    def _load(self, path: Path) -> Project | None:
        from app.files import load

        try:
            return load(path)
        except HingewrightError as error:
            self.document.noticed.emit(str(error))
            return None

    def _finish_typing(self) -> None:
        """Take over what stands in a field, as leaving it does: what is typed belongs to the work."""
        typing = self.focusWidget()
        if isinstance(typing, QLineEdit):
            typing.clearFocus()
            typing.setFocus()

    def save(self) -> bool:
        """Save; where there is no file yet, ask for its name."""
        self._finish_typing()
        if self.document.path is None:
            return self.save_as()
        return self._save_to(self.document.path)

    def save_as(self) -> bool:
        """Ask for a name and save under it."""
        suggested = self.document.path or self.settings.folder() / f"{file_stem(self.document.project.title)}.hinge"
        name, _ = QFileDialog.getSaveFileName(self, "Save this hinge", str(suggested), FILTER)
        if not name:
            return False
        path = Path(name)
        if path.suffix:
            return self._save_to(path, is_agreed=True)  # the dialog has asked already
        return self._save_to(path.with_suffix(".hinge"))

    def _save_to(self, path: Path, is_agreed: bool = False) -> bool:
        """Save; asks first where that would write over something, unless the builder `is_agreed` to this very name."""
        if not self.offers.may_write(path, is_agreed):
            return False
        saved = self.document.save(path)
        if saved:
            self.settings.add_recent(path)
            self.settings.set_folder(path.parent)
        return saved

    def ask_outlines(self) -> None:
        """Bring outlines in from a file."""
        self.area.open_drawer("Trace")
        self._ask_file("Outlines from a file", OUTLINES)

    def ask_photo(self) -> None:
        """Lay a photo from a file beneath the board."""
        self.area.open_drawer("Trace")
        self._ask_file("A photo beneath the board", PHOTOS)

    def paste_photo(self) -> None:
        """Lay the copied picture beneath the board."""
        self.area.open_drawer("Trace")
        self.trace.show_photos().paste()

    # Dropping --------------------------------------------------------------------------------------------------------

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take one file, or several outlines."""
        if dropped_files(event) or event.mimeData().hasImage():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open a hinge, or bring outlines or a photo in."""
        paths = dropped_files(event)
        event.acceptProposedAction()
        if not paths:  # a picture out of another program
            self.area.open_drawer("Trace")
            self.trace.show_photos().take_image(event.mimeData().imageData(), "dropped photo")
        for path in paths[:1] if paths and paths[0].suffix.lower() not in OUTLINE_KINDS else paths:
            self.take_file(path)

    def take_file(self, path: Path) -> bool:
        """Open a project, or bring outlines or a photo in, whichever the file is; a photo is read in the background."""
        if path.suffix.lower() in OUTLINE_KINDS:
            self.area.open_drawer("Trace")
            return self.trace.bring_in(path)
        if is_photo_name(path):
            self.area.open_drawer("Trace")
            self.trace.show_photos().take_file(path)
            return True
        return self.open_path(path)


def dropped_files(event: QDropEvent) -> list[Path]:
    """Give the local files that are dragged or dropped."""
    return [Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()]


def file_stem(title: str) -> str:
    """Make a file name of a title: what file systems dislike becomes a space."""
    return " ".join("".join(c if c.isalnum() or c in " -_()" else " " for c in title).split()) or "hinge"
