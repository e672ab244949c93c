"""Loads on the sheet: struts and springs to scale, masses with their kg, the handle. No Qt here.

A device is not rigid, but what it is made of rides on *frames* of its own, so that its shapes, as all others, are made
once and then only moved: a strut's tube turns about its first end, its rod about the second, both as the line between
the ends turns; a spring is drawn out along that line besides. The frames stand among the placements of the links, by
keys that no link can have. What keeps to a link (ends, masses, the handle) rides on that link.

Drawn: a gas strut as a tube with the rod that comes out of it, a tension spring as a coil between two leads, a
compression spring as one between two plates, a torsion spring as a spiral about its first end; diameters and lengths
are true. A mass is a disc of which two quarters are inked, all masses together such a disc in a ring, the handle a
bow to take hold of.
"""

from __future__ import annotations

from cmath import phase, rect
from functools import lru_cache
from math import hypot, pi, tau
from typing import TYPE_CHECKING

from app.lengths import format_number
from app.lettering import short_name
from app.quantities import MASS
from app.strokes import Label, Layer, Pen, Placement, Shape, Stroke, Symbol
from kinematics.loading import HANDLE, names_of
from kinematics.spanning import coil_of, eye_of, rod_length, rod_of, tube_end, tube_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from app.lengths import Units
    from app.look import Look
    from kinematics.loads import Loads
    from kinematics.parts import Attachment, Device, Handle, Mass
    from kinematics.project import Point

FRAME = "\x1f"  # no link's id holds a control character
BALANCE = f"{FRAME}all masses"
LEAST = 1e-6  # mm: ends nearer than this have no line between them
WINDS = 2.5  # of a torsion spring's spiral
LEAD = 0.12  # share of a spring's line that each of its leads takes
PITCH = 0.45  # of a coil, as a share of its diameter, when shut
FEWEST, MOST = 5, 24  # winds of a coil


def frame(device_id: str, part: str) -> str:
    """Give the key of a frame that rides on a device: "first" and "second" turn about its ends, "line" is drawn out."""
    return f"{FRAME}{part}{FRAME}{device_id}"


# ---------------------------------------------------------------------------------------------------------- placements
def load_placements(loads: Loads, links: Mapping[str, Placement]) -> dict[str, Placement]:
    """Give the placements of all frames that ride on loads, from those of the links."""
    found: dict[str, Placement] = {}
    for device in loads.devices:
        found |= _device_placements(device, links)
    if balance_at(loads.masses) is not None:
        shut, now = _middle(loads.masses), _middle(loads.masses, links)
        found[BALANCE] = Placement(0.0, now.real - shut.real, now.imag - shut.imag)
    return found


def _device_placements(device: Device, links: Mapping[str, Placement]) -> dict[str, Placement]:
    start, end = complex(*device.from_end.at), complex(*device.to_end.at)
    to_start, to_end = _carried(device.from_end, links), _carried(device.to_end, links)
    line, now = end - start, to_end - to_start
    turned = phase(now / line) if abs(line) > LEAST and abs(now) > LEAST else 0.0
    stretch = abs(now) / abs(line) if abs(line) > LEAST else 1.0
    stretch = max(stretch, LEAST)  # ends that meet are no reason to lose the way back
    way = line / abs(line) if abs(line) > LEAST else 1.0 + 0j
    drawn_out = start + (stretch - 1.0) * (start.real * way.real + start.imag * way.imag) * way
    first, second = to_start - rect(1.0, turned) * start, to_end - rect(1.0, turned) * end
    whole = to_start - rect(1.0, turned) * drawn_out
    return {
        frame(device.id, "first"): Placement(turned, first.real, first.imag),
        frame(device.id, "second"): Placement(turned, second.real, second.imag),
        frame(device.id, "line"): Placement(turned, whole.real, whole.imag, stretch, phase(way)),
    }


def _carried(end: Attachment, links: Mapping[str, Placement]) -> complex:
    return complex(*links[end.on].carry(end.at)) if end.on in links else complex(*end.at)


def balance_at(masses: Iterable[Mass]) -> Point | None:
    """Where all masses together balance when shut; None for fewer than two that weigh anything."""
    weighing = [mass for mass in masses if mass.mass > 0.0]
    if len(weighing) < 2:
        return None
    middle = _middle(weighing)
    return middle.real, middle.imag


