"""The viewer, by real keys and clicks: F1, links, back, contents, Esc; other looks, units and widths."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt, QUrl
from PySide6.QtGui import QCursor, QImage, QPainter, QTextDocument
from PySide6.QtWidgets import QApplication, QDialog, QDockWidget, QWidget

from app.document import Selection
from app.drawers.weigh_box import WeighBox
from app.drawers.weights_box import WeightsBox
from app.entry.form import ChoiceBox
from app.entry.line_dialog import change_line
from app.entry.wants import WantsForm
from app.help import pages
from app.help.desk import DIALOGS, SIZE, kept_size
from app.help.over import HelpSheet
from app.help.page_view import SETTLE_MS, PageView
from app.help.viewer import wanted_width
from app.help.where import FORMS, KINDS, PARTS, page_for
from app.preferences_dialog import PreferencesDialog
from kinematics import edits
from tests.app.pictures import differ

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.help.viewer import Help
    from app.window import Window

Key, Modifier = Qt.Key, Qt.KeyboardModifier


def help_of(window: Window) -> Help:
    """The help, which F1 must have made."""
    viewer = window.help.viewer
    assert viewer is not None
    return viewer


def press_f1(window: Window, qtbot: QtBot) -> Help:
    focus = QApplication.focusWidget()
    assert focus is not None
    qtbot.keyClick(focus, Key.Key_F1)
    QApplication.processEvents()
    viewer = help_of(window)
    assert viewer.isVisible()
    return viewer


def spot_of_link(view: PageView, link: str) -> QPoint | None:
    """A pixel of the viewport on a link."""
    for y in range(0, view.viewport().height(), 5):
        for x in range(4, view.viewport().width(), 8):
            if view.anchorAt(QPoint(x, y)) == link:
                return QPoint(x, y)
    return None


# -------------------------------------------------------------------------------------------------------- what F1 opens
def test_nothing_of_the_help_is_made_before_it_is_asked_for(window: Window) -> None:
    assert window.help.viewer is None
    assert window.findChildren(QDockWidget) == []


def test_f1_on_the_board_opens_the_first_page_and_then_that_of_the_open_drawer(window: Window, qtbot: QtBot) -> None:
    QCursor.setPos(window.board.mapToGlobal(window.board.rect().center()))  # an earlier test left it somewhere
    window.board.setFocus()
    assert press_f1(window, qtbot).page == "start"
    for name in ("Trace", "Pins", "Lift", "Build"):
        window.area.open_drawer(name)
        window.board.setFocus()
        assert press_f1(window, qtbot).page == name.lower()


def test_f1_in_a_drawer_opens_its_page(window: Window, qtbot: QtBot) -> None:
    qtbot.mouseClick(window.rail.buttons["Lift"], Qt.MouseButton.LeftButton)
    assert press_f1(window, qtbot).page == "lift"


@pytest.mark.parametrize(
    ("kind", "id_", "page"),
    [("pivot", "Q", "pins"), ("outline", "hatch skin", "trace"), ("mark", "rear corner", "trace#marks")],
)
def test_f1_with_something_selected_opens_the_page_of_its_stage(
    window: Window, qtbot: QtBot, kind: str, id_: str, page: str
) -> None:
    window.document.select(Selection(kind, id_))
    window.board.setFocus()
    assert press_f1(window, qtbot).view.place == page


def test_f1_on_the_strip_and_on_the_checks(window: Window, qtbot: QtBot) -> None:
    window.strip.setFocus()
    assert press_f1(window, qtbot).page == "strip"
    window.checks.rows[0].setFocus()
    assert press_f1(window, qtbot).page == "checks"


def test_f1_in_a_field_of_the_wants(window: Window, qtbot: QtBot) -> None:
    window.checks.entry.findChildren(WantsForm)[0].opening.line.setFocus()
    assert press_f1(window, qtbot).view.place == "checks#the-kinds-of-check"


@pytest.mark.parametrize("place", [*PARTS.values(), *KINDS.values(), *(place for _, place in FORMS)])
def test_every_place_that_f1_opens_is_there(place: str) -> None:
    page, _, section = place.partition("#")
    assert page in pages.ORDER
    assert not section or section in pages.sections(page)


def test_f1_in_the_sections_of_lift(window: Window, qtbot: QtBot) -> None:
    window.area.open_drawer("Lift")
    scales = window.lift.box(WeighBox)
    scales.readings[0].line.setFocus()
    assert press_f1(window, qtbot).view.place == "lift#weigh-it-on-two-supports"
    assert page_for(window.lift.box(WeightsBox).masses, "Lift", "") == "lift#weights"


def test_f1_on_tools_parts_and_things_in_the_way(window: Window, qtbot: QtBot) -> None:
    window.area.open_drawer("Trace")
    entry, toolbox = window.checks.entry, window.board.toolbox
    for part, place in (
        (toolbox.buttons["Angle"], "tools"),
        (entry.parts.table, "tools#the-list-of-parts"),
        (window.trace.keep_clear, "trace#what-is-in-the-way"),
    ):
        assert page_for(part, "Lift", "pivot") == place


def test_f1_on_the_board_answers_for_what_the_pointer_is_on(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    pointed: list[QWidget] = [window.board.toolbox.buttons["Split"]]
    monkeypatch.setattr(QApplication, "widgetAt", lambda *_: pointed[-1])
    window.board.setFocus()
    assert press_f1(window, qtbot).page == "tools"
    pointed.append(window.strip.ruler)
    window.board.setFocus()
    assert press_f1(window, qtbot).page == "strip"
    pointed.append(help_of(window).view)
    window.board.setFocus()
    assert press_f1(window, qtbot).page == "start"
    pointed.append(window.strip.ruler)
    window.checks.rows[0].setFocus()
    assert press_f1(window, qtbot).page == "checks", "what has the keys comes first elsewhere"


def test_f1_in_the_preferences_opens_what_is_said_of_them(window: Window, qtbot: QtBot) -> None:
    window.show_preferences()
    dialog = window.findChildren(PreferencesDialog)[0]
    dialog.activateWindow()
    qtbot.waitUntil(dialog.isActiveWindow)
    qtbot.keyClick(dialog.choices["units"], Key.Key_F1)
    assert help_of(window).view.place == "keeping#preferences"
    dialog.close()


def shown_dialog(window: Window, name: str, qtbot: QtBot) -> QDialog:
    """The dialog of an object name, with the keys."""
    dialog = window.findChild(QDialog, name)
    assert isinstance(dialog, QDialog)
    dialog.activateWindow()
    qtbot.waitUntil(lambda: has_keys(dialog))
    return dialog


def has_keys(dialog: QDialog) -> bool:
    focus = QApplication.focusWidget()
    return focus is not None and dialog.isAncestorOf(focus)


@pytest.mark.parametrize("name", ["trials", "swept room"])
def test_f1_in_a_sheet_beside_the_board_opens_its_place(window: Window, qtbot: QtBot, name: str) -> None:
    (window.show_trials if name == "trials" else window.show_swept_room)()
    dialog = shown_dialog(window, name, qtbot)
    qtbot.keyClick(QApplication.focusWidget(), Key.Key_F1)
    assert help_of(window).view.place == DIALOGS[name]
    dialog.close()


def test_f1_over_a_dialog_that_holds_the_work_up_opens_a_sheet_that_can_be_read(window: Window, qtbot: QtBot) -> None:
    change_line(window.document, "hatch skin", None, window)
    dialog = shown_dialog(window, "change line", qtbot)
    assert dialog.isModal()
    for _ in range(2):  # the same sheet again
        qtbot.keyClick(dialog.findChild(ChoiceBox), Key.Key_F1)
    (sheet,) = dialog.findChildren(HelpSheet)
    assert sheet.isVisible()
    assert sheet.view.place == DIALOGS["change line"]
    assert window.help.viewer is None
    qtbot.waitUntil(sheet.isActiveWindow)
    sheet.view.anchorClicked.emit(QUrl("pins.md#layouts-compared"))
    assert sheet.view.place == "pins#layouts-compared"
    qtbot.keyClick(sheet.view, Key.Key_Escape)
    assert not sheet.isVisible()
    assert dialog.isVisible()
    dialog.reject()


def test_dialogs_are_known_by_places_that_are_there() -> None:
    for place in DIALOGS.values():
        page, _, section = place.partition("#")
        assert section in pages.sections(page)


def test_f1_within_the_help_goes_to_the_start(window: Window, qtbot: QtBot) -> None:
    window.strip.setFocus()
    press_f1(window, qtbot)
    assert press_f1(window, qtbot).page == "start"


@pytest.mark.parametrize(
    ("words", "page"), [("&Help on this", "start"), ("&Contents", "start"), ("&Keys and hands", "hands")]
)
def test_the_help_menu_opens_it(window: Window, words: str, page: str) -> None:
    next(action for action in window.actions() if action.text() == words).trigger()
    assert help_of(window).page == page


# ------------------------------------------------------------------------------------------------------- going about it
def test_a_click_on_a_link_opens_its_page_and_back_comes_back(window: Window, qtbot: QtBot) -> None:
    window.help.open("scissor")
    viewer = help_of(window)
    bar = viewer.view.verticalScrollBar()
    bar.setValue(bar.maximum())
    QApplication.processEvents()
    spot = spot_of_link(viewer.view, "dead-point.md")
    assert spot is not None
    qtbot.mouseClick(viewer.view.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    assert viewer.page == "dead-point"
    assert viewer.contents.value == "dead-point"
    assert bar.value() == 0
    qtbot.mouseClick(viewer.back, Qt.MouseButton.LeftButton)
    assert viewer.page == "scissor"
    assert not viewer.back.isEnabled()


def test_keys_alone_go_through_links_and_back(window: Window, qtbot: QtBot) -> None:
    window.help.open("lift")
    viewer = help_of(window)
    qtbot.keyClick(viewer.view, Key.Key_Tab)
    qtbot.keyClick(viewer.view, Key.Key_Return)
    assert viewer.page == "strip", "the first link of the page"
    qtbot.keyClick(viewer.view, Key.Key_Left, Modifier.AltModifier)
    assert viewer.page == "lift"


def test_after_back_one_can_go_ahead_again_until_another_page_is_taken(window: Window, qtbot: QtBot) -> None:
    window.help.open("lift")
    viewer = help_of(window)
    viewer.follow("build.md")
    viewer.go_back()
    qtbot.keyClick(viewer.view, Key.Key_Right, Modifier.AltModifier)
    assert viewer.page == "build"
    assert not viewer.ahead.isEnabled()
    viewer.go_back()
    viewer.follow("pins.md")
    assert not viewer.ahead.isEnabled()


def test_a_link_to_a_section_shows_its_heading_and_back_comes_back_to_where_one_was_reading(window: Window) -> None:
    window.help.open("tools")
    viewer = help_of(window)
    bar = viewer.view.verticalScrollBar()
    bar.setValue(77)
    viewer.follow("care.md#pinch-places")
    assert (viewer.page, viewer.contents.value) == ("care", "care")
    top = viewer.view.cursorForPosition(QPoint(30, 30)).block().text()
    assert top == "Pinch places"
    window.set_sheet("dark")
    (marked,) = viewer.view.extraSelections()
    assert marked.cursor.block().text() == "Pinch places"
    assert marked.format.background().color().lightness() < 128
    viewer.go_back()
    assert (viewer.page, bar.value()) == ("tools", 77)
    assert viewer.view.extraSelections() == []


def test_words_are_looked_for_by_keys_and_a_found_page_opened(window: Window, qtbot: QtBot) -> None:
    window.help.open("start")
    viewer = help_of(window)
    qtbot.keyClick(viewer.view, Key.Key_F, Modifier.ControlModifier)
    assert viewer.search.hasFocus()
    qtbot.keyClicks(viewer.search, "broom handle")
    qtbot.keyClick(viewer.search, Key.Key_Return)
    assert viewer.view.place == "?broom handle"
    assert viewer.view.accessibleName() == "Help, found: broom handle"
    assert viewer.contents.value == ""
    qtbot.keyClick(viewer.view, Key.Key_Tab)
    qtbot.keyClick(viewer.view, Key.Key_Return)
    assert viewer.page == "lift"
    qtbot.keyClick(viewer.view, Key.Key_Left, Modifier.AltModifier)
    assert "broom" in viewer.view.toPlainText()


def test_letters_grow_and_shrink_in_the_help_alone_and_are_remembered(window: Window, qtbot: QtBot) -> None:
    window.help.open("start")
    view, scale = help_of(window).view, window.board.view.camera.scale
    at_first = view.document().defaultFont().pointSizeF()
    with_shift = Modifier.ControlModifier | Modifier.ShiftModifier  # where + is above another sign
    for key, held in (
        (Key.Key_Plus, Modifier.ControlModifier),
        (Key.Key_Plus, with_shift),
        (Key.Key_Equal, with_shift),
    ):
        qtbot.keyClick(view, key, held)
    assert view.document().defaultFont().pointSizeF() == pytest.approx(1.331 * at_first, abs=0.2)
    assert window.board.view.camera.scale == scale
    assert view.document().size().width() <= view.viewport().width()
    assert window.settings.text(SIZE) == "1.33"
    qtbot.keyClick(view, Key.Key_Minus, Modifier.ControlModifier)
    assert view.letters == pytest.approx(1.21)
    qtbot.keyClick(view, Key.Key_0, Modifier.ControlModifier)
    assert view.letters == 1.0


@pytest.mark.parametrize(("kept", "size"), [("", 1.0), ("1.5", 1.5), ("noise", 1.0), ("nan", 1.0), ("-1", 1.0)])
def test_a_size_of_noise_is_the_desktops(kept: str, size: float) -> None:
    assert kept_size(kept) == size


def test_the_contents_list_all_pages_and_open_them(window: Window, qtbot: QtBot) -> None:
    window.help.open("start")
    viewer = help_of(window)
    assert [viewer.contents.itemText(place) for place in range(viewer.contents.count())] == [
        pages.title(page) for page in pages.ORDER
    ]
    viewer.contents.setFocus()
    qtbot.keyClick(viewer.contents, Key.Key_End)
    assert viewer.page == pages.ORDER[-1]


def test_esc_puts_it_away_and_the_keys_are_where_they_were(window: Window, qtbot: QtBot) -> None:
    window.strip.setFocus()
    viewer = press_f1(window, qtbot)
    assert viewer.view.hasFocus()
    qtbot.keyClick(viewer.view, Key.Key_Escape)
    assert viewer.isHidden()
    assert window.strip.hasFocus()
    viewer = press_f1(window, qtbot)
    assert viewer.isVisible()


def test_the_work_goes_on_beside_it(window: Window, qtbot: QtBot) -> None:
    """It isn't modal, and it takes no key that is the window's."""
    document = window.document
    document.apply("Turn", edits.set_travel(document.project, wanted_deg=60.0))
    window.help.open("pins")
    assert not help_of(window).isModal()
    qtbot.keyClick(help_of(window).view, Key.Key_Z, Modifier.ControlModifier)
    assert document.project.travel.wanted_deg == 75.0
    assert window.board.width() > 400
    assert help_of(window).view.width() < 360


@pytest.mark.parametrize(("room", "width"), [(800, 300), (1280, 346), (1920, 440), (3840, 440)])
def test_in_a_small_window_the_help_is_narrower(room: int, width: int) -> None:
    assert wanted_width(room) == width


def test_a_link_can_show_the_first_steps(window: Window, qtbot: QtBot) -> None:
    window.help.open("start")
    view = help_of(window).view
    QApplication.processEvents()
    view.verticalScrollBar().setValue(view.verticalScrollBar().maximum() // 2)
    spot = spot_of_link(view, "do:first-steps")
    assert spot is not None
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    assert len(window.first_steps.callouts) == 3
    window.first_steps.put_away()


# --------------------------------------------------------------------------------------------------------- how it looks
def painted(view: PageView) -> QImage:
    """The page on show as it is painted, without bars."""
    image = QImage(view.viewport().size(), QImage.Format.Format_RGB32)
    painter = QPainter(image)
    view.viewport().render(painter, QPoint(0, 0))
    painter.end()
    return image


@pytest.mark.parametrize("sheet", ["light", "dark"])
def test_every_page_shows_its_pictures_within_its_width(window: Window, sheet: str) -> None:
    window.set_sheet(sheet)
    for page in pages.ORDER:
        window.help.open(page)
        view = help_of(window).view
        QApplication.processEvents()
        assert view.document().size().width() <= view.viewport().width(), page
        for name in pictures_asked(page):
            image = view.document().resource(QTextDocument.ResourceType.ImageResource.value, f"picture:{name}")
            assert isinstance(image, QImage)
            assert (image.pixelColor(image.width() // 2, 3).lightness() > 128) == (sheet == "light"), name
            assert abs(image.width() / image.devicePixelRatio() - view.viewport().width()) < 40


def pictures_asked(page: str) -> list[str]:
    return [part.split(")")[0] for part in pages.source(page).split("(picture:")[1:]]


def test_other_colours_and_units_are_taken_over_while_it_is_open(window: Window) -> None:
    window.set_sheet("light")
    window.help.open("single-pivot")
    view = help_of(window).view
    QApplication.processEvents()
    before = painted(view)
    assert "16.6 mm" in view.toPlainText()
    window.set_units("in")
    QApplication.processEvents()
    assert '21/32"' in view.toPlainText()
    window.set_sheet("dark")
    QApplication.processEvents()
    assert differ(before, painted(view)) > 0.5


def test_a_wider_help_has_wider_pictures(window: Window, qtbot: QtBot) -> None:
    window.help.open("strip")
    viewer = help_of(window)
    QApplication.processEvents()
    window.resize(1600, 800)
    window.resizeDocks([viewer], [700], Qt.Orientation.Horizontal)
    qtbot.wait(2 * SETTLE_MS)
    image = viewer.view.document().resource(QTextDocument.ResourceType.ImageResource.value, "picture:strip")
    assert isinstance(image, QImage)
    assert image.width() > 600


def test_cautions_stand_out(window: Window) -> None:
    window.set_sheet("light")
    window.help.open("care")
    view = help_of(window).view
    block = view.document().begin()
    washes = set[str]()
    while block.isValid():
        if block.text().startswith("It falls when"):
            washes.add(block.blockFormat().background().color().name())
        block = block.next()
    assert len(washes) == 1
    assert washes != {window.look.paper}


def test_headings_are_larger_than_words(window: Window) -> None:
    window.help.open("start")
    sheet = help_of(window).view.document()
    first = sheet.begin()
    size = first.begin().fragment().charFormat().fontPointSize()
    assert size > 1.3 * sheet.defaultFont().pointSizeF()


def test_the_keys_page_lists_what_the_menus_have(window: Window) -> None:
    window.help.open("hands")
    told = help_of(window).view.toPlainText()
    for action in window.actions():
        key = action.shortcut().toString()
        if key and action.text():
            assert key in told, action.text()
    assert "drag a pivot" in told
    assert "12+3/4" in told


def test_it_says_what_it_is_to_a_screen_reader(window: Window) -> None:
    window.help.open("dead-point")
    viewer = help_of(window)
    assert viewer.view.accessibleName() == "Help: What a dead point does"
    for control in (viewer.back, viewer.contents):
        assert control.accessibleName()
        assert len(control.toolTip()) > 10
    assert "A dead point is an opening" in viewer.view.toPlainText()
