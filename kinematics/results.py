"""What an analysis hands over: plain frozen values, without sentences.

Openings are in degrees here, as everywhere that people see; places are (x, y) in mm in the fixed link's frame.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeVar, overload

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.arrays import Complexes, Floats
    from kinematics.project import Point

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Opening:
    """The opening wanted, reached and largest (deg), and the word for how the sweep ends (see format.md: `ends`)."""

    wanted_deg: float
    reached_deg: float
    largest_deg: float
    ends: str


@dataclass(frozen=True, slots=True, eq=False)
class Pose:
    """Where every link stands: opening (deg), place along the branch (rad), turns (links,) rad, shifts (links,) mm."""

    deg: float
    arc: float
    turns: Floats
    shifts: Complexes

    def place(self, link: int, point: Point) -> Point:
        """Where a shut point of a link (its column) stands."""
        z = self.shifts[link] + np.exp(1j * self.turns[link]) * complex(*point)
        return (float(z.real), float(z.imag))

    def places(self, link: int, points: Floats) -> Floats:
        """(n, 2) shut points of a link → (n, 2) where they stand."""
        z = self.shifts[link] + np.exp(1j * self.turns[link]) * (points[:, 0] + 1j * points[:, 1])
        return np.stack([z.real, z.imag], axis=1)


@dataclass(frozen=True, slots=True, eq=False)
class Gap:
    """One watched pair over the sweep; the keys are those of format.md.

    after_deg : from where the want holds.   wanted : whether the builder asked for the pair.
    lane : openings (deg) and gaps (mm) to draw; the smallest is among them, others may be too large by a twentieth of
        the distance of the lines, and by more where they lie far above the want.
    shut_points : the two points between which the shut gap is read.
    uncertain : mm, how far all its figures may be off because the outlines may be; `ok` is held against the low end.
    """

    between: tuple[str, str]
    smallest: float | None
    at_deg: float | None
    at_points: tuple[Point, Point] | None
    shut: float | None
    touching_deg: tuple[tuple[float, float], ...]
    at_least: float | None
    after_deg: float
    ok: bool | None
    wanted: bool
    lane: tuple[Floats, Floats]
    shut_points: tuple[Point, Point] | None = None
    uncertain: float = 0.0


@dataclass(frozen=True, slots=True)
class Check:
    """A comparison of what is with what the builder wants.

    kind : "gap", "shut gap", "limit", "opening", "pin spacing", "zone", "roof", "front edge",
        "transmission", "push" (N), "rests" (deg), "rear edge" (how far play lets it rise), "striker" (its side step),
        "stop" (deg) or "strength".
    subject : the ids it speaks of (roof: the link that comes nearest; front edge: its mark, if it is one; zone: the
    link, and its pin that stands worst).
    side : for a limit, which of its four bounds; for a push, "shut", "largest", "open" (that it stays open), "worst" or
        "latch"; for a stop that is none, why (`StopFigures.why`); for strength, the way in which it comes nearest to
        failing (`Utilised.mode`).
    want, have : mm, but deg for angles, N for pushes and a mere number for strength; no have: None.
    deg, place : the opening and the point it speaks of.   margin : how much is left, negative where it falls short.
    most : for a shut gap, the largest that is wanted, if any; `want` is the least. For a stop the dead point, if any.
    ahead : for a limit, the side of the sheet on which the panel's front is: +1 right, −1 left, 0 neither.
    uncertain : mm, how far `have` may be off either way; `ok` and `margin` are of the worse end.
    needs : what it takes for it to hold, "prop" or "pinned prop" (one that is drawn too), or to be told, "width" (the
        panel's, for a gust); else "".
    """

    kind: str
    subject: tuple[str, ...]
    want: float
    have: float | None
    ok: bool
    margin: float
    deg: float | None = None
    place: Point | None = None
    side: str = ""
    after_deg: float = 0.0
    most: float | None = None
    ahead: int = 0
    uncertain: float = 0.0
    needs: str = ""


@dataclass(frozen=True, slots=True)
class Height:
    """How high something stands: y (mm) of a point in the fixed link's frame, at an opening (deg), and its link."""

    y: float
    place: Point
    deg: float
    link: str


@dataclass(frozen=True, slots=True)
class RoomFigures:
    """What is to be known of the room.

    highest : the highest place that panel and links reach over the whole sweep, between poses too; None where none of
    them is drawn.     front : the front edge at the largest opening reached; None where there is none.
    """

    highest: Height | None
    front: Height | None


@dataclass(frozen=True, slots=True, eq=False)
class Transmission:
    """Transmission angles of the links with two pins.

    openings (n,) deg; angles (n, m) deg; links (m,) ids. The smallest, between poses too: its angle, opening and link.
    """

    openings: Floats
    angles: Floats
    links: tuple[str, ...]
    smallest_deg: float
    at_deg: float
    link: str


@dataclass(frozen=True, slots=True)
class Utilised:
    """One way in which a pin, plate or bushing may fail, at the pose where it comes nearest to that.

    mode : "pin shear", "pin bending", "bearing", "net section", "tear-out", "offset bending", "bushing pressure",
        "bushing speed", "bushing pressure × speed"; of a link "section", "buckling".
    pivot, link : whose it is; either may be "".   force : N, the worse hinge's, that brings it (of a section: the
        largest pull or push at its cuts).
    stress, strength : what is and what may be, MPa (speed: m/s, pressure × speed: MPa·m/s).
    want, have : safety; no have: it can't be told, as forces grow beyond bound there.   deg : opening; None where it
        has none.   place : in the fixed link's frame.   note : how it was reckoned, in a word or two.
    """

    mode: str
    pivot: str
    link: str
    force: float | None
    stress: float | None
    strength: float
    want: float
    have: float | None
    deg: float | None
    place: Point | None
    note: str = ""

    @property
    def ratio(self) -> float:
        """Safety had over wanted; −inf where none can be told."""
        return -math.inf if self.have is None else self.have / self.want


class Listed(Sequence[T]):
    """A list whose members are made when they are asked for, each once: in a drag nobody asks for most of them."""

    def __init__(self, count: int, make: Callable[[int], T]) -> None:
        self._made: list[T | None] = [None] * count
        self._make = make

    def __len__(self) -> int:
        return len(self._made)

    @overload
    def __getitem__(self, place: int) -> T: ...

    @overload
    def __getitem__(self, place: slice) -> Sequence[T]: ...

    def __getitem__(self, place: int | slice) -> T | Sequence[T]:
        if isinstance(place, slice):
            return tuple(self[each] for each in range(*place.indices(len(self))))
        found = self._made[place]
        if found is None:
            found = self._made[place] = self._make(range(len(self))[place])
        return found

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Sequence) and tuple(self) == tuple(other)

    def __hash__(self) -> int:
        return hash(tuple(self))

    def __reduce__(self) -> tuple[type[tuple[T, ...]], tuple[tuple[T, ...]]]:
        return tuple, (tuple(self),)  # what is sent elsewhere is a plain list


