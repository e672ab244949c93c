"""The line at the head of the checks that says how many faults the build has: checks that all hold tell nothing of
plates that can't be cut.

It counts what the drawer Build tells beneath the parts to cut (`app.making.plan.known_faults`), not what only the stack
or the whole travel tells. It is counted a while after the last edit, off every drag.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QPushButton

from app.fields import named
from app.words import FAILS
from kinematics.plate_edits import has_plate

if TYPE_CHECKING:
    from app.document import Document
    from kinematics.analysis import Analysis
    from kinematics.project import Project

SOON_MS = 300
TIP = "Plates, pins or mounts can't be made as they are. Click to go to the drawer Build, where each fault is told."


class BuildLine(QPushButton):
    """How many faults the build has, and the way there; nothing is seen where it has none. `count_now` counts."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self.setObjectName("fault")
        self.setAutoDefault(False)
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(SOON_MS)
        self._soon.timeout.connect(self.count_now)
        document.analysed.connect(self._begin)
        self.show_count(0)
        self._begin()

    def _begin(self, _: Analysis | None = None) -> None:
        """Count once nothing more comes for a while."""
        if self._document.is_dragging:
            self._soon.stop()
        else:
            self._soon.start()

    def count_now(self) -> None:
        """Count the faults of the newest project."""
        if self._document.is_dragging:
            return
        self.show_count(_count(self._document.project))

    def show_count(self, count: int) -> None:
        """Say that there are so many."""
        self._soon.stop()
        words = f"Build has {count} fault{'s' if count != 1 else ''}"
        self.setText(f"{FAILS} {words}…")
        named(self, words, TIP)
        self.setVisible(count > 0)


def _count(project: Project) -> int:
    if not any(has_plate(project, link.id) for link in project.links):
        return 0  # nothing is built yet
    from app.making.plan import known_faults  # it brings writers of files along, which the start does without

    return len(known_faults(project, project.display_units))
