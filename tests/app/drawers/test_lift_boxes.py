"""The boxes of the drawer Lift, by mouse and keys: what is typed is one step, what is wrong is told beside it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from app.document import Selection
from app.drawers.devices_box import DevicesBox
from app.drawers.effort_box import EffortBox, missing
from app.drawers.handle_box import HandleBox
from app.drawers.hinges_box import FrictionBox, HingesBox
from app.drawers.lift_wants_box import LiftWantsBox
from app.drawers.weights_box import WeightsBox
from kinematics import holding_edits, loading
from kinematics.loads import PinFriction, WorstCase
from kinematics.project import Loads
from tests.app import mouse

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.drawers.lift import LiftDrawer
    from app.fields import Field
    from app.window import Window
    from kinematics.project import Project

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def drawer(window: Window) -> LiftDrawer:
    window.area.open_drawer("Lift")
    QApplication.processEvents()
    return window.lift


def type_in(qtbot: QtBot, field: Field[object], text: str) -> None:
    field.line.setFocus()
    field.line.selectAll()
    qtbot.keyClicks(field.line, text)
    if not text:
        qtbot.keyClick(field.line, Qt.Key.Key_Delete)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)


def loads_of(project: Project) -> Loads:
    return project.loads or Loads()


# ------------------------------------------------------------------------------------------------------------- weights
def test_a_weight_is_added_typed_and_removed_a_step_each(drawer: LiftDrawer, qtbot: QtBot, window: Window) -> None:
    document, box = window.document, drawer.box(WeightsBox)
    before = document.project
    qtbot.mouseClick(box.add_button, LEFT)
    assert document.undo_label == "Add weight"
    assert document.selection == Selection("mass", "2 on hatch")
    assert box.masses.count() == 2
    form = window.checks.entry.form
    type_in(qtbot, form.mass_field, "5 lb")  # type: ignore[union-attr]
    assert loads_of(document.project).masses[-1].mass == pytest.approx(2.26796185)
    assert "2.268 kg" in box.masses.item(1).text()
    qtbot.mouseClick(box.remove_button, LEFT)
    assert document.project == before
    for _ in range(3):
        document.undo()
    assert document.project == before
    assert not document.can_undo


def test_a_weight_follows_what_is_drawn(drawer: LiftDrawer, qtbot: QtBot, window: Window) -> None:
    document = window.document
    drawer.box(WeightsBox)
    document.select(Selection("mass", "on hatch"))
    rows = window.checks.entry.form.made_of  # type: ignore[union-attr]
    rows.weighs.choose("sheet:hatch skin")
    rows.weighs.activated.emit(rows.weighs.currentIndex())
    mass = loads_of(document.project).masses[0]
    assert mass.made_of is not None
    assert document.undo_label == "Set what mass on hatch follows"
    rows = window.checks.entry.form.made_of  # type: ignore[union-attr]  # other rows
    type_in(qtbot, rows.thickness, "2.4")
    twice = loads_of(document.project).masses[0]
    assert twice.mass == pytest.approx(2 * mass.mass)
    type_in(qtbot, rows.thickness, "-1")
    assert "✗" in rows.thickness.message
    assert loads_of(document.project).masses[0] == twice
    type_in(qtbot, rows.density, "7.85 g/cm³")
    assert loads_of(document.project).masses[0].made_of == replace(
        twice.made_of,
        density=7850.0,
        material="",  # type: ignore[type-var]
    )
    assert rows.source.text() == ""


def test_the_links_plates_are_added_in_one_step_and_only_once(drawer: LiftDrawer, qtbot: QtBot, window: Window) -> None:
    document, box = window.document, drawer.box(WeightsBox)
    before = document.project
    qtbot.mouseClick(box.plates_button, LEFT)
    added = loads_of(document.project).masses[1:]
    wide = [link.id for link in before.links if link.kind == "link" and link.width > 0.0]
    assert [mass.on for mass in added] == wide
    assert all(0.01 < mass.mass < 10.0 for mass in added)
    project = document.project
    qtbot.mouseClick(box.plates_button, LEFT)
    assert document.project is project
    assert "already" in window.area.notice.sentence
    document.undo()
    assert document.project == before


# -------------------------------------------------------------------------------------------------------------- handle
def test_the_handle_is_clicked_typed_and_removed(drawer: LiftDrawer, qtbot: QtBot, window: Window) -> None:
    document, box = window.document, drawer.box(HandleBox)
    type_in(qtbot, box.x_field, "1 m")
    handle = loading.handle_of(document.project)
    assert handle.at == (1000.0, 262.0)
    type_in(qtbot, box.x_field, "somewhere")
    assert "can't be read as a length" in box.x_field.message
    qtbot.mouseClick(box.remove_button, LEFT)
    assert loads_of(document.project).handle is None
    assert box.x_field.line.text() == ""
    qtbot.mouseClick(box.click_button, LEFT)
    at = 900.0, 274.0
    mouse.click(qtbot, window.board.view, at)
    assert loading.handle_of(document.project).on == "hatch"
    assert loading.handle_of(document.project).at == pytest.approx(at, abs=1.0 / window.board.view.camera.scale + 5.0)
    window.board.give_up()
    qtbot.mouseClick(box.front_button, LEFT)
    assert loading.handle_of(document.project).at == (1200.0, 260.0) or loading.handle_of(document.project).at[0] > 1150


# ---------------------------------------------------------------------------------------------------- what is missing
def test_what_is_missing_is_said_with_a_button_that_mends_it(drawer: LiftDrawer, qtbot: QtBot, window: Window) -> None:
    document, box = window.document, drawer.box(EffortBox)
    bare = replace(document.project, loads=None)
    document.apply("Take the loads out", bare)
    assert "No weight is entered" in box.missing.text()
    qtbot.mouseClick(box.mend, LEFT)
    assert document.undo_label == "Add weight"
    assert "No handle is set" in box.missing.text()
    qtbot.mouseClick(box.mend, LEFT)
    assert document.undo_label == "Set handle"
    assert not box.mend.isVisibleTo(box)
    assert "The largest push at the handle is" in box.figures.text()
    document.apply("Put it on the body", loading.put_handle(document.project, "bulkhead", (0.0, 0.0)))
    assert "stands still" in box.missing.text()
    qtbot.mouseClick(box.mend, LEFT)
    assert loading.handle_of(document.project).on == "hatch"
    assert missing(document.project) is None


# ------------------------------------------------------------------------------------------------------------- devices
@pytest.mark.parametrize("kind", ["gas strut", "tension spring", "compression spring", "torsion spring"])
def test_each_kind_of_helper_is_added_where_it_works(
    drawer: LiftDrawer, qtbot: QtBot, window: Window, kind: str
) -> None:
    document, box = window.document, drawer.box(DevicesBox)
    document.apply("Take the struts out", loading.remove_device(document.project, "strut"))
    heavy = loads_of(document.project)
    effort = document.analysis.loads
    assert effort is not None
    box.kind.choose(kind)
    qtbot.mouseClick(box.add_button, LEFT)
    (device,) = loads_of(document.project).devices
    assert (device.kind, device.count) == (kind, 2)
    assert document.selection == Selection("device", device.id)
    assert document.analysis.opening.ends == "wanted opening"
    helped = document.analysis.loads
    assert helped is not None
    assert float(helped.effort[90]) < float(effort.effort[90])
    qtbot.mouseClick(box.remove_button, LEFT)
    assert loads_of(document.project) == heavy


def test_a_stroke_of_nothing_is_refused_beside_the_field(drawer: LiftDrawer, qtbot: QtBot, window: Window) -> None:
    document = window.document
    drawer.box(DevicesBox)
    document.select(Selection("device", "strut"))
    before = document.project
    form = window.checks.entry.form
    for text in ("0", "-20"):
        type_in(qtbot, form.fields["stroke"], text)  # type: ignore[union-attr]
        assert "must be greater than 0" in form.fields["stroke"].message  # type: ignore[union-attr]
    assert document.project is before


# --------------------------------------------------------------------------------------------------------------- wants
def test_wants_are_typed_and_what_they_come_to_stands_beneath(drawer: LiftDrawer, qtbot: QtBot, window: Window) -> None:
    document, box = window.document, drawer.box(LiftWantsBox)
    type_in(qtbot, box.anywhere, "15 lbf")
    wants = loading.lift_wants_of(document.project)
    assert wants.at_most == pytest.approx(66.7233, abs=1e-4)
    assert box.comes_to["push", "largest"].text().startswith("✗")
    assert document.undo_label == "Want the largest push"
    type_in(qtbot, box.anywhere, "")
    assert loading.lift_wants_of(document.project).at_most is None
    assert box.comes_to["push", "largest"].isHidden()
    type_in(qtbot, box.slope, "50")
    assert "45 at most" in box.slope.message
    assert box.wind.text().startswith("None;")
    document.apply("Wind", holding_edits.set_wind(document.project, 10.0))
    assert box.wind.text() == "10 m/s, typed under Holding open."
    type_in(qtbot, box.cold, "14 °F")
    case = loading.lift_wants_of(document.project).stays_open_in
    assert case is not None
    assert (case.wind, case.temperature) == (pytest.approx(10.0), pytest.approx(-10.0))
    qtbot.mouseClick(box.worst, LEFT)
    assert loading.lift_wants_of(document.project).stays_open_in is None
    assert not box.slope.isEnabled()
    qtbot.mouseClick(box.worst, LEFT)
    assert loading.lift_wants_of(document.project).stays_open_in == WorstCase(-10.0, 5.0)


def test_the_gists_tell_of_what_is_folded(drawer: LiftDrawer, window: Window) -> None:
    gists = {kind.__name__: kind.gist(window.document.analysis, window.document) for kind in drawer.sections}
    assert gists["WeightsBox"] == "18 kg"
    assert gists["DevicesBox"] == "2"
    assert gists["HandleBox"] == "1190, 262 mm on hatch"
    assert gists["HingesBox"] == "2 hinges"
    assert gists["LiftWantsBox"].endswith("hold")
    document = window.document
    document.apply("Make it light", loading.change_mass(document.project, "on hatch", mass=1.0))
    assert EffortBox.gist(document.analysis, document) == "rises by itself all the way"


# ------------------------------------------------------------------------------------------------ hinges, and friction
def test_hinges_width_and_friction_are_typed(drawer: LiftDrawer, qtbot: QtBot, window: Window) -> None:
    document, hinges = window.document, drawer.box(HingesBox)
    type_in(qtbot, hinges.hinges, "3")
    type_in(qtbot, hinges.hinges, "1.5")
    assert "no whole number" in hinges.hinges.message
    type_in(qtbot, hinges.across, '55"')
    type_in(qtbot, hinges.across, "0")
    assert "isn't more than 0" in hinges.across.message
    type_in(qtbot, hinges.spacing, "1.1 m")
    loads = loads_of(document.project)
    assert (loads.hinges, loads.across, loads.spacing) == (3, pytest.approx(1397.0), pytest.approx(1100.0))
    rubs = drawer.box(FrictionBox)
    type_in(qtbot, rubs.radius, "5")
    type_in(qtbot, rubs.coefficient, "0.15")
    type_in(qtbot, rubs.temperature, "-20")
    assert loads_of(document.project).pin_friction == PinFriction(5.0, 0.15)
    assert loads_of(document.project).temperature == -20.0
    type_in(qtbot, rubs.temperature, "500")
    assert "must be from -100 to 200" in rubs.temperature.message
    type_in(qtbot, rubs.temperature, "")
    type_in(qtbot, rubs.coefficient, "0")
    type_in(qtbot, rubs.radius, "0")
    assert loads_of(document.project).pin_friction is None
    assert loads_of(document.project).temperature is None
