"""Datum lines: floor and roof from side to side with their heights, and within what is fitted."""

from __future__ import annotations

from dataclasses import replace

import pytest

from app.datums import datums, heights
from app.look import light
from app.shapes import Label, Layer, Stroke
from app.sheet import extent
from app.traces import traces
from kinematics import analyse, wanting
from kinematics.project import Room
from tests.specimens import demo_six_bar, empty

ROOMY = replace(demo_six_bar, room=Room(-640.0, 1560.0))


def test_each_is_a_light_line_beyond_all_that_is_drawn() -> None:
    found = datums(ROOMY, light(), "mm")
    lines = {each.key: each for each in found if isinstance(each, Stroke)}
    assert list(lines) == ["datum:floor", "datum:roof"]
    xs = [x for outline in ROOMY.outlines for x, _ in outline.points]
    for key, y in (("datum:floor", -640.0), ("datum:roof", 1560.0)):
        (left, low), (right, high) = lines[key].points
        assert (low, high) == (y, y)
        assert left < min(xs) < max(xs) < right
        assert (lines[key].layer, lines[key].pen.px) == (Layer.ZONES, light().thin)
        assert lines[key].pen.dash  # not taken for an outline


@pytest.mark.parametrize(
    ("units", "words"),
    [("mm", ["floor, y −640.0 mm", "roof, y 1560.0 mm"]), ("in", ['floor, y −25 13/64"', 'roof, y 61 27/64"'])],
)
def test_their_heights_stand_beside_them(units: str, words: list[str]) -> None:
    assert [each.text for each in datums(ROOMY, light(), units) if isinstance(each, Label)] == words


def test_one_alone_and_none() -> None:
    assert heights(wanting.set_roof(demo_six_bar, 900.0)) == [("roof", 900.0)]
    assert datums(demo_six_bar, light(), "mm") == []
    ((left, _), (right, _)) = datums(replace(empty, room=Room(0.0)), light(), "mm")[0].points  # type: ignore[union-attr]
    assert right - left == 400.0


def test_the_sheet_is_fitted_to_them() -> None:
    low, high = extent(ROOMY, analyse(ROOMY))[:, 1].min(), extent(ROOMY, analyse(ROOMY))[:, 1].max()
    assert (low, high) == (-640.0, 1560.0)


def test_pictures_show_them_in_the_projects_units() -> None:
    assert any(shape.key == "datum:roof" for shape in traces(analyse(ROOMY), light()))
