"""The hinge in space: plates, washers, tubes, heads and pins as prisms, looked at from a side, far ones drawn first.

All prisms stand along the pins. They are cut at every face that any of them has, into *slabs*; what is in a higher slab
hides what is in a lower one, and in one slab nothing stands in another thing, so that what is nearer hides what is
farther. That is the painter's algorithm, and here it needs no more.

The view is turned about the pins by `yaw`, and tilted by `tilt` from looking straight at the side view (0). It is
parallel: lengths across are kept. `stretch` draws the pins so many times as long.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from math import cos, pi, sin
from typing import TYPE_CHECKING

import numpy as np

from app.hardware import hardware
from kinematics.errors import HingewrightError
from kinematics.plating import cut_of
from kinematics.stacking import webs_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from kinematics.analysis import Analysis
    from kinematics.arrays import Floats
    from kinematics.project import Project
    from kinematics.results import Pose
    from kinematics.stacking import PinStack, StackMade

ROUND = 20
"""Corners of a circle."""
SAGITTA = 0.4
"""Mm by which a plate's polygon may miss its arcs here."""
STEEPEST = 85.0
"""Degrees of tilt at most."""
STRIPS = 3
"""Shades of what is round."""
EDGE_SHADE = 0.55
"""How much darker walls are that look away from the light."""


@dataclass(frozen=True, slots=True, eq=False)
class Prism:
    """A ring (n, 2) anticlockwise, mm, in the fixed link's frame, from low to high.   kind : what it is of.

    name : of the link or pin.
    """

    ring: Floats
    low: float
    high: float
    kind: str
    name: str


@dataclass(frozen=True, slots=True, eq=False)
class Face:
    """A face as it is seen: (n, 2) mm on the sheet, y up.   light : 0 dark … 1 as bright as its colour."""

    points: Floats
    kind: str
    name: str
    light: float


@dataclass(frozen=True, slots=True)
class View:
    """Where it is looked at from."""

    yaw_deg: float = -25.0
    tilt_deg: float = 55.0
    stretch: float = 1.0

    def turned(self, yaw: float, tilt: float) -> View:
        """The view turned further, degrees."""
        steep = min(max(self.tilt_deg + tilt, -STEEPEST), STEEPEST)
        return replace(self, yaw_deg=(self.yaw_deg + yaw + 180.0) % 360.0 - 180.0, tilt_deg=steep)

    def seen(self, ring: Floats, height: float) -> Floats:
        """Where points (n, 2) at a height stand on the sheet."""
        turned = ring @ self._turn().T
        tilt = self.tilt_deg * pi / 180.0
        return np.column_stack([turned[:, 0], turned[:, 1] * cos(tilt) + self.stretch * height * sin(tilt)])

    def away(self, ring: Floats) -> Floats:
        """(n,) mm by which points lie farther from the eye than others of their height."""
        return np.asarray((ring @ self._turn().T)[:, 1] * sin(self.tilt_deg * pi / 180.0))

    def _turn(self) -> Floats:
        yaw = self.yaw_deg * pi / 180.0
        return np.array([[cos(yaw), -sin(yaw)], [sin(yaw), cos(yaw)]])


def prisms(analysis: Analysis, stack: StackMade, pose: Pose) -> list[Prism]:
    """All of the hinge at a pose."""
    return [
        Prism(pose.places(column, solid.ring), solid.low, solid.high, solid.kind, solid.name)
        for column, solid in _shut(analysis, stack)
    ]


@lru_cache(maxsize=2)  # the pose alone changes while it is swung
def _shut(analysis: Analysis, stack: StackMade) -> tuple[tuple[int, Prism], ...]:
    """All of the hinge shut, each with the column of the link that carries it."""
    project = analysis.project
    columns = {link: column for column, link in enumerate(analysis.links)}
    found: list[tuple[int, Prism]] = []
    drawn: set[tuple[str, float]] = set()
    for pin in stack.pins:
        pivot = project.pivot(pin.pivot)
        found += [(columns[pivot.joins[0]], solid) for solid in _on_pin(pin, np.array(pivot.at))]
        for piece in pin.pieces:
            if piece.kind == "plate" and (piece.link, piece.low) not in drawn:
                drawn.add((piece.link, piece.low))
                found += [
                    (columns[piece.link], Prism(ring, piece.low, piece.high, "plate", piece.link))
                    for ring in _rings(project, piece.link)
                ]
    return tuple(found)


def _rings(project: Project, link: str) -> list[Floats]:
    """A link's plate, or the eyes round its pins, shut."""
    try:
        cut = cut_of(project, project.link(link))
    except HingewrightError:  # it can't be as it is drawn, which the stack tells
        cut = None
    contour = webs_of(project, hardware()).get(link) if cut is None else cut.outer
    if contour is not None:
        return [contour.polyline(SAGITTA)]
    radius = project.plating.of(link, project.link(link).width).radius or 0.0
    return [_circle(np.array(pivot.at), radius) for pivot in project.pivots_on(link)]


