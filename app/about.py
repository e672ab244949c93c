"""Two small sheets of words: what mouse and keys do, and what the program stands on."""

from __future__ import annotations

from importlib.metadata import PackageNotFoundError, version
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QLabel, QVBoxLayout

from app import __version__
from app.buttons import close_only
from app.words import AIDS_TO_JUDGEMENT

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

# Package, what it does here, its licence as the metadata and licence files of the installed package state it.
LIBRARIES = (
    ("PySide6-Essentials", "the window (Qt for Python)", "LGPL 3.0"),
    ("numpy", "arrays", "BSD 3-Clause"),
    ("scipy", "solvers", "BSD 3-Clause"),
    ("shapely", "distances of outlines (with GEOS, LGPL 2.1)", "BSD 3-Clause"),
    ("pyqtgraph", "curves of the travel strip", "MIT"),
    ("ezdxf", "DXF drawings", "MIT"),
)

HANDS = (
    (
        "On the board",
        (
            ("drag a pivot", "moves it; it stays under the pointer at any opening"),
            ("drag the panel or a link", "swings it"),
            ("drag the paper, or Space and drag", "pushes the sheet; the wheel zooms about the pointer"),
            ("Page Up, Page Down", "selects one pivot after the other"),
            ("arrow keys, with Shift finer", "nudge what is selected by 1 mm, 0.1 mm"),
            ("L", "locks a pivot, or frees it"),
            ("F, with Shift", "shows all, shows the pins"),
            ("Esc", "gives up the drag, leaving no step"),
        ),
    ),
    (
        "On the travel strip",
        (
            ("drag anywhere", "swings the panel"),
            ("left, right, with Shift finer", "1°, 0.1°"),
            ("Home, End", "shut, as far as it opens"),
            ("Space", "plays and stops"),
        ),
    ),
    (
        "In a field",
        (
            ('12 · 12,5 mm · 3 1/16" · 25.4/2 · 12+3/4', "are all read"),
            ("Enter", "takes it over"),
            ("Esc", "brings the old value back"),
        ),
    ),
)


def keys_dialog(parent: QWidget) -> QDialog:
    """Make the sheet of keys and hands."""
    parts = []
    for place, rows in HANDS:
        cells = "".join(
            f"<tr><td style='padding-right:18px'><b>{what}</b></td><td>{does}</td></tr>" for what, does in rows
        )
        parts.append(f"<p><b>{place.upper()}</b></p><table cellpadding='2'>{cells}</table>")
    return _sheet(parent, "Keys and hands", "".join(parts))


def about_dialog(parent: QWidget) -> QDialog:
    """Make the sheet on the program."""
    rows = "".join(
        f"<tr><td style='padding-right:18px'><b>{name}</b> {_version(name)}</td><td "
        f"style='padding-right:18px'>{what}</td><td>{licence}</td></tr>"
        for name, what, licence in LIBRARIES
    )
    return _sheet(
        parent,
        "About Hingewright",
        f"<p><b>HINGEWRIGHT {__version__}</b></p><p>Lays out multi-bar hinges for a one-off panel. MIT licence.</p>"
        f"<p>{AIDS_TO_JUDGEMENT}</p><p>It stands on these libraries:</p><table cellpadding='2'>{rows}</table>",
    )


def _version(package: str) -> str:
    try:
        return version(package)
    except PackageNotFoundError:
        return ""


def _sheet(parent: QWidget, title: str, text: str) -> QDialog:
    dialog = QDialog(parent)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.setWindowTitle(title)
    column = QVBoxLayout(dialog)
    label = QLabel(text)
    label.setTextFormat(Qt.TextFormat.RichText)
    label.setWordWrap(True)
    label.setMinimumWidth(560)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    column.addWidget(label)
    buttons = close_only()
    buttons.rejected.connect(dialog.reject)
    column.addWidget(buttons)
    return dialog
