"""Riding: frames that go with the line between a device's two ends, as if they were links.

The line is z = b − a, with both ends a, b at linear functions of the links' turn factors. A *frame* at a share s of it
has its origin at a + s·z and turns as z does. Its turn θ = arg z is no linear function of anything, but its
derivatives along the branch are bounded: with w = log z, w' = z'/z, w'' = z''/z − (z'/z)², and so on, and θ is the
imaginary part of w. What is needed for that are bounds on z's derivatives (from those of the links' turns) and the
least length of z, per stretch.

Where the ends come so near each other that this least length can't be told from nothing, half of the nearer end's is
taken: there what is found between poses is as fine as the search, but not proved.

Sources: derivatives of exp and log (any calculus text); the rest as in `kinematics.stretches`.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from typing import TYPE_CHECKING

import numpy as np

from kinematics.devices import fitted
from kinematics.sweep import Moving, Sweep

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kinematics.arrays import Complexes, Floats
    from kinematics.branch import Branch
    from kinematics.closure import Closure, Spots
    from kinematics.parts import Device


@dataclass(frozen=True, slots=True, eq=False)
class Riders:
    """Frames that ride on devices' lines: m of them.

    starts : the first ends.   across : from there to the second, as if they were places.   shares : (m,).
    lines, origins : (m,) complex mm, shut: across, and where the frame's origin stands.
    chains, spans : (m,) mm, the sums of what moves the origin, and the line.
    """

    starts: Spots
    across: Spots
    shares: Floats
    lines: Complexes
    origins: Complexes
    chains: Floats
    spans: Floats
    centre: complex

    def placed(self, e: Complexes) -> tuple[Complexes, Complexes]:
        """(n, links) e → (n, m) turn factors of the frames, and their shifts (mm) in the project's coordinates."""
        across = self.across.places(e)
        turn = across / np.maximum(np.abs(across), 1e-30) * (np.conj(self.lines) / np.abs(self.lines))
        origin = self.centre + self.starts.places(e) + self.shares * across
        return turn, np.asarray(origin - turn * self.origins)

    def rates(self, e: Complexes, spins: Floats, turn: Complexes) -> tuple[Floats, Complexes]:
        """(n, links) e and turn rates, and (n, m) turn factors → rates (n, m) of turns and of shifts."""
        across, growing = self.across.places(e), self.across.rates(e, spins)
        turning = (growing / across).imag
        moving = self.starts.rates(e, spins) + self.shares * growing
        return turning, np.asarray(moving - 1j * turning * turn * self.origins)


def riders(rides: Sequence[tuple[Device, float]], closure: Closure) -> Riders:
    """The frames that ride on devices, each at a share of its line; the devices' ends stand apart when shut."""
    firsts = closure.spots([(device.from_end.on, device.from_end.at) for device, _ in rides])
    across = fitted([device for device, _ in rides], closure).across
    shares = np.array([share for _, share in rides])
    lines = across.rows.sum(axis=1)
    origins = closure.centre + firsts.rows.sum(axis=1) + shares * lines
    moving = np.arange(len(closure.links)) != closure.fixed
    chains = np.abs(firsts.rows + shares[:, None] * across.rows)[:, moving].sum(axis=1)
    spans = np.abs(across.rows)[:, moving].sum(axis=1)
    return Riders(firsts, across, shares, lines, origins, chains, spans, closure.centre)


@dataclass(frozen=True, slots=True, eq=False)
class RiddenSweep(Sweep):
    """A sweep whose columns go on, behind those of the links, with frames that ride on devices.

    swerves : (m,) by how many times as much a frame's turn may be off as those of the links are.
    """

    riders: Riders = field(kw_only=True)
    swerves: Floats = field(kw_only=True)

    @classmethod
    def of(cls, sweep: Sweep, on: Riders, shortest: Floats) -> RiddenSweep:
        """The same sweep with such frames; shortest : (m,) mm, the least lengths of their lines."""
        swerves = np.maximum(on.spans / shortest, 1.0)
        return cls(**{each.name: getattr(sweep, each.name) for each in fields(Sweep)}, riders=on, swerves=swerves)

    def link_turns(self, y: Floats) -> Floats:
        """(n, unknowns) → (n, links + m) turns, rad; those of the frames within half a turn."""
        turns = self.closure.link_turns(y)
        return np.concatenate([turns, np.angle(self.riders.placed(np.exp(1j * turns))[0])], axis=1)

    def shifts(self, y: Floats) -> Complexes:
        """(n, unknowns) → (n, links + m) shifts, mm."""
        turns = self.closure.link_turns(y)
        return np.concatenate([self.closure.shifts(turns), self.riders.placed(np.exp(1j * turns))[1]], axis=1)

    def moving(self, y: Floats, rates: Floats) -> Moving:
        """How links and frames stand and move at poses y, whose turns go at these rates (n, unknowns)."""
        links = Sweep.moving(self, y, rates)
        turn, shifts = self.riders.placed(links.e)
        spins, moved = self.riders.rates(links.e, links.spins, turn)
        return Moving(
            np.concatenate([links.e, turn], axis=1),
            np.concatenate([links.spins, spins], axis=1),
            np.concatenate([links.shifts, shifts], axis=1),
            np.concatenate([links.moved, moved], axis=1),
        )

    def turn_derivatives(self, branch: Branch, steps: Floats, of_links: Floats) -> Floats:
        """(4, n − 1, m) bounds on the first four derivatives of the frames' turns from knot to knot of a branch.

        of_links : (4, n − 1) bounds on those of the links' turns.
        """
        one, two, three, four = of_links[:, :, None]
        span, h = self.riders.spans, steps[:, None]
        z2, z3 = span * (one**2 + two), span * (one**3 + 3.0 * one * two + three)
        z4 = span * (one**4 + 6.0 * one**2 * two + 3.0 * two**2 + 4.0 * one * three + four)
        e = np.exp(1j * self.closure.link_turns(branch.turns))
        length = np.abs(self.riders.across.places(e))
        growing = np.abs(self.riders.across.rates(e, self.closure.link_turns(branch.tangents)))
        z1 = np.minimum(growing[:-1] + z2 * h, span * one)
        least = np.maximum(length[:-1] - z1 * h, 0.5 * np.minimum(length[:-1], length[1:]))
        a1, a2, a3, a4 = z1 / least, z2 / least, z3 / least, z4 / least
        return np.stack(
            [
                a1,
                a2 + a1**2,
                a3 + 3.0 * a1 * a2 + 2.0 * a1**3,
                a4 + 4.0 * a1 * a3 + 3.0 * a2**2 + 12.0 * a1**2 * a2 + 6.0 * a1**4,
            ]
        )
