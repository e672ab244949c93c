"""What a pivot's move does to a check, against a closure written here and differentiated by complex steps.

Sources: W. Squire, G. Trapp, SIAM Review 40 (1998), on complex steps (from memory); checks A1, A4, A21 of checks.md for
the linkages and for how an error falls. The closure here knows no turns of links: its unknowns are the places of pins,
its equations the distances of the pins of a link and the panel's direction (x and y apart, so that all of it is
analytic). A pin's shut place gets an imaginary part of 1e-40, Newton carries it through, and the imaginary part of the
answer is the derivative to all digits: nothing is subtracted.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

import kinematics
from kinematics import edits
from kinematics.influence import influence_on
from kinematics.project import Limit
from tests.outside import figures
from tests.outside.sketch import WAYS, Line, Sketch, four_bar

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.project import Project
    from kinematics.results import Check

STEP = 1e-40
EXACT = 1e-9  # mm per mm: the program's poses are closed to 1e-13 of the size, times conditions of some 1000
FLAT = 1e-7  # where the gap is smallest is told to 1e-6° at worst (it is flat there), and rates go by 0.1 a degree
TYPED = 5e-10  # half the last digit typed

Pins = dict[str, np.ndarray]


@dataclass
class Closed:
    """A sketch's pins at a turn of the panel, by distances; complex numbers only carry derivatives."""

    sketch: Sketch

    def __post_init__(self) -> None:
        fixed = self.sketch.links[0]
        self.moving = [name for name, (_, joins) in self.sketch.pivots.items() if fixed not in joins]
        self.known: dict[float, Pins] = {}
        self.pairs = []
        self.panel: tuple[str, ...] = ()
        for link in self.sketch.links[1:]:
            on = [name for name, (_, joins) in self.sketch.pivots.items() if link in joins]
            if link == self.sketch.panel:
                self.panel = (on[0], on[1])
            else:
                self.pairs += [(a, b) for k, a in enumerate(on) for b in on[:k]]

    def shut(self, pivot: str = "", way: tuple[float, float] = (0.0, 0.0)) -> Pins:
        """The shut places, one of them moved by an imaginary step."""
        pins = {name: np.array([at.real, at.imag], dtype=complex) for name, (at, _) in self.sketch.pivots.items()}
        if pivot:
            pins[pivot] += 1j * STEP * np.array(way)
        return pins

    def at(self, shut: Pins, turn: float, start: Pins) -> Pins:
        """Newton from a start; the panel's direction is given, so its two pins keep their distance by it."""
        pins = {name: (start if name in self.moving else shut)[name].copy() for name in shut}
        turning = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
        one, other = self.panel
        for _ in range(8):
            rows, values = [], []
            for a, b in self.pairs:
                now, before = pins[a] - pins[b], shut[a] - shut[b]
                values.append(now @ now - before @ before)
                rows.append(self._row({a: 2 * now, b: -2 * now}))
            lack = pins[other] - pins[one] - turning @ (shut[other] - shut[one])
            for k in range(2):
                unit = np.eye(2)[k]
                values.append(lack[k])
                rows.append(self._row({other: unit, one: -unit}))
            # real slopes: the imaginary parts are so small that they would only round away, and Newton repeats
            step = np.linalg.solve(np.array(rows).real, np.array(values))
            for k, name in enumerate(self.moving):
                pins[name] = pins[name] - step[2 * k : 2 * k + 2]
        return pins

    def _row(self, parts: Pins) -> np.ndarray:
        row = np.zeros(2 * len(self.moving), dtype=complex)
        for name, slope in parts.items():
            if name in self.moving:
                k = self.moving.index(name)
                row[2 * k : 2 * k + 2] += slope
        return row

    def followed(self, turn_deg: float) -> Pins:
        """The pins from shut on in steps of two degrees, unmoved."""
        if turn_deg not in self.known:
            shut = pins = self.shut()
            for turn in np.linspace(0.0, turn_deg, 2 + int(abs(turn_deg) / 2))[1:]:
                pins = self.at(shut, math.radians(turn), pins)
            self.known[turn_deg] = pins
        return self.known[turn_deg]

    def place(
        self, link: str, point: complex, turn_deg: float, pivot: str = "", way: tuple[float, float] = (0.0, 0.0)
    ) -> np.ndarray:
        """Where a link has a shut point of its, (x, y)."""
        shut = self.shut(pivot, way)
        pins = self.at(shut, math.radians(turn_deg), self.followed(turn_deg))
        one, other = [name for name, (_, joins) in self.sketch.pivots.items() if link in joins][:2]
        before, now = shut[other] - shut[one], pins[other] - pins[one]
        along, across = now @ before, now[1] * before[0] - now[0] * before[1]
        turning = np.array([[along, -across], [across, along]]) / (before @ before)
        return np.asarray(pins[one] + turning @ (np.array([point.real, point.imag]) - shut[one]))

    def drift(self, link: str, point: complex, turn_deg: float, pivot: str) -> np.ndarray:
        """(2, 2): how x and y (rows) of a link's point go with x and y of a pin's shut place (columns)."""
        ways = ((1.0, 0.0), (0.0, 1.0))
        return np.stack([self.place(link, point, turn_deg, pivot, way).imag / STEP for way in ways], axis=1)


