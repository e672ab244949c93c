"""A folder of files, all or none: new, over an earlier run, over other people's files, and when a move fails."""

from __future__ import annotations

import json
import os
from typing import TYPE_CHECKING

import pytest

from app.files.errors import FileError
from app.files.writers import home_code
from app.making import writing
from app.making.writing import INDEX, faults_told, write_set, written_before

if TYPE_CHECKING:
    from pathlib import Path


def index(*paths: str) -> dict[str, object]:
    return {"files": [{"path": path, "kind": "plate"} for path in paths], "faults": []}


def put(to: Path, *paths: str, word: str = "new") -> None:
    write_set(to, {path: f"{word} {path}".encode() for path in paths}, index(*paths))


def held(to: Path) -> dict[str, str]:
    return {path.relative_to(to).as_posix(): path.read_text() for path in to.rglob("*") if path.is_file()}


def without_index(to: Path) -> dict[str, str]:
    return {path: text for path, text in held(to).items() if path != INDEX}


def test_a_new_folder_and_those_above_it(tmp_path: Path) -> None:
    to = tmp_path / "deep" / "build"
    put(to, "plates/a.dxf", "parts.csv")
    assert without_index(to) == {"plates/a.dxf": "new plates/a.dxf", "parts.csv": "new parts.csv"}
    assert json.loads(held(to)[INDEX]) == index("plates/a.dxf", "parts.csv")
    assert [path.name for path in to.parent.iterdir()] == ["build"]
    assert faults_told(to) == faults_told(tmp_path) == ()
    write_set(to, {"parts.csv": b""}, {"files": [{"path": "parts.csv"}], "faults": ["a.", "b."]})
    assert faults_told(to) == ("a.", "b.")


def test_an_earlier_run_gives_way_and_what_is_of_others_stays(tmp_path: Path) -> None:
    put(tmp_path, "plates/a.dxf", "plates/b.dxf", "parts.csv", word="old")
    (tmp_path / "notes.txt").write_text("mine")
    put(tmp_path, "plates/a.dxf", "parts.csv")
    assert without_index(tmp_path) == {
        "plates/a.dxf": "new plates/a.dxf",
        "parts.csv": "new parts.csv",
        "notes.txt": "mine",
    }


@pytest.mark.parametrize("path", ["parts.csv", INDEX, "plates/a.dxf"])
def test_what_nobody_here_has_written_is_never_taken_away(tmp_path: Path, path: str) -> None:
    (tmp_path / path).parent.mkdir(exist_ok=True)
    (tmp_path / path).write_text("mine")
    with pytest.raises(FileError, match=r"nothing is written: it holds .*Name another folder"):
        put(tmp_path, "plates/a.dxf", "parts.csv")
    assert held(tmp_path) == {path: "mine"}


def test_places_where_no_folder_can_be(tmp_path: Path, read_only: Path) -> None:
    (tmp_path / "file").write_text("mine")
    with pytest.raises(FileError, match="there is a file of that name"):
        put(tmp_path / "file", "parts.csv")
    with pytest.raises(FileError, match="can't be made or written to"):
        put(read_only / "build", "parts.csv")
    (tmp_path / "elsewhere").mkdir()
    to = tmp_path / "build"
    to.mkdir()
    (to / "plates").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(FileError, match="no folder of its own"):
        put(to, "plates/a.dxf")
    assert not list((tmp_path / "elsewhere").iterdir())


def test_an_index_that_points_elsewhere_takes_nothing_away(tmp_path: Path) -> None:
    to = tmp_path / "build"
    to.mkdir()
    (tmp_path / "mine.txt").write_text("mine")
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere" / "b.dxf").write_text("mine")
    (to / "linked").symlink_to(tmp_path / "elsewhere")
    (to / "notes.txt").write_text("mine")
    named = ("../mine.pdf", "/etc/hosts", "a/b/c.dxf", "plates/a.dxf", INDEX, "C:x.dxf", "notes.txt", "linked/b.dxf")
    (to / INDEX).write_text(json.dumps(index(*named)))
    assert written_before(to) == {"plates/a.dxf", "linked/b.dxf"}
    put(to, "parts.csv")
    assert (tmp_path / "mine.txt").read_text() == (to / "notes.txt").read_text() == "mine"
    assert (tmp_path / "elsewhere" / "b.dxf").read_text() == "mine"


def test_a_name_that_changed_its_capitals_takes_the_old_ones_place(tmp_path: Path) -> None:
    put(tmp_path, "plates/Arm.dxf", word="old")
    put(tmp_path, "plates/arm.dxf")
    assert without_index(tmp_path) == {"plates/arm.dxf": "new plates/arm.dxf"}


@pytest.mark.parametrize("fails_at", range(1, 7))
def test_when_a_move_fails_all_is_as_before(tmp_path: Path, fails_at: int, monkeypatch: pytest.MonkeyPatch) -> None:
    put(tmp_path, "plates/a.dxf", "parts.csv", "gone.pdf", word="old")
    before, moves, move = held(tmp_path), [0], writing._move

    def failing(path: Path, target: Path) -> None:
        moves[0] += 1
        if moves[0] == fails_at:
            raise OSError(28, "No space left on device")
        move(path, target)

    monkeypatch.setattr(writing, "_move", failing)
    with pytest.raises(FileError, match="the disk is full"):
        put(tmp_path, "plates/a.dxf", "more/b.dxf", "parts.csv")
    assert held(tmp_path) == before
    assert not (tmp_path / "more").exists()


def test_when_a_file_cannot_be_written_nothing_is_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(FileError, match="the disk is full"):
        put(tmp_path / "build", "plates/a.dxf")
    assert not list(tmp_path.iterdir())


def test_stages_of_killed_runs_go(tmp_path: Path) -> None:
    left = tmp_path / f".hingewright-{home_code()}-999999999-0123456789abcdef.making"
    mine = tmp_path / f".hingewright-{home_code()}-{os.getpid()}-0123456789abcdef.making"
    for stage in (left, mine):
        stage.mkdir()
    put(tmp_path / "build", "parts.csv")
    assert not left.exists()
    assert mine.exists()
