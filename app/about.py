"""A small sheet of words: what the program stands on."""

from __future__ import annotations

from html import escape
from importlib.metadata import PackageNotFoundError, version
from sysconfig import get_path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QLabel, QVBoxLayout

from app import __version__
from app.buttons import close_only
from app.fields import named
from app.words import AIDS_TO_JUDGEMENT

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

# Package, what it does here, its licence as the metadata and licence files of the installed package state it.
LIBRARIES = (
    ("PySide6-Essentials", "the window (Qt for Python)", "LGPL 3.0"),
    ("numpy", "arrays (with OpenBLAS, BSD 3-Clause)", "BSD 3-Clause"),
    ("scipy", "solvers (with OpenBLAS, BSD 3-Clause)", "BSD 3-Clause"),
    ("shapely", "distances of outlines (with GEOS, LGPL 2.1)", "BSD 3-Clause"),
    ("pyqtgraph", "curves of the travel strip", "MIT"),
    ("ezdxf", "DXF drawings", "MIT"),
)
# What those bring along.
BROUGHT = (
    ("shiboken6", "between Qt and Python", "LGPL 3.0"),
    ("fonttools", "letters of drawings", "MIT"),
    ("pyparsing", "reads searches in drawings", "MIT"),
    ("typing_extensions", "types of Python", "PSF 2.0"),
    ("colorama", "colours in a terminal", "BSD 3-Clause"),
)


def about_dialog(parent: QWidget) -> QDialog:
    """Make the sheet on the program."""
    return _sheet(
        parent,
        "About Hingewright",
        f"<p><b>HINGEWRIGHT {__version__}</b></p><p>Lays out multi-bar hinges for a one-off panel. MIT licence.</p>"
        f"<p>{AIDS_TO_JUDGEMENT}</p><p>It stands on these libraries:</p>{_table(LIBRARIES)}"
        f"<p>They bring along:</p>{_table(BROUGHT)}"
        f"<p>Most of them have the full words of their licence beside them, in {_folder()}. Qt, shiboken "
        "and GEOS are libraries of their own there, which you may replace by others.</p>",
    )


def _table(libraries: tuple[tuple[str, str, str], ...]) -> str:
    """Name, version, use and licence of libraries."""
    rows = "".join(
        f"<tr><td style='padding-right:18px'><b>{name}</b> {_version(name)}</td><td "
        f"style='padding-right:18px'>{what}</td><td>{licence}</td></tr>"
        for name, what, licence in libraries
    )
    return f"<table cellpadding='2'>{rows}</table>"


def _folder() -> str:
    """Where the libraries are installed."""
    return escape(get_path("platlib"))


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
    named(label, title, "Select words with the mouse to copy them.")
    column.addWidget(label)
    buttons = close_only()
    buttons.rejected.connect(dialog.reject)
    column.addWidget(buttons)
    return dialog