def _circle(centre: Floats, radius: float) -> Floats:
    angles = np.linspace(0.0, 2.0 * pi, ROUND, endpoint=False)
    return np.asarray(centre + radius * np.column_stack([np.cos(angles), np.sin(angles)]))


def _on_pin(pin: PinStack, centre: Floats) -> Iterator[Prism]:
    """What lies on a pin, its ends, and the pin where nothing is round it."""
    plates = [piece for piece in pin.pieces if piece.kind == "plate"]
    for piece in pin.all_pieces:
        if piece.kind == "bushing":  # what of it stands proud of its plate
            own = (plate for plate in plates if plate.link == piece.link)
            plate = min(own, key=lambda each: abs(each.low - piece.low))
            for low, high in ((piece.low, plate.low), (plate.high, piece.high)):
                if high > low + 1e-9:
                    yield Prism(_circle(centre, 0.5 * piece.outside), low, high, piece.kind, pin.pivot)
        elif piece.kind != "plate":
            yield Prism(_circle(centre, 0.5 * piece.outside), piece.low, piece.high, piece.kind, pin.pivot)
    ends = [pin.head] if pin.joint.pin.kind == "clevis pin" else [pin.head, pin.clip]
    for low, high, wide in ends:
        yield Prism(_circle(centre, 0.5 * wide), low, high, "head", pin.pivot)
    low, high = pin.shank
    taken = sorted((each.low, each.high) for each in pin.all_pieces if each.counts)
    for start, end in ((low, taken[0][0]), (taken[-1][1], high)):
        if end > start + 1e-9:
            yield Prism(_circle(centre, 0.5 * pin.joint.pin.diameter), start, end, "pin", pin.pivot)


def faces(solids: list[Prism], view: View) -> list[Face]:
    """All faces that may be seen, far ones first."""
    cuts = sorted({round(height, 6) for solid in solids for height in (solid.low, solid.high)})
    looked_at = sorted((_Looked(solid, view) for solid in solids), key=lambda each: -each.away)
    found: list[Face] = []
    for low, high in pairwise(cuts):
        here = [each for each in looked_at if each.solid.low < high - 1e-7 and each.solid.high > low + 1e-7]
        for each in here:
            found += each.walls(max(low, each.solid.low), min(high, each.solid.high))
        found += [each.top() for each in here if each.solid.high <= high + 1e-6]
    return found


class _Looked:
    """A prism as it is looked at: what doesn't hang on the slab is worked out once."""

    def __init__(self, solid: Prism, view: View) -> None:
        self.solid, ring = solid, solid.ring
        self._flat, self._up = view.seen(ring, 0.0), view.seen(np.zeros((1, 2)), 1.0)[0]
        away = view.away(ring)
        self.away = float(away.mean())
        along = np.roll(ring, -1, axis=0) - ring
        outward = np.column_stack([along[:, 1], -along[:, 0]])
        self._toward = -view.away(outward) / np.maximum(np.hypot(*along.T), 1e-12)
        self._strips = self._in_strips(away + np.roll(away, -1))

    def _in_strips(self, away: Floats) -> list[tuple[NDArray[np.intp], float]]:
        """The walls that look this way, far ones first, each with its light; of what is round a few strips."""
        seen = np.flatnonzero(self._toward > 1e-9)
        if self.solid.kind == "plate":
            strips = [np.array([k]) for k in seen[np.argsort(-away[seen], kind="stable")].tolist()]
        else:
            first = next((k for k in seen.tolist() if self._toward[k - 1] <= 1e-9), 0)
            strips = np.array_split((first + np.arange(len(seen))) % len(self._flat), STRIPS)
        lights = [1.0 - EDGE_SHADE * (1.0 - 0.6 * float(self._toward[strip].mean())) for strip in strips if len(strip)]
        corners = [np.append(strip, (strip[-1] + 1) % len(self._flat)) for strip in strips if len(strip)]
        return list(zip(corners, lights, strict=True))

    def walls(self, low: float, high: float) -> Iterator[Face]:
        """Its walls within a slab."""
        bottom, top = self._flat + low * self._up, self._flat + high * self._up
        for corners, light in self._strips:
            points = np.concatenate([bottom[corners], top[corners][::-1]])
            yield Face(points, self.solid.kind, self.solid.name, light)

    def top(self) -> Face:
        """Its upper face."""
        return Face(self._flat + self.solid.high * self._up, self.solid.kind, self.solid.name, 1.0)
