"""What goes out of the window beside the project itself: pictures, sheets of paper, and the report.

The command line writes the same with the same code (`hingewright picture`, `hingewright report`). None is ever written
in place of a project: the ending of the name says what is written, and others are refused.
"""

from __future__ import annotations

import json
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QFileDialog

from app.document import News
from app.files.errors import FileError
from app.filing import file_stem
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtWidgets import QDialog

    from app.window import Window

KINDS = {
    ".png": "Pictures (*.png)",
    ".svg": "Drawings (*.svg)",
    ".pdf": "Pages (*.pdf)",
    ".gif": "Animations (*.gif)",
    ".txt": "Reports (*.txt)",
    ".json": "Reports for programs (*.json)",
}
"""Endings, and what a dialog calls files of them."""


# ------------------------------------------------------------------------------------------------ pictures and sheets
def show_picture(window: Window) -> QDialog:
    """Ask which picture is wanted: of what kind, how large; or the sweep as an animation."""
    from app.picture_dialog import PictureDialog

    ask = partial(ask_name, window)
    dialog = PictureDialog(window.document, window.look, ask, window.document.tell, window)
    return _shown(window, dialog, "keeping#pictures-and-sheets")


def copy_picture(window: Window) -> None:
    """Put the hinge as it stands open now on the clipboard."""
    from app.picture_dialog import copy_picture as copied

    window.document.tell(copied(window.document, window.look))


def show_layout(window: Window) -> QDialog:
    """Show the layout sheet, to be written or printed."""
    from app.pages_dialog import LayoutDialog

    ask = partial(ask_name, window)
    dialog = LayoutDialog(window.document, ask, window.document.tell, window)
    return _shown(window, dialog, "keeping#pictures-and-sheets")


def show_mockup(window: Window) -> QDialog:
    """Show the mock-up templates, to be written or printed."""
    from app.pages_dialog import MockupDialog

    ask = partial(ask_name, window)
    dialog = MockupDialog(window.document, ask, window.document.tell, window)
    return _shown(window, dialog, "build#a-card-model-first")


def show_templates(window: Window) -> QDialog:
    """Show the templates for the drill, to be written or printed."""
    from app.templates_dialog import TemplatesDialog

    ask = partial(ask_name, window)
    dialog = TemplatesDialog(window.document, ask, window.document.tell, window)
    return _shown(window, dialog, "build#templates-for-the-drill")


def show_cutting(window: Window, *, faults: bool = False) -> None:
    """Show the files for the cutter, in their drawer, or what is wrong with what is cut."""
    from app.drawers.cutting_box import CuttingBox

    window.document.commit()
    window.area.open_drawer("Build")
    window.build.box(CuttingBox).come_to(faults=faults)


def _shown(window: Window, dialog: QDialog, help_place: str) -> QDialog:
    """Show a dialog beside the work, which it follows."""
    window.document.commit()
    window.help.answer_in(dialog, help_place)
    dialog.show()
    return dialog


# -------------------------------------------------------------------------------------------------------------- report
def export_report(window: Window) -> bool:
    """Ask for a name and write the report. Tells whether it was written."""
    document = window.document
    path = ask_name(window, "Save the report", (".txt", ".json"))
    if path is None:
        return False
    try:
        _write_report(window, path)
    except HingewrightError as error:
        document.noticed.emit(str(error))
        return False
    document.tell(written(path))
    return True


def _write_report(window: Window, path: Path) -> None:
    from app.files.atomic import write_whole
    from app.report import as_dict, as_text

    project, analysis = window.document.project, window.document.analysis
    if path.suffix.lower() == ".json":
        text = json.dumps(as_dict(project, analysis), ensure_ascii=False, allow_nan=False) + "\n"
    else:
        text = as_text(project, analysis)
    try:
        write_whole(path, text.encode("utf-8"))
    except OSError as problem:
        raise FileError(f"the report can't be written: {problem.strerror or problem}", path.name) from problem


# --------------------------------------------------------------------------------------------------------------- names
def ask_name(window: Window, title: str, endings: Sequence[str]) -> Path | None:
    """Ask for the name of a file that is to be written; None where it was left, or told why it can't be so.

    endings : those that it may have; the first one is given to a name without.
    """
    document = window.document
    document.commit()
    stem = document.path.stem if document.path is not None else file_stem(document.project.title)
    folder = document.path.parent if document.path is not None else window.settings.folder()
    kinds = ";;".join(KINDS[ending] for ending in endings)
    name, kind = QFileDialog.getSaveFileName(window, title, str(folder / f"{stem}{endings[0]}"), kinds)
    if not name:
        return None
    path = Path(name)
    try:
        path = _of_kind(path, next((each for each in endings if KINDS[each] == kind), ""), endings[0])
        if path.suffix.lower() not in endings:
            wanted = " or ".join(endings)
            raise FileError(f"“{path.suffix}” is not what is written here", path.name, f"Let the name end in {wanted}.")
    except HingewrightError as error:
        document.noticed.emit(str(error))
        return None
    return path


def _of_kind(path: Path, chosen: str, usual: str) -> Path:
    """Give a name the ending of the kind that was chosen with it, where it has none or only the one proposed."""
    ending = chosen or usual
    if path.suffix and not (path.suffix.lower() == usual != ending):
        return path
    path = path.with_suffix(ending)
    if path.exists():  # the dialog asked about the name without this ending
        raise FileError("a file of this name is there already", path.name, "Name it with its ending.")
    return path


def written(path: Path) -> News:
    """Say that a file is written, and where."""
    return News(f"{path.name} is written, in {path.parent}.")
