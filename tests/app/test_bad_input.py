"""Every entry field takes anything that can be pasted into it: a sentence where it can't be used, and nothing is lost.

The fields are found, not listed: whatever form the window comes to have is tried too.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QPlainTextEdit, QWidget

from app.document import Document, Selection
from app.drawers.trace import PasteDialog
from app.entry.outline import OutlineForm
from app.entry.parts_model import NAME, PartsModel, X, Y
from app.fields import Field
from app.preferences_dialog import PreferencesDialog
from kinematics import edits
from kinematics.measures import Anchor, Measure
from tests import specimens
from tests.thorough import THOROUGH

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from app.window import Window

PAGE = "Lorem ipsum dolor sit amet, 12.5 mm; consectetur\n\tadipiscing elit −3/4″ …\n" * 60
BAD = {
    "empty": "",
    "blanks": "   ",
    "words": "about a hand's breadth",
    "huge": "9" * 60,
    "huge power": "1e400",
    "negative": "-123456789",
    "nought by nought": "0/0",
    "not a number": "nan",
    "endless": "inf",
    "two numbers": "12 13 14",
    "signs": "+-*/=()[]{}<>&%$#@!~`\\|;:'\"?",
    "other scripts": "१२३ 十二 ٣٫٥ ½½ ١/٠",
    "control characters": "\x00\x07\x1b[31m\u202e12\u2028\ufffe",
    "a lone surrogate": "\ud800 12",
    "a pasted page": PAGE,
    "a long word": "x" * 20000,
}
# The window's fields all read by the same few functions, which `test_lengths` tries with everything: half will do.
PASTED = (
    "empty",
    "words",
    "huge",
    "negative",
    "nought by nought",
    "other scripts",
    "control characters",
    "a pasted page",
)
STATES: dict[str, Callable[[Window], object]] = {
    "wants": lambda window: window.checks.entry.show_wants(),
    "pivot": lambda window: window.document.select(Selection("pivot", "Q")),
    "link": lambda window: window.document.select(Selection("link", "arm")),
    "outline": lambda window: window.document.select(Selection("outline", "hatch skin", 1)),
    "mark": lambda window: window.document.select(Selection("mark", "rear corner")),
    "measure": lambda window: window.document.select(Selection("measure", "distance")),
}


def visible_fields(widget: QWidget) -> list[str]:
    """Names of the fields to be seen, in order; by name, as a form may be made anew when a value is taken."""
    return [field.line.accessibleName() for field in widget.findChildren(Field) if field.isVisible()]


def field_named(widget: QWidget, name: str) -> Field[object] | None:
    found = [each for each in widget.findChildren(Field) if each.isVisible() and each.line.accessibleName() == name]
    return found[0] if found else None


def paste(qtbot: QtBot, field: Field[object], text: str) -> None:
    """Put a text into a field as one does, by the clipboard, and press Enter."""
    QGuiApplication.clipboard().setText(text)
    line = field.line
    line.setFocus()
    line.selectAll()
    qtbot.keyClick(line, Qt.Key.Key_Delete)
    qtbot.keyClick(line, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    qtbot.keyClick(line, Qt.Key.Key_Return)
    QApplication.processEvents()


def is_a_sentence(message: str) -> bool:
    return message.startswith("✗ ") and message.endswith(".") and len(message) < 400 and "Traceback" not in message


@pytest.mark.parametrize("state", STATES)
def test_every_field_of_the_window_answers_or_takes_it_and_undo_brings_all_back(
    window: Window, qtbot: QtBot, state: str
) -> None:
    document = window.document
    measure = Measure("distance", "distance", (Anchor(pivot="Q"), Anchor(pivot="O1")))
    document.new(edits.add_measure(document.project, measure))
    first = document.project
    STATES[state](window)
    QApplication.processEvents()
    names = visible_fields(window.checks)
    assert names
    for number, name in enumerate(names):
        for kind in PASTED if THOROUGH else PASTED[number % 2 :: 2]:  # its neighbour gets the other half
            text = BAD[kind]
            field = field_named(window.checks, name)
            assert field is not None, f"{name} is gone after {kind}"
            shown, before = field.line.text(), document.project
            paste(qtbot, field, text)
            if document.project is not before:  # it was of use, as a name is: one step, which undo takes back
                assert document.can_undo
                document.undo()
                assert document.project == before
                document.select(None)
                STATES[state](window)
            elif field.message:
                assert is_a_sentence(field.message), field.message
                qtbot.keyClick(field.line, Qt.Key.Key_Escape)
                assert (field.line.text(), field.message) == (shown, "")
            else:
                assert field.line.text() == shown, f"{name} keeps {kind} without a word"
    assert document.project == first
    assert not document.can_undo


def test_the_fields_of_things_to_keep_clear_of_answer_or_take_it(window: Window, qtbot: QtBot) -> None:
    """What is typed there is no step before the thing is placed; a thing that is named is one."""
    window.show_keep_clear()
    QApplication.processEvents()
    box, document = window.trace.keep_clear, window.document
    for name in visible_fields(box):
        for kind in PASTED:
            field = field_named(box, name)
            assert field is not None
            paste(qtbot, field, BAD[kind])
            assert not field.message or is_a_sentence(field.message), field.message
            if field.message:  # else Esc would put the drawer away
                qtbot.keyClick(field.line, Qt.Key.Key_Escape)
            assert field.message == ""
    box.place_button.click()
    before = document.project
    while document.can_undo:
        document.undo()
    while document.can_redo:
        document.redo()
    assert document.project == before


def test_every_preference_answers_or_takes_it(window: Window, qtbot: QtBot) -> None:
    window.show_preferences()
    dialog = window.findChild(PreferencesDialog)
    assert dialog is not None
    before = window.document.preferences
    for name in visible_fields(dialog):
        for text in BAD.values():
            field = field_named(dialog, name)
            assert field is not None
            paste(qtbot, field, text)
            if window.document.preferences != before:  # a number could be read in it
                window.take_preferences(before)
            else:
                assert is_a_sentence(field.message), f"{name}: {text[:20]!r}"
                qtbot.keyClick(field.line, Qt.Key.Key_Escape)
    assert window.document.preferences == before
    assert dialog.isVisible()


@pytest.mark.parametrize("kind", BAD)
def test_every_cell_of_the_list_of_parts_answers_or_takes_it(qapp: object, kind: str) -> None:
    document = Document(specimens.demo_six_bar)
    model, said = PartsModel(document), [""]
    model.said = lambda sentence: said.__setitem__(0, sentence)
    model.unfold("hatch skin")
    one_of_each = {(row.kind, row.part is None): place for place, row in enumerate(model.rows) if row.id}
    assert {kind for kind, _ in one_of_each} == {"pivot", "link", "outline", "mark", "mass"}
    for place in one_of_each.values():
        for column in (NAME, X, Y):
            index = model.index(place, column)
            if not index.flags() & Qt.ItemFlag.ItemIsEditable:
                continue
            before = document.project
            if model.setData(index, BAD[kind]):
                document.undo()
                model.refresh()
            else:
                assert is_a_sentence(said[0]), said[0]
            assert document.project == before
    assert document.project == specimens.demo_six_bar


@pytest.mark.parametrize("kind", BAD)
def test_every_cell_of_an_outlines_points_answers(qapp: object, kind: str) -> None:
    document = Document(specimens.demo_six_bar)
    form = OutlineForm(document, "hatch skin")
    for place in range(form.points.rowCount()):
        for column in range(2):
            index = form.points.index(place, column)
            assert not form.points.setData(index, BAD[kind])
            assert is_a_sentence(form.said.text()), form.said.text()
    assert document.project is specimens.demo_six_bar


@pytest.mark.parametrize("kind", [kind for kind in BAD if kind not in ("empty", "blanks")])
def test_pasted_points_answer_beneath_the_text(qtbot: QtBot, kind: str) -> None:
    dialog = PasteDialog("mm")
    qtbot.addWidget(dialog)
    dialog.show()
    box = dialog.findChild(QPlainTextEdit)
    assert box is not None
    QGuiApplication.clipboard().setText(BAD[kind])
    box.setFocus()
    qtbot.keyClick(box, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    QApplication.processEvents()
    assert dialog.isVisible()
    assert dialog.incoming is None
