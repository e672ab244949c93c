"""What is bought for the mounts: counts of both hinges, washers where slots are, what lies beneath a bolt's head."""

from __future__ import annotations

from dataclasses import replace

from app.hardware import hardware
from app.mount_bought import mount_bought
from kinematics.fittings import Stop
from kinematics.mount_parts import Base, Bracket, Mount, StopPart
from tests.app.sharing import demo


def test_bolts_nuts_washers_and_shims_of_the_demo() -> None:
    """Four bolts a bracket, 8 of sheet + 5 of shims + 3 of doubler beneath each head; six a base, 8 + 4 there."""
    rows = {(row.item, row.used_for, row.designation): row for row in mount_bought(demo(), hardware())}
    bolts = rows["bolt", ("hatch",), "ISO 4017 - M6 - 8.8"]
    assert (bolts.count, bolts.spares, bolts.size) == (
        8,
        2,
        "long enough for 16 mm, the panel's skin, 2 washers and nut",
    )
    assert rows["nut", ("hatch",), "ISO 7040 - M6 - 8"].count == 8
    assert rows["washer", ("hatch",), "ISO 7093-1 - 6 - 200 HV"].count == 8  # slots lie beneath these heads
    assert rows["washer", ("hatch",), "ISO 7089 - 6 - 200 HV"].count == 8
    wall = rows["bolt", ("bulkhead",), "ISO 4017 - M8 - 8.8"]
    assert (wall.count, wall.size) == (12, "long enough for 12 mm, the wall, 10 mm in the backing plate")
    assert rows["washer", ("bulkhead",), "ISO 7093-1 - 8 - 200 HV"].count == 12
    assert ("nut", ("bulkhead",), "ISO 7040 - M8 - 8") not in rows  # the backing plate is tapped
    bar = rows["bar for tacking", ("O1", "O2"), "round bar 7.6, straight"]
    assert (bar.count, bar.size) == (2, "1250 mm long")


def test_without_a_backing_plate_there_are_nuts_and_a_stop_has_its_pin_or_screw() -> None:
    project = demo()
    assert project.loads is not None
    stopped = replace(project, loads=replace(project.loads, stop=Stop(("arm", "hatch"), 75.0, 60.0)))
    mount = Mount(Bracket(fore_aft=4.0), Base(backing=0.0, bolt="5/16-18"), StopPart(kind="screw"))
    rows = mount_bought(replace(stopped, mount=mount), hardware())
    told = [(row.item, row.designation) for row in rows]
    assert ("nut", "self-locking nut 5/16-18") in told
    assert ("washer", "ISO 7093-1 - 8 - 200 HV") in told
    assert ("stop screw", "ISO 4017 - M10 - 8.8") in told
    assert mount_bought(replace(stopped, mount=None), hardware()) == []
