"""Files for the cutter in the drawer Build: what each will be, what is wrong, and making all of them or none.

What is shown is planned anew with each analysis (`app.making.plan`); the files are made by a process of their own
(`app.making.job`), so the window goes on meanwhile, and it can be stopped.
"""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QFileDialog, QFormLayout, QLabel, QProgressBar, QScrollArea

from app.document import News
from app.drawers.cut_sheet import CutSheet
from app.drawers.lift_box import LiftBox, say
from app.entry.form import ChoiceBox, push_button
from app.fields import named
from app.files.paper import PAPERS
from app.lengths import style_of
from app.making.job import MakeJob
from app.making.places import folder_within
from app.making.plan import plan_of
from app.making.planned import MakeOptions
from app.making.words import CUT_CAUTION, made_words, price_words, totals_words
from app.making.writing import faults_told, written_before
from app.quantities import NUMBER
from app.ticks import TickBox
from kinematics.build_parts import Prices
from kinematics.errors import HingewrightError
from kinematics.pricing import priced

if TYPE_CHECKING:
    from collections.abc import Iterable

    from PySide6.QtWidgets import QWidget

    from app.board import Board
    from app.document import Document
    from app.fields import Field
    from app.making.planned import Plan
    from kinematics.analysis import Analysis
    from kinematics.project import Project

POUND_KG, FOOT_M = 0.45359237, 0.3048
PRICES = (
    ("per_kg", "Sheet", ("a kg", "a lb"), POUND_KG, "What the parts' metal costs, without what is left over."),
    ("per_metre", "Cut", ("a metre", "a foot"), FOOT_M, "What the shop asks by the way of its cutter."),
    ("per_pierce", "Pierce", ("each", "each"), 1.0, "What the shop asks for each contour that is begun."),
)
"""Field of Prices, label, its units, how much of the metric one is in the other, tip."""


HEAD = 36  # pixels of a section's heading
FAULT, CAUTION = "✗", "⚠"


