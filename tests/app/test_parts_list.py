"""What is bought: standard designations, counts of all hinges, spares; alike parts in one row."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from app.hardware import hardware
from app.parts_list import bought, plain_pieces
from kinematics import analyse
from kinematics.build_parts import PinChoice, Plate, Plates, Stack
from kinematics.joints_made import joints_made
from kinematics.loading import set_hinges
from kinematics.pin_lengths import grip_of
from kinematics.stacking import stack_of
from tests.specimens import demo_six_bar, empty

if TYPE_CHECKING:
    from kinematics.project import Project

PINS = len(demo_six_bar.pivots)


def built(plates: Plates | None = None, **stack: object) -> Project:
    return replace(demo_six_bar, plates=plates, stack=replace(Stack(), **stack))  # type: ignore[arg-type]


def test_metric_clevis_pins() -> None:
    """Plates of 4 and a bushing of 6, three washers of 1.6: 14.8, and 15.4 with ones of 1.8. In a pin of 20 the split
    pin's hole (2.14 at most) begins 20 − 3.5 − 1.07 = 15.43 from the head: no play is left. In one of 22 there are 2.63
    more than 14.8: 0.2 of play, a washer of 1.6, shims of 0.5 and 0.3.
    """
    rows = {row.item: row for row in bought(built())}
    assert rows["clevis pin"].designation == "ISO 2341 - B - 8 x 22 x 18.5 - St"
    assert rows["clevis pin"].count == 2 * PINS
    assert rows["split pin"].designation == "ISO 1234 - 2 x 16"
    assert rows["bushing"].designation == "ISO 2795 - A - 8 x 11 x 6"
    assert (rows["bushing"].count, rows["bushing"].spares) == (2 * PINS, 2)
    assert rows["washer"].designation == "ISO 7089 - 8 - 200 HV"
    assert (rows["washer"].count, rows["washer"].spares) == (8 * PINS, 6)
    shims = {row.designation: row.count for row in bought(built()) if row.item == "shim"}
    assert shims == {"DIN 988 - 8 x 14 x 0.5": 2 * PINS, "DIN 988 - 8 x 14 x 0.3": 2 * PINS}


def test_the_stack_says_how_long_pins_are_and_what_lies_on_them() -> None:
    project = built()
    analysis = analyse(project)
    stack = stack_of(project, analysis.sweep, joints_made(project, hardware()), hardware(), analysis.loads)
    pins = {pin.pivot: pin for pin in stack.pins}
    rows = bought(project, pins=pins)
    whole = [pin for pin in stack.pins if not pin.lone]
    assert whole
    for pin in whole:
        own = [row for row in rows if row.item == "clevis pin" and pin.pivot in row.used_for]
        assert f" x {pin.length.length:g} x " in own[0].designation
    counted = sum(row.count for row in rows if row.item == "washer")
    lone = len(demo_six_bar.pivots) - len(whole)
    on_pins = [sum(piece.kind == "washer" for piece in pin.all_pieces) for pin in whole]
    assert counted == 2 * (sum(on_pins) + 4 * lone)


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
    """Two plates of 4, one with a bushing of 6, four washers of 1.6; single ones: 4, 6 and three."""
    project = built(Plates(each=(Plate("lift link", count=2),)))
    joints = joints_made(project, hardware())
    on = [pivot.id for pivot in demo_six_bar.pivots_on("lift link")]
    off = next(pivot.id for pivot in demo_six_bar.pivots if pivot.id not in on)
    grips = [grip_of(plain_pieces(project, joints[pin]))[0] for pin in (off, on[0])]
    assert grips == pytest.approx([14.8, 20.4])


def test_inch_pins_and_what_is_longer_than_the_standard_has() -> None:
    rows = {row.item: row for row in bought(built(Plates(thickness=3.0), diameter=6.35))}
    assert rows["clevis pin"].designation == "ASME B18.8.1 - clevis pin 1/4 in"
    assert rows["bushing"].designation == "sintered bushing 0.25 x 0.375 x 0.25 in"
    thick = {row.item: row for row in bought(built(Plates(thickness=12.0), diameter=6.35))}
    assert "turned: no such length in ASME B18.8.1" in thick["clevis pin"].designation


def test_counts_follow_the_hinges() -> None:
    (pin,) = (row for row in bought(set_hinges(built(), 3)) if row.item == "clevis pin")
    assert pin.count == 3 * PINS


def test_nothing_to_buy() -> None:
    assert bought(empty) == []
    assert not [row for row in bought(built(washer=0.0)) if row.item == "washer"]
