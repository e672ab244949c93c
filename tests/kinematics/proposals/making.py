"""Bodies that the tests of the search work on: invented, with a wall or a sill behind the rear edge of a panel."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from app.files import load
from kinematics.project import GapWant, Limit, Link, Mark, Outline, Pivot, Project, Travel
from resources import find
from tests.kinematics.making import mapped

if TYPE_CHECKING:
    from kinematics.arrays import Complexes
    from kinematics.proposals.chains import Chain

DEMOS = ("launch hatch", "potting bench")


@cache
def demo(name: str = "launch hatch") -> Project:
    """A demo project, as it ships."""
    return load(find(f"demos/{name}.hinge"))


def bare(project: Project) -> Project:
    """A project as nobody has placed a pin on it: fixed link and panel alone."""
    return replace(
        project,
        links=(project.fixed, project.panel),
        pivots=(),
        gaps=tuple(want for want in project.gaps if {project.fixed.id, project.panel.id} >= set(rides(project, want))),
        measures=(),
        trials=(),
        loads=None,
    )


def rides(project: Project, want: GapWant) -> list[str]:
    """The links that a want's two partners ride on."""
    return [project.rides_on(name) for name in want.between]


def turned(project: Project, degrees: float) -> Project:
    """The whole drawing turned about its origin; limits, which speak of x and y, go."""
    return mapped(project, turn=complex(np.exp(1j * np.radians(degrees))))


def mirrored(project: Project) -> Project:
    """The whole drawing mirrored left to right, so that the panel opens the other way round."""
    opens = "clockwise" if project.travel.sign > 0 else "anticlockwise"
    swapped = {"dx_at_least": "dx_at_most", "dx_at_most": "dx_at_least"}
    limits = []
    for limit in project.limits:
        sides = {name: getattr(limit, swapped[name]) for name in swapped}
        negated = {name: None if value is None else -value for name, value in sides.items()}
        limits.append(replace(limit, **negated))  # type: ignore[arg-type]
    return replace(
        project,
        pivots=tuple(replace(pin, at=(-pin.at[0], pin.at[1])) for pin in project.pivots),
        outlines=tuple(replace(line, points=tuple((-x, y) for x, y in line.points)) for line in project.outlines),
        marks=tuple(replace(mark, at=(-mark.at[0], mark.at[1])) for mark in project.marks),
        limits=tuple(limits),
        zones=tuple(replace(zone, points=tuple((-x, y) for x, y in zone.points)) for zone in project.zones),
        travel=Travel(opens, project.travel.wanted_deg),  # type: ignore[arg-type]
    )


def cramped() -> Project:
    """A lid that lies on a solid block: nothing beneath it is free."""
    return Project(
        links=(Link("body", "fixed", 30.0), Link("lid", "panel", 20.0)),
        outlines=(
            Outline("block", "body", ((-150.0, -700.0), (700.0, -700.0), (700.0, -4.0), (-150.0, -4.0)), closed=True),
            Outline("board", "lid", ((0.0, 0.0), (500.0, 0.0), (500.0, 18.0), (0.0, 18.0)), closed=True),
        ),
        marks=(Mark("front", "lid", (500.0, 18.0)),),
        limits=(Limit("front", dy_at_least=50.0, after_deg=40.0),),
        travel=Travel("anticlockwise", 60.0),
    )


def about(chain: Chain, count: int, seed: int, size: float = 200.0) -> Complexes:
    """(pins, count) places by lot in a square of this size."""
    random = np.random.default_rng(seed)
    shape = (len(chain.pins), count)
    return np.asarray(size * (random.uniform(size=shape) + 1j * random.uniform(size=shape)))


def linkage_of(chain: Chain, pins: Complexes, wanted_deg: float = 60.0, sign: int = 1) -> Project:
    """A candidate as a project, its pins exactly where they are: links "0" (fixed), "1" (panel), "2" and so on."""
    kinds = ("fixed", "panel", "link", "link", "link", "link")
    return Project(
        links=tuple(Link(str(k), kind) for k, kind in zip(range(chain.links), kinds, strict=False)),  # type: ignore[arg-type]
        pivots=tuple(
            Pivot(f"p{k}", (float(at.real), float(at.imag)), (str(pair[0]), str(pair[1])))
            for k, (pair, at) in enumerate(zip(chain.pins, pins, strict=True))
        ),
        travel=Travel("anticlockwise" if sign > 0 else "clockwise", wanted_deg),
    )
