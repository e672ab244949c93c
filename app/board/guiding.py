"""Guides: what leads the hand while it moves or places one thing. No widgets here.

Held keys come first: one keeps the length of a link, one keeps a line through where the hand began. Else the hand
snaps, unless that is switched off or a key leaves it. What leads it is shown at once, and said in a few words.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.board import snapping
from app.board.snapping import Field, Hold, Ring, Snap, Target, keep_line, keep_ring
from app.shapes import SHUT, placed
from kinematics.values import LARGEST_COORDINATE

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from app.board.gestures import Desk
    from app.document import Selection
    from app.shapes import Placement
    from kinematics.project import Point, Project

DRAG_KEYS = "Ctrl: no snapping. Shift: keep a line"
PIN_KEYS = f"{DRAG_KEYS}. R: keep a link's length. J: join it with a pin"


class Guide:
    """Leads the hand from a start on.

    start : where it began, None where it places something new.     pivot_id : the pin that it moves, if it is one.
    but : what moves along, and so draws nothing.     about : a place from which a new link goes.
    leads : False for a hand that only points at things.
    """

    def __init__(
        self,
        desk: Desk,
        start: Point | None = None,
        *,
        pivot_id: str = "",
        but: Iterable[Selection] = (),
        about: Point | None = None,
        leads: bool = True,
    ) -> None:
        self._leads = leads
        self._desk, self._start, self._pivot_id, self._about = desk, start, pivot_id, about
        moving = list(but)
        self._moving = {each.id for each in moving if each.kind == "pivot"} | ({pivot_id} if pivot_id else set())
        self._marks = {each.id for each in moving if each.kind == "mark"}
        taken: dict[str, list[int]] = {}
        for each in moving:
            if each.kind == "outline" and each.part is not None:
                taken.setdefault(each.id, []).append(each.part)
        self._points = snapping.without(snapping.shut_points(desk.document.project), taken)
        self._before = desk.document.project
        self._kept: Ring | None = None

    def lead(self, at: Point) -> Snap:
        """Lead the hand that would go to a place, and show how."""
        led = self._led(at)
        if max(map(abs, led.at)) > LARGEST_COORDINATE:
            led = Snap(at)  # the next square, or where a line leads to, lies where the paper has ended
        self._desk.show_led(led if led.holds else None)
        if self._start is not None:
            self._desk.say(self._words(led))
        return led

    def end(self) -> None:
        """Show nothing any more."""
        self._desk.show_led(None)
        self._desk.say("")

    def _words(self, led: Snap) -> str:
        if led.pivot and self._pivot_id and "join" in self._desk.held:
            return f"Let go to join {self._pivot_id} with {led.pivot}."
        return f"While you drag: {PIN_KEYS if self._pivot_id else DRAG_KEYS}."

    def _led(self, at: Point) -> Snap:
        desk = self._desk
        project = desk.document.project
        where = placed(desk.document.analysis, desk.document.pose)
        if "length" not in desk.held:
            self._kept = None
        elif self._pivot_id:
            kept = self._ring(project, where, at)
            if kept is not None:
                return Snap(keep_ring(kept.about, kept.radius, at), (Hold("kept length", kept.about, ring=kept),))
        if "line" in desk.held and self._start is not None:
            ways = snapping.ways_of(project, where, self._pivot_id) if self._pivot_id else snapping.WAYS
            place, way = keep_line(self._start, at, ways)
            return Snap(place, (Hold("kept line", self._start, way=way),))
        if "join" in desk.held:
            pins = tuple(snapping.pins_at(project, where, self._moving))
            return snapping.snap(at, Field(targets=pins), 1.5 * desk.reach) or Snap(at)
        if not desk.snaps or "free" in desk.held or not self._leads:
            return Snap(at)
        return snapping.snap(at, self._field(project, where, at), desk.reach) or Snap(at)

    def _ring(self, project: Project, where: Mapping[str, Placement], at: Point) -> Ring | None:
        """The circle that is kept: as long as a link was when the drag began, chosen when the key goes down, about the
        link's other pin wherever that stands now.
        """
        if self._kept is None:
            self._kept = snapping.kept_ring(self._before, where, self._pivot_id, at)
        if self._kept is not None:
            pin = project.pivot(self._kept.pivot)
            about = where.get(pin.joins[0], SHUT).carry(pin.at)
            self._kept = Ring(about, self._kept.radius, self._kept.pivot, self._kept.link)
        return self._kept

    def _field(self, project: Project, where: Mapping[str, Placement], at: Point) -> Field:
        pins = tuple(snapping.pins_at(project, where, self._moving))
        targets = (
            *pins,
            *snapping.marks_at(project, where, self._marks),
            *snapping.targets_near(project, where, at, self._desk.reach, self._points),
        )
        rings = snapping.rings_of(project, where, self._pivot_id) if self._pivot_id else []
        if self._about is not None:
            first = Target(self._about, "end", "the first end")
            return Field(
                targets, (*pins, first), tuple(snapping.rings_about(project, self._about)), self._grid(project)
            )
        return Field(targets, pins, tuple(rings), self._grid(project))

    def _grid(self, project: Project) -> float:
        """The squares' size; 0 where they mean nothing: for what moves with a link, while that isn't shut."""
        is_shut = not self._desk.document.pose.turns.any()
        on_fixed = bool(self._pivot_id) and project.fixed.id in project.pivot(self._pivot_id).joins
        return self._desk.grid if is_shut or on_fixed else 0.0
