"""The nearest place of two bodies, exact between poses: closed forms about a single pivot, ties, points, plateaus."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest

import kinematics
from kinematics import meetings, nearest
from tests.kinematics.making import gaps_by_geos, lid, on_body, on_lid

if TYPE_CHECKING:
    from kinematics.project import Outline
    from kinematics.results import Gap


def polar(radius: float, deg: float) -> tuple[float, float]:
    return (radius * math.cos(math.radians(deg)), radius * math.sin(math.radians(deg)))


def gap_of(*outlines: Outline, **more: float | str) -> Gap:
    return kinematics.analyse(lid(*outlines, **more)).gaps[0]  # type: ignore[arg-type]


@pytest.mark.parametrize("corner_deg", [-63.7, -20.0, -5.432, -0.01])
def test_a_corner_passes_a_wall(corner_deg: float) -> None:
    """A corner at radius 100 is nearest to the wall x = 105 where it stands level with the pivot: 5 mm, to 1e-9."""
    gap = gap_of(on_body((105.0, -300.0), (105.0, 300.0)), on_lid((10.0, 5.0), polar(100.0, corner_deg)))
    assert gap.smallest == pytest.approx(5.0, rel=0, abs=1e-9)
    assert gap.at_deg == pytest.approx(-corner_deg, rel=0, abs=1e-4)
    assert gap.at_points is not None
    assert gap.at_points[0] == pytest.approx((105.0, 0.0), rel=0, abs=1e-3)
    assert gap.at_points[1] == pytest.approx((100.0, 0.0), rel=0, abs=1e-3)


def test_a_wall_passes_a_corner() -> None:
    """The same the other way round: the edge moves, a still corner is the vertex."""
    gap = gap_of(on_body((0.0, 60.0), (-40.0, 90.0)), on_lid((50.0, -200.0), (50.0, 200.0)), wanted=170.0)
    assert gap.smallest == pytest.approx(0.0, abs=1e-9)  # the line at 50 from the pivot reaches the corner at 60
    clear = gap_of(on_body((0.0, 40.0), (-10.0, 30.0)), on_lid((50.0, -200.0), (50.0, 200.0)), wanted=170.0)
    assert clear.smallest == pytest.approx(10.0, rel=0, abs=1e-9)  # it stands square above the corner at 90 degrees
    assert clear.at_deg == pytest.approx(90.0, rel=0, abs=1e-4)
    assert clear.at_points is not None
    assert clear.at_points[0] == pytest.approx((0.0, 40.0), rel=0, abs=1e-9)


def test_half_widths_come_off_and_points_stand_on_the_pens() -> None:
    gap = gap_of(
        on_body((105.0, -300.0), (105.0, 300.0), half_width=1.5),
        on_lid((10.0, 5.0), polar(100.0, -30.0), half_width=2.0),
    )
    assert gap.smallest == pytest.approx(1.5, rel=0, abs=1e-9)
    assert gap.at_points is not None
    assert gap.at_points[0] == pytest.approx((103.5, 0.0), rel=0, abs=1e-3)
    assert gap.at_points[1] == pytest.approx((102.0, 0.0), rel=0, abs=1e-3)


def test_the_end_of_the_sweep_is_a_place_too() -> None:
    """A corner still on its way to the wall when the lid stops."""
    gap = gap_of(on_body((105.0, -300.0), (105.0, 300.0)), on_lid((10.0, 5.0), polar(100.0, -60.0)), wanted=35.0)
    assert gap.smallest == pytest.approx(105.0 - 100.0 * math.cos(math.radians(25.0)), rel=0, abs=1e-9)
    assert gap.at_deg == 35.0


def test_the_begin_of_the_sweep_is_a_place_too() -> None:
    gap = gap_of(on_body((105.0, -300.0), (105.0, 300.0)), on_lid((10.0, 5.0), polar(100.0, 10.0)))
    assert gap.smallest == pytest.approx(105.0 - 100.0 * math.cos(math.radians(10.0)), rel=0, abs=1e-9)
    assert gap.at_deg == 0.0
    assert math.copysign(1.0, gap.at_deg) == 1.0
    assert gap.smallest == pytest.approx(gap.shut, rel=0, abs=1e-12)


def test_of_equal_places_the_first() -> None:
    """Three equal corners pass the wall one after another; the first one's opening is told."""
    comb = [polar(radius, deg) for deg in (-15.0, -35.0, -55.0) for radius in (40.0, 100.0, 40.0)]
    gap = gap_of(on_body((105.0, -300.0), (105.0, 300.0)), on_lid(*comb))
    assert gap.smallest == pytest.approx(5.0, rel=0, abs=1e-9)
    assert gap.at_deg == pytest.approx(15.0, rel=0, abs=1e-3)


def test_of_nearly_equal_places_the_nearer() -> None:
    comb = [polar(radius, deg) for deg, tip in ((-15.0, 100.0), (-35.0, 100.0005)) for radius in (40.0, tip, 40.0)]
    gap = gap_of(on_body((105.0, -300.0), (105.0, 300.0)), on_lid(*comb))
    assert gap.smallest == pytest.approx(4.9995, rel=0, abs=1e-9)
    assert gap.at_deg == pytest.approx(35.0, rel=0, abs=1e-3)


