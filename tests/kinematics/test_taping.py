"""Measured points: exact where readings are, a misread tape found with the reading that fits, else said so plainly."""

from __future__ import annotations

from math import dist, hypot
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import least_squares

from kinematics.taping import (
    Datum,
    Tape,
    TapingError,
    from_datum,
    from_tapes,
    running,
    steps_back,
    tail_to_tail,
    two_tapes,
)

if TYPE_CHECKING:
    from kinematics.values import Point

lengths = st.floats(-1e4, 1e4)
places = st.tuples(lengths, lengths)
A, B, C, D = (0.0, 0.0), (1000.0, 0.0), (1000.0, 600.0), (0.0, 600.0)
KNOWN = {"A": A, "B": B, "C": C, "D": D}


def test_stations_and_offsets() -> None:
    rows = [(0.0, 100.0), (250.0, 120.0), (600.0, -30.0)]
    assert from_datum(rows) == ((0.0, 100.0), (250.0, 120.0), (600.0, -30.0))
    assert from_datum(rows, Datum((10.0, 5.0), 0.0, "right"))[1] == (260.0, -115.0)
    up = from_datum(rows, Datum((10.0, 5.0), 90.0))
    assert up[2] == pytest.approx((40.0, 605.0))


@given(st.lists(lengths, max_size=9))
def test_tail_to_tail_and_running_lead_into_each_other(stations: list[float]) -> None:
    assert running(tail_to_tail(stations)) == pytest.approx(tuple(stations), abs=1e-9)
    assert tail_to_tail(running([100.0, 50.0, -20.0])) == (100.0, 50.0, -20.0)
    assert running([100.0, 50.0, -20.0]) == (100.0, 150.0, 130.0)


@given(st.lists(st.tuples(lengths, lengths), min_size=2, max_size=6), places, st.floats(-360.0, 360.0))
def test_distances_are_those_of_the_table(rows: list[Point], start: Point, along_deg: float) -> None:
    for side in ("left", "right"):
        made = from_datum(rows, Datum(start, along_deg, side))
        for one in range(len(rows)):
            assert dist(made[one], made[0]) == pytest.approx(dist(rows[one], rows[0]), abs=1e-7)


def test_a_station_that_goes_back_is_seen() -> None:
    assert steps_back([0.0, 100.0, 90.0, 90.0, 300.0]) == (2,)


def test_what_is_no_number_names_its_row() -> None:
    with pytest.raises(TapingError, match="row 2"):
        from_datum([(0.0, 0.0), (float("nan"), 1.0)])


@given(places, places, places)
def test_two_tapes_meet_where_they_were_taken_to(a: Point, b: Point, at: Point) -> None:
    base = dist(a, b)
    assume(min(base, dist(a, at), dist(b, at)) > 1.0)
    out = (b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0])
    assume(abs(out) / base > 1.0)  # nearer to the line, the tapes' last digits move the point by much
    met = two_tapes(a, b, dist(a, at), dist(b, at), "left" if out > 0 else "right")
    assert met.at == pytest.approx(at, abs=1e-3)
    assert (met.short, met.long) == (0.0, 0.0)


def test_tapes_that_cannot_close_tell_by_how_much() -> None:
    assert two_tapes(A, B, 400.0, 500.0) == two_tapes(A, B, 400.0, 500.0, "right")
    met = two_tapes(A, B, 400.0, 500.0)
    assert (met.at, met.short, met.long) == (None, 100.0, 0.0)
    met = two_tapes(A, B, 1600.0, 500.0)
    assert (met.at, met.short, met.long) == (None, 0.0, 100.0)


@pytest.mark.parametrize(
    ("to_a", "to_b", "x"), [(399.0, 599.0, 400.0), (1400.0, 399.0, 1399.5), (399.0, 1400.0, -399.5)]
)
def test_tapes_that_miss_by_no_more_than_tapes_do_meet_on_the_line(to_a: float, to_b: float, x: float) -> None:
    met = two_tapes(A, B, to_a, to_b)
    assert met.at == pytest.approx((x, 0.0))
    assert met.short + met.long == pytest.approx(2.0 if x == 400.0 else 1.0)


@pytest.mark.parametrize(("b", "to_a"), [(A, 5.0), (B, 0.0), (B, -5.0), (B, float("inf"))])
def test_no_places_and_no_readings_are_told(b: Point, to_a: float) -> None:
    with pytest.raises(TapingError):
        two_tapes(A, b, to_a, 5.0)


POINT = (300.0, 400.0)


def tapes_to(at: Point, names: str = "ABCD", off: tuple[float, ...] = (0.0, 0.0, 0.0, 0.0)) -> list[Tape]:
    return [Tape(name, "P", dist(KNOWN[name], at) + miss) for name, miss in zip(names, off, strict=False)]


def test_a_misread_tape_is_found_with_the_reading_that_fits() -> None:
    good = (0.6, -0.4, 0.3, -0.7)
    for wrong in range(4):
        off = tuple(miss + 100.0 * (place == wrong) for place, miss in enumerate(good))
        found = from_tapes(KNOWN, tapes_to(POINT, off=off))
        assert found.misread == (wrong,)
        misfit = found.misfits[wrong]
        assert misfit is not None
        assert misfit.fitting == pytest.approx(dist(KNOWN["ABCD"[wrong]], POINT), abs=2.0)
        assert misfit.off == pytest.approx(100.0, abs=2.0)
        assert dist(found.at["P"], POINT) < 2.0
    assert from_tapes(KNOWN, tapes_to(POINT, off=good)).misread == ()


