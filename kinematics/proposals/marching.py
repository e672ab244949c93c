"""Marching: thousands of linkages opened at once, all of one chain.

Loop closure as in `kinematics.closure`, but for many candidates side by side instead of many poses of one: every array
has the candidates along its last axis. The panel's turn drives. Going once round a loop, the bars add up to nothing at
shut, and at any other opening Σ c·(e − 1) must be nothing too, where c is a bar as a complex number at shut and
e = exp(i·turn) of its link. One loop is two real equations for two unknown turns. With two loops each has one unknown
turn to itself, which drops out of the equation's part across that bar; so two real equations for the two shared turns
are left, whatever the chain (`chains.py`).

The determinant of these two says how far a candidate is from a dead point: its sign can't change on the branch that
starts at shut while the panel's turn drives, so a candidate is given up where it does, as where Newton's steps don't
settle. What is given up is only not proposed; what is proposed has been through `analyse`.

Source: the loop equations in complex numbers are those of any textbook on kinematics; the elimination derives.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.proposals.chains import ALONE_A, ALONE_B, PANEL, SHARED_A, SHARED_B

if TYPE_CHECKING:
    from kinematics.arrays import Bools, Complexes, Floats, Ints
    from kinematics.proposals.chains import Chain

ITERATIONS = 5
"""Newton's steps at a pose, at most."""
SETTLED = 1e-4
"""rad: a last step below this leaves an error of about its square."""
FEW = 0.03
"""Once fewer than this share are left to settle, the others wait."""
WIDEST = 0.6
"""rad: a link that turns further than this in one correction has left its branch."""
LEAST_DETERMINANT = 0.02
"""Sine, as it were, of the angle between what the two equations ask: less is too near to a dead point."""


@dataclass(frozen=True, slots=True, eq=False)
class March:
    """How the candidates moved.

    turns : (poses, links, n) rad.   shifts : (poses, links, n) complex mm; a shut point p of a link is at
    shifts + exp(i·turns)·p.   reached : (n,) how many of the poses each reached, in order.
    spare : (poses, n) the determinant, 1 at best; what was not reached holds whatever came last.
    """

    turns: Floats
    shifts: Complexes
    reached: Floats
    spare: Floats


def march(chain: Chain, pins: Complexes, openings: Floats) -> March:
    """Open candidates pose by pose.

    pins : (pins, n) complex mm, shut.     openings : (poses,) rad the panel has turned, with its sign, from 0 on.
    """
    poses, count = len(openings), pins.shape[1]
    turns = np.zeros((poses, chain.links, count))
    spare = np.ones((poses, count))
    reached = np.full(count, float(poses))
    if chain.loops:
        _follow(chain, pins, openings, turns, spare, reached)
    turns[:, PANEL] = openings[:, None]
    return March(turns, _shifts(chain, pins, turns), reached, spare)


def _follow(chain: Chain, pins: Complexes, openings: Floats, turns: Floats, spare: Floats, reached: Floats) -> None:
    """Fill in turns, determinants and poses reached; candidates that fail are left where they are."""
    bars = _bars(chain, pins)
    unknown = chain.links - 2
    _, determinant = _newton(bars, _units(turns[0]), 0.0)
    start = np.sign(determinant)
    alive = np.abs(determinant) > LEAST_DETERMINANT
    reached[~alive] = 0.0
    spare[0] = np.abs(determinant)
    bars, start, which = _only(bars, start, alive)
    past: list[Floats] = [np.zeros((unknown, len(which)))]
    for pose in range(1, len(openings)):
        if not len(which):
            return
        now = np.zeros((unknown + 2, len(which)))
        now[PANEL], now[2:] = openings[pose], _guess(past, openings[pose - len(past) : pose + 1])
        good, determinant = _correct(bars, now)
        good &= determinant * start > LEAST_DETERMINANT
        reached[which[~good]] = pose
        turns[pose][:, which[good]] = now[:, good]
        spare[pose][which[good]] = np.abs(determinant[good])
        past = [each[:, good] for each in (*past[-2:], now[2:])]
        bars, start, which = bars[..., good], start[good], which[good]


def transmissions(chain: Chain, pins: Complexes, turns: Floats) -> Floats:
    """(n,) rad, the least transmission angle of the links with two pins at one pose; turns (links, n).

    With the panel held, a link of length ℓ that were stretched by dℓ would turn by T·dℓ; cot μ = ℓ·|T|
    (`kinematics.motion`). No such link: a right angle.
    """
    turned = _bars(chain, pins) * _units(turns)
    most = np.zeros(pins.shape[1])
    for link in (each for each in range(PANEL + 1, chain.links) if len(chain.on(each)) == 2):
        bar = turned[:, link]
        long = np.abs(bar).max(axis=0)
        steps, _ = _solved(turned, bar / _safe(long))
        most = np.maximum(most, long * np.abs(steps[link - PANEL - 1]))
    return np.arctan2(1.0, most)


