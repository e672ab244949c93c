"""Pieces on a pin, and its length: sums by hand, and what must hold for any stack."""

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.hardware import hardware
from kinematics.build_parts import PinChoice, Stack
from kinematics.pin_lengths import Piece, between, grip_of, pin_length, washer_at
from kinematics.project import Project
from tests.kinematics.stacked import joints
from tests.specimens import parallelogram

if TYPE_CHECKING:
    from kinematics.joints_made import JointMade


def joint(kind: str = "clevis pin", diameter: float = 8.0) -> JointMade:
    stack = Stack(kind=kind, diameter=diameter)  # type: ignore[arg-type]
    project = Project(links=parallelogram.links, pivots=parallelogram.pivots, travel=parallelogram.travel, stack=stack)
    return next(iter(joints(project).values()))


def plate(low: float, thick: float) -> Piece:
    return Piece("plate", low, low + thick, thick - 0.05, thick + 0.05, 8.0, 0.0, "arm")


@given(st.floats(1.6, 40.0))
def test_what_lies_between_two_plates_fills_the_way_to_a_shim(way: float) -> None:
    pieces = between(5.0, 5.0 + way, joint(), hardware())
    assert pieces[0].kind == "washer"
    assert all(one.high == pytest.approx(other.low) for one, other in itertools.pairwise(pieces))
    assert way - 0.1 - 1e-6 <= sum(piece.thickness for piece in pieces) <= way + 1e-6


def test_a_tube_stands_between_two_washers() -> None:
    assert [(piece.kind, round(piece.thickness, 6)) for piece in between(0.0, 9.2, joint(), hardware())] == [
        ("washer", 1.6),
        ("spacer", 6.0),
        ("washer", 1.6),
    ]


def test_the_shortest_standard_clevis_pin_that_takes_the_thickest_stack() -> None:
    """Two plates of 4 with three washers: 12.8, and 13.5 at most. ISO 2341 B, ø8: the hole 3.5 from the end, 2
    wide to H13, so 2.14 at most; a length of 18 leaves 13.43 and 20 leaves 15.43: by hand.
    """
    made = joint()
    pieces = [washer_at(-1.6, made), plate(0.0, 4.0), washer_at(4.0, made), plate(5.6, 4.0), washer_at(9.6, made)]
    assert grip_of(pieces) == pytest.approx((12.8, 12.1, 13.5))
    length = pin_length(pieces, made, 0.2, hardware())
    assert (length.length, length.stock, length.place, length.room) == pytest.approx((20.0, True, 16.5, 15.43))
    assert length.end_float == pytest.approx(0.23)  # what shims of 0.1 leave over
    assert sum(piece.thickness for piece in length.fill) == pytest.approx(2.4)
    assert (length.fill_least, length.fill_most) == pytest.approx((1.7, 3.1))


@given(st.floats(3.0, 60.0), st.sampled_from(["clevis pin", "shoulder bolt", "plain pin"]))
def test_all_pins_leave_the_float_that_was_asked_for(thick: float, kind: str) -> None:
    made = joint(kind)
    pieces = [washer_at(-1.6, made), plate(0.0, thick), washer_at(thick, made)]
    length = pin_length(pieces, made, 0.2, hardware())
    left = length.room - grip_of(pieces)[0] - grip_of(length.fill)[0]
    assert left == pytest.approx(length.end_float)
    assert 0.1 - 1e-6 <= left <= 0.3 + 1e-6
    if length.stock:
        assert length.tight == (length.room < grip_of(pieces)[2] + 0.1 - 1e-6)
        assert length.length in (made.pin.size.lengths if made.pin.size else ())


def test_grooves_of_a_plain_pin() -> None:
    """DIN 471 for 8: ring 0.8, groove 0.9, edge 0.6. Grip 13.2 and float 0.2: the outer edges of the grooves are
    13.4 + 2 · 0.8 = 15.0 apart, and the pin is 15.0 + 2 · 0.6 = 16.2 long, by hand.
    """
    made = joint("plain pin")
    pieces = [washer_at(-1.6, made), plate(0.0, 10.0), washer_at(10.0, made)]
    length = pin_length(pieces, made, 0.2, hardware())
    assert (length.apart, length.length, length.place) == pytest.approx((15.0, 16.2, 0.6))


def test_the_longest_standard_pin_may_be_tight() -> None:
    """ISO 2341 B, ø8, 80 long leaves 75.43: enough for 75 as it is drawn, not for 75.43 and play."""
    made = joint()
    assert made.pin.size is not None
    longest = max(made.pin.size.lengths)
    room = longest - 3.5 - 0.5 * 2.14
    whole = pin_length([replace(plate(0.0, room - 0.5), most=room - 0.2)], made, 0.2, hardware())
    tight = pin_length([replace(plate(0.0, room - 0.5), most=room)], made, 0.2, hardware())
    assert (whole.length, whole.tight) == (tight.length, False) == (longest, False)
    assert tight.tight


def test_beyond_the_longest_standard_pin_one_is_made() -> None:
    made = joint()
    length = pin_length([plate(0.0, 90.0)], made, 0.2, hardware())
    assert not length.stock
    assert length.room == pytest.approx(90.2)
    assert length.length >= length.place + 3.5


def test_a_size_in_no_table_has_a_pin_all_the_same() -> None:
    made = joint(diameter=9.3)
    assert PinChoice("A", diameter=9.3).diameter == 9.3
    length = pin_length([plate(0.0, 4.0)], made, 0.2, hardware())
    assert length.room == pytest.approx(4.2)
    assert not length.stock
