"""The sheet on the program: its version and licence, the libraries it stands on with theirs, where its log lies.

What each library is for is told here; version and licence are what the installed package itself says, so that the sheet
can't fall behind it. The whole is one page of words that mouse and keys scroll, select and copy.
"""

from __future__ import annotations

from html import escape
from importlib.metadata import PackageNotFoundError, distribution, metadata
from pathlib import Path
from sysconfig import get_path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, qVersion
from PySide6.QtGui import QColor, QTextDocument
from PySide6.QtWidgets import QDialog, QTextBrowser, QVBoxLayout

from app import __version__
from app.buttons import close_only
from app.faultlog import folder
from app.fields import named
from app.words import AIDS_TO_JUDGEMENT

if TYPE_CHECKING:
    from email.message import Message

    from PySide6.QtWidgets import QWidget

NAME = "hingewright"
LIBRARIES = (
    ("PySide6-Essentials", "the window (Qt for Python)"),
    ("numpy", "arrays (with OpenBLAS, BSD 3-Clause)"),
    ("scipy", "solvers (with OpenBLAS, BSD 3-Clause)"),
    ("shapely", "distances of outlines (with GEOS, LGPL 2.1)"),
    ("ezdxf", "DXF drawings"),
    ("pillow", "animations"),
)
"""Packages, each with what it does here and what it has inside."""
BROUGHT = (
    ("shiboken6", "between Qt and Python"),
    ("fonttools", "letters of drawings"),
    ("pyparsing", "reads searches in drawings"),
    ("typing_extensions", "types of Python"),
)
"""What those bring along."""
LONGEST = 90  # letters: a licence that is longer is the whole words of it, which stand in the package
UNKNOWN = "its package doesn't say"
SIZE = (720, 560)


def about_dialog(parent: QWidget) -> QDialog:
    """Make the sheet on the program."""
    dialog = QDialog(parent)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.setWindowTitle("About Hingewright")
    dialog.setAccessibleName("About Hingewright")
    column = QVBoxLayout(dialog)
    page = QTextBrowser()
    page.setTextInteractionFlags(
        Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
    )
    page.document().setDefaultStyleSheet(_rules(page.palette().color(page.foregroundRole())))
    page.setHtml(about_words())
    named(page, "About Hingewright", "Arrow keys scroll, Shift and arrows select, Ctrl+C copies.")
    page.setAccessibleDescription(as_plain(about_words()))
    column.addWidget(page)
    buttons = close_only()
    buttons.rejected.connect(dialog.reject)
    column.addWidget(buttons)
    dialog.resize(*SIZE)
    return dialog


def _rules(ink: QColor) -> str:
    return f"h2, h3 {{ color: {ink.name()}; }} td {{ padding-right: 16px; padding-bottom: 3px; }}"


def as_plain(html: str) -> str:
    """Give words without their dress."""
    sheet = QTextDocument()
    sheet.setHtml(html)
    return sheet.toPlainText()


def about_words() -> str:
    """Give the sheet's words, HTML."""
    return (
        f"<h2>Hingewright {__version__}</h2><p>Lays out multi-bar hinges for a one-off panel. Free software under the "
        f"MIT licence, whose words stand at the end.</p><p>{AIDS_TO_JUDGEMENT}</p>"
        f"<h3>The libraries it stands on</h3>{_table(LIBRARIES)}"
        f"<p>They bring along:</p>{_table(BROUGHT)}"
        "<p>Versions and licences are those that the installed packages name. Most packages have the full words of "
        f"their licence beside them, in {escape(get_path('platlib'))}. Qt {qVersion()} is used under the LGPL 3.0. "
        "Qt, shiboken and GEOS are libraries of their own there, which you may replace by others.</p>"
        "<h3>When something goes wrong</h3>"
        f"<p>The log of faults lies in {escape(str(folder()))}; there is none as long as nothing went wrong. "
        "It tells versions and places in the program, nothing of your work, and goes nowhere by itself.</p>"
        f"<h3>Licence of Hingewright</h3><p>{_paragraphs(own_licence())}</p>"
    )


def own_licence() -> str:
    """Give the words of the program's own licence: of the installed package, else of the checkout."""
    beside = Path(__file__).parents[1] / "LICENSE"
    if beside.is_file():
        return beside.read_text(encoding="utf-8")
    try:
        return distribution(NAME).read_text("licenses/LICENSE") or "MIT"
    except PackageNotFoundError:
        return "MIT"


def licence_of(package: str) -> str:
    """Give a package's licence as its metadata names it: the expression, the short name, else the classifiers."""
    try:
        found = metadata(package)
    except PackageNotFoundError:
        return "not installed"
    return licence_in(found) or UNKNOWN  # type: ignore[arg-type]  # a Message, by the specification of metadata


def licence_in(found: Message) -> str:
    """Read the licence out of metadata (Core metadata specifications, 2.4: License-Expression, License, Classifier)."""
    for key in ("License-Expression", "License"):
        said = " ".join(str(found.get(key) or "").split())
        if said and len(said) <= LONGEST and said != "UNKNOWN":
            return said
    kinds = [str(each) for each in found.get_all("Classifier") or () if str(each).startswith("License")]
    return ", ".join(each.rpartition(" :: ")[2] for each in kinds)


def _table(libraries: tuple[tuple[str, str], ...]) -> str:
    """Name, version, use and licence of libraries."""
    rows = "".join(
        f"<tr><td><b>{name}</b> {_version(name)}</td><td>{what}</td><td>{escape(licence_of(name))}</td></tr>"
        for name, what in libraries
    )
    return f"<table>{rows}</table>"


def _version(package: str) -> str:
    try:
        return distribution(package).version
    except PackageNotFoundError:
        return ""


def _paragraphs(text: str) -> str:
    return "</p><p>".join(escape(" ".join(part.split())) for part in text.strip().split("\n\n"))
