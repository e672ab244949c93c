"""The program on a Linux desktop: what is written, that other programs read it, and that it goes again."""

from __future__ import annotations

import os
import shlex
import shutil
import subprocess
import sys
from configparser import RawConfigParser
from pathlib import Path
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

import pytest
from PySide6.QtCore import QMimeDatabase
from PySide6.QtGui import QImage

from app import desktop
from app.cli import main
from app.desktop import command, entry, install, quoted, remove
from app.identity import ENTRY
from kinematics.errors import HingewrightError
from resources import find

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

WRITTEN = (
    "applications/hingewright.desktop", "mime/packages/hingewright.xml", "icons/hicolor/scalable/apps/hingewright.svg",
    "icons/hicolor/48x48/apps/hingewright.png", "icons/hicolor/256x256/apps/hingewright.png",
)  # fmt: skip
linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="a desktop of Linux")


@pytest.fixture
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of this test for the user's data, and a command `hingewright` to start."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    program = tmp_path / "bin with a blank/hingewright"
    program.parent.mkdir()
    program.write_text("#!/bin/sh\n")
    program.chmod(0o755)
    monkeypatch.setattr(sys, "argv", [str(program)])
    monkeypatch.setattr(desktop, "_told", lambda *_: True)  # the desktop of the one who tests is left alone
    return tmp_path / "data"


def values(text: str) -> dict[str, str]:
    """Keys and values of a desktop entry."""
    parser = RawConfigParser()
    parser.optionxform = str  # type: ignore[assignment,method-assign]  # keys have their own case
    parser.read_string(text)
    return dict(parser["Desktop Entry"])


@linux
def test_install_writes_what_it_says_and_remove_takes_the_same_away(data: Path) -> None:
    assert install() == [f"wrote {data / name}" for name in WRITTEN]
    assert {str(path.relative_to(data)) for path in data.rglob("*") if path.is_file()} == set(WRITTEN)
    assert remove() == [f"removed {data / name}" for name in WRITTEN]
    assert not [path for path in data.rglob("*") if path.is_file()]
    assert remove() == [f"nothing of hingewright was there in {data}"]


@linux
def test_it_can_be_installed_again_over_itself(data: Path) -> None:
    assert install() == install()


@linux
def test_other_applications_are_left_alone(data: Path) -> None:
    other = data / "applications/other.desktop"
    other.parent.mkdir(parents=True)
    other.write_text("[Desktop Entry]\n")
    install()
    remove()
    assert other.read_text() == "[Desktop Entry]\n"


@linux
def test_the_entry_starts_this_program_on_a_file(data: Path) -> None:
    install()
    found = values((data / WRITTEN[0]).read_text())
    assert shlex.split(found["Exec"]) == [sys.argv[0], "%f"]
    assert found["Icon"] == "hingewright"
    assert found["MimeType"] == "application/x-hingewright+json;"
    assert Path(WRITTEN[0]).stem == ENTRY, "a window is told by the entry's name"


@pytest.mark.parametrize("text", [find("desktop/hingewright.desktop").read_text(), entry(Path("/a b/c$d"))])
def test_the_entry_has_all_that_the_specification_requires(text: str) -> None:
    """Desktop Entry Specification, "Recognized desktop entry keys": Type, Name and, for an application, Exec."""
    found = values(text)
    assert found["Type"] == "Application"
    assert found["Name"] == "Hingewright"
    assert found["Exec"].endswith(" %f")
    assert found["Terminal"] == "false"
    for key in ("Categories", "Keywords", "MimeType"):
        assert found[key].endswith(";"), "lists end with a semicolon"


@pytest.mark.skipif(shutil.which("desktop-file-validate") is None, reason="needs desktop-file-utils")
def test_the_desktops_own_checker_finds_no_fault(tmp_path: Path) -> None:
    path = tmp_path / "hingewright.desktop"
    path.write_text(entry(Path('/opt/a b"c/hingewright')))
    told = subprocess.run(["desktop-file-validate", str(path)], capture_output=True, text=True, check=False)
    assert (told.returncode, told.stdout) == (0, "")


@pytest.mark.parametrize(
    ("argument", "written"),
    [
        ("/usr/bin/hingewright", "/usr/bin/hingewright"),
        ("/a b/hingewright", '"/a b/hingewright"'),
        ("/a$b", '"/a\\\\$b"'),
        ('/a"b', '"/a\\\\"b"'),
        ("/a\\b", '"/a\\\\\\\\b"'),
        ("/100%/x", "/100%%/x"),
    ],
)
def test_signs_that_an_entry_reads_are_set_apart(argument: str, written: str) -> None:
    r"""Desktop Entry Specification, "The Exec key": a literal backslash in quotes is four of them, a dollar `\\\\$`."""
    assert quoted(argument) == written


