"""The swept room on the whole window, and its drawing read by other libraries."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import ezdxf
import pyogrio.raw
import pytest
import shapely
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QFileDialog

from app.files.errors import FileError
from app.files.outline_export import MARGIN, save_rings
from app.sweptroom.dialog import SweptDialog
from app.sweptroom.told import near_words, nearest_things, size_words
from kinematics import analyse, edits
from kinematics.swept import SweptRoom, swept_room
from tests.app.test_accessible import assert_all_named
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.window import Window

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0))
HOLE = ((20.0, 20.0), (20.0, 40.0), (40.0, 40.0), (40.0, 20.0))


@pytest.fixture
def sheet(window: Window) -> SweptDialog:
    window.show_swept_room()
    sheet = window.findChild(SweptDialog)
    assert sheet is not None
    return sheet


def test_the_room_is_on_the_board_while_the_sheet_is_open(sheet: SweptDialog, window: Window) -> None:
    assert window.board.scene.has("swept")
    assert "over all" in sheet.size_told.text()
    assert "away" in sheet.things.item(0).text()
    assert assert_all_named(sheet) > 3
    sheet.close()
    assert not window.board.scene.has("swept")


def test_it_follows_a_pin_once_the_hand_rests(sheet: SweptDialog, window: Window, qtbot: QtBot) -> None:
    before = sheet.size_told.text()
    document = window.document
    document.begin("Move pivot Q")
    document.preview(edits.move_pivot(document.project, "Q", (document.project.pivot("Q").at[0] - 20.0, 0.0)))
    document.flush()
    assert not window.board.scene.has("swept")
    document.commit()
    qtbot.waitUntil(lambda: window.board.scene.has("swept"))
    assert sheet.size_told.text() != before


def test_the_panel_alone_takes_less(sheet: SweptDialog, window: Window, qtbot: QtBot) -> None:
    whole = window._swept.room
    qtbot.mouseClick(sheet.panel_alone, Qt.MouseButton.LeftButton, pos=QPoint(6, sheet.panel_alone.height() // 2))
    alone = window._swept.room
    assert whole is not None
    assert alone is not None
    assert alone.area < whole.area


def test_what_is_nearest_is_as_far_as_the_smallest_gap() -> None:
    # The body is met by whatever moves: its distance from the room is the least of its gaps, but for the rim
    analysis = analyse(demo_six_bar)
    room = swept_room(analysis, [demo_six_bar.panel.id])
    (near,) = nearest_things(room, demo_six_bar)
    least = min(gap.smallest for gap in analysis.gaps if gap.smallest is not None and near.outline in gap.between)
    assert least - room.rim - 0.3 <= near.distance <= least + 1e-6
    assert near_words(near, "mm").startswith(f"{near.outline}: ")


def test_nothing_that_moves_is_said() -> None:
    assert size_words(SweptRoom((), (), 0.0, 0.0), "mm") == "Nothing moves, so no room is taken."


# ----------------------------------------------------------------------------------------------------------- drawings
def test_dxf_read_back_by_ezdxf_and_gdal(tmp_path: Path) -> None:
    path = tmp_path / "room.dxf"
    save_rings((SQUARE, HOLE), path, "SWEPT ROOM")
    document = ezdxf.readfile(path)  # type: ignore[attr-defined]  # ezdxf exports it lazily
    audit = document.audit()
    assert (audit.errors, audit.fixes, document.units) == ([], [], 4)
    lines = list(document.modelspace().query("LWPOLYLINE"))
    assert [(line.closed, line.dxf.layer, len(line)) for line in lines] == [(True, "SWEPT ROOM", 4)] * 2
    shapes = shapely.from_wkb(pyogrio.raw.read(path)[2])
    areas = [shapely.Polygon(shapely.get_coordinates(each)).area for each in shapes]
    assert areas == pytest.approx([6000.0, 400.0])


def test_svg_stands_in_mm_with_y_turned_down(tmp_path: Path) -> None:
    path = tmp_path / "room.svg"
    save_rings((SQUARE,), path, "SWEPT ROOM")
    text = path.read_text("utf-8")
    assert f'width="{100.0 + 2 * MARGIN:.4f}mm" height="{60.0 + 2 * MARGIN:.4f}mm"' in text
    first = re.search(r'd="M([\d.]+),([\d.]+)', text)
    assert first is not None
    assert [float(first[1]), float(first[2])] == [MARGIN, 60.0 + MARGIN]


def test_what_cannot_be_written_is_told(tmp_path: Path, read_only: Path) -> None:
    with pytest.raises(FileError, match="no kind of drawing"):
        save_rings((SQUARE,), tmp_path / "room.txt", "ROOM")
    with pytest.raises(FileError, match="can't be written"):
        save_rings((SQUARE,), read_only / "room.dxf", "ROOM")


def test_saved_by_mouse_and_refused_in_the_notice(
    sheet: SweptDialog, window: Window, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, read_only: Path
) -> None:
    names = [str(tmp_path / "room"), str(read_only / "room.svg")]
    monkeypatch.setattr(QFileDialog, "getSaveFileName", staticmethod(lambda *_: (names.pop(0), "")))
    qtbot.mouseClick(sheet.save_button, Qt.MouseButton.LeftButton)
    assert (tmp_path / "room.dxf").is_file()
    qtbot.mouseClick(sheet.save_button, Qt.MouseButton.LeftButton)
    assert "can't be written" in window.area.notice.sentence


def test_once_closed_it_shows_nothing_more(sheet: SweptDialog, window: Window, qtbot: QtBot) -> None:
    with qtbot.waitSignal(sheet.destroyed):
        sheet.close()
    with qtbot.captureExceptions() as faults:
        window.set_units("in")
        window.set_sheet("dark")
    assert not faults


def test_how_far_traces_may_be_off_stands_behind_the_distance() -> None:
    room = swept_room(analyse(demo_six_bar), [demo_six_bar.panel.id])
    assert "±" not in near_words(nearest_things(room, demo_six_bar)[0], "mm")
    off = tuple(replace(each, uncertain=1.5) for each in demo_six_bar.outlines)
    (near,) = nearest_things(room, replace(demo_six_bar, outlines=off))
    assert near.distance > 0.0
    assert near_words(near, "mm").endswith(" ± 3.0 mm (trace) away")
