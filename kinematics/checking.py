"""Checks: what is, held against what the builder wants; worst first.

A check falls short where its margin is negative. Those that fall short come first, the widest miss before the others;
mm and degrees are compared as they stand.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from kinematics.doubt import moving_doubt
from kinematics.extremes import lowest
from kinematics.lifting import lift_checks, stop_check
from kinematics.rear_edge import side_ahead
from kinematics.results import (
    Check,
    Gap,
    Height,
    LoadFigures,
    Opening,
    RoomFigures,
    StrengthFigures,
    Transmission,
    Utilised,
)
from kinematics.zoning import zone_checks

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from kinematics.arrays import Complexes, Floats
    from kinematics.project import Limit, Project, Room, ShutWant
    from kinematics.sweep import Sweep

SIDES = ("dx_at_least", "dx_at_most", "dy_at_least", "dy_at_most")
FINE = 6
"""Samples in each stretch between knots when a mark's furthest place is sought."""


def all_checks(
    project: Project,
    sweep: Sweep,
    opening: Opening,
    gaps: tuple[Gap, ...],
    figures: RoomFigures | None = None,
    transmission: Transmission | None = None,
    loads: LoadFigures | None = None,
) -> tuple[Check, ...]:
    """Every want of the project, compared. gaps : the file's first, in its order.     figures : of the room."""
    checks = [_opening_check(opening)]
    checks += [_gap_check(gap) for gap in gaps if gap.at_least is not None]
    shut_wants = ((gap, want.shut) for gap, want in zip(gaps, project.gaps, strict=False))
    checks += [_shut_check(gap, want) for gap, want in shut_wants if want is not None]
    ahead = side_ahead(project) if project.limits else 0
    checks += [
        _limit_check(project, sweep, limit, side, ahead)
        for limit in project.limits
        for side in SIDES
        if getattr(limit, side) is not None
    ]
    checks += _spacing_checks(project)
    checks += zone_checks(project)
    if project.transmission_at_least is not None:
        checks.append(_transmission_check(project.transmission_at_least, transmission))
    if project.loads is not None and project.loads.wants is not None and loads is not None:
        checks += lift_checks(project.loads.wants, loads, opening)
    if project.loads is not None and project.loads.stop is not None and loads is not None:
        checks.append(stop_check(project.loads.stop, loads, opening))
    if project.room is not None and figures is not None:
        checks += _room_checks(project, project.room, figures)
    return worst_first(checks)


def worst_first(checks: Iterable[Check]) -> tuple[Check, ...]:
    """Put checks in order."""
    return tuple(sorted(checks, key=lambda check: (check.ok, check.margin)))


def _opening_check(opening: Opening) -> Check:
    ok = opening.ends == "wanted opening"
    have = opening.reached_deg
    most = have if opening.ends == "device stop" else opening.largest_deg
    return Check("opening", (), opening.wanted_deg, have, ok, most - opening.wanted_deg, deg=have)


def _transmission_check(want: float, told: Transmission | None) -> Check:
    """The least transmission angle of all links, over the travel; no figure where no link has just two pins."""
    if told is None:
        return Check("transmission", (), want, None, False, -math.inf)
    margin = told.smallest_deg - want
    return Check("transmission", (told.link,), want, told.smallest_deg, margin >= -1e-9, margin, told.at_deg)


def _gap_check(gap: Gap) -> Check:
    want = float(gap.at_least or 0.0)
    if gap.smallest is None or gap.at_points is None:
        return Check("gap", gap.between, want, None, False, -math.inf, after_deg=gap.after_deg)
    (ax, ay), (bx, by) = gap.at_points
    place = (0.5 * (ax + bx), 0.5 * (ay + by))
    return Check(
        "gap",
        gap.between,
        want,
        gap.smallest,
        bool(gap.ok),
        gap.smallest - gap.uncertain - want,
        gap.at_deg,
        place,
        after_deg=gap.after_deg,
        uncertain=gap.uncertain,
    )


def _shut_check(gap: Gap, shut: ShutWant) -> Check:
    """The visible gap at shut; touching never meets a want of one."""
    least = shut.at_least or 0.0
    if gap.shut is None:
        return Check("shut gap", gap.between, least, None, False, -math.inf, most=shut.at_most)
    place = None
    if gap.shut_points is not None:
        (ax, ay), (bx, by) = gap.shut_points
        place = (0.5 * (ax + bx), 0.5 * (ay + by))
    low, high = gap.shut - gap.uncertain, gap.shut + gap.uncertain
    margin = low - least if shut.at_most is None else min(low - least, shut.at_most - high)
    ok = margin >= -1e-9 and low > 0.0
    most, uncertain = shut.at_most, gap.uncertain
    return Check("shut gap", gap.between, least, gap.shut, ok, margin, 0.0, place, most=most, uncertain=uncertain)


