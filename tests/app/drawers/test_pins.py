"""The drawers Pins, Lift and Build: starts that move at once, links and pivots, what the later stages say."""

from __future__ import annotations

from dataclasses import replace
from math import dist
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from app.document import Document, Selection
from app.drawers.mockup_box import pin_distances
from app.drawers.pins import hint_words
from app.drawers.starts import TURNED
from app.window import demo
from kinematics import edits
from kinematics.project import Link

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window
    from kinematics.project import Project


def outlines_only() -> Project:
    """The demo's outlines, without its linkage and wants: what a builder has before choosing a start."""
    project = demo()
    ends = tuple(link for link in project.links if link.kind != "link")
    return replace(project, links=ends, pivots=(), gaps=(), limits=())


def open_pins(window: Window, project: Project | None = None) -> None:
    if project is not None:
        window.document.new(project)
    window.area.open_drawer("Pins")


# --------------------------------------------------------------------------------------------------------------- starts
def test_starts_are_offered_before_there_are_pins_and_on_asking_afterwards(window: Window, qtbot: QtBot) -> None:
    open_pins(window)
    assert window.pins.starts.isHidden()
    qtbot.mouseClick(window.pins.choose_start, Qt.MouseButton.LeftButton)
    assert window.pins.starts.isVisible()
    window.document.new(outlines_only())
    assert window.pins.starts.isVisible()
    assert window.pins.choose_start.isHidden()


def test_a_body_at_the_right_has_the_panel_open_clockwise_and_says_so(window: Window, qtbot: QtBot) -> None:
    project = outlines_only()
    turned = [replace(each, points=tuple((-x, y) for x, y in each.points)) for each in project.outlines]
    open_pins(window, replace(project, outlines=tuple(turned)))
    document = window.document
    before = document.project
    qtbot.mouseClick(window.pins.starts.cards[1], Qt.MouseButton.LeftButton)
    assert document.project.travel.opens == "clockwise"
    assert window.area.notice.sentence == TURNED
    document.undo()
    assert document.project == before  # one step, the way it turns among it
    open_pins(window, project)
    window.area.notice.dismiss()
    qtbot.mouseClick(window.pins.starts.cards[1], Qt.MouseButton.LeftButton)
    assert document.project.travel.opens == "anticlockwise"
    assert window.area.notice.sentence == ""


def test_cards_say_shop_words_first_and_the_textbook_beneath(window: Window) -> None:
    open_pins(window, outlines_only())
    kinds = [card.kind for card in window.pins.starts.cards]
    families = [kind.family for kind in kinds]
    assert families[0] == "single pivot"
    assert {"four-bar", "Watt I", "Watt II", "Stephenson I", "Stephenson II", "Stephenson III"} <= set(families)
    scissor = next(card for card in window.pins.starts.cards if card.kind.family == "Watt I")
    assert scissor.kind.name == "scissor hinge: six bars"
    assert scissor.accessibleName() == "Start: scissor hinge: six bars"


@pytest.mark.parametrize("place", range(7))
def test_a_start_moves_at_once_and_is_one_step(window: Window, qtbot: QtBot, place: int) -> None:
    open_pins(window, outlines_only())
    before = window.document.project
    card = window.pins.starts.cards[place]
    qtbot.mouseClick(card, Qt.MouseButton.LeftButton)
    document = window.document
    assert document.project.pivots
    assert document.analysis.state == "moves"
    assert document.analysis.mobility == 1
    assert document.analysis.opening.reached_deg > 5.0
    assert window.pins.starts.isHidden()
    assert document.undo_label.startswith("Place ")
    document.undo()
    assert document.project == before
    assert not document.can_undo


def test_a_start_takes_the_place_of_another_and_keeps_the_rest(window: Window, qtbot: QtBot) -> None:
    open_pins(window)
    qtbot.mouseClick(window.pins.choose_start, Qt.MouseButton.LeftButton)
    outlines, gaps = window.document.project.outlines, window.document.project.gaps
    card = next(card for card in window.pins.starts.cards if card.kind.family == "four-bar")
    card.setFocus()
    qtbot.keyClick(card, Qt.Key.Key_Space)
    assert len(window.document.project.pivots) == 4
    assert window.document.project.outlines == outlines
    assert window.document.project.gaps == gaps


def test_hints_lead_on() -> None:
    assert "Trace" in hint_words(replace(outlines_only(), outlines=()))
    assert "Choose a start" in hint_words(outlines_only())
    assert "Wants" in hint_words(demo())