@pytest.mark.parametrize("seed", range(12))
def test_of_many_tips_the_longest_wherever_the_knots_fall(seed: int) -> None:
    """Tips that differ by hundredths pass the wall one after another; each comes nearest between two knots."""
    dice = np.random.default_rng(seed)
    tips = list(zip(dice.uniform(99.0, 100.0, 9), np.sort(dice.uniform(-75.0, -5.0, 9)), strict=True))
    comb = [polar(float(radius), float(deg)) for tip, deg in tips for radius in (60.0, tip, 60.0)]
    gap = gap_of(on_body((105.0, -300.0), (105.0, 300.0)), on_lid(*comb))
    longest, deg = max(tips)
    assert gap.smallest == pytest.approx(105.0 - longest, rel=0, abs=1e-9)
    assert gap.at_deg == pytest.approx(-deg, rel=0, abs=1e-3)


def test_a_gap_that_stays_is_told_from_shut_on() -> None:
    """A point upon the pivot is as far from a still point all along."""
    gap = gap_of(on_body((30.0, 40.0), (30.0, 40.0)), on_lid((0.0, 0.0), (0.0, 0.0)))
    assert gap.smallest == pytest.approx(50.0, rel=0, abs=1e-12)
    assert gap.at_deg == 0.0


@pytest.mark.parametrize("half_width", [0.0, 0.5])
def test_two_points(half_width: float) -> None:
    """A point at radius 1 is nearest to a still one at (5, 5) on the line between: √50 − 1, at 45 degrees."""
    gap = gap_of(on_body((5.0, 5.0), (5.0, 5.0)), on_lid((1.0, 0.0), (1.0, 0.0), half_width=half_width))
    assert gap.smallest == pytest.approx(math.sqrt(50.0) - 1.0 - half_width, rel=0, abs=1e-9)
    assert gap.at_deg == pytest.approx(45.0, rel=0, abs=1e-4)


def test_a_point_and_very_short_edges() -> None:
    """Edges shorter than the tolerance: what holds the best is not dropped with what can't undercut it."""
    dots = [(105.0, 0.001 * k) for k in range(-30, 30)]
    gap = gap_of(on_body(*dots), on_lid(polar(100.0, -30.0), polar(100.0, -30.0)))
    assert gap.smallest == pytest.approx(5.0, rel=0, abs=1e-4)
    assert gap.at_deg == pytest.approx(30.0, rel=0, abs=0.03)  # the dots reach ±0.017°


def test_concentric_arcs_keep_their_distance() -> None:
    """Nearly even gaps: two flattened arcs about the pivot; the least is that of a corner and the middle of a chord."""
    angles = np.radians(np.linspace(20.0, 160.0, 141))
    inner = [(100.0 * math.cos(t), 100.0 * math.sin(t)) for t in angles.tolist()]
    outer = [(103.0 * math.cos(t), 103.0 * math.sin(t)) for t in angles.tolist()]
    gap = gap_of(on_body(*outer), on_lid(*inner), wanted=40.0)
    assert gap.smallest == pytest.approx(103.0 * math.cos(math.radians(0.5)) - 100.0, rel=0, abs=1e-6)


def test_it_may_be_asked_from_an_opening_on() -> None:
    gap = gap_of(on_body((105.0, -300.0), (105.0, 300.0)), on_lid((10.0, 5.0), polar(100.0, -30.0)), after=50.0)
    assert gap.smallest == pytest.approx(105.0 - 100.0 * math.cos(math.radians(20.0)), rel=0, abs=1e-9)
    assert gap.at_deg == pytest.approx(50.0, rel=0, abs=1e-9)


def test_an_opening_from_which_the_smallest_counts_may_be_the_last() -> None:
    gap = gap_of(on_body((105.0, -300.0), (105.0, 300.0)), on_lid((10.0, 5.0), polar(100.0, -30.0)), after=80.0)
    assert gap.smallest == pytest.approx(105.0 - 100.0 * math.cos(math.radians(50.0)), rel=0, abs=1e-9)
    assert gap.at_deg == 80.0


def test_far_too_much_to_look_at_gives_the_best_that_was_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    """Cut off early, the answer is still the distance of a real pose, and no contact is missed for it."""
    monkeypatch.setattr(meetings, "MOST_LOOKS", 50)
    analysis = kinematics.analyse(
        lid(on_body((105.0, -300.0), (105.0, 300.0)), on_lid((10.0, 5.0), polar(100.0, -31.7)))
    )
    gap = analysis.gaps[0]
    assert gap.smallest is not None
    assert gap.at_deg is not None
    assert gap.smallest == pytest.approx(gaps_by_geos(analysis, gap.between, [gap.at_deg])[0], rel=0, abs=1e-6)
    touching = kinematics.analyse(lid(on_body((99.0, -300.0), (99.0, 300.0)), on_lid((10.0, 5.0), polar(100.0, -31.7))))
    assert touching.gaps[0].smallest == 0.0


def test_lines_that_cross_at_a_knot_are_not_searched_for_their_nearest_corners(monkeypatch: pytest.MonkeyPatch) -> None:
    """A pin dragged metres away made the panel slide through the body; each analysis took seconds, for nothing."""

    def never(*_: object) -> None:
        raise AssertionError("searched")

    monkeypatch.setattr(nearest, "sharpen", never)
    gap = gap_of(on_body((-300.0, 150.0), (500.0, 150.0)), on_lid((100.0, 0.0), (400.0, 0.0)))
    assert gap.smallest == 0.0
    # the tip, 400 from the pin, is the first to reach the line at a height of 150
    assert gap.at_deg == pytest.approx(math.degrees(math.asin(150.0 / 400.0)), abs=1e-3)  # 0.01 mm of way
    (contact,) = gap.touching_deg
    # 100 from the pin it never gets to 150; so the line is crossed up to the end
    assert contact == pytest.approx((gap.at_deg, 80.0), abs=1e-3)
