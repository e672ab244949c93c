"""What parts come to, and setting prices."""

from __future__ import annotations

from dataclasses import replace

import pytest

from kinematics.build_parts import Plates, Prices
from kinematics.contours import circle
from kinematics.cutting import Part
from kinematics.errors import ProjectError
from kinematics.pricing import estimate, price_of, priced
from tests.specimens import demo_six_bar

DISC = Part("mount", "m", "m", circle(0j, 50.0), cutouts=(circle(0j, 10.0),), thickness=5.0, density=8000.0)
NO_PLATES = replace(demo_six_bar, plates=None)


def test_what_it_costs_is_metal_way_and_pierces() -> None:
    """π·(50² − 10²)·5 mm³ at 8000 kg/m³ is 0.30159 kg; 2π·60 mm of cut; two pierces."""
    assert price_of(DISC, Prices(per_kg=10.0)) == pytest.approx(3.0159289)
    assert price_of(DISC, Prices(per_metre=10.0)) == pytest.approx(3.7699112)
    assert price_of(DISC, Prices(per_pierce=10.0)) == 20.0
    assert estimate([(DISC, 2), (DISC, 1)], Prices(10.0, 10.0, 10.0)) == pytest.approx(3 * 26.7858401)


def test_prices_are_set_one_by_one_and_go_once_all_are_nothing() -> None:
    once = priced(NO_PLATES, per_kg=4.5)
    twice = priced(once, currency="€")
    assert twice.plating.prices == Prices(per_kg=4.5, currency="€")
    assert priced(twice, per_kg=4.5) is twice
    assert priced(twice, per_kg=0.0, currency="").plating.prices is None
    assert priced(NO_PLATES) is NO_PLATES
    thick = priced(replace(NO_PLATES, plates=Plates(thickness=5.0)), per_pierce=1.0)
    assert thick.plating.thickness == 5.0


def test_no_price_is_less_than_nothing() -> None:
    with pytest.raises(ProjectError, match="per_metre"):
        priced(NO_PLATES, per_metre=-1.0)
