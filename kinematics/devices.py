"""Devices: what struts and springs push with, and where a strut comes to its end.

Terms. A device's *length* is the distance of its two pins (mm). It *pushes* its ends apart by a force along the line
of them (N; negative: it pulls them together); all figures here are of one device, and `count` of them work side by
side.

- A gas strut pushes by the makers' straight line, `force`·(1 + (`ratio` − 1)·(`extended` − L)/`stroke`), from
  `extended` − `stroke` to `extended`; at either end it stops the motion. Its gas is sealed in, so the force goes with
  the absolute temperature: F/F₂₀ = T/293.15 K (law of Gay-Lussac). The gauge force of a real strut changes a little
  more, by the pressure of the air outside over that within.
- A tension spring pulls by `initial` + `rate`·(L − `free`) where L > `free`; a compression spring pushes by `initial`
  + `rate`·(`free` − L) where L < `free`; elsewhere they are slack.
- A torsion spring turns the link of its second end against that of its first by `moment` when shut, anticlockwise
  where that is positive; by `moment_rate` less for each degree that it has unwound, and by nothing once it is slack.

Sources: the straight line and the springs are the project file's definitions (format.md); ideal gas at constant
volume, any physics text.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from kinematics.closure import Spots

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from kinematics.arrays import Complexes, Floats, Ints
    from kinematics.branch import Branch
    from kinematics.closure import Closure
    from kinematics.parts import Device

KELVIN = 273.15
"""Absolute temperature of 0 °C."""
ROOM_TEMPERATURE = 20.0
"""°C, at which makers state a strut's force, and the project file too."""
GRAZE = 1e-9
"""A strut may pass its end by so much (mm): rounding, no stop."""
CLOSE = 1e-5
"""Mm by which the cubics between knots may miss a length, amply."""
SAG = 8.0 / 27.0
"""Twice 4/27, the largest value of either of Hermite's functions for the end rates."""
PARTS = 4
"""Samples in each stretch between knots when a strut's end is sought."""
ONE_PLACE = 1e-9
"""Ends nearer than this (mm) have no line between them, and the device no direction to push in."""


def gas_factor(temperature: float) -> float:
    """How much of its force at 20 °C a sealed strut has at a temperature (°C)."""
    return (KELVIN + temperature) / (KELVIN + ROOM_TEMPERATURE)


def push(device: Device, length: Floats, temperature: float = ROOM_TEMPERATURE) -> Floats:
    """Force (N) by which one device pushes its ends apart at pin-to-pin lengths (mm); a torsion spring has none.

    Beyond its ends a strut is taken at them: no pose that is reported lies there.
    """
    if device.kind == "gas strut":
        low, high = bounds(device)
        stroke, more = _known(device.stroke), _known(device.ratio) - 1.0
        inside = np.minimum(np.maximum(length, low), high)
        line = 1.0 + more * (high - inside) / stroke
        return np.asarray(_known(device.force) * gas_factor(temperature) * line)
    if device.kind == "torsion spring":
        return np.zeros_like(length)
    free, initial, rate = _known(device.free), _known(device.initial), _known(device.rate)
    if device.kind == "tension spring":
        return np.asarray(np.where(length > free, -(initial + rate * (length - free)), 0.0))
    return np.asarray(np.where(length < free, initial + rate * (free - length), 0.0))


def moment(device: Device, turned: Floats) -> Floats:
    """N·mm, anticlockwise, by which one torsion spring turns the link of its second end against that of its first.

    turned : rad, how far the second has turned against the first since shut.   0 for all other devices.
    """
    if device.kind != "torsion spring":
        return np.zeros_like(turned)
    way = np.sign(_known(device.moment))
    left = abs(_known(device.moment)) - _known(device.moment_rate) * way * np.degrees(turned)
    return np.asarray(way * np.maximum(left, 0.0))


def bounds(device: Device) -> tuple[float, float]:
    """Shortest and longest length (mm) of a device; springs have no bound."""
    if device.kind != "gas strut":
        return 0.0, float("inf")
    return _known(device.extended) - _known(device.stroke), _known(device.extended)


