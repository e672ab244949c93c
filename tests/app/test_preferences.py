"""Preferences: what may be set, kept between two starts, and taken over at once; by keys, looking at the window."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QPushButton

from app.document import Document, Selection
from app.lengths import LengthStyle
from app.preferences import Preferences
from app.preferences_dialog import PreferencesDialog
from app.settings import Settings
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window


# ------------------------------------------------------------------------------------------------------------ the value
@pytest.mark.parametrize(
    "wrong",
    [
        {"units": "cubit"},
        {"fraction": 17},
        {"decimals": 9},
        {"decimals": True},
        {"sign": ";"},
        {"sheet": "pink"},
        {"nudge": 0.0},
        {"fine_nudge": -1.0},
        {"nudge": float("nan")},
        {"nudge": 1e6},
        {"clearance": -0.1},
        {"shut_gap": float("inf")},
    ],
)
def test_what_makes_no_sense_is_refused_with_a_sentence(wrong: dict[str, Any]) -> None:
    with pytest.raises(HingewrightError, match=r"^[A-Z].*: .*\. .*\.$"):
        Preferences(**wrong)


def test_the_decimal_sign_is_the_desktops_or_the_builders() -> None:
    assert Preferences().habits(system_comma=True) == LengthStyle("mm", 64, 1, comma=True)
    assert not Preferences(sign="point").habits(system_comma=True).comma
    assert Preferences(sign="comma").habits(system_comma=False).comma


def test_they_are_kept_between_two_starts(own_settings: None) -> None:
    mine = Preferences("in", 16, 2, "comma", 2.5, 0.05, 6.0, 3.5, "dark")
    Settings().set_preferences(mine)
    Settings()._store.sync()
    assert Settings().preferences() == mine


def test_a_wrong_value_in_the_file_costs_only_itself(own_settings: None) -> None:
    settings = Settings()
    settings.set_preferences(Preferences(decimals=3, nudge=2.0))
    settings._store.setValue("preferences/nudge", "a page of noise\n" * 99)
    settings._store.setValue("preferences/fraction", "1e400")
    settings._store.setValue("preferences/clearance", "nan")
    assert settings.preferences() == Preferences(decimals=3)


# ----------------------------------------------------------------------------------------------------------- the dialog
@pytest.fixture
def dialog(window: Window, qtbot: QtBot) -> PreferencesDialog:
    action = next(action for action in window.actions() if action.text() == "Pre&ferences…")
    action.trigger()
    found = window.findChild(PreferencesDialog)
    assert found is not None
    with qtbot.waitExposed(found):
        pass
    return found


def choose(dialog: PreferencesDialog, qtbot: QtBot, name: str, value: str) -> None:
    """Choose by keys, as one does without a mouse."""
    box = dialog.choices[name]
    box.setFocus()
    qtbot.keyClick(box, Qt.Key.Key_Home)
    while box.value != value:
        qtbot.keyClick(box, Qt.Key.Key_Down)


def type_in(dialog: PreferencesDialog, qtbot: QtBot, name: str, text: str) -> None:
    line = dialog.fields[name].line
    line.setFocus()
    line.selectAll()
    qtbot.keyClicks(line, text)
    qtbot.keyClick(line, Qt.Key.Key_Return)


def about_the_screen(window: Window) -> str:
    return next(row.sentence for row in window.checks.rows if row.sentence.startswith("screen and sill"))


def test_decimals_show_everywhere_at_once(window: Window, dialog: PreferencesDialog, qtbot: QtBot) -> None:
    project = window.document.project
    assert about_the_screen(window) == "screen and sill – hatch skin: 10.6 mm at 3.2°, wants 10.0 mm"
    choose(dialog, qtbot, "decimals", "2")
    choose(dialog, qtbot, "sign", "comma")
    assert about_the_screen(window) == "screen and sill – hatch skin: 10,57 mm at 3,2°, wants 10,00 mm"
    assert window.strip.lanes[0]._told._words == "✓ least 10,57 mm at 3,2°"
    label = window.board.scene.shown("gap:screen and sill|hatch skin:label")
    assert getattr(label, "text", "") == "10,57 mm at 3,2°"
    assert dialog.example.text() == "21/64″, or 8.334 mm, reads 8,33 mm."
    assert window.document.project is project, "nothing of the project is touched"
    window.document.select(Selection("pivot", "Q"))
    assert window.checks.entry.form is not None
    assert Settings().preferences() == Preferences(decimals=2, sign="comma")


def test_units_are_this_hinges_as_one_step_and_of_the_next_ones(
    window: Window, dialog: PreferencesDialog, qtbot: QtBot
) -> None:
    choose(dialog, qtbot, "units", "in")
    assert window.document.project.display_units == "in"
    assert window.document.undo_label == "Show inches"
    choose(dialog, qtbot, "fraction", "16")
    assert about_the_screen(window) == 'screen and sill – hatch skin: 7/16" at 3.2°, wants 3/8"'
    window.document.undo()
    assert dialog.choices["units"].value == "mm"
    window.document.new()
    assert window.document.project.display_units == "in"


def test_nudges_are_as_far_as_set(window: Window, dialog: PreferencesDialog, qtbot: QtBot) -> None:
    document = window.document
    type_in(dialog, qtbot, "nudge", "2,5")
    type_in(dialog, qtbot, "fine_nudge", "1/4")
    document.select(Selection("pivot", "Q"))
    x, y = document.project.pivot("Q").at
    window.board.setFocus()
    qtbot.keyClick(window.board, Qt.Key.Key_Right)
    assert document.project.pivot("Q").at == pytest.approx((x + 2.5, y), abs=1e-9)
    qtbot.keyClick(window.board, Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    assert document.project.pivot("Q").at == pytest.approx((x + 2.5, y + 0.25), abs=1e-9)


def test_a_wrong_entry_is_answered_and_changes_nothing(dialog: PreferencesDialog, qtbot: QtBot) -> None:
    for text in ("0", "-3", "much", "9" * 40):
        type_in(dialog, qtbot, "nudge", text)
        assert dialog.fields["nudge"].message.startswith("✗ ")
        assert dialog.fields["nudge"].line.text() == text
    assert Settings().preferences() == Preferences()
    QApplication.processEvents()
    assert dialog.isVisible(), "Enter in a field closes nothing"


def test_the_sheet_turns_dark_and_the_menu_knows_it(window: Window, dialog: PreferencesDialog, qtbot: QtBot) -> None:
    choose(dialog, qtbot, "sheet", "dark")
    assert window.look.name == "dark"
    assert window.menus.sheets["dark"].isChecked()
    window.menus.sheets["light"].trigger()
    assert dialog.choices["sheet"].value == "light"


def test_all_as_at_first(window: Window, dialog: PreferencesDialog, qtbot: QtBot) -> None:
    choose(dialog, qtbot, "decimals", "3")
    type_in(dialog, qtbot, "clearance", "7")
    reset = next(button for button in dialog.findChildren(QPushButton) if button.text() == "As at first")
    qtbot.mouseClick(reset, Qt.MouseButton.LeftButton)
    assert window.document.preferences == Preferences() == Settings().preferences()
    assert dialog.choices["decimals"].value == "1"
    assert dialog.fields["clearance"].line.text() == "5 mm"


def test_escape_puts_it_away(dialog: PreferencesDialog, qtbot: QtBot) -> None:
    with qtbot.waitSignal(dialog.destroyed):
        qtbot.keyClick(dialog, Qt.Key.Key_Escape)
        QApplication.processEvents()


def test_a_document_alone_has_them_as_at_first(qapp: object) -> None:
    assert Document().preferences == Preferences()
    assert Document().units == LengthStyle()
