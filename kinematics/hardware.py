"""Standard hardware as frozen values: the rows of tables that somebody else reads, and how one is found in them.

Lengths mm, whatever the standard's own units. Every row says its standard (`source`) and how its figures are known
(`known`: "reprinted table", "from memory", "common practice, no source"). A size that is in no table isn't guessed:
what looks for it gives None.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from kinematics import fits

if TYPE_CHECKING:
    from collections.abc import Iterable

    from kinematics.fits import Deviation, Limits

SAME = 0.02
"""Diameters (mm) that differ by less are one: 5/16 in may come as 7.94."""


@dataclass(frozen=True, slots=True)
class BushingSize:
    """A row: bore and outside diameter, the lengths in which it is made, and the zones of its fits.

    bore_zone : as delivered.   fitted_zone : of the bore once it is in its housing and sized or reamed.
    outside_zone : of its outside.   housing_zone : of the hole for it.   pin_zone : of the pin on which it is pressed
    in, or "".
    """

    kind: str
    units: str
    bore: float
    outside: float
    lengths: tuple[float, ...]
    bore_zone: str
    fitted_zone: str
    outside_zone: str
    housing_zone: str
    pin_zone: str
    source: str
    known: str

    @property
    def wall(self) -> float:
        """Half of what outside is more than bore."""
        return 0.5 * (self.outside - self.bore)


@dataclass(frozen=True, slots=True)
class PinSize:
    """A row: a pin of a nominal diameter.

    zone : of its shank, or "" where least and most say its limits.   head, height : outside diameter and height of its
    head; None: it has none.   hole_least, hole_most : of the hole for its split pin.   end : from that hole's middle to
    the pin's end at least.   reach_least, reach_most : from head to the hole's middle, where the standard has but one
    length.   thread, threaded : of a shoulder bolt, and how long.   lengths : from below the head.   clip : its
    designation.
    """

    kind: str
    units: str
    size: str
    diameter: float
    zone: str
    least: float | None
    most: float | None
    head: float | None
    height: float | None
    hole_least: float | None
    hole_most: float | None
    end: float | None
    reach_least: float | None
    reach_most: float | None
    thread: str
    threaded: float | None
    lengths: tuple[float, ...]
    clip: str
    standard: str
    source: str
    known: str


@dataclass(frozen=True, slots=True)
class RingSize:
    """A row: a ring ("circlip" or "E-ring") for shafts from … to.   size : by which it is ordered (an E-ring's groove).

    groove : its diameter, which may be groove_under_um less.   slot : its width.   thickness : of the ring.   edge :
    from the groove to the pin's end at least.   outside : the room that it takes.
    """

    kind: str
    size: float
    shaft_from: float
    shaft_to: float
    groove: float
    groove_under_um: int
    thickness: float
    slot: float
    edge: float
    outside: float
    source: str
    known: str


@dataclass(frozen=True, slots=True)
class WasherSize:
    """A row: a "washer" or a "shim" for pins of a size, its diameters and thickness with limits."""

    kind: str
    units: str
    size: float
    inside: float
    outside: float
    thickness: float
    least: float
    most: float
    standard: str
    source: str
    known: str


@dataclass(frozen=True, slots=True)
class ClearanceHole:
    """A row: holes through which a bolt goes freely: fine (close), medium (normal), coarse (loose)."""

    thread: str
    units: str
    diameter: float
    fine: float
    medium: float
    coarse: float
    source: str
    known: str


@dataclass(frozen=True, slots=True)
class TapDrill:
    """A row: the drill for a thread, with its name in the trade.   per_inch : threads per inch, else pitch is given."""

    thread: str
    units: str
    diameter: float
    per_inch: int | None
    pitch: float | None
    drill: float
    name: str
    source: str
    known: str

    @property
    def depth(self) -> float:
        """How deep the thread is cut over its full height: (D − drill)/(1.299·P)."""
        pitch = 25.4 / self.per_inch if self.per_inch else self.pitch or 1.0
        return (self.diameter - self.drill) / (1.299 * pitch)


@dataclass(frozen=True, slots=True)
class GeneralTolerance:
    """A row: by how much (±) a size over … up to may be off where nothing else is said."""

    over: float
    up_to: float
    off: float
    source: str
    known: str


@dataclass(frozen=True, slots=True)
class Practice:
    """A row: a figure of the trade, by its key."""

    key: str
    value: float
    meaning: str
    source: str
    known: str


@dataclass(frozen=True, slots=True)
class Hardware:
    """All tables."""

    deviations: tuple[Deviation, ...] = ()
    bushings: tuple[BushingSize, ...] = ()
    pins: tuple[PinSize, ...] = ()
    rings: tuple[RingSize, ...] = ()
    washers: tuple[WasherSize, ...] = ()
    clearances: tuple[ClearanceHole, ...] = ()
    drills: tuple[TapDrill, ...] = ()
    general: tuple[GeneralTolerance, ...] = ()
    practice: tuple[Practice, ...] = ()

    def limits(self, size: float, zone: str) -> Limits | None:
        """The limits of a size in a zone; None where the tables don't reach."""
        return fits.limits(self.deviations, size, zone)

    def rule(self, key: str) -> float:
        """A figure of the trade. Raises KeyError for one that isn't tabled, which is a fault of the program."""
        found = next((row.value for row in self.practice if row.key == key), None)
        if found is None:
            raise KeyError(key)
        return found

    def pin(self, kind: str, diameter: float) -> PinSize | None:
        """The pin of a kind and nominal diameter."""
        return next((row for row in self.pins if row.kind == kind and same(row.diameter, diameter)), None)

    def bushings_for(self, kind: str, bore: float) -> tuple[BushingSize, ...]:
        """The bushings of a kind for a pin, the usual one first."""
        return tuple(row for row in self.bushings if row.kind == kind and same(row.bore, bore))

    def rings_for(self, shaft: float, kind: str = "") -> tuple[RingSize, ...]:
        """The rings that go on a shaft: circlips first, then those in the middle of whose range the shaft lies."""
        found = (row for row in self.rings if row.shaft_from - SAME <= shaft <= row.shaft_to + SAME)
        wanted = (row for row in found if kind in ("", row.kind))
        return tuple(
            sorted(wanted, key=lambda row: (row.kind != "circlip", abs(row.shaft_from + row.shaft_to - 2 * shaft)))
        )

    def washers_for(self, pin: float, kind: str = "washer") -> tuple[WasherSize, ...]:
        """The washers or shims for a pin, thinnest first."""
        found = (row for row in self.washers if row.kind == kind and same(row.size, pin))
        return tuple(sorted(found, key=lambda row: row.thickness))

    def clearance(self, thread: str) -> ClearanceHole | None:
        """The clearance holes of a thread ("M8", "5/16")."""
        return next((row for row in self.clearances if row.thread == thread), None)

    def drill(self, thread: str) -> TapDrill | None:
        """The tap drill of a thread ("M8", "5/16-18")."""
        return next((row for row in self.drills if row.thread == thread), None)

    def may_be_off(self, size: float) -> float | None:
        """By how much a size without a tolerance may be off (±); None beyond the table."""
        return next((row.off for row in self.general if row.over < size <= row.up_to), None)


def same(one: float, other: float) -> bool:
    """Whether two diameters are one."""
    return abs(one - other) < SAME


def nearest(rows: Iterable[BushingSize], wall: float | None) -> BushingSize | None:
    """The bushing whose wall is nearest to one that is wanted, else the thinnest, which leaves most of the plate."""
    return min(rows, key=lambda row: row.wall if wall is None else abs(row.wall - wall), default=None)
