"""The window: rail and drawers at the left, the board in the middle, the checks at the right, the travel strip below.

It puts the parts together; its files are looked after by `app.filing`. What goes wrong is told in a bar over the board,
never in a box. Faults that reach no one else come to `Faults`.
"""

from __future__ import annotations

import gc
import sys
from dataclasses import replace
from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QLocale, Qt
from PySide6.QtGui import QCloseEvent, QGuiApplication, QKeyEvent
from PySide6.QtWidgets import QApplication

from app.about import about_dialog
from app.board import Board
from app.checks import ChecksPanel
from app.dialog_places import show_at_foot, show_at_side
from app.document import Document, Selection
from app.drawers.build import BuildDrawer
from app.drawers.finder_box import WANTED as STRUTS
from app.drawers.lift import LiftDrawer
from app.drawers.mockup_box import TEMPLATES
from app.drawers.pins import PinsDrawer
from app.drawers.pins_made_box import PinsMadeBox
from app.drawers.plates_box import PlatesBox
from app.drawers.strength_box import TO_PINS, TO_PLATES
from app.drawers.templates_box import DRILL_TEMPLATES
from app.drawers.trace import TraceDrawer
from app.exports import show_cutting, show_mockup, show_templates
from app.faultlog import FaultLog, broken_off
from app.faults import Faults
from app.filing import FilingWindow
from app.first_steps import FirstSteps
from app.help.desk import HelpDesk
from app.identity import identify, take_handed_over
from app.interrupts import interrupt_closes
from app.layout_job import LayoutJob
from app.look import Look, dark, light
from app.menus import Menus
from app.offers import Offers
from app.preferences_dialog import PreferencesDialog
from app.proposals.sheet import FindSheet
from app.proposals.showing import Shown
from app.putting_right import PuttingRight
from app.rail import Rail, SheetArea
from app.removing import remove_all
from app.set_showing import show_set
from app.setout.showing import show_setout
from app.settings import Settings
from app.shares import Shares, order_tabs
from app.stack.showing import show_stack
from app.standing import Standing
from app.strip import TravelStrip
from app.struts.sheet import StrutSheet
from app.struts.shown import StrutShown
from app.sweptroom.dialog import SweptDialog
from app.sweptroom.overlay import SweptOverlay
from app.theme import palette, style_sheet, system_is_dark
from app.trials.beside import Beside
from app.trials.dialog import TrialsDialog
from app.trials.readings import Readings as TrialReadings
from kinematics import edits

if TYPE_CHECKING:
    from pathlib import Path

    from app.preferences import Preferences
    from kinematics.project import Project
    from kinematics.results import Check

DEMO = "demos/launch hatch.hinge"


