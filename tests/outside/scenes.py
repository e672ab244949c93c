"""Random scenes: linkages with outlines about them, and what GEOS finds by dense sampling of their sweeps.

Seeded. Poses are the program's own (group A holds them); distances, overlap and the search between samples are GEOS's
and ours.
"""

from __future__ import annotations

import cmath
import itertools
import math
import random
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
import shapely

from tests.outside import figures
from tests.outside.sketch import Line, Reading, Sketch, four_bar, read

if TYPE_CHECKING:
    from kinematics.analysis import Gap

SAMPLES = 1500
CERTIFIED, TOUCH_DEG = 0.01, 0.01


def scene(seed: int) -> Sketch:
    """A linkage of a random kind with three to five outlines on its links, watched two by two."""
    dice = random.Random(seed)
    sketch = dice.choice([_lid, _four_bar, _six_bar])(dice)
    centre = sum(at for at, _ in sketch.pivots.values()) / len(sketch.pivots)
    outlines = {f"line {k}": _line(dice, sketch, centre, k) for k in range(dice.randint(3, 5))}
    names = list(outlines)
    gaps = [
        (one, other, dice.uniform(0, 15), dice.choice([0.0, 0.0, dice.uniform(0, 20)]))
        for k, one in enumerate(names)
        for other in names[k + 1 :]
        if outlines[one].on != outlines[other].on
    ]
    widths = {link: dice.uniform(6, 30) for link in sketch.links[1:] if dice.random() < 0.5}
    gaps += [(link, name, 1.0, 0.0) for link in widths for name in names[:1] if outlines[name].on != link]
    return replace(sketch, outlines=outlines, gaps=tuple(gaps), widths=widths)


def _lid(dice: random.Random) -> Sketch:
    return Sketch(
        ("ground", "panel"),
        "panel",
        {"hinge": (complex(dice.uniform(-50, 50), dice.uniform(-50, 50)), ("ground", "panel"))},
        anticlockwise=dice.random() < 0.5,
        wanted_deg=dice.uniform(20, 180),
    )


def _four_bar(dice: random.Random) -> Sketch:
    while True:
        lengths = (dice.uniform(40, 130), dice.uniform(40, 130), dice.uniform(40, 130), dice.uniform(40, 130))
        try:
            sketch = four_bar(lengths, dice.uniform(-180, 180), dice.random() < 0.5)
        except ValueError:
            continue
        panel = dice.choice(sketch.links[1:])
        return replace(sketch, panel=panel, anticlockwise=dice.random() < 0.5, wanted_deg=dice.uniform(20, 150))


def _six_bar(dice: random.Random) -> Sketch:
    base = figures.launch_hatch() if dice.random() < 0.5 else figures.six_bar()
    shaken = {
        name: (at + complex(dice.uniform(-8, 8), dice.uniform(-8, 8)), joins)
        for name, (at, joins) in base.pivots.items()
    }
    return replace(
        base, pivots=shaken, outlines={}, marks={}, anticlockwise=dice.random() < 0.5, wanted_deg=dice.uniform(10, 90)
    )


def _line(dice: random.Random, sketch: Sketch, centre: complex, number: int) -> Line:
    on = sketch.panel if number == 0 else sketch.links[0] if number == 1 else dice.choice(sketch.links)
    middle = centre + complex(dice.uniform(-170, 170), dice.uniform(-170, 170))
    reach, corners = dice.choice([3.0, 30.0, 90.0]), dice.randint(3, 14)
    closed = dice.random() < 0.5
    if dice.random() < 0.2:  # a thin thing that sampling steps over
        points = (middle, middle + cmath.rect(dice.uniform(0, 90), dice.uniform(0, 7)))
        return Line(on, points, half_width=dice.choice([0.0, 0.0, 0.4]))
    angles = sorted(dice.uniform(0, 2 * math.pi) for _ in range(corners))
    points = tuple(middle + cmath.rect(reach * dice.uniform(0.3, 1.0), angle) for angle in angles)
    return Line(on, points, closed, dice.choice([0.0, 0.0, 2.5]))


@dataclass
class Body:
    """An outline or a link's band as GEOS has it over poses."""

    link: str
    points: tuple[complex, ...]
    kind: str  # "line", "ring", "hull"
    half_width: float

    def at(self, turns: np.ndarray, shifts: np.ndarray) -> np.ndarray:
        z = shifts[:, None] + np.exp(1j * turns)[:, None] * np.array(self.points)
        if len(self.points) == 1:
            return np.asarray(shapely.points(z[:, 0].real, z[:, 0].imag))
        pairs = np.stack([z.real, z.imag], axis=-1)
        if self.kind == "ring":
            return np.asarray(shapely.polygons(pairs))
        lines = shapely.linestrings(pairs)
        return np.asarray(shapely.convex_hull(lines) if self.kind == "hull" else lines)


def body(sketch: Sketch, name: str) -> Body:
    if name in sketch.outlines:
        line = sketch.outlines[name]
        return Body(line.on, line.points, "ring" if line.closed else "line", line.half_width)
    pins = tuple(at for at, joins in sketch.pivots.values() if name in joins)
    return Body(name, pins, "hull" if len(pins) > 2 else "line", sketch.widths[name] / 2)


