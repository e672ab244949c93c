"""A lid that is shut on stops, seal and latch: levers about its pin, and about its striker.

Source: the law of the lever and virtual work, any text on statics (Archimedes, On the Equilibrium of Planes, I 6–7).
The digits were worked out by hand and typed.
"""

from __future__ import annotations

from typing import Any

import pytest

from kinematics.fittings import Cushion
from tests.outside.loaded import Told, tell, weight, with_loads
from tests.outside.sketch import Line, Sketch

DIGITS = 1e-8  # half the last digit that is typed


def lid(*things: Any, **more: Any) -> Told:  # noqa: ANN401  loads of any kind
    """A lid of 100 N on one pin at the origin, its weight 500 mm out, its handle 1000 mm out."""
    sketch = Sketch(
        ("body", "lid"),
        "lid",
        {"A": (0j, ("body", "lid"))},
        wanted_deg=60.0,
        outlines={"skin": Line("lid", (0j, 1000 + 0j))},
    )
    return tell(with_loads(sketch, weight("lid", 100.0, 500 + 0j), *things, handle=("lid", 1000 + 0j), **more), 3)


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
