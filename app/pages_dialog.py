"""Sheets of paper before they are printed: how they are made at the left, each page at the right as it will be.

Two kinds: the layout sheet to hand on, and the mock-up templates to cut in card. Both follow the work while they stand
open, and go to a PDF or to a printer, always at true size. What makes no sense is answered beneath its field or in a
sentence beneath the pages; nothing is written then.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFormLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.buttons import StayingDialog, close_only
from app.entry.form import ChoiceBox, push_button
from app.exports import written
from app.fields import Field, length_field, named
from app.files.layout_sheet import layout_pages, save_layout_sheet
from app.files.mockup import check_options, mockup_sheets, save_mockup, usual_options
from app.files.mockup_options import BOLTS, MockupOptions
from app.files.paper import PAPERS
from app.lengths import format_length
from app.page_preview import PagePreview
from app.sheet_words import MOCKUP_CAUTIONS, TRUE_SIZE, paper_words, print_bar
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from app.document import Document
    from app.files.drafting import Page
    from app.lengths import Units

OWN = "own"
LEFT_WIDTH = 300


class PagesDialog(StayingDialog):
    """What both kinds have: paper, pages, and where they go.

    ask : asks for the name of a file: title, endings → path, or None where it was left.
    say : tells a sentence where the window tells its own; it stands in the dialog as well.
    """

    title = ""
    intro = ""
    paper_key = "paper"

    def __init__(
        self,
        document: Document,
        ask: Callable[[str, tuple[str, ...]], Path | None],
        say: Callable[[str], None],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(self.title)
        self.setAccessibleName(self.title)
        self.document, self._ask, self._tell = document, ask, say
        self.pages: list[tuple[str, Page]] = []
        self.place = 0
        self._build()
        document.analysed.connect(self._follow)
        document.restyled.connect(self.refresh)
        self.refresh()

    # Made by each kind ------------------------------------------------------------------------------------------------

    def add_rows(self) -> None:
        """Add rows of its own."""

    def made(self) -> list[tuple[str, Page]]:
        """Lay the pages out, each with its title; raises HingewrightError."""
        raise NotImplementedError

    def write(self, path: Path) -> object:
        """Write the PDF."""
        raise NotImplementedError

    # Layout -----------------------------------------------------------------------------------------------------------

    def _build(self) -> None:
        whole = QHBoxLayout(self)
        left = QVBoxLayout()
        whole.addLayout(left)
        told = self._words(self.intro)
        told.setFixedWidth(LEFT_WIDTH)
        left.addWidget(told)
        self.rows = QFormLayout()
        self.rows.setHorizontalSpacing(12)
        left.addLayout(self.rows)
        self.paper = ChoiceBox([(name, name) for name in PAPERS])
        self.paper.choose(usual_options(self.document.units).paper)
        self.row("Paper", named(self.paper, "Paper", "The paper in your printer; nothing is shrunk to fit another."))
        self.paper.activated.connect(self.refresh)
        self.add_rows()
        self.fault = self._words("")
        self.fault.setObjectName("fault")
        left.addWidget(self.fault)
        left.addStretch(1)
        self._build_buttons(left)
        self._build_pages(whole)

    def _words(self, text: str) -> QLabel:
        label = QLabel(text)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setWordWrap(True)
        label.setMaximumWidth(LEFT_WIDTH)
        return label

    def _build_buttons(self, left: QVBoxLayout) -> None:
        self.save = push_button("Save as PDF…", "Write all sheets to one file, at true size.", self._save)
        self.print = push_button(
            "Print…", "Print at 100 %, on the whole sheet, nothing scaled; then measure the bars.", self._print
        )
        self.said = self._words("")
        self.said.hide()
        left.addWidget(self.said)
        left.addWidget(self.save)
        left.addWidget(self.print)
        box = close_only()
        box.rejected.connect(self.reject)
        left.addWidget(box)

    def _build_pages(self, whole: QHBoxLayout) -> None:
        right = QVBoxLayout()
        whole.addLayout(right, 1)
        self.preview = PagePreview()
        self.preview.turned.connect(self.turn)
        right.addWidget(self.preview, 1)
        row = QHBoxLayout()
        right.addLayout(row)
        self.before = push_button(
            "◀ Before", "Show the sheet before this one (PgUp on the page).", lambda: self.turn(-1)
        )
        self.after = push_button("Next ▶", "Show the next sheet (PgDn on the page).", lambda: self.turn(1))
        named(self.before, "Sheet before", self.before.toolTip())
        named(self.after, "Next sheet", self.after.toolTip())
        self.which = QLabel()
        self.which.setAlignment(Qt.AlignmentFlag.AlignCenter)
        row.addWidget(self.before)
        row.addWidget(self.which, 1)
        row.addWidget(self.after)

    def row(self, words: str, widget: QWidget) -> None:
        """Add a control with its label."""
        label = QLabel(words)
        label.setBuddy(widget.line if isinstance(widget, Field) else widget)
        self.rows.addRow(label, widget)

    # What is shown ----------------------------------------------------------------------------------------------------

    def _follow(self, _: object) -> None:
        if not self.document.is_dragging:
            self.refresh()

    def _name_papers(self) -> None:
        """Name the papers with their sizes, in the units that are shown."""
        for place, (name, paper) in enumerate(PAPERS.items()):
            self.paper.setItemText(place, paper_words(name, (paper.wide, paper.tall), self.document.units))

    def refresh(self, _: object = None) -> None:
        """Lay the pages out anew; where that can't be, say why."""
        self._name_papers()
        try:
            self.pages, fault = self.made(), ""
        except HingewrightError as error:
            self.pages, fault = [], str(error)
        self.fault.setText(fault)
        self.fault.setVisible(bool(fault))
        self.save.setEnabled(bool(self.pages))
        self.print.setEnabled(bool(self.pages))
        self.turn(0)

    def turn(self, step: int) -> None:
        """Go so many pages on."""
        last = len(self.pages) - 1
        self.place = min(max(self.place + step, 0), max(last, 0))
        self.before.setEnabled(self.place > 0)
        self.after.setEnabled(self.place < last)
        if not self.pages:
            self.which.setText("no sheet")
            self.preview.show_page(None, "no sheet")
            return
        title, page = self.pages[self.place]
        told = f"Sheet {self.place + 1} of {len(self.pages)}: {title}"
        self.which.setText(told)
        self.preview.show_page(page, told)

    # Where they go ----------------------------------------------------------------------------------------------------

    def _save(self) -> None:
        path = self._ask(f"Save: {self.title.lower()}", (".pdf",))
        if path is None:
            return
        try:
            self.write(path)
        except HingewrightError as error:
            self._say(str(error))
        else:
            self._say(written(path))

    def _print(self) -> None:
        from app.printing import ask_and_print

        try:
            told = ask_and_print([page for _, page in self.pages], self.title.lower(), self)
        except HingewrightError as error:
            told = str(error)
        if told:
            self._say(told)

    def _say(self, sentence: str) -> None:
        self.said.setText(sentence)
        self.said.setVisible(bool(sentence))
        self._tell(sentence)