def _known(value: float | None) -> float:
    """A figure that the part has made sure of."""
    return 0.0 if value is None else value


# ---------------------------------------------------------------------------------------------------------- in place
@dataclass(frozen=True, slots=True, eq=False)
class Fitted:
    """Devices in a linkage.

    across : the way from each first end to its second, as if it were a place.   tails, heads : (m,) columns of the
    links on which they are.   share : (m, links), 1 for the link of the second end, −1 for that of the first.
    """

    devices: tuple[Device, ...]
    across: Spots
    tails: Ints
    heads: Ints
    share: Floats

    def spans(self, e: Complexes) -> tuple[Floats, Complexes]:
        """(poses, links) e → lengths (poses, devices) mm, and unit ways from the first end to the second.

        Where the ends lie in one place the way is 0.
        """
        across = self.across.places(e)
        lengths = np.abs(across)
        ways = np.where(lengths > ONE_PLACE, across, 0.0) / np.maximum(lengths, ONE_PLACE)
        return lengths, np.asarray(ways)

    def lengthening(self, e: Complexes, turns: Floats, ways: Complexes) -> Floats:
        """(poses, devices) mm by which the lengths grow per unit of the links' turn rates."""
        return np.asarray((ways.conj() * self.across.rates(e, turns)).real)

    def pushes(self, lengths: Floats, temperature: float) -> Floats:
        """(poses, devices) N, of one device each."""
        found = np.empty_like(lengths)
        for k, device in enumerate(self.devices):
            found[:, k] = push(device, lengths[:, k], temperature)
        return found


def fitted(devices: Iterable[Device], closure: Closure) -> Fitted:
    """The devices with their ends on the links of a closure."""
    devices = tuple(devices)
    count = len(devices)
    ends = [each.from_end for each in devices] + [each.to_end for each in devices]
    spots = closure.spots([(end.on, end.at) for end in ends])
    tails, heads = spots.links[:count], spots.links[count:]
    share = np.zeros((count, len(closure.links)))
    rows = np.arange(count)
    share[rows, heads] += 1.0
    share[rows, tails] -= 1.0
    return Fitted(devices, Spots(heads, spots.rows[count:] - spots.rows[:count]), tails, heads, share)


# ------------------------------------------------------------------------------------------------------------- stops
@dataclass(frozen=True, slots=True)
class Stop:
    """A strut at its end: its id, whether drawn out or pushed in, and its length when shut (mm)."""

    device: str
    drawn_out: bool
    shut: float


