"""The templates for the drill before they are printed: how they are made at the left, each page at the right.

How far the bracket lies off the centreline comes from the stack, which is worked out beside the window; until it is
there, nothing can be printed, unless it was stopped: then the sheets say that it isn't known.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Any

from app.fields import length_field, named
from app.files.templates import check_templates, save_templates, template_sheets, usual_templates
from app.layout_job import FAILED, STOPPED
from app.pages_dialog import PagesDialog
from app.sheet_words import TRUE_SIZE, print_bar
from app.stack.job import stack_job
from app.stacked import web_off
from app.template_words import DRILL_CAUTIONS
from app.working_row import WorkingRow

if TYPE_CHECKING:
    from pathlib import Path

    from app.files.drafting import Page
    from app.files.templates import TemplateOptions
    from app.lengths import Units

SIDES = (("short", "short side"), ("long", "long side"))
"""Sides of the sheet along which a bar is measured, and what they are called."""


class TemplatesDialog(PagesDialog):
    """The templates for the drill."""

    title = "Templates for the drill"
    intro = (
        "Where wall and panel are drilled, left and right, at true size in the plane of wall and skin. "
        f"{TRUE_SIZE}\n\n" + "\n".join(f"⚠ {said}" for said in DRILL_CAUTIONS)
    )

    def add_rows(self) -> None:
        """Add overlap, what an earlier print measured, and what is said while the stack is made."""
        self.options = usual_templates(self.document.units)
        self.job = stack_job(self.document)
        self.overlap = length_field(
            "Overlap",
            "How far sheets of one template lie over each other.",
            self._units,
            lambda mm: self._change(overlap=mm),
        )
        self.row("Overlap", self.overlap)
        self.bars = {
            side: length_field("Bar measures", "", self._units, partial(self._measure, side)) for side, _ in SIDES
        }
        for bar in self.bars.values():
            self.row("Bar measures", bar)
        self.working = WorkingRow(self.job)
        self.rows.addRow(self.working)
        self.job.changed.connect(self.refresh)

    def _units(self) -> Units:
        return self.document.units

    def _per_bar(self) -> float:
        """100 mm by the length of the bar that is measured: in inches, people have a rule of inches."""
        return 100.0 / print_bar(self.document.units)[0]

    def _measure(self, side: str, mm: float) -> None:
        """Take over what a bar measures; the long side goes with the short one until it has its own."""
        check, measured = self.options.check, mm * self._per_bar()
        both = side == "short" and check.short == check.long
        self._change(
            check=replace(check, short=measured, long=measured) if both else replace(check, **{side: measured})
        )

    def _change(self, **changes: Any) -> None:  # noqa: ANN401  of the options
        """Take another option over; what makes no sense is raised for its field to tell, and stays as it was."""
        options = replace(self.options, **changes)
        check_templates(replace(options, paper=self.paper.value), self.document.units)
        self.options = options
        self.refresh()

    def _show_options(self) -> None:
        """Show what is taken."""
        options, (_, told) = self.options, print_bar(self.document.units)
        self.overlap.set_value(options.overlap)
        for side, called in SIDES:
            bar, words = self.bars[side], f"{told} bar, {called}"
            self.rows.labelForField(bar).setText(words)  # type: ignore[attr-defined]  # a QLabel
            tip = (
                f"What the {told} bar measures on a print, along the {called} of the sheet: where the printer misses, "
                f"all is drawn larger or smaller by as much. {told} where it is right. "
                "The long side goes with the short one until you type it."
            )
            named(bar.line, words, tip)
            bar.set_value(getattr(options.check, side) / self._per_bar())

    # What the pages are ----------------------------------------------------------------------------------------------

    def made(self) -> list[tuple[str, Page]]:
        """Lay out the sheets."""
        self._show_options()
        self.working.renew()
        project = self.document.project
        sheets = template_sheets(project, self._whole(), self.document.units, self._web_off())
        return [(sheet.title, (sheet.size, sheet.draw)) for sheet in sheets]

    def refresh(self, _: object = None) -> None:
        """Lay the pages out anew; none can be printed before all is known that is going to be."""
        super().refresh()
        ready = bool(self.pages) and not self._waits()
        self.save.setEnabled(ready)
        self.print.setEnabled(ready)

    def write(self, path: Path) -> object:
        """Write the PDF."""
        save_templates(self.document.project, path, self._whole(), self.document.units, self._web_off())
        return None

    def _whole(self) -> TemplateOptions:
        return replace(self.options, paper=self.paper.value)

    def _web_off(self) -> float | None:
        """How far the bracket's web lies outboard of the base's middle; None while it isn't known."""
        if self.document.project.mounted.bracket is None:
            return None
        stack = self.job.newest()
        return None if stack is None else web_off(self.document.project, stack)

    def _waits(self) -> bool:
        """Whether the stack is still to come."""
        asked = self.document.project.mounted.bracket is not None
        return asked and self.job.newest() is None and self.job.state not in (STOPPED, FAILED)
