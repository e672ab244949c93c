"""The drawing of the set-out beside the work."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PySide6.QtWidgets import QDialog

    from app.window import Window

SETOUT = "set-out"
"""The word by which the drawer says that the drawing is wanted."""


def show_setout(window: Window, what: str) -> QDialog | None:
    """Show the drawing; None where something else is wanted."""
    if what != SETOUT:
        return None
    from app.setout.dialog import SetOutDialog

    window.document.commit()
    dialog = SetOutDialog(window.document, window.look, window)
    window.help.answer_in(dialog, "wall#marks-on-the-wall")
    dialog.show()
    return dialog
