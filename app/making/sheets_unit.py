"""The printed sheets of a set as pictures: one unit of work for a process beside the window (`app.layout_job`).

They are drawn by what draws the files' own pages, from the same plan, so what is looked at is what will be written.
"""

from __future__ import annotations

import os
import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.layout_unit import LayoutUnit
from app.making.plan import plan_of
from app.making.study import study_of
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from app.files.drafting import Page
    from app.making.planned import Plan, Planned
    from kinematics.project import Project

DOTS = 4.0
"""Dots to a mm: some 100 to the inch, so that words of 10 pt are read."""
FIRST = ("build sheet", "index page")
"""Kinds that are looked at first."""


@dataclass(frozen=True, slots=True)
class SheetPicture:
    """A sheet.   path : of its file.   number, count : which sheet of it this is.   size : mm.   png : its picture."""

    path: str
    number: int
    count: int
    size: tuple[float, float]
    png: bytes


@dataclass(frozen=True, slots=True)
class SetFound:
    """All sheets of a set, in the order in which they are looked at.   why : there are none."""

    sheets: tuple[SheetPicture, ...]
    why: str = ""


def sheets_found(project: Project) -> SetFound:
    """Plan the set and draw its sheets."""
    try:
        plan = plan_of(project, study=study_of(project, project.display_units))
    except HingewrightError as error:
        return SetFound((), str(error))
    return SetFound(tuple(sheet for file in printed_files(plan) for sheet in _pictures(file)))


def printed_files(plan: Plan) -> list[Planned]:
    """The files that are printed, those that a builder begins with first."""
    found = [each for each in plan.files if each.pages is not None]
    return sorted(found, key=lambda each: FIRST.index(each.kind) if each.kind in FIRST else len(FIRST))


def _pictures(file: Planned) -> list[SheetPicture]:
    pages = [] if file.pages is None else list(file.pages())
    return [SheetPicture(file.path, number, len(pages), page[0], _png(page)) for number, page in enumerate(pages, 1)]


def _png(page: Page) -> bytes:
    """A page drawn on white."""
    from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QSize
    from PySide6.QtGui import QColor, QImage, QPainter

    from app.files.drafting import Draft

    (wide, tall), draw = page
    image = QImage(QSize(round(wide * DOTS), round(tall * DOTS)), QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    painter = QPainter(image)
    try:
        draw(Draft(painter, DOTS))
    finally:
        painter.end()
    held = QByteArray()
    buffer = QBuffer(held)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # type: ignore[call-overload]  # it takes a device
    return bytes(held.data())


def run(project: Project, _settings: object, number: int) -> LayoutUnit:
    """Do the work that is asked for under a number."""
    from PySide6.QtGui import QGuiApplication

    from app.files.application import ensure_application

    if sys.platform.startswith("linux") and QGuiApplication.instance() is None:
        os.environ["QT_QPA_PLATFORM"] = "offscreen"  # no second window, nor a wait for a display
    ensure_application()
    return LayoutUnit(number, sheets_found(project))
