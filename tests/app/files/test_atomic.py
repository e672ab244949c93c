"""Writing whole or not at all: killed at any instant, refused by the system, with the file's rights kept."""

from __future__ import annotations

import contextlib
import errno
import os
import stat
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from app.files import load, save
from app.files.atomic import sweep, write_whole
from app.files.errors import FileError
from app.files.writers import home_code
from tests.specimens import demo_six_bar, empty, with_everything

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

posix = pytest.mark.skipif(os.name != "posix", reason="rights, links and signals as on Unix")
OLD, NEW = b"old " * 1000, b"new " * 200_000


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A file that holds OLD, alone in its folder."""
    path = tmp_path / "a.hinge"
    path.write_bytes(OLD)
    return path


def alone(path: Path) -> bool:
    return list(path.parent.iterdir()) == [path]


def test_a_file_is_made_and_replaced(tmp_path: Path) -> None:
    path = tmp_path / "a.hinge"
    write_whole(path, NEW)
    assert path.read_bytes() == NEW
    write_whole(path, b"")
    assert path.read_bytes() == b""
    assert alone(path)


KILLER = """
import os, random, signal, sys, time
from app.files import load, save
from tests.specimens import empty, with_everything

path, seed, times = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
chance = random.Random(seed)
save(empty, path)
seen = set()
for _ in range(times):
    child = os.fork()
    if child == 0:
        while True:
            save(with_everything, path)
            save(empty, path)
    time.sleep(chance.uniform(0.001, 0.03))
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    found = load(path)
    seen.add(found == empty)
    assert found in (empty, with_everything)
print(len(seen))
"""


@posix
def test_a_kill_at_any_instant_leaves_the_old_file_or_the_new_one(tmp_path: Path) -> None:
    path = tmp_path / "a.hinge"
    command = [sys.executable, "-c", KILLER, str(path), "20240917", "30"]
    told = subprocess.run(command, capture_output=True, text=True, cwd=Path(__file__).parents[3], check=False)
    assert (told.returncode, told.stdout.strip()) == (0, "2"), told.stderr  # killed in the midst of saves of either
    assert load(path) in (empty, with_everything)
    save(demo_six_bar, path)  # what a kill left behind is in nobody's way
    assert load(path) == demo_six_bar
    assert all(other.name.endswith(".part") for other in path.parent.iterdir() if other != path)


class Killed(BaseException):
    """Stands for the end of the process between two of its calls."""


@pytest.mark.parametrize("call", ["open", "write", "fchmod", "fsync", "replace"])
def test_between_any_two_calls_the_file_is_whole(call: str, file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    states = []
    for after in (False, True):
        with monkeypatch.context() as patch:
            patch.setattr(os, call, dying(getattr(os, call), after))
            with pytest.raises(Killed):
                write_whole(file, NEW)
        states.append(file.read_bytes() == NEW)
        assert file.read_bytes() in (OLD, NEW)
    assert states == [False, call == "replace"]  # replacing is the one instant in which it changes


def dying(call: Callable[..., Any], after: bool) -> Callable[..., Any]:
    """The call as it is when the process ends just before it, or just after."""

    def last(*given: Any, **named: Any) -> Any:  # noqa: ANN401
        if after:
            call(*given, **named)
        raise Killed

    return last


@pytest.mark.parametrize("call", ["open", "write", "fsync", "replace"])
@pytest.mark.parametrize("fault", [errno.ENOSPC, errno.EIO, errno.EDQUOT])
def test_a_write_that_fails_leaves_the_old_file_and_nothing_else(
    call: str, fault: int, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def failing(*_given: Any, **_named: Any) -> None:  # noqa: ANN401
        raise OSError(fault, os.strerror(fault))

    with monkeypatch.context() as patch:
        patch.setattr(os, call, failing)
        with pytest.raises(OSError, match=r"\w") as failed:
            write_whole(file, NEW)
    assert failed.value.errno == fault
    assert file.read_bytes() == OLD
    assert alone(file)


def test_bytes_that_go_out_piece_by_piece_all_arrive(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write = os.write
    with monkeypatch.context() as patch:
        patch.setattr(os, "write", lambda handle, content: write(handle, bytes(content[:7777])))
        write_whole(file, NEW)
    assert file.read_bytes() == NEW


@posix
def test_a_file_larger_than_the_system_allows_is_told_and_undone(file: Path) -> None:
    import resource

    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (1000, hard))
    try:
        with pytest.raises(FileError) as failed:
            save(with_everything, file)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert "a.hinge: it could not be saved: the file would be larger than" in str(failed.value)
    assert file.read_bytes() == OLD
    assert alone(file)


@contextlib.contextmanager
def as_nobody() -> Iterator[None]:
    """Without the rights of root, should the tests have them."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.fixture
def open_folder(tmp_path: Path) -> Path:
    """A folder that anybody may enter and write in."""
    for folder in (tmp_path, *tmp_path.parents):
        if folder.stat().st_uid == os.geteuid() and folder.name.startswith(("pytest-", "test_")):
            folder.chmod(folder.stat().st_mode | 0o711)
    tmp_path.chmod(0o777)
    return tmp_path


