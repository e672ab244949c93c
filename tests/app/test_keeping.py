"""The keeper: what is not saved stands beside the file, and goes when it is saved or given up."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtTest import QSignalSpy

from app import keeping
from app.document import Document
from app.files import load, recovery, save
from app.files.backups import backups
from app.files.claims import claim, holder_of
from app.files.places import data_folder
from app.files.recovery import Copy, left_behind, read_copy
from app.files.writers import this_process
from app.keeping import Keeper
from kinematics import edits
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from kinematics.project import Project

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    (tmp_path / "bench").mkdir()
    path = tmp_path / "bench" / "a.hinge"
    save(demo_six_bar, path)
    return path


@pytest.fixture
def document(file: Path) -> Document:
    document = Document()
    document.open(file)
    return document


@pytest.fixture
def keeper(document: Document) -> Iterator[Keeper]:
    keeper = Keeper(document)
    yield keeper
    keeper.close()


def edited(document: Document, by: float = 1.0) -> Project:
    """Make one step; gives what it led to."""
    pivot = document.project.pivots[0]
    document.apply("Move", edits.move_pivot(document.project, pivot.id, (pivot.at[0] + by, pivot.at[1])))
    return document.project


def copies(folder: Path) -> list[Project]:
    return [read_copy(path).project for path in sorted(folder.glob("*.kept"))]


def beside(file: Path) -> list[Project]:
    return copies(file.parent / ".hingewright")


def test_an_edit_is_kept_beside_the_file_unasked(keeper: Keeper, document: Document, file: Path, qtbot: QtBot) -> None:
    """Nobody waits for it here but the clock."""
    before = file.read_bytes()
    kept = edited(document)
    qtbot.waitUntil(lambda: beside(file) == [kept], timeout=10_000)
    assert file.read_bytes() == before
    newer = edited(document)
    qtbot.waitUntil(lambda: beside(file) == [newer], timeout=10_000)


def test_a_drag_that_goes_on_is_kept_too(keeper: Keeper, document: Document, file: Path) -> None:
    document.begin("Move pivot")
    pivot = document.project.pivots[0]
    document.preview(edits.move_pivot(document.project, pivot.id, (pivot.at[0] + 2.0, pivot.at[1])))
    document.flush()
    keeper.flush()
    assert beside(file) == [document.project]
    document.cancel()
    keeper.flush()
    assert beside(file) == []


def test_saving_takes_the_copy_away(keeper: Keeper, document: Document, file: Path) -> None:
    edited(document)
    keeper.flush()
    assert len(beside(file)) == 1
    document.save()
    keeper.flush()
    assert beside(file) == []
    assert load(file) == document.project


def test_undoing_all_takes_the_copy_away(keeper: Keeper, document: Document, file: Path) -> None:
    edited(document)
    keeper.flush()
    document.undo()
    keeper.flush()
    assert beside(file) == []


def test_saving_elsewhere_moves_copy_and_note(keeper: Keeper, document: Document, file: Path) -> None:
    edited(document)
    keeper.flush()
    other = file.with_name("b.hinge")
    document.save(other)
    kept = edited(document)
    keeper.flush()
    assert beside(file) == [kept]  # one folder for both; only the copy of b is in it
    assert read_copy(next((file.parent / ".hingewright").glob("*.kept")), other).project == kept
    assert next((file.parent / ".hingewright").glob("*.kept")).name.startswith("b.hinge.")
    assert holder_of(file) is None
    assert holder_of(other) is not None


def test_work_without_a_file_is_kept_in_the_data_folder(file: Path) -> None:
    document = Document(demo_six_bar)
    keeper = Keeper(document)
    kept = edited(document)
    keeper.flush()
    assert copies(data_folder() / "kept") == [kept]
    document.save(file.with_name("c.hinge"))
    keeper.flush()
    assert copies(data_folder() / "kept") == []
    keeper.close()


def test_closing_leaves_nothing(document: Document, file: Path) -> None:
    keeper = Keeper(document)
    edited(document)
    keeper.flush()
    assert holder_of(file) is not None
    keeper.close()
    keeper.close()
    assert list(file.parent.iterdir()) == [file]
    edited(document)  # nobody keeps this any more
    keeper.flush()
    assert list(file.parent.iterdir()) == [file]


def test_leaving_for_another_project_gives_the_copy_up(keeper: Keeper, document: Document, file: Path) -> None:
    edited(document)
    keeper.flush()
    document.new(demo_six_bar)
    keeper.flush()
    assert list(file.parent.iterdir()) == [file]


def test_a_file_that_is_open_elsewhere_is_told(document: Document, file: Path, qtbot: QtBot) -> None:
    claim(file, "another window")
    keeper = Keeper(document)
    spy = QSignalSpy(keeper.shared)
    qtbot.waitUntil(lambda: spy.count() == 1, timeout=5000)
    assert spy.at(0)[0].session == "another window"
    keeper.close()
    assert holder_of(file) is not None  # the note is theirs


def test_what_a_crash_left_is_found_taken_and_ends_as_a_backup(
    keeper: Keeper, document: Document, file: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    work = replace(demo_six_bar, title="left behind")
    with monkeypatch.context() as patch:
        patch.setattr(recovery, "this_process", lambda: replace(this_process(), boot="an earlier one"))
        place = Copy(file, "0" * 16).keep(work)
    with qtbot.waitSignal(keeper.found, timeout=5000) as told:
        keeper.look_for([file])
    (left,) = told.args[0]
    document.apply("Take back", left.project)
    keeper.take(left)
    keeper.flush()
    assert beside(file) == [work]  # our own copy
    assert not place.exists()
    assert [load(each) for each in backups(file)] == [work]
    assert load(file) == demo_six_bar
    document.save()
    keeper.flush()
    assert left_behind([file]) == ([], [])


def test_what_is_taken_back_is_on_the_disk_at_every_instant(
    keeper: Keeper, document: Document, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Our own copy first, then the backup, and only then the copy that was left goes."""
    done: list[str] = []
    for owner, name in ((recovery.Copy, "keep"), (recovery, "add_backup")):
        call = getattr(owner, name)
        monkeypatch.setattr(owner, name, lambda *given, call=call, name=name: (call(*given), done.append(name))[0])
    monkeypatch.setattr(recovery, "this_process", lambda: replace(this_process(), boot="an earlier one"))
    place = Copy(file, "0" * 16).keep(replace(demo_six_bar, title="left behind"))
    done.clear()
    unlink = type(place).unlink
    monkeypatch.setattr(
        type(place), "unlink", lambda self, **given: (done.append(f"gone {self.suffix}"), unlink(self, **given))[1]
    )
    left = read_copy(place, file)
    document.apply("Take back", left.project)
    keeper.take(left)
    keeper.flush()
    assert done == ["keep", "add_backup", "gone .kept"]


