"""Whether a strut is in the way, looked at coarsely: its line against what is drawn of the fixed link and the panel.

At a dozen openings, the line between the ends must cross none of those outlines, and, but for a piece at either end
where brackets are, keep half its tube's width and a little more off them. Outlines count whatever their station, as
nobody has said where across the body the strut stands. Not looked at: the links and other struts, which have their own
planes, and what happens between those openings.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics.struts.regions import shape_of

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

    from kinematics.arrays import Bools, Complexes, Floats
    from kinematics.project import Project
    from kinematics.struts.levers import Pair
    from kinematics.struts.wanted import Problem

LOOKS = 12
"""Openings at which it is looked."""
BRACKET = 30.0
"""mm at either end in which a strut may come near an outline."""


@dataclass(frozen=True, slots=True, eq=False)
class Obstacles:
    """What is drawn of the fixed link and of the panel, in the way of struts.

    shapes : shut, from the closure's centre; None where nothing is drawn.   shifts, turns (poses, 2): how fixed link
    and panel stand at the poses looked at.   poses : which of the problem's.
    """

    shapes: tuple[BaseGeometry | None, BaseGeometry | None]
    shifts: Complexes
    turns: Complexes
    poses: np.ndarray


def obstacles_of(problem: Problem) -> Obstacles:
    """What is drawn, and where it is at the openings looked at."""
    closure = problem.sweep.closure
    poses = np.unique(np.linspace(0, len(problem.openings) - 1, LOOKS).round().astype(np.intp))
    e = np.exp(1j * closure.link_turns(problem.y[poses]))
    columns = [closure.fixed, closure.panel]
    shapes = tuple(_drawn(problem.project, name, closure.centre) for name in (closure.links[k] for k in columns))
    return Obstacles((shapes[0], shapes[1]), (e @ closure.shift_map.T)[:, columns], e[:, columns], poses)


def _drawn(project: Project, link: str, centre: complex) -> BaseGeometry | None:
    """All outlines of a link as one shape, from the centre."""
    parts = [
        shape_of(each).buffer(each.half_width) if each.half_width > 0.0 else shape_of(each)
        for each in project.outlines
        if each.on == link
    ]
    if not parts:
        return None
    whole = shapely.transform(shapely.union_all(parts), lambda xy: xy - (centre.real, centre.imag))
    shapely.prepare(whole)
    return whole


def clear(obstacles: Obstacles, pair: Pair, tails: Complexes, heads: Complexes, off: Floats) -> Bools:
    """(m,) whether struts with ends (m,), mm from the centre, keep `off` (m,) mm off what is drawn."""
    poses = obstacles.poses
    ends = [pair.shifts[poses, k] + pair.turns[poses, k] * each[:, None] for k, each in enumerate((tails, heads))]
    good = np.ones(len(tails), dtype=np.bool_)
    for k, shape in enumerate(obstacles.shapes):
        if shape is None:
            continue
        # As seen from the link that carries the shape.
        back = obstacles.turns[:, k].conj()
        start, end = (back * (each[good] - obstacles.shifts[:, k]) for each in ends)
        good[good] = _keeps_off(shape, start, end, off[good])
    return good


def _keeps_off(shape: BaseGeometry, start: Complexes, end: Complexes, off: Floats) -> Bools:
    """(m,) whether lines (m, poses) cross a shape nowhere, and keep off it but for their brackets."""
    if not start.size:
        return np.ones(len(start), dtype=np.bool_)
    across = end - start
    length = np.maximum(np.abs(across), 1e-9)
    piece = np.minimum(BRACKET, 0.3 * length) * across / length
    near = shapely.dwithin(shape, _lines(start + piece, end - piece), off[:, None])
    return np.asarray(~(near | shapely.intersects(shape, _lines(start, end))).any(axis=1))


def _lines(start: Complexes, end: Complexes) -> np.ndarray:
    both = np.stack([start, end], axis=-1)
    return np.asarray(shapely.linestrings(np.stack([both.real, both.imag], axis=-1)))