P = 64.305556 + 60.123457j  # any point; rides on the coupler


def norton(panel: str) -> Sketch:
    """A1 at 40°, open; 20° wanted of the panel."""
    return four_bar(figures.NORTON, figures.NORTON_AT, panel=panel, wanted_deg=20.0)


def six_bar(anticlockwise: bool, wanted_deg: float, **more: object) -> Sketch:
    return figures.six_bar(anticlockwise=anticlockwise, wanted_deg=wanted_deg, **more)


CASES = {  # a sketch, and a point of a link
    "A1, driven by the crank": (norton("crank"), "coupler", P),
    "A1, driven by the rocker": (norton("rocker"), "coupler", P),
    "A1, driven by the coupler": (norton("coupler"), "coupler", P),
    "A21, crank going on": (six_bar(False, 15.0), "panel", figures.G),
    "A21, crank going back": (six_bar(True, 8.0), "panel", figures.G),
    "A21, a point of its arm": (six_bar(False, 15.0), "arm", 90 + 150j),
}


def signed(sketch: Sketch, opening_deg: float) -> float:
    return opening_deg if sketch.anticlockwise else -opening_deg


def limited(sketch: Sketch, link: str, point: complex, **limit: float) -> Project:
    """The project of a sketch with a limit on a point of a link."""
    project = replace(sketch, marks={"M": (link, point)}).project()
    return replace(project, limits=(Limit("M", **limit),))


def check_of(analysis: Analysis, kind: str) -> Check:
    (check,) = [check for check in analysis.checks if check.kind == kind]
    return check


# ------------------------------------------------------------------------------------------------- the oracle is sound
@pytest.mark.parametrize("row", figures.SIX_BAR, ids=lambda row: f"crank {row.crank_deg:+}")
def test_the_closure_written_here_is_a21s(row: figures.SixBarRow) -> None:
    """A21: its typed G, at the panel's typed turns (nine decimals, times a lever of some 30 mm per degree)."""
    x, y = Closed(figures.six_bar()).place("panel", figures.G, row.panel_deg).real
    assert abs(complex(x, y) - row.g) < 5e-8


def test_all_pins_moved_alike_carry_the_sheet_along() -> None:
    """Moved pins and an unmoved point: the point goes by (1 − e)·d, e being the panel's turn of −15°."""
    sketch, link, point = CASES["A21, crank going on"]
    whole = sum(Closed(sketch).drift(link, point, -15.0, pivot) for pivot in sketch.pivots)
    cosine, sine = 0.965925826289, -0.258819045103
    assert np.abs(whole - [[1 - cosine, sine], [-sine, 1 - cosine]]).max() < 1e-11  # twelve digits, seven pins added


