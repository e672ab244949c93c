"""Loop closure: where every link stands when some of them have turned.

Terms. A link that has turned by θ carries each of its shut points p to d + e·p, with e = exp(iθ) and a *shift* d (mm,
complex). Walk from the fixed link over the pivots: each new link hangs on one already reached, and its shift follows
from the pivot that they share, d_k = d_j + (e_j − e_k)·P. So every shift is a fixed linear function of the e's. A pivot
that leads back to a link already reached closes a *loop*: two links claim the same point, and the *residual* is how far
their claims differ (mm, complex, zero when the linkage is whole). It is linear in the e's too:

    residual = loops @ e            (poses, loops),  e of the fixed link being 1

which makes the Jacobian `i · loops · e`, the same for all linkages with pin joints: no linkage is special. Turns are
the only unknowns. Coordinates are taken from the middle of the pivots, so that a sheet drawn far from the origin
costs no digits.

Links that can't be reached from the fixed link (not joined, or joined only among themselves) keep their shut place
here.

Source: loop-closure equations in complex form, R. L. Norton, Design of Machinery, ch. 4 (from memory); the rest
derives.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import Bools, Complexes, Floats, Ints, as_complex

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kinematics.project import Project


@dataclass(frozen=True, slots=True)
class Joint:
    """Two links on one pivot: their columns and the pivot's place among the project's pivots."""

    first: int
    second: int
    pivot: int


@dataclass(frozen=True, slots=True, eq=False)
class Walk:
    """The way from a base link over joints.

    parent : (links,) column of the link on which each one hangs; −1 for the base and for what isn't reached.
    steps : (from link, to link, joint) in order.   closing : joints that lead back.
    """

    base: int
    parent: Ints
    steps: tuple[tuple[int, int, int], ...]
    closing: tuple[int, ...]

    @property
    def reached(self) -> Bools:
        """(links,) True for the base and all that hangs on it."""
        return np.asarray((self.parent >= 0) | (np.arange(len(self.parent)) == self.base))


@dataclass(frozen=True, slots=True, eq=False)
class Spots:
    """Points that ride on links: each stands at a fixed linear function of the links' e's.

    links : (m,) column of each one's link.   rows : (m, links) complex, mm: place = rows @ e, from `Closure.centre`.
    """

    links: Ints
    rows: Complexes

    def places(self, e: Complexes) -> Complexes:
        """(poses, links) e → (poses, m) places, mm, from the closure's centre."""
        return np.asarray(e @ self.rows.T)

    def rates(self, e: Complexes, turns: Floats) -> Complexes:
        """(poses, links) e and turn rates → (poses, m) mm per unit of the rates."""
        return np.asarray((1j * e * turns) @ self.rows.T)

    def efforts(self, e: Complexes, forces: Complexes) -> Floats:
        """(poses, m) forces at the points → (poses, links) what they do per rad of each link's turn, N·mm."""
        return np.asarray((1j * e * (forces.conj() @ self.rows)).real)


@dataclass(frozen=True, slots=True, eq=False)
class Closure:
    """The linear maps of one linkage.

    Attributes
    ----------
    links : ids in the project's order; every column below follows it.
    fixed, panel : columns of the fixed link and the panel.
    places : (pivots,) complex, mm, from `centre`.
    joints : one for each pivot and link beyond its first.   walk : from the fixed link.
    shift_map : (links, links) complex, mm: shift = shift_map @ e, in coordinates from `centre`.
    loops : (loops, links) complex, mm: residual = loops @ e.
    centre : complex, mm. size : mm, the reach of the pivots, by which angles are scaled into lengths.
    group : (links,) which unknown each link turns with; 0 is the fixed link's, whose turn stays 0.
    """

    links: tuple[str, ...]
    fixed: int
    panel: int
    places: Complexes
    joints: tuple[Joint, ...]
    walk: Walk
    shift_map: Complexes
    loops: Complexes
    centre: complex
    size: float
    group: Ints

    @property
    def parent(self) -> Ints:
        """(links,) column of the link on which each one hangs."""
        return self.walk.parent

    @property
    def reached(self) -> Bools:
        """(links,) True for the links joined, directly or not, to the fixed link."""
        return self.walk.reached

    @property
    def unknowns(self) -> int:
        """How many turns are unknown."""
        return int(self.group.max(initial=0))

    def spots(self, points: Sequence[tuple[str, tuple[float, float]]]) -> Spots:
        """Points given as (link id, shut place)."""
        links = np.array([self.links.index(link) for link, _ in points], dtype=np.intp)
        rows = self.shift_map[links].copy()
        rows[np.arange(len(links)), links] += as_complex(at for _, at in points) - self.centre
        return Spots(links, rows)

    def with_groups(self, group: Ints) -> Closure:
        """The same linkage with some links held together: equal numbers turn as one."""
        return replace(self, group=group)

    def grouped_loops(self) -> Complexes:
        """(rows, 1 + unknowns) loops by unknown, without the rows that hold by themselves."""
        return self.by_group(self.loops)[self.lively]

    @property
    def lively(self) -> Bools:
        """(loops,) which loops say anything about the unknowns."""
        return np.asarray(np.abs(self.by_group(self.loops)[:, 1:]).max(axis=1, initial=0.0) > 1e-12 * self.size)

    def by_group(self, rows: Complexes) -> Complexes:
        """(rows, links) → (rows, 1 + unknowns): the columns of links that turn as one, added up."""
        columns = np.zeros((len(rows), self.unknowns + 1), dtype=np.complex128)
        np.add.at(columns.T, self.group, rows.T)
        return columns

    def link_turns(self, unknown_turns: Floats) -> Floats:
        """(…, unknowns) → (…, links) turns in rad."""
        padded = np.concatenate([np.zeros((*unknown_turns.shape[:-1], 1)), unknown_turns], axis=-1)
        return np.asarray(padded[..., self.group])

    def shifts(self, turns: Floats) -> Complexes:
        """(poses, links) turns in rad → (poses, links) shifts, mm, in the project's own coordinates."""
        e = np.exp(1j * turns)
        return np.asarray(e @ self.shift_map.T + self.centre * (1.0 - e))

    def residual(self, turns: Floats) -> Complexes:
        """(poses, links) turns → (poses, loops) mm."""
        return np.asarray(np.exp(1j * turns) @ self.loops.T)


