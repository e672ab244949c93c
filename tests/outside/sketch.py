"""Layouts in the tests' own words, and what the program says of them, read back into those words.

A `Sketch` holds complex points and names; nothing in it was computed by the program. It can be laid on the sheet in
other
ways (turned by 37°, in units 25.4 times as fine, mirrored, shifted, listed in another order), and a `Reading` maps the
answer back: whichever way it lay, every test compares with the same typed figures.

The public door is `kinematics.analyse`; `report` goes through the command line instead.
"""

from __future__ import annotations

import cmath
import io
import json
import math
import random
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, cast

import numpy as np

import kinematics
from app import cli
from kinematics.project import GapWant, Link, Mark, Outline, Pivot, Project, Travel

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from pathlib import Path

    from kinematics.analysis import Analysis, Gap, Pose


@dataclass(frozen=True)
class Line:
    """An outline: on which link, complex points, solid or not, radius of its pen."""

    on: str
    points: tuple[complex, ...]
    closed: bool = False
    half_width: float = 0.0
    station: str = ""


@dataclass(frozen=True)
class Sketch:
    """A layout as a test writes it; `links[0]` is the fixed link."""

    links: tuple[str, ...]
    panel: str
    pivots: Mapping[str, tuple[complex, tuple[str, ...]]]
    anticlockwise: bool = True
    wanted_deg: float = 75.0
    outlines: Mapping[str, Line] = field(default_factory=dict)
    marks: Mapping[str, tuple[str, complex]] = field(default_factory=dict)
    gaps: tuple[tuple[str, str, float, float], ...] = ()  # one, other, at least, after deg
    widths: Mapping[str, float] = field(default_factory=dict)
    factor: complex = 1.0 + 0.0j
    mirrored: bool = False
    offset: complex = 0j
    shuffle: int = 0

    def seen(self, z: complex) -> complex:
        """Where a point of the sketch lies on the sheet."""
        return self.factor * (z.conjugate() if self.mirrored else z) + self.offset

    def unseen(self, place: complex) -> complex:
        """The point of the sketch that lies at a place of the sheet."""
        z = (place - self.offset) / self.factor
        return z.conjugate() if self.mirrored else z

    @property
    def scale(self) -> float:
        return abs(self.factor)

    @property
    def turned_over(self) -> int:
        return -1 if self.mirrored else 1

    @property
    def opens(self) -> str:
        return "anticlockwise" if self.anticlockwise != self.mirrored else "clockwise"

    def pin(self, name: str) -> complex:
        """The shut place of a pivot."""
        return self.pivots[name][0]

    def project(self) -> Project:
        """The same layout as the program takes it."""
        order = random.Random(self.shuffle)
        links = [self._link(name) for name in self.links]
        pivots = [self._pivot(name, order) for name in self.pivots]
        if self.shuffle:
            order.shuffle(links)
            order.shuffle(pivots)
        return Project(
            links=tuple(links),
            pivots=tuple(pivots),
            outlines=tuple(self._outline(name, line) for name, line in self.outlines.items()),
            marks=tuple(Mark(name, on, self._xy(z)) for name, (on, z) in self.marks.items()),
            gaps=tuple(GapWant((a, b), least * self.scale, after) for a, b, least, after in self.gaps),
            travel=Travel(self.opens, self.wanted_deg),
        )

    def _xy(self, z: complex) -> tuple[float, float]:
        place = self.seen(z)
        return place.real, place.imag

    def _link(self, name: str) -> Link:
        kind = "fixed" if name == self.links[0] else "panel" if name == self.panel else "link"
        return Link(name, kind, self.widths.get(name, 0.0) * self.scale)

    def _pivot(self, name: str, order: random.Random) -> Pivot:
        at, joins = self.pivots[name]
        listed = list(joins)
        if self.shuffle:
            order.shuffle(listed)
        return Pivot(name, self._xy(at), tuple(listed))

    def _outline(self, name: str, line: Line) -> Outline:
        points = tuple(self._xy(z) for z in line.points)
        return Outline(name, line.on, points, line.closed, line.half_width * self.scale, line.station)


# How a layout may lie on the sheet. None of it may change an answer (checks.md, "How to write such a test", 7; A22).
WAYS: dict[str, dict[str, Any]] = {
    "as given": {},
    "turned 37°": {"factor": cmath.rect(1.0, math.radians(37.0))},
    "times 25.4": {"factor": 25.4 + 0j},
    "mirrored": {"mirrored": True},
    "shifted": {"offset": 310.0 - 470.0j},
    "reordered": {"shuffle": 5},
    "all at once": {
        "factor": cmath.rect(25.4, math.radians(37.0)),
        "mirrored": True,
        "offset": -170.0 + 90.0j,
        "shuffle": 11,
    },
}


