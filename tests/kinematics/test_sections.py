"""Sections of a link: beams that any text has, by hand."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from kinematics.sections import Cuts, _sides, cuts_of

NOWHERE = np.zeros(0, dtype=np.complex128)


def beam(pins: list[complex], holes: float = 0.0, width: float = 20.0, others: list[complex] | None = None) -> Cuts:
    more = NOWHERE if others is None else np.array(others)
    found = cuts_of(np.array(pins), np.full(len(pins), holes), width, more)
    assert found is not None
    return found


def test_a_straight_link_is_pulled_and_not_bent() -> None:
    cuts = beam([3 + 4j, 63 + 84j])  # 100 long, 3 : 4
    forces = np.array([[-60 - 80j, 60 + 80j], [30 + 40j, -30 - 40j]])
    assert np.allclose(cuts.pulls(forces), [[100.0], [-50.0]], atol=1e-9)
    assert np.allclose(cuts.moments(forces, np.zeros((2, 2))), 0.0, atol=1e-9)
    assert cuts.heights.tolist() == [20.0]


@pytest.mark.parametrize("turn", [0.0, 0.7, -2.1])
def test_three_pins_in_a_line_bend_as_a_beam(turn: float) -> None:
    """F·a·b/L beneath the force: 900·40·60/100 = 21 600 N·mm; at a quarter of the way 540·25 N·mm."""
    e = np.exp(1j * turn)
    cuts = beam([e * z for z in (0j, 40 + 0j, 100 + 0j)], holes=8.0)
    forces = e * np.array([[540j, -900j, 360j]])
    moments = np.abs(cuts.moments(forces, np.zeros((1, 3))))
    assert moments.max() == pytest.approx(21_600.0, rel=1e-5)  # just beside the force
    assert np.abs(cuts.pulls(forces)).max() < 1e-9
    worst = int(np.argmax(moments))
    assert cuts.heights[worst] == pytest.approx(12.0)  # the hole is taken off


def test_a_strut_between_two_pins_bends_the_link() -> None:
    cuts = beam([0j, 100 + 0j], others=[40 + 0j])
    moments = cuts.moments(np.array([[540j, 360j, -900j]]), np.zeros((1, 3)))
    assert np.abs(moments).max() == pytest.approx(21_600.0, rel=1e-5)


def test_a_couple_in_the_middle_jumps() -> None:
    """A couple M at 40 of 100: the moment goes to 0.4·M, and jumps to −0.6·M."""
    cuts = beam([0j, 100 + 0j], others=[40 + 0j])
    moments = cuts.moments(np.array([[10j, -10j, 0j]]), np.array([[0.0, 0.0, 1000.0]]))[0]
    assert sorted((abs(moments.min()), abs(moments.max()))) == pytest.approx([400.0, 600.0], rel=1e-4)


def test_a_bowed_link_is_bent_by_its_bow() -> None:
    """Pins at (0, 0), (50, 30), (100, 0), pulled at the ends: the middle of the band stands 15 high, so M = N·15."""
    cuts = beam([0j, 50 + 30j, 100 + 0j], width=10.0)
    moments = np.abs(cuts.moments(np.array([[-200 + 0j, 0j, 200 + 0j]]), np.zeros((1, 3))))
    assert moments.max() == pytest.approx(200.0 * 15.0, rel=0.02)


def test_pins_on_one_place_have_no_section() -> None:
    assert cuts_of(np.array([5 + 5j, 5 + 5j]), np.zeros(2), 10.0, NOWHERE) is None


def test_the_sides_of_a_band_are_those_of_the_hull_with_half_the_width_around_it() -> None:
    """Another program's hull, its round ends as polygons of 4096 sides: they lie within 2e-5 mm of a circle of 14."""
    pins = np.array([0j, 30 + 25j, 30 - 10j, 55 + 20j, 120 + 0j])
    band = shapely.MultiPoint([(z.real, z.imag) for z in pins]).convex_hull.buffer(14.0, quad_segs=1024)
    places = np.linspace(0.5, 119.5, 25)
    low, high = _sides(pins, places, 14.0)
    for k, x in enumerate(places.tolist()):
        _, bottom, _, top = shapely.LineString([(x, -99.0), (x, 99.0)]).intersection(band).bounds
        assert (low[k], high[k]) == pytest.approx((bottom, top), abs=2e-4), x
