"""The wall's cases by picture: both halves seen from above with the centreline, the bases and their wedges.

It is no drawing to scale: sizes are the same for every hinge, only the angles are those that are told. One who stands
before the wall is at the foot, as in the plan of the set-out.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin, tan
from typing import TYPE_CHECKING

from app.lengths import format_angle
from app.setout.views import CENTRE, Style, View
from app.shapes import Hatch, Layer, Pen, Shape, Symbol
from kinematics.walling import FLAT

if TYPE_CHECKING:
    from app.lengths import Units
    from app.look import Look
    from kinematics.project import Point

REACH, AT, FOOT, WEB = 100.0, 64.0, 12.0, 38.0
"""Of the picture: how far the wall reaches, where the base stands, half its width, and its length off the wall."""
PLATE = 5.0


@dataclass(frozen=True, slots=True)
class BevelView(View):
    """The picture.   offs : deg, of the left and the right half, as `HandWall.off_deg`.   left : +1 where the left
    hinge is to the right of one who faces the wall.   ahead : +1 where the front is at the foot.   trued : "foot" or
    "shim".   told : whether angles and names stand there.
    """

    offs: tuple[float, float]
    left: int
    ahead: int
    trued: str
    units: Units
    told: bool

    def shapes(self, look: Look, scale: float) -> list[Shape]:
        """What is drawn."""
        style, px = Style(look, self.units, 1.0 / scale), 1.0 / scale
        _, low, _, high = self.box
        found: list[Shape] = []
        ends = (0.0, low - 4.0 * px), (0.0, high + 4.0 * px)
        found.append(style.line("centreline", ends, Pen(look.path, look.thin, CENTRE), Layer.GAPS))
        for hand, off, side in (("left", self.offs[0], self.left), ("right", self.offs[1], -self.left)):
            found += _wall(style, hand, off, side)
            found += _base(style, hand, off, side, self.trued)
            if self.told:
                found += _words(style, hand, off, side)
        if self.told:
            tip = ends[0] if self.ahead > 0 else ends[1]
            found.append(Symbol("ahead", "", (tip,), "arrow", look.ink, look.paper, Layer.GAPS, -90.0 * self.ahead))
            found.append(style.words("ahead name", tip, "ahead", (1.0, float(self.ahead)), rank=1, clear=8.0))
        return found


def bevel_view(
    offs: tuple[float, float], left: int, ahead: int, trued: str, units: Units, *, told: bool = True
) -> BevelView:
    """Lay the picture out."""
    ends = [REACH * sin(radians(off)) for off in offs]
    low = min(-WEB - PLATE, *(AT / REACH * end - WEB - PLATE for end in ends))
    title = "The wall seen from above: you stand at the foot"
    margins = (8.0, 14.0, 8.0, 26.0) if told else (4.0, 4.0, 4.0, 4.0)
    return BevelView(
        "bevel", title, (-REACH, low, REACH, max(8.0, *ends)), margins, offs, left, ahead, trued, units, told
    )


def _on(off: float, side: int, along: float, lift: float = 0.0) -> Point:
    b = radians(off)
    return side * (along * cos(b) + lift * sin(b)), along * sin(b) - lift * cos(b)


def _wall(style: Style, hand: str, off: float, side: int) -> list[Shape]:
    """A half of the wall."""
    look, ends = style.look, ((0.0, 0.0), _on(off, side, REACH))
    return [
        style.line(f"wall {hand}", ends, Pen(look.fixed, look.heavy), Layer.FIXED),
        Hatch(f"wall {hand} hatch", "", ends, 1 if side > 0 else -1, Pen(look.hatch), Layer.FIXED),
    ]


def _base(style: Style, hand: str, off: float, side: int, trued: str) -> list[Shape]:
    """The base, its webs along the centreline, its wedge filled."""
    look, pen = style.look, Pen(style.look.link, style.look.line)
    near, far = AT * cos(radians(off)) - FOOT, AT * cos(radians(off)) + FOOT
    slope = tan(radians(off))
    if trued == "shim":
        level = min(near * slope, far * slope) - 1.5
        wedge = (near, level), (far, level), (far, far * slope), (near, near * slope)
        plate = (near, level), (far, level), (far, level - PLATE), (near, level - PLATE)
        top = level - PLATE, level - PLATE
    else:
        lift = PLATE / cos(radians(off))
        plate = (near, near * slope), (far, far * slope), (far, far * slope - lift), (near, near * slope - lift)
        low = min(near * slope, far * slope) - lift
        wedge = (near, low), (far, low), (far, far * slope - lift), (near, near * slope - lift)
        top = low, low
    foot = min(top) - WEB
    web = (near, top[0]), (far, top[1]), (far, foot), (near, foot)
    faces = [("plate", plate, pen, look.link_fill, 0.35), ("web", web, pen, look.link_fill, 0.7)]
    if abs(off) > FLAT:
        faces.append(("wedge", wedge, Pen(look.path, look.line), look.path, 0.75))
    return [
        style.line(f"{name} {hand}", tuple((side * x, y) for x, y in points), line, Layer.LINKS, fill, veil)
        for name, points, line, fill, veil in faces
    ]


def _words(style: Style, hand: str, off: float, side: int) -> list[Shape]:
    """Left or right, and the angle between the wall and what is square to the centreline."""
    look = style.look
    x = side * AT * cos(radians(off))
    level = AT * sin(radians(off)) - FOOT * abs(tan(radians(off))) - PLATE - WEB
    found: list[Shape] = [style.words(f"name {hand}", (x, level), hand.upper(), (0.0, -1.0), rank=0, bold=True)]
    if abs(off) > FLAT:
        square = ((0.0, 0.0), (side * AT * 0.7, 0.0))
        found.append(style.line(f"square {hand}", square, Pen(look.path, look.thin, CENTRE), Layer.PATHS))
        at = (side * AT * 0.45, 0.0)
        away = (0.0, -1.0) if off > 0.0 else (0.0, 1.0)
        found.append(style.words(f"angle {hand}", at, format_angle(abs(off), style.units), away, rank=1))
    return found
