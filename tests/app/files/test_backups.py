"""Backups of the last saves: what they hold, how many there are, and that no instant leaves fewer good copies."""

from __future__ import annotations

import os
import stat
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from app.files import load, save
from app.files.backups import MOST, add_backup, backups, prune, save_with_backup, saved_at
from app.files.errors import FileError
from app.files.project_file import written
from tests.specimens import demo_six_bar as first

if TYPE_CHECKING:
    from pathlib import Path

    from kinematics.project import Project


def titled(number: int) -> Project:
    return replace(first, title=f"number {number}")


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "a hinge.hinge"


def titles(file: Path) -> list[str]:
    return [load(each).title for each in backups(file)]


def test_the_last_saves_are_kept_newest_first_and_no_more(file: Path) -> None:
    for number in range(MOST + 4):
        assert save_with_backup(titled(number), file) == ""
    assert load(file) == titled(MOST + 3)
    assert titles(file) == [f"number {number}" for number in range(MOST + 2, 2, -1)]
    assert [each.name for each in backups(file)] == [f"a hinge~{n}.hinge" for n in range(MOST + 3, 3, -1)]


def test_a_first_save_has_nothing_to_keep(file: Path) -> None:
    save_with_backup(first, file)
    assert backups(file) == []
    assert list(file.parent.iterdir()) == [file]


def test_saving_the_same_again_pushes_nothing_out(file: Path) -> None:
    for number in (0, 1, 1, 1, 1, 1, 1, 1):
        save_with_backup(titled(number), file)
    assert titles(file) == ["number 0"]


def test_a_damaged_file_is_kept_too_before_it_is_written_over(file: Path) -> None:
    file.write_bytes(b"half a pro")
    save_with_backup(first, file)
    assert backups(file)[0].read_bytes() == b"half a pro"


def test_a_save_that_fails_takes_no_backup_away(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for number in range(MOST + 1):
        save_with_backup(titled(number), file)
    before = {load(file).title, *titles(file)}
    replace_ = os.replace

    def failing(source: Path, target: Path) -> None:
        if target == file:
            raise OSError(28, "No space left on device")
        replace_(source, target)

    monkeypatch.setattr(os, "replace", failing)
    with pytest.raises(FileError, match="the disk is full"):
        save_with_backup(titled(99), file)
    assert {load(file).title, *titles(file)} == before


def test_where_no_backup_can_be_made_the_save_is_and_it_is_told(file: Path) -> None:
    save(titled(1), file)
    (file.parent / ".hingewright").write_text("a file stands where the folder should")
    told = save_with_backup(titled(2), file)
    assert "a hinge.hinge: it is saved, but what it held before could not be kept" in told
    assert load(file) == titled(2)


class Killed(BaseException):
    """Stands for the end of the process between two of its calls."""


@pytest.mark.parametrize("after", [False, True])
@pytest.mark.parametrize("turn", range(14))
def test_no_instant_leaves_fewer_good_copies(
    turn: int, after: bool, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The process ends before or after each call that changes something on the disk."""
    for number in range(MOST + 1):
        save_with_backup(titled(number), file)
    calls = 0

    def dying(call: Any) -> Any:  # noqa: ANN401
        def counted(*given: Any, **named: Any) -> Any:  # noqa: ANN401
            nonlocal calls
            calls += 1
            if calls - 1 == turn:
                if after:
                    call(*given, **named)
                raise Killed
            return call(*given, **named)

        return counted

    with monkeypatch.context() as patch:
        for name in ("open", "write", "fsync", "replace", "utime", "unlink"):
            patch.setattr(os, name, dying(getattr(os, name)))
        try:
            save_with_backup(titled(99), file)
        except Killed:
            pass
        else:
            assert turn >= calls
    good = {load(file).title, *titles(file)}
    assert len(good) >= MOST + 1
    assert load(file) in (titled(MOST), titled(99))


def test_other_files_beside_it_are_none_of_its_backups(file: Path) -> None:
    save_with_backup(titled(0), file)
    save_with_backup(titled(1), file)
    folder = file.parent / ".hingewright"
    for name in ("a hinge~x.hinge", "a hinge~.hinge", "b~1.hinge", "a hinge~1~2.hinge", "a hinge~3.hingex"):
        (folder / name).write_text("")
    assert [each.name for each in backups(file)] == ["a hinge~1.hinge"]


@pytest.mark.skipif(os.name != "posix", reason="rights as on Unix")
def test_a_backup_can_be_read_by_no_more_people_than_its_file(file: Path) -> None:
    save(titled(0), file)
    file.chmod(0o600)
    save_with_backup(titled(1), file)
    assert stat.S_IMODE(backups(file)[0].stat().st_mode) == 0o600


def test_a_backup_shows_when_its_content_was_saved(file: Path) -> None:
    save(titled(0), file)
    os.utime(file, (1_600_000_000, 1_600_000_000))
    save_with_backup(titled(1), file)
    assert saved_at(backups(file)[0]) == 1_600_000_000
    assert saved_at(file.parent / "nowhere") == 0


def test_a_link_has_the_backups_of_the_file_that_it_points_to(file: Path, tmp_path: Path) -> None:
    save_with_backup(titled(0), file)
    (tmp_path / "shelf").mkdir()
    link = tmp_path / "shelf" / "link.hinge"
    link.symlink_to(file)
    save_with_backup(titled(1), link)
    assert titles(file) == titles(link) == ["number 0"]


def test_numbers_go_on_whatever_clocks_say(file: Path) -> None:
    save(titled(0), file)
    add_backup(file, b"first", 2e9)
    add_backup(file, b"second", 1e9)
    assert [each.read_bytes() for each in backups(file)] == [b"second", b"first"]
    assert add_backup(file, b"second", 3e9) is None
    prune(file)
    assert len(backups(file)) == 2


def test_what_is_there_twice_counts_once(file: Path) -> None:
    """A kill between the backup and the save, then work taken back, and the file is copied once more."""
    for number in range(MOST + 1):
        save_with_backup(titled(number), file)
    good = {load(file).title, *titles(file)}
    add_backup(file, file.read_bytes(), 0.0)  # the kill
    add_backup(file, written(titled(50)), 0.0)  # the work that was taken back
    save_with_backup(titled(99), file)
    assert titles(file) == ["number 5", "number 50", "number 4", "number 3", "number 2"]
    assert len({load(file).title, *titles(file)}) >= len(good)


def test_going_back_to_an_earlier_save_leaves_no_fewer_different_ones(file: Path) -> None:
    for number in (0, 1, 2, 3, 4, 5, 3):
        save_with_backup(titled(number), file)
    assert {load(file).title, *titles(file)} == {f"number {n}" for n in range(6)}
    save_with_backup(titled(6), file)
    assert titles(file) == ["number 3", "number 5", "number 4", "number 2", "number 1"]
