"""Rows of measurements, as typed, to points: what is wrong is said by row, and the others go on."""

from __future__ import annotations

from math import dist

import pytest

from app.taped import from_readings, from_stations
from kinematics.taping import Datum

KNOWN = {"A": (0.0, 0.0), "B": (1000.0, 0.0), "C": (1000.0, 600.0)}
ROWS = [("0", "100"), ("250", "120,5"), ("", ""), ("600", "-30")]


def test_stations_and_offsets() -> None:
    table = from_stations(ROWS, Datum(), "mm")
    assert table.points == ((0.0, 100.0), (250.0, 120.5), (600.0, -30.0))
    assert table.rows[2].at is None
    assert table.first_fault == ""
    chain = from_stations(ROWS, Datum(), "mm", tail_to_tail=True)
    assert [x for x, _ in chain.points] == [0.0, 250.0, 850.0]
    assert from_stations([("1 1/2", "2")], Datum(), "in").points == ((38.1, 50.8),)


def test_rows_that_cannot_be_read_are_told_and_the_others_go_on() -> None:
    rows = [("0", "1"), ("ten", "2"), ("30", ""), ("20", "4"), ("10", "5")]
    table = from_stations(rows, Datum(), "mm")
    assert [row.fault for row in table.rows] == [False, True, True, False, False]
    assert table.first_fault.startswith("Row 2: ")
    assert "the offset is missing" in table.rows[2].words
    assert table.rows[4].doubt
    assert table.rows[4].words.endswith("is it read right?")
    chain = from_stations(rows, Datum(), "mm", tail_to_tail=True)
    assert [row.fault for row in chain.rows] == [False, True, True, True, True]
    assert "measured on from a row above" in chain.rows[3].words


def readings(at: tuple[float, float], *off: float) -> tuple[str, ...]:
    return tuple(f"{dist(KNOWN[name], at) + miss:.2f}" for name, miss in zip("ABC", off, strict=False))


def test_two_tapes_place_a_point_and_a_third_checks_it() -> None:
    two = {name: KNOWN[name] for name in "AB"}
    table = from_readings([readings((300.0, 400.0), 0.0, 0.0)], two, "mm")
    assert table.points[0] == pytest.approx((300.0, 400.0), abs=0.02)
    assert table.rows[0].words == ""
    assert from_readings([readings((300.0, 400.0), 0, 0)], two, "mm", "right").points[0][1] < 0
    three = from_readings([readings((300.0, 400.0), 0.4, 0.0, 0.0), ("500", "1204.16", "")], KNOWN, "mm")
    assert three.rows[0].words.startswith("the tapes agree to 0.")
    assert len(three.points) == 2
    assert 1.0 < three.uncertain < 20.0


def test_a_misread_tape_is_named_with_the_reading_that_fits() -> None:
    table = from_readings([readings((300.0, 400.0), 0, 100, 0), readings((500.0, 300.0), 0, 0, 0)], KNOWN, "mm")
    assert table.rows[0].doubt
    assert "one of these tapes is misread: A would fit with" in table.rows[0].words
    assert "B would fit with 806.2 mm (read 906.2 mm)" in table.rows[0].words
    assert not table.rows[1].doubt
    assert table.first_fault == ""


def test_points_are_as_unsure_as_the_tape_that_may_be_misread_makes_them() -> None:
    at, other = (300.0, 400.0), readings((500.0, 300.0), 0, 0, 0)
    sound = from_readings([readings(at, 0, 0, 0), other], KNOWN, "mm")
    doubtful = from_readings([readings(at, 0, 60, 0), other], KNOWN, "mm")
    assert sound.uncertain < 5.0
    assert dist(doubtful.points[0], at) > 10.0  # nobody knows that it is B's tape: the three share the misfit
    assert doubtful.uncertain >= dist(doubtful.points[0], at) - 0.1


@pytest.mark.parametrize(
    ("row", "words"),
    [
        (("300", "400", ""), "the two tapes are 300.0 mm too short to meet"),
        (("2000", "400", ""), "600.0 mm too long"),
        (("300", "", ""), "the tape from B is missing"),
        (("0", "5", ""), "more than 0"),
        (("5", "x", ""), "x"),
    ],
)
def test_tapes_that_place_nothing_are_told(row: tuple[str, ...], words: str) -> None:
    table = from_readings([row, readings((500.0, 300.0), 0, 0, 0)], KNOWN, "mm")
    assert words in table.rows[0].words
    assert table.rows[0].fault
    assert table.rows[1].at is not None


def test_places_that_are_one_are_told() -> None:
    table = from_readings([("300", "300")], {"A": (0.0, 0.0), "B": (0.0, 0.0)}, "mm")
    assert table.rows[0].fault
    assert table.points == ()
    assert from_readings([("", "")], KNOWN, "mm").points == ()