# ------------------------------------------------------------------------------------------------------ links, pivots
def test_a_four_bar_is_built_from_nothing_by_hand(window: Window, qtbot: QtBot) -> None:
    open_pins(window, None)
    window.document.new()
    pins = window.pins
    for _ in range(2):
        qtbot.mouseClick(pins.add_link_button, Qt.MouseButton.LeftButton)
    assert [link.id for link in window.document.project.links] == ["body", "panel", "link", "link 2"]
    for joins, at in (
        (("body", "link"), (0.0, 0.0)), (("body", "link 2"), (120.0, 5.0)),
        (("link", "panel"), (20.0, 70.0)), (("link 2", "panel"), (150.0, 60.0)),
    ):  # fmt: skip
        pins.first.choose(joins[0])
        pins.second.choose(joins[1])
        qtbot.mouseClick(pins.add_pivot_button, Qt.MouseButton.LeftButton)
        pivot = window.document.project.pivots[-1]
        assert pivot.joins == joins
        assert window.document.selection == Selection("pivot", pivot.id)
        window.document.apply("Move pivot", edits.move_pivot(window.document.project, pivot.id, at))
    assert [pivot.id for pivot in window.document.project.pivots] == ["A", "B", "C", "D"]
    assert window.document.analysis.mobility == 1
    assert window.document.analysis.opening.reached_deg > 5.0


def test_a_pivot_through_one_link_alone_is_told(window: Window, qtbot: QtBot) -> None:
    open_pins(window)
    count = len(window.document.project.pivots)
    window.pins.first.choose("arm")
    window.pins.second.choose("arm")
    qtbot.mouseClick(window.pins.add_pivot_button, Qt.MouseButton.LeftButton)
    assert len(window.document.project.pivots) == count
    assert "two links" in window.area.notice.sentence


def test_a_new_pivot_stands_where_the_board_can_be_seen(window: Window, qtbot: QtBot) -> None:
    open_pins(window)
    qtbot.mouseClick(window.pins.add_pivot_button, Qt.MouseButton.LeftButton)
    at = window.document.project.pivots[-1].at
    spot = window.board.view.to_px(at)
    assert window.pins.width() < spot.x() < window.board.width()
    assert 0 < spot.y() < window.board.height()


def test_lock_free_and_remove(window: Window, qtbot: QtBot) -> None:
    open_pins(window)
    window.document.select(Selection("pivot", "Q"))
    qtbot.mouseClick(window.pins.lock, Qt.MouseButton.LeftButton)
    assert window.document.project.pivot("Q").locked
    assert window.pins.lock.text() == "Free"
    qtbot.mouseClick(window.pins.remove_pivot, Qt.MouseButton.LeftButton)
    assert all(pivot.id != "Q" for pivot in window.document.project.pivots)
    assert not window.pins.lock.isEnabled()
    window.document.select(Selection("link", "lift link"))
    qtbot.mouseClick(window.pins.remove_link, Qt.MouseButton.LeftButton)
    assert all(link.id != "lift link" for link in window.document.project.links)


def test_lists_stand_still_during_a_drag_and_follow_after_it(window: Window) -> None:
    open_pins(window)
    document = window.document
    document.begin("Rename")
    document.preview(edits.rename_pivot(document.project, "Q", "Q9"))
    document.flush()
    texts = [window.pins.pivots.item(row).text() for row in range(window.pins.pivots.count())]
    assert not any(text.startswith("Q9") for text in texts)
    document.commit()
    texts = [window.pins.pivots.item(row).text() for row in range(window.pins.pivots.count())]
    assert any(text.startswith("Q9") for text in texts)


# ---------------------------------------------------------------------------------------------------------------- Build
def test_build_tells_pin_distances() -> None:
    project = demo()
    lines = pin_distances(project, "mm")
    apart = dist(project.pivot("O2").at, project.pivot("B").at)
    assert f"short link: O2 – B  {apart:.1f} mm" in lines
    bare = Document().project
    assert pin_distances(replace(bare, links=(*bare.links, Link("arm"))), "mm") == []


def test_a_new_pivot_joins_body_and_panel_unless_told_otherwise(window: Window, qtbot: QtBot) -> None:
    """In the demo the two are called otherwise: what was chosen there must not leave both ends on one link."""
    open_pins(window)
    project = window.document.project
    assert (window.pins.first.value, window.pins.second.value) == (project.fixed.id, project.panel.id)
    window.document.new()
    assert (window.pins.first.value, window.pins.second.value) == ("body", "panel")
    qtbot.mouseClick(window.pins.add_pivot_button, Qt.MouseButton.LeftButton)
    assert window.document.project.pivots[0].joins == ("body", "panel")
