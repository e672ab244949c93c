"""Prop and stop on the sheet: where they work, and how the rod lies where it doesn't."""

from __future__ import annotations

from dataclasses import replace
from math import dist
from typing import TYPE_CHECKING

import pytest

from app.holding_shapes import SET, STOWED, holding_shapes
from app.look import light
from app.shapes import Stroke, placed
from app.sheet import extent
from app.traces import traces
from app.travel import marks_of, scale_of
from kinematics import analyse
from kinematics.parts import Attachment
from tests.kinematics.held_open import PROP, STOP, lid
from tests.specimens import single_pivot

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.project import Point

HELD = analyse(lid(prop_rod=PROP, stop=replace(STOP, at_deg=82.0)), 5)


def rod(found: Analysis, frame: str, deg: float) -> tuple[Point, Point]:
    """Give the ends of the rod that rides on a frame, at an opening."""
    where = placed(found, found.pose(deg))[frame]
    return where.carry((0.0, 0.0)), where.carry((1.0, 0.0))


def test_at_its_opening_it_stands_between_its_ends() -> None:
    foot, seat = rod(HELD, SET, 60.0)
    assert foot == pytest.approx((600.0, 0.0))
    assert seat == pytest.approx((300.0, 519.615242), abs=1e-6)
    assert dist(*rod(HELD, STOWED, 60.0)) < 1e-3


@pytest.mark.parametrize("deg", [0.0, 30.0, 75.0])
def test_else_it_hangs_and_lies_along_the_panel(deg: float) -> None:
    """From 600 to the further end of the lid, its pin: 600 long, so just to there."""
    assert dist(*rod(HELD, SET, deg)) < 1e-3
    foot, end = rod(HELD, STOWED, deg)
    assert foot == pytest.approx((600.0, 0.0))
    assert end == pytest.approx((0.0, 0.0), abs=1e-6)


def test_one_that_hangs_from_the_panel_goes_with_it() -> None:
    found = analyse(lid(prop_rod=replace(PROP, from_end=PROP.to_end, to_end=PROP.from_end)), 5)
    foot, end = rod(found, STOWED, 30.0)
    assert foot == pytest.approx((519.615242, 300.0), abs=1e-6)
    assert end == pytest.approx((0.0, 0.0), abs=1e-6)


def test_one_that_is_never_set_is_the_line_between_its_ends() -> None:
    found = analyse(lid(prop_rod=replace(PROP, at_deg=85.0)), 5)
    assert rod(found, STOWED, 30.0) == (pytest.approx((600.0, 0.0)), pytest.approx((519.615242, 300.0), abs=1e-6))


def test_the_stops_faces_meet_at_its_opening() -> None:
    """Of a lid that is to open to 85°, seen at 82°: the faces are one line from 40 to 60 mm from the pin."""
    wide = lid(stop=replace(STOP, at_deg=82.0))
    found = analyse(replace(wide, travel=replace(wide.travel, wanted_deg=85.0)), 5)
    blocks = [shape for shape in holding_shapes(found, light(), "mm") if shape.key.startswith("stop:")]
    where = placed(found, found.pose(82.0))
    corners = []
    for block in blocks:
        assert isinstance(block, Stroke)
        corners.append([where[block.link].carry(point) for point in block.points])
    first, second = corners
    assert first[:2] == [pytest.approx(point, abs=1e-6) for point in second[:2]]
    assert [dist(point, (0.0, 0.0)) for point in first[:2]] == pytest.approx([40.0, 60.0])
    assert dist(first[2], second[2]) == pytest.approx(20.0)  # one on either side
    shut = [placed(found, found.pose(0.0))[blocks[1].link].carry(blocks[1].points[0])]  # type: ignore[union-attr]
    assert dist(shut[0], first[0]) > 20.0


def test_nothing_is_drawn_of_nothing() -> None:
    bare = analyse(single_pivot, 3)
    assert holding_shapes(bare, light(), "mm") == []
    assert {SET, STOWED} & set(placed(bare, bare.pose(0.0))) == set()
    assert holding_shapes(analyse(lid(stop=replace(STOP, at_deg=170.0)), 3), light(), "mm") != []


def test_they_are_among_the_traces_and_on_the_ruler() -> None:
    keys = {shape.key for shape in traces(HELD, light())}
    assert {"prop:set", "prop:stowed", "prop:hangs", "prop:seat", "stop:0", "stop:1"} <= keys
    words = {mark.words: mark.place for mark in marks_of(HELD)}
    assert words["prop 60°"] == 60.0
    assert words["stop 82°"] == 82.0
    assert scale_of(HELD).last == 82.0
    far = analyse(lid(stop=replace(STOP, at_deg=170.0)), 3)
    assert scale_of(far).last == 80.0
    assert not any(mark.words.startswith("stop") for mark in marks_of(far))


def test_the_sheet_is_large_enough_for_it() -> None:
    far = analyse(lid(prop_rod=replace(PROP, from_end=Attachment("body", (-1234.0, 0.0)))), 5)
    assert extent(far.project, far)[:, 0].min() == -1234.0
