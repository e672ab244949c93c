"""What keys and the menu do to what is selected: each one edit, one step. No widgets here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.board.hands import placement_of
from app.board.hits import edge_hit
from app.document import Selection
from kinematics import edits
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
        document.noticed.emit(str(error))
        return False
    document.apply(label, changed)
    return True


def toggle_lock(document: Document, pivot_id: str) -> None:
    """Lock a pivot, or free a locked one."""
    locked = document.project.pivot(pivot_id).locked
    apply(
        document,
        f"{'Free' if locked else 'Lock'} pivot {pivot_id}",
        lambda project: edits.lock_pivot(project, pivot_id, not locked),
    )


def insert_point(document: Document, outline_id: str, at: Point) -> None:
    """Insert a point into the outline's edge that is nearest to a place of the board, and select it."""
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
    if apply(
        document,
        f"Delete point {part + 1} of {outline_id}",
        lambda project: edits.delete_outline_point(project, outline_id, part),
    ):
        document.select(Selection("outline", outline_id, max(part - 1, 0)))


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
