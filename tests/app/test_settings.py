"""What is remembered between two starts."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QByteArray

from app.preferences import Preferences
from app.settings import Settings


def test_recent_files_that_are_gone_are_not_listed(own_settings: None, tmp_path: Path) -> None:
    settings = Settings()
    for number in range(12):
        path = tmp_path / f"{number}.hinge"
        path.write_text("{}")
        settings.add_recent(path)
    (tmp_path / "11.hinge").unlink()
    names = [path.name for path in Settings().recent()]
    assert names == ["10.hinge", "9.hinge", "8.hinge", "7.hinge", "6.hinge", "5.hinge", "4.hinge"]


def test_one_recent_file_comes_back_as_one(own_settings: None, tmp_path: Path) -> None:
    (tmp_path / "a.hinge").write_text("{}")
    Settings().add_recent(tmp_path / "a.hinge")
    Settings()._store.sync()
    assert Settings().recent() == [tmp_path / "a.hinge"]
    Settings().clear_recent()
    assert Settings().recent() == []


def test_nonsense_in_the_file_is_no_fault(own_settings: None) -> None:
    settings = Settings()
    for key in ("recent", "preferences/sheet", "preferences/decimals", "state/window"):
        settings._store.setValue(key, 17)
    assert settings.recent() == []
    assert settings.preferences() == Preferences()
    assert settings.state("window") is None
    settings.set_state("window", QByteArray(b"x"))
    assert settings.state("window") == QByteArray(b"x")


def test_the_folder_used_last_comes_back_while_it_is_there(own_settings: None, tmp_path: Path) -> None:
    assert Settings().folder() == Path.home()
    (tmp_path / "jobs").mkdir()
    Settings().set_folder(tmp_path / "jobs")
    assert Settings().folder() == tmp_path / "jobs"
    (tmp_path / "jobs").rmdir()
    assert Settings().folder() == Path.home()


def test_numbers_are_kept_and_nonsense_is_none(own_settings: None) -> None:
    settings = Settings()
    assert settings.number("strip height") == 0
    settings.set_number("strip height", 180)
    settings._store.sync()
    assert Settings().number("strip height") == 180
    settings._store.setValue("state/strip height", "high")
    assert settings.number("strip height") == 0