@dataclass(frozen=True, slots=True)
class StrengthFigures:
    """What the pins' forces come to in pins and plates, worst first.

    share : of all loads, what the worse hinge carries.   untold : why nothing can be told, or "".
    remarks : sentences.   worst : places among the figures of the worst one of each pin, and of each link by itself.
    """

    share: float
    figures: Sequence[Utilised]
    untold: str = ""
    remarks: tuple[str, ...] = ()
    worst: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Balance:
    """An opening (deg) at which the loads hold each other, and whether the panel comes back to it when it is pushed."""

    deg: float
    stable: bool


@dataclass(frozen=True, slots=True)
class Push:
    """A push at the handle (N) and the opening (deg) at which it is asked for."""

    force: float
    deg: float


@dataclass(frozen=True, slots=True)
class Worst:
    """The worst of what may go against an open panel: what it comes to there (N), and what brings it.

    force : of the hand, or along what holds instead of it.   temperature : °C (None: 20).   slope_deg : deg by which
    weights pull anticlockwise of straight down.   dead : the id of the device of which one strut has failed, or "".
    wind : m/s, of the gust that is in it, from the worse side; 0 for none.
    """

    force: float
    temperature: float | None
    slope_deg: float
    dead: str
    wind: float = 0.0


@dataclass(frozen=True, slots=True)
class Gust:
    """A gust on the panel: speed m/s, pressure Pa, the panel's chord mm, its area m², force N square to the chord."""

    speed: float
    pressure: float
    chord: float
    area: float
    force: float


