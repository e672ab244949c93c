"""A gust on the open panel: wind speed → pressure → a force on the panel's chord, either way.

Terms. The *chord* is the line between the two points of the panel's outlines that lie furthest apart; the *area* is the
chord times the panel's width across the body. The gust presses squarely on the chord, at its middle, from either side:

    q = ½·ρ·v²,  F = c_f·q·A.

v is the gust's own speed, so nothing is added for gusts. Sources: air of 1.25 kg/m³, EN 1991-1-4:2005, 4.5 (1) note 2;
c_f = 1.80 of a flat board square to the wind, the same, 7.4.3 (signboards). Both from memory.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics.arrays import as_complex
from kinematics.results import Gust

if TYPE_CHECKING:
    from collections.abc import Iterable

    from kinematics.arrays import Complexes, Floats
    from kinematics.closure import Closure
    from kinematics.parts import Outline
    from kinematics.project import Project

AIR = 1.25
"""kg/m³."""
FORCE_COEFFICIENT = 1.80
"""Of a flat board square to the wind."""
MM2 = 1e-6
"""m² of a mm²."""


def pressure(speed: float) -> float:
    """Dynamic pressure (Pa, N/m²) of wind at a speed (m/s)."""
    return 0.5 * AIR * speed**2


@dataclass(frozen=True, slots=True)
class Board:
    """What the wind meets: the chord's ends (complex mm, shut), and the panel's width across (mm)."""

    ends: tuple[complex, complex]
    across: float

    @property
    def chord(self) -> float:
        """Mm."""
        return abs(self.ends[1] - self.ends[0])

    def gust(self, speed: float) -> Gust:
        """What a gust of a speed (m/s) comes to."""
        area = self.chord * self.across * MM2
        press = pressure(speed)
        return Gust(speed, press, self.chord, area, FORCE_COEFFICIENT * press * area)

    def work(self, closure: Closure, e: Complexes, force: float) -> Floats:
        """(n, links) N·mm per rad of each link's turn that a force (N) does which presses squarely on the chord."""
        first, second = self.ends
        middle, normal = 0.5 * (first + second), 1j * (second - first) / self.chord
        spots = closure.spots([(closure.links[closure.panel], (middle.real, middle.imag))])
        return spots.efforts(e, force * normal * e[:, closure.panel : closure.panel + 1])


def board(project: Project) -> Board | None:
    """What the wind meets; None where the panel isn't drawn, or nobody said how wide it is."""
    loads = project.loads
    if loads is None or loads.across is None:
        return None
    ends = chord_ends([outline for outline in project.outlines if outline.on == project.panel.id])
    return None if ends is None else Board(ends, loads.across)


def chord_ends(outlines: Iterable[Outline]) -> tuple[complex, complex] | None:
    """The two points (complex mm, shut) that lie furthest apart; None where there are no two places."""
    points = [point for outline in outlines for point in outline.points]
    if len(points) < 2:
        return None
    corners = as_complex(shapely.get_coordinates(shapely.convex_hull(shapely.multipoints(points))))
    apart = np.abs(corners[:, None] - corners)
    i, j = np.unravel_index(int(np.argmax(apart)), apart.shape)
    return (complex(corners[i]), complex(corners[j])) if apart[i, j] > 0.0 else None
