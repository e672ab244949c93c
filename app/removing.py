"""Taking out what is selected, whatever it is: one step."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.document import exists
from kinematics import edits, zoning

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from app.document import Document, Selection
    from kinematics.project import Project

REMOVERS: dict[str, Callable[[Project, str], Project]] = {
    "pivot": edits.remove_pivot,
    "link": edits.remove_link,
    "outline": edits.remove_outline,
    "mark": edits.remove_mark,
    "measure": edits.remove_measure,
    "zone": lambda project, name: zoning.remove_zone(project, project.zone_place(name)),
}


def remove(document: Document, selection: Selection) -> bool:
    """Take it out; the fixed link and the panel stay, and a sentence says so."""
    remover = REMOVERS[selection.kind]
    return document.attempt(f"Remove {selection.kind} {selection.id}", lambda project: remover(project, selection.id))


def remove_all(document: Document, selections: Sequence[Selection]) -> bool:
    """Take several things out, in one step; what is gone already with another counts as taken out."""
    if len(selections) == 1:
        return remove(document, selections[0])

    # Numbers change with what goes before: the last point, and the last zone, goes first.
    names = document.project.zone_names
    order = {each: (-1 if each.part is None else each.part, _number(each, names)) for each in selections}
    last_first = sorted(selections, key=order.__getitem__, reverse=True)

    def without(project: Project) -> Project:
        for each in last_first:
            if exists(project, each):
                project = _without(project, each)
        return project

    return document.attempt(f"Remove {len(selections)} things", without)


def _number(selection: Selection, zones: Sequence[str]) -> int:
    """Place of a zone in the project's list; −1 for all else."""
    return zones.index(selection.id) if selection.kind == "zone" and selection.id in zones else -1


def _without(project: Project, selection: Selection) -> Project:
    """The project without a thing; of a point of an outline or zone, without that alone."""
    if selection.part is not None and selection.kind == "zone":
        return zoning.delete_zone_point(project, project.zone_place(selection.id), selection.part)
    if selection.part is not None:
        return edits.delete_outline_point(project, selection.id, selection.part)
    return REMOVERS[selection.kind](project, selection.id)
