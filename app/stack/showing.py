"""What is shown of the stack beside the work."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PySide6.QtWidgets import QDialog

    from app.window import Window

SECTIONS, IN_SPACE = "sections", "in space"
"""The words by which the drawer says what is wanted to be seen."""


def show_stack(window: Window, what: str) -> QDialog | None:
    """Show the sections through the pins, or the hinge in space; None where something else is wanted."""
    made = {SECTIONS: _sections, IN_SPACE: _in_space}.get(what)
    if made is None:
        return None
    window.document.commit()
    dialog = made(window)
    window.help.answer_in(dialog, "build#layers-and-stack")
    dialog.show()
    return dialog


def _sections(window: Window) -> QDialog:
    from app.stack.dialog import SectionDialog

    dialog = SectionDialog(window.document, window.look, window)
    selection = window.document.selection
    if selection is not None and selection.kind == "pivot":
        dialog.show_pin(selection.id)
    return dialog


def _in_space(window: Window) -> QDialog:
    from app.stack.space_view import SpaceDialog

    return SpaceDialog(window.document, window.look, window)