def test_leftovers_of_a_kill_are_swept_where_the_file_is(document: Document, file: Path) -> None:
    left = file.with_name(".hingewright-0123456789abcdef.part")
    left.write_text("half")
    import os

    os.utime(left, (1e9, 1e9))
    keeper = Keeper(document)
    keeper.flush()
    assert not left.exists()
    keeper.close()


def test_a_disk_that_takes_nothing_is_told_once_and_nothing_is_lost(
    keeper: Keeper, document: Document, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    said: list[str] = []
    document.noticed.connect(said.append)
    with monkeypatch.context() as patch:
        patch.setattr(recovery, "write_whole", full)
        for _ in range(3):
            edited(document)
            keeper.flush()
            qtbot.wait(1)
    assert len(said) == 1
    assert "a.hinge: work that is not saved can't be kept" in said[0]
    assert "the disk is full" in said[0]
    kept = edited(document)
    keeper.flush()
    assert document.path is not None
    assert beside(document.path) == [kept]


def test_a_fault_of_the_program_in_the_thread_comes_to_the_hook(
    keeper: Keeper, document: Document, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    def broken(*_: object) -> None:
        raise KeyError("missing")

    monkeypatch.setattr(recovery.Copy, "keep", broken)
    with qtbot.captureExceptions() as caught:
        edited(document)
        qtbot.waitUntil(lambda: bool(caught), timeout=10_000)
    assert caught[0][0] is KeyError


def test_the_copy_is_written_soon_enough() -> None:
    """The promise is 2 s with the writing; this leaves most of it to the slowest of disks."""
    assert keeping.KEEP_AFTER_S <= 1.0


def test_a_kill_after_a_save_leaves_no_copy_older_than_the_file(
    keeper: Keeper, document: Document, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The copy says what the file will say before the file does: offered, it would take the work back in time."""
    edited(document)
    keeper.flush()
    newest = edited(document)  # its copy is not due yet
    seen: list[tuple[list[Project], Project]] = []
    document.saving.connect(lambda: seen.append((beside(file), load(file))))
    document.save()
    assert seen == [([newest], demo_six_bar)]
