"""`hingewright picture --sheet`: sheets of paper without a window."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from app.files.layout_sheet import save_layout_sheet
from app.files.mockup import save_mockup, usual_options
from app.files.print_check import PrintCheck
from app.files.templates import TemplateOptions, save_templates, usual_templates
from app.lengths import parse_length
from app.sheet_words import print_bar
from app.stacked import stacked, web_off
from kinematics import analyse
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from argparse import Namespace

    from kinematics.project import Project

OPTIONS = {"overlap": "mockup or templates", "bar": "mockup or templates", "hole": "mockup", "long_bar": "templates"}
"""Which sheets an option goes with."""


def write_sheets(project: Project, chosen: Namespace) -> None:
    """Write the layout sheet, the mock-up templates, or the templates for the drill. Raises HingewrightError."""
    if chosen.to.suffix.lower() != ".pdf" or chosen.size is not None or chosen.at is not None:
        raise HingewrightError(
            "sheets are a PDF at true size", chosen.to.name, "Let the name end in .pdf, and leave --size and --at out."
        )
    for name, sheets in OPTIONS.items():
        if getattr(chosen, name) and chosen.sheet not in sheets.split(" or "):
            raise HingewrightError(f"--{name.replace('_', '-')} goes with --sheet {sheets}")
    {"layout": _layout, "mockup": _mockup, "templates": _templates}[chosen.sheet](project, chosen)


def _layout(project: Project, chosen: Namespace) -> None:
    save_layout_sheet(analyse(project), chosen.to, chosen.paper or usual_options(project.display_units).paper)


def _mockup(project: Project, chosen: Namespace) -> None:
    usual = usual_options(project.display_units)
    options = replace(
        usual,
        paper=chosen.paper or usual.paper,
        overlap=_length(project, chosen.overlap, usual.overlap),
        hole=_length(project, chosen.hole, usual.hole),
        measured=_bar(project, chosen.bar, usual.measured),
    )
    save_mockup(project, chosen.to, options)


def _templates(project: Project, chosen: Namespace) -> None:
    usual = usual_templates(project.display_units)
    short = _bar(project, chosen.bar, 100.0)
    check = PrintCheck(short, _bar(project, chosen.long_bar, short))
    options = TemplateOptions(chosen.paper or usual.paper, _length(project, chosen.overlap, usual.overlap), check)
    bracketed = project.mounted.bracket is not None  # the stack takes its time
    save_templates(
        project, chosen.to, options, web_off=web_off(project, stacked(analyse(project))) if bracketed else None
    )


def _length(project: Project, text: str | None, usual: float) -> float:
    """A length as it was typed, else the usual one."""
    return parse_length(text, project.display_units) if text else usual


def _bar(project: Project, text: str | None, usual: float) -> float:
    """What a bar measured, as of 100 mm."""
    return parse_length(text, project.display_units) * 100.0 / print_bar(project.display_units)[0] if text else usual
