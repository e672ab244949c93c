"""Pinch places as shapes: a caution sign where the gap is narrowest, with words, in a colour that stands out."""

from __future__ import annotations

import pytest

from app.look import dark, light
from app.pinch_marks import pinch_marks
from app.shapes import Label, Symbol
from app.symbols import GLYPHS
from kinematics.pinching import Pinch

PINCHES = (Pinch(("sill", "lid"), 210.0, 4.8, 0.0, (1.0, 2.0)), Pinch(("arm", "bar"), 40.0, 0.0, 31.24, (3.0, 4.0)))


@pytest.mark.parametrize("look", [light(), dark()], ids=lambda look: look.name)
def test_each_place_has_a_sign_and_words(look: object) -> None:
    found = pinch_marks(PINCHES, "body", look, "mm")  # type: ignore[arg-type]
    dots = [each for each in found if isinstance(each, Symbol)]
    labels = [each for each in found if isinstance(each, Label)]
    assert [dot.at for dot in dots] == [((1.0, 2.0),), ((3.0, 4.0),)]
    assert [label.at for label in labels] == [(1.0, 2.0), (3.0, 4.0)]
    assert {label.glyph for label in labels} == {"caution"} <= set(GLYPHS)
    assert all(label.leader for label in labels), "the sign stands off its place"
    assert {shape.link for shape in found} == {"body"}
    assert [label.text for label in labels] == ["pinch, closes to 4.8 mm at 0°", "pinch, closes at 31.2°"]
    assert len({shape.key for shape in found}) == len(found)


def test_no_places_no_marks() -> None:
    assert pinch_marks((), "body", light(), "mm") == []
