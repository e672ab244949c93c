"""Where the holes of each link really are, from what was read off them.

Every reading (a distance of two holes, a pin's x, y or way off its face) is an equation on the link's holes. What
nobody read stays as drawn, as far as the readings let it: of a moving link its other distances, of fixed link and panel
the pins' places. More readings than are needed, or such as no plate can have, contradict each other: then they are met
by least squares, and what is left is each one's *misfit*. The three distances of a three-hole plate are just enough; a
misfit shows there only where two together are shorter than the third. Four holes with six distances check each other,
and so do pins of the fixed link that were found by a square as well as by their distance.

A misfit that no good reading has is refused: somebody misread, or the plate is bent.

Source: least squares with a weak pull to the place drawn, as in the adjustment of surveys; any text on it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np

from kinematics.errors import HingewrightError
from kinematics.faces import skin, wall
from kinematics.mount_parts import Base, Bracket

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from kinematics.arrays import Floats
    from kinematics.faces import Face
    from kinematics.made_parts import HandMade
    from kinematics.project import Project

Hole = tuple[str, str]
"""A link and one of its pivots."""
MISREAD = 1.0
"""Mm of misfit from which on a reading is refused: a tape is good to a millimetre (common practice, no source)."""
TOLD = 0.02
"""Mm of misfit from which on it is told: what a caliper shows."""
PULL, HOLD = 1e-4, 1e-7
"""How weakly, beside a reading, what is drawn pulls; and how weakly a link that is free to go anywhere stays."""


class MadeError(HingewrightError):
    """Readings from which no hinge can be put together."""


@dataclass(frozen=True, slots=True)
class Reading:
    """Something that can be read off a link.

    kind : "distance", "x", "y" or "off".   pins : two for a distance, else one.   drawn : mm as drawn.
    made : mm as read, None where nobody did.
    """

    kind: str
    link: str
    pins: tuple[str, ...]
    drawn: float
    made: float | None = None


@dataclass(frozen=True, slots=True)
class Misfit:
    """A reading that others contradict, and what they all come to together (mm)."""

    reading: Reading
    fits: float

    @property
    def by(self) -> float:
        """Mm by which it misses."""
        return abs((self.reading.made or 0.0) - self.fits)


@dataclass(frozen=True, slots=True)
class MadeShapes:
    """Places of holes in the side view, links shut as drawn (complex mm); of those that came out otherwise.

    misfits : of readings that contradict each other, worst first.
    """

    moved: Mapping[Hole, complex] = field(default_factory=dict)
    misfits: tuple[Misfit, ...] = ()

    def at(self, project: Project, link: str, pivot: str) -> complex:
        """Where a link's hole is."""
        found = self.moved.get((link, pivot))
        return complex(*project.pivot(pivot).at) if found is None else found


def face_of(project: Project, link: str) -> Face | None:
    """The face that the fixed link or the panel is held at; None of other links, and where nobody drew or typed it."""
    mounted, face = project.mounted, None
    if link == project.fixed.id:
        base = mounted.base or Base()
        face, typed = wall(project, base), base.at is not None
    elif link == project.panel.id:
        bracket = mounted.bracket or Bracket()
        face, typed = skin(project, bracket), bracket.at is not None
    return face if face is not None and (face.outline or typed) else None


def readings(project: Project, made: HandMade) -> tuple[Reading, ...]:
    """All that can be read off the links' holes, link by link, with what was: distances, then of fixed link and panel
    where pins were found.
    """
    found: list[Reading] = []
    for link in project.links:
        pins = project.pivots_on(link.id)
        spans = {frozenset(each.between): each.distance for each in made.distances if each.link == link.id}
        for one, other in combinations(pins, 2):
            apart = abs(complex(*one.at) - complex(*other.at))
            names = (one.id, other.id)
            found.append(Reading("distance", link.id, names, apart, spans.get(frozenset(names))))
        if link.kind == "link":
            continue
        face = face_of(project, link.id)
        for pin in pins:
            at = next((each for each in made.found_at if (each.link, each.pivot) == (link.id, pin.id)), None)
            drawn = {"x": pin.at[0], "y": pin.at[1]}
            if face is not None:
                drawn["off"] = face.seen(complex(*pin.at)).imag
            for kind, mm in drawn.items():
                found.append(Reading(kind, link.id, (pin.id,), mm, None if at is None else getattr(at, kind)))
    return tuple(found)


def made_shapes(project: Project, made: HandMade) -> MadeShapes:
    """The holes as they came out.   Raises MadeError where readings contradict each other by more than `MISREAD`."""
    moved: dict[Hole, complex] = {}
    misfits: list[Misfit] = []
    every = readings(project, made)
    for link in project.links:
        read = [each for each in every if each.link == link.id and each.made is not None]
        if not read:
            continue
        solver = _Link(project, link.id, read)
        places = solver.solved()
        moved |= {(link.id, pin): place for pin, place in places.items()}
        misfits += solver.misfits(places)
    misfits.sort(key=lambda each: -each.by)
    if misfits and misfits[0].by > MISREAD:
        raise _misread(misfits[0])
    return MadeShapes(moved, tuple(misfits))


