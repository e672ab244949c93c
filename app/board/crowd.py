"""Several things at once: gathered by a frame or by clicks, dragged and nudged together. No widgets here.

Pins move together by one *shift of the shut layout*; marks and points by what the hand moves, each on its link as that
stands. At shut the two are the same. At a pose the grabbed pin goes by more or less than the shift, depending on the
linkage; the shift that brings it under the hand is sought by Broyden's method (from memory: quasi-Newton, the change of
the pin's place with the shift is learnt from the steps themselves).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from app.board import load_hands, marking
from app.board.gestures import Move, Press, Release, moves, one_step, placement_of
from app.board.guiding import Guide
from app.board.hands import LOCKED, Once, rides, shut_point
from app.board.hits import pivot_place
from app.board.snapping import marks_at, pins_at
from app.document import Selection
from app.shapes import placed
from kinematics import building
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Generator, Sequence

    from numpy.typing import NDArray

    from app.board.gestures import Desk, Event, Gesture
    from app.document import Document
    from kinematics.project import Point, Project

LEAST_CHANGE = 0.05
"""A pin that hardly moves with the shift isn't led by it: then the shift is what the hand moves."""
PROBE, NEAR_ENOUGH, MOST_STEPS = 0.2, 0.02, 6
"""mm of a small shift to learn from; mm within which the pin is under the hand; steps towards it in one move."""
CANT_CLOSE = "The linkage can't close with the pins there; they stay at the last place where it can."


def is_movable(selection: Selection) -> bool:
    """Tell whether a thing can be moved by itself: a pivot, a mark, a place of the loads, a point of an outline."""
    is_point = selection.kind == "outline" and selection.part is not None
    return selection.kind in ("pivot", "mark") or is_point or load_hands.is_spot(selection)


def movable(document: Document) -> list[Selection]:
    """Give what is selected and can be moved, but for what is locked; says which is."""
    found = [each for each in document.selections if is_movable(each)]
    lockable = [each for each in found if not load_hands.is_spot(each)]
    locked = [each for each in lockable if getattr(document.project, each.kind)(each.id).locked]
    if locked:
        first = locked[0]
        document.noticed.emit(LOCKED.format(first.kind.capitalize(), first.id))
    return [each for each in found if each not in locked]


# ------------------------------------------------------------------------------------------------------------- picking
def take_more(desk: Desk, press: Press, selection: Selection, alone: Gesture | None) -> Gesture:
    """A press with Ctrl or Shift: a click selects one thing more, or one less.

    A drag moves all that is selected, where the thing is among them; else it is the gesture that moves it `alone`.
    """
    document = desk.document
    at, is_drag = yield from moves(press)
    if not is_drag:
        document.select_also(selection)
        return
    among = len(document.selections) > 1 and selection in document.selections and is_movable(selection)
    inner = drag(desk, press, selection) if among else alone
    if inner is None:
        return
    try:
        next(inner)
        inner.send(Move(at))
        while True:
            inner.send((yield))
    except StopIteration:
        return
    finally:
        inner.close()


def gather(desk: Desk, press: Press, *, more: bool) -> Generator[None, Event, None]:
    """Draw a frame from the press to where the button comes up, and select what lies in it.

    more : whether it adds to what is selected. A click selects nothing.
    """
    document = desk.document
    fixed = document.project.fixed.id
    outline = document.selection.id if document.selection and document.selection.kind == "outline" else ""
    before = document.selections if more else ()
    at, is_drag = yield from moves(press)
    if not is_drag:
        if not more:
            document.select(None)
        return
    try:
        while True:
            desk.draw(marking.frame_shapes(press.at, at, fixed, desk.look))
            event = yield
            if isinstance(event, Release):
                break
            at = event.at if isinstance(event, Move) else at
    finally:
        desk.draw(())
    document.select_all((*before, *framed(document, press.at, at, outline)))


def framed(document: Document, one: Point, other: Point, outline: str = "") -> list[Selection]:
    """Give what lies between two corners: pins, marks and places of the loads, or, with an outline selected, that
    outline's points.
    """
    low = min(one[0], other[0]), min(one[1], other[1])
    high = max(one[0], other[0]), max(one[1], other[1])

    def lies(place: Point) -> bool:
        return low[0] <= place[0] <= high[0] and low[1] <= place[1] <= high[1]

    project, where = document.project, placed(document.analysis, document.pose)
    points: list[Selection] = []
    for line in project.outlines:
        if line.id == outline:
            carry = placement_of(document, line.on).carry
            points = [Selection("outline", line.id, k) for k, point in enumerate(line.points) if lies(carry(point))]
    if points:
        return points
    targets = [*marks_at(project, where), *pins_at(project, where)]
    targets += load_hands.targets_at(project, where)
    return [Selection(each.kind, each.id, each.part) for each in targets if lies(each.at)]


def count_words(members: Sequence[Selection]) -> str:
    """Count things for a step's name: "3 pivots", "2 points", "4 things"."""
    kinds = {each.kind if each.part is None else "end" if each.kind == "device" else "point" for each in members}
    kinds = {"masse"} if kinds == {"mass"} else kinds
    return f"{len(members)} {next(iter(kinds)) if len(kinds) == 1 else 'thing'}s"