def _only(bars: Complexes, start: Floats, which: Bools) -> tuple[Complexes, Floats, Ints]:
    return bars[..., which], start[which], np.flatnonzero(which)


def _guess(past: list[Floats], openings: Floats) -> Floats:
    """The next turns, by the parabola through up to three poses before; openings : theirs and the next."""
    *known, at = openings
    guess = np.zeros_like(past[0])
    for k, turns in enumerate(past):
        others = [each for place, each in enumerate(known) if place != k]
        guess += turns * np.prod([(at - each) / (known[k] - each) for each in others])
    return guess


def _correct(bars: Complexes, turns: Floats) -> tuple[Bools, Floats]:
    """Newton's steps on turns (links, n), in place; who settled, and their determinants.

    All step together until nearly all have settled; then only those that haven't.
    """
    count = turns.shape[1]
    moved, last, determinant = np.zeros(count), np.full(count, np.inf), np.ones(count)
    which: slice | Ints = slice(None)
    for _ in range(ITERATIONS):
        steps, determinant[which] = _newton(bars[..., which], _units(turns[:, which]), 1.0)
        turns[2:, which] += steps
        last[which] = np.abs(steps).max(axis=0)
        moved[which] += last[which]
        late = np.flatnonzero(last >= SETTLED)
        if not len(late):
            break
        which = late if len(late) < FEW * count else which
    return (last < SETTLED) & (moved < WIDEST), determinant


def _units(turns: Floats) -> Complexes:
    units = np.empty(turns.shape, dtype=np.complex128)
    units.real, units.imag = np.cos(turns), np.sin(turns)
    return units


def _bars(chain: Chain, pins: Complexes) -> Complexes:
    """(loops, links, n): each loop's bars at shut, 0 for links that aren't in it."""
    bars = np.zeros((len(chain.loops), chain.links, pins.shape[1]), dtype=np.complex128)
    for row, loop in enumerate(chain.loops):
        for link, come, leave in loop:
            bars[row, link] = pins[leave] - pins[come]
    return bars


def _newton(bars: Complexes, units: Complexes, lack: float) -> tuple[Floats, Floats]:
    """One step (links − 2, n) rad and the determinant (n,), scaled by the lengths of its bars.

    lack : 1 for the step that closes the loops; 0 where only the determinant is asked.
    """
    turned = bars * units
    return _solved(turned, (turned - bars)[:, 1:].sum(axis=1) * lack)


def _solved(turned: Complexes, lack: Complexes) -> tuple[Floats, Floats]:
    """Turns (links − 2, n) that take a lack (loops, n) away, panel held, and the determinant (n,)."""
    if len(turned) > 1:
        return _two_loops(turned, lack)
    # i·(a·δa + b·δb) = −lack: each turn follows from what lies across the other bar
    a, b = turned[0, SHARED_A], turned[0, SHARED_B]
    wanted, whole = 1j * lack[0], _across(a, b)
    steps = np.stack([_across(wanted, b), _across(a, wanted)]) / _safe(whole)
    return steps, whole / _safe(np.abs(a) * np.abs(b))


def _two_loops(turned: Complexes, lack: Complexes) -> tuple[Floats, Floats]:
    """i·Σ c·δ = −lack in both loops: what lies across each loop's own bar leaves two equations for the shared turns."""
    wanted = 1j * lack
    alone = (turned[0, ALONE_A], turned[1, ALONE_B])
    a1, b1, r1 = (_across(alone[0], each) for each in (turned[0, SHARED_A], turned[0, SHARED_B], wanted[0]))
    a2, b2, r2 = (_across(alone[1], each) for each in (turned[1, SHARED_A], turned[1, SHARED_B], wanted[1]))
    whole = a1 * b2 - a2 * b1
    safe = _safe(whole)
    shared_a, shared_b = (r1 * b2 - r2 * b1) / safe, (a1 * r2 - a2 * r1) / safe
    rest = wanted - turned[:, SHARED_A] * shared_a - turned[:, SHARED_B] * shared_b
    own = [(rest[k] * each.conj()).real / _safe((each * each.conj()).real) for k, each in enumerate(alone)]
    size = np.hypot(a1, b1) * np.hypot(a2, b2)
    return np.stack([shared_a, shared_b, *own]), whole / _safe(size)


def _across(a: Complexes, b: Complexes) -> Floats:
    """The cross product a × b."""
    return np.asarray(a.real * b.imag - a.imag * b.real)


def _safe(divisor: Floats) -> Floats:
    """Never quite 0: what comes of it is thrown away by the tests on steps and determinants."""
    return np.where(np.abs(divisor) < 1e-12, 1e-12, divisor)


def _shifts(chain: Chain, pins: Complexes, turns: Floats) -> Complexes:
    """(poses, links, n): links are placed one after another, from the fixed one outwards."""
    units = _units(turns)
    shifts = np.zeros(turns.shape, dtype=np.complex128)
    for link, pin, base in chain.routes:
        shifts[:, link] = shifts[:, base] + (units[:, base] - units[:, link]) * pins[pin]
    return shifts
