"""Items by themselves: lines of very many points are thinned, unseen."""

from __future__ import annotations

from itertools import pairwise
from math import cos, sin

import pytest
import shapely
from PySide6.QtCore import QPointF

from app.board.items import MANY, ROOM_PX, StrokeItem, apart, scale_of, thinned, zoom_step
from app.shapes import Layer, Pen, Stroke

RING = tuple((100.0 * cos(k / 160.0), 100.0 * sin(k / 160.0)) for k in range(1000))


@pytest.mark.parametrize("closed", [False, True])
@pytest.mark.parametrize("by", [0.01, 0.3])
def test_a_thinned_line_stays_where_it_is(closed: bool, by: float) -> None:
    fewer = thinned(RING, closed, by)
    assert 8 < len(fewer) < 0.3 * len(RING)
    assert set(fewer) <= set(RING)
    kind = shapely.LinearRing if closed else shapely.LineString
    assert shapely.hausdorff_distance(kind(fewer), kind(RING), 0.05) <= by + 1e-9


def test_a_long_line_is_drawn_by_more_points_the_nearer_it_is_looked_at(qapp: object) -> None:
    item = StrokeItem(Stroke("ring", "body", RING, Pen("#000000"), Layer.PANEL), 1.0)
    counts = []
    for scale in (0.3, 3.0, 3000.0):
        item.rescale(scale)
        counts.append(item.path().elementCount())
    assert counts == sorted(counts)
    assert counts[0] < 0.1 * len(RING)
    assert counts[-1] == len(RING)


def test_a_short_line_keeps_its_points(qapp: object) -> None:
    points = RING[: MANY - 1]
    item = StrokeItem(Stroke("arc", "body", points, Pen("#000000"), Layer.PANEL), 1.0)
    item.rescale(1e-3)
    assert item.path().elementCount() == len(points)


@pytest.mark.parametrize("scale", [0.001, 0.29, 1.0, 7.7, 500.0])
def test_the_zoom_that_stands_for_others_is_near_them(scale: float) -> None:
    assert scale_of(zoom_step(scale)) == pytest.approx(scale, rel=0.15)


def test_handles_of_a_curve_leave_each_other_room_and_the_ends_have_theirs() -> None:
    spots = [QPointF(x, 5.0) for x in range(104)]
    kept = apart(spots)
    assert (kept[0], kept[-1]) == (spots[0], spots[-1])
    steps = [after.x() - before.x() for before, after in pairwise(kept[:-1])]
    assert set(steps) == {ROOM_PX}
    corners = [QPointF(0.0, 0.0), QPointF(0.0, 40.0), QPointF(60.0, 40.0)]
    assert apart(corners) == corners
    assert apart(corners[:1]) == corners[:1]
    assert apart([]) == []
