"""What must pass each other on a real hinge: whose plates overlap in plan, and whom a pin would strike, at any pose.

All looking is along the pins, so a plate is its contour and a pin a disc about its centre. Two plates that come nearer
than SIDE_PLAY anywhere in the travel *meet*: cut edges, play and paint may make them touch. A pin's *shank* is as wide
as the washers and spacers on it, its *ends* as wide as head or clip. The fixed link and the panel take part by their
*brackets*, each cut from one sheet: the web of bracket or base where somebody said what holds the hinge (`webs`), else
an eye round each pin.

Poses here and there are looked at first, for most of what meets does so at many; what is apart at all of them is held
to be apart only by the certified smallest gap over the whole sweep, between poses too (`kinematics.clearance`).
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics.bodies import ring_body, straight_band
from kinematics.clearance import gaps_of
from kinematics.contact import geometries
from kinematics.errors import HingewrightError
from kinematics.layering import Passing, Through
from kinematics.plating import cut_of, sheet_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from kinematics.arrays import Complexes, Floats
    from kinematics.bodies import Body
    from kinematics.contours import Contour
    from kinematics.joints_made import JointMade
    from kinematics.project import Link, Project
    from kinematics.results import LoadFigures
    from kinematics.sweep import Sweep

SIDE_PLAY = 1.0
"""Mm that plates of one layer keep apart in plan: what cutting, holes and pins leave open (common practice, no
source)."""
LOOKS = 13
"""Poses that are looked at before the certified search."""
SAGITTA = 0.01
"""Mm by which the polygons miss the arcs of the plates, well within the side play."""
MOST_BEYOND = 60
"""Layers in which the end of a pin stands at most: no hinge has so many, however thin its sheet."""


@dataclass(frozen=True, slots=True)
class Overlaps:
    """What must pass, and where that was seen.

    seen_deg : (what, name, other) → opening at which it was seen; what : "meet" (two links), "shank" or "end" (of a
    pin, and the link it would strike), "pins" (two pins whose heads or clips come near each other).
    shapeless : (link, why) of plates that can't be cut as they are drawn; eyes round their pins stand in for them.
    """

    passing: Passing
    seen_deg: Mapping[tuple[str, str, str], float]
    shapeless: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Pair:
    """Two names (links, or a pin and a link) with their bodies: nearer than `within` (mm) is of account."""

    names: tuple[str, str]
    couples: tuple[tuple[Body, Body], ...]
    within: float


def passing_of(
    project: Project,
    sweep: Sweep,
    joints: Mapping[str, JointMade],
    loads: LoadFigures | None = None,
    webs: Mapping[str, Contour] | None = None,
) -> Overlaps:
    """What must pass what on this hinge over its travel.

    joints : by pivot.   loads : for what each pin carries.   webs : of the fixed link and the panel, shut.
    """
    columns = {name: k for k, name in enumerate(sweep.closure.links)}
    shapes, shapeless = _shapes(project, columns, webs or {})
    plates = {name: sheet_of(project, name)[1] for name in shapes}
    on_pins = {pivot.id: tuple(name for name in pivot.joins if name in shapes) for pivot in project.pivots}
    links = [pair for pair in _link_pairs(shapes) if not _share_a_pin(pair.names, on_pins)]
    pins = list(_pin_pairs(project, shapes, columns, joints))
    couples = list(_couples_of_pins(project, columns, joints))
    nearest = iter(_nearest(sweep, [*links, *pins, *couples]))
    seen = dict(_within("meet", links, nearest))
    for pair, (apart, deg) in _each(pins, nearest):
        reach = _radii(joints[pair.names[0]])
        seen |= {(what, *pair.names): deg for what, radius in reach.items() if apart < radius + SIDE_PLAY}
    seen |= dict(_within("pins", couples, nearest))
    meets, near = (frozenset(frozenset(names) for what, *names in seen if what == kind) for kind in ("meet", "pins"))
    thin = min((sheet_of(project, name)[0] for name in shapes), default=1.0)
    through = [
        _through(pin, members, seen, _load(loads, project, pin), _ends(joints[pin], thin))
        for pin, members in on_pins.items()
        if members
    ]
    return Overlaps(Passing(plates, meets, tuple(through), near), seen, shapeless)


def _each(
    pairs: Sequence[_Pair], nearest: Iterator[tuple[float, float]]
) -> Iterator[tuple[_Pair, tuple[float, float]]]:
    """Pairs with their share of what was found for all."""
    return ((pair, next(nearest)) for pair in pairs)


def _within(
    what: str, pairs: Sequence[_Pair], nearest: Iterator[tuple[float, float]]
) -> Iterator[tuple[tuple[str, str, str], float]]:
    """Pairs that come nearer than they care for, with the opening."""
    return (((what, *pair.names), deg) for pair, (apart, deg) in _each(pairs, nearest) if apart < pair.within)


def _radii(joint: JointMade) -> dict[str, float]:
    """Mm, how far a pin's shank with its washers and its ends reach about its centre."""
    return {"shank": 0.5 * max(joint.washer.outside, joint.pin.diameter), "end": 0.5 * joint.pin.widest}


