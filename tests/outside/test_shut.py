"""A lid that is shut on stops, seal and latch: levers about its pin, and about its striker.

Source: the law of the lever and virtual work, any text on statics (Archimedes, On the Equilibrium of Planes, I 6–7).
The digits were worked out by hand and typed.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from kinematics.fittings import Cushion, Latch
from kinematics.project import Sureness
from tests.outside.loaded import Told, strut, tell, weight, with_loads
from tests.outside.sketch import Line, Sketch

if TYPE_CHECKING:
    from kinematics.results import ShutFigures

DIGITS = 1e-8  # half the last digit that is typed


def lid(*things: Any, play: float | None = None, **more: Any) -> Told:  # noqa: ANN401  loads of any kind
    """A lid of 100 N on one pin at the origin, its weight 500 mm out, its handle 1000 mm out."""
    sketch = Sketch(
        ("body", "lid"),
        "lid",
        {"A": (0j, ("body", "lid"))},
        wanted_deg=60.0,
        outlines={"skin": Line("lid", (0j, 1000 + 0j))},
    )
    project = with_loads(sketch, weight("lid", 100.0, 500 + 0j), *things, handle=("lid", 1000 + 0j), **more)
    return tell(project if play is None else replace(project, sureness=Sureness(0.0, play)), 3)


STOP = Cushion("stop", "bump stop", "lid", (900.0, 0.0), 3.0, 90.0, force=40.0, count=2)


def test_two_stops_push_the_lid_up_by_their_lever() -> None:
    """(100·500 − 2·40·900)/1000 = −22 N: it is pressed up. Trap: `count` forgotten gives +14 N."""
    assert lid(cushions=(STOP,)).loads.effort[0] == pytest.approx(-22.0, abs=DIGITS)


def test_a_seal_pushes_by_the_metre() -> None:
    """150 N/m along 1200 mm are 180 N; at 800 mm: (100·500 − 180·800)/1000 = −94 N. Trap: N/mm."""
    seal = Cushion("seal", "seal", "lid", (800.0, 0.0), 5.0, per_metre=150.0, length=1200.0)
    assert lid(cushions=(seal,)).loads.effort[0] == pytest.approx(-94.0, abs=DIGITS)


def test_the_largest_push_stands_where_the_stops_let_go() -> None:
    """900 mm out, 3 mm are gone at asin(3/900) = 0.19098628539°; there 50·cos of it are needed, 49.99972222145 N, and
    nowhere more. Samples by the degree see 49.992 at most.
    """
    largest = lid(cushions=(STOP,)).loads.largest
    assert largest is not None
    assert largest.deg == pytest.approx(0.19098628539, abs=1e-9)
    assert largest.force == pytest.approx(49.99972222145, abs=DIGITS)


def test_the_lid_lies_on_its_stops_a_little_open() -> None:
    """It balances where 72·(1 − 300·sin φ) = 50: φ = 0.05835682256°; pressed down further it comes back: stable."""
    balances = lid(cushions=(STOP,)).loads.balances
    assert len(balances) == 1
    assert balances[0].deg == pytest.approx(0.05835682256, abs=1e-7)  # its bracket is narrowed so far
    assert balances[0].stable


LATCH = Latch("lid", (1000.0, 0.0))
UPRIGHT = strut("body", 300 - 400j, "lid", 300 + 0j, extended=450.0, stroke=200.0, force=400.0, ratio=1.0)


def shut(*things: Any, **more: Any) -> ShutFigures:  # noqa: ANN401  loads of any kind
    """The same lid on its stops and its latch, the striker 1000 mm out, straight down into the catch."""
    told = lid(*things, latch=LATCH, cushions=(STOP,), **more).loads.shut
    assert told is not None
    return told


def test_the_latch_holds_what_the_stops_are_stronger_than_the_weight() -> None:
    """(80·900 − 100·500)/1000 = 22 N. Trap: the sign, −22 N."""
    assert shut().latch == pytest.approx(22.0, abs=DIGITS)


def test_the_rear_edge_lies_down_by_its_share_of_the_weight() -> None:
    """About the striker: 100·500 down against 80·100 up, 1000 mm from the rear edge: 42 N down. All in all: 100 N and
    the latch's 22 N down, the stops' 80 N and the pin's 42 N up.
    """
    told = shut()
    assert told.rear == (0.0, 0.0)
    assert told.rear_way == pytest.approx((0.0, 1.0), abs=1e-12)
    assert told.rear_force == pytest.approx(-42.0, abs=DIGITS)


def test_a_strut_near_the_hinge_lifts_the_rear_edge() -> None:
    """400 N straight up at 300 mm: 0.3 of it is the latch's, 142 N; 0.7 of it lifts the rear edge, 238 N."""
    told = shut(UPRIGHT)
    assert told.latch == pytest.approx(142.0, abs=DIGITS)
    assert told.rear_force == pytest.approx(238.0, abs=DIGITS)


def test_the_sun_adds_to_both() -> None:
    """At 80 °C the strut's 400 N are 400·353.15/293.15 = 481.86935016 N (ideal gas, kelvin)."""
    told = shut(UPRIGHT)
    assert told.hot == 80.0
    assert told.latch_hot == pytest.approx(166.56080505, abs=DIGITS)
    assert told.rear_hot == pytest.approx(295.30854511, abs=DIGITS)


@pytest.mark.parametrize(("things", "rise"), [((UPRIGHT,), 0.1), ((), -0.1)])
def test_the_one_pin_goes_to_the_other_side_of_its_hole(things: tuple[Any, ...], rise: float) -> None:
    """0.2 mm of play: lifted, the lid's hole lies 0.1 mm above the pin's middle; laid down by its weight, 0.1 mm below.
    Trap: the sign, or the whole play.
    """
    assert shut(*things, play=0.2).rise == pytest.approx(rise, abs=1e-12)
