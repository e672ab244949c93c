"""A prop: its length, what it bears by virtual work, whether it slides on its seat, and where it drops out.

With the lid at 60° the rod is a side of an equilateral triangle of 600, at 600·cos 30° = 519.615242 from the pin: it
bears 98.0665·400·cos 60°/519.615242 = 37.745813 N.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from kinematics.loads import Loads, WorstCase
from kinematics.parts import Attachment, Mass
from kinematics.project import Outline
from kinematics.propping import nearest_edge, seat_of
from tests.kinematics.held_open import PROP, analysed, lid
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from kinematics.project import Project
    from kinematics.results import PropFigures


def prop_of(project: Project) -> PropFigures:
    told = analysed(project)[1].prop
    assert told is not None
    return told


def test_it_bears_what_no_hand_holds() -> None:
    told = prop_of(lid(prop_rod=PROP))
    assert told.length == pytest.approx(600.0, abs=1e-9)
    assert told.force == pytest.approx(37.745813, abs=1e-6)
    assert told.most is None
    assert told.holds


def test_it_bears_without_a_handle_too() -> None:
    assert prop_of(lid(prop_rod=PROP, handle=None)).force == pytest.approx(37.745813, abs=1e-6)


def test_turned_round_it_bears_as_much() -> None:
    """From the lid down to the body."""
    told = prop_of(lid(prop_rod=replace(PROP, from_end=PROP.to_end, to_end=PROP.from_end)))
    assert told.force == pytest.approx(37.745813, abs=1e-6)


def test_in_a_gust_it_is_pressed_or_drawn() -> None:
    """10 m/s on 900 by 1000 at 450: 101.25 N, 45562.5 N·mm; (19613.3 ± 45562.5)/519.615242."""
    told = prop_of(lid(WorstCase(wind=10.0), across=1000.0, prop_rod=PROP))
    assert told.most is not None
    assert told.least is not None
    assert told.most.force == pytest.approx(125.430886, abs=1e-6)
    assert told.least.force == pytest.approx(-49.939259, abs=1e-6)
    assert told.most.wind == told.least.wind == 10.0


def test_the_pin_bears_the_rest() -> None:
    """The rod's push (−18.872907, 32.688833) and the weight leave 68.047233 N, half of it to each of two hinges."""
    told = prop_of(lid(prop_rod=PROP))
    assert told.pins is not None
    assert told.pins.tolist() == pytest.approx([34.023616], abs=1e-6)


def test_an_opening_that_is_not_reached_has_no_length() -> None:
    told = prop_of(lid(prop_rod=replace(PROP, at_deg=81.0)))
    assert (told.length, told.force, told.holds) == (None, None, False)


def test_a_rod_through_the_pin_holds_nothing() -> None:
    """It neither grows nor shrinks as the lid turns."""
    through = replace(PROP, from_end=Attachment("body", (0.0, 0.0)))
    told = prop_of(lid(prop_rod=through))
    assert told.length == pytest.approx(600.0)
    assert told.force is None
    assert told.seat is None
    nowhere = prop_of(lid(prop_rod=replace(through, to_end=Attachment("lid", (0.0, 0.0)))))
    assert (nowhere.length, nowhere.force) == (pytest.approx(0.0), None)


def test_a_rod_that_hardly_grows_has_no_wild_force() -> None:
    """From 0.001 mm beside the lid's pin it would bear some 10⁷ N."""
    told = prop_of(lid(prop_rod=replace(PROP, from_end=Attachment("body", (0.001, 0.0)))))
    assert told.force is None
    near = prop_of(lid(prop_rod=replace(PROP, from_end=Attachment("body", (1.0, 0.0)))))
    assert near.force == pytest.approx(98.0665 * 200.0 / 0.866, rel=2e-3)  # large, but told


def test_a_panel_that_would_rise_draws_it() -> None:
    """A mass behind the pin lifts the lid."""
    told = prop_of(lid(prop_rod=PROP, masses=(Mass("lid", 10.0, (-400.0, 0.0)),)))
    assert told.force == pytest.approx(-37.745813, abs=1e-6)
    assert not told.holds


