"""The sheets of words: each names what it should."""

from __future__ import annotations

from importlib.metadata import version
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QLabel

from app import __version__
from app.about import LIBRARIES, about_dialog, keys_dialog

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window


def words_of(dialog: object) -> str:
    return dialog.findChild(QLabel).text()  # type: ignore[attr-defined]  # a QDialog


def test_about_names_every_library_with_version_and_licence(window: Window, qtbot: QtBot) -> None:
    words = words_of(about_dialog(window))
    assert __version__ in words
    for name, _, licence in LIBRARIES:
        assert f"<b>{name}</b> {version(name)}" in words
        assert licence in words
    assert "aids to judgement" in words


def test_every_dependency_is_named() -> None:
    import tomllib
    from pathlib import Path

    text = (Path(__file__).parents[2] / "pyproject.toml").read_text("utf-8")
    wanted = {line.split(">")[0].split("<")[0] for line in tomllib.loads(text)["project"]["dependencies"]}
    assert wanted == {name for name, _, _ in LIBRARIES}


def test_the_keys_are_those_that_work(window: Window, qtbot: QtBot) -> None:
    words = words_of(keys_dialog(window))
    for told in ("drag a pivot", "Page Up, Page Down", "Space", "Esc", "25.4/2"):
        assert told in words
