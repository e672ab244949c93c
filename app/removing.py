"""Taking out what is selected, whatever it is: one step."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kinematics import edits

if TYPE_CHECKING:
    from app.document import Document, Selection

REMOVERS = {
    "pivot": edits.remove_pivot,
    "link": edits.remove_link,
    "outline": edits.remove_outline,
    "mark": edits.remove_mark,
}


def remove(document: Document, selection: Selection) -> bool:
    """Take it out; the fixed link and the panel stay, and a sentence says so."""
    remover = REMOVERS[selection.kind]
    return document.attempt(f"Remove {selection.kind} {selection.id}", lambda project: remover(project, selection.id))
