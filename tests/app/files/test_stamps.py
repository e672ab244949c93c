"""Stamps: a file is the same, has changed, or is gone."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest

from app.files.stamps import look, stamp

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "a.hinge"
    path.write_bytes(b"one")
    return path


def test_a_file_left_alone_is_the_same(file: Path) -> None:
    known = stamp(file)
    assert look(file, known) == ("same", known)


def test_touched_or_written_anew_alike_is_the_same(file: Path) -> None:
    known = stamp(file)
    os.utime(file, (1e9, 1e9))
    state, now = look(file, known)
    assert state == "same"
    assert now != known  # its new figures are known from now on
    other = file.with_name("b")
    other.write_bytes(b"one")
    other.replace(file)
    assert look(file, now)[0] == "same"


def test_a_change_of_equal_length_is_seen(file: Path) -> None:
    known = stamp(file)
    file.write_bytes(b"two")
    os.utime(file, ns=(0, known.time_ns + 1 if known else 0))  # clocks of file systems may be coarse
    assert look(file, known)[0] == "changed"


def test_gone_is_told_once_and_what_comes_back_is_a_change(file: Path) -> None:
    known = stamp(file)
    file.unlink()
    assert look(file, known) == ("gone", None)
    assert look(file, None) == ("same", None)
    file.write_bytes(b"back")
    assert look(file, None)[0] == "changed"


def test_what_can_be_no_file_is_gone(tmp_path: Path, file: Path) -> None:
    known = stamp(file)
    assert stamp(tmp_path) is None  # a folder
    assert look(tmp_path, known)[0] == "gone"
    assert look(file / "below", known)[0] == "gone"