def build(project: Project) -> Closure:
    """The closure of a project's links and pivots, each link its own unknown."""
    links = tuple(link.id for link in project.links)
    column = {name: k for k, name in enumerate(links)}
    fixed, panel = column[project.fixed.id], column[project.panel.id]
    joints = tuple(
        Joint(column[pivot.joins[0]], column[other], index)
        for index, pivot in enumerate(project.pivots)
        for other in pivot.joins[1:]
    )
    places = as_complex(pivot.at for pivot in project.pivots)
    centre = complex(places.mean()) if len(places) else 0j
    size = float(np.abs(places - centre).max()) if len(places) else 0.0
    walk = walk_from(fixed, len(links), joints)
    places = places - centre
    ends = places[np.array([joint.pivot for joint in joints], dtype=np.intp)]
    shift_map, loops = maps(walk, joints, ends, ends)
    group = own_groups(walk)
    return Closure(links, fixed, panel, places, joints, walk, shift_map, loops, centre, max(size, 1e-9), group)


def walk_from(base: int, count: int, joints: tuple[Joint, ...]) -> Walk:
    """Reach links over joints, nearest to the base first."""
    parent = np.full(count, -1, dtype=np.intp)
    seen, steps, queue = {base}, [], [base]
    while queue:
        at = queue.pop(0)
        for index, joint in enumerate(joints):
            other = joint.second if joint.first == at else joint.first if joint.second == at else at
            if other not in seen:
                parent[other] = at
                seen.add(other)
                steps.append((at, other, index))
                queue.append(other)
    used = {index for _, _, index in steps}
    closing = tuple(k for k, joint in enumerate(joints) if k not in used and joint.first in seen)
    return Walk(base, parent, tuple(steps), closing)


def maps(walk: Walk, joints: tuple[Joint, ...], first: Complexes, second: Complexes) -> tuple[Complexes, Complexes]:
    """(links, links) shift map and (loops, links) loops for the places at which joints sit on their two links.

    first, second : (joints,) the joint's place in the shut coordinates of its first and of its second link. Both
    results are linear in them, so places of 1 and 0 give derivatives.
    """
    count = len(walk.parent)
    shift_map = np.zeros((count, count), dtype=np.complex128)
    for at, other, index in walk.steps:
        here, there = (first, second) if joints[index].first == at else (second, first)
        shift_map[other] = shift_map[at]
        shift_map[other, at] += here[index]
        shift_map[other, other] -= there[index]
    loops = np.zeros((len(walk.closing), count), dtype=np.complex128)
    for row, index in enumerate(walk.closing):
        joint = joints[index]
        loops[row] = shift_map[joint.first] - shift_map[joint.second]
        loops[row, joint.first] += first[index]
        loops[row, joint.second] -= second[index]
    return shift_map, loops


def own_groups(walk: Walk) -> Ints:
    """Every reached link its own unknown, 1, 2, …; the base and the unreached stay with 0."""
    group = np.zeros(len(walk.parent), dtype=np.intp)
    moving = np.flatnonzero(walk.parent >= 0)
    group[moving] = np.arange(1, len(moving) + 1)
    return group
