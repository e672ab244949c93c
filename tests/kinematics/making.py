"""What the tests of `kinematics` make projects of: four-bars with closed forms, random linkages, bodies as polygons.

Closed forms here are for the tests alone: complex circles, cosines. The code under test shares none of them.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import shapely

from app.files import load
from kinematics.project import GapWant, Outline, Project
from resources import find
from tests.kinematics.random_linkages import linkage
from tests.specimens import hinge, single_pivot, xy

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from kinematics.analysis import Analysis
    from kinematics.project import Point

PLAIN = (43, 45, 47, 51, 55, 57, 60, 66, 67, 72, 87, 90, 107, 109, 114, 117, 121, 137, 139, 160)
"""Seeds of sound random linkages of four to twelve links that open by 10 degrees and more."""


def demo_layouts() -> dict[str, Project]:
    """The demos by name, as layouts alone: without struts, which stop at their ends, and without wants of lifting."""
    return {path.stem: replace(load(path), loads=None, strength=None) for path in sorted(find("demos").glob("*.hinge"))}


def plain(seed: int) -> Project:
    """A random linkage, by its seed."""
    return linkage(seed).project()


def four_bar(
    lengths: Sequence[float],
    crank_deg: float,
    panel: str = "rocker",
    opens: str = "anticlockwise",
    wanted: float = 60.0,
) -> Project:
    """Ground (0, 0)–(d, 0), crank a at an angle, coupler b, rocker c, open closing; any moving link is the panel."""
    a, b, c, d = lengths
    crank, rocker = cmath.rect(a, math.radians(crank_deg)), open_meet(a, b, c, d, math.radians(crank_deg))
    others = " ".join(name for name in ("crank", "coupler", "rocker") if name != panel)
    return hinge(
        f"ground {panel} {others}",
        {
            "O2": (0j, "ground crank"),
            "A": (crank, "crank coupler"),
            "B": (rocker, "coupler rocker"),
            "O4": (d + 0j, "ground rocker"),
        },
        opens,
        wanted,
    )


def open_meet(a: float, b: float, c: float, d: float, theta: float) -> complex:
    """Pin B of a four-bar at a crank angle: the meet of circle (A, b) and circle (O4, c) to the left of A–O4."""
    crank = cmath.rect(a, theta)
    apart = abs(d - crank)
    along = (apart**2 + b**2 - c**2) / (2 * apart)
    return crank + (d - crank) / apart * complex(along, math.sqrt(b**2 - along**2))


def pushed(project: Project, **by: complex) -> Project:
    """The project with pins pushed by so much."""
    pivots = tuple(replace(pin, at=xy(complex(*pin.at) + by.get(pin.id, 0j))) for pin in project.pivots)
    return replace(project, pivots=pivots)


def mapped(project: Project, turn: complex = 1 + 0j, shift: complex = 0j) -> Project:
    """The whole drawing turned, scaled and shifted: z → turn·z + shift."""

    def seen(at: Point) -> Point:
        return xy(turn * complex(*at) + shift)

    size = abs(turn)
    return replace(
        project,
        links=tuple(replace(link, width=size * link.width) for link in project.links),
        pivots=tuple(replace(pin, at=seen(pin.at)) for pin in project.pivots),
        outlines=tuple(
            replace(line, points=tuple(seen(point) for point in line.points), half_width=size * line.half_width)
            for line in project.outlines
        ),
        marks=tuple(replace(mark, at=seen(mark.at)) for mark in project.marks),
        gaps=tuple(replace(want, at_least=size * want.at_least) for want in project.gaps),
        limits=(),
        pin_spacing=size * project.pin_spacing,
    )


def lid(*outlines: Outline, wanted: float = 80.0, opens: str = "anticlockwise", after: float = 0.0) -> Project:
    """A lid that turns about (0, 0), with its first outline watched against the second."""
    pair = (outlines[0].id, outlines[1].id)
    travel = replace(single_pivot.travel, wanted_deg=wanted, opens=opens)
    wants = (GapWant(pair, 1.0, after),)
    return replace(single_pivot, outlines=outlines, marks=(), travel=travel, gaps=wants)


def on_body(*points: Point, closed: bool = False, half_width: float = 0.0) -> Outline:
    """What stands still."""
    return Outline("still", "body", points, closed, half_width)


def on_lid(*points: Point, closed: bool = False, half_width: float = 0.0) -> Outline:
    """What turns with the lid."""
    return Outline("turning", "lid", points, closed, half_width)


def drawn(analysis: Analysis, outline: Outline, degrees: np.ndarray) -> np.ndarray:
    """An outline at openings, for GEOS."""
    y = analysis.sweep.at_openings(np.radians(degrees))
    column = analysis.links.index(outline.on)
    turns, shifts = analysis.sweep.link_turns(y)[:, column], analysis.sweep.shifts(y)[:, column]
    z = shifts[:, None] + np.exp(1j * turns)[:, None] * np.array([complex(*point) for point in outline.points])
    flat = np.stack([z.real, z.imag], axis=-1)
    return np.asarray(shapely.polygons(shapely.linearrings(flat)) if outline.closed else shapely.linestrings(flat))


def gaps_by_geos(analysis: Analysis, between: tuple[str, str], degrees: Iterable[float]) -> np.ndarray:
    """Gaps of two outlines at openings, 0 where they touch."""
    openings = np.array(list(degrees))
    first, second = (analysis.project.outline(name) for name in between)
    apart = shapely.distance(drawn(analysis, first, openings), drawn(analysis, second, openings))
    return np.asarray(np.maximum(apart - first.half_width - second.half_width, 0.0))


def residual_mm(analysis: Analysis) -> float:
    """How far the links' claims of any pin differ at the reported poses, by the links' turns and shifts alone."""
    worst = 0.0
    for pin in analysis.project.pivots:
        columns = [analysis.links.index(name) for name in pin.joins]
        at = analysis.shifts[:, columns] + np.exp(1j * analysis.turns[:, columns]) * complex(*pin.at)
        worst = max(worst, float(np.abs(at - at[:, :1]).max()))
    return worst
