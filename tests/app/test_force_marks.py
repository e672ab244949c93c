"""The scale of forces on the sheet, and which figures are told."""

from __future__ import annotations

import pytest

from app.force_marks import LONGEST, force_length, force_marks, newtons_a_pixel
from app.look import light
from app.shapes import Label, Symbol
from app.symbols import FORCE_MOST, GLYPHS
from kinematics.carrying import Carried


@pytest.mark.parametrize(("largest", "scale"), [(599.0, 5.0), (600.0, 5.0), (601.0, 10.0), (1.0, 0.01), (120.0, 1.0)])
def test_the_scale_is_round_and_the_largest_is_no_longer_than_can_be(largest: float, scale: float) -> None:
    assert newtons_a_pixel(largest) == pytest.approx(scale)
    assert force_length(largest, newtons_a_pixel(largest)) <= LONGEST


def test_there_is_an_arrow_for_every_length() -> None:
    for force in (0.9, 3.0, 77.7, 240.0, 1e6):
        length = force_length(force, 1.0)
        assert length == 0 or f"force {length}" in GLYPHS
        assert length == 0 or f"chosen force {length}" in GLYPHS
    assert force_length(1e6, 1.0) == FORCE_MOST
    assert force_length(0.9, 1.0) == 0


def test_an_arrow_is_as_long_as_it_says() -> None:
    xs = [x for piece in GLYPHS["force 60"] for x, _ in piece.points]
    assert max(xs) - min(xs) == pytest.approx(60.0)


def test_a_pin_of_three_links_tells_the_largest() -> None:
    forces = {("A", "arm"): 30 + 0j, ("A", "bar"): -10 + 40j, ("A", "lid"): -20 - 40j}
    now = Carried(None, None, None, {"A": 50.0}, forces)
    found = force_marks(now, {"A": (1.0, 2.0)}, (), 1.0, "body", light(), "mm")
    assert [each.text for each in found if isinstance(each, Label)] == ["45 N"]
    assert sum(isinstance(each, Symbol) for each in found) == 3
    chosen = force_marks(now, {"A": (1.0, 2.0)}, ("A",), 1.0, "body", light(), "mm")
    assert {each.text for each in chosen if isinstance(each, Label)} == {"30 N on arm", "41 N on bar", "45 N on lid"}
    assert force_marks(now, {}, ("A",), 1.0, "body", light(), "mm") == []
