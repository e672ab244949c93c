"""Floor, roof and front edge: typed, emptied, and refused in a sentence."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QLineEdit

from app.entry.form import ChoiceBox
from kinematics import wanting
from kinematics.project import FrontEdge, Room
from tests.app.entry.test_entry import field_with, line_of, type_in

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.document import Document
    from app.entry.panel import EntryPanel

HEIGHT = "Want the front edge's height"


def names(panel: EntryPanel) -> list[str]:
    assert panel.form is not None
    return [line.accessibleName() for line in panel.form.findChildren(QLineEdit)]


def test_the_front_edge_is_asked_for_once_there_is_a_floor(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    assert HEIGHT not in names(panel)
    type_in(qtbot, line_of(panel, "Set the floor"), "-640")
    assert document.project.room == Room(-640.0)
    type_in(qtbot, line_of(panel, HEIGHT), "1.8 m")
    assert document.project.room == Room(-640.0, None, FrontEdge(at_least=1800.0))
    assert any(check.kind == "front edge" for check in document.analysis.checks)
    type_in(qtbot, line_of(panel, "Set the floor"), " ")
    assert document.project.room is None
    assert HEIGHT not in names(panel)


def test_a_mark_may_be_the_front_edge(panel: EntryPanel, document: Document, qtbot: QtBot) -> None:
    document.apply("Floor", wanting.set_floor(document.project, -640.0))
    assert panel.form is not None
    box = next(b for b in panel.form.findChildren(ChoiceBox) if b.accessibleName() == "Set the front edge")
    assert [box.itemText(row) for row in range(box.count())] == ["foremost point of the panel", "rear corner"]
    box.setCurrentIndex(1)
    box.activated.emit(1)
    assert wanting.front_of(document.project) == FrontEdge("rear corner")
    document.undo()
    assert box.value == ""


def test_a_roof_is_a_check_and_one_under_the_floor_is_refused(
    panel: EntryPanel, document: Document, qtbot: QtBot
) -> None:
    type_in(qtbot, line_of(panel, "Set the roof"), "1000")
    (check,) = [check for check in document.analysis.checks if check.kind == "roof"]
    assert not check.ok
    type_in(qtbot, line_of(panel, "Set the floor"), "1200")
    line = line_of(panel, "Set the floor")
    assert "not above it" in field_with(line).message
    assert document.project.room == Room(None, 1000.0)
    type_in(qtbot, line_of(panel, "Set the roof"), " ")
    assert document.project.room is None