@dataclass(frozen=True, slots=True)
class Seat:
    """How a prop stands on the surface at its seat: the nearest edge of an outline of the seat's link.

    outline : its id.   away : mm from the seat to that line.   off_deg : deg between the prop and the surface's normal;
    friction_deg : beyond which it slides.   slides : "front", "rear", "along" where nobody can tell which, "" where it
    stays.
    """

    outline: str
    away: float
    off_deg: float
    friction_deg: float
    slides: str


@dataclass(frozen=True, slots=True, eq=False)
class PropFigures:
    """What a prop comes to at its opening, and over the sweep.

    at_deg : its opening.   length : mm, None where that opening isn't reached.   force : N along it with nobody's hand,
    positive: it is pressed; None where it can't be told.   most, least : in the worst case, where one is asked for.
    pins : (pivots,) N of one hinge, with the prop set; NaN where untold.   seat : None where nothing is drawn there.
    stows : mm from the end that it hangs by to the panel's furthest place, shut; None where the panel isn't drawn.
    leaves_deg : stretches of opening, from the prop's on, in which its seat lies further away than it is long; by
    `away` mm at most.
    """

    at_deg: float
    length: float | None
    force: float | None = None
    most: Worst | None = None
    least: Worst | None = None
    pins: Floats | None = None
    seat: Seat | None = None
    stows: float | None = None
    leaves_deg: tuple[tuple[float, float], ...] = ()
    away: float = 0.0

    @property
    def holds(self) -> bool:
        """Whether the panel rests on it, in the worst case too where one is asked for."""
        at_most = self.force if self.most is None else self.most.force
        return self.length is not None and at_most is not None and at_most > 0.0

    @property
    def is_drawn(self) -> bool:
        """Whether the panel draws it off its seat, normally or in the worst case."""
        forces = (self.force, None if self.least is None else self.least.force)
        return any(force is not None and force < 0.0 for force in forces)


@dataclass(frozen=True, slots=True)
class StopFigures:
    """What a stop comes to.

    pivot : the pin that joins its two links, or "".   why : why it is no stop: "dead point" (it lies at or past it),
    "no pivot", "still" (the two don't turn against each other there), "strut" (one is at its end before); "" where it
    is one.   turned_deg : how far its second link has turned against its first since shut.   ratio : deg
    that they turn against each other per deg of opening there.   force : N with nobody's hand, 0 where nothing leans on
    it.   worst : in the worst case.
    """

    at_deg: float
    arm: float
    pivot: str
    why: str
    turned_deg: float | None = None
    ratio: float | None = None
    force: float | None = None
    worst: Worst | None = None


@dataclass(frozen=True, slots=True)
class RestFigures:
    """How a panel rests at full opening by itself, so that something stops it there.

    at_deg : that opening.   on_stop : whether the stop of the project does.   back_to_deg : where it balances on the
    way back; None where it would rise all the way from shut.   pull : N, the largest at the handle that brings it
    there, and where; None where none is told.   rubbing : N, the same with friction.   withstands : m/s, the gust that
    brings it off its rest; None where the area isn't known, or no gust does.
    """

    at_deg: float
    on_stop: bool
    back_to_deg: float | None
    pull: Push | None
    rubbing: float | None
    withstands: float | None


