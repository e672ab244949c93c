"""The note that a file is open: who sees whose, what is stale, what is noise."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from app.files import claims
from app.files.claims import claim, holder_of, note_of, release
from app.files.writers import this_process

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "a.hinge"
    path.write_text("")
    return path


def noted(file: Path, session: str, monkeypatch: pytest.MonkeyPatch, **change: str) -> None:
    """Leave the note of another process."""
    with monkeypatch.context() as patch:
        patch.setattr(claims, "this_process", lambda: replace(this_process(), **change))
        assert claim(file, session) is None


def test_the_first_has_it_the_second_is_told_who(file: Path) -> None:
    assert claim(file, "one") is None
    holder = claim(file, "two")
    assert holder is not None
    assert (holder.writer, holder.session, holder.running) == (this_process(), "one", True)
    assert holder.since > 1.6e9
    assert claim(file, "one") is None


def test_it_is_given_back_without_a_trace_and_by_its_owner_only(file: Path) -> None:
    claim(file, "one")
    release(file, "two")
    assert holder_of(file) is not None
    release(file, "one")
    assert list(file.parent.iterdir()) == [file]
    assert claim(file, "two") is None


def test_a_stale_note_is_taken_over(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    noted(file, "one", monkeypatch, boot="before the power failed")
    holder = holder_of(file)
    assert holder is not None
    assert holder.running is False
    assert claim(file, "two") is None
    assert claim(file, "three") is not None


def test_on_another_computer_nobody_knows_and_it_is_told(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    noted(file, "one", monkeypatch, host="the other bench")
    holder = claim(file, "two")
    assert holder is not None
    assert holder.running is None
    assert holder.writer.host == "the other bench"


@pytest.mark.parametrize("noise", [b"", b"{", b"\xff\x00", b"[]", b'{"writer": 3}', b"[" * 5000, b"9" * 5000])
def test_a_note_of_noise_is_taken_over(file: Path, noise: bytes) -> None:
    note_of(file).parent.mkdir()
    note_of(file).write_bytes(noise)
    assert holder_of(file) is None
    assert claim(file, "one") is None
    holder = holder_of(file)
    assert holder is not None
    assert holder.session == "one"


def test_a_note_with_a_wild_time_is_read(file: Path) -> None:
    claim(file, "one")
    for wild in (True, -1, 1e300, "noon"):
        data = json.loads(note_of(file).read_text())
        note_of(file).write_text(json.dumps({**data, "since": wild}))
        holder = holder_of(file)
        assert holder is not None
        assert holder.since == 0.0


def test_where_no_note_can_be_written_there_is_none(read_only: Path, tmp_path: Path) -> None:
    assert claim(read_only / "a.hinge", "one") is None
    assert claim(tmp_path / "no such folder" / "a.hinge", "one") is None
    assert not (tmp_path / "no such folder").exists()
    release(read_only / "a.hinge", "one")