# -------------------------------------------------------------------------------------------------------------- moving
@dataclass
class Crowd:
    """Several things that move together from where they are in the document's project.

    `shift` (mm) is that of the shut layout; `change` (2, 2) how the grabbed pin's place goes with it.
    """

    document: Document
    members: Sequence[Selection]
    base: Project
    shift: NDArray[np.float64] = field(default_factory=lambda: np.zeros(2))
    change: NDArray[np.float64] | None = None

    def put(self, pins_by: Point, others_by: Point) -> None:
        """Preview the pins moved by a shift of the shut layout, all else by what the hand moved; what is refused is
        said.
        """
        try:
            self.document.preview(self._moved(pins_by, others_by))
        except HingewrightError as error:
            self.document.noticed.emit(str(error))

    def _moved(self, pins_by: Point, others_by: Point) -> Project:
        pivots, marks, points, loads = {}, {}, {}, []
        for each in self.members:
            at = shut_point(self.base, each)
            if each.kind == "pivot":
                pivots[each.id] = _added(at, pins_by)
                continue
            where = placement_of(self.document, rides(self.base, each))
            to = where.back(_plus(where.carry(at), others_by))
            if each.kind in load_hands.KINDS:
                loads.append((each, to))
            elif each.kind == "mark":
                marks[each.id] = to
            else:
                points[each.id, each.part or 0] = to
        project = building.move_parts(self.base, pivots, marks, points)
        for each, to in loads:
            project = load_hands.moved(project, each, to)
        return project

    def follow(self, pin: str, to: Point, by: Point) -> bool:
        """Move all so that the grabbed pin comes to stand at `to`; by : what the hand has moved in all.

        False where the linkage can't close so, or only by a leap: then all stays.
        """
        if self.change is None:
            self.change = self._probed(pin)
        shift, change = self.shift, self.change
        for _ in range(MOST_STEPS):
            stands = self._stands(pin, shift)
            if stands is None:
                return False
            lack = np.array(to) - stands
            if float(np.hypot(*lack)) < NEAR_ENOUGH:
                break
            step = np.linalg.solve(change, lack) if abs(np.linalg.det(change)) > LEAST_CHANGE else lack
            went = self._stands(pin, shift + step)
            if went is None:
                return False
            change = change + np.outer(went - stands - change @ step, step) / float(step @ step)
            shift = shift + step
        else:
            return False
        self.shift, self.change = shift, change
        self.put((float(shift[0]), float(shift[1])), by)
        return True

    def _probed(self, pin: str) -> NDArray[np.float64]:
        """How the pin's place goes with the shift, by trying two small ones."""
        here, tries = self._stands(pin, self.shift), PROBE * np.eye(2)
        went = [self._stands(pin, self.shift + each) for each in tries]
        if here is None or went[0] is None or went[1] is None:
            return np.eye(2)
        return np.stack([(went[0] - here) / PROBE, (went[1] - here) / PROBE], axis=1)

    def _stands(self, pin: str, shift: NDArray[np.float64]) -> NDArray[np.float64] | None:
        """Where a pin stands at the pose with the pins shifted."""
        from kinematics.placing import stands_at

        x, y = shift.tolist()
        pivots = {each.id: _plus(shut_point(self.base, each), (x, y)) for each in self.members if each.kind == "pivot"}
        try:
            project = building.move_parts(self.base, pivots, {}, {})
        except HingewrightError as error:  # a place off the sheet's end
            self.document.noticed.emit(str(error))
            return None
        place = stands_at(project, self.document.analysis, pin, self.document.pose.deg)
        return None if place is None else np.array(place)


def drag(desk: Desk, press: Press, grabbed: Selection) -> Gesture:
    """Move all that is selected by the thing that is grabbed; a click selects that alone."""
    document = desk.document
    at, is_drag = yield from moves(press)
    if not is_drag:
        document.select(grabbed)
        return
    members = movable(document)
    if grabbed not in members:
        return
    crowd = Crowd(document, members, document.project)
    start = _place_of(document, grabbed)
    guide = Guide(desk, start, but=members)
    told = Once(document, CANT_CLOSE)

    def put(at: Point) -> None:
        led = guide.lead((start[0] + at[0] - press.at[0], start[1] + at[1] - press.at[1]))
        by = led.at[0] - start[0], led.at[1] - start[1]
        if grabbed.kind == "pivot" and document.pose.deg != 0.0:
            told.unless(crowd.follow(grabbed.id, led.at, by))
        else:
            crowd.put(by, by)

    yield from one_step(document, f"Move {count_words(members)}", at, put, guide.end)


def nudge(document: Document, members: Sequence[Selection], by: Point) -> None:
    """Preview several things moved a little; `begin` must have been called."""
    document.flush()
    Crowd(document, members, document.project).put(by, by)


def _place_of(document: Document, selection: Selection) -> Point:
    if selection.kind == "pivot":
        return pivot_place(document.project, placed(document.analysis, document.pose), selection.id)
    on = rides(document.project, selection)
    return placement_of(document, on).carry(shut_point(document.project, selection))


def _plus(place: Point, by: Point) -> Point:
    return place[0] + by[0], place[1] + by[1]


def _added(place: Point, by: Point) -> Point:
    """Add, and drop the dust of binary tenths."""
    return round(place[0] + by[0], 9), round(place[1] + by[1], 9)
