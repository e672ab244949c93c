"""Shows the sheets of the whole set beside the work."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PySide6.QtWidgets import QDialog

    from app.window import Window

SHEETS = "sheets of the set"
"""The word by which the drawer says that they are wanted."""


def show_set(window: Window, what: str = SHEETS) -> QDialog | None:
    """Show the sheets; None where something else is wanted."""
    if what != SHEETS:
        return None
    from app.set_dialog import SetDialog

    window.document.commit()
    dialog = SetDialog(window.document, window)
    window.help.answer_in(dialog, "build#the-build-sheet")
    dialog.show()
    return dialog
