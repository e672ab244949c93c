"""What is shown of the stack beside the work."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PySide6.QtWidgets import QDialog

    from app.window import Window

SECTIONS, IN_SPACE = "sections", "in space"
"""The words by which the drawer says what is wanted to be seen."""


def show_stack(window: Window, what: str) -> QDialog | None:
    """Show the sections through the pins; None where something else is wanted."""
    if what != SECTIONS:
        return None
    from app.stack.dialog import SectionDialog

    window.document.commit()
    dialog = SectionDialog(window.document, window.look, window)
    selection = window.document.selection
    if selection is not None and selection.kind == "pivot":
        dialog.show_pin(selection.id)
    window.help.answer_in(dialog, "build#layers-and-stack")
    dialog.show()
    return dialog
