"""Four-bars fitted to points that their coupler point is to pass, on the program's own equations.

Nothing of the motion is written here a second time: a design gives every link its own measures, `closure.maps` makes
the loops of them, `branch.newton_step` and `branch.solved` close them and say how they yield, `analyse` sweeps what was
found. What is here is only the fitting: which numbers are free, and how the misses follow them by the chain rule.

A link's measures stand in its own frame: ground O₂ = 0, O₄ = r₁; crank O₂ = 0, A = r₂; coupler A = 0, B = r₃,
P = cx + i·cy; rocker O₄ = 0, B = r₄. So the turns of links are angles from the ground line, and the loops are linear in
the measures. The ground frame is turned by θ₀ and laid at (x₀, y₀).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from scipy.optimize import least_squares

import kinematics
from kinematics.branch import Curve, newton_step, solved
from kinematics.closure import build, maps
from kinematics.project import Link, Mark, Pivot, Project, Travel

NAMES = ("r1", "r2", "r3", "r4", "cx", "cy", "turn", "x0", "y0", "first")
"""The numbers of a design; behind them one for each step of the crank from point to point (rad)."""
LINKS = ("ground", "crank", "coupler", "rocker")
JOINS = {"O2": "ground crank", "A": "crank coupler", "B": "coupler rocker", "O4": "rocker ground"}
MEASURES = {"r1": ("O4", 1), "r2": ("A", 0), "r3": ("B", 0), "r4": ("B", 1)}
"""Which joint a length moves, and on which of its two links."""
FINEST = {"xtol": 1e-14, "ftol": 1e-14, "gtol": 1e-14}
OPEN_LOOP = 1e-10
"""Share of the largest length by which a loop may stay open."""


def project_of(pins: dict[str, complex], point: complex, opens: str, driver: str = "crank") -> Project:
    """The four-bar as the program takes it, half a turn wanted of the link that is its panel."""
    kinds = {"ground": "fixed", driver: "panel"}
    return Project(
        links=tuple(Link(name, kinds.get(name, "link")) for name in LINKS),
        pivots=tuple(Pivot(name, (pins[name].real, pins[name].imag), tuple(JOINS[name].split())) for name in JOINS),
        marks=(Mark("P", "coupler", (point.real, point.imag)),),
        travel=Travel(opens, 180.0),
    )


TEMPLATE = build(project_of({"O2": 0j, "A": 1j, "B": 2 + 1j, "O4": 2 + 0j}, 1 + 2j, "anticlockwise"))
CRANK, COUPLER, ROCKER = 1, 2, 3


@dataclass
class PathFit:
    """One problem: the targets in order, which numbers are free, between which bounds.

    held : numbers that are given; `steps_deg`: steps of the crank where they are given. evaluations : counted.
    """

    targets: tuple[complex, ...]
    held: dict[str, float] = field(default_factory=dict)
    steps_deg: float | None = None
    longest: float = 60.0
    widest: float = 60.0
    evaluations: int = 0

    def __post_init__(self) -> None:
        self.to = np.array(self.targets)
        count = len(NAMES) + len(self.targets) - 1
        self.fixed = np.full(count, np.nan)
        for name, value in self.held.items():
            self.fixed[NAMES.index(name)] = value
        if self.steps_deg is not None:
            self.fixed[len(NAMES) :] = math.radians(self.steps_deg)
        self.free = np.flatnonzero(np.isnan(self.fixed))
        low, high = np.full(count, -self.widest), np.full(count, self.widest)
        low[:4], high[:4] = 1e-3, self.longest
        low[[6, 9]], high[[6, 9]] = -4 * math.pi, 4 * math.pi
        low[len(NAMES) :], high[len(NAMES) :] = 1e-3, math.pi  # in order, one way round
        self.bounds = low[self.free], high[self.free]
        sixth, angle = self.widest / 6, 0.3
        scale = [self.longest / 6] * 4 + [sixth, sixth, angle, sixth, sixth, angle] + [0.1] * (count - len(NAMES))
        self.scale = np.array(scale)[self.free]
        self.turns: np.ndarray | None = None

    def whole(self, x: np.ndarray) -> np.ndarray:
        """All numbers of a design from its free ones."""
        design = self.fixed.copy()
        design[self.free] = x
        return design

    def cranks(self, design: np.ndarray) -> np.ndarray:
        """(n,) crank angles at the targets, from the ground line."""
        return np.asarray(design[9] + np.concatenate([[0.0], np.cumsum(design[10:])]))

    def closed(self, design: np.ndarray, guess: np.ndarray) -> tuple[Curve, np.ndarray, np.ndarray] | None:
        """The loops, the shift map and the turns (n, 3) at the targets; None where a pose doesn't close."""
        ends = np.zeros((2, 4), dtype=complex)
        for name, (joint, which) in MEASURES.items():
            ends[which, list(JOINS).index(joint)] = design[NAMES.index(name)]
        shift_map, loops = maps(TEMPLATE.walk, TEMPLATE.joints, ends[0], ends[1])
        size = float(design[:4].max())
        curve = Curve(loops, size, redundant=False)
        y, held = guess.copy(), np.zeros_like(guess)
        y[:, 0], held[:, 0] = self.cranks(design), 1.0
        for _ in range(12):
            residual = curve.residual(y)
            if np.abs(residual).max() <= 1e-13 * size:
                break
            step = newton_step(curve, y, residual, held)
            if not np.isfinite(step).all() or np.abs(step).max() > 3.0:
                return None
            y -= step
        return (curve, shift_map, y) if np.abs(curve.residual(y)).max() <= OPEN_LOOP * size else None

    def misses(self, design: np.ndarray, y: np.ndarray, shift_map: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """(n,) how far P is from its targets, complex; and P in the ground frame."""
        e = np.exp(1j * np.column_stack([np.zeros(len(y)), y]))
        p = e @ shift_map[COUPLER] + e[:, COUPLER] * complex(design[4], design[5])
        return np.exp(1j * design[6]) * p + complex(design[7], design[8]) - self.to, p

    def slopes(self, design: np.ndarray, y: np.ndarray, curve: Curve, shift_map: np.ndarray) -> np.ndarray:
        """(n, numbers) how the misses follow every number, complex."""
        e = np.exp(1j * np.column_stack([np.zeros(len(y)), y]))
        right = np.zeros((len(y), 3, 5))
        direct = np.zeros((len(y), 4), dtype=complex)
        for k, (joint, which) in enumerate(MEASURES.values()):
            unit = np.zeros((2, 4), dtype=complex)
            unit[which, list(JOINS).index(joint)] = 1.0
            shift_rate, loop_rate = maps(TEMPLATE.walk, TEMPLATE.joints, unit[0], unit[1])
            opened = (e @ loop_rate.T)[:, 0]
            right[:, 0, k], right[:, 1, k] = -opened.real, -opened.imag
            direct[:, k] = e @ shift_rate[COUPLER]
        right[:, 2, 4] = 1.0
        held = np.zeros_like(y)
        held[:, 0] = 1.0
        turned = solved(curve, y, held, right)  # (n, 3, 5): turns per length, and per turn of the crank
        by_turn = 1j * e[:, 1:] * shift_map[COUPLER, 1:]
        by_turn[:, COUPLER - 1] += 1j * e[:, COUPLER] * complex(design[4], design[5])
        moved = np.einsum("nu,nuk->nk", by_turn, turned)
        frame = np.exp(1j * design[6])
        slopes = np.zeros((len(y), len(design)), dtype=complex)
        slopes[:, :4] = frame * (direct + moved[:, :4])
        slopes[:, 4], slopes[:, 5] = frame * e[:, COUPLER], 1j * frame * e[:, COUPLER]
        slopes[:, 6] = 1j * frame * self.misses(design, y, shift_map)[1]
        slopes[:, 7], slopes[:, 8] = 1.0, 1j
        slopes[:, 9] = frame * moved[:, 4]
        for k in range(len(design) - len(NAMES)):
            slopes[k + 1 :, len(NAMES) + k] = frame * moved[k + 1 :, 4]
        return slopes

    def start(self, random: np.random.Generator, low: np.ndarray, high: np.ndarray) -> np.ndarray:
        """The next random design between low and high that closes at all targets, on one side of the circles' meets.

        The cosine rule here gives the first guess of the turns alone; `closed` solves them.
        """
        while True:
            x = np.clip(random.uniform(low[self.free], high[self.free]), *self.bounds)
            way = random.choice([-1.0, 1.0])
            design = self.whole(x)
            d, a, b, c = design[:4]
            crank = a * np.exp(1j * self.cranks(design))
            cosine = (np.abs(d - crank) ** 2 + b * b - c * c) / (2 * np.abs(d - crank) * b)
            if np.abs(cosine).max() < 0.999:
                coupler = np.unwrap(np.angle(d - crank)) + way * np.arccos(cosine)
                rocker = np.unwrap(np.angle(crank + b * np.exp(1j * coupler) - d))
                self.turns = np.column_stack([self.cranks(design), coupler, rocker])
                return x

    def settle(self, x: np.ndarray, most: int) -> tuple[np.ndarray, float]:
        """Least squares from a start; the design's free numbers and the sum of the squared distances."""
        assert self.turns is not None
        best = self.turns
        known: dict[bytes, tuple[Curve, np.ndarray, np.ndarray] | None] = {}

        def at(z: np.ndarray) -> tuple[Curve, np.ndarray, np.ndarray] | None:
            key = z.tobytes()
            if key not in known:
                known.clear()
                self.evaluations += 1
                known[key] = self.closed(self.whole(z), best)
            return known[key]

        def value(z: np.ndarray) -> np.ndarray:
            found = at(z)
            if found is None:
                return np.full(2 * len(self.to), 1e3 * self.widest)  # no way through here: a shorter step
            miss = self.misses(self.whole(z), found[2], found[1])[0]
            return np.concatenate([miss.real, miss.imag])

        def slope(z: np.ndarray) -> np.ndarray:
            nonlocal best
            found = at(z)
            assert found is not None
            curve, shift_map, best = found
            slopes = self.slopes(self.whole(z), best, curve, shift_map)[:, self.free]
            return np.concatenate([slopes.real, slopes.imag])

        done = least_squares(value, x, slope, self.bounds, x_scale=self.scale, max_nfev=most, **FINEST)
        self.turns = best
        return done.x, float(2.0 * done.cost)

    def search(
        self, seed: int, spread: tuple[np.ndarray, np.ndarray], goal: float, most: int, each: int
    ) -> tuple[np.ndarray, float]:
        """From random starts until the sum of squares is below a goal, or `most` poses-at-once were closed.

        each : evaluations spent on one start. Returns the best design and its sum.
        """
        random = np.random.default_rng(seed)
        best, least, turns = np.full(len(self.fixed), np.nan), math.inf, None
        while least > goal and self.evaluations < most:
            x, found = self.settle(self.start(random, *spread), each)
            if found < least:
                best, least, turns = self.whole(x), found, self.turns
        self.turns = turns
        return best, least

    def pins(self, design: np.ndarray) -> tuple[dict[str, complex], complex]:
        """Where the pins and P are at the first target, in the sheet's frame."""
        assert self.turns is not None
        d, a, b, _, cx, cy, turn, x0, y0 = design[:9]
        crank, coupler = np.exp(1j * self.turns[0, :2])
        there = {"O2": 0j, "A": a * crank, "B": a * crank + b * coupler, "O4": complex(d)}
        frame, base = complex(np.exp(1j * turn)), complex(x0, y0)
        return (
            {name: base + frame * complex(z) for name, z in there.items()},
            base + frame * complex(a * crank + coupler * complex(cx, cy)),
        )


def swept(pins: dict[str, complex], point: complex, turns_deg: np.ndarray, driver: str = "crank") -> np.ndarray:
    """Where the program's own sweep has P when the driver has turned by so much from the drawn pose, 0 to 360°.

    The far half of a turn is swept the other way round from the same pose, so all of it is the branch that is drawn;
    what the sweep doesn't reach (a dead point lies before it) is NaN.
    """
    places = np.full(len(turns_deg), complex(np.nan, np.nan))
    for opens, ways in (("anticlockwise", turns_deg), ("clockwise", 360.0 - turns_deg)):
        analysis = kinematics.analyse(project_of(pins, point, opens, driver), steps=2)
        column = analysis.links.index("coupler")
        for k in np.flatnonzero(ways <= min(180.0, analysis.opening.reached_deg)):
            places[k] = complex(*analysis.pose(float(ways[k])).place(column, (point.real, point.imag)))
    return places
