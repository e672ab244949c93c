"""Curves that meet end to end become one.

Draughting programs save an outline as loose lines and arcs in any order and direction. Ends that lie within a tolerance
of each other form a *node*. Where exactly two ends meet, their curves are joined; where three or more meet, the way on
would be a guess, so all of them end there. Only curves of one layer are joined.

Joining runs twice: first at ends that meet all but exactly, so that an outline made of steps shorter than the tolerance
stays whole, then at the tolerance.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components
from scipy.spatial import cKDTree

if TYPE_CHECKING:
    from kinematics.arrays import Ints
    from kinematics.values import Point

EXACT = 2e-5
"""Ends nearer than this share of the tolerance (1e-6 mm of 0.05 mm) meet exactly, but for rounding."""


ROUNDING = 1e-9
"""Points nearer than this (mm) are one point."""


@dataclass(frozen=True, slots=True)
class Chain:
    """A curve as points (mm, complex); the points of a closed one may or may not end at the first."""

    layer: str
    kind: str
    closed: bool
    points: list[complex]

    @property
    def length(self) -> float:
        """Length along the points, mm, without the closing stretch."""
        return sum(abs(b - a) for a, b in zip(self.points, self.points[1:], strict=False))

    def closed_if_ring(self, within: float) -> Chain:
        """Give this chain, closed if its ends lie within `within` mm and it is longer than such a gap by far."""
        points = self.points
        # Three points at least, and the first again.
        if self.closed or len(points) < 4 or abs(points[-1] - points[0]) > within or self.length <= 4 * within:
            return self
        return Chain(self.layer, self.kind, True, points[:-1])

    def as_points(self) -> tuple[Point, ...]:
        """(x, y) without points that repeat the one before (or, closed, without the first again at the end)."""
        kept = [self.points[0]]
        kept += [b for a, b in zip(self.points, self.points[1:], strict=False) if abs(b - a) > ROUNDING]
        if self.closed and len(kept) > 1 and abs(kept[-1] - kept[0]) <= ROUNDING:
            kept.pop()
        return tuple((z.real, z.imag) for z in kept)


def without_repeats(chains: list[Chain], within: float) -> tuple[list[Chain], int]:
    """Chains without those that lie on an earlier one (either way round), but for rounding, and how many those were."""
    seen: set[tuple[object, ...]] = set()
    kept = []
    cell = 10 * EXACT * within
    for chain in chains:
        rounded = tuple((round(z.real / cell), round(z.imag / cell)) for z in chain.points)
        key = (chain.layer, chain.closed, min(rounded, rounded[::-1]))
        if key not in seen:
            seen.add(key)
            kept.append(chain)
    return kept, len(chains) - len(kept)


def join(chains: list[Chain], within: float) -> list[Chain]:
    """Join the open chains whose ends lie within `within` mm, layer by layer; a chain that comes back is closed.

    The order is that of each chain's first part. A join takes the place of the end that comes first.
    """
    return _join_once(_join_once(chains, EXACT * within), within)


def _join_once(chains: list[Chain], within: float) -> list[Chain]:
    by_layer: dict[str, list[int]] = defaultdict(list)
    for place, chain in enumerate(chains):
        if not chain.closed:
            by_layer[chain.layer].append(place)
    found: list[tuple[int, Chain]] = [(place, chain) for place, chain in enumerate(chains) if chain.closed]
    for places in by_layer.values():
        found += [(places[first], chain) for first, chain in _join_layer([chains[k] for k in places], within)]
    return [chain for _, chain in sorted(found, key=lambda pair: pair[0])]


def _join_layer(chains: list[Chain], within: float) -> list[tuple[int, Chain]]:
    """Join open chains; each result with the place of its first part in the list."""
    ends = np.array([z for chain in chains for z in (chain.points[0], chain.points[-1])])
    partner = _partners(nodes(ends, within))
    done: set[int] = set()
    found = []
    # Runs that have an end first; what remains then are rings.
    starts = [end for end in range(len(ends)) if end not in partner]
    for start in (*starts, *range(0, len(ends), 2)):
        if start // 2 in done:
            continue
        run = _run(start, partner)
        done |= {end // 2 for end in run}
        found.append((min(end // 2 for end in run), _merged(chains, run, within)))
    return found


def _partners(node: Ints) -> dict[int, int]:
    """For every end that meets exactly one other end, that other end. Ends 2k and 2k + 1 belong to chain k."""
    members: dict[int, list[int]] = defaultdict(list)
    for end, number in enumerate(node.tolist()):
        members[number].append(end)
    pairs = [(ends[0], ends[1]) for ends in members.values() if len(ends) == 2]
    return dict(pairs) | {b: a for a, b in pairs}


def _run(start: int, partner: dict[int, int]) -> list[int]:
    """The ends at which a run enters its chains, from one end on to where nothing follows or the ring is whole."""
    run = [start]
    while True:
        onward = partner.get(run[-1] ^ 1)
        if onward is None or onward == start:
            return run
        run.append(onward)


def _merged(chains: list[Chain], run: list[int], within: float) -> Chain:
    """The chains of a run as one."""
    parts = [chains[end // 2].points[:: -1 if end % 2 else 1] for end in run]
    points = list(parts[0])
    for part in parts[1:]:
        points += part[1:]
    first = chains[run[0] // 2]
    kind = first.kind if len(run) == 1 else "joined"
    return Chain(first.layer, kind, False, points).closed_if_ring(within)


def nodes(ends: np.ndarray, within: float) -> Ints:
    """(n,) complex → (n,) the number of the node each end belongs to; ends within `within` share one.

    Ends are gathered in cells first, so that ten thousand ends at one place make one point for the tree.
    """
    cell = within / 8
    keys = np.round(np.stack([ends.real, ends.imag], axis=1) / cell)
    unique, inverse = np.unique(keys, axis=0, return_inverse=True)
    pairs = cKDTree(unique).query_pairs(within / cell, output_type="ndarray")
    links = coo_array((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(len(unique), len(unique)))
    _, label = connected_components(links, directed=False)
    return np.asarray(label[inverse.ravel()], dtype=np.intp)
