"""Zones for struts' ends, as the builder draws them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from kinematics import edits
from kinematics.errors import ProjectError
from kinematics.project import Zone
from kinematics.struts.regions import default_zones
from kinematics.struts.zoned import draw_strut_zone, drawn_zones, drop_strut_zones, strut_zones
from tests.kinematics.struts.making import hatch

SQUARE = ((100.0, -100.0), (200.0, -100.0), (200.0, 0.0), (100.0, 0.0))


def test_usual_ones_hold_until_some_are_drawn() -> None:
    assert drawn_zones(hatch()) == ()
    assert strut_zones(hatch()) == default_zones(hatch())


def test_one_drawn_zone_has_the_usual_one_for_the_other_end() -> None:
    usual = {zone.on: zone for zone in default_zones(hatch())}
    for on, other in (("bulkhead", "hatch"), ("hatch", "bulkhead"), ("arm", "bulkhead")):
        drawn = draw_strut_zone(hatch(), on, SQUARE)
        assert drawn_zones(drawn) == (Zone(on, SQUARE),)
        assert strut_zones(drawn) == (Zone(on, SQUARE), usual[other])


def test_two_drawn_zones_are_all_there_is() -> None:
    drawn = draw_strut_zone(draw_strut_zone(hatch(), "arm", SQUARE), "hatch", SQUARE)
    assert strut_zones(drawn) == (Zone("arm", SQUARE), Zone("hatch", SQUARE))


def test_a_link_s_newer_zone_takes_the_place_of_its_older_one() -> None:
    drawn = draw_strut_zone(draw_strut_zone(hatch(), "arm", SQUARE), "arm", SQUARE[:3])
    assert [len(zone.points) for zone in drawn_zones(drawn)] == [3]


def test_they_are_dropped_one_link_s_or_all() -> None:
    drawn = draw_strut_zone(draw_strut_zone(hatch(), "arm", SQUARE), "hatch", SQUARE)
    assert {zone.on for zone in drawn_zones(drop_strut_zones(drawn, "arm"))} == {"hatch"}
    assert drawn_zones(drop_strut_zones(drawn)) == ()
    assert drop_strut_zones(hatch()) is hatch()
    assert drop_strut_zones(drawn, "lift link") is drawn


def test_they_follow_their_link() -> None:
    drawn = draw_strut_zone(hatch(), "arm", SQUARE)
    assert drawn_zones(edits.rename_link(drawn, "arm", "first arm"))[-1].on == "first arm"


def test_one_without_area_is_refused() -> None:
    for points in (SQUARE[:2], ((0.0, 0.0), (1.0, 1.0), (2.0, 2.0))):
        with pytest.raises(ProjectError, match="holds no end of a strut"):
            draw_strut_zone(hatch(), "arm", points)


def test_a_project_without_loads_gets_some() -> None:
    drawn = draw_strut_zone(replace(hatch(), loads=None), "bulkhead", SQUARE)
    assert drawn_zones(drawn)
