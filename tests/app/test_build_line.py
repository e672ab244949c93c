"""The line that says how many faults the build has: counted off the drag, and a click goes to them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.drawers.cutting_box import CuttingBox
from app.making.plan import plan_of
from kinematics import edits
from kinematics.plate_edits import ALL, set_sheet

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window


def test_checks_that_all_hold_dont_hide_plates_that_cant_be_cut(window: Window, qtbot: QtBot) -> None:
    """Edges 9 mm from the middles of holes of 10 and more: less than 1.2 diameters (EN 1993-1-8, table 3.3)."""
    document, line = window.document, window.checks.build_line
    line.count_now()
    assert line.isHidden()
    document.apply("Narrow", set_sheet(document.project, ALL, radius=9.0))
    assert line._soon.isActive()
    document.begin("Move")
    document.preview(edits.move_pivot(document.project, "Q", document.project.pivot("Q").at))
    document.flush()
    line.count_now()
    assert line.isHidden(), "nothing is counted during a drag"
    document.commit()
    line.count_now()
    assert all(check.ok for check in document.analysis.checks)
    count = len(plan_of(document.project).faults)
    assert count > 1
    assert line.text() == f"✗ Build has {count} faults…"
    qtbot.mouseClick(line, Qt.MouseButton.LeftButton)
    box = window.build.box(CuttingBox)
    assert box.isVisibleTo(window)
    assert box.faults.text().count("✗") == count
    QApplication.processEvents()
    assert not box.faults.visibleRegion().isEmpty(), "they are seen at once"
    document.undo()
    line.count_now()
    assert line.isHidden()
