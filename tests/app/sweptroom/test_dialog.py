"""The swept room on the whole window, and its drawing read by other libraries."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import ezdxf
import numpy as np
import pyogrio.raw
import pytest
import shapely
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QFileDialog

from app.files.errors import FileError
from app.files.outline_export import MARGIN, save_rings
from app.sweptroom.dialog import SweptDialog
from app.sweptroom.told import Near, near_words, nearest_things, size_words, thing_words
from kinematics import analyse, edits
from kinematics.results import Gap
from kinematics.swept import SweptRoom, swept_room
from tests.app.test_accessible import assert_all_named
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.window import Window

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0))
HOLE = ((20.0, 20.0), (20.0, 40.0), (40.0, 40.0), (40.0, 20.0))


BODY = "screen and sill"


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


# ----------------------------------------------------------------------------------------------------------- watching
def choose(sheet: SweptDialog, qtbot: QtBot, row: int = 0) -> None:
    place = sheet.things.visualItemRect(sheet.things.item(row)).center()
    qtbot.mouseClick(sheet.things.viewport(), Qt.MouseButton.LeftButton, pos=place)


def type_least(sheet: SweptDialog, qtbot: QtBot, words: str) -> None:
    sheet.least.line.selectAll()
    qtbot.keyClicks(sheet.least.line, words)
    qtbot.keyClick(sheet.least.line, Qt.Key.Key_Return)


def test_a_thing_is_watched_against_all_that_moves_in_one_step(
    sheet: SweptDialog, window: Window, qtbot: QtBot
) -> None:
    document = window.document
    before = document.project
    assert sheet.least.line.text() == "5 mm"  # as Preferences say
    assert not sheet.watch_button.isEnabled()
    choose(sheet, qtbot)
    type_least(sheet, qtbot, "12")
    assert sheet.isVisible()  # Enter pressed none of its buttons
    qtbot.mouseClick(sheet.watch_button, Qt.MouseButton.LeftButton)
    after = document.project
    bands = [link.id for link in before.links if link.kind == "link"]
    assert [gap.between for gap in after.gaps if BODY in gap.between and gap.at_least == 12.0] == [
        (BODY, "hatch skin"),
        *((BODY, band) for band in bands),
    ]
    assert document.undo_label == f"Watch {BODY}"
    assert sheet.watch_told.text() == f"12.0 mm wanted of {BODY} against hatch skin, {', '.join(bands)}."
    qtbot.waitUntil(lambda: sheet.things.count() > 0)
    told = sheet.things.item(0).text()
    assert told.startswith(f"✗ {BODY}: ")  # a mark, the distance, and the want
    assert "away; wants 12.0 mm, short with hatch skin" in told
    assert sheet.things.item(0).isSelected()  # it stays chosen
    document.undo()
    assert document.project == before


def test_what_is_wanted_already_stays_and_is_told(sheet: SweptDialog, window: Window, qtbot: QtBot) -> None:
    choose(sheet, qtbot)
    qtbot.mouseClick(sheet.panel_alone, Qt.MouseButton.LeftButton, pos=QPoint(6, sheet.panel_alone.height() // 2))
    choose(sheet, qtbot)
    before = window.document.project
    qtbot.mouseClick(sheet.watch_button, Qt.MouseButton.LeftButton)
    assert window.document.project is before  # 10 mm is wanted from the panel, and 5 were asked for
    assert sheet.watch_told.text().endswith("nothing changed.")
    assert sheet.things.item(0).text().startswith(f"✓ {BODY}: ")
    qtbot.mouseClick(sheet.panel_alone, Qt.MouseButton.LeftButton, pos=QPoint(6, sheet.panel_alone.height() // 2))
    told = sheet.things.item(0).text()  # the arm comes nearer than the panel, and nobody watches it
    assert told.startswith(f"⚠ {BODY}: 1.9 mm away; wants 10.0 mm and has it with hatch skin; what comes nearer")


def test_a_negative_distance_is_refused_beside_its_field(sheet: SweptDialog, qtbot: QtBot) -> None:
    type_least(sheet, qtbot, "-3")
    assert sheet.least.message == "✗ a distance may not be negative. Still 5 mm."


def test_wants_of_a_thing_in_words() -> None:
    near = Near("sill", 3.14)
    gap = Gap(("sill", "lid"), 3.1, 0.0, None, 3.1, (), 6.0, 0.0, False, True, (np.zeros(1), np.zeros(1)))
    unasked = replace(gap, wanted=False, at_least=None, ok=None)
    assert thing_words(near, [unasked], "mm") == "sill: 3.1 mm away"
    assert thing_words(near, [gap], "mm") == "✗ sill: 3.1 mm away; wants 6.0 mm, short with lid"
    held = replace(gap, between=("arm", "sill"), at_least=2.0, ok=True)
    assert thing_words(near, [gap, held, unasked], "mm") == "✗ sill: 3.1 mm away; wants 6.0 mm, short with lid"
    late = replace(held, at_least=9.0, after_deg=5.0)
    more = replace(held, at_least=3.5, smallest=3.6)
    assert thing_words(near, [more], "mm", wider=0.4) == "✓ sill: 3.1 mm away; wants 3.5 mm"
    nearest = replace(held, between=("sill", "rod"), smallest=3.2)  # it is watched, and wants no more than 2 mm
    assert thing_words(near, [nearest, more], "mm", wider=0.3) == "✓ sill: 3.1 mm away; wants 2.0 mm to 3.5 mm"
    assert thing_words(near, [replace(held, smallest=9.0), more], "mm", wider=0.3) == (
        "⚠ sill: 3.1 mm away; wants 2.0 mm to 3.5 mm and has it with arm; what comes nearer is not watched"
    )
    assert thing_words(near, [late], "mm") == "✓ sill: 3.1 mm away; wants 9.0 mm from 5° on"
    assert thing_words(near, [held, late], "mm") == "✓ sill: 3.1 mm away; wants 2.0 mm to 9.0 mm"


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
