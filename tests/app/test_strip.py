"""The travel strip: lanes, marks in words, swinging by mouse and keys, playing; and what stands still during a drag."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QContextMenuEvent, QGuiApplication
from PySide6.QtWidgets import QApplication, QMenu

from app.document import Document, Selection
from app.lengths import format_force
from app.look import dark, light
from app.strip import TravelStrip
from app.travel import travel_note
from kinematics import edits
from kinematics.carrying import carried_at
from kinematics.project import Link, Pivot, Project, Travel
from tests.app.sharing import demo
from tests.loaded import hatch

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot

    from app.window import Window


@pytest.fixture
def document(qapp: object) -> Document:
    return Document(demo())


@pytest.fixture
def strip(qtbot: QtBot, document: Document) -> Iterator[TravelStrip]:
    strip = TravelStrip(document, light())
    qtbot.addWidget(strip)
    strip.resize(1100, 220)
    with qtbot.waitExposed(strip):
        strip.show()
    yield strip
    strip.stop()


def sliding() -> Project:
    """A panel on two equal parallel arms: it moves without turning."""
    return Project(
        links=(Link("body", "fixed"), Link("lid", "panel"), Link("front arm"), Link("rear arm")),
        pivots=(
            Pivot("A", (0.0, 0.0), ("body", "rear arm")),
            Pivot("B", (100.0, 0.0), ("body", "front arm")),
            Pivot("C", (10.0, 60.0), ("rear arm", "lid")),
            Pivot("D", (110.0, 60.0), ("front arm", "lid")),
        ),
        travel=Travel("anticlockwise", 75.0),
    )


# ---------------------------------------------------------------------------------------------------------------- lanes
def test_there_is_a_lane_for_each_watched_pair_two_of_lifting_and_one_for_the_transmission_angle(
    strip: TravelStrip, document: Document
) -> None:
    titles = [lane.figures.title for lane in strip.lanes if lane.figures]
    gaps = [" – ".join(gap.between) for gap in document.analysis.gaps]
    assert titles == [*gaps, "push at the handle", "force on the pins", "transmission angle"]


def test_lanes_come_and_go_with_the_pairs(strip: TravelStrip, document: Document) -> None:
    before = len(strip.lanes)
    first = document.project.outlines[0].id
    document.apply("Watch", edits.set_gap(document.project, (first, "arm"), 1.0))
    assert len(strip.lanes) == before + 1
    document.undo()
    assert len(strip.lanes) == before


def test_many_lanes_scroll(strip: TravelStrip, document: Document, qtbot: QtBot) -> None:
    project = document.project
    for number in range(12):
        outline = replace(project.outlines[0], id=f"wall {number}")
        project = edits.add_outline(project, outline)
    document.apply("Add walls", project)
    assert len(strip.lanes) == 16
    qtbot.waitUntil(lambda: strip._scroll.verticalScrollBar().maximum() > 0)
    qtbot.waitUntil(lambda: strip.lanes[0].view.width() == strip.ruler.width())  # the scroll bar takes room from both
    assert all(lane.height() >= 40 for lane in strip.lanes)


# ------------------------------------------------------------------------------------------------------------- swinging
def test_a_press_on_a_lane_goes_to_that_opening_and_a_drag_follows(
    strip: TravelStrip, document: Document, qtbot: QtBot
) -> None:
    view = strip.lanes[0].view
    x = round(view.scale_of_travel.pixel(30.0, view.width()))
    qtbot.mousePress(view, Qt.MouseButton.LeftButton, pos=QPoint(x, 20))
    assert document.pose.deg == pytest.approx(30.0, abs=0.1)  # a pixel is 0.09°
    x = round(view.scale_of_travel.pixel(50.0, view.width()))
    qtbot.mouseMove(view, QPoint(x, 30))
    assert document.pose.deg == pytest.approx(50.0, abs=0.1)
    qtbot.mouseMove(view, QPoint(5000, 30))
    assert document.pose.deg == document.analysis.opening.reached_deg
    qtbot.mouseRelease(view, Qt.MouseButton.LeftButton, pos=QPoint(5000, 30))
    assert not document.can_undo


def test_the_ruler_swings_too(strip: TravelStrip, document: Document, qtbot: QtBot) -> None:
    x = round(strip.ruler.scale.pixel(42.0, strip.ruler.width()))
    qtbot.mousePress(strip.ruler, Qt.MouseButton.LeftButton, pos=QPoint(x, 30))
    qtbot.mouseRelease(strip.ruler, Qt.MouseButton.LeftButton, pos=QPoint(x, 30))
    assert document.pose.deg == pytest.approx(42.0, abs=0.1)
    assert strip.ruler.place == document.pose.deg


def test_ruler_and_lanes_have_the_same_scale_in_pixels(strip: TravelStrip) -> None:
    view = strip.lanes[0].view
    assert view.width() == strip.ruler.width()
    for deg in (0.0, 75.0):
        assert view.spot(deg, 0.0)[0] == pytest.approx(strip.ruler.scale.pixel(deg, strip.ruler.width()))


def test_keys_step_and_go_to_the_ends(strip: TravelStrip, document: Document, qtbot: QtBot) -> None:
    document.set_opening(20.0)
    qtbot.keyClick(strip, Qt.Key.Key_Right)
    assert document.pose.deg == pytest.approx(21.0, abs=1e-9)
    qtbot.keyClick(strip, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    assert document.pose.deg == pytest.approx(20.9, abs=1e-9)
    qtbot.keyClick(strip, Qt.Key.Key_End)
    assert document.pose.deg == 75.0
    qtbot.keyClick(strip, Qt.Key.Key_Right)
    assert document.pose.deg == 75.0
    qtbot.keyClick(strip, Qt.Key.Key_Home)
    assert document.pose.deg == 0.0


def test_space_plays_and_stops_and_a_press_stops(strip: TravelStrip, document: Document, qtbot: QtBot) -> None:
    qtbot.keyClick(strip, Qt.Key.Key_Space)
    assert strip.is_playing
    qtbot.waitUntil(lambda: document.pose.deg > 0.5)
    assert strip.play_button.accessibleName() == "Stop"
    qtbot.mousePress(strip.ruler, Qt.MouseButton.LeftButton, pos=QPoint(300, 30))
    assert not strip.is_playing
    qtbot.keyClick(strip, Qt.Key.Key_Space)
    qtbot.keyClick(strip, Qt.Key.Key_Space)
    assert not strip.is_playing


def test_playing_turns_round_at_the_end(strip: TravelStrip, document: Document, qtbot: QtBot) -> None:
    document.set_opening(74.0)
    seen: list[float] = []
    document.posed.connect(lambda pose: seen.append(pose.deg))
    strip.play()
    qtbot.waitUntil(lambda: 75.0 in seen and seen[-1] < 74.5, timeout=5000)
    strip.stop()


# ------------------------------------------------------------------------------------------------------------- drags
def test_ranges_stand_still_during_a_drag_and_follow_after_it(
    strip: TravelStrip, document: Document, qtbot: QtBot
) -> None:
    view = strip.lanes[0].view
    document.begin("Set want")
    before = view.scale_of_travel, view._top
    document.preview(edits.set_gap(document.project, document.analysis.gaps[0].between, 90.0))
    with qtbot.waitSignal(document.followed):
        document.flush()
    assert (view.scale_of_travel, view._top) == before
    document.commit()
    assert view._top >= 270.0


# ---------------------------------------------------------------------------------------------------------------- loads
@pytest.fixture
def lifting(qtbot: QtBot) -> Iterator[TravelStrip]:
    strip = TravelStrip(Document(hatch()), light())
    qtbot.addWidget(strip)
    strip.resize(1280, 260)
    with qtbot.waitExposed(strip):
        strip.show()
    yield strip
    strip.stop()


def test_the_push_and_the_pin_s_force_are_read_at_the_pose(lifting: TravelStrip, qtbot: QtBot) -> None:
    push, pins = lifting.lanes[1], lifting.lanes[2]
    view = push.view
    qtbot.mousePress(view, Qt.MouseButton.LeftButton, pos=QPoint(round(view.spot(10.0, 0.0)[0]), 20))
    now = carried_at(lifting._document.analysis, lifting._document.pose.deg)
    assert now.push == pytest.approx(23.0, abs=0.5)
    assert (push._reading.text(), pins._reading.text()) == ("23 N", format_force(now.pins["X"]))
    qtbot.mouseMove(view, QPoint(5000, 20))
    assert push._reading.text() == "−16 N"
    qtbot.mouseRelease(view, Qt.MouseButton.LeftButton, pos=QPoint(5000, 20))


def test_the_selected_pin_stands_out(lifting: TravelStrip) -> None:
    document = lifting._document
    assert lifting.lanes[2]._title.text() == "force on the pins"
    document.select(Selection("pivot", "Q"))
    assert (
        lifting.lanes[2].accessibleName().startswith("force on pin Q: Pin Q of one hinge carries at most 376 N, at 0°.")
    )
    assert lifting.lanes[2]._reading.text() == "376 N"
    document.select(Selection("link", "arm"))
    assert lifting.lanes[2]._title.text() == "force on the pins"


def test_the_menu_of_the_push_goes_to_its_signs(lifting: TravelStrip) -> None:
    menu = lifting.menu_of(lifting.lanes[1])
    actions = {action.text(): action for action in menu.actions()}
    assert "Go to the largest push: 23 N at 9.6°" in actions
    actions["Go to the balance: balances at 57.4°, won't stay"].trigger()
    assert lifting._document.pose.deg == pytest.approx(57.4, abs=0.05)
    assert lifting.lanes[1]._reading.text() == "0 N"
    actions["Copy these figures"].trigger()
    assert QGuiApplication.clipboard().text().startswith("push at the handle: ✓ The largest push at the handle is 23 N")


def test_curves_follow_a_dragged_pin_while_the_ranges_stand_still(lifting: TravelStrip, qtbot: QtBot) -> None:
    document = lifting._document
    push, pins = lifting.lanes[1], lifting.lanes[2]
    before = [(lane.view._top, lane.view._bottom) for lane in (push, pins)]
    curves = [lane.view._curve for lane in (push, pins)]
    x, y = document.project.pivot("X").at
    document.begin("Move pivot X")
    document.preview(edits.move_pivot(document.project, "X", (x - 10.0, y + 8.0)))
    with qtbot.waitSignal(document.followed):
        document.flush()
    assert [(lane.view._top, lane.view._bottom) for lane in (push, pins)] == before
    assert all(lane.view._curve != curve for lane, curve in zip((push, pins), curves, strict=True))
    assert push._told.text() == "✓ most 23 N at 8.7°"
    document.cancel()
    assert [lane.view._curve for lane in (push, pins)] == curves


# --------------------------------------------------------------------------------------------------------------- states
def test_a_panel_that_slides_is_told_and_dragged_along_its_path(qtbot: QtBot) -> None:
    document = Document(sliding())
    assert document.analysis.state == "slides"
    strip = TravelStrip(document, light())
    qtbot.addWidget(strip)
    strip.resize(900, 200)
    strip.show()
    assert "slides" in strip._note.text()
    first, last = document.analysis.arc_range
    assert (strip.ruler.scale.first, strip.ruler.scale.last) == (first, last)
    at = first + 0.75 * (last - first)
    x = round(strip.ruler.scale.pixel(at, strip.ruler.width()))
    qtbot.mousePress(strip.ruler, Qt.MouseButton.LeftButton, pos=QPoint(x, 30))
    assert document.pose.arc == pytest.approx(at, abs=(last - first) / 400)
    qtbot.keyClick(strip, Qt.Key.Key_Home)
    assert document.pose.arc == pytest.approx(first, abs=1e-9)


def test_an_empty_project_says_what_is_missing(qtbot: QtBot) -> None:
    document = Document()
    strip = TravelStrip(document, light())
    qtbot.addWidget(strip)
    assert travel_note(document.analysis)
    strip.play()
    assert not strip.is_playing


def test_the_other_sheet_is_taken_over(strip: TravelStrip) -> None:
    strip.set_look(dark())
    image = strip.lanes[0].view.grab().toImage()
    assert image.pixelColor(image.width() - 3, 3).name() == dark().paper


def test_the_menu_of_a_lane_goes_to_its_least_and_copies_its_figures(
    window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[QMenu] = []
    monkeypatch.setattr(QMenu, "popup", lambda menu, _: opened.append(menu))  # offscreen, a menu can't take the keys
    lane = window.strip.lanes[0]
    at = lane.view.rect().center()
    viewport = lane.view
    QApplication.sendEvent(
        viewport, QContextMenuEvent(QContextMenuEvent.Reason.Mouse, at, viewport.mapToGlobal(at))
    )  # fmt: skip
    (menu,) = opened
    words = [action.text().split("\t")[0] for action in menu.actions()]
    assert words == [
        "Go to where it is least: 10.6 mm", "Copy these figures", "", "Play", "To shut", "To the end",
    ]  # fmt: skip
    menu.actions()[0].trigger()
    assert window.document.pose.deg == pytest.approx(window.document.analysis.gaps[0].at_deg, abs=1e-9)
    menu.actions()[1].trigger()
    assert QGuiApplication.clipboard().text() == "screen and sill – hatch skin: ✓ least 10.6 mm at 3.2°"
    menu.actions()[5].trigger()
    assert window.document.pose.deg == 75.0


def test_the_strip_alone_has_a_menu_too(window: Window) -> None:
    menu = window.strip.menu_of(None)
    assert [action.text() for action in menu.actions()] == ["Play\tSpace", "To shut\tHome", "To the end\tEnd"]
    menu.actions()[0].trigger()
    assert window.strip.is_playing
    assert window.strip.menu_of(None).actions()[0].text() == "Stop\tSpace"
    window.strip.stop()
