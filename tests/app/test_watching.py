"""The watch over the file: changed by another program, gone, back, and our own saves."""

from __future__ import annotations

import os
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication

from app.document import Document
from app.files import save
from app.keeping import Keeper
from app.watching import Watch
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.usefixtures("qapp")
other = replace(demo_six_bar, title="by another hand")


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "a.hinge"
    save(demo_six_bar, path)
    return path


@pytest.fixture
def document(file: Path) -> Document:
    document = Document()
    document.open(file)
    return document


@pytest.fixture
def watch(document: Document) -> Iterator[Watch]:
    keeper = Keeper(document)
    yield Watch(document, keeper, keeper)
    keeper.close()


@pytest.fixture
def told(watch: Watch) -> list[str]:
    said: list[str] = []
    watch.told.connect(said.append)
    return said


def looked(watch: Watch) -> None:
    """Have the watch look, and wait until it has."""
    watch.check()
    watch._keeper.flush()


def test_a_change_is_noticed_unasked(watch: Watch, told: list[str], file: Path, qtbot: QtBot) -> None:
    save(other, file)
    qtbot.waitUntil(lambda: told == ["changed"], timeout=10_000)
    save(replace(other, title="once more"), file)  # the file that is watched has been replaced meanwhile
    qtbot.waitUntil(lambda: told == ["changed", "changed"], timeout=10_000)


def test_coming_to_the_fore_has_it_looked_at(watch: Watch, told: list[str], file: Path, qtbot: QtBot) -> None:
    watch._watcher.removePaths(
        [*watch._watcher.files(), *watch._watcher.directories()]
    )  # file systems that tell nothing
    save(other, file)
    application = QGuiApplication.instance()
    assert isinstance(application, QGuiApplication)
    application.applicationStateChanged.emit(Qt.ApplicationState.ApplicationActive)
    qtbot.waitUntil(lambda: told == ["changed"], timeout=10_000)


def test_gone_is_told_once_and_back_as_it_was_too(watch: Watch, told: list[str], file: Path, qtbot: QtBot) -> None:
    content = file.read_bytes()
    file.unlink()
    for _ in range(3):
        looked(watch)
    assert told == ["gone"]
    file.write_bytes(content)
    looked(watch)
    assert told == ["gone", "same"]


def test_a_touch_and_our_own_saves_are_no_news(
    watch: Watch, told: list[str], document: Document, file: Path, qtbot: QtBot
) -> None:
    os.utime(file, (1e9, 1e9))
    looked(watch)
    document.apply("Title", other)
    document.save()
    looked(watch)
    document.save(file.with_name("b.hinge"))
    looked(watch)
    assert told == []
    assert watch.state_now() == "same"


def test_what_was_accepted_is_told_no_more_but_the_next_change_is(
    watch: Watch, told: list[str], file: Path, qtbot: QtBot
) -> None:
    save(other, file)
    looked(watch)
    assert watch.state_now() == "changed"
    watch.accept()
    looked(watch)
    assert (told, watch.state_now()) == (["changed"], "same")
    save(replace(other, title="and again"), file)
    looked(watch)
    assert told == ["changed", "changed"]


def test_disowning_the_file_does_not_make_its_content_known(
    watch: Watch, document: Document, file: Path, qtbot: QtBot
) -> None:
    save(other, file)
    looked(watch)
    document.disown_file()
    assert watch.state_now() == "changed"


def test_what_was_seen_of_a_file_saved_meanwhile_is_not_told(
    watch: Watch, told: list[str], document: Document, file: Path, qtbot: QtBot
) -> None:
    save(other, file)
    watch.check()
    document.save()  # before the answer has come
    qtbot.wait(50)
    looked(watch)
    assert told == []


def test_without_a_file_there_is_nothing_to_watch(watch: Watch, document: Document, told: list[str]) -> None:
    document.new()
    watch.check()
    assert watch.state_now() == "same"
    assert not watch._watcher.files()
    assert not watch._watcher.directories()
