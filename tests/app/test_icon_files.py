"""The icon for Windows and macOS, read back by Qt's own readers: every size is there, and shows the icon."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtGui import QImageReader

from app import icon_files
from app.cli import main
from app.desktop import icon_png
from app.identity import icon_image
from tests.app.pictures import differ

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot


@pytest.fixture(scope="module")
def pictures(qapp: object) -> dict[int, bytes]:
    return {side: icon_png(side) for side in icon_files.SIDES}


@pytest.mark.parametrize(("name", "sides"), [("ico", icon_files.ICO_SIDES), ("icns", tuple(icon_files.ICNS_KINDS))])
def test_another_reader_finds_every_size(
    name: str, sides: tuple[int, ...], pictures: dict[int, bytes], tmp_path: Path
) -> None:
    path = tmp_path / f"icon.{name}"
    path.write_bytes(getattr(icon_files, name)(pictures))
    reader = QImageReader(str(path), name.encode())
    found = {}
    for place in range(reader.imageCount()):
        assert reader.jumpToImage(place)
        image = reader.read()
        found[image.width()] = image
    assert set(found) == set(sides)
    for side in sides:
        assert differ(found[side], icon_image(side)) < 0.01


def test_the_command_writes_both_and_says_so(tmp_path: Path, qtbot: QtBot, capfd: pytest.CaptureFixture[str]) -> None:
    there = tmp_path / "not yet there"
    assert main(["desktop", "--icons", str(there)]) == 0
    names = ["hingewright.ico", "hingewright.icns", "hingewright.svg"]
    assert capfd.readouterr().out.splitlines() == [f"wrote {there / name}" for name in names]
    assert (there / names[0]).read_bytes()[:6] == b"\0\0\1\0\7\0"
    assert (there / names[1]).read_bytes()[:4] == b"icns"


def test_a_folder_that_cannot_be_written_is_named(
    read_only: Path, qtbot: QtBot, capfd: pytest.CaptureFixture[str]
) -> None:
    assert main(["desktop", "--icons", str(read_only / "icons")]) == 2
    (told,) = capfd.readouterr().err.splitlines()
    assert "can't be written" in told
