"""What is bought: standard designations, counts of all hinges, spares; alike parts in one row."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from app.hardware import hardware
from app.parts_list import bought, plain_grip
from kinematics.build_parts import PinChoice, Plate, Plates, Stack
from kinematics.joints_made import joints_made
from kinematics.loading import set_hinges
from tests.specimens import demo_six_bar, empty

if TYPE_CHECKING:
    from kinematics.project import Project

PINS = len(demo_six_bar.pivots)


def built(plates: Plates | None = None, **stack: object) -> Project:
    return replace(demo_six_bar, plates=plates, stack=replace(Stack(), **stack))  # type: ignore[arg-type]


def test_metric_clevis_pins() -> None:
    """Grip: plates of 4 and a bushing of 6, three washers of 1.6, 0.2 of play: 15. The hole of 2 mm begins there, and
    3.5 from its middle to the end: 19.5, so 20 is the stock length.
    """
    rows = {row.item: row for row in bought(built())}
    assert rows["clevis pin"].designation == "ISO 2341 - B - 8 x 20 x 16 - St"
    assert rows["clevis pin"].count == 2 * PINS
    assert rows["split pin"].designation == "ISO 1234 - 2 x 16"
    assert rows["bushing"].designation == "ISO 2795 - A - 8 x 11 x 6"
    assert rows["washer"].designation == "ISO 7089 - 8 - 200 HV"
    assert (rows["washer"].count, rows["washer"].spares) == (6 * PINS, 5)


def test_a_grip_that_is_known_takes_the_place_of_the_plain_sum() -> None:
    grips = {pivot.id: 21.4 for pivot in demo_six_bar.pivots}
    (pin,) = (row for row in bought(built(), grips=grips) if row.item == "clevis pin")
    assert pin.designation == "ISO 2341 - B - 8 x 26 x 22.4 - St"


def test_one_pin_of_its_own_has_its_own_rows() -> None:
    own = PinChoice("O1", kind="plain pin", bushing="none")
    rows = bought(built(pins=(own,)))
    plain, clevis = (next(row for row in rows if row.item == item) for item in ("plain pin", "clevis pin"))
    assert plain.used_for == ("O1",)
    assert plain.designation.startswith("round 8 f7 x ")
    assert clevis.count == 2 * (PINS - 1)
    assert next(row for row in rows if row.item == "circlip").count == 4
    assert sum(row.count for row in rows if row.item == "bushing") == 2 * (PINS - 1)


def test_a_pair_of_plates_has_two_of_everything() -> None:
    project = built(Plates(each=(Plate("lift link", count=2),)))
    joints = joints_made(project, hardware())
    on = [pivot.id for pivot in demo_six_bar.pivots_on("lift link")]
    single = joints[next(pivot.id for pivot in demo_six_bar.pivots if pivot.id not in on)]
    assert plain_grip(project, single) == pytest.approx(15.0)
    assert plain_grip(project, joints[on[0]]) == pytest.approx(2 * 4.0 + 6.0 + 4 * 1.6 + 0.2)


def test_inch_pins_and_what_is_longer_than_the_standard_has() -> None:
    rows = {row.item: row for row in bought(built(diameter=6.35))}
    assert rows["clevis pin"].designation == "ASME B18.8.1 - clevis pin 1/4 in"
    assert rows["bushing"].designation == "sintered bushing 0.25 x 0.375 x 0.25 in"
    thick = {row.item: row for row in bought(built(Plates(thickness=12.0), diameter=6.35))}
    assert "turned: longer than ASME B18.8.1 has it" in thick["clevis pin"].designation


def test_counts_follow_the_hinges() -> None:
    (pin,) = (row for row in bought(set_hinges(built(), 3)) if row.item == "clevis pin")
    assert pin.count == 3 * PINS


def test_nothing_to_buy() -> None:
    assert bought(empty) == []
    assert not [row for row in bought(built(washer=0.0)) if row.item == "washer"]