class Window(FilingWindow):
    """One window over one document."""

    def __init__(self, document: Document, settings: Settings | None = None) -> None:
        super().__init__()
        self.document = document
        self.settings = settings or Settings()
        document.set_preferences(self.settings.preferences(), desktop_has_comma())
        self.look = self._wanted_look()
        self._dress()  # before there are parts, else each would be dressed twice
        self.setWindowTitle("[*]")
        self.setAcceptDrops(True)
        self.board = Board(document, self.look)
        self.board.setAcceptDrops(False)
        self.board.view.setAcceptDrops(False)  # a file dropped on the board is the window's
        self.area = SheetArea(self.board)
        self.rail = Rail(self.look)
        self.checks = ChecksPanel(document, self.look)
        self.strip = TravelStrip(document, self.look)
        self._add_drawers()
        self._lay_out()
        self.offers = Offers(self)
        self.board.set_snaps(self.settings.snaps())
        self.board.pinched.is_wanted = self.settings.pinches()
        self.board.pushed.is_wanted = self.settings.pushes()
        self.board.borne.is_wanted = self.settings.forces()
        self.board.built.is_wanted = self.settings.mount()
        self._trials = TrialReadings(document, self)
        self._beside = Beside(self.board)
        self._swept = SweptOverlay(self.board)
        self._proposed = Shown(self.board)
        self.putting_right = PuttingRight(self.board, self.area.notice, self)
        self.help = HelpDesk(self)
        self.first_steps = FirstSteps(self)
        self.menus = Menus(self)
        self._connect()
        self._refresh()
        self.standing = Standing(self)
        self.standing.take_up()
        self.board.setFocus(Qt.FocusReason.OtherFocusReason)

    # Layout ----------------------------------------------------------------------------------------------------------

    def _add_drawers(self) -> None:
        for name, make in {
            "Trace": self._made_trace, "Pins": self._made_pins, "Lift": self._made_lift, "Build": self._made_build,
        }.items():  # fmt: skip
            self.area.add_drawer(name, make)

    def _made_trace(self) -> TraceDrawer:
        trace = TraceDrawer(self.document, self.board, lambda: self.look)
        trace.file_wanted.connect(self.ask_outlines)
        trace.photo_wanted.connect(self.ask_photo)
        trace.start_wanted.connect(lambda: self.area.open_drawer("Pins"))
        return trace

    def _made_pins(self) -> PinsDrawer:
        pins = PinsDrawer(self.document, self.board, lambda: self.look)
        pins.search_wanted.connect(self.find_hinges)
        return pins

    def _made_lift(self) -> LiftDrawer:
        lift = LiftDrawer(self.document, self.board)
        lift.wanted.connect(lambda what: self.find_struts() if what == STRUTS else self._go_to_build(what))
        return lift

    def _go_to_build(self, what: str) -> None:
        """Open the section of the drawer Build where something is typed that another drawer only tells."""
        boxes: dict[str, type[PinsMadeBox | PlatesBox]] = {TO_PINS: PinsMadeBox, TO_PLATES: PlatesBox}
        if what in boxes:
            self.area.open_drawer("Build")
            self.build.box(boxes[what]).scope.setFocus(Qt.FocusReason.OtherFocusReason)

    def _made_build(self) -> BuildDrawer:
        build = BuildDrawer(self.document, self.board)
        build.wanted.connect(lambda what: show_mockup(self) if what == TEMPLATES else None)
        build.wanted.connect(lambda what: show_templates(self) if what == DRILL_TEMPLATES else None)
        build.wanted.connect(lambda what: show_stack(self, what))
        build.wanted.connect(lambda what: show_setout(self, what))
        build.wanted.connect(lambda what: show_set(self, what))
        return build

    @property
    def trace(self) -> TraceDrawer:
        """The drawer Trace, made now if it hasn't been; so are the others."""
        return cast("TraceDrawer", self.area.drawers["Trace"])

    @property
    def pins(self) -> PinsDrawer:
        """The drawer Pins."""
        return cast("PinsDrawer", self.area.drawers["Pins"])

    @property
    def lift(self) -> LiftDrawer:
        """The drawer Lift."""
        return cast("LiftDrawer", self.area.drawers["Lift"])

    @property
    def build(self) -> BuildDrawer:
        """The drawer Build."""
        return cast("BuildDrawer", self.area.drawers["Build"])

    def _lay_out(self) -> None:
        self.shares = Shares(self.rail, self.area, self.checks, self.strip)
        self.setCentralWidget(self.shares.whole)
        order_tabs(self.rail, self.area, self.checks, self.strip)

    def _connect(self) -> None:
        document = self.document
        for signal in (document.analysed, document.selected):
            signal.connect(lambda _: self._refresh())
        document.file_changed.connect(self._refresh)
        document.noticed.connect(self.area.notice.show_sentence)
        document.outlived.connect(self.area.notice.outlive)
        document.told.connect(self.area.notice.show_news)
        document.file_changed.connect(lambda: self.area.notice.show_sentence(""))
        document.changed.connect(lambda _: self.area.notice.pass_on())
        self.rail.chosen.connect(self.area.toggle_drawer)
        self.area.drawer_changed.connect(self.rail.show_open)
        self.area.drawer_changed.connect(self._look_at_built)
        self.checks.asked.connect(self._go_to)
        self.checks.build_line.clicked.connect(lambda: show_cutting(self, faults=True))
        self.checks.put_right_wanted.connect(self.putting_right.start)
        self.board.view.pressed.connect(lambda *_: self.strip.stop())  # else the pose runs on under the hand
        self.strip.played.connect(self.menus.show_playing)
        QGuiApplication.styleHints().colorSchemeChanged.connect(lambda _: self._apply_look())

    def _refresh(self) -> None:
        """Bring title and menus up to date. Cheap: it runs on every move of a drag."""
        document = self.document
        name = document.path.name if document.path is not None else (document.project.title or "Untitled")
        title = f"{name}[*] – Hingewright"
        if title != self.windowTitle():
            self.setWindowTitle(title)
        self.setWindowModified(document.is_modified)
        self.menus.refresh()

    # Look ------------------------------------------------------------------------------------------------------------

    def _wanted_look(self) -> Look:
        sheet = self.document.preferences.sheet
        return dark() if sheet == "dark" or (sheet == "system" and system_is_dark()) else light()

    def set_sheet(self, sheet: str) -> None:
        """Take the light or the dark sheet, or ("system") the one that the desktop asks for."""
        self.take_preferences(replace(self.document.preferences, sheet=sheet))

    def take_preferences(self, preferences: Preferences) -> None:
        """Work by other preferences from now on, and remember them."""
        is_another_sheet = preferences.sheet != self.document.preferences.sheet
        self.settings.set_preferences(preferences)
        self.document.set_preferences(preferences, desktop_has_comma())
        if is_another_sheet:
            self._apply_look()
        self.menus.refresh()

    def show_preferences(self) -> None:
        """Show the sheet of preferences beside the work, so that what they change is seen."""
        dialog = PreferencesDialog(self.document, self.take_preferences, self.set_units, self)
        self.help.answer_in(dialog, "keeping#preferences")
        dialog.show()

    def show_trials(self) -> None:
        """Show the trials beside the work."""
        show_at_foot(TrialsDialog(self.document, self._trials, self._beside, lambda: self.look, self), self)

    def find_hinges(self) -> None:
        """Show the sheet that looks for hinges, beside the work; there is one at most."""
        sheet = self.findChild(FindSheet)
        if sheet is not None and sheet.isVisible():
            sheet.raise_()
            sheet.activateWindow()
            return
        sheet = FindSheet(self.document, self._proposed, lambda: self.look, self)
        self.help.answer_in(sheet, "proposals")
        show_at_side(sheet, self)

    def find_struts(self) -> None:
        """Show the sheet that looks for struts, beside the work; there is one at most."""
        sheet = self.findChild(StrutSheet)
        if sheet is not None and sheet.isVisible():
            sheet.raise_()
            sheet.activateWindow()
            return
        sheet = StrutSheet(self.board, StrutShown(self.board, self.strip), lambda: self.look, self)
        self.help.answer_in(sheet, "lift#find-struts")
        show_at_side(sheet, self)

    def show_swept_room(self) -> None:
        """Show the room that the travel takes, on the board and in words."""
        if not self._swept.is_wanted:
            show_at_foot(SweptDialog(self.document, self._swept, self.settings, self), self)

    def _dress(self) -> None:
        colours = palette(self.look)
        if QApplication.palette() != colours:  # else every widget would be told for nothing
            QApplication.setPalette(colours)
        self.setStyleSheet(style_sheet(self.look))

    def _apply_look(self) -> None:
        self.look = self._wanted_look()
        self._dress()
        self.board.set_look(self.look)
        self.strip.set_look(self.look)
        self.checks.set_look(self.look)
        self.rail.set_look(self.look)
        for drawer in self.area.drawers.made.values():
            drawer.set_look(self.look)
        self.help.set_look(self.look)

    def set_snaps(self, snaps: bool) -> None:
        """Let what is near draw the hand on the board, or not, and remember it."""
        self.settings.set_snaps(snaps)
        self.board.set_snaps(snaps)

    def show_keep_clear(self) -> None:
        """Turn to the list of things in the way."""
        self.area.open_drawer("Trace")
        self.trace.show_keep_clear()

    def set_pinches(self, marked: bool) -> None:
        """Mark pinch places on the board, or not, and remember it."""
        self.settings.set_pinches(marked)
        self.board.pinched.is_wanted = marked

    def set_pushes(self, shown: bool) -> None:
        """Show by arrows which way to push the pins, or not, and remember it."""
        self.settings.set_pushes(shown)
        self.board.pushed.is_wanted = shown

    def set_forces(self, shown: bool) -> None:
        """Show by arrows what all pins carry, or only those that are selected, and remember it."""
        self.settings.set_forces(shown)
        self.board.borne.is_wanted = shown

    def _look_at_built(self, drawer: str) -> None:
        self.board.built.is_looked_at = drawer == "Build"

    def set_mount(self, shown: bool) -> None:
        """Show bracket and base always, or only with the drawer Build, and remember it."""
        self.settings.set_mount(shown)
        self.board.built.is_wanted = shown

    def set_units(self, units: str) -> None:
        """Show and type lengths in mm or inches."""
        self.document.attempt(
            f"Show {'millimetres' if units == 'mm' else 'inches'}", lambda project: edits.set_units(project, units)
        )

    # Others ----------------------------------------------------------------------------------------------------------

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask for unsaved work, and remember how the window stood."""
        if not self.may_leave():
            event.ignore()
            return
        self.strip.stop()
        self.standing.remember()
        self.putting_right.leave()
        event.accept()
        for sheet in (*self.findChildren(FindSheet), *self.findChildren(StrutSheet)):
            sheet.close()  # with its processes
        for job in self.document.findChildren(LayoutJob):
            job.close()
        self.offers.keeper.close()

    def _go_to(self, check: Check) -> None:
        self.strip.stop()
        self.board.show_place(check.place, check.deg)

    def remove_selected(self) -> None:
        """Take out what is selected."""
        if self.document.selections:
            remove_all(self.document, self.document.selections)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Do what no part of the window wanted: Delete removes, Esc puts away notice, first steps or drawer."""
        key = event.key()
        if key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.remove_selected()
        elif key == Qt.Key.Key_Escape and self.area.notice.sentence and self.area.notice.question is None:
            self.area.notice.dismiss()  # a question is not put away by an Esc that was meant for something else
        elif key == Qt.Key.Key_Escape and self.putting_right.is_asking:
            self.putting_right.leave()
        elif key == Qt.Key.Key_Escape and self.first_steps.callouts:
            self.first_steps.put_away()
        elif key == Qt.Key.Key_Escape:
            self.area.open_drawer("")
        else:
            super().keyPressEvent(event)

    def select_pins(self) -> None:
        """Select every pin that is shown."""
        pins = [Selection("pivot", pivot.id) for pivot in self.document.project.pivots if not pivot.hidden]
        self.document.select_all(pins)

    def toggle_full_screen(self) -> None:
        """Give the window the whole screen, or take it back."""
        self.setWindowState(self.windowState() ^ Qt.WindowState.WindowFullScreen)

    def show_about(self) -> None:
        """Tell the version, and the libraries with their licences."""
        about_dialog(self).exec()


def desktop_has_comma() -> bool:
    """Tell whether the desktop writes decimals behind a comma."""
    return QLocale().decimalPoint() == ","


def demo() -> Project:
    """Load the demo that a first start shows."""
    from app.files import load
    from resources import find

    return load(find(DEMO))


def run(path: Path | None) -> int:
    """Open the window on a file, or on the demo with None, and stay until it is closed. Gives the exit status."""
    app = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(app, QApplication)
    identify(app)
    app.setStyle("Fusion")  # the same controls on every desktop, in the sheet's colours
    broken_off_before, log = broken_off(), FaultLog()
    log.start()
    window = Window(Document(None if path is not None else demo()))
    faults = Faults(window.document, log)
    faults.install()
    take_handed_over(app, window.take_file)
    if path is not None:
        window.open_path(path)
    window.show()
    window.offers.start(broken_off_before)
    window.first_steps.offer()
    gc.freeze()  # it lives as long as the window: to look through it for rubbish took 40 ms, now and then in mid-drag
    try:
        with interrupt_closes(window):
            return app.exec()
    finally:
        window.offers.keeper.flush()  # a loop that was ended without closing leaves its work to be taken back
        log.end()
