"""The sheets of the set before they are made: what is listed, turned, kept in place; they follow the layout."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QImage

from app.layout_job import MADE_AS
from app.making.plan import plan_of
from app.making.sheets_job import SheetsJob
from app.making.sheets_unit import DOTS, SetFound, SheetPicture, printed_files, run, sheets_found
from app.set_dialog import SetDialog
from app.set_showing import show_set
from kinematics.edits import move_pivot
from tests.specimens import ALL, empty

if TYPE_CHECKING:
    import pytest
    from pytestqt.qtbot import QtBot

    from app.window import Window
    from kinematics.project import Project

A4 = (210.0, 297.0)
MOST = 3


class Fake(SheetsJob):
    """Gives sheets without drawing them, as many of the build sheet as there are pivots left of x = 100."""

    def _send(self, project: Project) -> None:
        image = QImage(4, 4, QImage.Format.Format_RGB32)
        image.fill(Qt.GlobalColor.white)
        count = sum(pivot.at[0] < 100.0 for pivot in project.pivots)
        sheets = [SheetPicture("build sheet.pdf", k + 1, count, A4, b"") for k in range(count)]
        self.blockSignals(True)
        self._take(SetFound((*sheets, SheetPicture("index.pdf", 1, 1, A4, b""))))
        self.blockSignals(False)


def lines(dialog: SetDialog) -> list[str]:
    return [dialog.files.item(row).text() for row in range(dialog.files.count())]


def test_they_are_listed_turned_and_follow_the_pins(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(MADE_AS, SheetsJob, Fake)
    project = window.document.project
    left = [pivot for pivot in project.pivots if pivot.at[0] < 100.0]
    dialog = show_set(window)
    assert isinstance(dialog, SetDialog)
    assert lines(dialog) == [f"build sheet.pdf, {len(left)} sheets", "index.pdf, 1 sheet"]
    qtbot.mouseClick(dialog.after, Qt.MouseButton.LeftButton)
    qtbot.keyClick(dialog.preview, Qt.Key.Key_PageDown)
    assert dialog.which.text() == f"build sheet.pdf, sheet {MOST} of {len(left)}"
    pivot = left[0]
    window.document.apply("Move", move_pivot(project, pivot.id, (pivot.at[0] + 200.0, pivot.at[1])))
    assert lines(dialog)[0] == f"build sheet.pdf, {len(left) - 1} sheets"
    assert dialog.which.text() == f"build sheet.pdf, sheet {min(MOST, len(left) - 1)} of {len(left) - 1}"  # stays there
    dialog.files.setCurrentRow(1)
    assert dialog.which.text() == "index.pdf, sheet 1 of 1"
    assert not dialog.after.isEnabled()
    dialog.close()


def test_the_sheets_are_those_of_the_files(qapp: object) -> None:
    project = replace(ALL["single_pivot"], title="x")
    found = sheets_found(project)
    files = printed_files(plan_of(project))
    assert [each.kind for each in files[:2]] == ["build sheet", "index page"]
    assert {each.path for each in files} == {each.path for each in found.sheets}
    for sheet in found.sheets[:MOST]:
        image = QImage.fromData(sheet.png)
        assert (image.width(), image.height()) == (round(sheet.size[0] * DOTS), round(sheet.size[1] * DOTS))
        assert any(image.pixelColor(x, y).lightness() < 128 for x in range(40, 800, 3) for y in range(60, 400, 3))


def test_what_cannot_be_made_is_said(qapp: object) -> None:
    assert "nothing can be made" in run(empty, None, 7).found.why
    assert run(empty, None, 7).unit == 7
