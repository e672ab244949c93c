"""Random linkages of every kind, from seeds: whatever a builder may draw, sound or silly.

`linkage(seed)` grows a chain: a crank, then *dyads* (two links that meet in a new pin, their other ends anywhere on
links
that are there already). So every chain closes as drawn, and with any of its links held fixed and any other as the
panel the
four-bar, both Watt and all three Stephenson six-bars, and eight-bars up to twelve links come up, with ternary links
and pins
that join three. Then it is spoilt: twin arms, hanging and loose links, trusses, pins in one place or in one line,
tiny, huge.

    python -m tests.kinematics.random_linkages [COUNT] [FIRST]      runs as many as told (10 000) and prints what it
    found
"""

from __future__ import annotations

import cmath
import math
import random
import sys
import time
from collections import Counter
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np

import kinematics
from tests.outside.oracles import PinTracker, StuckError
from tests.outside.sketch import Line, Sketch

if TYPE_CHECKING:
    from kinematics.analysis import Analysis

RESIDUAL = 1e-9  # mm, at every pose
ENDS = {"wanted opening", "dead point", "locked", "loose", "device stop"}


@dataclass
class Chain:
    """A linkage being drawn."""

    dice: random.Random
    links: list[str] = field(default_factory=lambda: ["L0"])
    pivots: dict[str, tuple[complex, tuple[str, ...]]] = field(default_factory=dict)

    def point(self) -> complex:
        return complex(self.dice.uniform(-150, 150), self.dice.uniform(-150, 150))

    def link(self) -> str:
        self.links.append(f"L{len(self.links)}")
        return self.links[-1]

    def pin(self, at: complex, *joins: str) -> str:
        name = f"P{len(self.pivots)}"
        self.pivots[name] = (at, joins)
        return name

    def add_to_pin(self, name: str, link: str) -> None:
        at, joins = self.pivots[name]
        self.pivots[name] = (at, (*joins, link))

    def hang(self, link: str, on: str) -> None:
        """Pin a link to another: at a new place, or now and then on a pin that is there already."""
        there = [name for name, (_, joins) in self.pivots.items() if on in joins and link not in joins]
        if there and self.dice.random() < 0.25:
            self.add_to_pin(self.dice.choice(there), link)
        else:
            self.pin(self.point(), on, link)

    def crank(self) -> None:
        self.hang(self.link(), "L0")

    def dyad(self) -> None:
        one, other = self.dice.sample(self.links, 2)
        first, second = self.link(), self.link()
        self.hang(first, one)
        self.hang(second, other)
        self.pin(self.point(), first, second)

    def twin(self) -> None:
        """A second arm beside one that is there, on the same two pins."""
        pairs = [link for link in self.links if len(self.pins_on(link)) >= 2]
        if pairs:
            old = self.dice.choice(pairs)
            new = self.link()
            for name in self.dice.sample(self.pins_on(old), 2):
                self.add_to_pin(name, new)

    def pins_on(self, link: str) -> list[str]:
        return [name for name, (_, joins) in self.pivots.items() if link in joins]

    def brace(self) -> None:
        """One link more between two that are there: takes a freedom away, mostly the last."""
        one, other = self.dice.sample(self.links, 2)
        new = self.link()
        self.hang(new, one)
        self.hang(new, other)

    def sketch(self, fixed: str, panel: str) -> Sketch:
        links = (fixed, *(link for link in self.links if link != fixed))
        return Sketch(
            links,
            panel,
            dict(self.pivots),
            anticlockwise=self.dice.random() < 0.5,
            wanted_deg=self.dice.choice([30.0, 75.0, 90.0, 180.0, self.dice.uniform(1, 180)]),
        )


def linkage(seed: int) -> Sketch:
    """The linkage of a seed."""
    dice = random.Random(seed)
    kind = dice.choices(list(KINDS), weights=[weight for _, weight in KINDS.values()])[0]
    return KINDS[kind][0](dice)


def kind_of(seed: int) -> str:
    """What was drawn for a seed, in a word."""
    return random.Random(seed).choices(list(KINDS), weights=[weight for _, weight in KINDS.values()])[0]


