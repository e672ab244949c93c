"""A gust: the chord of what is drawn, its area and its force; and what it does to an open lid."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from kinematics.gust import board, chord_ends
from kinematics.loads import WorstCase
from kinematics.project import Outline
from tests.kinematics.held_open import analysed, lid


def test_ten_metres_a_second_on_the_lid() -> None:
    """62.5 Pa · 1.8 · 0.9 m²."""
    gust = analysed(lid(WorstCase(wind=10.0), across=1000.0))[1].gust
    assert gust is not None
    assert (gust.speed, gust.pressure, gust.chord) == (10.0, 62.5, 900.0)
    assert gust.area == pytest.approx(0.9)
    assert gust.force == pytest.approx(101.25)


def test_the_worst_case_has_the_wind_in_it() -> None:
    """At 80°: (98.0665·400·cos 80° + 101.25·450)/800 N at the handle."""
    found, _ = analysed(lid(WorstCase(wind=10.0), across=1000.0))
    assert found.loads is not None
    assert found.loads.worst is not None
    assert found.loads.worst.force == pytest.approx(65.467660, abs=1e-6)
    assert found.loads.worst.wind == 10.0


@pytest.mark.parametrize("opens", ["anticlockwise", "clockwise"])
def test_it_blows_the_worse_way_on_either_side(opens: str) -> None:
    side = 1.0 if opens == "anticlockwise" else -1.0
    project = lid(WorstCase(wind=10.0), across=1000.0)
    assert project.loads is not None
    assert project.loads.handle is not None
    masses = tuple(replace(mass, at=(side * mass.at[0], 0.0)) for mass in project.loads.masses)
    loads = replace(project.loads, masses=masses, handle=replace(project.loads.handle, at=(side * 800.0, 0.0)))
    skin = (Outline("skin", "lid", ((0.0, 0.0), (side * 900.0, 0.0))),)
    mirrored = replace(project, loads=loads, outlines=skin, travel=replace(project.travel, opens=opens))
    found, _ = analysed(mirrored)
    assert found.loads is not None
    assert found.loads.worst is not None
    assert found.loads.worst.force == pytest.approx(65.467660, abs=1e-6)


def test_without_a_width_or_a_drawing_there_is_no_wind_in_it() -> None:
    for project in (
        lid(WorstCase(wind=10.0)),
        replace(lid(WorstCase(wind=10.0), across=1000.0), outlines=()),
        lid(WorstCase(), across=1000.0),
    ):
        found, told = analysed(project)
        assert found.loads is not None
        assert found.loads.worst is not None
        assert (told.gust, found.loads.worst.wind) == (None, 0.0)
        assert found.loads.worst.force == pytest.approx(8.514535, abs=1e-6)


def test_the_chord_is_the_longest_line_between_points() -> None:
    """Of 300 points, as found pair by pair."""
    points = np.random.default_rng(7).normal(size=(300, 2)) * (300.0, 40.0)
    ends = chord_ends((Outline("cloud", "lid", tuple(map(tuple, points.tolist()))),))
    assert ends is not None
    apart = np.linalg.norm(points[:, None] - points, axis=2).max()
    assert abs(ends[1] - ends[0]) == pytest.approx(apart, rel=1e-12)


def test_a_dot_has_no_chord() -> None:
    assert chord_ends((Outline("dot", "lid", ((1.0, 1.0), (1.0, 1.0))),)) is None
    assert chord_ends(()) is None
    assert board(lid()) is None
