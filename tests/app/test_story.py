"""The whole job as a builder does it, by mouse and keys on one window: a drawing without a unit, outlines on their
links, a six-bar, wants, a pin dragged with the panel half open, saved, opened again, reported.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import ezdxf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog, QLineEdit, QPushButton, QWidget

from app.board.hits import pivot_place
from app.cli import main
from app.document import Selection
from app.files import load
from app.shapes import placed
from app.words import gap_name
from tests.app import mouse
from tests.app.drawers.test_trace import click_line, drive_chooser, place_of

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.drawers.chooser import OutlineChooser
    from app.window import Window

# The engine hatch of a work launch (the first demo), drawn in inches.
SCREEN = [(-6.3, 22.0), (-1.575, 12.2), (-1.575, 9.84), (0.0, 9.84), (0.0, 11.73), (0.24, 11.73), (0.24, -7.87)]
SKIN = [(-1.1, 10.51), (-1.1, 12.28), (23.62, 11.69), (46.85, 10.31)]
LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def drawing(tmp_path: Path) -> Path:
    """A drawing that doesn't say its unit; the skin is a block, as drawings like to have it."""
    document = ezdxf.new("R2010", units=0)
    document.blocks.new("skin").add_lwpolyline(SKIN, dxfattribs={"layer": "panel"})
    document.modelspace().add_blockref("skin", (0.0, 0.0), dxfattribs={"layer": "panel"})
    document.modelspace().add_lwpolyline(SCREEN, dxfattribs={"layer": "body"})
    document.saveas(tmp_path / "side view.dxf")
    return tmp_path / "side view.dxf"


def button(parent: QWidget, words: str) -> QPushButton:
    return next(each for each in parent.findChildren(QPushButton) if each.text().startswith(words))


def type_in(qtbot: QtBot, window: Window, name: str, words: str) -> None:
    line = next(each for each in window.checks.findChildren(QLineEdit) if each.accessibleName() == name)
    qtbot.mouseClick(line, LEFT)
    line.selectAll()
    qtbot.keyClicks(line, words)
    qtbot.keyClick(line, Qt.Key.Key_Return)


def bring_in(window: Window, qtbot: QtBot, drawing: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """New project, the drawing in inches, each line on its link."""

    def drive(dialog: OutlineChooser) -> None:
        dialog.unit.choose("in")
        dialog.unit.activated.emit(dialog.unit.currentIndex())
        for link in ("panel", "body"):
            click_line(qtbot, dialog, place_of(dialog, link))
            dialog.link.choose(link)
            qtbot.mouseClick(dialog.put, LEFT)

    drive_chooser(monkeypatch, drive)
    monkeypatch.setattr(QFileDialog, "getOpenFileName", staticmethod(lambda *_: (str(drawing), "")))
    qtbot.keyClick(window, Qt.Key.Key_N, Qt.KeyboardModifier.ControlModifier)
    assert window.area.open_name == "Trace"
    qtbot.mouseClick(button(window.trace, "From a file"), LEFT)


def place_six_bar(window: Window, qtbot: QtBot) -> None:
    qtbot.mouseClick(button(window.trace, "Next: choose a start"), LEFT)
    card = next(card for card in window.pins.starts.cards if card.kind.name == "scissor hinge: six bars")
    qtbot.mouseClick(card, LEFT)
    with qtbot.waitActive(window):  # a desktop does so by itself when a dialog is gone; offscreen it takes a while
        window.activateWindow()
    qtbot.mouseClick(window.rail.buttons["Pins"], LEFT)  # the drawer closes again
    assert window.area.open_name == ""


def test_from_a_drawing_to_a_report(
    window: Window, qtbot: QtBot, drawing: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    document, view = window.document, window.board.view
    bring_in(window, qtbot, drawing, monkeypatch)
    far = max(next(outline for outline in document.project.outlines if outline.on == "panel").points)
    assert far == pytest.approx((46.85 * 25.4, 10.31 * 25.4), abs=1e-6)
    place_six_bar(window, qtbot)
    assert document.analysis.opening.reached_deg == 75.0

    # Wants: a gap that the start holds with room, then one that it misses; both are told, the second is taken back.
    smallest = document.analysis.gaps[0].smallest
    assert smallest is not None
    assert smallest > 1.0
    pair = f"Least gap, {gap_name(document.analysis.gaps[0].between)}"
    type_in(qtbot, window, pair, f"{smallest - 0.5:.2f} mm")
    assert all(check.ok for check in document.analysis.checks if check.kind == "gap")
    type_in(qtbot, window, pair, "2 in")
    assert window.checks.rows[0].check is not None
    assert not window.checks.rows[0].check.ok
    qtbot.keyClick(window.board, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert all(check.ok for check in document.analysis.checks if check.kind == "gap")

    # A pin, with the panel half open: it stays under the pointer, and is one step.
    window.board.fit_pins()
    document.set_opening(40.0)
    start = pivot_place(document.project, placed(document.analysis, document.pose), "Q")
    end = start[0] + 4.0 / view.camera.scale, start[1] - 3.0 / view.camera.scale
    mouse.drag(qtbot, view, start, end)
    seen = pivot_place(document.project, placed(document.analysis, document.pose), "Q")
    assert seen == pytest.approx(end, abs=1.5 / view.camera.scale)
    assert document.undo_label == "Move pivot Q"
    moved = document.project.pivot("Q").at
    qtbot.keyClick(window.board, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert document.project.pivot("Q").at != moved
    qtbot.keySequence(window.board, window.menus.redo.shortcut())  # each desktop has its own
    assert document.project.pivot("Q").at == moved
    document.select(Selection("pivot", "B"))
    qtbot.keyClick(window.board, Qt.Key.Key_L)
    assert document.project.pivot("B").locked

    # Saved, opened again, reported without a window: the same figures.
    path = tmp_path / "hatch.hinge"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", staticmethod(lambda *_: (str(path), "")))
    qtbot.keyClick(window, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert not window.isWindowModified()
    assert load(path) == document.project
    kept, analysis = document.project, document.analysis
    window.document.new()
    assert window.open_path(path)
    assert document.project == kept
    QApplication.processEvents()
    status = main(["report", str(path), "--json"])
    told = json.loads(capsys.readouterr().out)
    assert status == (0 if all(check.ok for check in analysis.checks) else 1)
    assert told["gaps"][0]["smallest"] == pytest.approx(analysis.gaps[0].smallest, abs=1e-6)
    assert told["opening"]["reached_deg"] == analysis.opening.reached_deg
    assert [check["ok"] for check in told["checks"]] == [check.ok for check in analysis.checks]
    assert [check["name"] for check in told["checks"]]
