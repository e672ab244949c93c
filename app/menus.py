"""The menus: every command of the window with its words, its key and its tip."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtGui import QAction, QActionGroup, QKeySequence

from app.board.toolbox import HAND, HAND_TIP
from app.board.tools import TOOLS
from app.exports import (
    copy_picture,
    export_report,
    show_cutting,
    show_layout,
    show_mockup,
    show_picture,
    show_templates,
)
from app.files.backups import saved_at
from app.lettering import in_lines, in_menu
from app.offers import UNDO, moment
from app.parts_round import go_on

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from PySide6.QtWidgets import QMenu

    from app.window import Window

StandardKey = QKeySequence.StandardKey
Keys = StandardKey | str | None
# What a command has where Qt's table of standard keys has none for this desktop.
FALLBACKS = {
    StandardKey.Quit: "Ctrl+Q",
    StandardKey.Preferences: "Ctrl+,",
    StandardKey.SaveAs: "Ctrl+Shift+S",
    StandardKey.FullScreen: "F11",
}


class Menus:
    """Makes the menus of a window and keeps those actions that change."""

    def __init__(self, window: Window) -> None:
        self._window = window
        self._build_file()
        self._build_edit()
        self._build_view()
        self._build_tools()
        self._build_travel()
        self._build_help()

    def _add(self, menu: QMenu, words: str, tip: str, act: Callable[[], object], keys: Keys = None) -> QAction:
        action = menu.addAction(words)
        action.setToolTip(in_lines(tip))
        action.setStatusTip(tip)
        if isinstance(keys, StandardKey):
            action.setShortcuts(keys)
            if not action.shortcuts() and keys in FALLBACKS:
                action.setShortcut(QKeySequence(FALLBACKS[keys]))
        elif keys is not None:
            action.setShortcut(QKeySequence(keys))
        action.triggered.connect(lambda _=False: act())
        self._window.addAction(action)
        return action

    def _menu(self, words: str) -> QMenu:
        menu = self._window.menuBar().addMenu(words)
        menu.setToolTipsVisible(True)
        return menu

    def _build_file(self) -> None:
        window, menu, key = self._window, self._menu("&File"), StandardKey
        self._add(menu, "&New", "Begin another hinge: outlines first, then a start.", window.new_project, key.New)
        self._add(menu, "&Open…", "Open a project file (.hinge).", window.ask_open, key.Open)
        self.recent = menu.addMenu("Open &recent")
        self.recent.aboutToShow.connect(self._fill_recent)
        self.demos = menu.addMenu("&Demos")
        self.demos.aboutToShow.connect(self._fill_demos)
        menu.addSeparator()
        self._add(menu, "&Save", "Save to the file it came from.", window.save, key.Save)
        self._add(menu, "Save &as…", "Save under another name.", window.save_as, key.SaveAs)
        self.earlier = menu.addMenu("&Earlier saves")
        self.earlier.aboutToShow.connect(self._fill_earlier)
        menu.addSeparator()
        self._add(
            menu, "&Bring in outlines…", "Read outlines from a drawing or from points.", window.ask_outlines, "Ctrl+I"
        )
        self._add(
            menu, "P&hoto beneath…", "Lay a photo beneath the board, to trace over.", window.ask_photo, "Ctrl+Shift+I"
        )
        menu.addSeparator()
        self._add(
            menu,
            "&Picture or animation…",
            "Draw the hinge as it stands open now, or its whole sweep in motion: PNG, SVG, PDF or GIF.",
            partial(show_picture, window),
            "Ctrl+E",
        )
        self._add(
            menu,
            "&Copy the picture",
            "Put the hinge as it stands open now on the clipboard, to paste it elsewhere.",
            partial(copy_picture, window),
            "Ctrl+Shift+C",
        )
        self._add(
            menu,
            "&Layout sheet…",
            "Shut, half and fully open, pins, checks and notes on one sheet, to print or to hand on.",
            partial(show_layout, window),
            key.Print,
        )
        self._add(
            menu,
            "&Mock-up templates…",
            "Every link and the pins of wall and panel at true size, to print, cut in card and bolt up.",
            partial(show_mockup, window),
            "Ctrl+Shift+P",
        )
        self._add(
            menu,
            "Templates for the dr&ill…",
            "Where wall and panel are drilled, left and right, at true size, to print and lay on.",
            partial(show_templates, window),
        )
        self._add(
            menu,
            "Cut &files…",
            "A drawing of every plate for the cutter, templates and the parts list, in one folder.",
            partial(show_cutting, window),
        )
        self._add(
            menu,
            "Save the repor&t…",
            "Write checks, gaps and pins as text, or as JSON for other programs.",
            partial(export_report, window),
        )
        menu.addSeparator()
        self._add(menu, "&Quit", "Close the window; unsaved work is asked for.", window.close, key.Quit)

    def _build_edit(self) -> None:
        window, menu, key = self._window, self._menu("&Edit"), StandardKey
        document = window.document
        self.undo = self._add(menu, "&Undo", "Take the last step back.", document.undo, key.Undo)
        self.redo = self._add(menu, "&Redo", "Do again what was taken back.", document.redo, key.Redo)
        menu.addSeparator()
        self.remove = self._add(
            menu,
            "Re&move selected",
            "Take what is selected out: pivots, links, outlines, marks, measures.",
            window.remove_selected,
            "Ctrl+Backspace",
        )
        self._add(
            menu, "Select &all pins", "Select every pin, to move them together.", window.select_pins, key.SelectAll
        )
        self._add(
            menu,
            "&Paste photo",
            "Lay the copied picture, or the photo of a copied file, beneath the board.",
            window.paste_photo,
            key.Paste,
        )
        menu.addSeparator()
        self._add(
            menu,
            "&Keep clear of…",
            "Tick off what is commonly in the way of panel and links, and draw each as a box.",
            window.show_keep_clear,
            "Ctrl+K",
        )
        self._add(
            menu,
            "Put r&ight",
            "Move the free pins as little as possible, until all wants hold; shown first, taken only if you say so.",
            window.putting_right.start,
            "Ctrl+Shift+R",
        )
        menu.addSeparator()
        units = menu.addMenu("U&nits")
        names = {"mm": "&Millimetres", "in": "&Inches and fractions"}
        self.units = self._choices(units, names, "Show and type the lengths of this hinge so.", window.set_units)
        menu.addSeparator()
        preferences = self._add(
            menu,
            "Pre&ferences…",
            "Decimals, fractions, nudges, what new wants begin with, the sheet.",
            window.show_preferences,
            key.Preferences,
        )
        preferences.setMenuRole(QAction.MenuRole.PreferencesRole)

    def _build_view(self) -> None:
        window, menu, key = self._window, self._menu("&View"), StandardKey
        self.view = menu
        self._add(menu, "&Show all", "Fit the layout and the panel's sweep to the board.", window.board.fit, "Ctrl+0")
        self._add(menu, "Show the &pins", "Come close to the linkage.", window.board.fit_pins, "Ctrl+9")
        self._add(
            menu,
            "Zoom &in",
            "Zoom in about the middle; the wheel zooms about the pointer.",
            partial(window.board.view.zoom, 1.2),
            key.ZoomIn,
        )
        self._add(
            menu, "Zoom &out", "Zoom out about the middle.", partial(window.board.view.zoom, 1 / 1.2), key.ZoomOut
        )
        self._add(
            menu,
            "&Full screen",
            "Give the window the whole screen, or take it back.",
            window.toggle_full_screen,
            key.FullScreen,
        )
        menu.addSeparator()
        self._build_pages(menu)
        menu.addSeparator()
        for words, step, keys in (("Ne&xt part of the window", 1, "F6"), ("Part &before", -1, "Shift+F6")):
            tip = "Take the keyboard on: from drawers to board, tools, checks, entry, travel strip; with Shift back."
            self._add(menu, words, tip, partial(go_on, window, step), keys)
        menu.addSeparator()
        sheet = menu.addMenu("S&heet")
        names = {
            "light": "&Light: ink on paper",
            "dark": "&Dark: chalk on a dark sheet",
            "system": "&As the desktop has it",
        }
        self.sheets = self._choices(sheet, names, "Draw the window and the board so, from now on.", window.set_sheet)

    def _build_pages(self, menu: QMenu) -> None:
        """What is turned to: the drawers, the list of parts, trials, the swept room."""
        window = self._window
        for number, name in enumerate(window.area.drawers, 1):
            self._add(
                menu,
                f"Drawer &{name}",
                f"Open or close the drawer {name}.",
                partial(window.area.toggle_drawer, name),
                f"Alt+{number}",
            )
        self._add(
            menu,
            "&List of parts",
            "Turn to the list of all pins, links, outlines and marks, at the right.",
            window.checks.entry.show_parts,
            "Ctrl+L",
        )
        self._add(
            menu,
            "&Trials…",
            "Keep the layout on the board, compare kept ones in a table and on the board, return to one.",
            window.show_trials,
            "Ctrl+T",
        )
        self._add(
            menu,
            "&Find hinges…",
            "Have the program look for hinges that meet every want, and choose from what it finds.",
            window.find_hinges,
            "Ctrl+Shift+F",
        )
        self._add(
            menu,
            "Find str&uts…",
            "Have the program look for gas struts that meet every want of lifting, and choose from what it finds.",
            window.find_struts,
            "Ctrl+Shift+G",
        )
        self._add(
            menu,
            "S&wept room…",
            "Show the space that panel and links take through the travel, what stands nearest to it, and save it.",
            window.show_swept_room,
            "Ctrl+R",
        )

    def _build_tools(self) -> None:
        """The tools of the board; their letters are the board's own, so that they can be typed elsewhere."""
        window, menu = self._window, self._menu("T&ools")
        for tool in TOOLS:
            self._add(menu, f"{tool.name}\t{tool.key}", tool.tip, partial(window.board.take_tool, tool.name))
        menu.addSeparator()
        self._add(menu, f"{HAND}\tEsc", HAND_TIP, partial(window.board.take_tool, HAND))
        menu.addSeparator()
        self.snaps = menu.addAction("&Snap to what is near")
        self.snaps.setCheckable(True)
        self.snaps.setChecked(window.board.snaps)
        self.snaps.setShortcut(QKeySequence("Ctrl+G"))
        tip = "Pins, outlines' points, level, plumb, equal lengths and the squares draw the hand; Ctrl leaves it."
        self.snaps.setToolTip(in_lines(tip))
        self.snaps.setStatusTip(tip)
        self.snaps.toggled.connect(window.set_snaps)
        window.addAction(self.snaps)
        self.view.addAction(self.snaps)
        self.pinches = self._switch(
            "&Mark pinch places",
            "Where a gap opens for a finger and closes below 25 mm (EN ISO 13854); they fail no check.",
            window.board.pinched.is_wanted,
            window.set_pinches,
        )
        self.view.addAction(self.pinches)
        self.pushes = self._switch(
            "Arro&ws at the pins",
            "While a check falls short: which way to push each free pin, and how much a mm of it brings the worst one.",
            window.board.pushed.is_wanted,
            window.set_pushes,
        )
        self.view.addAction(self.pushes)
        self.forces = self._switch(
            "For&ces on all pins",
            "What each pin of one hinge puts on its links at the pose shown, with weights and a handle in the file; "
            "without, only those of selected pins.",
            window.board.borne.is_wanted,
            window.set_forces,
        )
        self.view.addAction(self.forces)
        self.mount = self._switch(
            "&Bracket and base",
            "Show what holds the hinge at panel and wall, once it is laid out; without, only with the drawer Build.",
            window.board.built.is_wanted,
            window.set_mount,
        )
        self.view.addAction(self.mount)

    def _switch(self, words: str, tip: str, on: bool, act: Callable[[bool], object]) -> QAction:
        """Make an action that is on or off."""
        action = QAction(words, self._window)
        action.setCheckable(True)
        action.setChecked(on)
        action.setToolTip(in_lines(tip))
        action.setStatusTip(tip)
        action.toggled.connect(act)
        self._window.addAction(action)
        return action

    def _build_travel(self) -> None:
        window, menu = self._window, self._menu("&Travel")
        self.play = self._add(
            menu, "&Play", "Let the panel run to and fro between shut and the end.", window.strip.toggle_play, "P"
        )
        self._add(menu, "To &shut", "Show the panel shut.", window.strip.go_first, "Ctrl+Home")
        self._add(menu, "To the &end", "Show the panel as far open as it goes.", window.strip.go_last, "Ctrl+End")

    def _build_help(self) -> None:
        window, menu = self._window, self._menu("&Help")
        self._add(
            menu, "&Help on this", "The page on what you are at.", window.help.open_here, StandardKey.HelpContents
        )
        self._add(
            menu, "&Contents", "All that the help explains, from the start on.", partial(window.help.open, "start")
        )
        self._add(menu, "&Keys and hands", "What the mouse and the keys do.", partial(window.help.open, "hands"))
        self._add(
            menu,
            "&First steps",
            "Show the three things to try, each beside what it is about.",
            window.first_steps.begin,
        )
        menu.addSeparator()
        self._add(
            menu,
            "&Log of faults",
            "Where the program writes down what went wrong in it, so that it can be sent along.",
            self._window.offers.show_log,
        )
        about = self._add(
            menu,
            "&About Hingewright",
            "Version, and the libraries it stands on with their licences.",
            self._window.show_about,
        )
        about.setMenuRole(QAction.MenuRole.AboutRole)

    def _choices(
        self, menu: QMenu, words: dict[str, str], tip: str, act: Callable[[str], object]
    ) -> dict[str, QAction]:
        """Add actions of which exactly one is ticked."""
        group = QActionGroup(menu)
        made = {}
        for value, text in words.items():
            action = menu.addAction(text)
            action.setToolTip(tip)
            action.setCheckable(True)
            group.addAction(action)
            action.triggered.connect(lambda _=False, value=value: act(value))
            made[value] = action
        return made

    # What changes ----------------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        """Bring labels and ticks up to date with the document."""
        document = self._window.document
        self.undo.setText(f"&Undo: {in_menu(document.undo_label)}" if document.can_undo else "&Undo")
        self.redo.setText(f"&Redo: {in_menu(document.redo_label)}" if document.can_redo else "&Redo")
        self.undo.setEnabled(document.can_undo or document.is_dragging)  # in mid-drag, undo gives the drag up
        self.redo.setEnabled(document.can_redo)
        self.remove.setEnabled(document.selection is not None)
        self.units[document.project.display_units].setChecked(True)
        self.sheets[document.preferences.sheet].setChecked(True)

    def show_playing(self, playing: bool) -> None:
        """Say what the play key does now."""
        self.play.setText("&Stop" if playing else "&Play")

    def _fill_recent(self) -> None:
        self.recent.clear()
        paths = self._window.settings.recent()
        for path in paths:
            self._file_action(self.recent, path, path.name, str(path))
        if not paths:
            self._empty(self.recent, "no file yet", "The files that you open or save are listed here.")
            return
        self.recent.addSeparator()
        forget = self.recent.addAction("Forget these")
        forget.setToolTip("Empty this list; the files themselves stay where they are.")
        forget.triggered.connect(self._window.settings.clear_recent)

    @staticmethod
    def _empty(menu: QMenu, words: str, tip: str) -> None:
        """Say in a menu that there is nothing to choose yet."""
        action = menu.addAction(words)
        action.setToolTip(in_lines(tip))
        action.setEnabled(False)

    def _fill_earlier(self) -> None:
        self.earlier.clear()
        for path in self._window.offers.earlier_saves():
            words = f"{path.stem}, {moment(saved_at(path))}"
            action = self.earlier.addAction(in_menu(words))
            action.setToolTip(f"Show this earlier save. {UNDO}")
            action.triggered.connect(lambda _=False, path=path: self._window.offers.take_earlier(path))
        if self.earlier.isEmpty():
            self._empty(self.earlier, "no earlier save", "Each save keeps the one before it; they are listed here.")

    def _fill_demos(self) -> None:
        from resources import find

        self.demos.clear()
        for path in sorted(find("demos").glob("*.hinge")):
            demo = self.demos.addAction(path.stem.capitalize())
            demo.setToolTip("Open this demo as a hinge of your own; the demo itself stays as it is.")
            demo.triggered.connect(lambda _=False, path=path: self._window.open_demo(path))

    def _file_action(self, menu: QMenu, path: Path, words: str, tip: str) -> None:
        action = menu.addAction(in_menu(words))
        action.setToolTip(in_lines(tip))
        action.triggered.connect(lambda _=False: self._window.open_path(path))