def chain(dice: random.Random, dyads: int) -> Chain:
    drawn = Chain(dice)
    drawn.crank()
    for _ in range(dyads):
        drawn.dyad()
    return drawn


def whole(drawn: Chain) -> Sketch:
    """Any link fixed, any other the panel."""
    return drawn.sketch(*drawn.dice.sample(drawn.links, 2))


def plain(dice: random.Random) -> Sketch:
    """Four-bar to twelve-bar: mobility 1 by the count."""
    return whole(chain(dice, dice.choice([1, 1, 2, 2, 2, 3, 3, 4, 5])))


def single_pivot(dice: random.Random) -> Sketch:
    return whole(chain(dice, 0))


def twins(dice: random.Random) -> Sketch:
    drawn = chain(dice, dice.choice([1, 2, 3]))
    for _ in range(dice.randint(1, 2)):
        drawn.twin()
    return whole(drawn)


def hanging(dice: random.Random) -> Sketch:
    drawn = chain(dice, dice.choice([1, 2]))
    fixed, panel = dice.sample(drawn.links, 2)
    for _ in range(dice.randint(1, 3)):
        drawn.hang(drawn.link(), dice.choice(drawn.links[:-1]))
    return drawn.sketch(fixed, panel)


def apart(dice: random.Random) -> Sketch:
    """Links joined to nothing, or only among themselves; sometimes the panel is among them."""
    drawn = chain(dice, dice.choice([0, 1, 2]))
    fixed = dice.choice(drawn.links)
    for _ in range(dice.randint(1, 3)):
        drawn.link()
    if dice.random() < 0.5:
        one, other = drawn.link(), drawn.link()
        drawn.pin(drawn.point(), one, other)
    return drawn.sketch(fixed, dice.choice([link for link in drawn.links if link != fixed]))


def loose(dice: random.Random) -> Sketch:
    """More freedoms than one: chains of single links, closed."""
    drawn = Chain(dice)
    before = "L0"
    for _ in range(dice.randint(3, 6)):
        new = drawn.link()
        drawn.pin(drawn.point(), before, new)
        before = new
    drawn.pin(drawn.point(), before, "L0")
    if dice.random() < 0.3:
        drawn.dyad()
    return whole(drawn)


def locked(dice: random.Random) -> Sketch:
    drawn = chain(dice, dice.choice([1, 2, 3]))
    for _ in range(dice.randint(1, 2)):
        drawn.brace()
    return whole(drawn)


def moved(sketch: Sketch, to: dict[str, complex]) -> Sketch:
    return replace(sketch, pivots={name: (to.get(name, at), joins) for name, (at, joins) in sketch.pivots.items()})


def coincident(dice: random.Random) -> Sketch:
    """Two or more pins in one place, exactly or by a hair."""
    sketch = whole(chain(dice, dice.choice([1, 2, 3])))
    names = dice.sample(list(sketch.pivots), min(dice.choice([2, 2, 2, 3, 99]), len(sketch.pivots)))
    hair = dice.choice([0.0, 0.0, 1e-12, 1e-7, 1e-3])
    place = sketch.pin(names[0])
    return moved(sketch, {name: place + hair * complex(dice.random(), dice.random()) for name in names})


def collinear(dice: random.Random) -> Sketch:
    """All pins, or those of a link, in one line, exactly or by a hair: dead points where it is shut."""
    sketch = whole(chain(dice, dice.choice([1, 2, 3])))
    names = list(sketch.pivots) if dice.random() < 0.5 else dice.sample(list(sketch.pivots), min(3, len(sketch.pivots)))
    foot, along = (
        complex(dice.uniform(-50, 50), dice.uniform(-50, 50)),
        cmath.rect(1, dice.choice([0, 1.1, math.pi / 2])),
    )
    hair = dice.choice([0.0, 0.0, 1e-12, 1e-7, 1e-3])
    return moved(
        sketch, {name: foot + along * complex(dice.uniform(-150, 150), hair * dice.uniform(-1, 1)) for name in names}
    )


