"""Out of the window: written as the command line writes it, refused in a sentence, never over a project."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest
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
        self.document.told.connect(self.told.append)


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


def test_the_report_is_text_or_json(window: Window, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    document = window.document
    answer(monkeypatch, tmp_path / "lid")  # without an ending it is text
    assert exports.export_report(window)  # type: ignore[arg-type]
    assert (tmp_path / "lid.txt").read_text("utf-8") == as_text(document.project, document.analysis)
    answer(monkeypatch, tmp_path / "lid.json")
    assert exports.export_report(window)  # type: ignore[arg-type]
    assert json.loads((tmp_path / "lid.json").read_text("utf-8"))["title"] == document.project.title
    assert window.told[-1] == f"lid.json is written, in {tmp_path}."
    assert not document.is_modified


def test_a_report_that_cannot_be_written_is_told(
    window: Window, read_only: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    answer(monkeypatch, read_only / "lid.txt")
    assert not exports.export_report(window)  # type: ignore[arg-type]
    assert window.told[-1].startswith("lid.txt: the report can't be written: ")


@pytest.mark.parametrize("endings", [(".png",), (".pdf",), (".txt", ".json")])
def test_nothing_is_written_over_a_project_or_unasked(
    window: Window, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, endings: tuple[str, ...]
) -> None:
    for name in ("lid.hinge", f"lid{endings[0]}"):
        (tmp_path / name).write_text("kept")
    for name in ("lid.hinge", "lid", "lid.doc"):
        asked = answer(monkeypatch, tmp_path / name)
        assert exports.ask_name(window, "Save", endings) is None  # type: ignore[arg-type]
        assert window.told.pop().startswith("lid")
        assert endings[0] in asked[0][2]
    answer(monkeypatch, "")
    assert exports.ask_name(window, "Save", endings) is None  # type: ignore[arg-type]
    assert not window.told
    answer(monkeypatch, tmp_path / "other")
    assert exports.ask_name(window, "Save", endings) == tmp_path / f"other{endings[0]}"  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("name", "kind", "gives"),
    [
        ("lid", ".svg", "lid.svg"),
        ("lid.png", ".svg", "lid.svg"),
        ("lid.pdf", ".svg", "lid.pdf"),
        ("lid.png", ".png", "lid.png"),
    ],
)
def test_the_kind_that_is_chosen_with_the_name_is_written(
    window: Window, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, kind: str, gives: str
) -> None:
    said = (str(tmp_path / name), exports.KINDS[kind])
    monkeypatch.setattr(QFileDialog, "getSaveFileName", staticmethod(lambda *_: said))
    asked = exports.ask_name(window, "Save", (".png", ".svg", ".pdf"))  # type: ignore[arg-type]
    assert asked == tmp_path / gives
