"""The menus: every command of the window with its words, its key and its tip."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtGui import QAction, QActionGroup, QKeySequence

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from PySide6.QtWidgets import QMenu

    from app.window import Window

Keys = QKeySequence.StandardKey | str | None


class Menus:
    """Makes the menus of a window and keeps those actions that change."""

    def __init__(self, window: Window) -> None:
        self._window = window
        self._build_file()
        self._build_edit()
        self._build_view()
        self._build_travel()
        self._build_help()

    def _add(self, menu: QMenu, words: str, tip: str, act: Callable[[], object], keys: Keys = None) -> QAction:
        action = menu.addAction(words)
        action.setToolTip(tip)
        action.setStatusTip(tip)
        if keys is not None:
            action.setShortcut(QKeySequence(keys))
        action.triggered.connect(lambda _=False: act())
        self._window.addAction(action)
        return action

    def _menu(self, words: str) -> QMenu:
        menu = self._window.menuBar().addMenu(words)
        menu.setToolTipsVisible(True)
        return menu

    def _build_file(self) -> None:
        window, menu, key = self._window, self._menu("&File"), QKeySequence.StandardKey
        self._add(menu, "&New", "Begin another hinge: outlines first, then a start.", window.new_project, key.New)
        self._add(menu, "&Open…", "Open a project file (.hinge).", window.ask_open, key.Open)
        self.recent = menu.addMenu("Open &recent")
        self.recent.aboutToShow.connect(self._fill_recent)
        self.demos = menu.addMenu("&Demos")
        self.demos.aboutToShow.connect(self._fill_demos)
        menu.addSeparator()
        self._add(menu, "&Save", "Save to the file it came from.", window.save, key.Save)
        self._add(menu, "Save &as…", "Save under another name.", window.save_as, key.SaveAs)
        menu.addSeparator()
        self._add(
            menu, "&Bring in outlines…", "Read outlines from a drawing or from points.", window.ask_outlines, "Ctrl+I"
        )
        menu.addSeparator()
        self._add(menu, "&Quit", "Close the window; unsaved work is asked for.", window.close, key.Quit)

    def _build_edit(self) -> None:
        window, menu, key = self._window, self._menu("&Edit"), QKeySequence.StandardKey
        document = window.document
        self.undo = self._add(menu, "&Undo", "Take the last step back.", document.undo, key.Undo)
        self.redo = self._add(menu, "&Redo", "Do again what was taken back.", document.redo, key.Redo)
        menu.addSeparator()
        self.remove = self._add(
            menu,
            "Re&move selected",
            "Take the selected pivot, link, outline or mark out.",
            window.remove_selected,
            "Ctrl+Backspace",
        )
        menu.addSeparator()
        units = menu.addMenu("U&nits")
        self.units = self._choices(units, {"mm": "&Millimetres", "in": "&Inches and fractions"}, window.set_units)
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
        window, menu = self._window, self._menu("&View")
        self._add(menu, "&Show all", "Fit the layout and the panel's sweep to the board.", window.board.fit, "Ctrl+0")
        self._add(menu, "Show the &pins", "Come close to the linkage.", window.board.fit_pins, "Ctrl+9")
        self._add(
            menu,
            "Zoom &in",
            "Zoom in about the middle; the wheel zooms about the pointer.",
            partial(window.board.view.zoom, 1.2),
            "Ctrl++",
        )
        self._add(menu, "Zoom &out", "Zoom out about the middle.", partial(window.board.view.zoom, 1 / 1.2), "Ctrl+-")
        menu.addSeparator()
        for number, name in enumerate(window.area.drawers, 1):
            self._add(
                menu,
                f"Drawer &{name}",
                f"Open or close the drawer {name}.",
                partial(window.area.toggle_drawer, name),
                f"Alt+{number}",
            )
        menu.addSeparator()
        sheet = menu.addMenu("S&heet")
        names = {
            "light": "&Light: ink on paper",
            "dark": "&Dark: chalk on a dark sheet",
            "system": "&As the desktop has it",
        }
        self.sheets = self._choices(sheet, names, window.set_sheet)

    def _build_travel(self) -> None:
        window, menu = self._window, self._menu("&Travel")
        self.play = self._add(
            menu, "&Play", "Let the panel run to and fro between shut and the end.", window.strip.toggle_play, "P"
        )
        self._add(menu, "To &shut", "Show the panel shut.", window.strip.go_first, "Ctrl+Home")
        self._add(menu, "To the &end", "Show the panel as far open as it goes.", window.strip.go_last, "Ctrl+End")

    def _build_help(self) -> None:
        menu = self._menu("&Help")
        self._add(
            menu,
            "&Keys and hands",
            "What the mouse and the keys do.",
            self._window.show_keys,
            QKeySequence.StandardKey.HelpContents,
        )
        self._add(
            menu,
            "&About Hingewright",
            "Version, and the libraries it stands on with their licences.",
            self._window.show_about,
        )

    def _choices(self, menu: QMenu, words: dict[str, str], act: Callable[[str], object]) -> dict[str, QAction]:
        """Add actions of which exactly one is ticked."""
        group = QActionGroup(menu)
        made = {}
        for value, text in words.items():
            action = menu.addAction(text)
            action.setCheckable(True)
            group.addAction(action)
            action.triggered.connect(lambda _=False, value=value: act(value))
            made[value] = action
        return made

    # What changes ----------------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        """Bring labels and ticks up to date with the document."""
        document = self._window.document
        self.undo.setText(f"&Undo: {document.undo_label}" if document.can_undo else "&Undo")
        self.redo.setText(f"&Redo: {document.redo_label}" if document.can_redo else "&Redo")
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
            self.recent.addAction("no file yet").setEnabled(False)
            return
        self.recent.addSeparator()
        self.recent.addAction("Forget these").triggered.connect(self._window.settings.clear_recent)

    def _fill_demos(self) -> None:
        from resources import find

        self.demos.clear()
        for path in sorted(find("demos").glob("*.hinge")):
            self.demos.addAction(path.stem.capitalize()).triggered.connect(
                lambda _=False, path=path: self._window.open_demo(path)
            )

    def _file_action(self, menu: QMenu, path: Path, words: str, tip: str) -> None:
        action = menu.addAction(words.replace("&", "&&"))
        action.setToolTip(tip)
        action.triggered.connect(lambda _=False: self._window.open_path(path))
