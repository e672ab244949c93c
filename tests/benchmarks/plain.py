"""The plain way, as anyone would write it: `fsolve` for every pose, then a distance for every pose and pair.

It is what the program's speed is compared with, in the same run: scipy.optimize.fsolve with the analytic Jacobian, each
pose from the one before, then `shapely.distance` of the placed outlines. It finds the gaps at the poses only.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import shapely
from scipy.optimize import fsolve

from kinematics.arrays import as_complex
from kinematics.plate_shapes import plate_cut

if TYPE_CHECKING:
    from kinematics.project import Project

ARM, CROSS, SHORT, LIFT = range(4)  # the four unknown turns of the demo's six-bar


def place_of(project: Project, pivot: str) -> complex:
    return complex(*project.pivot(pivot).at)


def motion(project: Project, poses: int) -> tuple[np.ndarray, np.ndarray]:
    """Turns (poses, 4) of arm, cross link, short link and lift link, and the panel's turns (poses,), rad."""
    o1, o2, x, b, q, p1, p2 = (place_of(project, pivot) for pivot in ("O1", "O2", "X", "B", "Q", "P1", "P2"))

    def residual(t: np.ndarray, panel: float) -> np.ndarray:
        e = np.exp(1j * t)
        lower = o1 + e[ARM] * (x - o1) + e[CROSS] * (b - x) - o2 - e[SHORT] * (b - o2)
        upper = e[ARM] * (p1 - x) + np.exp(1j * panel) * (p2 - p1) + e[LIFT] * (q - p2) - e[CROSS] * (q - x)
        return np.array([lower.real, lower.imag, upper.real, upper.imag])

    def jacobian(t: np.ndarray, _panel: float) -> np.ndarray:
        e = 1j * np.exp(1j * t)
        lower = np.array([e[ARM] * (x - o1), e[CROSS] * (b - x), -e[SHORT] * (b - o2), 0.0])
        upper = np.array([e[ARM] * (p1 - x), -e[CROSS] * (q - x), 0.0, e[LIFT] * (q - p2)])
        return np.array([lower.real, lower.imag, upper.real, upper.imag])

    sign = project.travel.sign
    panel_turns = sign * np.radians(np.linspace(0.0, project.travel.wanted_deg, poses))
    turns = np.zeros((poses, 4))
    guess = np.zeros(4)
    for k, panel in enumerate(panel_turns):
        guess = fsolve(residual, guess, args=(panel,), fprime=jacobian)
        turns[k] = guess
    return turns, panel_turns


def gaps(project: Project, turns: np.ndarray, panel_turns: np.ndarray) -> dict[tuple[str, str], float]:
    """Smallest distance over the poses of every outline of the panel to every one of the body."""
    o1, p1 = place_of(project, "O1"), place_of(project, "P1")
    body, panel = project.fixed.id, project.panel.id
    still = {o.id: shapely.LineString(o.points) for o in project.outlines if o.on == body}
    worn = {o.id: np.array([complex(*p) for p in o.points]) for o in project.outlines if o.on == panel}
    best = {(one, other): math.inf for one in still for other in worn}
    for pose, turn in enumerate(panel_turns):
        e = np.exp(1j * turn)
        hinge = o1 + np.exp(1j * turns[pose, ARM]) * (p1 - o1)
        for name, points in worn.items():
            z = hinge + e * (points - p1)
            placed = shapely.LineString(np.column_stack([z.real, z.imag]))
            for other, line in still.items():
                best[other, name] = min(best[other, name], shapely.distance(line, placed))
    return best


def plated(project: Project, poses: int) -> dict[tuple[str, str], float]:
    """The motion, then the distance of the plates of arm and short link from the body's outlines at every pose."""
    turns, _ = motion(project, poses)
    still = [shapely.LineString(o.points) for o in project.outlines if o.on == project.fixed.id]
    best = {}
    for name, pin, column in (("arm", "O1", ARM), ("short link", "O2", SHORT)):
        cut, about = plate_cut(project, project.link(name)), place_of(project, pin)
        assert cut is not None
        corners = as_complex(cut.outer.polyline(0.003)) - about
        away = math.inf
        for e in np.exp(1j * turns[:, column]):
            z = about + e * corners
            placed = shapely.Polygon(np.column_stack([z.real, z.imag]))
            away = min(away, *(shapely.distance(placed, line) for line in still))
        best[name, pin] = away
    return best


def whole(project: Project, poses: int) -> dict[tuple[str, str], float]:
    """All of it: the motion, then the gaps."""
    return gaps(project, *motion(project, poses))