@dataclass(frozen=True, slots=True)
class HoldingFigures:
    """What holds the panel open: prop, stop, rest; each None where there is none. gust : of the worst case.

    In an analysis there is only what its checks are about: no rest, and of a prop neither seat nor pins nor where it
    stows and leaves. `kinematics.balance.holding_in_full` tells them too.
    """

    prop: PropFigures | None = None
    stop: StopFigures | None = None
    rest: RestFigures | None = None
    gust: Gust | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Entry:
    """How the striker comes to the latch: its way over the last stretch of the travel, from shut on.

    path : (n, 2) mm, where it stands, the first one shut.   way : unit (x, y) by which it is to go in.
    length : mm, the straight distance of the path's ends, as asked for or as far as the panel opens.
    path_deg : the way of its path just before shut, deg from the x axis.   angle_deg : between that and the way.
    side_step : mm, how far it leaves the straight line along the way, at most.   step_at : the place of that.
    turn_deg : by how much the panel turns meanwhile.
    """

    path: Floats
    way: Point
    length: float
    path_deg: float
    angle_deg: float
    side_step: float
    step_at: Point
    turn_deg: float


@dataclass(frozen=True, slots=True)
class ShutFigures:
    """What holds the panel shut, and what it takes to shut it; None where nothing can be told.

    latch : N along its way, at the loads' temperature; negative: the panel lies shut by itself.
    latch_hot : N with the struts at `hot` (°C); both None without gas struts.
    closing, closing_rubbed : N at the handle, the largest push that the last mm before shut needs, without friction and
        with it (None where none was told of); negative: it has to be held back.
    rear : the rear edge (mm, shut), the unit way in which it would rise, and how hard the loads on the panel press it
        that way with the latch on (N; `rear_hot` with hot struts).
    rise : mm by which the rear edge rises from where it is drawn as the joints' play is used up.
    entry : of the striker.   remarks : sentences, each why something isn't told.
    """

    latch: float | None
    latch_hot: float | None
    hot: float | None
    closing: float | None
    closing_rubbed: float | None
    rear: Point | None
    rear_way: Point | None
    rear_force: float | None
    rear_hot: float | None
    rise: float | None
    entry: Entry | None
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class LoadFigures:
    """What the loads come to, at the n reported poses and over the sweep. NaN stands where nothing can be told.

    effort : (n,) N at the handle along its path towards larger openings, without friction; positive: a person lifts.
    raising, letting_down : (n,) N, the same against friction while the panel goes up, and while it is let down; None
        where no friction was told of.
    pins : (n, pivots) N, the largest force that one link puts on that pin of one hinge.
    members : (pivot, link) of every link on every pin.   forces : (n, members) complex, what the pin puts on that
        link, of one hinge, N, in the fixed link's frame.
    devices : ids.   lengths, pushes : (n, devices), mm pin to pin, and N of one of them, positive: pushes.
    balances : in order of opening.   tip_overs : deg, where the masses stand highest.
    largest, least : of the effort, between poses too; None where it isn't told, or lies beyond the bound.
    bound : N, beyond which a force is no figure to build on, and a lane has its end.   remarks : sentences.
    worst : at full opening, where the project has a worst case and the effort can be told.
    shut : where the project has a latch.   let_go_deg : where the last seal or bump stop lets go; 0 without any.
    holding : what prop, stop and gust come to, as far as checks are about them.
    """

    effort: Floats
    raising: Floats | None
    letting_down: Floats | None
    pins: Floats
    members: tuple[tuple[str, str], ...]
    forces: Complexes
    devices: tuple[str, ...]
    lengths: Floats
    pushes: Floats
    balances: tuple[Balance, ...]
    tip_overs: tuple[float, ...]
    largest: Push | None
    least: Push | None
    bound: float
    remarks: tuple[str, ...] = ()
    worst: Worst | None = None
    shut: ShutFigures | None = None
    let_go_deg: float = 0.0
    holding: HoldingFigures | None = None
