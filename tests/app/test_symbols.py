"""The symbols: what tells them apart is their form."""

from __future__ import annotations

import pytest

from app.symbols import GLYPHS, PIN_RADIUS, bounds


def test_a_pivot_is_a_circle_and_a_fixed_one_stands_on_hatched_ground() -> None:
    """ISO 3952-1, from memory: a circle; on the fixed link with a foot and oblique strokes beneath."""
    (circle,) = GLYPHS["pin"]
    assert (circle.radius, circle.points) == (PIN_RADIUS, ((0.0, 0.0),))
    *ground, top = GLYPHS["fixed pin"]
    assert top == circle
    level = [piece for piece in ground if len(piece.points) == 2 and piece.points[0][1] == piece.points[1][1]]
    assert len(level) == 1
    y = level[0].points[0][1]
    strokes = [piece for piece in ground if len(piece.points) == 2 and piece not in level]
    assert len(strokes) >= 4
    assert all(piece.points[0][1] == y < piece.points[1][1] for piece in strokes)


def test_no_two_symbols_look_alike() -> None:
    forms = [tuple((piece.points, piece.radius, piece.fill) for piece in pieces) for pieces in GLYPHS.values()]
    assert len(set(forms)) == len(forms)


@pytest.mark.parametrize("glyph", sorted(GLYPHS))
def test_bounds_hold_every_piece(glyph: str) -> None:
    left, top, right, bottom = bounds(glyph)
    for piece in GLYPHS[glyph]:
        for x, y in piece.points:
            assert left <= x - piece.radius <= x + piece.radius <= right
            assert top <= y - piece.radius <= y + piece.radius <= bottom


def test_the_arrows_tip_is_its_point() -> None:
    head = GLYPHS["arrow"][0]
    assert max(head.points) == (0.0, 0.0)
