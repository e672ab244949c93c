"""Drawing an outline by hand: its points are clicked on a link, and the hand is led as by other tools. No widgets here.

The hand lands on pins, marks and points of outlines, on the points that were just drawn too; it comes level or plumb
with pins and drawn points, and holds to the squares. Over a photo the squares let go: there the line is where the
photo shows it. A held key keeps it to lines of every 15° from the last point. What nothing holds is rounded to a step
no larger than a pixel: nobody means −220.442.

Its pieces are straight, arcs or smooth curves (`app.board.course`). Beside the pointer stand the length of the
*stretch*, from the last point on, and its angle from level.
"""

from __future__ import annotations

from math import atan2, cos, degrees, dist, hypot, radians, sin
from typing import TYPE_CHECKING

from app.board import snapping
from app.board.course import Course
from app.board.gestures import Enter, Press, Release, Turn, placement_of
from app.board.guiding import Guide
from app.board.snapping import Field, Hold, Snap, Target, keep_line
from app.hand_words import stretch_words
from app.shapes import placed
from kinematics.pictures import shows

if TYPE_CHECKING:
    from app.board.course import Way
    from app.board.gestures import Desk, Done, Gesture
    from kinematics.project import Point

DRAWN = "drawn"
TURN_DEG = 15
WAYS = {{0: "level", 90: "plumb"}.get(deg, f"{deg}°"): radians(deg) for deg in range(0, 180, TURN_DEG)}
"""Lines that the hand may keep to from the last point, by name, rad."""


class Pencil(Guide):
    """Leads the hand that draws on a link. course : what is drawn so far, shut coordinates of the link."""

    def __init__(self, desk: Desk, link_id: str, way: Way = "straight") -> None:
        super().__init__(desk)
        self._link_id = link_id
        self.course = Course(way)

    @property
    def points(self) -> list[Point]:
        """What was clicked so far."""
        return self.course.points

    def put(self, at: Point) -> Point:
        """Lead the hand that would go to a place of the board; gives its point, shut."""
        led = self.lead(at)
        target = led.target
        if target is not None and target.kind == DRAWN:  # the very same numbers, whatever the pose
            return self.points[target.part or 0]
        return self.back(led.at)

    def back(self, at: Point) -> Point:
        """Give the point, shut, at a place of the board."""
        return placement_of(self._desk.document, self._link_id).back(at)

    def words(self, back: Point) -> str:
        """Say how long the stretch to a point is, and how it is inclined on the board; "" before there is one."""
        if not self.points or back == self.points[-1]:
            return ""
        where = placement_of(self._desk.document, self._link_id)
        (x, y), (to_x, to_y) = where.carry(self.points[-1]), where.carry(back)
        return stretch_words(hypot(to_x - x, to_y - y), degrees(atan2(to_y - y, to_x - x)), self._desk.document.units)

    def _led(self, at: Point) -> Snap:
        desk = self._desk
        drawn = self._drawn()
        if "line" in desk.held and drawn:
            return self._kept_line(drawn[-1].at, at)
        if "free" in desk.held or not desk.snaps:
            return Snap(rounded(Snap(at), desk.step))
        led = snapping.snap(at, self._reached(at, drawn), desk.reach) or Snap(at)
        return Snap(rounded(led, desk.step), led.holds)

    def _drawn(self) -> list[Target]:
        carry = placement_of(self._desk.document, self._link_id).carry
        return [Target(carry(each), DRAWN, f"point {place + 1}", place) for place, each in enumerate(self.points)]

    def _reached(self, at: Point, drawn: list[Target]) -> Field:
        """All that may draw the hand; the squares as on the link that is drawn on, and not over a photo."""
        project = self._desk.document.project
        where = placed(self._desk.document.analysis, self._desk.document.pose)
        field = self._field(project, where, at)
        still = self._link_id == project.fixed.id or not self._desk.document.pose.turns.any()
        photos = [each for each in project.photos if not each.hidden and each.on in where]
        traced = any(shows(each.place, where[each.on].back(at)) for each in photos)
        grid = self._desk.grid if still and not traced else 0.0
        return Field((*drawn, *field.targets), (*field.pins, *drawn), (), grid)

    def _kept_line(self, start: Point, at: Point) -> Snap:
        """On one of the lines of every 15° from a place, at a round length."""
        (x, y), way = keep_line(start, at, WAYS)
        long, step = dist(start, (x, y)), self._desk.step
        turn, length = atan2(y - start[1], x - start[0]), round(long / step) * step if step > 0 else long
        place = round(start[0] + length * cos(turn), 9), round(start[1] + length * sin(turn), 9)
        return Snap(place, (Hold("kept line", start, way=way),))


def rounded(led: Snap, step: float) -> Point:
    """Round what nothing holds to a step, mm: both coordinates, or along a line the one that it leaves free."""
    kinds = {hold.kind for hold in led.holds}
    if step <= 0 or "on" in kinds:
        return led.at
    x, y = (round(round(each / step) * step, 9) for each in led.at)
    return (led.at[0] if "plumb" in kinds else x), (led.at[1] if "level" in kinds else y)


def draw_outline(desk: Desk, link_id: str, on_done: Done, way: Way = "straight") -> Gesture:
    """Draw an outline by clicking its points on a link, at the pose that is shown; its pieces run as `way` says, and
    other ways from a `Turn` on.

    A double click or Enter ends it, a click on the first point closes it; `on_done` then gets the points (shut
    coordinates) and whether they close. Given up, or ended with fewer than two points, it gets no points.
    """
    pencil = Pencil(desk, link_id, way)
    course, points, closed = pencil.course, pencil.points, False
    try:
        while True:
            event = yield
            if isinstance(event, Turn):
                course.way = event.way
            if isinstance(event, Release | Turn):
                continue
            if isinstance(event, Enter) or (isinstance(event, Press) and event.double):
                break
            back = pencil.put(event.at)
            if isinstance(event, Press):
                closed = len(points) > 2 and _closes(pencil, back, event)
                if closed:
                    break
                if points[-1:] != [back]:  # twice at one place is an unsteady finger
                    course.put(back)
            desk.sketch(course.line(back), link_id, pencil.words(back), tuple(points))
    except GeneratorExit:
        _put_away(desk, link_id)
        on_done((), False)
        raise
    _put_away(desk, link_id)
    on_done(course.line(closed=closed) if len(points) > 1 else (), closed)


def _closes(pencil: Pencil, back: Point, press: Press) -> bool:
    """Tell whether a press falls on the first point: where the hand was led, or is."""
    return back == pencil.points[0] or dist(pencil.points[0], pencil.back(press.at)) <= press.reach


def _put_away(desk: Desk, link_id: str) -> None:
    desk.sketch((), link_id)
    desk.show_led(None)