def _through(
    pin: str, members: tuple[str, ...], seen: Mapping[tuple[str, str, str], float], load: float, ends: tuple[int, int]
) -> Through:
    struck = {
        what: frozenset(other for kind, name, other in seen if kind == what and name == pin)
        for what in ("shank", "end")
    }
    return Through(pin, members, struck["shank"], struck["end"], load, *ends)


def _load(loads: LoadFigures | None, project: Project, pin: str) -> float:
    """N, the largest force on a pin over the travel; 1 where it isn't known."""
    if loads is None:
        return 1.0
    forces = loads.pins[:, [pivot.id for pivot in project.pivots].index(pin)]
    known = forces[np.isfinite(forces)]
    return max(float(known.max()), 1.0) if known.size else 1.0


def _ends(joint: JointMade, thin: float) -> tuple[int, int]:
    """Layers beyond its plates in which head and clip stand at least, each behind a washer."""
    washer = joint.washer.thickness
    pin = joint.pin
    return layers_beyond(washer + pin.height, thin, washer), layers_beyond(washer + pin.clip_height, thin, washer)


def layers_beyond(reach: float, thin: float, washer: float) -> int:
    """Layers that something takes that reaches so far beyond a plate (mm).   thin : mm, the thinnest plate."""
    return max(1, math.ceil(min((reach - washer) / (thin + washer), MOST_BEYOND) - 1e-9))


def _share_a_pin(names: tuple[str, str], on_pins: Mapping[str, tuple[str, ...]]) -> bool:
    return any(set(names) <= set(members) for members in on_pins.values())


# Shapes -----------------------------------------------------------------------------------------------------------


def _shapes(
    project: Project, columns: Mapping[str, int], webs: Mapping[str, Contour]
) -> tuple[dict[str, tuple[Body, ...]], tuple[tuple[str, str], ...]]:
    """The bodies of each link that has pins; and of whose plates no shape can be made, with why."""
    shapes, shapeless = {}, []
    for link in project.links:
        if not project.pivots_on(link.id):
            continue
        column = columns[link.id]
        try:
            cut = cut_of(project, link)
        except HingewrightError as error:
            shapeless.append((link.id, str(error)))
            cut = None
        contour = webs.get(link.id) if cut is None else cut.outer
        if contour is None:
            shapes[link.id] = _eyes(project, link, column)
        else:
            points = contour.polyline(SAGITTA)
            shapes[link.id] = (ring_body(link, column, points[:, 0] + 1j * points[:, 1]),)
    return shapes, tuple(shapeless)


def _eyes(project: Project, link: Link, column: int) -> tuple[Body, ...]:
    """An eye round each pin of a link."""
    plate = project.plating.of(link.id, link.width)
    own = {each.pivot: each.radius for each in plate.eyes}
    return tuple(
        straight_band(link, column, complex(*pivot.at), complex(*pivot.at), own.get(pivot.id, plate.radius or 0.0))
        for pivot in project.pivots_on(link.id)
    )


