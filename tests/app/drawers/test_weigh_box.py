"""Weighing in the drawer Lift: places clicked and typed, readings typed, and one step that takes it over."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.document import Selection
from app.drawers.weigh_box import Scales, WeighBox
from app.weigh_words import outside_words, weighed_sentences
from kinematics.weighing import Reading, weighed
from tests.app import mouse

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.fields import Field
    from app.window import Window

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def box(window: Window) -> WeighBox:
    window.area.open_drawer("Lift")
    found = window.lift.box(WeighBox)
    QApplication.processEvents()
    return found


def type_in(qtbot: QtBot, field: Field[float | None], text: str) -> None:
    field.line.setFocus()
    field.line.selectAll()
    qtbot.keyClicks(field.line, text)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)


def type_all(qtbot: QtBot, box: WeighBox, readings: tuple[str, ...]) -> None:
    """Supports level with each other, 1 m apart."""
    for key, text in {"ax": "100", "ay": "280", "bx": "1100", "by": "280"}.items():
        type_in(qtbot, box.places[key], text)
    for field, text in zip(box.readings, readings, strict=False):
        type_in(qtbot, field, text)


def test_two_weighings_are_typed_and_taken_over_in_one_step(window: Window, box: WeighBox, qtbot: QtBot) -> None:
    """12 of 20 kg at B, then 11.5 with B raised by 30°: u = 600 + 0, w = 1000·(0.6 − 0.575)/tan 30° = 43.3."""
    document = window.document
    before = document.project
    assert box.into.value == "on hatch"
    assert not box.take_button.isEnabled()
    type_all(qtbot, box, ("8", "12 kg"))
    assert "600.0 mm from A towards B" in box.found.text()
    assert "raise B and weigh once more" in box.found.text()
    for field, text in zip(box.readings[2:], ("8.5", "11.5"), strict=True):
        type_in(qtbot, field, text)
    type_in(qtbot, box.tilt, "30")
    assert box.raised.line.text() == "500 mm"
    assert "43.3 mm over the line from A to B" in box.found.text()
    assert document.project is before
    qtbot.mouseClick(box.take_button, LEFT)
    assert document.project.loads is not None
    (mass,) = document.project.loads.masses
    assert mass.mass == pytest.approx(20.0)
    assert mass.at == pytest.approx((700.0, 280.0 + 43.30127), abs=1e-4)
    assert document.undo_label == "Take weighed mass over"
    assert document.selection == Selection("mass", "on hatch")
    document.undo()
    assert document.project == before


def test_one_weighing_leaves_the_height_of_the_weight(window: Window, box: WeighBox, qtbot: QtBot) -> None:
    type_all(qtbot, box, ("8", "12"))
    qtbot.mouseClick(box.take_button, LEFT)
    assert window.document.project.loads is not None
    assert window.document.project.loads.masses[0].at == pytest.approx((700.0, 285.0))
    box.into.choose("")
    qtbot.mouseClick(box.take_button, LEFT)
    assert [mass.at for mass in window.document.project.loads.masses][1:] == [pytest.approx((700.0, 280.0))]


def test_what_contradicts_itself_is_told_and_not_taken(window: Window, box: WeighBox, qtbot: QtBot) -> None:
    type_all(qtbot, box, ("8", "12", "9.5", "12"))
    type_in(qtbot, box.raised, "2 m")
    assert "can't be raised" in box.raised.message
    type_in(qtbot, box.raised, "300")
    assert "contradict each other" in box.found.text()
    assert not box.take_button.isEnabled()
    type_in(qtbot, box.readings[2], "heavy")
    assert "can't be read as a mass" in box.readings[2].message


def test_a_support_is_clicked_on_the_open_panel_too(window: Window, box: WeighBox, qtbot: QtBot) -> None:
    window.document.set_opening(20.0)
    QApplication.processEvents()
    board = window.board
    where = board.placements["hatch"].carry((900.0, 273.0))
    qtbot.mouseClick(box.clicks["b"], LEFT)
    mouse.click(qtbot, board.view, where)
    assert box.scales.place("b") == pytest.approx((900.0, 273.0), abs=1.5 / board.view.camera.scale)
    assert box.places["bx"].line.text().startswith(str(box.scales.b[0])[:4])


def test_supports_and_centre_are_drawn_while_the_section_is_unfolded(
    window: Window, box: WeighBox, qtbot: QtBot
) -> None:
    scene = window.board.scene
    assert not scene.has("weighing")
    type_all(qtbot, box, ("8", "12"))
    assert scene.shown("weighing:support A") is not None
    assert scene.shown("weighing:centre") is not None
    window.set_sheet("dark")
    assert scene.shown("weighing:centre").ink == scene.look.selection  # type: ignore[union-attr]
    qtbot.mouseClick(window.lift.sections[WeighBox].head, LEFT)
    assert not scene.has("weighing")
    qtbot.mouseClick(window.lift.sections[WeighBox].head, LEFT)
    assert scene.has("weighing")
    window.area.open_drawer("")
    assert not scene.has("weighing")


def test_a_tilt_needs_the_supports_first(box: WeighBox, qtbot: QtBot) -> None:
    type_in(qtbot, box.tilt, "10")
    assert "no places yet" in box.tilt.message


def test_the_words() -> None:
    said = weighed_sentences(weighed(1000.0, Reading(8.0, 12.0), Reading(8.6, 11.3, 10.0)), "mm")
    assert said[-1] == "The two weighings differ by 0.1 kg; their mean is taken."
    assert "shifts it by" in said[2]
    assert weighed_sentences(weighed(1000.0, Reading(8.0, 12.0)), "in")[0].startswith("It weighs 44.092 lb")
    assert outside_words(20.0, "mm") == []
    assert "120.0 mm outside" in outside_words(120.0, "mm")[0]


def test_scales_without_all_of_it_tell_nothing() -> None:
    assert Scales().weighed() is None
    assert Scales(a=(0.0, 0.0), b=(100.0, 0.0)).weighed() is None
