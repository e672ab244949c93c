"""What the program remembers between two starts: recent files, preferences, where the window stood. Nothing about a
project.

Kept as a plain text file in the user's configuration folder (on Linux ~/.config/Hingewright/hingewright.ini), so that
it can be read, copied and deleted by hand.
"""

from __future__ import annotations

import re
from dataclasses import fields, replace
from pathlib import Path

from PySide6.QtCore import QByteArray, QSettings

from app.preferences import Preferences
from kinematics.errors import HingewrightError

RECENT_MOST = 8


class Settings:
    """Typed door to the settings file."""

    def __init__(self) -> None:
        self._store = QSettings(QSettings.Format.IniFormat, QSettings.Scope.UserScope, "Hingewright", "hingewright")

    def recent(self) -> list[Path]:
        """Project files opened or saved last, the newest first; those that are gone are left out."""
        return [path for path in self.remembered() if path.is_file()]

    def remembered(self) -> list[Path]:
        """The same without a look at the disk, which may be slow."""
        stored = self._store.value("recent", [])
        names = stored if isinstance(stored, list) else [stored]  # one entry comes back as a plain text
        return [Path(name) for name in names if isinstance(name, str) and name and "\0" not in name]

    def add_recent(self, path: Path) -> None:
        """Put a file at the top of the recent ones."""
        path = path.absolute()
        kept = [path, *(other for other in self.recent() if other != path)][:RECENT_MOST]
        self._store.setValue("recent", [str(each) for each in kept])

    def clear_recent(self) -> None:
        """Forget the recent files."""
        self._store.setValue("recent", [])

    def folder(self) -> Path:
        """Give the folder that a file was taken from or put into last, or the home folder when that one is gone."""
        stored = self._store.value("folder", "")
        folder = Path(stored) if isinstance(stored, str) and stored else Path.home()
        return folder if folder.is_dir() else Path.home()

    def set_folder(self, folder: Path) -> None:
        """Remember a folder."""
        self._store.setValue("folder", str(folder.absolute()))

    def preferences(self) -> Preferences:
        """Give what the builder has set; what the file says wrongly, or not at all, is as it was at first."""
        kept = Preferences()
        for each in fields(Preferences):
            stored = self._store.value(f"preferences/{each.name}")
            try:
                kept = replace(kept, **{each.name: type(getattr(kept, each.name))(stored)})
            except (HingewrightError, TypeError, ValueError, OverflowError):  # noise in the file, or nothing
                continue
        return kept

    def set_preferences(self, preferences: Preferences) -> None:
        """Remember what the builder has set."""
        for each in fields(Preferences):
            self._store.setValue(f"preferences/{each.name}", getattr(preferences, each.name))

    def state(self, name: str) -> QByteArray | None:
        """Give the stored state of a window or splitter, as Qt gave it to us, or None."""
        stored = self._store.value(f"state/{name}")
        return stored if isinstance(stored, QByteArray) else None

    def set_state(self, name: str, state: QByteArray) -> None:
        """Remember the state of a window or splitter."""
        self._store.setValue(f"state/{name}", state)

    def text(self, name: str) -> str:
        """Give a stored text; "" where there is none."""
        stored = self._store.value(f"state/{name}", "")
        return stored if isinstance(stored, str) else ""

    def set_text(self, name: str, text: str) -> None:
        """Remember a text."""
        self._store.setValue(f"state/{name}", text)

    def snaps(self) -> bool:
        """Whether what is near draws the hand on the board."""
        return bool(self._store.value("snaps", True) not in (False, "false"))

    def set_snaps(self, snaps: bool) -> None:
        """Remember whether it does."""
        self._store.setValue("snaps", snaps)

    def pinches(self) -> bool:
        """Whether pinch places are marked on the board."""
        return bool(self._store.value("pinches", True) not in (False, "false"))

    def set_pinches(self, marked: bool) -> None:
        """Remember whether they are."""
        self._store.setValue("pinches", marked)

    def pushes(self) -> bool:
        """Whether arrows at the pins show which way to push them."""
        return bool(self._store.value("pushes", True) not in (False, "false"))

    def set_pushes(self, shown: bool) -> None:
        """Remember whether they do."""
        self._store.setValue("pushes", shown)

    def forces(self) -> bool:
        """Whether arrows show the forces on all pins."""
        return bool(self._store.value("forces", False) in (True, "true"))

    def set_forces(self, shown: bool) -> None:
        """Remember whether they do."""
        self._store.setValue("forces", shown)

    def mount(self) -> bool:
        """Whether bracket and base are always shown."""
        return bool(self._store.value("mount", False) in (True, "true"))

    def set_mount(self, shown: bool) -> None:
        """Remember whether they are."""
        self._store.setValue("mount", shown)

    def number(self, name: str) -> int:
        """Give a stored whole number; 0 where there is none, or one that no screen has pixels for."""
        stored = str(self._store.value(f"state/{name}", 0))
        return int(stored) if re.fullmatch(r"[0-9]{1,5}", stored) else 0

    def set_number(self, name: str, number: int) -> None:
        """Remember a whole number, 0 or more."""
        self._store.setValue(f"state/{name}", number)
