"""What the hand does on the board, each gesture as one generator that reads from top to bottom. No widgets here.

Events and desk are those of `app.board.gestures`. Places are points of the board, mm.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from app.board import load_hands, plate_hands
from app.board.gestures import Desk, Gesture, Move, Press, Release, moves, one_step, placement_of
from app.board.guiding import Guide
from app.board.hits import pivot_place
from app.board.snapping import keep_ring
from app.document import Selection
from app.shapes import placed
from kinematics import building, edits, zoning
from kinematics.arranging import LOCKABLE
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.board.snapping import Ring
    from app.document import Document
    from kinematics.project import Outline, Point, Project, Zone


LAST_LOOKS = 3
LOCKED = "{} {} is locked, so it stays. Press L to free it."
CANT_CLOSE = "The linkage can't close with pivot {} there; it stays at the last place where it can."


# -------------------------------------------------------------------------------------------------------------- pivots
def drag_pivot(desk: Desk, press: Press, pivot_id: str) -> Gesture:
    """Move a pivot at the pose that is shown: it stays under the pointer, its shut place follows. A locked one says
    so and stays.
    """
    document = desk.document
    document.select(Selection("pivot", pivot_id))
    at, is_drag = yield from moves(press)
    if not is_drag or tell_locked(document, Selection("pivot", pivot_id)):
        return
    place = pivot_place(document.project, placed(document.analysis, document.pose), pivot_id)
    off = place[0] - press.at[0], place[1] - press.at[1]
    guide = Guide(desk, place, pivot_id=pivot_id)
    told = Once(document, CANT_CLOSE.format(pivot_id))
    document.begin(f"Move pivot {pivot_id}")
    desk.grabbed(pivot_id)
    try:
        while True:
            led = guide.lead((at[0] + off[0], at[1] + off[1]))
            if told.unless(put_pivot(document, pivot_id, led.at, led.ring)):
                desk.dragged(pivot_id, led.at)
            event = yield
            if isinstance(event, Release) or not document.is_dragging:  # undone, or another project, meanwhile
                break
            at = event.at if isinstance(event, Move) else at
        for _ in range(LAST_LOOKS if led.holds and document.is_dragging and document.pose.deg != 0.0 else 0):
            document.flush()  # at a pose other pins have moved along: what it holds to is looked at again
            led = guide.lead((at[0] + off[0], at[1] + off[1]))
            put_pivot(document, pivot_id, led.at, led.ring)
    except GeneratorExit:
        document.cancel()
        raise
    finally:
        guide.end()
        desk.dropped(pivot_id)
    _drop_pivot(document, pivot_id, led.pivot if "join" in desk.held else "")


def _drop_pivot(document: Document, pivot_id: str, onto: str) -> None:
    """End the drag of a pin, by making it one with another that it was dropped onto."""
    if not onto or not document.is_dragging:
        document.commit()
        return
    document.cancel()
    if document.attempt(f"Join pivots {onto} and {pivot_id}", lambda p: building.join_pivots(p, onto, pivot_id)):
        document.select(Selection("pivot", onto))


def tell_locked(document: Document, selection: Selection) -> bool:
    """Tell whether a pivot, a mark or an outline is locked; where it is, say so by `noticed`."""
    locked = selection.kind in LOCKABLE and bool(getattr(document.project, selection.kind)(selection.id).locked)
    if locked:
        document.noticed.emit(LOCKED.format(selection.kind.capitalize(), selection.id))
    return locked


def put_pivot(document: Document, pivot_id: str, to: Point, ring: Ring | None = None) -> bool:
    """Preview a pivot at a place of the board, at the pose that is shown. False where the linkage can't close.

    ring : the length that a link shall have to the last digit, whatever the pose.
    """
    from kinematics.placing import drag_pivot as placed_at

    document.flush()
    try:
        moved = placed_at(document.project, document.analysis, pivot_id, document.pose, to)
    except HingewrightError as error:  # a place off the sheet's end
        document.noticed.emit(str(error))
        return True
    if moved is None:
        return False
    if ring is not None:
        at = keep_ring(moved.pivot(ring.pivot).at, ring.radius, moved.pivot(pivot_id).at)
        moved = edits.move_pivot(moved, pivot_id, at)
    document.preview(moved)
    return True


@dataclass(slots=True)
class Once:
    """Says a sentence when something begins to fail, and is quiet until it has worked again."""

    document: Document
    sentence: str
    failing: bool = field(default=False)

    def unless(self, worked: bool) -> bool:
        """Take note whether it worked; gives that back."""
        if not worked and not self.failing:
            self.document.noticed.emit(self.sentence)
        self.failing = not worked
        return worked


# --------------------------------------------------------------------------------------------------------------- swing
def swing(desk: Desk, press: Press, selection: Selection, link_id: str) -> Gesture:
    """Take a link and swing the linkage; no edit, so no step. A click selects; Esc brings the pose back."""
    document = desk.document
    document.select(selection)
    at, is_drag = yield from moves(press)
    if not is_drag:
        return
    analysis, before = document.analysis, document.pose
    if analysis.state in ("locked", "loose"):
        document.noticed.emit(analysis.remarks[0] if analysis.remarks else "The panel doesn't move, so nothing swings.")
        return
    grabbed = placement_of(document, link_id).back(press.at)
    try:
        while True:
            document.set_pose(analysis.swing(document.pose, link_id, grabbed, at))
            event = yield
            if isinstance(event, Release) or document.analysis is not analysis:  # another project, meanwhile
                break
            at = event.at if isinstance(event, Move) else at
    except GeneratorExit:
        if document.analysis is analysis:  # else that pose is none of it
            document.set_pose(before)
        raise


# ------------------------------------------------------------------------------------------------- marks, outline
# points
def drag_point(desk: Desk, press: Press, selection: Selection, link_id: str) -> Gesture:
    """Move a mark, a place of the loads, a point of an outline or a corner of a zone, on the link that carries it."""
    document = desk.document
    document.select(selection)
    at, is_drag = yield from moves(press)
    if not is_drag or tell_locked(document, selection):
        return
    where = placement_of(document, link_id)
    was = where.carry(shut_point(document.project, selection))
    guide = Guide(desk, was, but=(selection,))

    def put(at: Point) -> None:
        to = where.back(guide.lead((was[0] + at[0] - press.at[0], was[1] + at[1] - press.at[1])).at)
        try_edit(document, lambda project: _moved(project, selection, to))

    yield from one_step(document, _label(document.project, "Move", selection), at, put, guide.end)


def try_edit(document: Document, edit: Callable[[Project], Project]) -> None:
    """Preview an edit; what it refuses is said by `noticed`."""
    try:
        document.preview(edit(document.project))
    except HingewrightError as error:
        document.noticed.emit(str(error))


def shut_point(project: Project, selection: Selection) -> Point:
    """Give where a pivot, a mark, a place of the loads, a point of an outline or a corner of a zone is, shut."""
    if plate_hands.is_grip(selection):
        return plate_hands.grip_at(project, selection)
    if selection.kind in load_hands.KINDS:
        return load_hands.spot_of(project, selection).at
    if selection.kind == "pivot":
        return project.pivot(selection.id).at
    if selection.kind == "mark":
        return project.mark(selection.id).at
    part: Outline | Zone = getattr(project, selection.kind)(selection.id)
    return part.points[selection.part or 0]


def rides(project: Project, selection: Selection) -> str:
    """Give the link that a mark, a place of the loads, an outline or a zone rides on."""
    if plate_hands.is_grip(selection):
        return selection.id
    if selection.kind in load_hands.KINDS:
        return load_hands.spot_of(project, selection).on
    on: str = getattr(project, selection.kind)(selection.id).on
    return on


def _moved(project: Project, selection: Selection, to: Point) -> Project:
    if plate_hands.is_grip(selection):
        return plate_hands.moved(project, selection, to)
    if selection.kind in load_hands.KINDS:
        return load_hands.moved(project, selection, to)
    if selection.kind == "mark":
        return edits.move_mark(project, selection.id, to)
    if selection.kind == "zone":
        return zoning.move_zone_point(project, project.zone_place(selection.id), selection.part or 0, to)
    return edits.move_outline_point(project, selection.id, selection.part or 0, to)


def _label(project: Project, verb: str, selection: Selection) -> str:
    if plate_hands.is_grip(selection):
        return plate_hands.label(project, verb, selection)
    if selection.kind in load_hands.KINDS:
        return f"{verb} {load_hands.name_of(selection)}"
    if selection.kind == "outline" and selection.part is not None:
        return f"{verb} point {selection.part + 1} of {selection.id}"
    if selection.kind == "zone" and selection.part is not None:
        return f"{verb} corner {selection.part + 1} of zone {selection.id}"
    return f"{verb} {selection.kind} {selection.id}"


def nudge(document: Document, selection: Selection, by: Point) -> None:
    """Preview what is selected moved a little, as seen on the board; `begin` must have been called.

    Where that can't be it stays, and `noticed` says why.
    """
    document.flush()
    if tell_locked(document, selection):
        return
    if selection.kind == "pivot":
        _nudge_pivot(document, selection.id, by)
        return
    where = placement_of(document, rides(document.project, selection))
    to = where.back(_added(where.carry(shut_point(document.project, selection)), by))
    try_edit(document, lambda project: _moved(project, selection, to))


def _nudge_pivot(document: Document, pivot_id: str, by: Point) -> None:
    place = pivot_place(document.project, placed(document.analysis, document.pose), pivot_id)
    if not put_pivot(document, pivot_id, _added(place, by)):
        document.noticed.emit(CANT_CLOSE.format(pivot_id))


def _added(place: Point, by: Point) -> Point:
    """Add, and drop the dust of binary tenths: 0.1 thrice is 0.3."""
    return round(place[0] + by[0], 9), round(place[1] + by[1], 9)


def nudge_label(project: Project, selection: Selection) -> str:
    """Name the step that nudging makes."""
    return _label(project, "Nudge", selection)


def can_nudge(selection: Selection | None) -> bool:
    """Tell whether arrow keys move what is selected: a pivot, a mark, a place of the loads, a point of an outline, a
    corner of a zone, a grip of a plate.
    """
    if selection is None:
        return False
    is_point = selection.kind in ("outline", "zone", "link") and selection.part is not None
    return selection.kind in ("pivot", "mark") or is_point or load_hands.is_spot(selection)
