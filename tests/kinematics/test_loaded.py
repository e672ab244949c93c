"""Loads keep to their links when those are renamed, and go with them."""

from __future__ import annotations

from dataclasses import replace

from kinematics import edits
from kinematics.fittings import Cushion, Latch, Prop, Stop
from kinematics.loaded import carried, kept_on, named_links
from kinematics.loads import Loads
from kinematics.parts import Attachment, Device, Mass, Zone
from tests import specimens

LOADS = Loads(
    masses=(Mass("hatch", 18.0, (600.0, 290.0)),),
    devices=(
        Device(
            "strut",
            "gas strut",
            2,
            Attachment("bulkhead", (0.0, 0.0)),
            Attachment("arm", (9.0, 9.0)),
            extended=500.0,
            stroke=200.0,
            force=300.0,
            ratio=1.3,
        ),
    ),
    prop_rod=Prop(Attachment("bulkhead", (5.0, 5.0)), Attachment("hatch", (700.0, 250.0)), 75.0),
    stop=Stop(("arm", "hatch"), 77.0, 20.0),
    latch=Latch("hatch", (1150.0, 240.0)),
    cushions=(Cushion("seal", "seal", "hatch", (0.0, 0.0), 4.0, per_metre=100.0, length=2000.0),),
    strut_zones=(Zone("arm", ((0.0, 0.0), (9.0, 0.0), (0.0, 9.0))),),
)


def test_all_links_that_loads_name_are_told_with_their_places() -> None:
    found = {(where, name) for where, _, name in named_links(LOADS)}
    assert ("loads, stop", "arm") in found
    assert ('loads, devices, entry 1 "strut"', "bulkhead") in found
    assert ("loads, prop_rod", "hatch") in found
    assert ("loads, strut_zones, entry 1", "arm") in found
    assert len(found) == 10


def test_what_rides_on_a_link_that_goes_goes_with_it() -> None:
    left = kept_on(LOADS, lambda name: name != "arm")
    assert left is not None
    assert (left.devices, left.stop, left.strut_zones) == ((), None, ())
    assert left.prop_rod is LOADS.prop_rod
    assert left.masses is LOADS.masses


def test_loads_that_nobody_touches_stay_the_same_object() -> None:
    assert kept_on(LOADS, lambda _: True) is LOADS
    assert carried(LOADS, lambda part: part) is LOADS


def test_a_stop_and_a_prop_follow_a_link_to_its_new_name() -> None:

    project = specimens.demo_six_bar
    arm = next(link.id for link in project.links if link.kind == "link")
    panel = next(link.id for link in project.links if link.kind == "panel")
    loads = Loads(stop=Stop((arm, panel), 77.0, 20.0))
    renamed = edits.rename_link(replace(project, loads=loads), arm, "first arm").loads
    assert renamed is not None
    assert renamed.stop is not None
    assert renamed.stop.between == ("first arm", panel)