def parallel(dice: random.Random) -> Sketch:
    """Equal parallel cranks, two to four: a panel that slides, redundant arms, a change point; sometimes off by a
    hair.
    """
    drawn = Chain(dice)
    coupler, crank = drawn.link(), cmath.rect(dice.uniform(20, 90), dice.uniform(-math.pi, math.pi))
    hair = dice.choice([0.0, 0.0, 0.0, 1e-9, 1e-4, 1.0])
    for _ in range(dice.randint(2, 4)):
        arm, foot = drawn.link(), drawn.point()
        drawn.pin(foot, "L0", arm)
        drawn.pin(foot + crank + hair * complex(dice.uniform(-1, 1), dice.uniform(-1, 1)), arm, coupler)
    if dice.random() < 0.4:
        drawn.dyad()
    return whole(drawn)


def kite(dice: random.Random) -> Sketch:
    """Change-point four-bars: antiparallelograms and kites."""
    a, d, t = dice.uniform(20, 90), dice.uniform(95, 150), dice.uniform(0.2, 2.9)
    top = cmath.rect(a, t)
    lean = (d - top) / abs(d - top)
    crossed = top + d - 2 * ((top - 0) * lean.conjugate()).real * lean  # opposite sides equal, bars crossing
    folded = (top.conjugate() / (d - top).conjugate()) * (d - top)  # mirror image of the ground pivot in A–O4: a kite
    far = folded if dice.random() < 0.5 and abs(folded) > 1 else crossed
    pivots = {
        "P0": (0j, ("L0", "L1")),
        "P1": (top, ("L1", "L2")),
        "P2": (far, ("L2", "L3")),
        "P3": (d + 0j, ("L3", "L0")),
    }
    drawn = Chain(dice, ["L0", "L1", "L2", "L3"], pivots)
    return whole(drawn)


def resized(dice: random.Random) -> Sketch:
    """Tiny, huge, far from the origin."""
    sketch = plain(dice) if dice.random() < 0.7 else parallel(dice)
    factor = dice.choice([1e-6, 1e-3, 1e-2, 30.0, 350.0])
    offset = complex(dice.uniform(-1, 1), dice.uniform(-1, 1)) * dice.choice([0.0, 1e3, 9e3])
    return moved(sketch, {name: factor * at + offset for name, (at, _) in sketch.pivots.items()})


def uneven(dice: random.Random) -> Sketch:
    """Links of a hair beside links of metres."""
    sketch = plain(dice)
    return moved(sketch, {name: at * 10 ** dice.uniform(-4, 1.5) for name, (at, _) in sketch.pivots.items()})


def dressed(dice: random.Random) -> Sketch:
    """With outlines on any links, gaps, marks and widths."""
    sketch = plain(dice)
    outlines = {}
    for k in range(dice.randint(1, 3)):
        start = complex(dice.uniform(-200, 200), dice.uniform(-200, 200))
        points = [start + complex(dice.uniform(-90, 90), dice.uniform(-90, 90)) for _ in range(dice.randint(3, 9))]
        outlines[f"line {k}"] = Line(
            dice.choice(sketch.links), tuple(points), dice.random() < 0.5, dice.choice([0.0, 5.0])
        )
    outlines["skin"] = Line(sketch.panel, (sketch.pin(next(iter(sketch.pivots))) + 30j, 150 + 140j))
    outlines["rail"] = Line(sketch.links[0], (-300 + 10j, -100 - 220j, 250 - 260j))
    gaps = tuple(
        ("skin", name, dice.uniform(0, 20), dice.choice([0.0, 10.0]))
        for name, line in outlines.items()
        if line.on != sketch.panel
    )
    widths = {link: dice.uniform(5, 40) for link in sketch.links[1:] if dice.random() < 0.5}
    return replace(sketch, outlines=outlines, gaps=gaps, widths=widths, marks={"M": (sketch.panel, 150 + 140j)})


