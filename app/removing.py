"""Taking out what is selected, whatever it is: one step."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.device_words import load_name
from app.document import exists
from kinematics import edits, loading, plate_grips, zoning

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from app.document import Document, Selection
    from kinematics.project import Project

REMOVERS: dict[str, Callable[[Project, str], Project]] = {
    "pivot": edits.remove_pivot,
    "link": edits.remove_link,
    "outline": edits.remove_outline,
    "mark": edits.remove_mark,
    "measure": edits.remove_measure,
    "mass": loading.remove_mass,
    "handle": lambda project, name: loading.remove_load(project, "handle", name),
    "device": loading.remove_device,
    "zone": lambda project, name: zoning.remove_zone(project, project.zone_place(name)),
}


def remove(document: Document, selection: Selection) -> bool:
    """Take it out; the fixed link and the panel stay, and a sentence says so. Of a grip of a plate what it did."""
    if selection.kind == "link" and selection.part is not None:
        return _take_back(document, selection.id, selection.part)
    remover = REMOVERS[selection.kind]
    is_load = selection.kind in ("mass", "handle", "device")
    name = load_name(selection.kind, selection.id) if is_load else f"{selection.kind} {selection.id}"
    return document.attempt(f"Remove {name}", lambda project: remover(project, selection.id))


def _take_back(document: Document, link: str, number: int) -> bool:
    """Make the side or the plate that a grip bends straight again, or take its cutout out."""
    grip = plate_grips.grip_of(document.project, link, number)
    words = f"Remove cutout {grip.place + 1} of" if grip.kind == "cutout" else "Straighten"
    return document.attempt(f"{words} {link}", lambda project: plate_grips.straighten(project, link, number))


def remove_all(document: Document, selections: Sequence[Selection]) -> bool:
    """Take several things out, in one step; what is gone already with another counts as taken out."""
    if len(selections) == 1:
        return remove(document, selections[0])

    # Numbers change with what goes before: the last point, the last zone and the last mass go first.
    names = {"zone": document.project.zone_names, "mass": loading.mass_names(document.project)}
    order = {each: (-1 if each.part is None else each.part, _number(each, names)) for each in selections}
    last_first = sorted(selections, key=order.__getitem__, reverse=True)

    def without(project: Project) -> Project:
        for each in last_first:
            if exists(project, each):
                project = _without(project, each)
        return project

    return document.attempt(f"Remove {len(selections)} things", without)


def _number(selection: Selection, names: Mapping[str, Sequence[str]]) -> int:
    """Place of a zone or a mass in the project's list; −1 for all else."""
    known = names.get(selection.kind, ())
    return known.index(selection.id) if selection.id in known else -1


def _without(project: Project, selection: Selection) -> Project:
    """The project without a thing; of a point of an outline or zone, or a grip of a plate, without that alone."""
    if selection.part is not None and selection.kind == "zone":
        return zoning.delete_zone_point(project, project.zone_place(selection.id), selection.part)
    if selection.part is not None and selection.kind == "outline":
        return edits.delete_outline_point(project, selection.id, selection.part)
    if selection.part is not None and selection.kind == "link":
        return plate_grips.straighten(project, selection.id, selection.part)
    return REMOVERS[selection.kind](project, selection.id)
