"""The sheet on the program: it names what it should, says what the packages say, and is read by keys."""

from __future__ import annotations

import re
import tomllib
from email.message import Message
from importlib.metadata import PackageNotFoundError, metadata, requires, version
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QTextBrowser

from app import __version__
from app.about import BROUGHT, LIBRARIES, UNKNOWN, about_dialog, about_words, as_plain, licence_in, licence_of
from app.faultlog import folder

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window

ROOT = Path(__file__).parents[2]
PACKAGES = [name for name, _ in (*LIBRARIES, *BROUGHT)]


@pytest.mark.parametrize("name", PACKAGES)
def test_every_library_stands_there_with_version_and_licence(name: str, qtbot: QtBot) -> None:
    words = as_plain(about_words())
    assert f"{name} {version(name)}" in words
    assert licence_of(name) in words


def test_version_licence_log_and_what_figures_are_worth_stand_there(qtbot: QtBot) -> None:
    words = as_plain(about_words())
    assert f"Hingewright {__version__}" in words
    assert str(folder()) in words
    assert "aids to judgement" in words
    for paragraph in (ROOT / "LICENSE").read_text("utf-8").strip().split("\n\n"):
        assert " ".join(paragraph.split()) in words
    assert "http" not in words, "it needs no net"


def test_every_dependency_is_named() -> None:
    text = (ROOT / "pyproject.toml").read_text("utf-8")
    wanted = {re.split(r"[<>=]", line)[0] for line in tomllib.loads(text)["project"]["dependencies"]}
    assert wanted == {name for name, _ in LIBRARIES}


def needed(package: str) -> set[str]:
    """What a package needs on this computer, and what that needs in turn."""
    found = set[str]()
    for wanted in requires(package) or ():
        name = re.split(r"[ ;<>=!~\[(]", wanted)[0]
        if "extra ==" not in wanted and installed(name):
            found |= {name.lower().replace("-", "_"), *needed(name)}
    return found


def installed(package: str) -> bool:
    try:
        return bool(version(package))
    except PackageNotFoundError:
        return False


def test_all_that_comes_along_is_named() -> None:
    told = {name.lower().replace("-", "_") for name in PACKAGES}
    for name, _ in LIBRARIES:
        assert needed(name) <= told, name


# What these libraries are known to be licensed under: the README of each, from memory. A package that says something
# else, or nothing that can be read, is to be looked at by a person before it ships.
FAMILIES = {
    "PySide6-Essentials": "LGPL", "shiboken6": "LGPL", "numpy": "BSD", "scipy": "BSD", "shapely": "BSD",
    "ezdxf": "MIT", "pillow": "MIT", "fonttools": "MIT", "pyparsing": "MIT", "typing_extensions": "PSF",
}  # fmt: skip


@pytest.mark.parametrize("name", PACKAGES)
def test_the_licence_is_the_one_that_the_library_is_known_by(name: str) -> None:
    assert FAMILIES[name] in licence_of(name)
    whole = " ".join(str(value) for key, value in metadata(name).items() if key in FIELDS)  # type: ignore[attr-defined]
    assert licence_of(name) in " ".join(whole.split()), "as the metadata says it"


FIELDS = ("License-Expression", "License", "Classifier")


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ((("License-Expression", "MIT"), ("License", "old words")), "MIT"),
        ((("License", "BSD"), ("Classifier", "License :: OSI Approved :: MIT License")), "BSD"),
        ((("License", "Copyright …\n" + "all the words of it " * 20),), ""),
        ((("License", "UNKNOWN"), ("Classifier", "License :: OSI Approved :: MIT License")), "MIT License"),
        ((("Classifier", "Topic :: Text"),), ""),
    ],
)
def test_where_metadata_may_say_a_licence(fields: tuple[tuple[str, str], ...], said: str) -> None:
    found = Message()
    for key, value in fields:
        found[key] = value
    assert licence_in(found) == said


def test_no_licence_is_left_unsaid() -> None:
    assert UNKNOWN not in about_words()
    assert licence_of("no-such-package-here") == "not installed"


def test_keys_select_copy_and_close(window: Window, qtbot: QtBot) -> None:
    dialog = about_dialog(window)
    dialog.show()
    page = dialog.findChildren(QTextBrowser)[0]
    dialog.activateWindow()
    qtbot.waitUntil(dialog.isActiveWindow)  # else the keys would be the window's
    page.setFocus()
    qtbot.keyClick(page, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    qtbot.keyClick(page, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    assert f"Hingewright {__version__}" in QApplication.clipboard().text()
    bar = page.verticalScrollBar()
    qtbot.keyClick(page, Qt.Key.Key_End, Qt.KeyboardModifier.ControlModifier)
    assert bar.value() > 0.9 * bar.maximum()
    assert page.document().size().width() <= page.viewport().width()
    qtbot.keyClick(page, Qt.Key.Key_Escape)
    assert not dialog.isVisible()
