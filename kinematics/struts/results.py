"""What a search for struts is told and what it hands over: plain frozen values that travel between processes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from kinematics.parts import Zone
    from kinematics.project import Point
    from kinematics.results import Check

WANTS = ("shut", "largest", "rests", "open", "worst")
"""Wants of lifting that a placement is held against, as `kinematics.lifting` names them."""


@dataclass(frozen=True, slots=True)
class StrutSize:
    """A usual size of gas strut: diameters of rod and tube, stroke and extended length, pin to pin (mm).

    least, most : N, the forces it is made for.   ratio : how much harder it pushes pushed in than drawn out.
    """

    rod: float
    tube: float
    stroke: float
    extended: float
    least: float
    most: float
    ratio: float


@dataclass(frozen=True, slots=True)
class StrutSettings:
    """How to search for struts.

    sizes : that may be taken.   zones : where ends may be, shut, on two links at least; none: `regions.default_zones`.
    count : struts, alike and side by side.   seed : the same one finds the same placements in the same order.
    force_step : N, forces are multiples of it.   reserve : mm of stroke left at either end.   grid : mm, to multiples
    of which the ends' places are rounded.   off : mm that a strut's tube keeps from what is drawn.
    """

    sizes: tuple[StrutSize, ...]
    zones: tuple[Zone, ...] = ()
    count: int = 2
    seed: int = 1
    force_step: float = 50.0
    reserve: float = 5.0
    grid: float = 1.0
    off: float = 2.0


@dataclass(frozen=True, slots=True)
class Placement:
    """One placement that was found, held against the wants of lifting by the same figures as `analyse` gives.

    from_on, from_at, to_on, to_at : links of the ends, and their places, shut (mm).   force : N at 20 °C, each.
    ok : every want of lifting holds, and no strut stops the travel.   short : those checks that fall short, and checks:
    all of them.   margin : N at the handle, what is left of the want that has least left.   way : the want it is of.
    score : by which placements are put in order.
    openings, efforts : deg and N, the lane.   shortest, longest : mm, over the travel.   unit : that found it.
    pin : N, the most that a pin of one hinge carries at those openings; None where that isn't told.
    """

    from_on: str
    from_at: Point
    to_on: str
    to_at: Point
    size: StrutSize
    count: int
    force: float
    ok: bool
    short: tuple[Check, ...]
    checks: tuple[Check, ...]
    margin: float
    way: str
    score: float
    openings: tuple[float, ...]
    efforts: tuple[float, ...]
    shortest: float
    longest: float
    unit: int
    pin: float | None = None


@dataclass(frozen=True, slots=True)
class StrutUnit:
    """What one unit of a search for struts brought.

    tried : placements held against all wants over the whole travel.   fitting, drawn : pairs of ends that some size
    fits, of those drawn.   looked, unclear : placements looked at for clearance, and those in the way of what is drawn.
    in_the_way : want → placements that meet all wants but that one.   kind : always "".
    """

    unit: int
    placements: tuple[Placement, ...]
    tried: int
    drawn: int = 0
    fitting: int = 0
    looked: int = 0
    unclear: int = 0
    in_the_way: tuple[tuple[str, int], ...] = ()
    kind: str = ""
