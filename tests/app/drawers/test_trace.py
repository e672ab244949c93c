"""The drawer Trace: outlines from drawings and points through the chooser, drawn on the board, changed; marks."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import ezdxf
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QCursor
from PySide6.QtWidgets import QApplication, QDialog, QFileDialog, QListWidgetItem, QPushButton

from app.document import Selection
from app.drawers.chooser import OutlineChooser
from app.drawers.incoming import from_file, from_text, unit_words
from app.drawers.trace import PasteDialog
from app.look import light
from app.window import demo
from kinematics import edits
from kinematics.project import Outline

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.window import Window

SKIN = [(-1.1, 10.5), (-1.1, 12.3), (23.6, 11.7), (46.9, 10.3)]
SCREEN = [(-6.3, 22.0), (-1.6, 12.2), (-1.6, 9.8), (0.0, 9.8)]


@pytest.fixture
def drawing(tmp_path: Path) -> Path:
    """A drawing without a unit: a panel on the layer "panel", a screen and a note line on "body"."""
    path = tmp_path / "side view.dxf"
    document = ezdxf.new("R2010", units=0)
    space = document.modelspace()
    space.add_lwpolyline(SKIN, dxfattribs={"layer": "panel"})
    space.add_lwpolyline(SCREEN, dxfattribs={"layer": "body"})
    space.add_line((-20.0, -10.0), (60.0, -10.0), dxfattribs={"layer": "notes"})
    document.saveas(path)
    return path


def drive_chooser(monkeypatch: pytest.MonkeyPatch, drive: Callable[[OutlineChooser], None]) -> None:
    """Let `drive` work the chooser by hand when it is shown; then "Bring in" is clicked if it can be."""

    def shown(dialog: OutlineChooser) -> int:
        dialog.show()
        QApplication.processEvents()
        drive(dialog)
        if dialog.ok.isEnabled():
            dialog.ok.click()
        code = dialog.result()
        dialog.deleteLater()
        return code

    monkeypatch.setattr(OutlineChooser, "exec", shown)


def click_line(qtbot: QtBot, dialog: OutlineChooser, place: int) -> None:
    """Click a line in the picture, in the middle of its second stretch."""
    pixels = dialog.preview.pixels_of(place)
    x, y = (pixels[0] + pixels[1]) / 2
    qtbot.mouseClick(dialog.preview, Qt.MouseButton.LeftButton, pos=QPoint(round(x), round(y)))


def place_of(dialog: OutlineChooser, layer: str) -> int:
    return next(i for i, curve in enumerate(dialog.lines.curves) if curve.layer == layer)


# ------------------------------------------------------------------------------------------------------------- chooser
def test_outlines_from_a_drawing_without_a_unit(
    window: Window, drawing: Path, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    window.document.new()

    def drive(dialog: OutlineChooser) -> None:
        assert not dialog.ok.isEnabled()
        assert "doesn't say its unit" in dialog._told.text()
        dialog.unit.choose("in")
        dialog.unit.activated.emit(dialog.unit.currentIndex())
        click_line(qtbot, dialog, place_of(dialog, "panel"))
        dialog.link.choose("panel")
        qtbot.mouseClick(dialog.put, Qt.MouseButton.LeftButton)
        click_line(qtbot, dialog, place_of(dialog, "body"))
        dialog.link.choose("body")
        qtbot.mouseClick(dialog.put, Qt.MouseButton.LeftButton)
        assert dialog._told.text().startswith("2 lines")

    drive_chooser(monkeypatch, drive)
    monkeypatch.setattr(QFileDialog, "getOpenFileName", staticmethod(lambda *_: (str(drawing), "")))
    window.area.open_drawer("Trace")
    from_file_button = next(each for each in window.trace.findChildren(QPushButton) if each.text() == "From a file…")
    qtbot.mouseClick(from_file_button, Qt.MouseButton.LeftButton)
    on = {outline.on: outline for outline in window.document.project.outlines}
    assert set(on) == {"panel", "body"}
    far = max(on["panel"].points)
    assert far == pytest.approx((46.9 * 25.4, 10.3 * 25.4), abs=1e-6)  # inches are exact, DXF numbers to 1e-9
    assert window.document.undo_label == "Bring in 2 outlines"
    window.document.undo()
    assert not window.document.project.outlines


def test_a_cancelled_chooser_changes_nothing(window: Window, drawing: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    drive_chooser(monkeypatch, lambda dialog: dialog.reject())
    before = window.document.project
    assert not window.trace.bring_in(drawing)
    assert window.document.project is before


def test_layers_that_are_not_ticked_are_hidden(qtbot: QtBot, drawing: Path) -> None:
    dialog = OutlineChooser(demo(), from_file(drawing, "mm"), light())
    qtbot.addWidget(dialog)
    dialog.show()
    assert dialog.filter.rowCount() == 3
    notes = dialog.layer_list.findItems("notes", Qt.MatchFlag.MatchExactly)[0]
    assert isinstance(notes, QListWidgetItem)
    notes.setCheckState(Qt.CheckState.Unchecked)
    assert dialog.filter.rowCount() == 2
    pixels = dialog.preview.pixels_of(place_of(dialog, "notes"))
    x, y = pixels.mean(axis=0)
    assert dialog.preview.line_at(x, y) is None


def test_several_lines_are_put_and_left_out_together(qtbot: QtBot, drawing: Path) -> None:
    dialog = OutlineChooser(demo(), from_file(drawing, "mm"), light())
    qtbot.addWidget(dialog)
    dialog.show()
    dialog.table.selectAll()
    qtbot.mouseClick(dialog.put, Qt.MouseButton.LeftButton)
    assert dialog.lines.on == ["hatch"] * 3
    click_line(qtbot, dialog, place_of(dialog, "notes"))
    assert dialog.picked() == [place_of(dialog, "notes")]
    qtbot.mouseClick(dialog.leave, Qt.MouseButton.LeftButton)
    assert sorted(dialog.lines.on) == ["", "hatch", "hatch"]
    assert len(dialog.chosen) == 2


def test_pressing_put_without_a_line_says_what_to_do(qtbot: QtBot, drawing: Path) -> None:
    dialog = OutlineChooser(demo(), from_file(drawing, "mm"), light())
    qtbot.addWidget(dialog)
    dialog.show()
    qtbot.mouseClick(dialog.put, Qt.MouseButton.LeftButton)
    assert dialog._told.text().startswith("Pick a line first")


def test_units_are_offered_with_the_size_they_give(drawing: Path) -> None:
    """The drawing spans 80 by 32 units: 80 mm, or 80 × 25.4 = 2032 mm."""
    incoming = from_file(drawing, "mm")
    assert unit_words(incoming, "mm", "mm") == "mm   (80.0 mm × 32.0 mm)"
    assert unit_words(incoming, "in", "mm") == "in   (2032.0 mm × 812.8 mm)"


def test_names_that_are_taken_are_numbered_on(window: Window, drawing: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def drive(dialog: OutlineChooser) -> None:
        dialog.unit.choose("in")
        dialog.unit.activated.emit(dialog.unit.currentIndex())
        dialog.lines.names[0] = "hatch skin"
        dialog.lines.put([0], "hatch")
        dialog._tell()

    drive_chooser(monkeypatch, drive)
    assert window.trace.bring_in(drawing)
    assert [outline.id for outline in window.document.project.outlines][-1] == "hatch skin 2"


def test_a_dropped_drawing_goes_to_the_chooser(window: Window, drawing: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[str] = []
    drive_chooser(monkeypatch, lambda dialog: seen.append(dialog.windowTitle()))
    window.take_file(drawing)
    assert seen == ["Outlines from side view.dxf"]
    assert window.area.open_name == "Trace"


def test_an_svg_is_chosen_from_in_pixels_or_in_millimetres(window: Window, tmp_path: Path) -> None:
    """One that names no unit is in pixels by its standard, with a remark, and can be read in millimetres."""
    path = tmp_path / "skin.svg"
    path.write_text('<svg xmlns="http://www.w3.org/2000/svg" width="500" height="90"><path d="M0 9H480"/></svg>')
    incoming = from_file(path, "mm")
    assert incoming.unit == "px"
    assert any("names no unit" in remark for remark in incoming.remarks)
    assert incoming.size("px")[0] == pytest.approx(127.0)
    chooser = OutlineChooser(window.document.project, incoming, window.look)
    assert chooser.unit.value == "px"
    chooser.unit.choose("mm")
    chooser.unit.activated.emit(chooser.unit.currentIndex())
    assert chooser.incoming.curves[0].points == ((0.0, -9.0), (480.0, -9.0))
    chooser.unit.choose("px")  # it stays on offer
    chooser.unit.activated.emit(chooser.unit.currentIndex())
    assert chooser.incoming.curves[0].points[1] == pytest.approx((127.0, -2.38125))


@pytest.mark.parametrize("content", [b"", b"no drawing", b"0\nSECTION\n2\nENTITIES\n0\nLI", b"\x00\xff" * 500])
def test_a_broken_drawing_is_told_and_the_work_stays(window: Window, tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "broken.dxf"
    path.write_bytes(content)
    before = window.document.project
    assert not window.take_file(path)
    assert window.document.project is before
    assert window.area.notice.sentence


# --------------------------------------------------------------------------------------------------------------- points
def test_pasted_points_become_an_outline(window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    window.document.new()

    def paste(dialog: PasteDialog) -> int:
        dialog.show()
        for line in ("10; 20", "30,5; 40", "5o; 60"):
            qtbot.keyClicks(dialog.text, line)
            qtbot.keyClick(dialog.text, Qt.Key.Key_Return)
        qtbot.mouseClick(dialog.ok, Qt.MouseButton.LeftButton)
        assert "line 3" in dialog.said.text()
        dialog.text.setPlainText("lid skin\n10; 20\n30,5; 40\n50; 60")
        qtbot.mouseClick(dialog.ok, Qt.MouseButton.LeftButton)
        return dialog.result()

    def drive(dialog: OutlineChooser) -> None:
        dialog.table.selectAll()
        qtbot.mouseClick(dialog.put, Qt.MouseButton.LeftButton)

    monkeypatch.setattr(PasteDialog, "exec", paste)
    drive_chooser(monkeypatch, drive)
    window.trace.ask_points()
    outline = window.document.project.outline("lid skin")
    assert outline.on == "panel"
    assert outline.points == ((10.0, 20.0), (30.5, 40.0), (50.0, 60.0))


def test_points_can_be_read_in_another_unit() -> None:
    incoming = from_text("1, 2\n3, 4", "mm")
    assert incoming.read_in("in").curves[0].points[1] == pytest.approx((76.2, 101.6), abs=1e-9)  # 25.4 exactly


# -------------------------------------------------------------------------------------------------------------- drawing
def test_an_outline_is_drawn_on_the_board(window: Window, qtbot: QtBot) -> None:
    window.area.open_drawer("Trace")
    view = window.board.view
    count = len(window.document.project.outlines)
    window.trace.target.choose("bulkhead")
    qtbot.mouseClick(window.trace.draw, Qt.MouseButton.LeftButton)
    assert window.board.is_drawing
    spots = [QPoint(500, 200), QPoint(600, 260), QPoint(700, 220)]
    wanted = [view.to_mm(QPointF(spot)) for spot in spots]
    for spot in spots:
        qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    qtbot.keyClick(window.board, Qt.Key.Key_Return)
    assert not window.board.is_drawing
    assert len(window.document.project.outlines) == count + 1
    drawn = window.document.project.outlines[-1]
    assert drawn.on == "bulkhead"
    flat = [number for point in drawn.points for number in point]
    assert flat == pytest.approx([number for point in wanted for number in point], abs=1.0 / view.camera.scale)
    assert window.document.selection == Selection("outline", drawn.id)


# ------------------------------------------------------------------------------------------------------------- changing
def test_drawing_that_is_begun_by_keys_shows_the_cross_at_once(window: Window, qtbot: QtBot) -> None:
    board = window.board
    QCursor.setPos(board.mapToGlobal(board.rect().center()))  # the mouse lies elsewhere
    window.document.select(None)
    window.area.open_drawer("Trace")
    window.trace.draw.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClick(window.trace.draw, Qt.Key.Key_Space)
    assert board.is_drawing
    assert board.cross.at is not None
    assert "Cross at" in board.accessibleDescription()
    qtbot.keyClick(board, Qt.Key.Key_Escape)
    assert board.cross.at is None
    QCursor.setPos(window.trace.draw.mapToGlobal(window.trace.draw.rect().center()))
    window.trace.draw.setFocus(Qt.FocusReason.MouseFocusReason)
    qtbot.mouseClick(window.trace.draw, Qt.MouseButton.LeftButton)
    assert board.is_drawing
    assert board.cross.at is None  # the hand is the mouse
    qtbot.keyClick(board, Qt.Key.Key_Escape)


def test_choosing_in_the_list_selects_and_the_other_way_round(window: Window, qtbot: QtBot) -> None:
    window.area.open_drawer("Trace")
    outlines = window.trace.outlines
    item = outlines.item(1)
    qtbot.mouseClick(outlines.viewport(), Qt.MouseButton.LeftButton, pos=outlines.visualItemRect(item).center())
    assert window.document.selection == Selection("outline", window.document.project.outlines[1].id)
    window.document.select(Selection("outline", window.document.project.outlines[0].id))
    assert outlines.currentRow() == 0
    window.document.select(None)
    assert outlines.currentRow() == -1


def test_an_outline_is_closed_and_deleted(window: Window, qtbot: QtBot) -> None:
    window.area.open_drawer("Trace")
    close, delete = window.trace._outline_row
    assert not close.isEnabled()
    window.document.select(Selection("outline", "hatch skin"))
    qtbot.mouseClick(close, Qt.MouseButton.LeftButton)
    assert window.document.project.outline("hatch skin").closed
    assert close.text() == "Open outline"
    qtbot.mouseClick(delete, Qt.MouseButton.LeftButton)
    assert [outline.id for outline in window.document.project.outlines] == ["screen and sill"]
    assert window.document.project.gaps == ()


def test_an_outline_rides_on_another_link(window: Window, qtbot: QtBot) -> None:
    window.area.open_drawer("Trace")
    assert not window.trace.rides_on.isEnabled()
    window.document.select(Selection("outline", "hatch skin"))
    assert window.trace.rides_on.value == "hatch"
    window.trace.rides_on.setFocus()
    qtbot.keyClick(window.trace.rides_on, Qt.Key.Key_Home)  # the first link: the bulkhead, on which the screen is too
    assert window.document.project.outline("hatch skin").on == "hatch"
    assert window.trace.rides_on.value == "hatch"
    assert "one link" in window.area.notice.sentence
    window.document.apply("Drop want", replace(window.document.project, gaps=()))
    qtbot.keyClick(window.trace.rides_on, Qt.Key.Key_Home)
    assert window.document.project.outline("hatch skin").on == "bulkhead"


def test_a_mark_is_added_at_the_selected_point(window: Window) -> None:
    window.document.select(Selection("outline", "hatch skin", 3))
    window.trace.add_mark()
    mark = window.document.project.marks[-1]
    assert (mark.on, mark.at) == ("hatch", (1190.0, 262.0))
    assert window.document.selection == Selection("mark", mark.id)


def test_the_paste_dialog_is_a_dialog(qtbot: QtBot) -> None:
    dialog = PasteDialog("in")
    qtbot.addWidget(dialog)
    dialog.text.setPlainText("1/2; 3 1/16")
    dialog._read()
    assert dialog.result() == QDialog.DialogCode.Rejected  # one point is no outline
    assert dialog.said.text().startswith("✗")


def test_what_is_wrong_with_outlines_is_told_with_the_file_s_name(window: Window, tmp_path: Path) -> None:
    ezdxf.new("R2010").saveas(tmp_path / "empty.dxf")
    (tmp_path / "bad.csv").write_text("0;0\n12;twelve\n")
    for name in ("empty.dxf", "bad.csv"):
        assert not window.trace.bring_in(tmp_path / name)
        assert window.area.notice.sentence.startswith(name)
    assert "line 2" in window.area.notice.sentence


def test_once_the_panel_has_its_outline_the_next_is_drawn_on_the_body(window: Window) -> None:
    """As the hint says; what the builder chooses instead stays until the hint asks for another."""
    document = window.document
    document.new()
    assert window.trace.target.value == "panel"
    line = Outline(id="lid", on="panel", points=((0.0, 0.0), (100.0, 0.0)))
    document.apply("Draw lid", edits.add_outline(document.project, line))
    assert window.trace.target.value == "body"
    window.trace.target.choose("panel")
    document.apply("Rename", edits.rename_outline(document.project, "lid", "skin"))
    assert window.trace.target.value == "panel"
