"""Where things are kept: beside the file, and in the user's folders."""

from __future__ import annotations

import stat
import sys
from typing import TYPE_CHECKING

import pytest

from app.files.places import beside, data_folder, is_ours, made_private, state_folder
from resources import find

if TYPE_CHECKING:
    from pathlib import Path

linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="the folders of Linux")


def test_beside_is_a_hidden_folder_beside_the_file_that_a_link_points_to(tmp_path: Path) -> None:
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf/real.hinge").write_text("")
    (tmp_path / "link.hinge").symlink_to(tmp_path / "shelf/real.hinge")
    assert beside(tmp_path / "link.hinge") == tmp_path / "shelf/.hingewright"
    assert beside(tmp_path / "other.hinge") == tmp_path / ".hingewright"


def test_nothing_stands_beside_what_ships_with_the_program(tmp_path: Path) -> None:
    demo = find("demos/launch hatch.hinge")
    (tmp_path / "link.hinge").symlink_to(demo)
    for path in (demo, tmp_path / "link.hinge"):
        assert is_ours(path)
        assert beside(path).is_relative_to(data_folder())
    assert not is_ours(tmp_path / "launch hatch.hinge")


@linux
def test_folders_of_the_user_follow_the_xdg_specification(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "d"))
    monkeypatch.setenv("XDG_STATE_HOME", "relative/is/ignored")
    assert data_folder() == tmp_path / "d/hingewright"
    assert state_folder() == tmp_path / ".local/state/hingewright"
    monkeypatch.delenv("XDG_DATA_HOME")
    assert data_folder() == tmp_path / ".local/share/hingewright"


@linux
def test_a_made_folder_is_its_users_alone(tmp_path: Path) -> None:
    made = made_private(tmp_path / "a/b")
    assert stat.S_IMODE(made.stat().st_mode) == 0o700
    assert made_private(made) == made
