"""Taking out what is selected, whatever it is: one step."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.document import exists
from kinematics import edits

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.document import Document, Selection
    from kinematics.project import Project

REMOVERS = {
    "pivot": edits.remove_pivot,
    "link": edits.remove_link,
    "outline": edits.remove_outline,
    "mark": edits.remove_mark,
    "measure": edits.remove_measure,
}


def remove(document: Document, selection: Selection) -> bool:
    """Take it out; the fixed link and the panel stay, and a sentence says so."""
    remover = REMOVERS[selection.kind]
    return document.attempt(f"Remove {selection.kind} {selection.id}", lambda project: remover(project, selection.id))


def remove_all(document: Document, selections: Sequence[Selection]) -> bool:
    """Take several things out, in one step; what is gone already with another counts as taken out."""
    if len(selections) == 1:
        return remove(document, selections[0])

    last_points_first = sorted(selections, key=lambda each: -1 if each.part is None else each.part, reverse=True)

    def without(project: Project) -> Project:
        for each in last_points_first:
            if exists(project, each):
                project = _without(project, each)
        return project

    return document.attempt(f"Remove {len(selections)} things", without)


def _without(project: Project, selection: Selection) -> Project:
    """The project without a thing; of an outline's point, without that alone."""
    if selection.part is not None:
        return edits.delete_outline_point(project, selection.id, selection.part)
    return REMOVERS[selection.kind](project, selection.id)
