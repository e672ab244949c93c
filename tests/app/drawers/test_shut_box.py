"""The box of latch and seal, by mouse and keys: clicked on the board, typed, told; a step each."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.drawers.shut_box import PER_METRE, ShutBox
from app.shut_words import SECOND_CATCH
from kinematics import loading, shutting_edits
from tests.app import mouse
from tests.app.drawers.test_lift_boxes import type_in

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def box(window: Window) -> ShutBox:
    window.area.open_drawer("Lift")
    QApplication.processEvents()
    return window.lift.box(ShutBox)


def test_a_striker_is_clicked_typed_turned_and_removed(box: ShutBox, qtbot: QtBot, window: Window) -> None:
    document = window.document
    assert not box.way.isEnabled()
    assert ShutBox.gist(document.analysis, document) == "no latch"
    qtbot.mouseClick(box.click_button, LEFT)
    mouse.click(qtbot, window.board.view, (1150.0, 264.0))
    latch = shutting_edits.latch_of(document.project)
    assert latch is not None
    assert latch.on == "hatch"
    assert latch.at == pytest.approx((1150.0, 264.0), abs=4.0)  # a pixel or so, and what draws the hand
    assert document.undo_label == "Move striker"
    type_in(qtbot, box.at[0], "1100")
    type_in(qtbot, box.way, "262")
    latch = shutting_edits.latch_of(document.project)
    assert latch is not None
    assert (latch.at[0], latch.way_deg) == (1100.0, 262.0)
    qtbot.mouseClick(box.along_button, LEFT)
    latch = shutting_edits.latch_of(document.project)
    assert latch is not None
    assert 265.0 < latch.way_deg < 275.0
    assert "at 0° to the latch's way" in box.figures.text().replace("\u200b", "")
    qtbot.mouseClick(box.remove_button, LEFT)
    assert shutting_edits.latch_of(document.project) is None
    for _ in range(5):
        document.undo()
    assert not document.can_undo


def test_figures_caution_and_wants_stand_in_the_box(box: ShutBox, qtbot: QtBot, window: Window) -> None:
    document = window.document
    qtbot.mouseClick(box.front_button, LEFT)
    assert "at the striker before it lifts" in box.figures.text().replace("\u200b", "")
    assert SECOND_CATCH[:60] in box.caution.text().replace("\u200b", "")
    foot, section = window.lift.cautions, window.lift.sections[ShutBox]
    assert foot is not None
    told = []
    for _ in range(2):
        told.append(SECOND_CATCH[:60] in foot.text().replace("\u200b", ""))
        qtbot.mouseClick(section.head, LEFT)
    assert told == [False, True], "once, where it is seen"
    type_in(qtbot, box.play, "0.2")
    assert "lets the rear edge rise by" in box.figures.text().replace("\u200b", "")
    type_in(qtbot, box.rise_want, "0.1")
    type_in(qtbot, box.latch_want, "500")
    wants = loading.lift_wants_of(document.project)
    assert (wants.rear_edge_rise_at_most, wants.latch_at_most) == (0.1, 500.0)
    assert box.comes_to["rear edge", ""].text().startswith("✗")
    assert box.comes_to["push", "latch"].text().startswith("✓")
    assert box.comes_to["striker", ""].isHidden()


def test_a_seal_and_stops_are_added_typed_clicked_and_taken_out(box: ShutBox, qtbot: QtBot, window: Window) -> None:
    document = window.document
    assert box.fields["squeeze"].isHidden()
    qtbot.mouseClick(box.add_button, LEFT)
    assert box.chosen.value == "seal"
    assert not box.fields["per_metre"].isHidden()
    assert box.fields["force"].isHidden()
    type_in(qtbot, box.fields["per_metre"], "5 lbf/ft")
    seal = shutting_edits.cushion_named(document.project, "seal")
    assert seal.per_metre == pytest.approx(72.9695, abs=1e-3)  # 5 · 4.4482216 / 0.3048
    box.kind.choose("bump stop")
    qtbot.mouseClick(box.add_button, LEFT)
    assert box.chosen.value == "bump stop"
    assert box.fields["length"].isHidden()
    type_in(qtbot, box.fields["count"], "4")
    type_in(qtbot, box.fields["force"], "12 N")
    type_in(qtbot, box.fields["x"], "1000")
    stop = shutting_edits.cushion_named(document.project, "bump stop")
    assert (stop.count, stop.force, stop.at[0]) == (4, 12.0, 1000.0)
    qtbot.mouseClick(box.place_button, LEFT)
    mouse.click(qtbot, window.board.view, (900.0, 275.0))
    assert shutting_edits.cushion_named(document.project, "bump stop").at == pytest.approx((900.0, 275.0), abs=4.0)
    qtbot.mouseClick(box.take_out_button, LEFT)
    assert [each.id for each in shutting_edits.cushions_of(document.project)] == ["seal"]
    assert box.chosen.value == "seal"


def test_a_squeeze_of_nothing_is_told_beside_the_field(box: ShutBox, qtbot: QtBot, window: Window) -> None:
    qtbot.mouseClick(box.add_button, LEFT)
    before = window.document.project
    type_in(qtbot, box.fields["squeeze"], "0")
    assert window.document.project is before
    assert "squeeze" in box.fields["squeeze"].message


def test_a_push_per_length_reads_as_it_is_told() -> None:
    for units in ("mm", "in"):
        assert PER_METRE.parse(PER_METRE.exact(60.0, units), units) == pytest.approx(60.0, rel=1e-9)  # type: ignore[arg-type]
