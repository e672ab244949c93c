"""Into which folder a set goes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.making.places import folder_within
from app.making.writing import write_set

if TYPE_CHECKING:
    from pathlib import Path


def test_an_empty_one_and_an_earlier_set_are_taken_others_get_one_within(tmp_path: Path) -> None:
    assert folder_within(tmp_path, "a/b") == tmp_path
    assert folder_within(tmp_path / "not there", "hatch") == tmp_path / "not there"
    (tmp_path / "notes.txt").write_text("mine")
    assert folder_within(tmp_path, "a/b") == tmp_path / "a-b build"
    (tmp_path / "notes.txt").unlink()
    write_set(tmp_path, {"parts.csv": b""}, {"files": [{"path": "parts.csv"}], "faults": []})
    assert folder_within(tmp_path, "hatch") == tmp_path