def distances(reading: Reading, one: str, other: str, turns: np.ndarray, shifts: np.ndarray) -> np.ndarray:
    """Gaps at poses by GEOS, less half-widths; negative where pens overlap."""
    shapes, widths = [], 0.0
    for name in (one, other):
        part = body(reading.sketch, name)
        k = reading.column(part.link)
        shapes.append(part.at(turns[:, k], shifts[:, k]))
        widths += part.half_width
    return np.asarray(shapely.distance(*shapes)) - widths


def disagreements(seed: int) -> list[str]:
    """Where the program's gaps of a scene don't agree with GEOS; [] when all do."""
    reading = read(scene(seed), steps=SAMPLES)
    analysis = reading.analysis
    # the reported poses, evenly spaced, and some that close up towards the end, where all goes fast at a dead point
    late = analysis.opening.reached_deg * (1 - np.geomspace(1e-6, 0.02, 25))
    turns, shifts = reading.posed(late)
    openings = np.concatenate([analysis.openings, late])
    turns, shifts = np.concatenate([analysis.turns, turns]), np.concatenate([analysis.shifts, shifts])
    found = []
    for gap in analysis.gaps:
        one, other = gap.between
        gaps = distances(reading, one, other, turns, shifts)
        found += [f"{one}–{other}: {fault}" for fault in _smallest(reading, gap, openings, gaps)]
        found += [f"{one}–{other}: {fault}" for fault in _touching(gap, openings, gaps)]
        found += [f"{one}–{other}: {fault}" for fault in _lane(reading, gap)]
        if gap.shut is None or abs(gap.shut - max(gaps[0], 0.0)) > 1e-9:
            found.append(f"{one}–{other}: shut {gap.shut}, GEOS {gaps[0]}")
    return found


def _smallest(reading: Reading, gap: Gap, openings: np.ndarray, gaps: np.ndarray) -> list[str]:
    one, other = gap.between
    after, smallest = gap.after_deg, gap.smallest
    counted = openings >= after
    if not counted.any():
        return [] if smallest is None else [f"smallest {smallest} though the sweep ends before {after}"]
    if smallest is None:
        return ["no smallest"]
    least = float(np.maximum(gaps[counted], 0).min())
    for start in openings[counted][np.argsort(gaps[counted])[:3]]:
        centre, width = float(start), 1.5 * max(openings.max() / SAMPLES, 1e-6)
        for _ in range(4):
            near = np.clip(np.linspace(centre - width, centre + width, 15), after, openings.max())
            there = distances(reading, one, other, *reading.posed(near))
            centre, width = float(near[np.argmin(there)]), width / 5
            least = min(least, max(float(there.min()), 0.0))
    if not least - CERTIFIED <= smallest <= least + 1e-9:
        return [f"smallest {smallest:.6f} at {gap.at_deg}, GEOS {least:.6f}"]
    at = float(distances(reading, one, other, *reading.posed(np.array([gap.at_deg])))[0])
    if smallest > 0 and abs(at - smallest) > CERTIFIED:
        return [f"smallest {smallest:.6f} told at {gap.at_deg}, but there GEOS finds {at:.6f}"]
    return []


def _touching(gap: Gap, openings: np.ndarray, gaps: np.ndarray) -> list[str]:
    ranges = gap.touching_deg
    found = []
    if any(end < start for start, end in ranges) or any(a[1] >= b[0] for a, b in itertools.pairwise(ranges)):
        found.append(f"touching_deg not ascending and disjoint: {ranges}")
    inside = np.zeros(len(openings), dtype=bool)
    well_inside = np.zeros(len(openings), dtype=bool)
    for start, end in ranges:
        inside |= (openings >= start - TOUCH_DEG) & (openings <= end + TOUCH_DEG)
        well_inside |= (openings > start + TOUCH_DEG) & (openings < end - TOUCH_DEG)
    missed = (gaps <= 0) & ~inside
    if missed.any():
        found.append(f"touches at {openings[missed][:3]} by GEOS, told {ranges}")
    invented = (gaps > 1e-3) & well_inside
    if invented.any():
        found.append(f"told as touching at {openings[invented][:3]}, GEOS {gaps[invented][:3]}; {ranges}")
    return found


def _lane(reading: Reading, gap: Gap) -> list[str]:
    """The lane that is drawn: never below the truth by 0.01, hardly above it where it is looked at, roughly where
    far.
    """
    one, other = gap.between
    openings, drawn = gap.lane
    found = []
    if gap.smallest is not None and not np.isclose(drawn, gap.smallest, rtol=0, atol=1e-12).any():
        found.append(f"the smallest, {gap.smallest}, isn't in the lane")
    if (np.diff(openings) < 0).any():
        found.append("the lane's openings fall")
    few = slice(None, None, max(len(openings) // 25, 1))
    pens = sum(body(reading.sketch, name).half_width for name in gap.between)
    there = distances(reading, one, other, *reading.posed(openings[few]))
    true, lines = np.maximum(there, 0.0), there + pens
    looked_at = true <= 3 * max(gap.smallest or 0.0, gap.at_least or 0.0, 4.0)
    above = np.where(looked_at, 0.045 * lines, 0.7 * lines) + 0.06
    wrong = (drawn[few] < true - 0.01) | (drawn[few] > true + above)
    if wrong.any():
        found.append(f"lane at {openings[few][wrong][:3]}: {drawn[few][wrong][:3]}, GEOS {true[wrong][:3]}")
    return found