# -------------------------------------------------------------------------------------------------------------- limits
@pytest.mark.parametrize("case", CASES)
def test_a_limit_at_the_end_goes_as_complex_steps_say(case: str) -> None:
    """Every pin, x and y, all four sides. Trap: the sign for "at most"; a pin carries two links and moves both."""
    sketch, link, point = CASES[case]
    turn, closed = signed(sketch, sketch.wanted_deg), Closed(sketch)
    drifts = {pivot: closed.drift(link, point, turn, pivot) for pivot in sketch.pivots}
    assert sum(bool(np.abs(drift).max() > 0.01) for drift in drifts.values()) >= 3
    for side in ("dx_at_least", "dx_at_most", "dy_at_least", "dy_at_most"):
        project = limited(sketch, link, point, **{side: 0.0, "after_deg": sketch.wanted_deg})
        analysis = kinematics.analyse(project, steps=2)
        check, sign = check_of(analysis, "limit"), 1.0 if side.endswith("least") else -1.0
        assert check.deg == pytest.approx(sketch.wanted_deg, rel=0, abs=1e-9)
        for pivot, drift in drifts.items():
            found = influence_on(analysis, check, pivot)
            assert found is not None
            expected = sign * drift[0 if "x" in side else 1]
            assert found.per_mm == pytest.approx(tuple(expected), rel=0, abs=EXACT), (side, pivot)


TYPED_RATES = {  # case → pin → how y of the point goes with x and y of the pin
    "A1, driven by the coupler": {"A": (0.055264888, -0.441704613), "B": (-0.148787697, 0.115671984)},
    "A21, crank going on": {
        "P1": (-0.135716071, 0.000500986),
        "P4": (-0.099196860, -0.104336349),
        "P6": (0.783653258, -0.023875192),
    },
}


@pytest.mark.parametrize(("case", "pivot"), [(case, pin) for case, pins in TYPED_RATES.items() for pin in pins])
def test_rates_as_typed(case: str, pivot: str) -> None:
    """A1 and A21 at the end of their sweep; our figures, by the complex steps above with 16 digits."""
    sketch, link, point = CASES[case]
    project = limited(sketch, link, point, dy_at_least=0.0, after_deg=sketch.wanted_deg)
    analysis = kinematics.analyse(project, steps=2)
    found = influence_on(analysis, check_of(analysis, "limit"), pivot)
    assert found is not None
    assert found.per_mm == pytest.approx(TYPED_RATES[case][pivot], rel=0, abs=TYPED)


def test_the_highest_place_between_goes_as_at_its_own_pose() -> None:
    """G of A21 is highest between shut and 15°: that the highest place wanders doesn't count (envelope theorem)."""
    sketch, link, point = CASES["A21, crank going on"]
    analysis = kinematics.analyse(limited(sketch, link, point, dy_at_most=1.0), steps=2)
    check, closed = check_of(analysis, "limit"), Closed(sketch)
    assert check.deg is not None
    assert 2.0 < check.deg < 5.0
    for pivot in sketch.pivots:
        drift = -closed.drift(link, point, -check.deg, pivot)[1]
        found = influence_on(analysis, check, pivot)
        assert found is not None
        assert found.per_mm == pytest.approx(tuple(drift), rel=0, abs=FLAT), pivot


# ---------------------------------------------------------------------------------------------------------------- gaps
@pytest.mark.parametrize("way", WAYS)
def test_a_gap_goes_as_complex_steps_say_whichever_way_it_lies(way: str) -> None:
    """A spike of A21's panel, its tip at G, under a level wall at y = 150: the gap is the wall's height less G's."""
    outlines = {
        "wall": Line("ground", (100 + 150j, 350 + 150j)),
        "spike": Line("panel", (150 + 90j, figures.G, 160 + 80j)),
    }
    sketch = six_bar(False, 15.0, outlines=outlines, gaps=(("wall", "spike", 5.0, 0.0),))
    laid = replace(sketch, **WAYS[way])
    analysis = kinematics.analyse(laid.project(), steps=2)
    check, closed = check_of(analysis, "gap"), Closed(sketch)
    assert check.deg is not None
    assert 2.0 < check.deg < 5.0
    for pivot in sketch.pivots:
        found = influence_on(analysis, check, pivot)
        assert found is not None
        rate = complex(*found.per_mm) * laid.factor.conjugate() / abs(laid.factor)
        rate = rate.conjugate() if laid.mirrored else rate
        drift = -closed.drift("panel", figures.G, -check.deg, pivot)[1]
        assert (rate.real, rate.imag) == pytest.approx(tuple(drift), rel=0, abs=FLAT), pivot


