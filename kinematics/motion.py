"""What follows from a pose and its direction of motion: rates, instant centres, transmission angles, sensitivities.

Terms. *Rates* are derivatives with respect to the opening (rad), or to the place along the branch where the panel
slides. The *instant centre* of two links is the point that both carry along alike; parallel motion puts it at
infinity. The *transmission angle* of a link with two pins says how well it passes force on, 90° at best, 0° at a dead
point. Hold the panel and stretch the link by dℓ: it turns by dθ, and cot μ = ℓ·|dθ/dℓ|. For a crank-driven four-bar
this is Alt's angle between coupler and follower; for a panel on two cranks it is the angle between the cranks; it
asks for no named linkage.

Sources: H. Alt, Der Übertragungswinkel, 1932 (from memory); the form above derives from it by removing the link and
taking the direction in which its pins would part.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.branch import newton_step, solved, tangents_at
from kinematics.closure import Closure, maps

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats
    from kinematics.project import Project
    from kinematics.sweep import Sweep


@dataclass(frozen=True, slots=True, eq=False)
class Rates:
    """How every link moves: turns (poses, links) rad, shifts (poses, links) mm, both per rad of opening or of arc."""

    turns: Floats
    shifts: Complexes


def tangents(sweep: Sweep, y: Floats) -> Floats:
    """(n, unknowns) unit tangents at poses of the branch, in the direction from shut onwards."""
    branch = sweep.branch
    if len(branch.arcs) == 1:
        return np.zeros_like(y)
    near = np.array([int(np.argmin(np.abs(branch.turns - row).sum(axis=1))) for row in y])
    return tangents_at(branch.curve, y, branch.tangents[near])


def rates(sweep: Sweep, y: Floats) -> Rates:
    """Rates of all links at poses (n, unknowns); per rad of arc where the panel slides or is at its dead point."""
    t = tangents(sweep, y)
    if sweep.freedom.state == "moves":
        panel = sweep.sign * t[:, sweep.panel : sweep.panel + 1]
        t = np.where(np.abs(panel) > 1e-12, t / np.where(np.abs(panel) > 1e-12, panel, 1.0), t)
    turns = sweep.closure.link_turns(t)
    e = np.exp(1j * sweep.closure.link_turns(y))
    moved = 1j * e * turns
    return Rates(turns, moved @ sweep.closure.shift_map.T - sweep.closure.centre * moved)


def instant_centre(moving: Rates, shifts: Complexes, pose: int, first: int, second: int) -> complex | None:
    """Point that two links (columns) carry alike at a pose, in the fixed link's frame; None where it is at infinity."""
    turn = moving.turns[pose, first] - moving.turns[pose, second]
    size = np.abs(moving.turns[pose]).max(initial=0.0)
    if abs(turn) <= 1e-12 * max(size, 1e-300):
        return None

    def drift(link: int) -> complex:
        return complex(moving.shifts[pose, link] - 1j * moving.turns[pose, link] * shifts[pose, link])

    return complex((drift(second) - drift(first)) / (1j * turn))


def two_pin_links(project: Project, closure: Closure) -> list[tuple[int, int, int]]:
    """(column, pivot, pivot) of the moving links with just two pins apart, which pass force along their line."""
    pins: dict[int, list[int]] = {}
    for index, pivot in enumerate(project.pivots):
        for name in pivot.joins:
            pins.setdefault(closure.links.index(name), []).append(index)
    return [
        (k, on[0], on[1])
        for k, on in sorted(pins.items())
        if len(on) == 2
        and k not in (closure.fixed, closure.panel)
        and closure.group[k] > 0
        and int((closure.group == closure.group[k]).sum()) == 1
        and abs(closure.places[on[0]] - closure.places[on[1]]) > 1e-9 * closure.size
    ]