KINDS = {
    "plain": (plain, 40),
    "single pivot": (single_pivot, 2),
    "twins": (twins, 8),
    "hanging": (hanging, 6),
    "apart": (apart, 5),
    "loose": (loose, 5),
    "locked": (locked, 6),
    "coincident": (coincident, 8),
    "collinear": (collinear, 8),
    "parallel": (parallel, 8),
    "kite": (kite, 4),
    "resized": (resized, 6),
    "uneven": (uneven, 3),
    "dressed": (dressed, 4),
}


# --------------------------------------------------------------------------------------------------- what must hold


def faults(sketch: Sketch, analysis: Analysis) -> list[str]:
    """Everything about an analysis that can't be; [] for a good one."""
    found = [*_numbers(analysis), *_openings(sketch, analysis)]
    if not found:
        found = [*_standing(sketch, analysis), *_ends(analysis)]
    return found


def _numbers(analysis: Analysis) -> list[str]:
    found = []
    for name in ("openings", "turns", "shifts"):
        if not np.isfinite(getattr(analysis, name)).all():
            found.append(f"{name} hold NaN or infinity")
    told = [analysis.opening.wanted_deg, analysis.opening.reached_deg, analysis.opening.largest_deg]
    for gap in analysis.gaps:
        told += [number for number in (gap.smallest, gap.at_deg, gap.shut) if number is not None]
        told += [edge for touch in gap.touching_deg for edge in touch]
        told += [number for place in gap.at_points or () for number in place]
    for check in analysis.checks:
        told += [check.want, *(() if check.have is None else (check.have, check.margin))]
    if analysis.transmission is not None:
        told += [
            analysis.transmission.smallest_deg,
            analysis.transmission.at_deg,
            *analysis.transmission.angles.ravel(),
        ]
    if not all(math.isfinite(number) for number in told):
        found.append("a figure is NaN or infinite")
    return found


def _openings(sketch: Sketch, analysis: Analysis) -> list[str]:
    openings, reached = analysis.openings, analysis.opening.reached_deg
    if openings[0] != 0.0 or abs(openings[-1] - reached) > 1e-9:
        return [f"openings run from {openings[0]} to {openings[-1]}, reached {reached}"]
    found = []
    steps = np.diff(openings)
    if len(steps) and (steps.min() <= 0 or np.ptp(steps) > 1e-9):
        found.append(f"openings not even: steps {steps.min()} to {steps.max()}")
    if (len(openings) == 1) != (reached == 0.0):
        found.append(f"{len(openings)} poses for {reached}° reached")
    sign = 1.0 if sketch.opens == "anticlockwise" else -1.0
    panel = analysis.turns[:, analysis.links.index(sketch.panel)]
    if len(openings) > 1 and np.abs(np.degrees(panel) * sign - openings).max() > 1e-9:
        found.append("the panel's turn isn't the opening")
    return found


def _standing(sketch: Sketch, analysis: Analysis) -> list[str]:
    found = []
    if np.abs(analysis.turns[0]).max() > 0 or np.abs(analysis.shifts[0]).max() > RESIDUAL:
        found.append("the first pose isn't shut")
    fixed = analysis.links.index(sketch.links[0])
    if np.abs(analysis.turns[:, fixed]).max() > 0 or np.abs(analysis.shifts[:, fixed]).max() > 0:
        found.append("the fixed link moves")
    worst = pin_residual(sketch, analysis.links, analysis.turns, analysis.shifts)
    if worst > RESIDUAL:
        found.append(f"residual {worst:.3g} mm at a reported pose")
    reached = analysis.opening.reached_deg
    between = [analysis.pose(share * reached) for share in (0.00037, 0.123456, 0.6180339, 0.999713)]
    worst = pin_residual(
        sketch, analysis.links, np.array([pose.turns for pose in between]), np.array([pose.shifts for pose in between])
    )
    if worst > RESIDUAL:
        found.append(f"residual {worst:.3g} mm at a pose between")
    return found