def _misread(worst: Misfit) -> MadeError:
    reading = worst.reading
    others = "the other two distances" if reading.kind == "distance" else "the other readings"
    what = (
        f"{reading.kind} {'–'.join(reading.pins)} can't be {reading.made:.2f} mm beside {others}, "
        f"which ask for about {worst.fits:.2f}"
    )
    return MadeError(what, reading.link, "Measure these once more; a reading is wrong, or the plate is bent.")


class _Link:
    """The holes of one link, and what was read off them."""

    def __init__(self, project: Project, link: str, read: Sequence[Reading]) -> None:
        self.read = read
        self.pins = [pin.id for pin in project.pivots_on(link)]
        self.drawn = np.array([pin.at for pin in project.pivots_on(link)], dtype=np.float64)
        self.face = face_of(project, link)
        read_too = {frozenset(each.pins) for each in read if each.kind == "distance"}
        pairs = combinations(range(len(self.pins)), 2) if project.link(link).kind == "link" else ()
        self.others = [
            Reading("distance", link, (self.pins[a], self.pins[b]), long, long)
            for a, b in pairs
            if frozenset((self.pins[a], self.pins[b])) not in read_too
            and (long := float(np.hypot(*(self.drawn[a] - self.drawn[b])))) > 0.0
        ]
        self.hold = HOLD if project.link(link).kind == "link" else PULL

    def solved(self) -> dict[str, complex]:
        """Place by pin: as drawn where the readings say so."""
        step = np.zeros(self.drawn.size)
        if float(np.abs(self.lacks(step)).max()) > 1e-12:
            step = self._polished(self._fitted())
        at = (self.drawn + step.reshape(-1, 2)).tolist()
        return {pin: complex(x, y) for pin, (x, y) in zip(self.pins, at, strict=True)}

    def misfits(self, places: Mapping[str, complex]) -> list[Misfit]:
        """The readings that aren't met."""
        step = np.array([[places[pin].real, places[pin].imag] for pin in self.pins]) - self.drawn
        lacks = self.lacks(step.ravel()).tolist()
        pairs = zip(self.read, lacks, strict=True)
        return [Misfit(each, (each.made or 0.0) + lack) for each, lack in pairs if abs(lack) > TOLD]

    def lacks(self, step: Floats) -> Floats:
        """(readings,) by how much each comes out above what was read, with the holes moved by a step (2·holes,)."""
        return self._lacks_and_rates(step, self.read)[0]

    def _lacks_and_rates(self, step: Floats, read: Sequence[Reading]) -> tuple[Floats, Floats]:
        at = self.drawn + step.reshape(-1, 2)
        lacks, rates = np.zeros(len(read)), np.zeros((len(read), step.size))
        for row, reading in enumerate(read):
            one = self.pins.index(reading.pins[0])
            own = slice(2 * one, 2 * one + 2)
            if reading.kind == "distance":
                other = self.pins.index(reading.pins[1])
                way = at[one] - at[other]
                long = max(float(np.hypot(*way)), 1e-12)
                lacks[row] = long
                rates[row, own], rates[row, 2 * other : 2 * other + 2] = way / long, -way / long
            elif reading.kind == "off" and self.face is not None:
                out = self.face.out
                lacks[row] = self.face.seen(complex(*at[one])).imag
                rates[row, own] = out.real, out.imag
            else:
                axis = "xy".index(reading.kind)
                lacks[row], rates[row, 2 * one + axis] = at[one, axis], 1.0
            lacks[row] -= reading.made or 0.0
        return lacks, rates

    def _fitted(self) -> Floats:
        """The step that meets the readings by least squares, all else as drawn as far as may be."""
        from scipy.optimize import least_squares  # noqa: PLC0415  slow to load, and never asked for in a drag

        def lacks(step: Floats) -> Floats:
            others = self._lacks_and_rates(step, self.others)[0]
            return np.concatenate([self.lacks(step), PULL * others, self.hold * step])

        def rates(step: Floats) -> Floats:
            read, others = (self._lacks_and_rates(step, each)[1] for each in (self.read, self.others))
            return np.vstack([read, PULL * others, self.hold * np.eye(step.size)])

        start = np.zeros(self.drawn.size)
        found = least_squares(lacks, start, jac=rates, method="lm", xtol=1e-14, ftol=1e-14, gtol=1e-14)
        return np.asarray(found.x)

    def _polished(self, step: Floats) -> Floats:
        """The same without the trace that the pull leaves, where readings agree."""
        for _ in range(4):
            lacks, rates = self._lacks_and_rates(step, self.read)
            better = step - np.asarray(np.linalg.pinv(rates, rcond=1e-6) @ lacks)
            if np.abs(self.lacks(better)).max() >= np.abs(lacks).max():
                break
            step = better
        return step
