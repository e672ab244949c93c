"""The panel shut: what the latch holds, what shutting takes, what lifts the rear edge, how the striker comes in.

Terms. The *latch* holds the *striker*, which rides on the panel, against coming out along its *way*; across its way the
striker is free. So the latch takes the place of the hand: with v how the striker moves per unit of the motion and w
the unit way in, virtual work gives the force F along w,

    F · (−w·v) = power of all loads                     (−w·v: how fast it would come out),

and the joints bear what `kinematics.equilibrium` makes of the loads with F on the striker. Gas struts push harder when
they are hot (`devices.gas_factor`), so all that is told for struts at HOT besides.

*Rear edge.* With the latch on, the panel can only turn about the striker as far as its hinge lets it. The loads that
act on the panel itself (weight, struts' ends, seals; not what comes through the links, which are the hinge) have a
moment M about the striker. A force at the rear edge, square to the line from the striker, has the same moment at
M / distance: so hard they press the rear edge up, and the hinge has to hold it down.

*Rise.* A hole is wider than its pin by the play p. Loaded, each pin lies against its hole: a joint whose pin puts a
force along the unit way f on its second link lets that link lie off by s = −f·p/2 from where it is drawn. A unit force
n at the rear edge, the latch again in the hand's place, is in equilibrium with joint forces g (on the second links).
By virtual work of that equilibrium on the shifts s of otherwise rigid links (principle of virtual forces),

    rise = −Σ g·s = p/2 · Σ g·f                         over all joints,

exact to first order in the play. It counts from the drawn place, each pin in the middle of its hole; pressed down by
hand until all forces turn round, the edge goes as far below it. Where a joint bears nothing its pin may lie anywhere:
there |g| stands for g·f. With more links than the motion needs (twin arms) play binds instead, and nothing is told.

*Entry.* The last STRETCH of the striker's travel, straight from where it is shut: the angle between its path and the
way, how far it leaves the line along the way (*side step*), how far the panel turns.

Sources: virtual work, principle of virtual forces, lever: any text on statics (from memory). HOT: struts are usually
rated to 80 °C (makers' data, from memory).
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from kinematics.arrays import frozen
from kinematics.devices import moment, samples
from kinematics.rear_edge import rear_point
from kinematics.results import Entry, ShutFigures
from kinematics.statics import BEYOND, GRAVITY, STILL

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats
    from kinematics.fittings import Latch
    from kinematics.project import Project
    from kinematics.statics import Statics
    from kinematics.sweep import Sweep

HOT = 80.0
"""°C of struts in the sun above an engine, to which they are usually rated (makers' data, from memory)."""
STRETCH, LAST = 30.0, 1.0
"""Mm of the striker's travel before shut that are looked at, and over which the push to shut is sought."""
USUAL_STEP = 3.0
"""Mm of side step at which a striker begins to miss its catch; common practice, no source. `side_step_at_most` asks for
another."""
ACROSS = 0.1
"""A striker that comes out along its way by less than this share of its path can't be held along it."""
STEPS = 30
"""Poses over the last stretch …"""
LOOKS = 5
"""… and over the last mm, besides the bends."""
ZOOMS = 3
"""So often the stretch that holds the end of the striker's last mm is narrowed."""
NEAR = 1e-3
"""A rear edge nearer to the striker than this share of the reach has no lever about it."""


def shut_figures(project: Project, statics: Statics) -> ShutFigures | None:
    """What holds the panel shut, for a linkage that moves with mobility 1; None where there is no latch."""
    latch = statics.loads.latch
    if latch is None:
        return None
    looked = _Shut(project, statics, latch)
    warmth = HOT if statics.temperature < HOT else statics.temperature
    struts = any(device.kind == "gas strut" for device in statics.loads.devices)
    hot = statics.at_temperature(warmth) if struts else None
    closing, rubbed = looked.closing()
    return ShutFigures(
        latch=looked.held(statics),
        latch_hot=None if hot is None else looked.held(hot),
        hot=warmth if struts else None,
        closing=closing,
        closing_rubbed=rubbed,
        rear=looked.rear,
        rear_way=looked.rear_way,
        rear_force=looked.pressed(statics),
        rear_hot=None if hot is None else looked.pressed(hot),
        rise=looked.rise(),
        entry=looked.entry(),
        remarks=tuple(looked.remarks),
    )


class _Shut:
    """The linkage at shut, with the latch in the place of the hand."""

    def __init__(self, project: Project, statics: Statics, latch: Latch) -> None:
        self.project, self.statics, self.latch = project, statics, latch
        self.sweep: Sweep = statics.sweep
        self.at = statics.at(np.zeros((1, statics.closure.unknowns)))
        self.striker = statics.closure.spots([(latch.on, latch.at)])
        self.way = complex(np.exp(1j * math.radians(latch.way_deg)))
        speed = complex(self.striker.rates(self.at.e, self.at.rates)[0, 0])
        self.out = -(self.way.conjugate() * speed).real
        self.remarks: list[str] = []
        self._moves = abs(speed) > STILL * statics.reach
        if not self._moves:
            self.out = 0.0
            self.remarks.append("The striker stands still as the panel opens: no latch can hold it there.")
        elif self.out < ACROSS * abs(speed):
            self.remarks.append(
                "The striker doesn't come out along the latch's way but across or into it, so the latch holds nothing:"
                " turn the way, or put the striker elsewhere."
            )
            self.out = 0.0
        self._shut_place = complex(self.striker.places(self.at.e)[0, 0])
        self.lever = self._lever()
        found = None if self.lever is None else rear_point(project)
        self.rear = None if found is None else found[0]
        self.rear_way = None if self.lever is None else _xy(self._up)

    # ---------------------------------------------------------------------------------------- the latch
    def held(self, statics: Statics) -> float | None:
        """N that the latch holds along its way."""
        if self.out <= 0.0:
            return None
        return float(statics.power(self.at, statics.applied(self.at))[0]) / self.out

    def closing(self) -> tuple[float | None, float | None]:
        """The largest push (N) that the last mm before shut needs at the handle, without and with friction."""
        statics = self.statics
        end = self._arc_out(LAST)
        bends = statics.cushions.bends
        arcs = np.union1d(np.linspace(0.0, end, LOOKS), bends[bends < end])
        at = statics.at(self.sweep.at_arcs(arcs))
        applied = statics.applied(at)
        plain = _largest(-statics.effort(at, applied))
        if not statics.rubbing or plain is None:
            return plain, None
        return plain, _largest(-statics.rubbed(at, applied)[1])

    # ---------------------------------------------------------------------------------------- the rear edge
    def _lever(self) -> complex | None:
        """The way (mm) from the striker to the rear edge; None where there is none."""
        found = rear_point(self.project)
        if found is None:
            self.remarks.append("The panel isn't drawn, so nothing is told of its rear edge.")
            return None
        if self.latch.on != self.project.panel.id:
            self.remarks.append("The striker isn't on the panel, so nothing is told of the panel's rear edge.")
            return None
        (x, y), out = found
        lever = complex(x, y) - complex(*self.latch.at)
        if abs(lever) < NEAR * self.statics.reach:
            self.remarks.append("The latch is at the rear edge: it holds that edge down by itself.")
            return None
        side = 1j * lever / abs(lever)
        self._turn = 1.0 if (side * out.conjugate()).real >= 0.0 else -1.0
        self._up = self._turn * side
        return lever

    def pressed(self, statics: Statics) -> float | None:
        """N by which the loads on the panel press its rear edge out, square to the line from the striker."""
        if self.lever is None:
            return None
        return self._turn * self._moment(statics) / abs(self.lever)

    def _moment(self, statics: Statics) -> float:
        """N·mm about the striker, anticlockwise, of the loads that act on the panel itself, shut."""
        loads, panel, pivot = statics.loads, self.project.panel.id, complex(*self.latch.at)
        applied = statics.applied(self.at)
        forces = [(mass.at, -1j * GRAVITY * mass.mass) for mass in loads.masses if mass.on == panel]
        couple = 0.0
        for k, device in enumerate(loads.devices):
            push = device.count * complex(applied.pushes[0, k] * applied.ways[0, k])
            turning = device.count * float(moment(device, np.zeros(1))[0])
            for end, sign in ((device.to_end, 1.0), (device.from_end, -1.0)):
                if end.on == panel:
                    forces.append((end.at, sign * push))
                    couple += sign * turning
        pushes = statics.cushions.forces(self.at.e, self.at.openings)[0].tolist()
        forces += [(each.at, push) for each, push in zip(loads.cushions, pushes, strict=True) if each.on == panel]
        return couple + sum(((complex(*at) - pivot).conjugate() * force).imag for at, force in forces)

    def rise(self) -> float | None:
        """Mm by which the rear edge rises as the loads use up the joints' play; None where it isn't told."""
        sureness, statics, holds = self.project.sureness, self.statics, self.at.holds
        if self.lever is None or self.out <= 0.0 or holds is None or sureness is None or sureness.play <= 0.0:
            return None
        if holds.inverse is None:
            self.remarks.append("With more links than the motion needs play binds: no rise of the rear edge is told.")
            return None
        if np.abs(holds.inverse).max(initial=0.0) * statics.closure.size > BEYOND:
            self.remarks.append("Shut, links stand in line: play moves them without bound, and no rise is told.")
            return None
        applied = statics.applied(self.at)
        loaded = self._joints(applied.work, applied.by_link)
        edge = statics.closure.spots([(self.project.panel.id, self._rear_place())])
        unit = np.array([[self._up]])
        by_link = np.zeros_like(applied.by_link)
        by_link[0, edge.links[0]] = self._up
        asked = self._joints(edge.efforts(self.at.e, unit), by_link)
        sizes = np.abs(loaded)
        bears = sizes > STILL * max(float(sizes.max(initial=0.0)), STILL)
        along = (asked * loaded.conj()).real / np.where(bears, sizes, 1.0)
        return 0.5 * sureness.play * float(np.where(bears, along, np.abs(asked)).sum())

    def _rear_place(self) -> tuple[float, float]:
        return _xy(complex(*self.latch.at) + (self.lever or 0j))

    def _joints(self, work: Floats, by_link: Complexes) -> Complexes:
        """(joints,) N on their second links, with loads in balance with the latch's hold: work, by_link (1, links)."""
        holds, bears = self.at.holds, self.statics.bears
        if holds is None:
            raise TypeError  # cannot be: exact poses have them
        hold = np.array([[self.way * float((work * self.at.rates).sum()) / self.out]])
        by_link = by_link.copy()
        by_link[0, self.striker.links[0]] += hold[0, 0]
        closing = holds.multipliers(bears, work + self.striker.efforts(self.at.e, hold), by_link)
        return np.asarray((by_link @ bears.by_links.T + closing @ bears.by_loops.T)[0])

    # ---------------------------------------------------------------------------------------- the entry
    def entry(self) -> Entry | None:
        """How the striker comes in."""
        if not self._moves:
            return None
        arcs = np.linspace(0.0, self._arc_out(STRETCH), STEPS + 1)
        y = self.sweep.at_arcs(arcs)
        z = self.striker.places(np.exp(1j * self.sweep.link_turns(y)))[:, 0] + self.statics.closure.centre
        gone = z - z[0]
        aside = (gone * self.way.conjugate()).imag
        most = int(np.argmax(np.abs(aside)))
        speed = complex(self.striker.rates(self.at.e, self.at.rates)[0, 0])
        return Entry(
            path=frozen(np.stack([z.real, z.imag], axis=1)),
            way=_xy(self.way),
            length=float(np.abs(gone[-1])),
            path_deg=math.degrees(np.angle(-speed)) % 360.0,
            angle_deg=abs(math.degrees(np.angle(-speed * self.way.conjugate()))),
            side_step=float(np.abs(aside[most])),
            step_at=_xy(complex(z[most])),
            turn_deg=math.degrees(self.sweep.sign * float(y[-1, self.sweep.panel])),
        )

    def _arc_out(self, far: float) -> float:
        """The place along the branch (rad) at which the striker is so far (mm) from shut; the end if it never is."""
        arcs = samples(self.sweep.branch.arcs, self.sweep.reach_arc)
        for _ in range(ZOOMS):
            places = self.striker.places(np.exp(1j * self.sweep.link_turns(self.sweep.branch.cubic(arcs))))[:, 0]
            gone = np.abs(places - self._shut_place)
            past = int(np.argmax(gone > far))
            if past == 0:
                return self.sweep.reach_arc
            ends = arcs[past - 1 : past + 1]
            arcs = np.linspace(ends[0], ends[1], 17)
        return float(np.interp(far, gone[past - 1 : past + 1], ends))


def _largest(pushes: Floats) -> float | None:
    """The largest that is told."""
    told = pushes[np.isfinite(pushes)]
    return float(told.max()) + 0.0 if len(told) else None


def _xy(z: complex) -> tuple[float, float]:
    return z.real, z.imag
