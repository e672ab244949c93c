"""Leading: pins placed so that the links lead the panel through a course, link by link.

A course gives the panel three poses. A link with pins on two bodies whose poses are known is a dyad
(`kinematics.dyads`): one of its pins may be anywhere, the circle through that pin's three places gives the other, and
then the link's own poses are known as well, for the links that hang on it. Where no link has two such pins, one is
*swung*: it hangs on a known body by a pin that may be anywhere, and turns by lot. So every chain closes in all three
poses, and as good as all of its pins are where the lot wanted them. What is not promised, the branch and the way
between the poses, the march finds out.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from kinematics.dyads import Poses, fixed_points, moving_points
from kinematics.proposals.chains import FIXED, PANEL

if TYPE_CHECKING:
    from kinematics.arrays import Bools, Complexes, Floats
    from kinematics.proposals.chains import Chain

HALFWAY = (0.3, 0.7)
"""Between these shares of its whole turn a swung link has turned at the middle pose."""


@dataclass(frozen=True, slots=True)
class Step:
    """How one link is placed: its one pin (swung) or two pins (a dyad) on bodies known before, and those bodies."""

    link: int
    pins: tuple[int, ...]
    bodies: tuple[int, ...]


@cache
def plan(chain: Chain) -> tuple[Step, ...]:
    """In which order the links between the fixed link and the panel are placed: dyads first, wherever there is one."""
    known, left = {FIXED, PANEL}, [link for link in range(chain.links) if link not in (FIXED, PANEL)]
    steps: list[Step] = []
    while left:
        reach = {link: [pin for pin in chain.on(link) if _across(chain, pin, link) in known] for link in left}
        dyads = [link for link in left if len(reach[link]) > 1]
        link = dyads[0] if dyads else max((each for each in left if reach[each]), key=lambda each: len(chain.on(each)))
        pins = tuple(reach[link][:2])
        steps.append(Step(link, pins, tuple(_across(chain, pin, link) for pin in pins)))
        known.add(link)
        left.remove(link)
    return tuple(steps)


def _across(chain: Chain, pin: int, link: int) -> int:
    """The other link of a pin."""
    one, other = chain.pins[pin]
    return other if one == link else one


def led(
    chain: Chain, panel: Poses, first: Complexes, free: Bools, span: float, random: np.random.Generator
) -> tuple[Complexes, Bools]:
    """Pins (pins, n) with which the links lead the panel, and which candidates have such (n,).

    panel : (n, 3) its poses, the first being shut.     first : (pins, n) where the lot wants the pins.
    free : (pins, n) which may be moved; of a dyad whose two pins may not, nothing is promised.
    span : rad, by about so much a swung link turns.
    """
    count, pins = first.shape[1], first.copy()
    still = np.zeros((count, 3))
    known = {FIXED: Poses(still.astype(np.complex128), still), PANEL: panel}
    found = np.ones(count, dtype=np.bool_)
    for step in plan(chain):
        if len(step.pins) == 1:
            base = known[step.bodies[0]]
            known[step.link] = _hung(base, pins[step.pins[0]], _turns(span, count, random))
        else:
            base, mover = (known[body] for body in step.bodies)
            moved = np.asarray(random.uniform(size=count) < 0.5)
            found &= _joined(base, mover, pins, free, step.pins, moved)
            known[step.link] = _between(base.places(pins[step.pins[0]]), mover.places(pins[step.pins[1]]))
    return pins, found


def _turns(span: float, count: int, random: np.random.Generator) -> Floats:
    """(n, 3) turns by lot."""
    full = span * random.normal(size=count)
    return np.stack([np.zeros(count), full * random.uniform(*HALFWAY, count), full], axis=1)


def _hung(base: Poses, pin: Complexes, turns: Floats) -> Poses:
    """The poses of a link that hangs on a body by a pin and turns."""
    return Poses(np.asarray(base.places(pin) - np.exp(1j * turns) * pin[:, None]), turns)


def _between(one: Complexes, other: Complexes) -> Poses:
    """The poses of a link from the places (n, 3) of two of its pins, the first being shut."""
    way = other - one
    shut = np.where(way[:, :1] != 0.0, way[:, :1], 1.0)
    return _hung(Poses(one - one[:, :1], np.zeros(one.shape)), one[:, 0], np.angle(way / shut))


def _joined(base: Poses, mover: Poses, pins: Complexes, free: Bools, which: tuple[int, ...], moved: Bools) -> Bools:
    """Put one pin of each dyad where the other asks it to be; which dyads there are.

    moved : where the pin on the mover is the one to be put, if both may.
    """
    on_base, on_mover = which
    seen = mover.seen_from(base)
    to_base, to_mover = fixed_points(seen, pins[on_mover]), moving_points(seen, pins[on_base])
    put_mover = free[on_mover] & (moved | ~free[on_base])
    put_base = free[on_base] & ~put_mover
    pins[on_base] = np.where(put_base, to_base.middle, pins[on_base])
    pins[on_mover] = np.where(put_mover, to_mover.middle, pins[on_mover])
    return np.asarray(np.where(put_mover, to_mover.found, to_base.found | ~put_base))
