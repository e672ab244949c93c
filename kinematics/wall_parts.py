"""How the wall stands to the centreline on either side, as frozen values.

The hinge's links move in planes along the centreline, but the wall that the bases stand on seldom runs square to it.
Seen from above, each half of it is *off* square by an angle, and it may *lean* as well. So that left and right hinge
are parallel all the same, each base is *trued*: the feet of its webs are ground to the bevel, or a tapered shim goes
between base plate and wall. *Left* and *right* are those of one who looks from the panel's rear edge to its front.

Where a thing is left out (None) it follows from what is drawn (`kinematics.walling`). Lengths mm, angles deg. Each part
checks itself when it is built.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

from kinematics import values
from kinematics.errors import ProjectError
from kinematics.parts import keep, kept_keys, put

if TYPE_CHECKING:
    from collections.abc import Mapping

HANDS = ("left", "right")
TRUED = ("foot", "shim")
STEEPEST_OFF = 45.0
"""Deg by which a wall may be off square at most: beyond it the hinge stands better on another wall."""
STEEPEST_LEAN = 60.0


@dataclass(frozen=True, slots=True)
class HandWall:
    """The wall on one side.

    off_deg : how far it is off square to the centreline, seen from above: positive where it falls away from the pins
    on the way outboard, so that the thick end of a wedge is outboard; negative where it comes nearer.
    lean_deg : how far its top leans away from the pins (negative: over them), off plumb, seen from the side; None: as
    the face is drawn.   from_centre : from the centreline to the middle of the base, square to the centreline; None:
    half of what the hinges are apart.
    """

    off_deg: float = 0.0
    lean_deg: float | None = None
    from_centre: float | None = None
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        put(self, off_deg=_angle(self.off_deg, "off_deg", STEEPEST_OFF))
        if self.lean_deg is not None:
            put(self, lean_deg=_angle(self.lean_deg, "lean_deg", STEEPEST_LEAN))
        if self.from_centre is not None:
            put(self, from_centre=values.positive(self.from_centre, "wall", "from_centre"))
        keep(self)


@dataclass(frozen=True, slots=True)
class Wall:
    """Both sides, how the bases are made true, and from where all is measured.

    left, right : None: as the other side, mirrored; both None: square.   trued : "foot" (the webs' feet are ground) or
    "shim".   depth : over which the wedge is measured, across; None: across the feet, or the plate's width for a shim.
    shim_least : thickness of the shim's thin end.   level : height of the level line that all heights are measured
    from, in the side view.   edge : height of the wall's upper edge over it; None: as drawn.   lines : how far apart
    the lines along that edge are on the templates.
    """

    left: HandWall | None = None
    right: HandWall | None = None
    trued: Literal["foot", "shim"] = "foot"
    depth: float | None = None
    shim_least: float = 2.0
    level: float = 0.0
    edge: float | None = None
    lines: float = 10.0
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        values.one_of(self.trued, "wall", "trued", TRUED)
        for name in ("shim_least", "lines"):
            put(self, **{name: values.positive(getattr(self, name), "wall", name)})
        if self.depth is not None:
            put(self, depth=values.positive(self.depth, "wall", "depth"))
        put(self, level=values.number(self.level, "wall", "level"))
        if self.edge is not None:
            put(self, edge=values.number(self.edge, "wall", "edge"))
        keep(self)

    def side(self, hand: str) -> HandWall:
        """The wall on one side: as said, else as the other side, else square."""
        own, other = (self.left, self.right) if hand == "left" else (self.right, self.left)
        return own or other or HandWall()


CALLED = {"off_deg": "the angle off square", "lean_deg": "the lean"}
"""What a builder calls it, who types it and never sees the file."""


def _angle(value: object, name: str, most: float) -> float:
    """Check an angle against the most that makes sense."""
    deg = values.number(value, "wall", name)
    if abs(deg) > most:
        what = f"{CALLED[name]} is {deg:g}°, but {most:g}° either way is the most that can be"
        raise ProjectError(what, "wall", "Put the hinge on a wall that faces the panel more squarely.")
    return deg
