"""The starts: linkages that move at once, placed by the panel's rear edge."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.document import Document
    from app.look import Look


class StartsBox(QWidget):
    """Pictures of the starts; choosing one places it."""

    def __init__(self, document: Document, look: Callable[[], Look]) -> None:
        super().__init__()
        self._document, self._look = document, look

    def set_look(self, look: Look) -> None:
        """Take other colours."""