def _link_pairs(shapes: Mapping[str, tuple[Body, ...]]) -> Iterator[_Pair]:
    for one, other in itertools.combinations(shapes, 2):
        yield _Pair((one, other), tuple(itertools.product(shapes[one], shapes[other])), SIDE_PLAY)


def _pin_pairs(
    project: Project,
    shapes: Mapping[str, tuple[Body, ...]],
    columns: Mapping[str, int],
    joints: Mapping[str, JointMade],
) -> Iterator[_Pair]:
    """Each pin's centre against all links that aren't on it."""
    for pivot in project.pivots:
        at = complex(*pivot.at)
        centre = straight_band(pivot, columns[pivot.joins[0]], at, at, 0.0)
        for name, there in shapes.items():
            if name not in pivot.joins:
                within = max(_radii(joints[pivot.id]).values()) + SIDE_PLAY
                yield _Pair((pivot.id, name), tuple((centre, body) for body in there), within)


def _couples_of_pins(project: Project, columns: Mapping[str, int], joints: Mapping[str, JointMade]) -> Iterator[_Pair]:
    """The centres of any two pins that share no link: those of one link keep their distance, which is another check."""
    for one, other in itertools.combinations(project.pivots, 2):
        if not set(one.joins) & set(other.joins):
            radii = [max(_radii(joints[pivot.id]).values()) for pivot in (one, other)]
            centres = [
                straight_band(pivot, columns[pivot.joins[0]], complex(*pivot.at), complex(*pivot.at), 0.0)
                for pivot in (one, other)
            ]
            yield _Pair((one.id, other.id), ((centres[0], centres[1]),), sum(radii) + SIDE_PLAY)


# Nearest ----------------------------------------------------------------------------------------------------------


def _nearest(sweep: Sweep, pairs: list[_Pair]) -> list[tuple[float, float]]:
    """How near each pair comes over the sweep (mm) and at which opening (deg).

    It is certified for pairs that come no nearer than they care for; of others the looks are enough.
    """
    degs, turns, shifts = _looks(sweep)
    found = []
    for pair in pairs:
        lanes = np.array([_lane(couple, turns, shifts) for couple in pair.couples]).min(axis=0)
        place = int(lanes.argmin())
        found.append((float(lanes[place]), float(degs[place])))
    unsure = [k for k, pair in enumerate(pairs) if found[k][0] >= pair.within]
    there: dict[str, Body] = {}
    watched = []
    for k in unsure:
        for n, (one, other) in enumerate(pairs[k].couples):
            names = (f"{k} {n} one", f"{k} {n} other")
            there |= dict(zip(names, (one, other), strict=True))
            watched.append((k, names))
    gaps = gaps_of(sweep, tuple((names, None) for _, names in watched), there)
    for (k, _), gap in zip(watched, gaps, strict=True):
        if gap.smallest is not None and gap.smallest < found[k][0]:
            found[k] = (gap.smallest, gap.at_deg or 0.0)
    return found


def _looks(sweep: Sweep) -> tuple[Floats, Floats, Complexes]:
    """Openings (deg) of some poses, with turns and shifts of all links there."""
    openings = np.linspace(0.0, max(sweep.reached, 0.0), LOOKS if sweep.reached > 0.0 else 1)
    y = sweep.at_openings(openings)
    return np.degrees(openings), sweep.link_turns(y), sweep.shifts(y)


def _lane(couple: tuple[Body, Body], turns: Floats, shifts: Complexes) -> Floats:
    """Mm between two bodies at the poses."""
    one, other = (
        geometries(body, shifts[:, body.column, None] + np.exp(1j * turns[:, body.column, None]) * body.tails)
        for body in couple
    )
    return np.asarray(np.maximum(shapely.distance(one, other) - couple[0].radius - couple[1].radius, 0.0))