@posix
def test_a_folder_that_may_not_be_written_is_told(open_folder: Path) -> None:
    path = open_folder / "a.hinge"
    path.write_bytes(OLD)
    path.chmod(0o666)
    open_folder.chmod(0o555)
    with as_nobody(), pytest.raises(FileError, match=r"could not be saved: .*access is denied"):
        save(empty, path)
    open_folder.chmod(0o777)
    assert path.read_bytes() == OLD
    assert alone(path)


@posix
def test_a_file_that_may_not_be_written_is_not_replaced(open_folder: Path) -> None:
    path = open_folder / "a.hinge"
    path.write_bytes(OLD)
    path.chmod(0o444)
    with as_nobody(), pytest.raises(FileError, match=r"could not be saved: .*access is denied"):
        save(empty, path)
    assert path.read_bytes() == OLD
    assert alone(path)


@posix
def test_a_file_that_may_not_be_read_is_told(open_folder: Path) -> None:
    path = open_folder / "a.hinge"
    path.write_bytes(OLD)
    path.chmod(0o000)
    with as_nobody(), pytest.raises(FileError, match=r"can't be read: .*access is denied"):
        load(path)


@posix
@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664, 0o755])
def test_rights_are_kept(mode: int, file: Path) -> None:
    file.chmod(mode)
    write_whole(file, NEW)
    assert stat.S_IMODE(file.stat().st_mode) == mode


@posix
def test_a_new_file_has_the_rights_that_the_user_gives_new_files(tmp_path: Path) -> None:
    before = os.umask(0o027)
    try:
        write_whole(tmp_path / "a.hinge", NEW)
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "a.hinge").stat().st_mode) == 0o640


@posix
@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="only root may give files away")
def test_the_owner_is_kept(file: Path) -> None:
    os.chown(file, 12345, 54321)
    write_whole(file, NEW)
    assert (file.stat().st_uid, file.stat().st_gid) == (12345, 54321)


@posix
def test_a_link_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "shelf").mkdir()
    real, link = tmp_path / "shelf" / "real.hinge", tmp_path / "link.hinge"
    real.write_bytes(OLD)
    link.symlink_to(real)
    write_whole(link, NEW)
    assert link.is_symlink()
    assert real.read_bytes() == NEW
    assert alone(real)


@posix
def test_devices_and_folders_are_not_replaced(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    for target in (tmp_path / "pipe", tmp_path):
        with pytest.raises(FileError, match="could not be saved"):
            save(empty, target)
    assert stat.S_ISFIFO((tmp_path / "pipe").stat().st_mode)


def test_a_folder_that_cannot_be_pushed_to_the_disk_is_no_fault(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fsync, calls = os.fsync, []

    def only_files(handle: int) -> None:
        calls.append(handle)
        if stat.S_ISDIR(os.fstat(handle).st_mode):
            raise OSError(errno.EINVAL, "Invalid argument")
        fsync(handle)

    monkeypatch.setattr(os, "fsync", only_files)
    write_whole(file, NEW)
    assert file.read_bytes() == NEW
    assert len(calls) == 2  # the file first, then its folder


# ------------------------------------------------------------------------------------------------------------ leftovers
def left_part(folder: Path, pid: int, home: str = "") -> Path:
    path = folder / f".hingewright-{home or home_code()}-{pid}-0123456789abcdef.part"
    path.write_bytes(b"half of it")
    return path


def test_what_a_kill_left_is_swept_when_its_writer_is_dead(tmp_path: Path) -> None:
    child = subprocess.Popen([sys.executable, "-c", "input()"], stdin=subprocess.PIPE)
    theirs, ours = left_part(tmp_path, child.pid), left_part(tmp_path, os.getpid())
    sweep(tmp_path)
    assert theirs.exists()
    child.communicate(b"\n")
    sweep(tmp_path)
    assert not theirs.exists()
    assert ours.exists()


def test_what_another_computer_may_be_writing_is_left_for_a_day(tmp_path: Path) -> None:
    theirs, older = left_part(tmp_path, 99, home="00000000"), tmp_path / ".hingewright-0123456789abcdef.part"
    older.write_bytes(b"named as it once was")
    sweep(tmp_path)
    assert theirs.exists()
    assert older.exists()
    for path in (theirs, older):
        os.utime(path, (1e9, 1e9))
    sweep(tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_only_leftovers_are_swept(file: Path, read_only: Path) -> None:
    others = [file.with_name(name) for name in ("a.part", ".hingewright-x.part", ".hingewright-00000000-1-0.part")]
    for other in others:
        other.write_bytes(b"")
        os.utime(other, (1e9, 1e9))
    sweep(file.parent)
    sweep(read_only)
    assert all(other.exists() for other in others)


@posix
def test_a_new_file_takes_the_rights_of_the_one_it_is_like(file: Path) -> None:
    file.chmod(0o600)
    write_whole(file.with_name("b"), NEW, like=file)
    assert stat.S_IMODE(file.with_name("b").stat().st_mode) == 0o600
    write_whole(file.with_name("c"), NEW, like=file.with_name("nowhere"))
    assert file.with_name("c").read_bytes() == NEW
