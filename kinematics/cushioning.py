"""Cushions at work: what seals and bump stops push with while the panel is nearly shut.

Terms. A cushion is *squeezed* by the shut panel and pushes it along its way. As its place on the panel moves out along
that way by s (mm), the push falls evenly,

    push = push when shut · (1 − s/squeeze),

to nothing at s = squeeze: there it is *released*, once and for all, even if the place comes back at a larger opening,
where nothing is left beneath it. A place that moves in at first (s < 0) squeezes it more, up to HARDEST times the push
when shut; a real seal is solid by then. A push that falls with the way alone has a potential, so virtual work and
energy agree.

A release is a *bend* of every force over the travel, and lies within the first degree or so: it is found exactly along
the branch, and whoever samples the sweep has to look there closely (`Cushions.arcs`).

Source: a linear spring, the project file's own definition; real seals are softer at first (common practice, no source).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache, partial
from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import frozen
from kinematics.closure import Spots
from kinematics.devices import first_past, samples

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kinematics.arrays import Complexes, Floats
    from kinematics.fittings import Cushion
    from kinematics.sweep import Sweep

HARDEST = 2.0
"""A cushion pushes so many times as hard as when shut, at most."""
PARTS = 8
"""Samples up to each release."""


@dataclass(frozen=True, slots=True, eq=False)
class Cushions:
    """Cushions in a linkage.

    spots : their places on their links.   shut : (m,) complex, mm, those places when shut, from the closure's centre.
    ways : (m,) unit, complex.   pushes : (m,) N, all of each together when shut.   squeezes : (m,) mm.
    ends : (m,) places along the branch (rad) of their releases, infinite where one isn't released; openings : (m,) the
    openings there, rad.   bends : (k,) places at which a push bends or ends, in order.
    """

    spots: Spots
    shut: Complexes
    ways: Complexes
    pushes: Floats
    squeezes: Floats
    ends: Floats
    openings: Floats
    bends: Floats

    @property
    def arcs(self) -> Floats:
        """Places along the branch that samples of the sweep must have besides others: bends, and some before each."""
        found = [np.linspace(0.0, bend, PARTS + 1)[1:] for bend in self.bends.tolist()]
        return np.unique(np.concatenate(found)) if found else np.zeros(0)

    @property
    def let_go_deg(self) -> float:
        """The opening (deg) at which the last of those that are released is; 0 without any."""
        return math.degrees(max((each for each in self.openings.tolist() if math.isfinite(each)), default=0.0))

    def forces(self, e: Complexes, openings: Floats) -> Complexes:
        """(n, m) N, on their links, at poses: e (n, links), openings (n,) rad."""
        out = _moved(self, e)
        share = np.clip(1.0 - out / self.squeezes, 0.0, HARDEST)
        return np.asarray(np.where(openings[:, None] <= self.openings, self.pushes * share, 0.0) * self.ways)

    def add_to(self, work: Floats, by_link: Complexes, e: Complexes, openings: Floats) -> None:
        """Add what they do to the work about every link's turn and to the force on every link, both (n, links)."""
        forces = self.forces(e, openings)
        work += self.spots.efforts(e, forces)
        np.add.at(by_link.T, self.spots.links, forces.T)


def _moved(cushions: Cushions, e: Complexes) -> Floats:
    """(n, m) mm by which the places have moved out along their ways."""
    return np.asarray(((cushions.spots.places(e) - cushions.shut) * cushions.ways.conj()).real)


def cushioned(cushions: Sequence[Cushion], sweep: Sweep) -> Cushions:
    """The cushions of a project with their places on the links of a sweep that moves."""
    closure, count = sweep.closure, len(cushions)
    if count == 0:
        return _none(len(closure.links))
    spots = closure.spots([(each.on, each.at) for each in cushions])
    shut = spots.places(np.ones((1, len(closure.links)), dtype=np.complex128))[0]
    ways = np.exp(1j * np.radians([each.way_deg for each in cushions]))
    pushes = np.array([each.pushes for each in cushions], dtype=np.float64)
    squeezes = np.array([each.squeeze for each in cushions], dtype=np.float64)
    never, no_bends = np.full(count, math.inf), np.zeros(0)
    draft = Cushions(spots, shut, ways, pushes, squeezes, never, never, no_bends)
    if sweep.reach_arc <= 0.0:
        return draft
    ends, openings = _exact(draft, sweep, squeezes, _past(draft, sweep, squeezes, 1.0))
    inward = (1.0 - HARDEST) * squeezes
    solid = _exact(draft, sweep, inward, _past(draft, sweep, inward, -1.0))[0]
    bends = np.unique(np.concatenate([ends, solid[solid < ends]]))
    return Cushions(spots, shut, ways, pushes, squeezes, ends, openings, bends[np.isfinite(bends)])


@lru_cache(maxsize=16)
def _none(links: int) -> Cushions:
    """No cushions, in a linkage of so many links."""
    nothing, nowhere = frozen(np.zeros(0)), frozen(np.zeros(0, dtype=np.complex128))
    spots = Spots(np.zeros(0, dtype=np.intp), np.zeros((0, links), dtype=np.complex128))
    return Cushions(spots, nowhere, nowhere, nothing, nothing, nothing, nothing, nothing)


def _past(draft: Cushions, sweep: Sweep, far: Floats, sign: float) -> Floats:
    """(m,) first places along the branch, by the cubics, at which the places have moved out by `far`; else infinite.

    sign : −1 where `far` is a way in.
    """
    arcs = samples(sweep.branch.arcs, sweep.reach_arc)
    out, rates, _ = _motion(draft, sweep, arcs)

    def left(arc: float, column: int) -> float:
        return sign * float(far[column] - _motion(draft, sweep, np.array([arc]))[0][0, column])

    found = np.full(len(far), math.inf)
    for k in range(len(far)):
        arc = first_past(arcs, sign * (far[k] - out[:, k]), -sign * rates[:, k], partial(left, column=k))
        found[k] = math.inf if arc is None else arc
    return found


def _exact(draft: Cushions, sweep: Sweep, far: Floats, near: Floats) -> tuple[Floats, Floats]:
    """(m,) places at which the places have moved out by `far` on exact poses, and the openings there (rad).

    near : (m,) those by the cubics.
    The cubics are good to six digits; one step of Newton's doubles them.
    """
    arcs, openings = near.copy(), np.full(len(near), math.inf)
    known = np.flatnonzero(np.isfinite(near))
    if len(known) == 0:
        return arcs, openings
    _, rates, dy = _motion(draft, sweep, near[known])
    y = sweep.at_arcs(near[known])
    exact = _moved(draft, np.exp(1j * sweep.link_turns(y)))
    own = np.arange(len(known)), known
    step = (far[known] - exact[own]) / rates[own]
    arcs[known] += step
    openings[known] = sweep.sign * (y[:, sweep.panel] + dy[:, sweep.panel] * step)
    return arcs, openings


def _motion(draft: Cushions, sweep: Sweep, arcs: Floats) -> tuple[Floats, Floats, Floats]:
    """By the cubics: (n, m) mm that the places have moved out, its rates by arc, and (n, unknowns) those of turns."""
    y, dy = sweep.branch.cubic_and_rates(arcs, sweep.branch.interval(arcs))
    e = np.exp(1j * sweep.link_turns(y))
    rates = draft.spots.rates(e, sweep.link_turns(dy)) * draft.ways.conj()
    return _moved(draft, e), rates.real, dy
