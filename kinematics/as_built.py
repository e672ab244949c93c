"""The hinge as it is built: the links with the holes that they really have, put together and shut.

The drawn hinge is whole when shut: all coordinates are given there. With other holes its links no longer meet where
they are drawn, and the shut hinge stands otherwise. What holds:

- the fixed pins stand where they were found;
- each link is rigid, with its holes as made; what rides on it (outlines, marks, ends of struts, weights) rides along;
- the panel lies on its *rest* (bump stop, latch, else front edge: `kinematics.adjusting`) at the height drawn; where
  nothing holds it there, it keeps its turn, if it can;
- of all poses at which the loops close so, it is the one nearest to the drawn one, reached by Newton's steps from it.

With e = exp(i·turn) of each link the loops are linear, residual = loops @ e (`kinematics.closure`), only that a pin now
sits at different places on its two links. Adjusters that were turned carry the panel's skin on its pins, or the whole
hinge on the body, before that.

The result is a project whose coordinates are those of the pose found, so that all else looks at it as at any other.
Lengths mm. Source: closure as there; Newton with least moves, any text on numerics.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from kinematics.adjusting import STILL, adjusters, rest_of
from kinematics.closure import build, maps
from kinematics.made_shapes import MadeError, MadeShapes, Reading, made_shapes, readings
from kinematics.moved_links import Motion, moved_links
from kinematics.project import Plate, Plates, Sureness

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kinematics.adjusting import Adjuster, Rest
    from kinematics.arrays import Complexes, Floats
    from kinematics.closure import Closure
    from kinematics.made_parts import HandMade
    from kinematics.made_shapes import Hole, Misfit
    from kinematics.project import Project

CLOSED = 1e-10
"""Mm of residual at which the loops count as closed (and 1e-13 of the linkage's size)."""
STEPS, LONGEST = 60, 0.15
"""Newton's steps at most, and rad that any link turns in one."""


@dataclass(frozen=True, slots=True)
class Built:
    """A hinge as built.

    project : all of it, shut.   motions : how each link that moved went from where it is drawn.   misfits : readings
    that contradict each other.   rests : whether the panel lies on its rest; else it kept its turn.
    """

    project: Project
    motions: Mapping[str, Motion]
    misfits: tuple[Misfit, ...]
    rests: bool

    def panel_place(self, place: complex) -> complex:
        """Where a place of the panel as drawn stands once built, shut."""
        motion = self.motions.get(self.project.panel.id)
        return place if motion is None else motion.carry(place)


def as_built(
    project: Project, hand: str, spans: tuple[float, float] = (0.0, 0.0), drilled: Mapping[Hole, complex] | None = None
) -> Built:
    """One hinge as it is built.

    spans : between the outermost bolts of bracket and base (`kinematics.mounting.bolt_spans`).   drilled : holes that
    are moved besides, by so much (complex mm, in their link's drawn place).
    Raises MadeError where readings contradict each other, or where the hinge can't be put together.
    """
    return built_of(project, project.made.of(hand), spans, drilled)


def built_of(
    project: Project,
    made: HandMade,
    spans: tuple[float, float] = (0.0, 0.0),
    drilled: Mapping[Hole, complex] | None = None,
) -> Built:
    """The same of what was read off, whatever the project says of it."""
    shapes = made_shapes(project, made)
    places = dict(shapes.moved)
    for hole, by in (drilled or {}).items():
        places[hole] = shapes.at(project, *hole) + by
    raised = _turned(project, made, spans, places)
    drawn = replace(project, as_made=None)
    try:
        solved, rests = _put_together(project, places, raised)
    except MadeError:
        raise _to_blame(project, made, spans) from None
    built = moved_links(_other_parts(drawn, made), solved, places)
    return Built(built, solved, shapes.misfits, rests)


# ------------------------------------------------------------------------------------------------- adjusters turned
def adjusters_of(project: Project, spans: tuple[float, float]) -> dict[str, Adjuster]:
    """The adjusters of what holds the hinge, by key."""
    mounted = project.mounted
    return {each.key: each for each in adjusters(project, mounted.bracket, mounted.base, spans)}


def _turned(project: Project, made: HandMade, spans: tuple[float, float], places: dict[Hole, complex]) -> float:
    """Put the pins where turned adjusters carry them; gives how far the rest is raised."""
    known, raised = adjusters_of(project, spans), 0.0
    for turned in made.turned:
        adjuster = known.get(turned.adjuster)
        if turned.adjuster == "rest":
            raised += turned.by
        if adjuster is None or not adjuster.carries:
            continue
        link, by = (project.panel.id, -turned.by) if adjuster.carries == "panel" else (project.fixed.id, turned.by)
        for pivot in project.pivots_on(link):
            hole = (link, pivot.id)
            places[hole] = _carried(adjuster, by, places.get(hole, complex(*pivot.at)))
    return raised


def _carried(adjuster: Adjuster, by: float, place: complex) -> complex:
    """Where a place goes with an adjuster turned, links staying rigid."""
    if not adjuster.turn:
        return place + by * adjuster.shift
    pivot = -adjuster.shift / (1j * adjuster.turn)
    return complex(pivot + np.exp(1j * adjuster.turn * by) * (place - pivot))


# -------------------------------------------------------------------------------------------------- put together
def _put_together(project: Project, places: Mapping[Hole, complex], raised: float) -> tuple[dict[str, Motion], bool]:
    """How links go from where they are drawn until the loops close; whether the panel lies on its rest."""
    joined = _Joined(project, places)
    rest = joined.holds(rest_of(project))
    if rest is not None:
        turns = joined.closed(rest, raised)
        if turns is not None:
            return joined.motions(turns), True
    for keeps in (True,) if rest is not None else (True, False):
        turns = joined.closed(None, 0.0, keeps)
        if turns is not None:
            return joined.motions(turns), False
    raise MadeError("it can't be put together")


class _Joined:
    """The loops of a linkage whose pins sit at places of their own on each link."""

    def __init__(self, project: Project, places: Mapping[Hole, complex]) -> None:
        self.closure: Closure = build(project)
        pivots, links, centre = project.pivots, self.closure.links, self.closure.centre

        def on(link: int, pivot: int) -> complex:
            drawn = complex(*pivots[pivot].at)
            return places.get((links[link], pivots[pivot].id), drawn) - centre

        joints = self.closure.joints
        first = np.array([on(each.first, each.pivot) for each in joints], dtype=np.complex128)
        second = np.array([on(each.second, each.pivot) for each in joints], dtype=np.complex128)
        self.shift_map, self.loops = maps(self.closure.walk, joints, first, second)
        self.moving = [k for k in range(len(links)) if k != self.closure.fixed and self.closure.reached[k]]

    def motions(self, turns: Floats) -> dict[str, Motion]:
        """By link, of those that move at all."""
        e = np.exp(1j * turns)
        shifts = self.shift_map @ e + self.closure.centre * (1.0 - e)
        found = {}
        for k in self.moving:
            if turns[k] != 0.0 or abs(shifts[k]) > 1e-12 * self.closure.size:
                found[self.closure.links[k]] = Motion(float(turns[k]), complex(shifts[k]))
        return found

    def holds(self, rest: Rest | None) -> Rest | None:
        """The rest, where the drawn hinge's motion leaves it: one that moves along its own way holds nothing."""
        panel = self.closure.panel
        if rest is None or panel not in self.moving:
            return None
        e = np.ones(len(self.closure.links), dtype=np.complex128)
        rows = self._rows(e, None)
        free = np.linalg.svd(rows)[2][np.linalg.matrix_rank(rows, tol=1e-9 * self.closure.size) :]
        speeds = 1j * (free @ self._carrying(rest)[self.moving])
        along = (rest.way.conjugate() * speeds).real
        return rest if float(np.abs(along).max(initial=0.0)) > STILL * float(np.abs(speeds).max(initial=0.0)) else None

    def _carrying(self, rest: Rest) -> Complexes:
        """(links,) the rest's place on the panel is this @ e, from the centre."""
        row = self.shift_map[self.closure.panel].copy()
        row[self.closure.panel] += rest.at - self.closure.centre
        return np.asarray(row)

    def _rows(self, e: Complexes, rest: Rest | None) -> Floats:
        """(rows, moving links) what the loops, and the rest, change by per rad of each link."""
        columns = (1j * e * self.loops)[:, self.moving]
        rows = [columns.real, columns.imag]
        if rest is not None:
            rows.append((rest.way.conjugate() * 1j * e * self._carrying(rest))[self.moving].real[None])
        return np.concatenate(rows)

    def _lacks(self, e: Complexes, rest: Rest | None, raised: float) -> Floats:
        closing = self.loops @ e
        lacks = [closing.real, closing.imag]
        if rest is not None:
            stands = self._carrying(rest) @ e - (rest.at - self.closure.centre)
            lacks.append(np.array([(rest.way.conjugate() * stands).real - raised]))
        return np.concatenate(lacks)

    def closed(self, rest: Rest | None, raised: float, keeps: bool = False) -> Floats | None:
        """(links,) turns at which all is met; None where it can't be.   keeps : whether the panel keeps its turn."""
        turns = np.zeros(len(self.closure.links))
        columns = [k for k in self.moving if not (keeps and k == self.closure.panel)]
        kept = [self.moving.index(k) for k in columns]
        enough = max(CLOSED, 1e-13 * self.closure.size)
        for _ in range(STEPS):
            e = np.exp(1j * turns)
            lacks = self._lacks(e, rest, raised)
            if float(np.abs(lacks).max(initial=0.0)) <= enough:
                return turns
            rows = self._rows(e, rest)[:, kept]
            step = np.linalg.pinv(rows, rcond=1e-11) @ (rows @ turns[columns] - lacks) - turns[columns]
            turns[columns] += step * min(1.0, LONGEST / max(float(np.abs(step).max(initial=0.0)), 1e-30))
        return None


def _to_blame(project: Project, made: HandMade, spans: tuple[float, float]) -> MadeError:
    """Say which readings, were they as drawn, would let the hinge go together."""
    read = [each for each in readings(project, made) if each.made is not None]
    guilty = [each for each in read if _goes_without(project, made, each, spans)]
    guilty.sort(key=lambda each: -abs((each.made or 0.0) - each.drawn))
    named = guilty[:2] or sorted(read, key=lambda each: -abs((each.made or 0.0) - each.drawn))[:2]
    said = " and ".join(f"{'–'.join(each.pins)} of {each.link} ({each.made:.2f} mm)" for each in named)
    where = f"{made.hand} hinge as made"
    if not named:
        return MadeError("it can't be put together", where, "Set the adjusters back.")
    what = f"it can't be put together, as its links don't reach with {said}"
    would = ("", "It would, were this as drawn. ", "It would, were either of them as drawn. ")[min(len(guilty), 2)]
    return MadeError(what, where, f"{would}Measure {'this' if len(named) == 1 else 'these'} again.")


def _goes_without(project: Project, made: HandMade, reading: Reading, spans: tuple[float, float]) -> bool:
    """Whether the hinge goes together with one reading as drawn."""
    less = without(made, reading)
    try:
        places = dict(made_shapes(project, less).moved)
        _put_together(project, places, _turned(project, less, spans, places))
    except MadeError:
        return False
    return True


def without(made: HandMade, reading: Reading) -> HandMade:
    """What was read off, but for one reading."""
    if reading.kind == "distance":
        pair = frozenset(reading.pins)
        left = [each for each in made.distances if (each.link, frozenset(each.between)) != (reading.link, pair)]
        return replace(made, distances=tuple(left))
    hole = (reading.link, reading.pins[0])
    unread: dict[str, Any] = {reading.kind: None}
    found = [replace(each, **unread) if (each.link, each.pivot) == hole else each for each in made.found_at]
    return replace(made, found_at=tuple(found))


# ------------------------------------------------------------------------------------------ thickness, washers, play
def _other_parts(project: Project, made: HandMade) -> Project:
    """The project with sheets as thick as they are, and the largest play that was found for all pins."""
    changed: dict[str, Any] = {}
    links = {link.id: link for link in project.links}
    for sheet in made.sheets:
        if sheet.link in links:
            changed |= _thick(replace(project, **changed), sheet.link, sheet.thickness)
    plays = [each.play for each in made.on_pins if each.play is not None]
    if plays:
        asked = project.sureness or Sureness()
        unread = {pivot.id for pivot in project.pivots} - {each.pivot for each in made.on_pins if each.play is not None}
        changed["sureness"] = replace(asked, play=max([*plays, asked.play] if unread else plays))
    return replace(project, **changed) if changed else project


def _thick(project: Project, link: str, mm: float) -> dict[str, Any]:
    """What changes where a link's sheet is so thick: of bracket and base in the mount, else of its plate."""
    mounted = project.mounted
    if link == project.fixed.id and mounted.base is not None:
        return {"mount": replace(mounted, base=replace(mounted.base, web=mm))}
    if link == project.panel.id and mounted.bracket is not None:
        return {"mount": replace(mounted, bracket=replace(mounted.bracket, thickness=mm))}
    plates = project.plates
    if not isinstance(plates, Plates) or not plates.is_said:
        return {}  # nobody said what plates are, so none is built and none gets thicker
    others = tuple(each for each in plates.each if each.link != link)
    own = next((each for each in plates.each if each.link == link), Plate(link))
    return {"plates": replace(plates, each=(*others, replace(own, thickness=mm)))}


__all__ = ["Built", "MadeError", "MadeShapes", "adjusters_of", "as_built", "built_of", "without"]
