"""The first steps: shown beside the very things, ticked off by doing them, never in the way, gone for good."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QWidget

from app.first_steps import KEPT, FirstSteps, moved_a_pin
from kinematics import edits
from tests import specimens
from tests.app import mouse

if TYPE_CHECKING:
    from PySide6.QtGui import QAccessibleEvent
    from pytestqt.qtbot import QtBot

    from app.first_steps import Callout
    from app.window import Window

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def steps(window: Window, monkeypatch: pytest.MonkeyPatch) -> FirstSteps:
    """The first steps on show; what is ticked off stays for the test to look at."""
    monkeypatch.setattr("app.first_steps.TICKED_MS", 10**6)
    window.first_steps.offer()
    QApplication.processEvents()
    return window.first_steps


def keys(steps: FirstSteps) -> list[str]:
    return [callout.step.key for callout in steps.callouts]


def of(steps: FirstSteps, key: str) -> Callout:
    return next(callout for callout in steps.callouts if callout.step.key == key)


def test_they_are_offered_by_the_first_start_only(window: Window) -> None:
    """A window by itself shows none; `run` offers them."""
    assert window.first_steps.callouts == ()


def test_all_three_stand_beside_their_things(window: Window, steps: FirstSteps) -> None:
    assert keys(steps) == ["drag", "swing", "check"]
    for callout in steps.callouts:
        assert callout.isVisible()
        assert callout.shut.isVisible()
        thing = callout.step.thing()
        assert thing is not None
        assert callout.geometry().contains(thing)
    boxes = [callout.geometry() for callout in steps.callouts]
    assert all(window.rect().contains(box.center()) for box in boxes)
    row = window.checks.rows[0]
    check = of(steps, "check").step.thing()
    assert check is not None
    assert row.rect().contains(row.mapFrom(window, check))


def test_the_mouse_goes_through_them(window: Window, steps: FirstSteps) -> None:
    for callout in steps.callouts:
        for spot in (callout.geometry().center(), callout.step.thing()):
            assert spot is not None
            below = window.childAt(spot)
            assert below is not callout
    thing = of(steps, "drag").step.thing()
    assert thing is not None
    assert window.childAt(thing) is window.board.view.viewport()


def test_they_never_lie_over_a_pin(window: Window, steps: FirstSteps) -> None:
    for callout in steps.callouts:
        box = callout._box.translated(callout.geometry().topLeft().toPointF())
        assert not any(box.contains(pin.toPointF()) for pin in steps._pins())


@pytest.mark.parametrize("drawer", ["", "Trace"])
@pytest.mark.parametrize("size", [(960, 600), (1264, 744), (2560, 1440)])
def test_they_never_lie_on_each_other(window: Window, steps: FirstSteps, size: tuple[int, int], drawer: str) -> None:
    window.resize(*size)
    window.area.open_drawer(drawer)
    QApplication.processEvents()
    steps.place()
    boxes = [callout._box.translated(callout.geometry().topLeft().toPointF()) for callout in steps.callouts]
    assert all(callout.isVisible() for callout in steps.callouts)
    assert not any(a.intersects(b) for a, b in combinations(boxes, 2))
    if window.area.drawer is not None and size[0] > 1000:  # what stands in the drawer can be read
        drawn = QRectF(QPointF(window.area.drawer.mapTo(window, QPoint(0, 0))), QSizeF(window.area.drawer.size()))
        assert not any(drawn.intersects(box) for box in boxes)


def test_esc_puts_all_away_for_good_and_the_drawer_only_then(window: Window, steps: FirstSteps, qtbot: QtBot) -> None:
    window.area.open_drawer("Pins")
    window.board.setFocus()
    qtbot.keyClick(window.board, Qt.Key.Key_Escape)
    assert steps.callouts == ()
    assert window.settings.text(KEPT) == "away"
    assert window.area.open_name == "Pins"
    qtbot.keyClick(window.board, Qt.Key.Key_Escape)
    assert window.area.open_name == ""


def test_a_screen_reader_hears_them_come_and_be_done(window: Window, monkeypatch: pytest.MonkeyPatch) -> None:
    heard: list[str] = []

    def hear(event: QAccessibleEvent) -> None:
        widget = event.object()
        assert isinstance(widget, QWidget)
        heard.append(widget.accessibleName())

    monkeypatch.setattr(QAccessible, "updateAccessibility", staticmethod(hear))
    window.first_steps.begin()
    assert [name.split(":")[0] for name in heard] == ["First step 1", "First step 2", "First step 3"]
    window.first_steps.done("swing")
    assert heard[-1].startswith("First step 2 is done")


def test_dragging_a_pin_ticks_the_first_and_it_goes(window: Window, steps: FirstSteps, qtbot: QtBot) -> None:
    view, at = window.board.view, window.document.project.pivot("Q").at
    mouse.drag(qtbot, view, at, (at[0] + 24.0, at[1] - 16.0))
    assert window.document.project.pivot("Q").at != at
    assert of(steps, "drag").is_done
    assert not of(steps, "drag").shut.isVisible()
    assert "is done" in of(steps, "drag").accessibleName()


def test_a_nudge_by_the_keys_counts_too(window: Window, steps: FirstSteps, qtbot: QtBot) -> None:
    window.board.setFocus()
    qtbot.keyClick(window.board, Qt.Key.Key_PageDown)
    qtbot.keyClick(window.board, Qt.Key.Key_Up)
    assert of(steps, "drag").is_done


def test_dragging_along_the_strip_ticks_the_second(window: Window, steps: FirstSteps, qtbot: QtBot) -> None:
    ruler = window.strip.ruler
    qtbot.mousePress(ruler, LEFT, pos=QPoint(40, 20))
    qtbot.mouseMove(ruler, QPoint(200, 20))
    qtbot.mouseRelease(ruler, LEFT, pos=QPoint(200, 20))
    assert window.document.pose.deg > 0.0
    assert of(steps, "swing").is_done
    assert not of(steps, "drag").is_done


def test_clicking_a_check_ticks_the_third(window: Window, steps: FirstSteps, qtbot: QtBot) -> None:
    qtbot.mouseClick(window.checks.rows[0], LEFT, pos=QPoint(60, 10))
    assert of(steps, "check").is_done
    assert not of(steps, "swing").is_done, "the check swung the panel, not the hand"


def test_they_are_out_of_the_way_of_a_drag(window: Window, steps: FirstSteps, qtbot: QtBot) -> None:
    view, at = window.board.view, window.document.project.pivot("Q").at
    mouse.press(qtbot, view, at)
    assert not any(callout.isVisible() or callout.shut.isVisible() for callout in steps.callouts)
    mouse.move(qtbot, view, at, (at[0] + 10.0, at[1]))
    assert not any(callout.isVisible() for callout in steps.callouts)
    mouse.release(qtbot, view, (at[0] + 10.0, at[1]))
    steps.place()
    assert all(callout.isVisible() for callout in steps.callouts)


def test_what_was_done_is_not_shown_again(window: Window, steps: FirstSteps, qtbot: QtBot) -> None:
    qtbot.mouseClick(window.checks.rows[0], LEFT, pos=QPoint(60, 10))
    again = FirstSteps(window)
    again.offer()
    assert keys(again) == ["drag", "swing"]
    again.put_away()


def test_what_is_done_goes_a_moment_later(steps: FirstSteps, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("app.first_steps.TICKED_MS", 1)
    steps.done("drag")
    qtbot.waitUntil(lambda: keys(steps) == ["swing", "check"], timeout=5000)


def test_once_all_are_done_they_are_gone_for_good(
    window: Window, steps: FirstSteps, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("app.first_steps.TICKED_MS", 1)
    for key in ("swing", "drag", "check"):
        steps.done(key)
    qtbot.waitUntil(lambda: not steps.callouts, timeout=5000)
    assert window.settings.text(KEPT) == "away"
    steps.offer()
    assert steps.callouts == ()


def test_the_cross_puts_all_away_for_good(window: Window, steps: FirstSteps, qtbot: QtBot) -> None:
    qtbot.mouseClick(of(steps, "swing").shut, LEFT)
    assert steps.callouts == ()
    steps.offer()
    assert steps.callouts == ()


def test_the_help_menu_shows_them_again(window: Window, steps: FirstSteps) -> None:
    steps.put_away()
    next(action for action in window.actions() if action.text() == "&First steps").trigger()
    assert keys(steps) == ["drag", "swing", "check"]
    steps.offer()
    assert keys(steps) == ["drag", "swing", "check"]


def test_they_move_with_their_things(window: Window, steps: FirstSteps) -> None:
    before = {callout.step.key: callout.geometry() for callout in steps.callouts}
    window.board.fit_pins()
    window.document.set_opening(75.0)
    window.resize(1500, 900)
    QApplication.processEvents()
    steps.place()
    for callout in steps.callouts:
        assert callout.geometry() != before[callout.step.key]
        thing = callout.step.thing()
        assert thing is not None
        assert callout.geometry().contains(thing)


def test_without_a_pin_or_a_check_theirs_wait(window: Window, steps: FirstSteps) -> None:
    project = window.document.project
    bare = replace(
        project, links=tuple(each for each in project.links if each.kind != "link"), pivots=(), gaps=(), limits=()
    )
    window.document.new(bare)
    QApplication.processEvents()
    steps.place()
    assert not any(callout.isVisible() for callout in steps.callouts), "nothing moves: no strip to drag along"
    assert not of(steps, "drag").is_done, "another project is no dragged pin"


def test_any_project_may_be_open(window: Window, steps: FirstSteps) -> None:
    for name, project in specimens.ALL.items():
        window.document.new(project)
        QApplication.processEvents()
        steps.place()
        assert not any(callout.is_done for callout in steps.callouts), name


def test_moved_pins_are_told_from_added_ones() -> None:
    project = specimens.demo_six_bar
    pivot = project.pivots[0]
    assert not moved_a_pin(project, project)
    assert moved_a_pin(project, edits.move_pivot(project, pivot.id, (pivot.at[0] + 1.0, pivot.at[1])))
    assert not moved_a_pin(project, edits.remove_pivot(project, pivot.id))
