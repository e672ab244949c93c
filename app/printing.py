"""Real printing: sheets at true size on a printer's paper, none of it scaled.

The printer's page is the whole sheet (its margins don't move the drawing), each sheet says its own size and lie, and a
millimetre of the sheet is a millimetre of the paper. Where the printer was set to other paper than the sheets are laid
out for, nothing is printed: a sentence says so, as a driver would shrink or crop them unasked.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QMarginsF, QSizeF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrintDialog, QPrinter

from app.files.drafting import Draft, Page
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtWidgets import QWidget

SAME_SIDE = 1.0
"""Sides of paper that differ by less, mm, are one size."""
TOLD = "sent to the printer at 100 %: measure the bars on the sheet before you cut or drill by it"


def ask_and_print(pages: Sequence[Page], title: str, parent: QWidget) -> str:
    """Ask for a printer and print; gives a sentence on what was printed, "" where it was left.

    Raises HingewrightError where it can't be printed.
    """
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setDocName(title)
    _set_page(printer, pages[0][0])
    dialog = QPrintDialog(printer, parent)
    dialog.setWindowTitle(f"Print {title}, at 100 %")
    dialog.setOption(QPrintDialog.PrintDialogOption.PrintPageRange, len(pages) > 1)
    dialog.setMinMax(1, len(pages))
    if dialog.exec() != QPrintDialog.DialogCode.Accepted:
        return ""
    count = print_pages(pages, printer)
    return f"{count} sheet{'s' if count > 1 else ''} {TOLD}."


def print_pages(pages: Sequence[Page], printer: QPrinter) -> int:
    """Print sheets at true size; gives how many. Raises HingewrightError where the printer can't take them."""
    _check_paper(printer, pages[0][0])
    first, last = printer.fromPage() or 1, printer.toPage() or len(pages)
    chosen = list(pages)[first - 1 : last]
    if not chosen:
        raise HingewrightError(f"there are only {len(pages)} sheets", remedy="Print a range among them.")
    _set_page(printer, chosen[0][0])
    painter = QPainter()
    if not painter.begin(printer):
        raise HingewrightError(
            "the printer can't be started", printer.printerName(), "Look whether it is on, or save a PDF instead."
        )
    try:
        per_mm = printer.resolution() / 25.4
        for number, (size, draw) in enumerate(chosen):
            if number:
                _set_page(printer, size)
                if not printer.newPage():
                    raise HingewrightError("the printer takes no more sheets", printer.printerName())
            painter.save()
            draw(Draft(painter, per_mm))
            painter.restore()
    finally:
        painter.end()
    return len(chosen)


def _set_page(printer: QPrinter, size: tuple[float, float]) -> None:
    """Let the printer's page be the whole of a sheet."""
    printer.setFullPage(True)
    upright = QPageSize(QSizeF(*sorted(size)), QPageSize.Unit.Millimeter, "", QPageSize.SizeMatchPolicy.FuzzyMatch)
    way = QPageLayout.Orientation.Portrait if size[0] <= size[1] else QPageLayout.Orientation.Landscape
    printer.setPageLayout(QPageLayout(upright, way, QMarginsF(0, 0, 0, 0), QPageLayout.Unit.Millimeter, QMarginsF()))
    printer.setFullPage(True)


def _check_paper(printer: QPrinter, size: tuple[float, float]) -> None:
    """Refuse paper of another size than the sheets have."""
    paper = printer.pageLayout().pageSize()
    sides = sorted((paper.size(QPageSize.Unit.Millimeter).width(), paper.size(QPageSize.Unit.Millimeter).height()))
    if any(abs(a - b) > SAME_SIDE for a, b in zip(sides, sorted(size), strict=True)):
        raise HingewrightError(
            f"the printer is set to {paper.name()}, and the sheets are laid out for other paper",
            remedy="Choose the same paper here and there: nothing is shrunk to fit, so that lengths stay true.",
        )
