"""Contact: over which stretches of the sweep two bodies touch.

Whether they touch at one pose GEOS decides (lines within both pens' radii, or inside a solid). Between poses that can
change only where some vertex's path comes to some edge. Those *events* are found from meetings that come within the
radii, and cut shorter until each lies in a cell of the branch narrower than CELL; between cells the state holds, so
one pose decides for all.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
import shapely

from kinematics.meetings import crossing, meetings, met, sharpen
from kinematics.nearness import close_edges, forest
from kinematics.stretches import course_of, pairs_of, whole

if TYPE_CHECKING:
    import numpy.typing as npt

    from kinematics.arrays import Bools, Complexes, Floats
    from kinematics.bodies import Body
    from kinematics.branch import Branch
    from kinematics.meetings import Meetings, Met
    from kinematics.stretches import Course, Stretches
    from kinematics.sweep import Sweep

CELL = 1e-5
"""Width (rad of arc) to which an event is narrowed: less than 0.001° of opening."""
LOOKS = 17
"""Poses that are looked at in a stretch with too many events to follow them."""
PARTS = 8
"""Into so many parts an undecided stretch is cut."""
TOUCH = 1e-9
"""mm within which two bodies count as touching."""

Geometries: TypeAlias = "npt.NDArray[np.object_]"
"""Shapely geometries, (n,)."""
Couple: TypeAlias = "tuple[Body, Body]"
"""Two bodies that are watched."""


@dataclass(frozen=True, slots=True, eq=False)
class Cells:
    """Places along the branch where the state may change: (n,) starts and ends, in order, none overlapping."""

    starts: Floats
    ends: Floats


def touching(sweep: Sweep, branch: Branch, couple: Couple) -> list[tuple[float, float]]:
    """Stretches (arcs of the fine branch) over which two bodies touch, ascending; a mere touch has no length."""
    last = float(branch.arcs[-1])
    at_start, at_end = touch_at(sweep, branch, couple, np.array([0.0, last])).tolist()
    cells = _cells(course_of(sweep, branch, pairs_of(sweep, [couple])), couple)
    edges = np.concatenate([[0.0], np.stack([cells.starts, cells.ends], axis=1).ravel(), [last]])
    starts, ends = edges[0::2], edges[1::2]
    real = ends - starts > 0.0
    state = np.zeros(len(starts), dtype=np.bool_)
    state[real] = touch_at(sweep, branch, couple, 0.5 * (starts + ends)[real])
    # A cell at the very start or end leaves no room beside it: there the pose itself decides.
    state[0] = state[0] if real[0] else at_start
    state[-1] = state[-1] if real[-1] else at_end
    ranges = _ranges(state, starts, ends)
    if at_start:
        first = ranges.pop(0)[1] if ranges and ranges[0][0] <= CELL else 0.0
        ranges.insert(0, (0.0, first))
    if at_end:
        before = ranges.pop()[0] if ranges and ranges[-1][1] >= last - CELL else last
        ranges.append((before, last))
    return ranges


def _ranges(state: Bools, starts: Floats, ends: Floats) -> list[tuple[float, float]]:
    """Join what touches on both sides of a cell; a cell between two free parts is a mere touch."""
    ranges: list[tuple[float, float]] = []
    for k, touches in enumerate(state):
        border = 0.5 * (ends[k - 1] + starts[k]) if k else 0.0
        after = 0.5 * (ends[k] + starts[k + 1]) if k + 1 < len(state) else ends[k]
        if touches and k and state[k - 1]:
            ranges[-1] = (ranges[-1][0], float(after))
        elif touches:
            ranges.append((float(border), float(after)))
        elif k and not state[k - 1]:
            ranges.append((float(border), float(border)))
    return ranges


def _cells(course: Course, couple: Couple) -> Cells:
    """Where the state may change."""
    trees, cuts = forest([couple]), whole(course)
    within = couple[0].radius + couple[1].radius
    found: list[tuple[Floats, Floats]] = []

    def undecided(those: Meetings, cuts: Stretches, distances: Met) -> Bools:
        # Where two edges cross all along, or stay as near as the pens reach, or upon each other (as links on one pin
        # do), no event changes anything.
        ends = np.maximum(distances.start, distances.end)
        upon = (ends <= within + TOUCH) & (distances.high - ends - cuts.slack[those.rows, 0] <= TOUCH)
        sure = np.zeros(len(cuts.starts), dtype=np.bool_)
        sure[those.rows[upon | (distances.high <= within - TOUCH) | crossing(trees, cuts, those)]] = True
        events = (distances.low <= within + TOUCH) & ~sure[those.rows]
        narrow = cuts.ends[those.rows] - cuts.starts[those.rows] <= CELL
        done = np.unique(those.rows[events & narrow])
        found.append((cuts.starts[done], cuts.ends[done]))
        return events & ~narrow

    those = meetings(close_edges(trees, cuts, np.array([within + TOUCH])))
    for left, shortest in sharpen(course, trees, cuts, those, met(trees, cuts, those), PARTS, undecided):
        rest = np.unique(left.rows)
        found.append(_changes(course, couple, shortest.starts[rest], shortest.ends[rest]))
    return _merged(found)


def _changes(course: Course, couple: Couple, starts: Floats, ends: Floats) -> tuple[Floats, Floats]:
    """Cells about the changes of state within stretches that have too many events to follow, by looking at poses."""

    def touch(arcs: Floats) -> Bools:
        return touch_at(course.sweep, course.branch, couple, arcs.ravel()).reshape(arcs.shape)

    places = starts[:, None] + (ends - starts)[:, None] * np.linspace(0.0, 1.0, LOOKS)
    state = touch(places)
    changed = state[:, 1:] != state[:, :-1]
    low, high, first = places[:, :-1][changed], places[:, 1:][changed], state[:, :-1][changed]
    while len(low) and (high - low).max() > CELL:
        middle = 0.5 * (low + high)
        same = touch(middle) == first
        low, high = np.where(same, middle, low), np.where(same, high, middle)
    return low, high


def _merged(found: list[tuple[Floats, Floats]]) -> Cells:
    """Cells in order, neighbours that meet made one."""
    if not any(len(starts) for starts, _ in found):
        return Cells(np.zeros(0), np.zeros(0))
    starts, ends = (np.concatenate(side) for side in zip(*found, strict=True))
    order = np.argsort(starts)
    starts, ends = starts[order], np.maximum.accumulate(ends[order])
    apart = np.append(True, starts[1:] > ends[:-1] + 1e-12)
    lasts = np.append(np.flatnonzero(apart)[1:] - 1, len(starts) - 1)
    return Cells(starts[apart], ends[lasts])


def touch_at(sweep: Sweep, branch: Branch, couple: Couple, arcs: Floats) -> Bools:
    """Whether two bodies touch at each of some places along the branch."""
    if len(arcs) == 0:
        return np.zeros(0, dtype=np.bool_)
    a, b = couple
    still = a.geometry()
    shapely.prepare(still)
    return np.asarray(shapely.dwithin(still, _carried(sweep, branch, couple, arcs), a.radius + b.radius + TOUCH))


def _carried(sweep: Sweep, branch: Branch, couple: Couple, arcs: Floats) -> Geometries:
    """(n,) geometries of the second body in the frame of the first at places along the branch."""
    a, b = couple
    y = branch.at(arcs)
    turns, shifts = sweep.link_turns(y), sweep.shifts(y)
    back = np.exp(-1j * turns[:, a.column])
    turn = np.exp(1j * turns[:, b.column]) * back
    apart = (shifts[:, b.column] - shifts[:, a.column]) * back
    return geometries(b, apart[:, None] + turn[:, None] * b.tails)


def geometries(body: Body, points: Complexes) -> Geometries:
    """(n,) GEOS geometries of a body whose vertices stand at points (n, vertices)."""
    flat = np.stack([points.real, points.imag], axis=-1)
    if points.shape[1] == 1:
        return np.asarray(shapely.points(flat[:, 0]))
    if body.loose:
        return np.asarray(shapely.multipoints(flat))
    if body.solid:
        return np.asarray(shapely.polygons(shapely.linearrings(flat)))
    return np.asarray(shapely.linestrings(flat))
