"""Mobility: how many ways a linkage can move, and what of it moves the panel.

The count 3(n − 1) − 2j is a guess: parallel cranks move though it says 0. What counts is the rank of the Jacobian, and
at shut alone even the rank can lie (a braced parallelogram seems free for an instant). So the linkage is really moved a
little, in two directions, by Gauss-Newton under the condition that it goes some way; the rank is taken there.

Terms. *Locked*: the panel can't move. *Loose*: its turn doesn't determine where it is. *Slides*: it moves but doesn't
turn at shut. *Moves*: its opening determines its place. Links that could move while the panel stands still *hang
free*; each is held at its shut turn relative to the link on which it hangs, so that the rest has just one motion.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from kinematics.closure import Closure, build, maps, own_groups, walk_from

if TYPE_CHECKING:
    from kinematics.arrays import Floats, Ints
    from kinematics.project import Project

RANK_TOLERANCE = 1e-7
"""Singular values below this share of the linkage's size count as zero (rank at a moved pose, solved to 1e-12)."""
ALIKE = 1e-9
"""Two links don't part when they carry the plane alike to this (rad, and shares of the size, per rad of motion)."""
STEPS = (0.06, 0.015, 0.004)
"""How far (rad, over all turns) the linkage is moved to see whether it really moves; the first that closes counts."""


@dataclass(frozen=True, slots=True, eq=False)
class Freedom:
    """What can move.

    Attributes
    ----------
    mobility : number of independent motions of all links, those that hang free or are not joined included.
    state : "moves", "slides", "locked" or "loose", said of the panel.
    closure : the linkage with the free links held, one unknown a group.
    free : ids of links that hang free.   unjoined : ids of links with no way to the fixed link.
    still : ids of the links that can't move though they are joined.
    """

    mobility: int
    state: str
    closure: Closure
    free: tuple[str, ...]
    unjoined: tuple[str, ...]
    still: tuple[str, ...]


def freedom(project: Project) -> Freedom:
    """How a project's linkage can move."""
    closure = build(project)
    poses = _moved_poses(closure)
    pose, motions = _least_free(closure, poses)
    count = motions.shape[1] + _unjoined_mobility(closure)
    unjoined = tuple(name for name, reached in zip(closure.links, closure.reached, strict=True) if not reached)
    still = _still(closure, _fields(closure, pose, motions))
    panel_rank, held = _hold_free_links(closure, pose, motions)
    free = tuple(closure.links[k] for k in held.free)
    if not closure.reached[closure.panel] or panel_rank > 1:
        return Freedom(count, "loose", closure, free, unjoined, still)
    if panel_rank == 0:
        return Freedom(count, "locked", closure, free, unjoined, still)
    reduced = closure.with_groups(_with_trusses(closure, held.group, poses))
    state = "moves" if abs(shut_tangent(reduced)[reduced.group[closure.panel] - 1]) > 1e-9 else "slides"
    return Freedom(count, state, reduced, free, unjoined, still)


def shut_tangent(closure: Closure) -> Floats:
    """(unknowns,) unit direction in which the turns can set out from shut; the loosest one where there are more."""
    motions = null_space(jacobian(closure, np.zeros(closure.unknowns)), closure.size)
    if motions.shape[1] == 0:
        return np.zeros(closure.unknowns)
    group = closure.group[closure.panel]
    if motions.shape[1] == 1 or group == 0:
        return np.asarray(motions[:, 0])
    lean = motions @ motions[group - 1]
    norm = float(np.linalg.norm(lean))
    return np.asarray(lean / norm if norm > 1e-9 else motions[:, 0])


def jacobian(closure: Closure, turns: Floats) -> Floats:
    """(2·loops, unknowns) mm per rad: how the residual's x and y change with each unknown turn."""
    loops = closure.grouped_loops()[:, 1:]
    rows = 1j * loops * np.exp(1j * turns)
    return np.concatenate([rows.real, rows.imag])


def null_space(matrix: Floats, size: float) -> Floats:
    """(columns, k) orthonormal directions that the matrix takes to nothing, at the scale of the linkage."""
    if matrix.shape[1] == 0 or matrix.shape[0] == 0:
        return np.eye(matrix.shape[1])
    _, values, directions = np.linalg.svd(matrix, full_matrices=True)
    rank = int((values > RANK_TOLERANCE * size).sum())
    return np.asarray(directions[rank:].T)


def _moved_poses(closure: Closure) -> list[Floats]:
    """Poses (unknown turns) a little way from shut where the rank tells the truth; shut itself where nothing moves."""
    shut = np.zeros(closure.unknowns)
    motions = null_space(jacobian(closure, shut), closure.size)
    if motions.shape[1] == 0:
        return [shut]
    mix = np.random.default_rng(7).normal(size=(2, motions.shape[1]))
    found = []
    for way in (*mix, *-mix):
        pose = _moved(closure, motions @ (way / np.linalg.norm(way)))
        if pose is not None:
            found.append(pose)
        if len(found) == 2:
            break
    return found


def _moved(closure: Closure, way: Floats) -> Floats | None:
    """A pose some way along `way` at which all loops close, by Gauss-Newton; None if there is none."""
    loops = closure.grouped_loops()
    for step in STEPS:
        turns = step * way
        for _ in range(12):
            closing = loops[:, 1:] @ np.exp(1j * turns) + loops[:, 0]
            lack = np.concatenate([closing.real, closing.imag]) / closure.size
            if np.abs(lack).max(initial=0.0) < 1e-13:
                return turns
            rows = np.vstack([jacobian(closure, turns) / closure.size, way])
            lack = np.append(lack, way @ turns - step)
            turns = turns - np.linalg.lstsq(rows, lack, rcond=1e-10)[0]
            if np.abs(turns).max() > 1.0:
                break
        if np.abs(lack).max(initial=0.0) < 1e-11:
            return turns
    return None


