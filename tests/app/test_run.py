"""Starting: with a file, with none, and with one that can't be used."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QApplication

import app.window as module
from app.document import Document
from app.window import Window, demo, run

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def opened(qapp: object, own_settings: None, monkeypatch: pytest.MonkeyPatch) -> list[Window]:
    """The windows that `run` has opened; the event loop returns at once."""
    windows: list[Window] = []

    class Kept(Window):
        def __init__(self, document: Document) -> None:
            super().__init__(document)
            windows.append(self)

    monkeypatch.setattr(module, "Window", Kept)
    monkeypatch.setattr(QApplication, "exec", staticmethod(lambda: 0))
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)  # put back afterwards
    yield windows  # type: ignore[misc]  # pytest gives what is yielded
    for window in windows:
        window.close()
        window.deleteLater()


def test_without_a_file_the_demo_is_shown(opened: list[Window]) -> None:
    assert run(None) == 0
    assert opened[0].isVisible()
    assert opened[0].document.project == demo()
    assert opened[0].document.path is None


def test_with_a_file_that_file_is_shown(opened: list[Window], tmp_path: Path) -> None:
    Document(demo()).save(tmp_path / "mine.hinge")
    assert run(tmp_path / "mine.hinge") == 0
    assert opened[0].document.path == tmp_path / "mine.hinge"


def test_a_file_that_cannot_be_used_is_told_in_an_open_window(opened: list[Window], tmp_path: Path) -> None:
    assert run(tmp_path / "nowhere.hinge") == 0
    assert opened[0].isVisible()
    assert "nowhere.hinge" in opened[0].area.notice.sentence
    assert not opened[0].document.project.pivots
