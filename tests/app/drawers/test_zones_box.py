"""Where pins may be: zones drawn by clicks and by a drag, corners dragged and typed, taken out, told by the checks."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.board.menu import menu_at
from app.document import Selection
from app.entry.parts_model import NAME, SHOWN, X, rows_of
from app.entry.zone import ZoneForm
from kinematics import zoning
from tests.app import mouse

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.drawers.zones_box import ZonesBox
    from app.window import Window
    from kinematics.results import Check

LEFT = Qt.MouseButton.LeftButton
CORNERS = ((420.0, -60.0), (560.0, -60.0), (560.0, 60.0), (420.0, 60.0))


@pytest.fixture
def box(window: Window) -> ZonesBox:
    """The section of the drawer Pins."""
    window.area.open_drawer("Pins")
    QApplication.processEvents()
    return window.pins.zones


def zone_check(window: Window) -> Check:
    window.document.flush()
    (check,) = [check for check in window.document.analysis.checks if check.kind == "zone"]
    return check


def add_zone(window: Window, on: str = "bulkhead") -> str:
    document = window.document
    document.apply("Draw", zoning.add_zone(document.project, on, CORNERS))
    document.flush()
    name = document.project.zone_names[-1]
    document.select(Selection("zone", name))
    QApplication.processEvents()
    return name


# -------------------------------------------------------------------------------------------------------------- drawing
def test_a_zone_is_drawn_by_clicks_in_one_step(window: Window, box: ZonesBox, qtbot: QtBot) -> None:
    document, view = window.document, window.board.view
    before = document.project
    qtbot.mouseClick(box.draw_button, LEFT)
    assert "corners of the zone" in window.board._said
    for corner in CORNERS[:-1]:
        mouse.click(qtbot, view, corner)
    mouse.double_click(qtbot, view, CORNERS[-1])
    (zone,) = document.project.zones
    assert zone.on == "bulkhead"
    pixel = 1.0 / view.camera.scale
    assert [value for point in zone.points for value in point] == pytest.approx(
        [value for point in CORNERS for value in point], abs=pixel
    )
    assert document.selection == Selection("zone", "on bulkhead")
    check = zone_check(window)
    assert window.board.scene.shown("zone:on bulkhead") is not None
    assert (check.ok, check.subject[0]) == (False, "bulkhead")
    assert any("pins of bulkhead in their zone" in row.sentence for row in window.checks.rows)
    document.undo()
    assert document.project == before
    assert not document.can_undo


def test_a_zone_is_dragged_as_a_box_on_the_panel(window: Window, box: ZonesBox, qtbot: QtBot) -> None:
    panel = window.document.project.panel.id
    box.target.choose(panel)
    qtbot.mouseClick(box.box_button, LEFT)
    mouse.drag(qtbot, window.board.view, CORNERS[0], CORNERS[2])
    (zone,) = window.document.project.zones
    assert (zone.on, len(zone.points)) == (panel, 4)
    assert window.document.undo_label == f"Draw zone on {panel}"


def test_a_zone_is_drawn_by_the_keyboard_s_cross(window: Window, box: ZonesBox, qtbot: QtBot) -> None:
    qtbot.keyClick(box.box_button, Qt.Key.Key_Space)
    board = window.board
    qtbot.keyClick(board, Qt.Key.Key_Right)
    qtbot.keyClick(board, Qt.Key.Key_Return)
    for key in (Qt.Key.Key_Up, Qt.Key.Key_Up, Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Right):
        qtbot.keyClick(board, key, Qt.KeyboardModifier.ControlModifier)  # ten times as far
    qtbot.keyClick(board, Qt.Key.Key_Return)
    (zone,) = window.document.project.zones
    assert len(zone.points) == 4


def test_what_bounds_no_region_is_told_and_not_taken(window: Window, box: ZonesBox, qtbot: QtBot) -> None:
    before = window.document.project
    view = window.board.view
    qtbot.mouseClick(box.draw_button, LEFT)
    for corner in (CORNERS[0], CORNERS[2], CORNERS[1]):
        mouse.click(qtbot, view, corner)
    mouse.double_click(qtbot, view, CORNERS[3])
    assert window.document.project == before
    assert "crosses itself" in window.area.notice.sentence
    qtbot.mouseClick(box.draw_button, LEFT)
    mouse.click(qtbot, view, CORNERS[0])
    mouse.double_click(qtbot, view, CORNERS[1])
    assert window.document.project == before
    assert "has no area" in window.area.notice.sentence


# ------------------------------------------------------------------------------------------------------------- corners
def test_a_corner_is_dragged_as_one_step_and_rides_with_its_link(window: Window, qtbot: QtBot) -> None:
    document, board = window.document, window.board
    panel = document.project.panel.id
    name = add_zone(window, panel)
    document.set_opening(20.0)
    QApplication.processEvents()
    where = board.placements[panel]
    before = document.project
    start = where.carry(CORNERS[1])
    mouse.drag(qtbot, board.view, start, (start[0] - 30.0, start[1] + 25.0))
    assert document.selection == Selection("zone", name, 1)
    moved = document.project.zones[0].points[1]
    pixel = 1.0 / board.view.camera.scale
    assert where.carry(moved) == pytest.approx(
        (start[0] - 30.0, start[1] + 25.0), abs=2.5 * pixel + 5.0
    )  # squares hold
    assert document.undo_label == f"Move corner 2 of zone {name}"
    document.undo()
    assert document.project == before


def test_an_edge_selects_takes_a_corner_in_and_lets_it_go(window: Window, qtbot: QtBot) -> None:
    document, board = window.document, window.board
    name = add_zone(window)
    document.select(None)
    edge = ((CORNERS[0][0] + CORNERS[1][0]) / 2 + 17.0, CORNERS[0][1])
    mouse.click(qtbot, board.view, edge)
    assert document.selection == Selection("zone", name)
    mouse.double_click(qtbot, board.view, edge)
    assert len(document.project.zones[0].points) == 5
    assert document.selection == Selection("zone", name, 1)
    qtbot.keyClick(board, Qt.Key.Key_Delete)
    assert document.project.zones[0].points == CORNERS
    document.select(Selection("zone", name, 2))
    qtbot.keyPress(board, Qt.Key.Key_Right)
    qtbot.keyRelease(board, Qt.Key.Key_Right)
    assert document.project.zones[0].points[2] == (561.0, 60.0)
    document.select(Selection("zone", name))
    qtbot.keyClick(board, Qt.Key.Key_Delete)
    assert document.project.zones == ()
    assert document.undo_label == f"Remove zone {name}"


def test_within_a_zone_there_is_but_paper(window: Window) -> None:
    add_zone(window)
    window.document.select(None)
    assert window.board.hit_at((500.0, 13.0)) is None


def test_the_menu_of_a_zone(window: Window) -> None:
    name = add_zone(window)
    menu = menu_at(window.board, (500.0, -60.0))
    words = [action.text().split("\t")[0] for action in menu.actions()]
    assert {"Insert a corner here", f"Remove zone {name}"} <= set(words)
    menu.deleteLater()
    menu = menu_at(window.board, CORNERS[1])
    words = [action.text().split("\t")[0] for action in menu.actions()]
    assert "Delete this corner" in words
    menu.deleteLater()


# ------------------------------------------------------------------------------------------------ exact entry, the list
def test_corners_are_typed_and_what_crosses_is_told(window: Window) -> None:
    name = add_zone(window)
    form = window.checks.entry.form
    assert isinstance(form, ZoneForm)
    assert form.points.setData(form.points.index(1, 0), "600")
    assert window.document.project.zones[0].points[1] == (600.0, -60.0)
    assert not form.points.setData(form.points.index(1, 1), "200")  # the lower right corner high over the others
    assert "crosses itself" in form.said.text()
    assert window.document.project.zones[0].points[1] == (600.0, -60.0)
    assert window.document.undo_label == f"Move corner 2 of zone {name}"


def test_a_zone_goes_to_another_link_and_stays_selected(window: Window, qtbot: QtBot) -> None:
    add_zone(window)
    form = window.checks.entry.form
    assert isinstance(form, ZoneForm)
    panel = window.document.project.panel.id
    form.on.setFocus()
    form.on.choose(panel)
    form.on.activated.emit(form.on.currentIndex())
    assert window.document.project.zones[0].on == panel
    assert window.document.selection == Selection("zone", f"on {panel}")
    assert isinstance(window.checks.entry.form, ZoneForm)


def test_zones_stand_in_the_list_of_parts(window: Window) -> None:
    name = add_zone(window)
    model = window.checks.entry.parts.table.parts
    model.refresh()
    place = next(at for at, row in enumerate(model.rows) if row.kind == "zone" and row.id == name)
    assert not model.flags(model.index(place, NAME)) & Qt.ItemFlag.ItemIsEditable
    assert model.data(model.index(place, SHOWN), Qt.ItemDataRole.CheckStateRole) is None
    assert "4 corners, for the pins of bulkhead" in model.data(model.index(place, NAME), Qt.ItemDataRole.ToolTipRole)
    model.unfold(name)
    corner = model.index(place + 2, X)
    assert model.data(corner, Qt.ItemDataRole.AccessibleTextRole) == f"x of corner 2 of zone {name}: 560 mm"
    assert model.setData(corner, "570")
    assert window.document.project.zones[0].points[1] == (570.0, -60.0)
    assert len(rows_of(window.document.project, frozenset({name}))) == len(model.rows)


def test_several_zones_go_at_once(window: Window) -> None:
    from app.removing import remove_all

    add_zone(window)
    add_zone(window)
    add_zone(window)
    names = window.document.project.zone_names
    assert remove_all(window.document, [Selection("zone", names[0]), Selection("zone", names[2])])
    assert window.document.project.zone_names == ("on bulkhead",)


# ------------------------------------------------------------------------------------------------------- checks, links
def test_the_check_leads_to_the_pin_and_the_zone(window: Window, qtbot: QtBot) -> None:
    name = add_zone(window)
    window.document.select(None)
    window.document.set_opening(30.0)
    row = next(row for row in window.checks.rows if row.check is not None and row.check.kind == "zone")
    window.checks._go_to(row)
    assert window.document.pose.deg == 0.0
    assert window.document.selection == Selection("zone", name)
    assert window.board.scene.has("flash")


def test_all_links_are_watched_in_one_step(window: Window, box: ZonesBox, qtbot: QtBot) -> None:
    document = window.document
    before = document.project
    box.clearance.line.setFocus()
    box.clearance.line.selectAll()
    qtbot.keyClicks(box.clearance.line, "4.5")
    qtbot.keyClick(box.clearance.line, Qt.Key.Key_Return)
    qtbot.mouseClick(box.watch_button, LEFT)
    bands = [link.id for link in before.links if link.width > 0 and link.kind != "fixed"]
    walls = [outline.id for outline in before.outlines if outline.on == before.fixed.id]
    new = document.project.gaps[len(before.gaps) :]
    assert {frozenset(gap.between) for gap in new} == {frozenset((a, b)) for a in walls for b in bands}
    assert {gap.at_least for gap in new} == {4.5}
    assert document.undo_label == "Watch all links"
    qtbot.mouseClick(box.watch_button, LEFT)
    assert "Nothing new to watch" in window.area.notice.sentence
    document.undo()
    assert document.project == before