@dataclass(frozen=True, slots=True, eq=False)
class Transmitter:
    """The links with two pins of one linkage, made ready so that their transmission angles are quick at many poses.

    links : columns (m,).   lengths : (m,) mm.   rows : (m) each (loop rows, links), how the loops change when that link
    alone grows, times the direction in which it grows.
    """

    sweep: Sweep
    links: tuple[int, ...]
    lengths: Floats
    rows: tuple[Complexes, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """The links' ids."""
        return tuple(self.sweep.closure.links[k] for k in self.links)

    def angles(self, arcs: Floats, y: Floats) -> Floats:
        """(n, m) transmission angles, deg, at places along the branch and their poses (n, unknowns).

        Stretching a link moves all links by `steps`, across the motion; so much of the motion goes back that the panel
        stands still. At a dead point no motion can bring it back: the angle is 0.
        """
        branch, own = self.sweep.branch, self.sweep.closure.group[list(self.links)] - 1
        e = np.exp(1j * self.sweep.closure.link_turns(y))
        lack = np.stack([e @ rows.T for rows in self.rows], axis=2)
        right = np.zeros((len(y), 2 * lack.shape[1] + 1, len(own) + 1))
        right[:, :-1, :-1] = np.concatenate([lack.real, lack.imag], axis=1)
        right[:, -1, -1] = 1.0
        found = solved(branch.curve, y, branch.tangents[branch.interval(arcs)], right)
        steps, along = found[:, :, :-1], found[:, :, -1]
        panel = along[:, self.sweep.panel, None]
        turned = steps[:, own, range(len(own))] * panel - along[:, own] * steps[:, self.sweep.panel]
        return np.asarray(np.degrees(np.arctan2(np.abs(panel), self.lengths * np.abs(turned))))


def transmitter(project: Project, sweep: Sweep) -> Transmitter | None:
    """The links whose transmission angles can be told; None where the panel doesn't open or no link has two pins."""
    closure = sweep.closure
    links = two_pin_links(project, closure)
    if sweep.freedom.state != "moves" or sweep.branch.curve.redundant or not links:
        return None
    along = np.array([closure.places[far] - closure.places[near] for _, near, far in links])
    lengths = np.abs(along)
    rows = tuple(
        way * _stretch_rows(closure, link, far) for way, (link, _, far) in zip(along / lengths, links, strict=True)
    )
    return Transmitter(sweep, tuple(link for link, _, _ in links), lengths, rows)


def _stretch_rows(closure: Closure, link: int, pivot: int) -> Complexes:
    """(rows, links): how the loops change when this link alone has the pivot further out."""
    first = np.array([float(j.pivot == pivot and j.first == link) for j in closure.joints], dtype=np.complex128)
    second = np.array([float(j.pivot == pivot and j.second == link) for j in closure.joints], dtype=np.complex128)
    return np.asarray(maps(closure.walk, closure.joints, first, second)[1][closure.lively])


def place_gradient(sweep: Sweep, y: Floats, pivot: int, link: int, held: Floats) -> tuple[complex, Floats]:
    """Where a pivot stands at one pose, and the 2 × 2 change of that with its shut place.

    y, held : (unknowns,) the pose's turns, and the direction that doesn't move (the panel's unknown, or the tangent).
    link : column of a link on the pivot.   The columns of the result are for a shut place moved along x and along y.
    """
    closure = sweep.closure
    e = np.exp(1j * closure.link_turns(y))
    on = np.array([float(joint.pivot == pivot) for joint in closure.joints], dtype=np.complex128)
    shift_change, loop_change = maps(closure.walk, closure.joints, on, on)
    place = complex(closure.shift_map[link] @ e + closure.places[pivot] * e[link])
    direct = complex(shift_change[link] @ e + e[link])
    row = closure.shift_map[link].copy()
    row[link] += closure.places[pivot]
    by_turn = closure.by_group((1j * row * e)[None])[0, 1:]
    lack = loop_change[closure.lively] @ e
    steps = newton_step(sweep.branch.curve, np.stack([y, y]), np.stack([lack, 1j * lack]), np.stack([held, held]))
    ways = np.array([direct - by_turn @ steps[0], 1j * direct - by_turn @ steps[1]])
    return place + closure.centre, np.stack([ways.real, ways.imag])