def test_the_file_type_is_json_of_our_own() -> None:
    tree = ET.parse(find("desktop/hingewright-mime.xml"))
    space = "{http://www.freedesktop.org/standards/shared-mime-info}"
    (kind,) = tree.getroot()
    assert kind.get("type") == "application/x-hingewright+json"
    parts = {part.tag.removeprefix(space): part for part in kind}
    assert parts["glob"].get("pattern") == "*.hinge"
    assert parts["sub-class-of"].get("type") == "application/json"
    assert parts["icon"].get("name") == "hingewright"


@linux
@pytest.mark.skipif(shutil.which("update-mime-database") is None, reason="needs shared-mime-info")
def test_qt_knows_the_file_type_once_it_is_installed(data: Path) -> None:
    """Qt's own reading of the shared database, in a process of its own, as it reads it once."""
    install()
    subprocess.run(["update-mime-database", str(data / "mime")], check=True, capture_output=True)
    code = (
        "from PySide6.QtCore import QMimeDatabase as M; print(M().mimeTypeForFile('x.hinge', M.MatchExtension).name())"
    )
    told = subprocess.run(
        [sys.executable, "-c", code.replace("M.MatchExtension", "M.MatchMode.MatchExtension")],
        env={**os.environ, "XDG_DATA_HOME": str(data)}, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert told.stdout.strip() == "application/x-hingewright+json"
    assert QMimeDatabase().mimeTypeForName("application/json").isValid()


@linux
def test_the_pictures_are_the_icon(data: Path, qtbot: QtBot) -> None:
    install()
    assert (data / WRITTEN[2]).read_bytes() == find("desktop/hingewright.svg").read_bytes()
    for name, side in zip(WRITTEN[3:], (48, 256), strict=True):
        image = QImage(str(data / name))
        assert (image.width(), image.height()) == (side, side)
        assert image.pixelColor(0, 0).alpha() == 0, "round corners"
        assert image.pixelColor(side // 2, side // 2).alpha() == 255


def test_the_data_folder_follows_the_specification(monkeypatch: pytest.MonkeyPatch) -> None:
    """XDG Base Directory Specification: where XDG_DATA_HOME is unset, empty or relative, $HOME/.local/share."""
    usual = Path.home() / ".local/share"
    for named, expected in (("", usual), ("relative/one", usual), ("/somewhere", Path("/somewhere"))):
        monkeypatch.setenv("XDG_DATA_HOME", named)
        assert desktop.home() == expected
    monkeypatch.delenv("XDG_DATA_HOME")
    assert desktop.home() == usual


# --------------------------------------------------------------------------------------------------- the command itself
@linux
def test_the_command_says_what_it_did(data: Path, capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["desktop", "--install"]) == 0
    assert capfd.readouterr().out.splitlines() == [f"wrote {data / name}" for name in WRITTEN]
    assert main(["desktop", "--remove"]) == 0
    assert capfd.readouterr().out.splitlines() == [f"removed {data / name}" for name in WRITTEN]


@pytest.mark.parametrize("words", [[], ["--install", "--remove"], ["--put"], ["--install", "x"]])
def test_a_wrong_command_is_told_in_one_sentence(words: list[str], capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["desktop", *words]) == 2
    told = capfd.readouterr()
    assert told.out == ""
    assert len(told.err.splitlines()) == 1
    assert "hingewright desktop" in told.err


@linux
def test_a_place_that_cannot_be_written_is_named(
    data: Path, read_only: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(read_only))
    assert main(["desktop", "--install"]) == 2
    (told,) = capfd.readouterr().err.splitlines()
    assert "can't be written" in told
    assert "hingewright.desktop" in told


@linux
def test_a_checkout_that_was_not_installed_has_nothing_to_start(
    data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "argv", ["-c"])
    monkeypatch.setattr(sys, "executable", str(tmp_path / "python"))
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(HingewrightError, match="Install the program with pip first"):
        command()
    with pytest.raises(HingewrightError):
        install()
    assert not data.exists(), "nothing is half installed"


def test_elsewhere_it_says_so(data: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "win32")
    for act in (install, remove):
        with pytest.raises(HingewrightError, match="It is for Linux"):
            act()
    assert not data.exists()


@linux
def test_tools_of_the_desktop_that_are_missing_are_named(
    data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.undo()
    monkeypatch.setenv("XDG_DATA_HOME", str(data))
    monkeypatch.setattr(sys, "argv", [str(tmp_path / "bin with a blank/hingewright")])
    monkeypatch.setenv("PATH", str(tmp_path))
    *written, last = install()
    assert len(written) == len(WRITTEN)
    assert "update-desktop-database and update-mime-database" in last
    assert "log in again" in last