def _room_checks(project: Project, room: Room, figures: RoomFigures) -> list[Check]:
    """The way under the roof, and the height of the front edge, both at the worse end of what is traced."""
    checks = []
    top, off = figures.highest, moving_doubt(project)
    if room.roof is not None and top is not None:
        left = room.roof - top.y
        worst = left - off
        checks.append(Check("roof", (top.link,), 0.0, left, worst >= -1e-9, worst, top.deg, top.place, uncertain=off))
    if room.floor is not None and room.front_edge is not None and room.front_edge.at_least is not None:
        off = off if room.front_edge.mark is None else 0.0  # a mark is where it was put
        checks.append(_front_check(room.floor, room.front_edge.mark, room.front_edge.at_least, figures.front, off))
    return checks


def _front_check(floor: float, mark: str | None, want: float, front: Height | None, off: float) -> Check:
    subject = () if mark is None else (mark,)
    if front is None:
        return Check("front edge", subject, want, None, False, -math.inf)
    have = front.y - floor
    margin = have - off - want
    return Check("front edge", subject, want, have, margin >= -1e-9, margin, front.deg, front.place, uncertain=off)


def _limit_check(project: Project, sweep: Sweep, limit: Limit, side: str, ahead: int) -> Check:
    want, after = float(getattr(limit, side)), limit.after_deg
    subject = (limit.mark,)
    if after > math.degrees(sweep.reached) + 1e-9:
        return Check("limit", subject, want, None, False, -math.inf, side=side, after_deg=after, ahead=ahead)
    mark = next(mark for mark in project.marks if mark.id == limit.mark)
    spot, at = sweep.closure.spots([(mark.on, mark.at)]), complex(*mark.at) - sweep.closure.centre
    way = (1.0 if side.endswith("least") else -1.0) * (1.0 if side.startswith("dx") else -1j)

    def places(y: Floats) -> Complexes:
        return spot.places(np.exp(1j * sweep.link_turns(y)))[:, 0]

    def moved(y: Floats) -> Floats:
        """How far the mark has moved, counted so that less is worse."""
        return np.asarray((way * (places(y) - at)).real)

    arc, value = _furthest(sweep, limit.after_deg, moved)
    y = sweep.at_arcs(np.array([arc]))
    z = complex(places(y)[0]) + sweep.closure.centre
    have = value if side.endswith("least") else -value
    margin = have - want if side.endswith("least") else want - have
    deg = math.degrees(sweep.sign * float(y[0, sweep.panel])) if sweep.reached > 0.0 else 0.0
    place = (z.real, z.imag)
    return Check("limit", subject, want, have, margin >= -1e-9, margin, deg, place, side, after, None, ahead)


def _furthest(sweep: Sweep, after_deg: float, moved: Callable[[Floats], Floats]) -> tuple[float, float]:
    """Place along the branch, and value, of the least of moved(turns) from an opening on."""
    if sweep.reached <= 0.0:
        return 0.0, float(moved(np.zeros((1, sweep.closure.unknowns)))[0])
    arcs = sweep.fine_arcs(after_deg, FINE)

    def close(places: Floats) -> Floats:
        return moved(sweep.branch.cubic(places))

    return lowest(arcs, close(arcs), close, lambda places: moved(sweep.at_arcs(places)))


def _spacing_checks(project: Project) -> list[Check]:
    """For every link that has a width, its two nearest pins."""
    checks = []
    for link in project.links:
        pins = [pivot for pivot in project.pivots if link.id in pivot.joins]
        if link.width <= 0.0 or len(pins) < 2:
            continue
        pairs = [(a, b) for i, a in enumerate(pins) for b in pins[i + 1 :]]
        first, second = min(pairs, key=lambda pair: math.dist(pair[0].at, pair[1].at))
        have = math.dist(first.at, second.at)
        place = (0.5 * (first.at[0] + second.at[0]), 0.5 * (first.at[1] + second.at[1]))
        margin = have - project.pin_spacing
        subject = (link.id, first.id, second.id)
        checks.append(Check("pin spacing", subject, project.pin_spacing, have, margin >= -1e-9, margin, 0.0, place))
    return checks


def strength_checks(project: Project, told: StrengthFigures | None) -> list[Check]:
    """Of every pin, and of every link by itself, the way in which it comes nearest to failing."""
    if told is None or project.strength is None:
        return []
    if told.untold:
        return [Check("strength", (), project.strength.factor, None, False, -math.inf)]
    return [_strength_check(told.figures[place]) for place in told.worst]


def _strength_check(figure: Utilised) -> Check:
    subject = (figure.pivot, figure.link) if figure.pivot and figure.link else (figure.pivot or figure.link,)
    margin = -math.inf if figure.have is None else figure.have - figure.want
    return Check(
        "strength",
        subject,
        figure.want,
        figure.have,
        margin >= -1e-9,
        margin,
        figure.deg,
        figure.place,
        side=figure.mode,
    )
