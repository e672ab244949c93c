"""Exact entry of masses, the handle, struts and springs by real keys."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit

from app.document import Document, Selection
from app.entry.loads import DeviceForm, HandleForm, MassForm
from app.entry.panel import EntryPanel
from kinematics import edits, loading
from kinematics.parts import Attachment, Mass
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.fields import Field

FIXED, PANEL = demo_six_bar.fixed.id, demo_six_bar.panel.id
ENDS = Attachment(FIXED, (250.0, -60.0)), Attachment(PANEL, (330.0, 180.0))


@pytest.fixture
def document(qapp: object) -> Document:
    project = loading.put_handle(replace(demo_six_bar, loads=None), PANEL, (1100.0, 230.0))
    project = loading.add_mass(project, Mass(PANEL, 8.0, (600.0, 220.0)))
    strut = loading.usual_device("strut", "gas strut", *ENDS, 200.0, 700.0)
    return Document(loading.add_device(project, strut))


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> EntryPanel:
    panel = EntryPanel(document)
    qtbot.addWidget(panel)
    return panel


def type_in(qtbot: QtBot, field: Field[float] | Field[int], text: str) -> str:
    """Type into a field; gives what it says beside."""
    line = field.line
    assert isinstance(line, QLineEdit)
    line.selectAll()
    qtbot.keyClicks(line, text)
    qtbot.keyClick(line, Qt.Key.Key_Return)
    return field.message


def test_a_mass_is_typed_in_pounds_and_moved(qtbot: QtBot, document: Document, panel: EntryPanel) -> None:
    document.select(Selection("mass", f"on {PANEL}"))
    form = panel.form
    assert isinstance(form, MassForm)
    assert type_in(qtbot, form.mass_field, "40 lb") == ""
    assert loading.mass_named(document.project, f"on {PANEL}").mass == pytest.approx(18.1436948, abs=1e-9)
    assert document.undo_label == f"Set mass on {PANEL}"
    type_in(qtbot, form.x_field, "1/2 in")
    assert loading.mass_named(document.project, f"on {PANEL}").at == (12.7, 220.0)
    assert "mass" in type_in(qtbot, form.mass_field, "-3")
    assert loading.mass_named(document.project, f"on {PANEL}").mass > 0


def test_a_mass_on_another_link_stays_selected_under_its_new_name(document: Document, panel: EntryPanel) -> None:
    document.select(Selection("mass", f"on {PANEL}"))
    form = panel.form
    assert isinstance(form, MassForm)
    form.on.choose(FIXED)
    form.on.activated.emit(0)
    assert document.selection == Selection("mass", f"on {FIXED}")


def test_the_handle_is_typed_and_says_its_name_once(qtbot: QtBot, document: Document, panel: EntryPanel) -> None:
    document.select(Selection("handle", loading.HANDLE))
    form = panel.form
    assert isinstance(form, HandleForm)
    type_in(qtbot, form.y_field, "240")
    assert loading.handle_of(document.project).at == (1100.0, 240.0)
    assert document.undo_label == "Move handle"


def test_a_struts_figures_are_typed_and_what_cannot_be_is_told(
    qtbot: QtBot, document: Document, panel: EntryPanel
) -> None:
    document.select(Selection("device", "strut"))
    form = panel.form
    assert isinstance(form, DeviceForm)
    type_in(qtbot, form.fields["force"], "0.4 kN")
    type_in(qtbot, form.count_field, "2")
    type_in(qtbot, form.fields["tube"], "22")
    made = loading.device_named(document.project, "strut")
    assert (made.force, made.count, made.tube) == (400.0, 2, 22.0)
    for text in ("0", "-20"):
        assert "stroke" in type_in(qtbot, form.fields["stroke"], text)
    assert "rod" in type_in(qtbot, form.fields["rod"], "30")
    assert loading.device_named(document.project, "strut").stroke == made.stroke
    assert "shut" in form.lengths.text()
    assert "drawn out" in form.lengths.text()


def test_another_kind_brings_other_rows(document: Document, panel: EntryPanel) -> None:
    document.select(Selection("device", "strut"))
    for kind, row in (("tension spring", "free"), ("torsion spring", "moment"), ("gas strut", "extended")):
        document.attempt("Kind", lambda project, kind=kind: loading.change_kind(project, "strut", kind))  # type: ignore[misc]
        assert isinstance(panel.form, DeviceForm)
        assert row in panel.form.fields


def test_a_rename_keeps_it_selected(qtbot: QtBot, document: Document, panel: EntryPanel) -> None:
    document.select(Selection("device", "strut"))
    assert panel.form is not None
    line = next(each for each in panel.form.findChildren(QLineEdit) if each.accessibleName() == "Name of device strut")
    line.selectAll()
    qtbot.keyClicks(line, "left strut")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert document.selection == Selection("device", "left strut")


def test_what_goes_with_its_link_is_selected_no_more(document: Document, panel: EntryPanel) -> None:
    document.attempt("Ride", lambda project: loading.ride_spot(project, "device", "strut", "arm", 1))
    document.select(Selection("device", "strut"))
    document.attempt("Remove", lambda project: edits.remove_link(project, "arm"))
    assert document.selection is None
    assert panel.form is not None