def _least_free(closure: Closure, poses: list[Floats]) -> tuple[Floats, Floats]:
    """The moved pose with the fewest motions, and these (unknowns, k); shut and none where no pose could be reached."""
    spaces = [null_space(jacobian(closure, pose), closure.size) for pose in poses]
    if not spaces:
        return np.zeros(closure.unknowns), np.zeros((closure.unknowns, 0))
    best = min(range(len(spaces)), key=lambda k: spaces[k].shape[1])
    return poses[best], spaces[best]


def _link_rows(closure: Closure, motions: Floats) -> Floats:
    """(links, k) turn rates of every link under each motion."""
    return np.vstack([np.zeros((1, motions.shape[1])), motions])[closure.group]


def _fields(closure: Closure, pose: Floats, motions: Floats) -> Floats:
    """(links, 3·k) how each link carries the plane under each motion; links with the same field don't part."""
    e = np.exp(1j * closure.link_turns(pose))
    turns = _link_rows(closure, motions)
    shifts, moved = closure.shift_map @ e, 1j * (closure.shift_map * e) @ turns
    drifts = (moved - 1j * turns * shifts[:, None]) / closure.size
    return np.concatenate([turns, drifts.real, drifts.imag], axis=1)


def _still(closure: Closure, fields: Floats) -> tuple[str, ...]:
    """Links that are joined to the fixed one but neither turn nor shift under any motion."""
    joined = [k for k in range(len(closure.links)) if closure.reached[k] and k != closure.fixed]
    return tuple(closure.links[k] for k in joined if np.abs(fields[k]).max(initial=0.0) <= ALIKE)


def _with_trusses(closure: Closure, group: Ints, poses: list[Floats]) -> Ints:
    """The groups once links that never part, as those of a truss, turn as one: their own loops then say nothing."""
    group = group.copy()
    spaces = [null_space(jacobian(closure, pose), closure.size) for pose in poses]
    fields = np.concatenate([_fields(closure, pose, space) for pose, space in zip(poses, spaces, strict=True)], axis=1)
    for k in np.flatnonzero(closure.reached):
        alike = np.flatnonzero(closure.reached & (np.abs(fields - fields[k]).max(axis=1, initial=0.0) <= ALIKE))
        first = group[alike].min()
        group[np.isin(group, group[alike])] = first
    return _numbered(group)


def _numbered(group: Ints) -> Ints:
    """The same groups as 0, 1, 2, … without gaps."""
    return np.unique(group, return_inverse=True)[1].astype(np.intp)


def _rates(closure: Closure, link: int, pose: Floats, motions: Floats) -> Floats:
    """(3, k) a link's turn rate and, scaled to angles, its shift rates under each motion."""
    e = np.exp(1j * closure.link_turns(pose))
    rows = _link_rows(closure, motions)
    rates = 1j * (closure.shift_map[link] * e) @ rows / closure.size
    return np.vstack([rows[link], rates.real, rates.imag])


@dataclass(frozen=True, slots=True, eq=False)
class _Held:
    group: Ints
    free: tuple[int, ...]


def _hold_free_links(closure: Closure, pose: Floats, motions: Floats) -> tuple[int, _Held]:
    """Rank of the panel's motion, and the groups once every free link is held to the one it hangs on."""
    panel = _rates(closure, closure.panel, pose, motions)
    rank = int(np.linalg.matrix_rank(panel, tol=1e-7)) if motions.shape[1] else 0
    apart = motions @ null_space(panel, 1.0) if motions.shape[1] else motions
    rows = _link_rows(closure, apart)
    free = tuple(int(k) for k in np.flatnonzero(np.abs(rows).max(axis=1, initial=0.0) > 1e-7))
    group, chosen = closure.group.copy(), np.zeros((0, apart.shape[1]))
    for k in _outwards(closure, free):
        trial = np.vstack([chosen, rows[k] - rows[closure.parent[k]]])
        if np.linalg.matrix_rank(trial, tol=1e-7) > len(chosen):
            chosen = trial
            group[group == group[k]] = group[closure.parent[k]]
    return rank, _Held(_numbered(group), free)


def _outwards(closure: Closure, links: tuple[int, ...]) -> list[int]:
    """Links in the order of the walk from the fixed link, so that each is held to one already dealt with."""

    def depth(k: int) -> int:
        return 0 if closure.parent[k] < 0 else 1 + depth(int(closure.parent[k]))

    return sorted(links, key=depth)


def _unjoined_mobility(closure: Closure) -> int:
    """Motions of the links that nothing joins to the fixed link: three a part, and what moves within it."""
    left = {k for k in range(len(closure.links)) if not closure.reached[k]}
    count = 0
    while left:
        walk = walk_from(min(left), len(closure.links), closure.joints)
        left -= set(np.flatnonzero(walk.reached).tolist())
        ends = np.array([closure.places[joint.pivot] for joint in closure.joints])
        shift_map, loops = maps(walk, closure.joints, ends, ends)
        part = replace(closure, walk=walk, shift_map=shift_map, loops=loops, group=own_groups(walk))
        count += 3 + _least_free(part, _moved_poses(part))[1].shape[1]
    return count
