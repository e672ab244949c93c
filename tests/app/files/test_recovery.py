"""The recovery copy: where it stands, that the file is never touched, that it is found and ends well."""

from __future__ import annotations

import os
import stat
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from app.files import load, recovery, save
from app.files.backups import backups
from app.files.errors import FileError
from app.files.places import data_folder
from app.files.recovery import KEY, Copy, Left, left_behind, read_copy, set_aside, set_aside_folder
from app.files.writers import Writer, this_process
from tests.specimens import ALL
from tests.specimens import demo_six_bar as saved

ONE, TWO = "1" * 16, "2" * 16
work = replace(saved, title="more than is saved")


@pytest.fixture(autouse=True)
def _own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A project file in a folder of its own."""
    (tmp_path / "bench").mkdir()
    path = tmp_path / "bench" / "a hinge.hinge"
    save(saved, path)
    return path


def dead(monkeypatch: pytest.MonkeyPatch, **change: str) -> None:
    """From now on copies are written by a process that is gone; or by one elsewhere."""
    writer = replace(this_process(), **(change or {"boot": "an earlier one"}))
    monkeypatch.setattr(recovery, "this_process", lambda: writer)


def found(*paths: Path) -> list[Left]:
    left, faults = left_behind(paths)
    assert faults == []
    return left


# -------------------------------------------------------------------------------------------------------- where it is
def test_a_copy_stands_beside_its_file_which_is_not_touched(file: Path) -> None:
    before, figures = file.read_bytes(), file.stat()
    copy = Copy(file, ONE)
    place = copy.keep(work)
    assert place == file.parent / ".hingewright" / f"a hinge.hinge.{ONE}.kept"
    assert (file.read_bytes(), file.stat()) == (before, figures)
    assert copy.is_there
    copy.drop()
    assert not copy.is_there
    assert list(file.parent.iterdir()) == [file]


def test_a_copy_is_a_project_file_that_says_who_wrote_it(file: Path) -> None:
    place = Copy(file, ONE).keep(work)
    assert load(place).unknown[KEY]["writer"] == this_process().as_json()  # type: ignore[index]  # JSON
    left = read_copy(place, file)
    assert (left.project, left.of, left.writer, left.running) == (work, file, this_process(), True)
    assert left.time == pytest.approx(place.stat().st_mtime, abs=5)


def test_work_without_a_file_is_kept_in_the_users_data_folder() -> None:
    place = Copy(None, ONE).keep(work)
    assert place == data_folder() / "kept" / f"{ONE}.kept"
    left = read_copy(place)
    assert (left.project, left.of) == (work, None)


def test_unknown_keys_of_the_project_are_kept_and_our_own_is_not(file: Path) -> None:
    strange = replace(work, unknown={"colour of the van": "blue"})
    left = read_copy(Copy(file, ONE).keep(strange), file)
    assert left.project == strange
    assert dict(left.project.unknown) == {"colour of the van": "blue"}


@pytest.mark.parametrize("name", sorted(ALL))
def test_every_specimen_comes_back(name: str, file: Path) -> None:
    assert read_copy(Copy(file, ONE).keep(ALL[name]), file).project == ALL[name]


@pytest.mark.skipif(os.name != "posix", reason="rights as on Unix")
def test_a_copy_can_be_read_by_no_more_people_than_its_file(file: Path) -> None:
    file.chmod(0o600)
    assert stat.S_IMODE(Copy(file, ONE).keep(work).stat().st_mode) == 0o600


def test_two_windows_never_write_over_each_others_copy(file: Path) -> None:
    first, second = Copy(file, ONE), Copy(file, TWO)
    places = first.keep(work), second.keep(saved)
    assert [read_copy(each, file).project for each in places] == [work, saved]
    first.drop()
    assert places[1].exists()


def test_when_the_folder_is_gone_it_is_kept_in_the_data_folder(file: Path, tmp_path: Path) -> None:
    copy = Copy(file, ONE)
    copy.keep(saved)
    file.parent.rename(tmp_path / "pulled out")
    assert copy.keep(work) == data_folder() / "kept" / f"{ONE}.kept"
    assert not file.parent.exists()
    (tmp_path / "pulled out").rename(file.parent)  # and comes back
    assert copy.keep(work).parent == file.parent / ".hingewright"
    assert not list((data_folder() / "kept").iterdir())


def test_where_it_can_be_kept_nowhere_it_is_told(read_only: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(read_only))
    for path in (None, read_only / "a.hinge"):
        with pytest.raises(FileError, match="work that is not saved can't be kept"):
            Copy(path, ONE).keep(work)


def test_names_too_long_to_be_made_longer_are_kept_elsewhere(tmp_path: Path) -> None:
    file = tmp_path / ("n" * 249 + ".hinge")
    save(saved, file)
    assert Copy(file, ONE).keep(work).parent == data_folder() / "kept"


# ------------------------------------------------------------------------------------------------------- found again
def test_a_copy_of_a_running_process_is_not_offered(file: Path) -> None:
    Copy(file, ONE).keep(work)
    Copy(None, TWO).keep(work)
    assert found(file) == []


def test_a_copy_left_behind_is_found_beside_its_file(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    dead(monkeypatch)
    place = Copy(file, ONE).keep(work)
    (left,) = found(file)
    assert (left.at, left.project, left.of, left.running) == (place, work, file, False)
    assert found(file.with_name("another.hinge")) == []


def test_work_without_a_file_is_found_whatever_is_opened(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    dead(monkeypatch)
    Copy(None, ONE).keep(work)
    (left,) = found(file)
    assert (left.project, left.of) == (work, None)


def test_a_copy_kept_elsewhere_knows_its_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    dead(monkeypatch)
    file = tmp_path / "gone" / "50 % of a hinge?.hinge"
    Copy(file, ONE).keep(work)
    (left,) = found()
    assert left.of == file


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="names of any bytes")
def test_a_name_of_any_bytes_is_found_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    dead(monkeypatch)
    file = Path(os.fsdecode(bytes(tmp_path) + b"/gone/\xff\xfe.hinge"))
    Copy(file, ONE).keep(work)
    assert [left.of for left in found()] == [file]


def test_of_one_session_the_newest_copy_is_offered_once(
    file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A stick was pulled out, the work went on in the data folder, the program broke off, the stick is back."""
    dead(monkeypatch)
    copy = Copy(file, ONE)
    copy.keep(replace(work, title="older"))
    file.parent.rename(tmp_path / "pulled out")
    monkeypatch.setattr(recovery.time, "time", lambda: 4e9)
    copy.keep(work)
    (tmp_path / "pulled out").rename(file.parent)
    (left,) = found(file)
    assert left.project == work