def pin_residual(sketch: Sketch, links: tuple[str, ...], turns: np.ndarray, shifts: np.ndarray) -> float:
    """Largest distance between two links' claims of one pivot, over poses (rows), mm."""
    worst = 0.0
    turned = np.exp(1j * turns)
    for at, joins in sketch.pivots.values():
        columns = [links.index(link) for link in joins]
        claims = shifts[:, columns] + turned[:, columns] * at
        worst = max(worst, float(np.abs(claims - claims[:, :1]).max()))
    return worst


def _ends(analysis: Analysis) -> list[str]:
    told = analysis.opening
    found = []
    if told.ends not in ENDS:
        found.append(f"ends {told.ends!r}")
    if (told.ends == "wanted opening") != (told.reached_deg == told.wanted_deg):
        found.append(f"ends {told.ends!r} at {told.reached_deg} of {told.wanted_deg}")
    if not told.reached_deg <= told.largest_deg + 1e-9 <= 180.0 + 2e-9:
        found.append(f"largest {told.largest_deg}, reached {told.reached_deg}")
    if told.reached_deg == 0.0 and not analysis.remarks:
        found.append("nothing opens, and no remark says why")
    if any(not isinstance(remark, str) or not remark.strip() for remark in analysis.remarks):
        found.append("an empty remark")
    return found


def jumps(sketch: Sketch, analysis: Analysis, poses: int = 12) -> str | None:
    """A branch jump, told by pins tracked in small steps; None where all agrees. "unsure" where the tracker can't
    tell.
    """
    tracker = PinTracker(sketch)
    if tracker.drive is None or analysis.opening.reached_deg == 0.0:
        return None
    sign = 1.0 if sketch.opens == "anticlockwise" else -1.0
    stop = analysis.opening.reached_deg * (1.0 if analysis.opening.ends == "wanted opening" else 1 - 1e-4)
    for deg in np.linspace(0.0, stop, poses)[1:]:
        try:
            tracked = tracker.to(sign * math.radians(float(deg)))
        except StuckError:
            return f"unsure: tracker stuck at {math.degrees(sign * tracker.turn):.6f} before {deg:.6f}"
        sure = tracker.determined()
        pose = analysis.pose(float(deg))
        for name, place, known in zip(tracker.names, tracked, sure, strict=True):
            column = analysis.links.index(sketch.pivots[name][1][0])
            found = pose.shifts[column] + cmath.exp(1j * pose.turns[column]) * sketch.pin(name)
            if known and abs(found - place) > 1e-5 * tracker.size:
                return f"jump: pivot {name} is {abs(found - place):.4g} mm off at {deg:.4f}°"
    return None


def main() -> int:
    """Run many and print what was found."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    first = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    every = int(sys.argv[3]) if len(sys.argv) > 3 else 40
    ends: Counter[str] = Counter()
    bad, sampled, unsure, slowest, spent = 0, 0, 0, (0.0, 0), 0.0
    for seed in range(first, first + count):
        sketch = linkage(seed)
        began = time.perf_counter()
        try:
            analysis = kinematics.analyse(sketch.project(), steps=61)
        except Exception as error:  # noqa: BLE001 (any exception is a finding)
            bad += 1
            print(f"seed {seed} ({kind_of(seed)}): {type(error).__name__}: {error}")  # noqa: T201
            continue
        took = time.perf_counter() - began
        spent += took
        slowest = max(slowest, (took, seed))
        ends[analysis.opening.ends] += 1
        told = faults(sketch, analysis)
        if seed % every == 0:
            sampled += 1
            jump = jumps(sketch, analysis)
            if jump is not None and jump.startswith("unsure"):
                unsure += 1
                print(f"(seed {seed} ({kind_of(seed)}, {analysis.opening.ends}): {jump})")  # noqa: T201
            elif jump is not None:
                told.append(jump)
        if told:
            bad += 1
            print(f"seed {seed} ({kind_of(seed)}, {analysis.opening.ends}): {'; '.join(told)}")  # noqa: T201
    print(  # noqa: T201
        f"{count} linkages, {bad} with faults, {sampled} tracked ({unsure} unsure); ends {dict(ends)}; "
        f"{1e3 * spent / count:.1f} ms each, slowest {1e3 * slowest[0]:.0f} ms (seed {slowest[1]})"
    )
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
