"""Who the program is to a desktop: name, icon, entry, and files that are handed over."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QSize, QUrl
from PySide6.QtGui import QAction, QFileOpenEvent, QGuiApplication
from PySide6.QtWidgets import QApplication

from app.identity import (
    SIDES,
    TASKBAR_ID,
    HandedOver,
    claim_taskbar,
    icon_image,
    identify,
    program_icon,
    take_handed_over,
)
from resources import find

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window


def test_the_application_has_name_entry_and_icon(qtbot: QtBot) -> None:
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    identify(application)
    assert application.applicationName() == "Hingewright"
    assert QGuiApplication.desktopFileName() == "hingewright"
    assert find(f"desktop/{QGuiApplication.desktopFileName()}.desktop").is_file()
    assert application.windowIcon().availableSizes() == [QSize(side, side) for side in SIDES]


def test_the_icon_can_be_told_at_every_size(qtbot: QtBot) -> None:
    """Paper, ink and the arms' green are there, at 16 pixels too, each in a fair share of the pixels."""
    for side in SIDES:
        image = icon_image(side)
        assert (image.width(), image.height()) == (side, side)
        colours = [image.pixelColor(x, y) for x in range(side) for y in range(side)]
        solid = [colour for colour in colours if colour.alpha() > 200]
        assert len(solid) > 0.85 * len(colours)
        paper = sum(colour.lightness() > 200 for colour in solid) / len(solid)
        ink = sum(colour.lightness() < 90 for colour in solid) / len(solid)
        green = sum(colour.green() > colour.red() + 30 for colour in solid) / len(solid)
        assert 0.25 < paper < 0.75, side
        assert ink > 0.15, side
        assert green > 0.025, side


def test_sizes_grow(qtbot: QtBot) -> None:
    assert all(a < b for a, b in pairwise(SIDES))
    assert (SIDES[0], SIDES[-1]) == (16, 256)
    assert not program_icon().isNull()


def test_a_file_that_the_desktop_hands_over_is_opened(window: Window, tmp_path: Path) -> None:
    path = tmp_path / "by a double click.hinge"
    window.document.save(path)
    window.document.new()
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    taker = HandedOver(application, window.take_file)
    try:
        QApplication.sendEvent(application, QFileOpenEvent(str(path)))
        assert window.document.path == path
        QApplication.sendEvent(application, QFileOpenEvent(QUrl("https://example.org/x.hinge")))
        assert window.document.path == path, "only files of this computer"
    finally:
        application.removeEventFilter(taker)
        taker.deleteLater()


@pytest.mark.parametrize(("system", "count"), [("linux", 0), ("win32", 0), ("darwin", 1)])
def test_only_where_a_desktop_hands_files_over_is_every_event_looked_at(
    system: str, count: int, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    monkeypatch.setattr("sys.platform", system)
    before = set(application.findChildren(HandedOver))  # those of other tests that are on their way out
    take_handed_over(application, Path)
    takers = set(application.findChildren(HandedOver)) - before
    assert len(takers) == count
    for taker in takers:
        application.removeEventFilter(taker)
        taker.deleteLater()


class Shell:
    """Stands for the part of Windows that knows the taskbar."""

    def __init__(self, is_old: bool) -> None:
        self.claimed: list[str] = []
        self._is_old = is_old

    def SetCurrentProcessExplicitAppUserModelID(self, name: str) -> None:  # noqa: N802  Windows' own
        if self._is_old:
            raise AttributeError(name)
        self.claimed.append(name)


@pytest.mark.parametrize(("system", "is_old", "count"), [("win32", False, 1), ("win32", True, 0), ("linux", False, 0)])
def test_on_windows_the_taskbar_is_told_whose_windows_they_are(
    system: str, is_old: bool, count: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    import ctypes
    from types import SimpleNamespace

    shell = Shell(is_old)
    monkeypatch.setattr(ctypes, "windll", SimpleNamespace(shell32=shell), raising=False)
    monkeypatch.setattr("sys.platform", system)
    claim_taskbar()
    assert shell.claimed == [TASKBAR_ID] * count
    # Microsoft's description of these ids (from memory): Company.Product, no blanks, at most 128 letters.
    assert " " not in TASKBAR_ID
    assert len(TASKBAR_ID) <= 128


def test_on_macos_commands_of_the_program_go_to_its_own_menu(window: Window) -> None:
    """Qt puts commands there by their roles; nothing else may look like one of them by its words."""
    roles = {action.menuRole() for action in window.actions()}
    assert {QAction.MenuRole.AboutRole, QAction.MenuRole.PreferencesRole} <= roles
    guessed = ("about", "config", "options", "setup", "settings", "preferences", "quit", "exit")
    for action in window.actions():
        bare = action.text().replace("&", "").lower()
        if action.menuRole() == QAction.MenuRole.TextHeuristicRole and bare.startswith(guessed):
            assert bare == "quit"
