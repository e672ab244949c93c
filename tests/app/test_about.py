"""The sheets of words: each names what it should."""

from __future__ import annotations

import re
from importlib.metadata import PackageNotFoundError, metadata, requires, version
from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QLabel

from app import __version__
from app.about import BROUGHT, LIBRARIES, about_dialog

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window


def words_of(dialog: object) -> str:
    return dialog.findChild(QLabel).text()  # type: ignore[attr-defined]  # a QDialog


def test_about_names_every_library_with_version_and_licence(window: Window, qtbot: QtBot) -> None:
    words = words_of(about_dialog(window))
    assert __version__ in words
    for name, _, licence in (*LIBRARIES, *BROUGHT):
        assert f"<b>{name}</b> {version(name)}" in words
        assert licence in words
    assert "aids to judgement" in words


def test_every_dependency_is_named() -> None:
    import tomllib
    from pathlib import Path

    text = (Path(__file__).parents[2] / "pyproject.toml").read_text("utf-8")
    wanted = {line.split(">")[0].split("<")[0] for line in tomllib.loads(text)["project"]["dependencies"]}
    assert wanted == {name for name, _, _ in LIBRARIES}


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


def test_all_that_comes_along_is_named_with_its_licence() -> None:
    told = {name.lower().replace("-", "_") for name, _, _ in (*LIBRARIES, *BROUGHT)}
    for name, _, _ in LIBRARIES:
        assert needed(name) <= told, name


# What the metadata of the packages says, as far as it is one word: the licence shown must be of that family.
FAMILIES = {"LGPL": "LGPL", "MIT": "MIT", "BSD": "BSD", "PSF": "PSF"}


@pytest.mark.parametrize(("name", "licence"), [(name, licence) for name, _, licence in (*LIBRARIES, *BROUGHT)])
def test_the_licence_is_that_of_the_package(name: str, licence: str) -> None:
    found = metadata(name)
    said = " ".join([found.get("License-Expression", ""), found.get("License", ""), *found.get_all("Classifier", [])])
    family = licence.split(maxsplit=1)[0]
    assert family in FAMILIES
    assert FAMILIES[family] in said or f"{family} License" in said, said[:300]


def test_it_needs_no_net(window: Window) -> None:
    words = words_of(about_dialog(window))
    assert "http" not in words
    assert "licence" in words