@dataclass(frozen=True)
class Reading:
    """What the program says of a sketch, in the sketch's own frame, units and sense of turning."""

    sketch: Sketch
    analysis: Analysis

    def pose(self, opening_deg: float) -> Pose:
        """The pose at an opening, from the sweep; a place between the reported poses is as good as they are."""
        return self.analysis.pose(opening_deg)

    def posed(self, openings: Sequence[float] | np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """(n, links) turns and shifts on the sheet at any openings, the very poses of `pose`, all at once."""
        degs = np.clip(np.asarray(openings, dtype=np.float64), 0.0, self.analysis.opening.reached_deg)
        sweep = self.analysis.sweep
        y = sweep.at_openings(np.radians(degs))
        return sweep.link_turns(y), sweep.shifts(y)

    def column(self, link: str) -> int:
        return self.analysis.links.index(link)

    def turn_deg(self, pose: Pose, link: str) -> float:
        """How far a link has turned from shut, degrees, anticlockwise in the sketch."""
        return math.degrees(float(pose.turns[self.column(link)])) * self.sketch.turned_over

    def place(self, pose: Pose, link: str, z: complex) -> complex:
        """Where the sketch's shut point `z` of a link stands at a pose."""
        k = self.column(link)
        on_sheet = complex(pose.shifts[k]) + cmath.exp(1j * float(pose.turns[k])) * self.sketch.seen(z)
        return self.sketch.unseen(on_sheet)

    def places(self, link: str, z: complex) -> np.ndarray:
        """The same at every reported pose, (n,) complex."""
        k = self.column(link)
        on_sheet = self.analysis.shifts[:, k] + np.exp(1j * self.analysis.turns[:, k]) * self.sketch.seen(z)
        back = (on_sheet - self.sketch.offset) / self.sketch.factor
        return np.asarray(back.conj() if self.sketch.mirrored else back)

    def turns_deg(self, link: str) -> np.ndarray:
        """Turns of a link at every reported pose, degrees, anticlockwise in the sketch."""
        return np.degrees(self.analysis.turns[:, self.column(link)]) * self.sketch.turned_over

    def gap(self, one: str, other: str) -> Gap:
        """The watched pair of these two, asked for or not."""
        (found,) = [gap for gap in self.analysis.gaps if set(gap.between) == {one, other}]
        return found

    def smallest(self, one: str, other: str) -> float:
        """The smallest gap of a pair in the sketch's units."""
        smallest = self.gap(one, other).smallest
        assert smallest is not None
        return smallest / self.sketch.scale

    def shut_gap(self, one: str, other: str) -> float:
        """The shut gap of a pair in the sketch's units."""
        shut = self.gap(one, other).shut
        assert shut is not None
        return shut / self.sketch.scale


def read(sketch: Sketch, way: str = "as given", steps: int = 181) -> Reading:
    """Analyse a sketch, laid on the sheet in one of the WAYS."""
    laid = replace(sketch, **WAYS[way])
    return Reading(laid, kinematics.analyse(laid.project(), steps=steps))


def as_file(sketch: Sketch) -> dict[str, Any]:
    """The project file of a sketch, written by hand after the published form, not by the program."""

    def xy(z: complex) -> list[float]:
        return [sketch.seen(z).real, sketch.seen(z).imag]

    return {
        "format": "hingewright",
        "version": 1,
        "links": [
            {
                "id": name,
                "kind": "fixed" if name == sketch.links[0] else "panel" if name == sketch.panel else "link",
                "width": sketch.widths.get(name, 0.0) * sketch.scale,
            }
            for name in sketch.links
        ],
        "pivots": [{"id": name, "at": xy(at), "joins": list(joins)} for name, (at, joins) in sketch.pivots.items()],
        "outlines": [
            {
                "id": name,
                "on": line.on,
                "closed": line.closed,
                "half_width": line.half_width * sketch.scale,
                "points": [xy(z) for z in line.points],
            }
            for name, line in sketch.outlines.items()
        ],
        "gaps": [
            {"between": [one, other], "at_least": least * sketch.scale, "after_deg": after}
            for one, other, least, after in sketch.gaps
        ],
        "travel": {"opens": sketch.opens, "wanted_deg": sketch.wanted_deg},
    }


def reported(sketch: Sketch, folder: Path, *words: str) -> tuple[int, dict[str, Any]]:
    """Exit status and object of `report --json`, run on a file that the program never wrote."""
    file = folder / "sketch.hinge"
    file.write_text(json.dumps(as_file(sketch)), encoding="utf-8")
    said, wrong = io.TextIOWrapper(io.BytesIO(), encoding="utf-8"), io.StringIO()
    with redirect_stdout(said), redirect_stderr(wrong):
        status = cli.main(["report", str(file), "--json", *words])
    assert wrong.getvalue() == ""
    said.flush()
    found: dict[str, Any] = json.loads(cast("io.BytesIO", said.buffer).getvalue())
    return status, found


def worst_pin_error(reading: Reading) -> float:
    """The largest distance between what two links claim of one pivot, at any reported pose (mm on the sheet)."""
    worst = 0.0
    for at, joins in reading.sketch.pivots.values():
        claims = [reading.places(link, at) for link in joins]
        for other in claims[1:]:
            worst = max(worst, float(np.abs(claims[0] - other).max()) * reading.sketch.scale)
    return worst


def four_bar(
    lengths: tuple[float, float, float, float],
    crank_deg: float,
    crossed: bool = False,
    **more: Any,  # noqa: ANN401 (fields of Sketch)
) -> Sketch:
    """Crank a, coupler b, rocker c, ground d along +x, with O2 in the origin.

    "Open" is the closing with B left of the line from A to O4, for a crank above the ground line.
    """
    a, b, c, d = lengths
    crank = cmath.rect(a, math.radians(crank_deg))
    # three lines of our own, and not the oracle that the tests compare with
    span = d - crank
    along = (abs(span) ** 2 + b * b - c * c) / (2 * abs(span))
    across = math.sqrt(b * b - along * along) * (-1 if crossed else 1)
    meet = crank + span / abs(span) * complex(along, across)
    return Sketch(
        links=("ground", "crank", "coupler", "rocker"),
        panel=more.pop("panel", "crank"),
        pivots={
            "O2": (0j, ("ground", "crank")),
            "A": (crank, ("crank", "coupler")),
            "B": (meet, ("coupler", "rocker")),
            "O4": (complex(d), ("rocker", "ground")),
        },
        **more,
    )


def pointed(points: Iterable[tuple[float, float]]) -> tuple[complex, ...]:
    """Points (x, y) as complex numbers."""
    return tuple(complex(x, y) for x, y in points)