def test_of_three_tapes_any_may_be_the_misread_one_and_none_is_left_out() -> None:
    found = from_tapes(KNOWN, tapes_to(POINT, "ABC", (0.0, 0.0, 50.0)))
    assert found.misread == (0, 1, 2)
    fits = [each.fitting for each in found.misfits if each is not None and each.fitting is not None]
    assert fits[2] == pytest.approx(dist(C, POINT), abs=1e-6)
    kept = [abs(each.off) for each in found.misfits if each is not None]
    assert min(kept) > 1.0


def test_two_tapes_check_nothing_and_say_so() -> None:
    found = from_tapes(KNOWN, tapes_to(POINT, "AB", (0.0, 50.0)))
    assert [each is not None and each.standardised is None and each.fitting is None for each in found.misfits] == [
        True
    ] * 2
    assert found.misread == ()
    assert 2.0 < found.uncertain["P"] < 5.0


def test_tapes_between_points_join_in() -> None:
    at = {"P": (200.0, 900.0), "Q": (700.0, 850.0)}
    tapes = [
        Tape("D", "P", dist(D, at["P"])),
        Tape("C", "P", dist(C, at["P"])),
        Tape("P", "Q", dist(at["P"], at["Q"])),
        Tape("Q", "C", dist(C, at["Q"])),
        Tape("A", "Q", dist(A, at["Q"]) - 20.0),
        Tape("B", "Q", dist(B, at["Q"])),
        Tape("A", "P", dist(A, at["P"])),
        Tape("A", "B", 1234.0),  # between known places: nothing to place
    ]
    found = from_tapes(KNOWN, tapes, {"P": "right", "Q": "left"})
    assert found.misread == (4,)
    assert found.misfits[7] is None
    for name, place in at.items():
        assert found.at[name] == pytest.approx(place, abs=1e-6)
    assert found.open == ()


def test_the_side_is_chosen() -> None:
    tapes = [Tape("A", "P", 500.0), Tape("B", "P", hypot(700.0, 400.0))]
    assert from_tapes(KNOWN, tapes, {"P": "left"}).at["P"] == pytest.approx((300.0, 400.0))
    assert from_tapes(KNOWN, tapes, {"P": "right"}).at["P"] == pytest.approx((300.0, -400.0))


def test_what_cannot_be_placed_leaves_the_rest_alone() -> None:
    tapes = [*tapes_to(POINT), Tape("A", "S", 100.0), Tape("B", "S", 200.0), Tape("A", "T", 9.0), Tape("T", "U", 9.0)]
    found = from_tapes(KNOWN, tapes)
    assert found.open == ("S", "T", "U")
    assert found.meetings is not None
    assert found.meetings["S"].short == pytest.approx(700.0)
    assert found.at["P"] == pytest.approx(POINT)
    assert found.misfits[4:] == (None,) * 4
    assert from_tapes({}, []).at == {}


def test_a_misread_tape_that_keeps_the_first_two_apart_is_found_by_the_others() -> None:
    found = from_tapes(KNOWN, tapes_to(POINT, off=(-400.0, 0.0, 0.0, 0.0)))
    assert found.misread == (0,)
    assert found.at["P"] == pytest.approx(POINT, abs=1e-6)


@pytest.mark.parametrize("tape", [Tape("A", "A", 5.0), Tape("A", "P", 0.0), Tape("A", "P", float("nan"))])
def test_rows_that_are_no_measurements_are_named(tape: Tape) -> None:
    with pytest.raises(TapingError, match="row 2"):
        from_tapes(KNOWN, [Tape("B", "P", 5.0), tape])


@given(st.tuples(st.floats(50.0, 950.0), st.floats(50.0, 550.0)), st.integers(0, 1000))
def test_readings_agree_as_another_solver_lets_them(at: Point, seed: int) -> None:
    noise = np.random.default_rng(seed).normal(0.0, 0.5, 4)
    tapes = tapes_to(at, off=tuple(noise))
    found = from_tapes(KNOWN, tapes)
    assume(not found.misread)

    def off(p: np.ndarray) -> list[float]:
        return [dist(KNOWN[tape.start], p) - tape.reading for tape in tapes]

    theirs = least_squares(off, at, xtol=1e-15, ftol=1e-15, gtol=1e-15).x
    assert found.at["P"] == pytest.approx(tuple(theirs), abs=1e-5)


def test_chance_alone_is_rarely_called_a_misreading() -> None:
    """Of 400 points with four good tapes each, few have one beyond 3.29 deviations: 0.4 % are expected at most."""
    rng = np.random.default_rng(7)
    alarms, inside = 0, 0
    for _ in range(400):
        at = (rng.uniform(50, 950), rng.uniform(50, 550))
        found = from_tapes(KNOWN, tapes_to(at, off=tuple(rng.normal(0.0, 1.0, 4))))
        alarms += bool(found.misread)
        inside += dist(found.at["P"], at) <= found.uncertain["P"]
    assert alarms <= 8
    assert inside >= 0.86 * 400  # 2 deviations of a round spread hold 1 − e⁻² of the points
