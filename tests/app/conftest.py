"""What the window's tests share: settings of their own, a window that doesn't slide, and nothing that asks a person."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.app.sharing import shared_analyse

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.window import Window
    from tests.app.one_window import OneWindow


@pytest.fixture(autouse=True)
def _no_box_waits(monkeypatch: pytest.MonkeyPatch) -> None:
    """A box that no test answers fails that test, instead of waiting for a person for ever."""
    from PySide6.QtWidgets import QMessageBox

    def refuse(box: QMessageBox) -> int:
        raise AssertionError(f"A box asks: {box.text()}")

    monkeypatch.setattr(QMessageBox, "exec", refuse)


@pytest.fixture(autouse=True)
def _analyse_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """What many tests begin with is analysed once."""
    monkeypatch.setattr("app.document._default_analyser", lambda: shared_analyse)


@pytest.fixture(autouse=True)
def _stack_here_and_now(monkeypatch: pytest.MonkeyPatch) -> None:
    """Layers, pins and toe are worked out in the window's own process, at once; tests of the other one say so."""
    from app.layout_job import MADE_AS
    from app.stack.job import StackJob
    from app.toe.job import ToeJob
    from tests.app.stack.here_and_now import HereAndNow, ToeHereAndNow

    monkeypatch.setitem(MADE_AS, StackJob, HereAndNow)
    monkeypatch.setitem(MADE_AS, ToeJob, ToeHereAndNow)


@pytest.fixture
def own_settings(tmp_path: Path) -> None:
    """Settings in a folder of this test alone."""
    from PySide6.QtCore import QSettings

    QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, str(tmp_path / "settings"))


@pytest.fixture
def fresh_window(qtbot: QtBot, own_settings: None, monkeypatch: pytest.MonkeyPatch) -> Iterator[Window]:
    """A window of this test alone, with settings of its own: for what is told of starting, closing, remembering."""
    from app.rail import SheetArea
    from app.window import Window
    from tests.app.one_window import made

    monkeypatch.setattr(SheetArea, "slide_ms", 0)
    window = made(qtbot)
    yield window
    monkeypatch.setattr(Window, "may_leave", lambda _: True)
    window.close()
    window.deleteLater()


@pytest.fixture(scope="session")
def one_window(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OneWindow]:
    """What hands the one window of this process on from test to test."""
    from app.window import Window
    from tests.app.one_window import OneWindow

    one = OneWindow(tmp_path_factory.mktemp("settings"))
    yield one
    if one.window is not None:
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(Window, "may_leave", lambda _: True)
            one.window.close()


@pytest.fixture
def window(
    one_window: OneWindow, qtbot: QtBot, request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch
) -> Iterator[Window]:
    """The window on the demo, at 1280 × 800, with drawers that don't take time to slide: one for many tests, as new."""
    from app.rail import SheetArea

    monkeypatch.setattr(SheetArea, "slide_ms", 0)
    window = one_window.take(qtbot, request.node.nodeid)
    yield window
    one_window.give_back()