class LayoutDialog(PagesDialog):
    """The layout sheet."""

    title = "Layout sheet"
    intro = (
        "The hinge shut, half open and fully open, its pins, checks and notes, to hand on. Always ink on white paper, "
        "on its side; what is too long goes on on further pages."
    )

    def made(self) -> list[tuple[str, Page]]:
        """Lay out the pages."""
        pages = layout_pages(self.document.analysis, self.paper.value, self.document.units)
        return [("layout" if place == 0 else "continued", page) for place, page in enumerate(pages)]

    def write(self, path: Path) -> object:
        """Write the PDF."""
        return save_layout_sheet(self.document.analysis, path, self.paper.value, self.document.units)


class MockupDialog(PagesDialog):
    """The mock-up templates."""

    title = "Mock-up templates"
    intro = (
        "Every link, and the pins of wall and panel, at true size: to cut in card or ply and bolt up at the body "
        f"before money is spent. {TRUE_SIZE}\n\n" + "\n".join(f"⚠ {said}" for said in MOCKUP_CAUTIONS)
    )

    def add_rows(self) -> None:
        """Add bolt, hole, overlap and what an earlier print measured."""
        self.options = usual_options(self.document.units)
        bolts = [
            (bolt, f"{bolt}: {format_length(hole, self.document.units, fine=True)}") for bolt, hole in BOLTS.items()
        ]
        self.bolt = ChoiceBox([*bolts, (OWN, "as typed")])
        self.row("Bolt", named(self.bolt, "Bolt", "The bolts of the mock-up: their close holes are taken."))
        self.bolt.activated.connect(self._take_bolt)
        self.hole = length_field("Hole", "Diameter of the holes.", self._units, lambda mm: self._change(hole=mm))
        self.overlap = length_field(
            "Overlap",
            "How far sheets of one part lie over each other.",
            self._units,
            lambda mm: self._change(overlap=mm),
        )
        self.bar = length_field("Bar measures", "", self._units, lambda mm: self._change(measured=mm * self._per_bar()))
        self.row("Hole", self.hole)
        self.row("Overlap", self.overlap)
        self.row("Bar measures", self.bar)

    def _per_bar(self) -> float:
        """100 mm by the length of the bar that is measured: in inches, people have a rule of inches."""
        return 100.0 / print_bar(self.document.units)[0]

    def _name_bar(self) -> None:
        _, told = print_bar(self.document.units)
        self.rows.labelForField(self.bar).setText(f"{told} bar measures")  # type: ignore[attr-defined]  # a QLabel
        tip = f"Measure the {told} bar of a print: where the printer misses, all is drawn larger or smaller by as much."
        named(self.bar.line, f"{told} bar measures", f"{tip} {told} where it is right.")

    def _units(self) -> Units:
        return self.document.units

    def made(self) -> list[tuple[str, Page]]:
        """Lay out the sheets."""
        options = self.options
        self.hole.set_value(options.hole)
        self.overlap.set_value(options.overlap)
        self._name_bar()
        self.bar.set_value(options.measured / self._per_bar())
        self.bolt.choose(next((bolt for bolt, hole in BOLTS.items() if hole == options.hole), OWN))
        sheets = mockup_sheets(self.document.project, self._whole(), self.document.units)
        return [(sheet.title, (sheet.size, sheet.draw)) for sheet in sheets]

    def write(self, path: Path) -> object:
        """Write the PDF."""
        return save_mockup(self.document.project, path, self._whole(), self.document.units)

    def _whole(self) -> MockupOptions:
        return replace(self.options, paper=self.paper.value)

    def _take_bolt(self) -> None:
        if self.bolt.value in BOLTS:
            self._change(hole=BOLTS[self.bolt.value])

    def _change(self, **changes: float) -> None:
        """Take another option over; what makes no sense is raised for its field to tell, and stays as it was."""
        options = replace(self.options, **changes)  # type: ignore[arg-type]
        check_options(replace(options, paper=self.paper.value), self.document.units)
        self.options = options
        self.refresh()
