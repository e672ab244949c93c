"""Sheets and tiles: all of a drawing is on some sheet, neighbours share what they should."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.files.paper import PAPERS, Box, tiling

sizes = st.floats(1.0, 3000.0)


@given(sizes, sizes, st.sampled_from(sorted(PAPERS)), st.floats(5.0, 50.0), st.floats(-500.0, 500.0))
def test_tiles_cover_the_drawing_and_overlap(wide: float, tall: float, name: str, overlap: float, at: float) -> None:
    box = Box(at, -at, at + wide, -at + tall)
    cut = tiling(box, PAPERS[name], overlap)
    places = {(tile.row, tile.column): tile.box for tile in cut.tiles}
    assert len(places) == cut.tiles[0].rows * cut.tiles[0].columns
    assert min(b.left for b in places.values()) <= box.left + 1e-6
    assert max(b.right for b in places.values()) >= box.right - 1e-6
    assert min(b.low for b in places.values()) <= box.low + 1e-6
    assert max(b.high for b in places.values()) >= box.high - 1e-6
    for (row, column), tile in places.items():
        right, below = places.get((row, column + 1)), places.get((row + 1, column))
        assert right is None or tile.right - right.left == pytest.approx(overlap)
        assert below is None or below.high - tile.low == pytest.approx(overlap)
        for other in (right, below):
            marks = [m for m in cut.marks if tile.holds(m.at) and other is not None and other.holds(m.at)]
            assert other is None or len(marks) >= 2
    assert not any(mark.name.isdigit() for mark in cut.marks)  # so nobody takes one for a bolt of that number


def test_it_takes_no_more_sheets_than_needed_and_turns_them_where_that_saves_some() -> None:
    left, top, wide, tall = PAPERS["A4"].area
    assert (left, top, wide, tall) == (19.0, 19.0, 183.0, 255.0)
    assert len(tiling(Box(0, 0, wide, tall), PAPERS["A4"]).tiles) == 1
    assert len(tiling(Box(0, 0, wide + 1, tall), PAPERS["A4"]).tiles) == 2
    on_its_side = tiling(Box(0, 0, 260, 100), PAPERS["A4"])
    assert len(on_its_side.tiles) == 1
    assert (on_its_side.paper.wide, on_its_side.paper.tall) == (297.0, 210.0)
    assert len(tiling(Box(0, 0, 2 * wide - 15, tall), PAPERS["A4"], 15.0).tiles) == 2
