"""Sideways: how far the front edge can be swayed across the body, as the pins have play in their bushings.

Terms. A hole is wider than its pin by the *play* c (`sureness.play`) and so long as its *bushing* (or plate), L. In it
the pin can *tilt* by c/L from straight, until it bears at both ends of the hole. Each joint so gives a little, and the
front edge *sways* by what all of them together allow: this way or that.

Model. All links are rigid, all moves small. Each link moves by u + ω × p (six numbers) at a point p. At either end of a
joint's hole, z0 ± L/2, the one link may lie off the other in the plane by c/2, any way; along the pin it can't, as
washers hold it. The fixed link stands still, and a hand or prop holds the panel's opening. What is asked for, the
panel's move across the body at its front edge, is then the largest value of a linear function under these bounds: a
linear programme, with each round bound as a polygon about the circle (so that it says up to 1 % too much, never too
little). Two hinges, so far apart, are two such linkages on one panel, which holds them to each other: then it can't
turn out of its plane by more than play allows over their distance, and what is left is mostly that all links lean.

Sway grows evenly with play. Bending of links, mounts and panel isn't in it. Source: small-displacement rigid-body
kinematics, any text (from memory); the rest derives.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from kinematics.headroom import front_edge
from kinematics.joints import joint_by_pivot

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kinematics.analysis import Analysis
    from kinematics.arrays import Floats
    from kinematics.project import Point
    from kinematics.results import Pose

SIDES = 24
"""Sides of the polygons about the circles of play: 1/cos(180°/24) is 1.0086."""


@dataclass(frozen=True, slots=True)
class Hole:
    """A joint of two links, by their columns (−1: the fixed link), where it stands (mm), and the length of its hole."""

    first: int
    second: int
    at: Point
    length: float


@dataclass(frozen=True, slots=True)
class Sway:
    """How far the front edge sways either way (mm) at an opening (deg): on one hinge, and on two; None: not known."""

    deg: float
    one: float | None
    two: float | None


@dataclass(frozen=True, slots=True)
class Sideways:
    """Tilts (deg, either way) by pivot, sways when shut and at the opening reached; link and shut place of the front
    edge; the play (mm) behind it all.
    """

    tilts: tuple[tuple[str, float], ...]
    sways: tuple[Sway, ...]
    front: tuple[str, Point] | None
    play: float


@lru_cache(maxsize=2)
def sideways(analysis: Analysis) -> Sideways | None:
    """Tilts and sways of a project that has strength and play; else None."""
    project = analysis.project
    play = 0.0 if project.sureness is None else project.sureness.play
    joints = joint_by_pivot(project)
    if not joints or play <= 0.0:
        return None
    tilts = tuple((pivot, math.degrees(math.atan(play / made.stack[0]))) for pivot, made in joints.items())
    front = front_edge(project)
    if front is None or front[0] != project.panel.id or analysis.mobility != 1 or analysis.state != "moves":
        return Sideways(tilts, (), front, play)
    spacing = None if project.loads is None or project.loads.hinges < 2 else project.loads.spacing
    degs = dict.fromkeys((0.0, analysis.opening.reached_deg))
    sways = tuple(_sway(analysis, analysis.pose(deg), front, play, spacing) for deg in degs)
    return Sideways(tilts, sways, front, play)


def _sway(analysis: Analysis, pose: Pose, front: tuple[str, Point], play: float, spacing: float | None) -> Sway:
    """What the front edge sways at a pose."""
    column = analysis.links.index(front[0])
    at = pose.place(column, front[1])
    holes, count = holes_at(analysis, pose)
    one = largest_sway(holes, count, at, play, (0.0,))
    two = None if spacing is None else largest_sway(holes, count, at, play, (-0.5 * spacing, 0.5 * spacing))
    return Sway(pose.deg, one, two)


def holes_at(analysis: Analysis, pose: Pose) -> tuple[list[Hole], int]:
    """The joints at a pose, and how many links move; the panel is the first of them."""
    project, links = analysis.project, analysis.links
    order = [project.panel.id, *(link.id for link in project.links if link.kind == "link")]
    number = {id: place for place, id in enumerate(order)} | {project.fixed.id: -1}
    found = []
    for pivot in project.pivots:
        made = joint_by_pivot(project)[pivot.id]
        at = pose.place(links.index(pivot.joins[0]), pivot.at)
        found += [Hole(number[made.outer], number[link], at, made.stack[0]) for link in made.inner]
    return found, len(order)


def largest_sway(holes: Sequence[Hole], count: int, at: Point, play: float, stations: Sequence[float]) -> float | None:
    """The largest move (mm) of the panel (link 0) along z at a point, on one hinge at each station (z, mm).

    count : links that move in one hinge, the panel among them.   None where it has no bound, or nothing is found.
    """
    from scipy.optimize import linprog  # noqa: PLC0415  slow to load, and never asked for in a drag

    size = max(math.hypot(*hole.at) for hole in holes) or 1.0
    unknowns = 6 * (1 + (count - 1) * len(stations))
    below, even = [], []
    for station, z in enumerate(stations):
        for hole in holes:
            columns = [_first(link, station, count) for link in (hole.first, hole.second)]
            for end in (z - 0.5 * hole.length, z + 0.5 * hole.length):
                below.append(_apart(columns, (*hole.at, end), unknowns, size)[:2])
            even.append(_apart(columns, (*hole.at, z), unknowns, size)[2])
    turn = np.arange(SIDES) * (2.0 * math.pi / SIDES)
    ways = np.stack([np.cos(turn), np.sin(turn)], axis=1)
    bounds = np.concatenate([ways @ rows for rows in below])
    held = np.zeros((1, unknowns))
    held[0, 5] = 1.0  # the panel's opening
    wanted = _apart([None, 0], (*at, 0.0), unknowns, size)[2]
    found = linprog(
        -wanted,
        A_ub=bounds,
        b_ub=np.full(len(bounds), 0.5),
        A_eq=np.vstack([*even, held]),
        b_eq=np.zeros(len(even) + 1),
        bounds=(None, None),
        method="highs",
    )
    return None if found.status != 0 or found.fun is None else -float(found.fun) * play


def _first(link: int, station: int, count: int) -> int | None:
    """Where a link's six unknowns begin; None for the fixed link. The panel is one for all hinges."""
    if link < 0:
        return None
    return 0 if link == 0 else 6 * (1 + station * (count - 1) + link - 1)


def _apart(columns: Sequence[int | None], at: tuple[float, float, float], unknowns: int, size: float) -> Floats:
    """(3, unknowns) by how much a point moves more with the second link than with the first, per unknown.

    Unknowns are u/play and ω·size/play, so that all have about one size.
    """
    x, y, z = (value / size for value in at)
    moves = np.array(
        [[1.0, 0.0, 0.0, 0.0, z, -y], [0.0, 1.0, 0.0, -z, 0.0, x], [0.0, 0.0, 1.0, y, -x, 0.0]]
    )  # u + ω × p
    rows = np.zeros((3, unknowns))
    for column, sign in zip(columns, (-1.0, 1.0), strict=True):
        if column is not None:
            rows[:, column : column + 6] += sign * moves
    return rows
