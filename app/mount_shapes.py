"""Bracket and base on the sheet, as seen from the side. No Qt here.

Of the bracket: its web round the panel's pins, the flange that lies on the skin seen edge on, the bend between, shims
and doubler beneath. Of the base: web, base plate, shims, and behind the wall the backing plate, dashed as it is hidden.
Bolts are centre lines. Each is drawn in its seat's frame (u along it, v off it, to the pins) and rides on its link.
What can't be laid out is left out; the drawer's box says why.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.hardware import hardware
from app.shapes import Layer, Pen, Stroke, drawn_contour
from kinematics.errors import HingewrightError
from kinematics.mount_shapes import web
from kinematics.mounting import base_made, bracket_made
from kinematics.rear_edge import side_ahead

if TYPE_CHECKING:
    from collections.abc import Iterable

    from app.look import Look
    from app.shapes import Shape
    from kinematics.contours import Contour
    from kinematics.faces import Face
    from kinematics.mounting import BaseMade, BracketMade
    from kinematics.project import Link, Project

FEET = {"bracket": "flange", "base": "plate"}
FACE = 0.3
"""How solid faces are."""
OUT = 8.0
"""Mm by which bolts' centre lines stand out."""
AXIS, HIDDEN = (9.0, 2.0, 1.5, 2.0), (5.0, 3.0)


def mount_shapes(project: Project, look: Look) -> list[Shape]:
    """Show what holds the hinge; nothing of what nobody said anything of."""
    mounted = project.mounted
    parts = (("bracket", mounted.bracket, project.panel), ("base", mounted.base, project.fixed))
    return [
        shape
        for which, part, link in parts
        if part is not None and not link.hidden
        for shape in _kept(project, which, part, link, look)
    ]


def foot_shape(which: str, shapes: Iterable[Shape]) -> Stroke | None:
    """Give what a part lies on its face with: the bracket's flange, the base's plate; None where it isn't drawn."""
    key = f"{which}:{FEET[which]}"
    return next((shape for shape in shapes if isinstance(shape, Stroke) and shape.key == key), None)


def webs_drawn(project: Project) -> list[str]:
    """Give the links whose webs are drawn."""
    mounted = project.mounted
    parts = ((mounted.bracket, project.panel), (mounted.base, project.fixed))
    return [link.id for part, link in parts if part is not None and not link.hidden]


_last: dict[str, tuple[tuple[object, ...], list[Shape]]] = {}


def _kept(project: Project, which: str, part: object, link: Link, look: Look) -> list[Shape]:
    """The shapes of one part; those of before while all that they hang on is the same, as in most drags."""
    plates = project.plating
    sheet = (plates.thickness, plates.count, plates.radius, plates.density)
    own = tuple((p.thickness, p.count, p.radius, p.density) for p in plates.each if p.link == link.id)
    pins = tuple((pivot.id, pivot.at) for pivot in project.pivots_on(link.id))
    ahead = 0 if project.outlines else side_ahead(project)
    asked = (part, link, look, pins, project.outlines, project.stack, project.strength, project.wall, sheet, own, ahead)
    if which not in _last or _last[which][0] != asked:
        if which == "bracket":
            bracket = bracket_made(project, project.mounted.bracket, hardware())  # type: ignore[arg-type]
            shapes = [] if bracket is None else _bracket(bracket, link.id, look)
        else:
            base = base_made(project, project.mounted.base, hardware())  # type: ignore[arg-type]
            shapes = [] if base is None else _base(project, base, link.id, look)
        _last[which] = asked, shapes
    return _last[which][1]


