"""Sketches with loads: weights in newtons, the hand, struts and springs, and what the program says of them.

A pull of a given size and direction, as textbooks have it, is made of a tension spring without rate whose other end
stands on the fixed link in that direction; so forces that aren't along the handle's path can be asked for too.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np

import kinematics
from kinematics.project import Attachment, Device, Handle, Loads, Mass

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.project import Project
    from kinematics.results import LoadFigures
    from tests.outside.sketch import Sketch

G = 9.80665  # m/s², exact (CGPM 1901)


def xy(z: complex) -> tuple[float, float]:
    return z.real, z.imag


def weight(link: str, newtons: float, at: complex) -> Mass:
    """A body that weighs so many newtons."""
    return Mass(link, newtons / G, xy(at))


def pull(name: str, fixed: str, link: str, at: complex, now: complex, force: complex) -> Device:
    """A pull at a shut point of a link, which stands at `now` in the pose asked for."""
    far = now + 1000.0 * force / abs(force)
    ends = Attachment(fixed, xy(far)), Attachment(link, xy(at))
    return Device(name, "tension spring", 1, *ends, free=0.0, initial=abs(force), rate=0.0)


def strut(fixed: str, start: complex, link: str, end: complex, **figures: Any) -> Device:  # noqa: ANN401
    """A gas strut between the fixed link and another, one of it."""
    count = figures.pop("count", 1)
    return Device("strut", "gas strut", count, Attachment(fixed, xy(start)), Attachment(link, xy(end)), **figures)


def with_loads(sketch: Sketch, *things: Mass | Device, handle: tuple[str, complex], **more: Any) -> Project:  # noqa: ANN401
    """The sketch as a project with these loads, one hinge unless said otherwise."""
    link, at = handle
    loads = Loads(
        masses=tuple(each for each in things if isinstance(each, Mass)),
        devices=tuple(each for each in things if isinstance(each, Device)),
        handle=Handle(link, xy(at)),
        **{"hinges": 1, **more},
    )
    return replace(sketch.project(), loads=loads)


@dataclass(frozen=True)
class Told:
    """What the program says of a project with loads."""

    analysis: Analysis

    @property
    def loads(self) -> LoadFigures:
        assert self.analysis.loads is not None
        return self.analysis.loads

    def on(self, link: str, pivot: str, pose: int = 0) -> complex:
        """The force that a pin puts on a link."""
        return complex(self.loads.forces[pose, self.loads.members.index((pivot, link))])

    def pin(self, pivot: str, pose: int = 0) -> float:
        """The resultant on a pin."""
        names = [each.id for each in self.analysis.project.pivots]
        return float(self.loads.pins[pose, names.index(pivot)])

    def places(self, link: str, at: complex) -> np.ndarray:
        """(n,) complex, where a shut point stands at the reported poses."""
        return np.asarray(self.analysis.path(link, xy(at)) @ np.array([1.0, 1.0j]))


def tell(project: Project, steps: int = 2) -> Told:
    """Analyse a project with loads."""
    return Told(kinematics.analyse(project, steps))