def _middle(masses: Iterable[Mass], links: Mapping[str, Placement] | None = None) -> complex:
    parts = [(m.mass, complex(*(links[m.on].carry(m.at) if links and m.on in links else m.at))) for m in masses]
    return sum(mass * at for mass, at in parts) / sum(mass for mass, _ in parts)


# -------------------------------------------------------------------------------------------------------------- shapes
def load_shapes(loads: Loads, look: Look, units: Units) -> list[Shape]:
    """Give all that is drawn of the loads; weights are told in these units."""
    found: list[Shape] = []
    for device in loads.devices:
        found += device_shapes(device, look)
    for name, mass in zip(names_of(loads.masses), loads.masses, strict=True):
        found += _mass(name, mass, look, units)
    return [*found, *_balance(loads.masses, look, units), *_handle(loads.handle, look)]


def device_shapes(device: Device, look: Look) -> list[Shape]:
    """Draw a device to scale, with a ring at each end that can be taken."""
    line = complex(*device.to_end.at) - complex(*device.from_end.at)
    found: list[Shape] = []
    if device.kind == "torsion spring":
        found += _torsion(device, look)
    elif abs(line) > LEAST:
        found += _strut(device, look) if device.kind == "gas strut" else _coil(device, look)
    for number, end in enumerate((device.from_end, device.to_end)):
        key = f"end {number}:{device.id}"
        found.append(Symbol(key, end.on, (end.at,), "eye", look.ink, look.paper, Layer.PINS))
    return [*found, _name(device, line, look)]


def _name(device: Device, line: complex, look: Look) -> Label:
    x, y = device.from_end.at
    at, words = (x + line.real / 2, y + line.imag / 2), short_name(device.id)
    words = f"{device.count} × {words}" if device.count > 1 else words
    key, ink, across = f"name of device:{device.id}", look.faint, (abs(line.imag) + 1e-9, -abs(line.real))
    rides, room = frame(device.id, "line"), abs(line)
    return Label(key, rides, at, words, ink, look.paper, look.small_px, across, rank=8, clear_px=10.0, span=room)


class _Line:
    """Points beside a line, by how far along it and how far to its left they stand (mm)."""

    def __init__(self, device: Device, back: bool = False) -> None:
        start, end = complex(*device.from_end.at), complex(*device.to_end.at)
        self.length = abs(end - start)
        self._way, self._from = (end - start) / self.length, end if back else start

    def at(self, along: float, aside: float = 0.0) -> Point:
        """Give one of them."""
        z = self._from + self._way * complex(along, aside)
        return z.real, z.imag

    def box(self, start: float, end: float, wide: float) -> tuple[Point, ...]:
        """Give the corners of a band along the line."""
        half = wide / 2
        return self.at(start, half), self.at(end, half), self.at(end, -half), self.at(start, -half)


def _strut(device: Device, look: Look) -> list[Shape]:
    """The rod first, as the tube lies over it."""
    pen, eye, wide = Pen(look.link, look.line), eye_of(device), tube_of(device)
    first, second = frame(device.id, "first"), frame(device.id, "second")
    tube, rod, layer, stem = _Line(device), _Line(device, back=True), Layer.DEVICES, f"device:{device.id}"
    faces = (
        Stroke(f"{stem}:rod", second, rod.box(-rod_length(device), -eye, rod_of(device)), Pen(look.link, look.thin),
               layer, closed=True, fill=look.paper),
        Stroke(f"{stem}:tube", first, tube.box(eye, tube_end(device), wide), pen, layer, closed=True,
               fill=look.link_fill),
    )  # fmt: skip
    gland = max(tube_end(device) - 0.5 * wide, eye)
    return [
        faces[0],
        Stroke(f"{stem}:rod end", second, (rod.at(-eye), rod.at(0.0)), pen, layer),
        faces[1],
        Stroke(f"{stem}:gland", first, (tube.at(gland, wide / 2), tube.at(gland, -wide / 2)), pen, layer),
        Stroke(f"{stem}:tube end", first, (tube.at(0.0), tube.at(eye)), pen, layer),
    ]