class CuttingBox(LiftBox):
    """Previews, formats, units, prices, and the button that makes all."""

    title: ClassVar[str] = "Cut files"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.plan: Plan | None = None
        self.job: MakeJob | None = None
        self._to, self._last = Path(), Path()
        self.told(
            "A drawing of each part, full size with true arcs, templates, build sheet and parts list, in one folder."
        )
        self.sheet = CutSheet()
        self.wide(self.sheet)
        self.totals = self.text_row()
        self.faults = self.text_row()
        self.faults.setObjectName("fault")
        self.cautions = self.text_row()
        self._add_options()
        self._add_making()
        self._add_prices()

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:  # noqa: ARG003  as all boxes have it
        """Say how many plates there are, and whether mounts are cut as well."""
        project, mounted = analysis.project, analysis.project.mounted
        count = sum(link.kind == "link" and bool(project.pivots_on(link.id)) for link in project.links)
        mounts = ", mounts" if mounted.bracket is not None or mounted.base is not None else ""
        return "" if not count else ("1 plate" if count == 1 else f"{count} plates") + mounts

    def come_to(self, *, faults: bool = False) -> None:
        """Bring the box into view, or its faults, once its section has found its room; the keyboard goes on from the
        button.
        """
        self.make.setFocus()
        QTimer.singleShot(0, self, self._faults_into_view if faults else self._come_into_view)

    def _faults_into_view(self) -> None:
        self._come_into_view(self.faults)

    def _come_into_view(self, part: QWidget | None = None) -> None:
        above: QWidget | None = self.parentWidget()
        while above is not None and not isinstance(above, QScrollArea):
            above = above.parentWidget()
        page = above.widget() if above is not None else None
        if above is not None and page is not None:
            top = (part or self).mapTo(page, self.rect().topLeft()).y()
            above.verticalScrollBar().setValue(top - HEAD)

    # Rows ------------------------------------------------------------------------------------------------------------

    def _add_options(self) -> None:
        self.formats = {"dxf": TickBox("DXF"), "svg": TickBox("SVG")}
        for name, box in self.formats.items():
            box.setChecked(True)
            named(box, f"{name.upper()} files", f"Write each part as {name.upper()}; one of both is needed.")
            box.clicked.connect(self._replan)
        self.beside(QLabel("Files"), *self.formats.values())
        self.unit = ChoiceBox((("mm", "mm"), ("in", "inches")))
        named(self.unit, "Units of the files", "Of the drawings' coordinates; ask your shop. The parts are the same.")
        self.unit.activated.connect(self._replan)
        self.row("Units of the files", self.unit)
        self.paper = ChoiceBox((("", "as is usual"), *((name, name) for name in PAPERS)))
        tip = "Of templates and sheets. As is usual: A4, or Letter where inches are shown."
        self.row("Paper of the sheets", named(self.paper, "Paper of the sheets", tip))
        self.paper.activated.connect(self._replan)

    def _add_making(self) -> None:
        self.told(CUT_CAUTION)
        self.make = self.button("Make the files…", "Choose a folder: all files are written, or none.", self._make)
        self.bar = QProgressBar()
        named(self.bar, "Progress", "How much is made.")
        self.wide(self.bar)
        self.stop = push_button("Stop", "Leave it; nothing is written.", self._stop)
        self.wide(self.stop)
        self.said = self.text_row()
        self.said.hide()
        self._show_busy(False)

    def _add_prices(self) -> None:
        self.heading("Your own prices, if you want an estimate")
        self.prices: dict[str, Field[float]] = {}
        for name, label, _, share, tip in PRICES:
            read, edit = partial(self._price, name, share), partial(self._set_price, name, share)
            field = self.quantity(label, f"{label} price", tip, NUMBER, read, edit)
            self.prices[name] = field
        self.currency = self.text(
            "Currency", "Currency of the prices", "What stands behind the sum.", self._currency, self._set_currency
        )
        self.estimate = self.text_row()  # beneath what is typed, which so stays where it is

    # Prices ----------------------------------------------------------------------------------------------------------

    def _share(self, share: float) -> float:
        """How many kg or metres a price is for."""
        return share if style_of(self.units).units == "in" else 1.0

    def _price(self, name: str, share: float, project: Project) -> float:
        return float(getattr(project.plating.prices or Prices(), name)) * self._share(share)

    def _set_price(self, name: str, share: float, project: Project, value: float) -> Project:
        return priced(project, **{name: value / self._share(share)})

    def _currency(self, project: Project) -> str:
        return (project.plating.prices or Prices()).currency

    def _set_currency(self, project: Project, text: str) -> Project:
        return priced(project, currency=text)

    def _name_prices(self) -> None:
        inches = style_of(self.units).units == "in"
        for name, label, words, _, _ in PRICES:
            told = self._label_of(self.prices[name])
            if told is not None:
                told.setText(f"{label}, {words[inches]}")

    def _label_of(self, field: Field[float]) -> QLabel | None:
        rows = next((each for each in self.findChildren(QFormLayout) if each.indexOf(field) >= 0), None)
        found = rows.labelForField(field) if rows is not None else None
        return found if isinstance(found, QLabel) else None

    # What is shown ---------------------------------------------------------------------------------------------------

    @property
    def options(self) -> MakeOptions:
        """What is asked. Raises HingewrightError where no format is ticked."""
        formats = tuple(name for name, box in self.formats.items() if box.isChecked())
        return MakeOptions(formats, self.unit.value, self.paper.value)

    def show_analysis(self, analysis: Analysis) -> None:
        """Plan anew."""
        super().show_analysis(analysis)
        self._name_prices()
        self._replan()

    def _replan(self, _: object = None) -> None:
        try:
            self.plan, fault = plan_of(self.document.project, self.options, self.units), ""
        except HingewrightError as error:
            self.plan, fault = None, f"{FAULT} {str(error)[:1].upper()}{str(error)[1:]}"
        plan = self.plan
        self.sheet.show_cuts(plan.cuts if plan is not None else (), self.board.look, self.units)
        say(self.totals, totals_words(plan, self.units) if plan is not None else ())
        say(self.estimate, price_words(plan) if plan is not None else ())
        say(self.faults, _marked(FAULT, plan.faults) if plan is not None else (fault,))
        say(self.cautions, _marked(CAUTION, plan.cautions) if plan is not None else ())
        self.make.setEnabled(plan is not None and self.job is None)

    # Making ----------------------------------------------------------------------------------------------------------

    def _make(self) -> None:
        self.document.commit()
        if self.plan is None:
            return
        path = self.document.path
        home = self._last if self._last.name else path.parent if path is not None else Path.home()
        name = QFileDialog.getExistingDirectory(self, "Make the files in", str(home))
        if not name:
            return
        stem = path.stem if path is not None else self.document.project.title
        self._to = folder_within(Path(name), stem)
        self.job = MakeJob(self)
        self.job.progressed.connect(self.bar.setValue)
        self.job.ended.connect(self._end)
        self._show_busy(True)
        try:
            self.job.make(self.document.project, self._to, self.options)
        except HingewrightError as error:
            self._end(str(error))

    def _stop(self) -> None:
        if self.job is not None:
            self.job.stop()

    def _end(self, sentence: str) -> None:
        job, self.job = self.job, None
        if job is None:
            return
        self._show_busy(False)
        if job.is_stopped:
            self._say(News("Stopped; nothing was written."))
        else:
            self._say(sentence or self._made())
        job.deleteLater()

    def _made(self) -> str:
        """Show the faults that were found on the way, those of the stack among them, and say that all is written."""
        self._last = self._to.parent  # only where files could be written: there the next ones are offered
        faults = faults_told(self._to)
        say(self.faults, _marked(FAULT, faults))
        told = made_words(len(written_before(self._to)) + 1, len(faults), str(self._to))
        return told if faults else News(told)

    def _say(self, sentence: str) -> None:
        say(self.said, (sentence,))
        self.document.tell(sentence)

    def _show_busy(self, busy: bool) -> None:
        has_keys = self.make.hasFocus() or self.stop.hasFocus()
        if busy:
            self.said.hide()  # what was written before isn't what comes
        self.stop.setVisible(busy)
        self.make.setEnabled(not busy and self.plan is not None)
        if has_keys:  # the other one goes: the keyboard stays here
            (self.stop if busy else self.make).setFocus()
        self.bar.setValue(0)
        self.bar.setVisible(busy)


def _marked(mark: str, sentences: Iterable[str]) -> list[str]:
    """Sentences with the mark that says what they are."""
    return [f"{mark} {each}" for each in sentences]