@pytest.mark.parametrize(
    ("foot", "slides", "off"), [(600.0, "front", 30.0), (1200.0, "", 0.0), (2400.0, "rear", 16.102)]
)
def test_it_slides_the_way_it_leans(foot: float, slides: str, off: float) -> None:
    """From 600 it leans 30° off square, outwards; from 600/cos 60° it stands square; from further out it leans in.

    From 2400 the rod is 600·√13 long, and the lid rises along it by 600: asin(1/√13) = 16.102°.
    """
    seat = prop_of(lid(prop_rod=replace(PROP, from_end=Attachment("body", (foot, 0.0))))).seat
    assert seat is not None
    assert (seat.outline, seat.slides) == ("skin", slides)
    assert seat.off_deg == pytest.approx(off, abs=5e-4)
    assert seat.friction_deg == pytest.approx(11.309932, abs=1e-6)  # atan 0.2


def test_which_edge_runs_which_way_does_not_matter() -> None:
    project = lid(prop_rod=PROP)
    turned = replace(project, outlines=(replace(project.outlines[0], points=project.outlines[0].points[::-1]),))
    assert prop_of(turned).seat == prop_of(project).seat


def test_without_a_line_at_the_seat_nothing_is_told_of_it() -> None:
    project = replace(lid(prop_rod=PROP), outlines=())
    told = prop_of(project)
    assert (told.seat, told.stows) == (None, None)
    assert seat_of(project, PROP, analysed(project)[0].sweep, np.ones(2, dtype=complex)) is None


def test_the_nearest_edge_counts_the_thickness() -> None:
    thin = Outline("thin", "lid", ((0.0, 5.0), (100.0, 5.0)))
    thick = Outline("thick", "lid", ((0.0, -8.0), (100.0, -8.0)), half_width=4.0)
    found = nearest_edge((thin, thick), (50.0, 0.0))
    assert found is not None
    assert found[0] is thick
    assert nearest_edge((), (0.0, 0.0)) is None


def test_a_closed_outline_has_its_last_edge_too() -> None:
    ring = Outline("ring", "lid", ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)), closed=True)
    found = nearest_edge((ring,), (-3.0, 50.0))
    assert found is not None
    assert found[1] == pytest.approx(3.0)


def test_shut_it_has_the_room_to_the_far_edge() -> None:
    assert prop_of(lid(prop_rod=PROP)).stows == pytest.approx(600.0)  # to the lid's pin
    assert prop_of(lid(prop_rod=replace(PROP, from_end=Attachment("body", (100.0, 0.0))))).stows == pytest.approx(800.0)


def test_raised_further_its_seat_goes_away() -> None:
    """At 80° the two ends are 1200·sin 40° = 771.345132 apart."""
    told = prop_of(lid(prop_rod=PROP))
    ((start, end),) = told.leaves_deg
    assert start == pytest.approx(60.0, abs=1e-6)
    assert end == 80.0
    assert told.away == pytest.approx(171.345132, abs=1e-6)


def test_a_rod_whose_ends_come_nearer_does_not_drop_out() -> None:
    """From behind the pin it is pressed together as the lid opens."""
    behind = replace(PROP, from_end=Attachment("body", (-600.0, 0.0)))
    told = prop_of(lid(prop_rod=behind))
    assert (told.leaves_deg, told.away) == ((), 0.0)


def test_at_full_opening_there_is_no_further() -> None:
    assert prop_of(lid(prop_rod=replace(PROP, at_deg=80.0))).leaves_deg == ()


def test_energy_of_the_six_bar_agrees() -> None:
    """Force times how the rod grows is the slope of the weight's energy, by central difference."""
    mass = Mass(demo_six_bar.panel.id, 18.0, (620.0, 285.0))
    prop = replace(
        PROP,
        from_end=Attachment(demo_six_bar.fixed.id, (300.0, 0.0)),
        to_end=Attachment(demo_six_bar.panel.id, (700.0, 280.0)),
        at_deg=50.0,
    )
    project = replace(demo_six_bar, loads=Loads((mass,), prop_rod=prop))
    found, told = analysed(project)
    assert told.prop is not None
    step, energy, length = 1e-3, [], []
    for deg in (50.0 - step, 50.0 + step):
        pose = found.pose(deg)
        column = found.links.index(demo_six_bar.panel.id)
        spin, shift = np.exp(1j * pose.turns[column]), pose.shifts[column]
        energy.append(18.0 * 9.80665 * (spin * complex(*mass.at) + shift).imag)
        length.append(abs(spin * complex(*prop.to_end.at) + shift - complex(*prop.from_end.at)))
    assert told.prop.force == pytest.approx((energy[1] - energy[0]) / (length[1] - length[0]), rel=1e-6)