def _coil(device: Device, look: Look) -> list[Shape]:
    line, wide = _Line(device), coil_of(device)
    pushes = device.kind == "compression spring"
    points = _zigzag(device.from_end.at, device.to_end.at, wide)
    rides, stem = frame(device.id, "line"), f"device:{device.id}"
    found: list[Shape] = [Stroke(f"{stem}:coil", rides, points, Pen(look.link, look.line), Layer.DEVICES)]
    if pushes:
        for number, along in enumerate((LEAD * line.length, (1.0 - LEAD) * line.length)):
            plate = line.at(along, 0.6 * wide), line.at(along, -0.6 * wide)
            found.append(Stroke(f"{stem}:plate {number}", rides, plate, Pen(look.link, look.heavy), Layer.DEVICES))
    return found


@lru_cache(maxsize=64)
def _zigzag(start: Point, end: Point, wide: float) -> tuple[Point, ...]:
    """The coil from end to end, seen from the side: a straight lead, winds, a straight lead."""
    a, line = complex(*start), complex(*end) - complex(*start)
    aside = 0.5j * wide * line / abs(line)
    winds = min(max(round(abs(line) * (1.0 - 2.0 * LEAD) / (PITCH * wide)), FEWEST), MOST)
    shares = [LEAD + (1.0 - 2.0 * LEAD) * (k + 0.5) / (2 * winds) for k in range(2 * winds)]
    turns = [a + share * line + (aside if k % 2 else -aside) for k, share in enumerate(shares)]
    spots = [a, a + LEAD * line, *turns, a + (1.0 - LEAD) * line, a + line]
    return tuple((z.real, z.imag) for z in spots)


def _torsion(device: Device, look: Look) -> list[Shape]:
    stem, pen = f"device:{device.id}", Pen(look.link, look.line)
    start, end = device.from_end.at, device.to_end.at
    found: list[Shape] = [
        Stroke(f"{stem}:spiral", device.from_end.on, _spiral(start, coil_of(device)), pen, Layer.DEVICES)
    ]
    if hypot(end[0] - start[0], end[1] - start[1]) > LEAST:
        found.append(Stroke(f"{stem}:leg", frame(device.id, "line"), (start, end), pen, Layer.DEVICES))
    return found


@lru_cache(maxsize=64)
def _spiral(about: Point, wide: float) -> tuple[Point, ...]:
    steps = 60
    turns = (rect(0.5 * wide * (0.25 + 0.75 * k / steps), tau * WINDS * k / steps - pi / 2) for k in range(steps + 1))
    return tuple((about[0] + z.real, about[1] + z.imag) for z in turns)


def _mass(name: str, mass: Mass, look: Look, units: Units) -> list[Shape]:
    return [
        Symbol(f"mass:{name}", mass.on, (mass.at,), "mass", look.ink, look.paper, Layer.PINS),
        _words(f"name of mass:{name}", mass.on, mass.at, weight_words(mass.mass, units), look),
    ]


def _balance(masses: tuple[Mass, ...], look: Look, units: Units) -> list[Shape]:
    at = balance_at(masses)
    if at is None:
        return []
    words = f"{weight_words(sum(mass.mass for mass in masses), units)} in all"
    return [
        Symbol("all masses", BALANCE, (at,), "all masses", look.ink, look.paper, Layer.PINS),
        _words("name of all masses", BALANCE, at, words, look),
    ]


def weight_words(mass: float, units: Units) -> str:
    """Say a mass as on a drawing, to four digits: "18 kg", "39.68 lb"."""
    worth = MASS.units[MASS.unit(units)]
    return f"{format_number(float(f'{mass / float(worth):.4g}'), units)} {MASS.unit(units)}"


def _handle(handle: Handle | None, look: Look) -> list[Shape]:
    if handle is None:
        return []
    return [
        Symbol(f"handle:{HANDLE}", handle.on, (handle.at,), "grip", look.ink, look.paper, Layer.PINS),
        _words(f"name of handle:{HANDLE}", handle.on, handle.at, "handle", look),
    ]


def _words(key: str, link: str, at: Point, text: str, look: Look) -> Label:
    return Label(key, link, at, text, look.ink, look.paper, look.small_px, (1.0, -1.0), rank=6, clear_px=10.0)
