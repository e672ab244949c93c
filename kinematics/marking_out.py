"""What is marked on the wall and on the panel's inner skin for either hand, as one sees it who stands before it.

He looks straight at the face from the side of the pins, so what he sees is never mirrored: of the wall with its top up,
of the skin with the panel's front up. *Seen* places are complex mm in the face's own plane: to his right + i·up. Which
way outboard is there hangs on the hand: *left* and *right* are those of one who looks from the panel's rear edge to its
front, so one who faces the wall behind that edge has the left hinge on his right.

On the wall, places count from the centreline and the level line; on the skin from the bracket: from the outer side of
its web, and from the middle of its foot.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.mounting import bracket_made
from kinematics.rear_edge import rear_edge, rear_point, side_ahead
from kinematics.setting_out import on_wall, set_out
from kinematics.walling import edge_height, from_centre

if TYPE_CHECKING:
    from kinematics.arrays import Complexes
    from kinematics.hardware import Hardware
    from kinematics.mounting import BracketMade
    from kinematics.project import Project
    from kinematics.setting_out import SetOut, Spot


def side_of(project: Project, hand: str) -> float:
    """+1 where outboard of a hand is towards one who looks at the side view, −1 where it is away from him."""
    ahead = side_ahead(project) or 1
    return float(ahead if hand == "right" else -ahead)


@dataclass(frozen=True, slots=True, eq=False)
class WallMarks:
    """The wall of one hand, seen.   right : +1 where outboard is to the right.

    middle : of the base plate.   across, up : where 1 mm of the plate goes, outboard and along the links' plane; square
    to each other and 1 mm long but on a shim.   edge : up to the wall's upper edge; None: nobody knows it.
    """

    out: SetOut
    right: float
    middle: complex
    across: complex
    up: complex
    edge: float | None

    def seen(self, spot: Spot) -> complex:
        """Where a spot is."""
        return complex(self.right * spot.along, spot.up)

    def laid(self, places: Complexes, at: complex | None = None) -> Complexes:
        """Places of the plate (across + i·along from its middle; or from `at`, seen)."""
        return (self.middle if at is None else at) + places.real * self.across + places.imag * self.up

    @property
    def rise(self) -> complex:
        """The unit way up along the links' plane, which is that of the centreline too."""
        return complex(self.right * self.out.rise[0], self.out.rise[1])

    def taped(self, along: float, up: float) -> complex:
        """The place that a level tape on the wall reads so far from the centreline, at a height on the wall."""
        return complex(self.right * along, 0.0) + up / self.rise.imag * self.rise

    def level_up(self, height: float) -> float:
        """How far up the wall a plumb height is."""
        return height / float(self.out.plane.up[1])


def wall_marks(project: Project, hardware: Hardware, hand: str) -> WallMarks | None:
    """What is marked on the wall for one hand; None where no base is laid out, or its wall lies."""
    out = set_out(project, hardware, hand)
    if out is None:
        return None
    right = float(out.outboard)
    seen = out.plane.seen(on_wall(project, out.base, out.plane, hand, np.array([0.0, 1.0, 1j])))
    at, across, up = (complex(right * place[0], place[1]) for place in seen)
    height = edge_height(project, out.base.part)
    edge = None if height is None else height / float(out.plane.up[1])
    return WallMarks(out, right, at, across - at, up - at, edge)


@dataclass(frozen=True, slots=True, eq=False)
class SkinMarks:
    """The panel's inner skin of one hand, seen.   right : +1 where outboard is to the right.

    flange : "inboard" or "outboard" of its web.   ahead : +1 where the foot's way in the seat's frame is ahead.
    rear : up (negative) to the panel's rear edge, along the skin's line; None: no panel is drawn.   from_centre : from
    the centreline, square to it, to the outer side of the web, where it meets the skin; None: unknown.
    """

    hand: str
    made: BracketMade
    right: float
    flange: str
    ahead: float
    rear: float | None
    from_centre: float | None

    @property
    def over(self) -> float:
        """+1 where the flange goes to the right of the web."""
        return self.right if self.flange == "outboard" else -self.right

    def laid(self, places: Complexes) -> Complexes:
        """Places of the flange: (across from the web's outer side) + i·(along, from the foot's middle)."""
        return self.over * places.real + 1j * self.ahead * places.imag

    def square(self, right: float) -> float:
        """From the centreline, square to it, to what lies so far to the right of the web's outer side."""
        return (self.from_centre or 0.0) + self.right * right * math.cos(math.radians(self.made.part.lean_deg))

    def out_to(self, square: float) -> float:
        """To the right of the web's outer side: the line that lies so far from the centreline, square to it."""
        lean = math.cos(math.radians(self.made.part.lean_deg))
        return self.right * (square - (self.from_centre or 0.0)) / lean


def skin_marks(project: Project, hardware: Hardware, hand: str, web_off: float | None = None) -> SkinMarks | None:
    """What is marked on the panel's skin for one hand; None where no bracket is laid out.

    web_off : how far the middle of the bracket's web lies outboard of the base's middle (from the stack).
    """
    part = project.mounted.bracket
    made = None if part is None else bracket_made(project, part, hardware)
    if part is None or made is None:
        return None
    frame, rear = rear_edge(project), rear_point(project)
    ahead = math.copysign(1.0, (frame.ahead * made.seat.along.conjugate()).real)
    toward = frame.ahead * made.seat.out.conjugate()  # he looks against `out`, the front up
    right = -math.copysign(1.0, toward.imag) * side_of(project, hand)
    middle = 0.5 * (made.foot[0] + made.foot[1])
    edge = None if rear is None else ahead * (made.seat.seen(complex(*rear[0])).real - middle)
    centre = from_centre(project, hand)
    half = 0.5 * part.thickness * (1.0 if part.bent == "inboard" else -1.0)
    out = None if centre is None or web_off is None else centre + web_off + half
    return SkinMarks(hand, made, right, part.bent, ahead, edge, out)
