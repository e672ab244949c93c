"""Which way a limit bounds, and what a builder calls it."""

from __future__ import annotations

import pytest

from app.limit_words import limit_ways


@pytest.mark.parametrize(
    ("ahead", "names", "sides"),
    [
        (1, ["back", "ahead", "down", "up"], ["dx_at_least", "dx_at_most", "dy_at_least", "dy_at_most"]),
        (-1, ["back", "ahead", "down", "up"], ["dx_at_most", "dx_at_least", "dy_at_least", "dy_at_most"]),
        (0, ["to the left", "to the right", "down", "up"], ["dx_at_least", "dx_at_most", "dy_at_least", "dy_at_most"]),
    ],
)
def test_four_ways_with_their_sides(ahead: int, names: list[str], sides: list[str]) -> None:
    ways = limit_ways(ahead)
    assert [way.name for way in ways] == names
    assert [way.side for way in ways] == sides
    assert all(way.sign == (-1.0 if way.side.endswith("at_least") else 1.0) for way in ways)
