"""Holes from readings: as drawn, by closed form, contradicting each other, impossible."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kinematics.made_parts import FoundAt, HandMade, MadeDistance
from kinematics.made_shapes import MadeError, MadeShapes, made_shapes, readings
from kinematics.project import Link, Pivot, Project
from tests.specimens import demo_six_bar
from tests.thorough import cases

FIXED, PANEL = demo_six_bar.fixed.id, demo_six_bar.panel.id


def apart(shapes: MadeShapes, link: str, one: str, other: str) -> float:
    return abs(shapes.at(demo_six_bar, link, one) - shapes.at(demo_six_bar, link, other))


@settings(max_examples=cases(20, 100))
@given(st.lists(st.floats(-1.5, 1.5), min_size=3, max_size=3))
def test_three_distances_of_three_holes_are_met_exactly(off: list[float]) -> None:
    pins = [pin.id for pin in demo_six_bar.pivots_on("cross link")]
    drawn = {pair: math.dist(*(demo_six_bar.pivot(pin).at for pin in pair)) for pair in combinations(pins, 2)}
    read = {pair: mm + more for (pair, mm), more in zip(drawn.items(), off, strict=True)}
    made = HandMade("left", tuple(MadeDistance("cross link", pair, mm) for pair, mm in read.items()))
    shapes = made_shapes(demo_six_bar, made)
    assert shapes.misfits == ()
    for pair, mm in read.items():
        assert apart(shapes, "cross link", *pair) == pytest.approx(mm, abs=1e-9)
    # nearest to what is drawn: such a move has no part of a shift or turn of the whole plate (to first order)
    moves = [shapes.at(demo_six_bar, "cross link", pin) - complex(*demo_six_bar.pivot(pin).at) for pin in pins]
    assert abs(sum(moves)) < 1e-3 + 0.02 * max(map(abs, moves))


def test_a_distance_of_two_holes_is_shared_by_both() -> None:
    pins = [pin.id for pin in demo_six_bar.pivots_on("short link")]
    shapes = made_shapes(demo_six_bar, HandMade("left", (MadeDistance("short link", (pins[1], pins[0]), 97.0),)))
    one, other = (complex(*demo_six_bar.pivot(pin).at) for pin in pins)
    half = 0.5 * (97.0 - abs(other - one)) * (other - one) / abs(other - one)
    assert shapes.moved["short link", pins[0]] == pytest.approx(one - half, abs=1e-9)
    assert shapes.moved["short link", pins[1]] == pytest.approx(other + half, abs=1e-9)


def test_a_pin_found_by_height_and_off_its_face_needs_no_more() -> None:
    found = (FoundAt(FIXED, "O1", x=141.5, y=257.4), FoundAt(PANEL, "P1", off=57.0))
    shapes = made_shapes(demo_six_bar, HandMade("left", (), found))
    assert shapes.moved[FIXED, "O1"] == pytest.approx(141.5 + 257.4j)
    assert shapes.moved[FIXED, "O2"] == complex(*demo_six_bar.pivot("O2").at)
    again = readings(replace(demo_six_bar, pivots=tuple(
        replace(pin, at=(shapes.moved[PANEL, "P1"].real, shapes.moved[PANEL, "P1"].imag)) if pin.id == "P1" else pin
        for pin in demo_six_bar.pivots
    )), HandMade("left"))  # fmt: skip
    off = next(each.drawn for each in again if (each.kind, each.pins) == ("off", ("P1",)))
    assert off == pytest.approx(57.0, abs=0.05)  # the face itself is read off near the pins, which moved


def four_holes() -> tuple[Project, list[tuple[str, str]]]:
    plate = Link("plate")
    at = {"1": (0.0, 0.0), "2": (100.0, 0.0), "3": (100.0, 80.0), "4": (0.0, 80.0)}
    pins = tuple(Pivot(pin, place, ("plate", FIXED)) for pin, place in at.items())
    project = replace(demo_six_bar, links=(*demo_six_bar.links, plate), pivots=(*demo_six_bar.pivots, *pins))
    return project, list(combinations(at, 2))


def test_six_distances_of_four_holes_check_each_other() -> None:
    """One diagonal of a rectangle read 0.6 too long, all else right.

    The lengths of six bars between four joints obey one condition; its normal is the self-stress of the framework (C.
    R. Calladine, 1978, from memory), which of a rectangle a × b with diagonals d is, by the balance at any corner, a in
    both sides a, b in both sides b, −d in both diagonals. Least squares share 0.6 · d out along it: by force over the
    sum of their squares, 2a² + 2b² + 2d² = 4d². So a diagonal misses by 0.6/4, a side by 0.6/4 of its length over d.
    """
    project, pairs = four_holes()
    d = math.hypot(100.0, 80.0)
    lengths = {("1", "2"): 100.0, ("3", "4"): 100.0, ("2", "3"): 80.0, ("1", "4"): 80.0, ("1", "3"): d, ("2", "4"): d}
    read = {pair: lengths[pair] + (0.6 if pair == ("1", "3") else 0.0) for pair in pairs}
    shapes = made_shapes(project, HandMade("left", tuple(MadeDistance("plate", pair, mm) for pair, mm in read.items())))
    by = {misfit.reading.pins: misfit.by for misfit in shapes.misfits}
    for pair, long in lengths.items():
        assert by[pair] == pytest.approx(0.15 * long / d, rel=1e-2)


def test_sides_that_make_no_triangle_are_told_or_refused() -> None:
    pins = [pin.id for pin in demo_six_bar.pivots_on("cross link")]
    one, other, third = combinations(pins, 2)

    def read(long: float) -> HandMade:
        spans = ((one, 100.0), (other, 100.0), (third, long))
        return HandMade("left", tuple(MadeDistance("cross link", pair, mm) for pair, mm in spans))

    shapes = made_shapes(demo_six_bar, read(200.6))
    assert {round(misfit.by, 3) for misfit in shapes.misfits} == {0.2}  # in one line, the lack shared by all three
    a, b, c = (shapes.at(demo_six_bar, "cross link", pin) for pin in pins)
    assert abs(math.sin(cmath.phase((b - a) / (c - a)))) < 0.02
    with pytest.raises(MadeError) as fault:
        made_shapes(demo_six_bar, read(210.0))
    assert "cross link" in str(fault.value)
    assert "can't be" in str(fault.value)


def test_what_nobody_defines_means_nothing() -> None:
    made = HandMade("left", (MadeDistance("no link", ("A", "B"), 5.0), MadeDistance("arm", ("O1", "Q"), 5.0)))
    assert made_shapes(demo_six_bar, made) == MadeShapes()