def test_several_sessions_left_something_the_newest_comes_first(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    dead(monkeypatch)
    for session, seconds in ((ONE, 1e9), (TWO, 2e9)):
        monkeypatch.setattr(recovery.time, "time", lambda seconds=seconds: seconds)
        Copy(file, session).keep(replace(work, title=session))
    assert [left.project.title for left in found(file)] == [TWO, ONE]


def test_what_the_file_says_too_is_no_news(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The program ended between saving and dropping the copy."""
    dead(monkeypatch)
    place = Copy(file, ONE).keep(saved)
    assert found(file) == []
    assert not place.exists()


def test_on_another_computer_nobody_knows_and_nothing_is_taken_away(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    dead(monkeypatch, host="the other bench")
    places = [Copy(file, ONE).keep(work), Copy(file, TWO).keep(saved)]
    assert {(left.running, left.writer.host) for left in found(file)} == {(None, "the other bench")}
    assert all(place.exists() for place in places)


@pytest.mark.parametrize("noise", [b"", b"{", b"\xff\x00", b"[]", b'{"format": "hingewright", "version": 99}'])
def test_a_copy_that_cannot_be_read_is_told_and_left(noise: bytes, file: Path) -> None:
    place = Copy(file, ONE).keep(work)
    place.write_bytes(noise)
    left, faults = left_behind([file])
    assert left == []
    assert len(faults) == 1
    assert place.name in faults[0]
    assert place.read_bytes() == noise


def test_a_copy_that_does_not_say_who_wrote_it_is_told(file: Path) -> None:
    place = Copy(file, ONE).keep(work)
    for header in (None, 3, {"writer": 3}, {"writer": {"pid": -1}}):
        save(replace(work, unknown={KEY: header} if header is not None else {}), place)
        with pytest.raises(FileError, match="who wrote it"):
            read_copy(place, file)


@pytest.mark.parametrize("of", [3, "", "http://a/b", "file://[/b", "file:///a%00b", "a/b"])
def test_a_header_of_noise_names_no_file(of: object) -> None:
    place = Copy(None, ONE).keep(work)
    header = {"writer": this_process().as_json(), "time": "noon", "of": of}
    save(replace(work, unknown={KEY: header}), place)
    left = read_copy(place)
    assert (left.of, left.time) == (None, 0.0)


def test_other_files_are_no_copies(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    dead(monkeypatch)
    Copy(file.with_name("a hinge.hinge.old"), ONE).keep(work)
    (file.parent / ".hingewright" / "a hinge.hinge.kept").write_text("noise")
    assert found(file) == []


# -------------------------------------------------------------------------------------------------------- and ends well
def test_what_is_left_alone_becomes_a_backup(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    dead(monkeypatch)
    Copy(file, ONE).keep(work)
    (left,) = found(file)
    set_aside(left)
    assert not left.at.exists()
    assert load(backups(file)[0]) == work
    assert load(file) == saved
    assert found(file) == []


def test_what_has_no_file_or_no_folder_any_more_goes_to_the_data_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    dead(monkeypatch)
    Copy(None, ONE).keep(work)
    Copy(tmp_path / "gone" / "b.hinge", TWO).keep(saved)
    for left in found():
        set_aside(left)
    assert {path.name for path in set_aside_folder().iterdir()} == {"untitled~1.hinge", "b~1.hinge"}
    assert not list((data_folder() / "kept").iterdir())


def test_what_cannot_be_set_aside_stays(monkeypatch: pytest.MonkeyPatch) -> None:
    dead(monkeypatch)
    place = Copy(None, ONE).keep(work)
    (data_folder() / "left").write_text("a file stands where the folder should")
    with pytest.raises(FileError, match="It was left where it is"):
        set_aside(Left(place, work, None, 0.0, Writer(1, "a"), False))
    assert place.exists()