def first_stop(devices: Sequence[Device], closure: Closure, branch: Branch, reach: float) -> tuple[float, Stop] | None:
    """The first place along the branch, from shut to `reach` (rad), at which a strut is at its end, and which one.

    The place is exact as poses are. None where no strut stops the motion before `reach`. A strut that doesn't fit when
    shut stops it there.
    """
    struts = [each for each in devices if each.kind == "gas strut"]
    if not struts or len(branch.arcs) == 1:
        return None
    ends = _Ends(fitted(struts, closure), closure, branch)
    arcs = samples(branch.arcs, reach)
    lengths, growing = ends.nearly(arcs)
    if ends.least(lengths) - SAG * (arcs[1:] - arcs[:-1]).max() * np.abs(growing).max() > CLOSE:
        return None
    left, rates = ends.left(lengths), np.stack([growing, -growing], axis=2).reshape(len(growing), -1)
    best: tuple[float, int] | None = None
    for k in range(left.shape[1]):
        arc = first_past(arcs, left[:, k], rates[:, k], partial(ends.exactly, column=k))
        if arc is not None and (best is None or arc < best[0]):
            best = arc, k
    if best is None:
        return None
    device = struts[best[1] // 2]
    shut = float(ends.places.spans(np.ones((1, len(closure.links)), dtype=np.complex128))[0][0, best[1] // 2])
    return best[0], Stop(device.id, best[1] % 2 == 1, shut)


@dataclass(frozen=True, slots=True, eq=False)
class _Ends:
    """How much way struts have left to either end: columns 2k to the short one, 2k + 1 to the long one of strut k."""

    places: Fitted
    closure: Closure
    branch: Branch

    def nearly(self, arcs: Floats) -> tuple[Floats, Floats]:
        """(n, struts) lengths, mm, and their rates by arc, by the cubics."""
        y, dy = self.branch.cubic_and_rates(arcs, self.branch.interval(arcs))
        e = np.exp(1j * self.closure.link_turns(y))
        lengths, ways = self.places.spans(e)
        return lengths, self.places.lengthening(e, self.closure.link_turns(dy), ways)

    def exactly(self, arc: float, column: int) -> float:
        """Mm left at an exact pose."""
        y = self.branch.at(np.array([arc]))
        return float(self.left(self.places.spans(np.exp(1j * self.closure.link_turns(y)))[0])[0, column])

    def least(self, lengths: Floats) -> float:
        """The least that is left of any, mm; lengths (n, struts)."""
        shortest, longest = lengths.min(axis=0).tolist(), lengths.max(axis=0).tolist()
        each = zip(map(bounds, self.places.devices), shortest, longest, strict=True)
        return float(min(min(short - low, high - long) for (low, high), short, long in each))

    def left(self, lengths: Floats) -> Floats:
        """(n, 2·struts) mm left."""
        low, high = np.array([bounds(each) for each in self.places.devices]).T
        return np.stack([lengths - low, high - lengths], axis=2).reshape(len(lengths), -1)


def samples(knots: Floats, reach: float) -> Floats:
    """Places from shut to `reach`, PARTS in each stretch between knots."""
    inner = (knots[:-1, None] + np.diff(knots)[:, None] * (np.arange(PARTS) / PARTS)).ravel()
    return np.concatenate([[0.0], inner[(inner > 1e-9) & (inner < reach - 1e-9)], [reach]])


def first_past(arcs: Floats, left: Floats, rates: Floats, exactly: Callable[[float], float]) -> float | None:
    """The first place at which less than nothing is left; None where there is none. Shut is a knot: exact."""
    if left[0] < -GRAZE:
        return 0.0
    for i, dips in _suspects(arcs, left, rates):
        start, end = float(arcs[i]), float(arcs[i + 1])
        if exactly(end) >= -GRAZE:
            end = _deepest(start, end, exactly) if dips else start
            if exactly(end) >= -GRAZE:
                continue
        return _zero(start, end, exactly)
    return None


def _suspects(arcs: Floats, left: Floats, rates: Floats) -> list[tuple[int, bool]]:
    """Stretches between samples in which what is left may fall below nothing: at its end, or (True) in a dip before.

    A cubic lies no lower under the lower of its ends than SAG of its span times the steeper of its end rates.
    """
    sag = SAG * np.diff(arcs) * np.maximum(-rates[:-1], rates[1:])
    dips = (rates[:-1] < 0.0) & (rates[1:] > 0.0) & (np.minimum(left[:-1], left[1:]) - sag < CLOSE)
    return [(i, bool(dips[i])) for i in np.flatnonzero(dips | (left[1:] < CLOSE)).tolist()]


def _deepest(low: float, high: float, exactly: Callable[[float], float]) -> float:
    """The place between two at which least is left, by thirds."""
    for _ in range(60):
        third = (high - low) / 3.0
        if exactly(low + third) < exactly(high - third):
            high -= third
        else:
            low += third
    return 0.5 * (low + high)


def _zero(low: float, high: float, exactly: Callable[[float], float]) -> float:
    """The place at which nothing is left, from one where something is to one where less is: secants in their bracket.

    Illinois's way: the value of an end that stays twice counts half, so that no end stays for ever.
    """
    f_low, f_high = exactly(low), exactly(high)
    if f_low <= 0.0:
        return low
    place, side = high, 0
    for _ in range(60):
        place = low + (high - low) * f_low / (f_low - f_high)
        value = exactly(place)
        if abs(value) < 1e-12 or high - low < 1e-15:
            break
        if value > 0.0:
            low, f_low, f_high = place, value, 0.5 * f_high if side > 0 else f_high
            side = 1
        else:
            high, f_high, f_low = place, value, 0.5 * f_low if side < 0 else f_low
            side = -1
    return place
