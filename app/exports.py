"""What goes out of the window beside the project itself: the picture as the board shows it, and the report.

The command line writes the same with the same code (`hingewright picture`, `hingewright report`). Neither is ever
written in place of a project: the ending of the name says what is written, and others are refused.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QFileDialog

from app.files.errors import FileError
from app.lengths import format_angle
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.window import Window

PICTURES = "Pictures (*.png);;Drawings (*.svg);;Pages (*.pdf)"
REPORTS = "Reports (*.txt);;Reports for programs (*.json)"


def export_picture(window: Window) -> bool:
    """Ask for a name and draw the hinge as it stands open now. Tells whether it was written."""
    document = window.document
    reached = document.analysis.opening.reached_deg
    at_deg = min(max(document.pose.deg, 0.0), reached)

    def write(path: Path) -> None:
        from app.files.pictures import save_picture

        save_picture(document.project, document.analysis, path, at_deg)

    shown = f"open {format_angle(at_deg, document.units)}" if at_deg else "shut"
    return _export(window, f"Save a picture, {shown}", ".png", PICTURES, write)


def export_report(window: Window) -> bool:
    """Ask for a name and write the report. Tells whether it was written."""
    document = window.document

    def write(path: Path) -> None:
        from app.files.atomic import write_whole
        from app.report import as_dict, as_text

        if path.suffix.lower() == ".json":
            told = as_dict(document.project, document.analysis)
            text = json.dumps(told, ensure_ascii=False, allow_nan=False) + "\n"
        elif path.suffix.lower() == ".txt":
            text = as_text(document.project, document.analysis)
        else:
            raise FileError(f'"{path.suffix}" is no kind of report', path.name, "Let the name end in .txt or .json.")
        try:
            write_whole(path, text.encode("utf-8"))
        except OSError as problem:
            raise FileError(f"the report can't be written: {problem.strerror or problem}", path.name) from problem

    return _export(window, "Save the report", ".txt", REPORTS, write)


def _export(window: Window, title: str, ending: str, kinds: str, write: Callable[[Path], None]) -> bool:
    """Ask for a name, write, and say what was written or why it wasn't."""
    from app.window import file_stem

    document = window.document
    document.commit()
    stem = document.path.stem if document.path is not None else file_stem(document.project.title)
    folder = document.path.parent if document.path is not None else window.settings.folder()
    name, _ = QFileDialog.getSaveFileName(window, title, str(folder / f"{stem}{ending}"), kinds)
    if not name:
        return False
    path = Path(name)
    try:
        if not path.suffix:
            path = path.with_suffix(ending)
            if path.exists():  # the dialog asked about the name without its ending
                raise FileError("a file of this name is there already", path.name, "Name it with its ending.")
        write(path)
    except HingewrightError as error:
        document.noticed.emit(str(error))
        return False
    document.noticed.emit(f"{path.name} is written, in {path.parent}.")
    return True
