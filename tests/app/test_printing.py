"""Printing: a printer that writes a PDF stands for a real one; what comes out has its true lengths."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtGui import QPageSize
from PySide6.QtPrintSupport import QPrinter

from app.files.mockup import mockup_sheets
from app.files.mockup_options import MockupOptions
from app.printing import _set_page, print_pages
from kinematics.errors import HingewrightError
from tests import specimens
from tests.outside.pdf_readers import by_pypdf

if TYPE_CHECKING:
    from pathlib import Path

    from app.files.drafting import Page

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.fixture(scope="module")
def pages() -> list[Page]:
    return [(sheet.size, sheet.draw) for sheet in mockup_sheets(specimens.demo_six_bar, MockupOptions("A4"))]


@pytest.fixture
def printer(tmp_path: Path) -> QPrinter:
    made = QPrinter(QPrinter.PrinterMode.HighResolution)
    made.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    made.setOutputFileName(str(tmp_path / "printed.pdf"))
    return made


def test_every_sheet_comes_out_at_true_size_whatever_the_margins(
    pages: list[Page], printer: QPrinter, tmp_path: Path
) -> None:
    """Lengths within 0.05 mm; the first bar of the second sheet stands where the sheet has it, 22 mm from the left."""
    _set_page(printer, pages[0][0])
    assert print_pages(pages, printer) == len(pages)
    printed = by_pypdf(tmp_path / "printed.pdf")
    assert len(printed) == len(pages)
    for (size, _), page in zip(pages, printed, strict=True):
        assert page.size == pytest.approx(size, abs=0.2)  # Qt's printer rounds the sheet itself to points
        for upright in (False, True):
            assert any(abs(length - 100.0) < 0.05 for length in page.lengths(upright))
    bars = [a for a, b in printed[1].lines if abs(abs(b[0] - a[0]) - 100.0) < 0.05 and abs(a[1] - b[1]) < 0.01]
    assert min(x for x, _ in bars) == pytest.approx(22.0, abs=0.05)


def test_a_range_of_sheets_is_printed_alone(pages: list[Page], printer: QPrinter, tmp_path: Path) -> None:
    _set_page(printer, pages[0][0])
    printer.setFromTo(2, 3)
    assert print_pages(pages, printer) == 2
    assert len(by_pypdf(tmp_path / "printed.pdf")) == 2
    printer.setFromTo(90, 99)
    with pytest.raises(HingewrightError, match="there are only"):
        print_pages(pages, printer)


def test_other_paper_is_refused_not_shrunk_to(pages: list[Page], printer: QPrinter, tmp_path: Path) -> None:
    printer.setPageSize(QPageSize(QPageSize.PageSizeId.A5))
    with pytest.raises(HingewrightError, match=r"the printer is set to A5.*Choose the same paper"):
        print_pages(pages, printer)
    assert not (tmp_path / "printed.pdf").exists()


@pytest.mark.qt_log_ignore("^QPainter::begin")
def test_a_printer_that_does_not_start_is_told(pages: list[Page], printer: QPrinter, read_only: Path) -> None:
    _set_page(printer, pages[0][0])
    printer.setOutputFileName(str(read_only / "a.pdf"))
    with pytest.raises(HingewrightError, match="the printer can't be started"):
        print_pages(pages, printer)