# ---------------------------------------------------------------------------------------------------------- dead point
def at_the_dead_point(pins: Pins, point: complex) -> tuple[complex, np.ndarray]:
    """Largest opening of A1's coupler on its crossed circuit, rad, and where a point of it is then.

    Crank and rocker are parallel there, and the coupler closes a triangle with the ground line and c − a. Written for
    complex steps: roots of squares for lengths, arctangents for angles.
    """

    def length(way: np.ndarray) -> complex:
        return complex(np.sqrt(way @ way))

    ground, coupler = pins["O4"] - pins["O2"], pins["B"] - pins["A"]
    a, b, c, d = length(pins["A"] - pins["O2"]), length(coupler), length(pins["B"] - pins["O4"]), length(ground)
    cosine = (b * b - d * d - (c - a) ** 2) / (2 * d * (c - a))
    sine = -np.sqrt(1 - cosine * cosine)
    along = np.array([cosine * ground[0] - sine * ground[1], sine * ground[0] + cosine * ground[1]]) / d
    last = ground + (c - a) * along
    opening = np.arctan(last[1] / last[0]) - np.arctan(coupler[1] / coupler[0])
    arm, turned = np.array([point.real, point.imag]) - pins["A"], np.array([np.cos(opening), np.sin(opening)])
    carried = np.array([turned[0] * arm[0] - turned[1] * arm[1], turned[1] * arm[0] + turned[0] * arm[1]])
    return complex(opening), np.asarray(pins["O2"] + a * along + carried)


def test_the_dead_point_moves_as_its_closed_form_says() -> None:
    """A1 crossed, at 100° of the crank, the coupler its panel: 41.909329955° (D6), and its rates by every pin.

    A point of the coupler is furthest ahead there too; its rate has the way on which the dead point itself wanders.
    """
    sketch = four_bar(figures.NORTON, 100.0, crossed=True, panel="coupler", wanted_deg=60.0)
    analysis = kinematics.analyse(limited(sketch, "coupler", P, dx_at_most=1.0, after_deg=41.0), steps=2)
    closed, opening, limit = Closed(sketch), check_of(analysis, "opening"), check_of(analysis, "limit")
    assert math.degrees(at_the_dead_point(closed.shut(), P)[0].real) == pytest.approx(41.909329955, rel=0, abs=TYPED)
    assert opening.have == pytest.approx(41.909329955, rel=0, abs=TYPED)
    assert limit.deg == opening.have
    for pivot in sketch.pivots:
        far, reach = influence_on(analysis, opening, pivot), influence_on(analysis, limit, pivot)
        assert far is not None
        assert reach is not None
        for k, way in enumerate(((1.0, 0.0), (0.0, 1.0))):
            turn, place = at_the_dead_point(closed.shut(pivot, way), P)
            assert abs(math.degrees(turn.imag / STEP)) > 0.05
            assert far.per_mm[k] == pytest.approx(math.degrees(turn.imag / STEP), rel=0, abs=FLAT), pivot
            assert reach.per_mm[k] == pytest.approx(-place[0].imag / STEP, rel=0, abs=FLAT), pivot


# ---------------------------------------------------------------------------------------------------------- differences
@pytest.mark.parametrize(("side", "after_deg"), [("dx_at_least", 15.0), ("dy_at_least", 15.0), ("dy_at_most", 0.0)])
@pytest.mark.parametrize("pivot", ["P1", "P4", "P7"])
def test_the_error_of_differences_falls_with_the_square_of_the_step(pivot: str, side: str, after_deg: float) -> None:
    """As A4 asks of velocities: halving the step quarters the error, within a tenth. Whole analyses, no first guess."""
    sketch, link, point = CASES["A21, crank going on"]
    project = limited(sketch, link, point, **{side: 1.0, "after_deg": after_deg})
    analysis = kinematics.analyse(project, steps=2)
    found = influence_on(analysis, check_of(analysis, "limit"), pivot)
    assert found is not None
    x, y = project.pivot(pivot).at

    def margin(dx: float) -> float:
        moved = kinematics.analyse(edits.move_pivot(project, pivot, (x + dx, y)), steps=2)
        return check_of(moved, "limit").margin

    errors = [(margin(step) - margin(-step)) / (2 * step) - found.per_mm[0] for step in (0.8, 0.4)]
    assert abs(errors[1]) > 1e-6  # large enough to tell
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.1)
