"""What keys and the menu do to what is selected: each one edit, one step. No widgets here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.board.gestures import placement_of
from app.board.hands import tell_locked
from app.board.hits import edge_hit
from app.document import Selection
from app.removing import remove
from kinematics import arranging, edits, zoning
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.document import Document
    from kinematics.project import Point, Project


def apply(document: Document, label: str, edit: Callable[[Project], Project]) -> bool:
    """Do an edit as one step; what it refuses is said by `noticed`, and gives False."""
    try:
        changed = edit(document.project)
    except HingewrightError as error:
        document.refuse(str(error))
        return False
    document.apply(label, changed)
    return True


def toggle_lock(document: Document, kind: str, id_: str) -> None:
    """Lock a pivot, an outline or a mark, or free a locked one."""
    locked = bool(getattr(document.project, kind)(id_).locked)
    apply(
        document,
        f"{'Free' if locked else 'Lock'} {kind} {id_}",
        lambda project: arranging.lock_part(project, kind, id_, not locked),
    )


def toggle_hidden(document: Document, kind: str, id_: str) -> None:
    """Leave a part out of the picture, or show a hidden one again."""
    hidden = bool(getattr(document.project, kind)(id_).hidden)
    apply(
        document,
        f"{'Show' if hidden else 'Hide'} {kind} {id_}",
        lambda project: arranging.hide_part(project, kind, id_, not hidden),
    )


def show_hidden(document: Document) -> None:
    """Show every part that is hidden."""
    apply(document, "Show what is hidden", arranging.show_all)


def insert_point(document: Document, outline_id: str, at: Point) -> None:
    """Insert a point into the outline's edge that is nearest to a place of the board, and select it."""
    if tell_locked(document, Selection("outline", outline_id)):
        return
    outline = document.project.outline(outline_id)
    back = placement_of(document, outline.on).back(at)
    place = edge_hit(outline.points, back, outline.closed)[0] + 1
    if apply(
        document,
        f"Insert a point into {outline_id}",
        lambda project: edits.insert_outline_point(project, outline_id, place, back),
    ):
        document.select(Selection("outline", outline_id, place))


def delete_point(document: Document, outline_id: str, part: int) -> None:
    """Take a point out of an outline, and select the one before it."""
    if tell_locked(document, Selection("outline", outline_id)):
        return
    if apply(
        document,
        f"Delete point {part + 1} of {outline_id}",
        lambda project: edits.delete_outline_point(project, outline_id, part),
    ):
        document.select(Selection("outline", outline_id, max(part - 1, 0)))


def insert_corner(document: Document, zone: str, at: Point) -> None:
    """Insert a corner into the zone's edge that is nearest to a place of the board, and select it."""
    points, place = document.project.zone(zone).points, document.project.zone_place(zone)
    back = placement_of(document, document.project.zone(zone).on).back(at)
    corner = edge_hit(points, back, closed=True)[0] + 1
    if apply(document, f"Insert a corner into zone {zone}", lambda p: zoning.insert_zone_point(p, place, corner, back)):
        document.select(Selection("zone", zone, corner))


def delete_corner(document: Document, zone: str, part: int) -> None:
    """Take a corner out of a zone, and select the one before it."""
    place = document.project.zone_place(zone)
    label = f"Delete corner {part + 1} of zone {zone}"
    if apply(document, label, lambda project: zoning.delete_zone_point(project, place, part)):
        document.select(Selection("zone", zone, max(part - 1, 0)))


def delete_part(document: Document, selection: Selection) -> None:
    """Take out what is selected of a part: the point of an outline, the corner of a zone, the device of an end, a
    plate's cutout; what another grip of a plate has bent becomes straight.
    """
    if selection.kind in ("device", "link"):
        remove(document, selection)
        return
    delete = delete_corner if selection.kind == "zone" else delete_point
    delete(document, selection.id, selection.part or 0)


def toggle_closed(document: Document, outline_id: str) -> None:
    """Close an outline, or open a closed one."""
    closed = document.project.outline(outline_id).closed
    apply(
        document,
        f"{'Open' if closed else 'Close'} {outline_id}",
        lambda project: edits.close_outline(project, outline_id, not closed),
    )


def step_pivot(document: Document, step: int) -> None:
    """Select the next pivot (+1) or the one before (−1), round and round."""
    names = [pivot.id for pivot in document.project.pivots]
    if not names:
        return
    chosen = document.selection
    place = (
        names.index(chosen.id) + step
        if chosen is not None and chosen.kind == "pivot" and chosen.id in names
        else min(step, 0)
    )
    document.select(Selection("pivot", names[place % len(names)]))