class _Side:
    """Draws in a seat's frame."""

    def __init__(self, which: str, link: str, seat: Face, look: Look) -> None:
        self._which, self._link, self._seat, self._look = which, link, seat, look
        self.found: list[Shape] = []

    def ring(
        self, name: str, corners: Iterable[complex], *, hidden: bool = False, fill: str = "", layer: Layer = Layer.LINKS
    ) -> None:
        """Add a closed ring of corners."""
        points = tuple((z.real, z.imag) for z in (self._seat.drawn(w) for w in corners))
        pen = Pen(self._look.link, self._look.thin, HIDDEN if hidden else ())
        key = f"{self._which}:{name}"
        self.found.append(Stroke(key, self._link, points, pen, layer, closed=True, fill=fill, veil=FACE))

    def box(self, name: str, along: tuple[float, float], off: tuple[float, float], **how: bool | str) -> None:
        """Add a rectangle, from … to along the seat and off it; nothing where it has no size."""
        (left, right), (low, high) = along, off
        if high - low > 1e-9:
            corners = (complex(left, low), complex(right, low), complex(right, high), complex(left, high))
            self.ring(name, corners, **how)  # type: ignore[arg-type]

    def contour(self, name: str, contour: Contour) -> None:
        """Add a contour of the seat's frame."""
        self.ring(name, (complex(x, y) for x, y in drawn_contour(contour)), fill=self._look.link_fill)

    def line(self, name: str, start: complex, end: complex, dash: tuple[float, ...] = ()) -> None:
        """Add a line."""
        points = tuple((z.real, z.imag) for z in (self._seat.drawn(start), self._seat.drawn(end)))
        pen = Pen(self._look.ink if dash else self._look.link, self._look.thin, dash)
        self.found.append(Stroke(f"{self._which}:{name}", self._link, points, pen, Layer.DEVICES))

    def bolts(self, middle: float, bolts: Iterable[complex], low: float, high: float) -> None:
        """Add the centre lines of bolts: of those one behind the other, one."""
        for number, u in enumerate(sorted({round(bolt.imag, 6) for bolt in bolts})):
            at = middle + u
            self.line(f"bolt {number}", complex(at, low - OUT), complex(at, high + OUT), AXIS)


def _bracket(made: BracketMade, link: str, look: Look) -> list[Shape]:
    part, side, foot = made.part, _Side("bracket", link, made.seat, look), made.foot
    begins, middle = made.bend.setback, 0.5 * (foot[0] + foot[1])
    if made.blank is not None:
        try:
            side.contour("web", web([at for _, at, _ in made.pins], made.eye, foot, begins))
        except HingewrightError:  # the blank was laid out, so it can be
            return []
    fill = look.link_fill
    side.box("bend", foot, (part.thickness, max(begins, part.thickness)), fill=fill)
    side.box("flange", foot, (0.0, part.thickness), fill=fill)
    side.box("shims", foot, (-part.shims, 0.0), fill=look.ink)
    low = -part.shims - part.doubler
    reach = max(abs(bolt.imag) for bolt in made.bolts) + part.fore_aft + made.thread.clearance / 2.0
    reach += part.doubler_margin
    side.box("doubler", (middle - reach, middle + reach), (low, -part.shims), fill=look.hatch)
    side.bolts(middle, made.bolts, low, part.thickness)
    return side.found


def _base(project: Project, made: BaseMade, link: str, look: Look) -> list[Shape]:
    part, side = made.part, _Side("base", link, made.seat, look)
    middle = 0.5 * (made.foot[0] + made.foot[1])
    along = (middle - 0.5 * made.height, middle + 0.5 * made.height)
    side.box("plate", along, (-part.plate, 0.0), fill=look.hatch)
    if made.web is not None:
        side.contour("web", made.web)
    face = made.seat.seen(made.face.at).imag  # behind all shims, those that are tapered too
    side.box("shims", along, (face, -part.plate), fill=look.ink)
    wall = _thickness(project, made.face.outline)
    low = face - wall - part.backing
    side.box("backing", along, (low, face - wall), hidden=True)
    side.bolts(middle, made.bolts, low, 0.0)
    return side.found


def _thickness(project: Project, outline: str) -> float:
    """Mm of wall that is drawn; 0 where it is a line."""
    return 2.0 * next((each.half_width for each in project.outlines if each.id == outline), 0.0)
