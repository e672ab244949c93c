"""The wall's cases by picture: each half at its angle, the wedge thick where the words say."""

from __future__ import annotations

from math import atan2, degrees

import pytest

from app.look import light
from app.setout.bevel_view import bevel_view
from app.shapes import Stroke


@pytest.mark.parametrize("trued", ["foot", "shim"])
@pytest.mark.parametrize("off", [9.5, -12.0])
def test_the_wedge_is_thick_at_the_end_that_is_told(trued: str, off: float) -> None:
    view = bevel_view((off, 0.0), 1, 1, trued, "mm")
    seen = {each.key: each for each in view.shapes(light(), 2.0) if isinstance(each, Stroke)}
    (x, y), (u, v) = seen["wall left"].points
    assert degrees(atan2(v - y, u - x)) == pytest.approx(off)  # left is to the right of one who faces this wall
    assert "wedge right" not in seen
    corners = seen["wedge left"].points
    middle = sum(x for x, _ in corners) / len(corners)
    tall = [max(ys) - min(ys) for ys in ([y for x, y in corners if (x > middle) is outer] for outer in (True, False))]
    assert (tall[0] > tall[1]) is (off > 0.0)
