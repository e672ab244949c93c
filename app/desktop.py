"""The program's place on a Linux desktop: its entry among the applications, its icon, and `.hinge` as a file type.

    hingewright desktop --install     for this user alone, beneath $XDG_DATA_HOME (else ~/.local/share)
    hingewright desktop --remove      takes the same files away again
    hingewright desktop --icons DIR   the icon as .ico, .icns and .svg, for packages on any system

What is written where: an entry (Desktop Entry Specification), a file type (Shared MIME-info Database), and the
icon, as a drawing and in two plain sizes (Icon Theme Specification); all of freedesktop.org. Each file is put in whole
or not at all. Then the desktop's own tools, where they are installed, are told to look again.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

from app.files.atomic import write_whole
from app.files.errors import FileError, fault_of, shown_name
from kinematics.errors import HingewrightError
from resources import find

NAME = "hingewright"
ENTRY = f"applications/{NAME}.desktop"
FILE_TYPE = f"mime/packages/{NAME}.xml"
DRAWING = f"icons/hicolor/scalable/apps/{NAME}.svg"
SIZES = (48, 256)  # the least that the specification asks for, and one for large screens
REFRESH_S = 60
RESERVED = re.compile(r"[\s\"'\\><~|&;$*?#()`]")  # an argument with one of these is put in quotes


def install() -> list[str]:
    """Put the program on this user's desktop; gives what was done, a line each.

    Raises HingewrightError, one sentence, where there is no such desktop, no command to start, or no way to write.
    """
    _check_system()
    content = {
        ENTRY: entry(command()).encode(),
        FILE_TYPE: find(f"desktop/{NAME}-mime.xml").read_bytes(),
        DRAWING: find(f"desktop/{NAME}.svg").read_bytes(),
        **{_plain(side): icon_png(side) for side in SIZES},
    }
    return [*_put({home() / name: data for name, data in content.items()}), *_look_again()]


def write_icons(folder: Path) -> list[str]:
    """Write the icon as packages for other systems ask for it, into a folder; gives what was done, a line each.

    Raises HingewrightError, one sentence, where nothing can be written.
    """
    from app.icon_files import SIDES as ALL_SIDES
    from app.icon_files import icns, ico

    pictures = {side: icon_png(side) for side in ALL_SIDES}
    drawing = find(f"desktop/{NAME}.svg").read_bytes()
    content = {"ico": ico(pictures), "icns": icns(pictures), "svg": drawing}
    return _put({folder / f"{NAME}.{ending}": data for ending, data in content.items()})


def _put(content: dict[Path, bytes]) -> list[str]:
    """Write files, and the folders that they are in; gives a line each."""
    for target, data in content.items():
        try:
            target.parent.mkdir(parents=True, exist_ok=True)
            write_whole(target, data)
        except OSError as fault:
            raise FileError(f"it can't be written: {fault_of(fault)}", shown_name(target)) from fault
    return [f"wrote {target}" for target in content]


def remove() -> list[str]:
    """Take the program off this user's desktop; gives what was done, a line each. What isn't there is left out."""
    _check_system()
    done = []
    for name in (ENTRY, FILE_TYPE, DRAWING, *map(_plain, SIZES)):
        target = home() / name
        try:
            target.unlink()
        except FileNotFoundError:
            continue
        except OSError as fault:
            raise FileError(f"it can't be removed: {fault_of(fault)}", shown_name(target)) from fault
        done.append(f"removed {target}")
    return [*done, *_look_again()] if done else [f"nothing of {NAME} was there in {home()}"]


def _check_system() -> None:
    if not sys.platform.startswith("linux"):
        raise HingewrightError(
            "there is no desktop of this kind on this system",
            "desktop",
            "It is for Linux; elsewhere the installer of a package does it.",
        )


def home() -> Path:
    """Give the folder for this user's data, by the XDG Base Directory Specification: only a whole path counts."""
    named = Path(os.environ.get("XDG_DATA_HOME", ""))
    return named if named.is_absolute() else Path.home() / ".local/share"


def _plain(side: int) -> str:
    return f"icons/hicolor/{side}x{side}/apps/{NAME}.png"


# --------------------------------------------------------------------------------------------------------------- entry
def entry(program: Path) -> str:
    """Give the desktop entry that starts a program file."""
    lines = find(f"desktop/{NAME}.desktop").read_text(encoding="utf-8").splitlines()
    starts = f"Exec={quoted(str(program))} %f"
    return "\n".join(starts if line.startswith("Exec=") else line for line in lines) + "\n"


def command() -> Path:
    """Find the program file that starts this very program: the one that runs, else the one beside its Python.

    Raises HingewrightError where there is none, as in a checkout that was not installed.
    """
    there = [Path(sys.argv[0]), Path(sys.executable).with_name(NAME), Path(shutil.which(NAME) or "")]
    for each in there:
        if each.name == NAME and each.is_file() and os.access(each, os.X_OK):
            return each.absolute()
    raise HingewrightError(
        f"there is no command {NAME} that a desktop could start", "desktop", "Install the program with pip first."
    )


def quoted(argument: str) -> str:
    """Give an argument as an entry's Exec line has it: in quotes where need be, and signs that it reads set apart.

    Two rules one over the other (Desktop Entry Specification, "The Exec key"): a backslash before what quotes
    don't cover, then every backslash doubled, as in all values that are strings. A percent sign is doubled too.
    """
    if RESERVED.search(argument):
        argument = '"' + re.sub(r'(["`$\\])', r"\\\1", argument) + '"'
    return argument.replace("\\", "\\\\").replace("%", "%%")


# ---------------------------------------------------------------------------------------------------------------- icon
def icon_png(side: int) -> bytes:
    """Draw the icon as a square picture, PNG."""
    from PySide6.QtCore import QBuffer, QByteArray, QIODevice

    from app.identity import icon_image

    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    icon_image(side).save(buffer, "PNG")  # type: ignore[call-overload]  # the stub wants bytes, Qt takes a str
    buffer.close()
    return bytes(data.data())


# ---------------------------------------------------------------------------------------------------------- look again
def _look_again() -> list[str]:
    """Tell the desktop to look again; gives what it could not be told, in a line."""
    tools = {"update-desktop-database": "applications", "update-mime-database": "mime"}
    missing = [tool for tool, folder in tools.items() if not _told(tool, home() / folder)]
    themes = home() / "icons/hicolor"
    if themes.is_dir():
        os.utime(themes)  # by its time caches of icons know that they are old
    if not missing:
        return []
    return [f"the desktop was not told by {' and '.join(missing)}; it will see the change when you log in again"]


def _told(tool: str, folder: Path) -> bool:
    found = shutil.which(tool)
    if found is None or not folder.is_dir():
        return found is not None
    try:
        ran = subprocess.run([found, str(folder)], capture_output=True, check=False, timeout=REFRESH_S)
    except (OSError, subprocess.TimeoutExpired):
        return False
    return ran.returncode == 0
