"""Picture and report out of the window: written as the command line writes them, refused in a sentence, never over a
project.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QFileDialog

from app import exports
from app.document import Document
from app.report import as_text
from tests import specimens

if TYPE_CHECKING:
    from pathlib import Path


class Settings:
    """Where files go at first."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def folder(self) -> Path:
        """The folder of the last file."""
        return self._folder


class Window:
    """As much of a window as an export needs."""

    def __init__(self, folder: Path) -> None:
        self.document = Document(specimens.demo_six_bar)
        self.settings = Settings(folder)
        self.told: list[str] = []
        self.document.noticed.connect(self.told.append)


@pytest.fixture
def window(qapp: object, tmp_path: Path) -> Window:
    return Window(tmp_path)


def answer(monkeypatch: pytest.MonkeyPatch, name: object) -> list[tuple[str, ...]]:
    """Answer the dialog with a name; gives what it was asked with."""
    asked: list[tuple[str, ...]] = []

    def ask(_: object, *words: str) -> tuple[str, str]:
        asked.append(words)
        return str(name), ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", staticmethod(ask))
    return asked


def test_the_picture_is_of_the_pose_that_is_shown(
    window: Window, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shut, opened = tmp_path / "shut.png", tmp_path / "open.png"
    answer(monkeypatch, shut)
    assert exports.export_picture(window)  # type: ignore[arg-type]
    window.document.set_opening(40.0)
    asked = answer(monkeypatch, opened)
    assert exports.export_picture(window)  # type: ignore[arg-type]
    assert asked[0][0] == "Save a picture, open 40°"
    assert QImage(str(opened)).width() == 1600
    assert QImage(str(shut)) != QImage(str(opened))
    assert window.told[-1] == f"open.png is written, in {tmp_path}."
    assert not window.document.is_modified


def test_the_report_is_text_or_json(window: Window, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    document = window.document
    answer(monkeypatch, tmp_path / "lid")  # without an ending it is text
    assert exports.export_report(window)  # type: ignore[arg-type]
    assert (tmp_path / "lid.txt").read_text("utf-8") == as_text(document.project, document.analysis)
    answer(monkeypatch, tmp_path / "lid.json")
    assert exports.export_report(window)  # type: ignore[arg-type]
    assert json.loads((tmp_path / "lid.json").read_text("utf-8"))["title"] == document.project.title


@pytest.mark.parametrize("export", [exports.export_picture, exports.export_report])
def test_nothing_is_written_over_a_project_or_unasked(
    window: Window, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, export: object
) -> None:
    kept = [tmp_path / name for name in ("lid.hinge", "lid.png", "lid.txt")]
    for path in kept:
        path.write_text("kept")
    for name in ("lid.hinge", "lid", "gone/lid.png", "gone/lid.txt"):
        answer(monkeypatch, tmp_path / name)
        assert not export(window)  # type: ignore[operator]
        assert window.told.pop().startswith("lid")
    answer(monkeypatch, "")
    assert not export(window)  # type: ignore[operator]
    assert not window.told
    assert all(path.read_text() == "kept" for path in kept)
