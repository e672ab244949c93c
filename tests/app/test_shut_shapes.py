"""Latch, cushions and the striker's last way as strokes: on which link, where, with which figures."""

from __future__ import annotations

from dataclasses import replace
from math import hypot

import pytest

from app.look import light
from app.shapes import shapes
from app.shut_shapes import entry_shapes
from app.strokes import Label, Stroke, Symbol
from app.traces import traces
from kinematics import analyse
from kinematics.fittings import Cushion, Latch
from kinematics.project import Loads
from tests.specimens import single_pivot

LOOK = light()
SEAL = Cushion("soft", "seal", "lid", (380.0, 0.0), 4.0, 80.0, per_metre=50.0, length=900.0)
STOPS = Cushion("stops", "bump stop", "lid", (350.0, 0.0), 4.0, force=20.0, count=2)
LATCHED = replace(single_pivot, loads=Loads(latch=Latch("lid", (400.0, 0.0), 265.0), cushions=(SEAL, STOPS)))


def test_the_catch_stands_on_the_body_and_the_striker_rides_on_the_panel() -> None:
    found = {shape.key: shape for shape in shapes(LATCHED, LOOK)}
    latch, striker = found["latch"], found["striker"]
    assert isinstance(latch, Symbol)
    assert (latch.link, latch.at, latch.glyph, latch.turn_deg) == ("body", ((400.0, 0.0),), "latch", 265.0)
    assert (striker.link, found["name of latch"].link) == ("lid", "body")


def test_cushions_stand_where_they_push_turned_by_their_way() -> None:
    found = {shape.key: shape for shape in shapes(LATCHED, LOOK)}
    seal, words = found["cushion:soft"], found["name of cushion:stops"]
    assert isinstance(seal, Symbol)
    assert (seal.link, seal.at, seal.glyph, seal.turn_deg) == ("body", ((380.0, 0.0),), "seal", 80.0)
    assert isinstance(words, Label)
    assert words.text == "2 × stops"


def test_the_last_way_is_enlarged_alike_in_both_directions() -> None:
    analysis = analyse(LATCHED, 3)
    found = {shape.key: shape for shape in entry_shapes(analysis, LOOK, "mm")}
    assert analysis.loads is not None
    assert analysis.loads.shut is not None
    entry = analysis.loads.shut.entry
    assert entry is not None
    path, way, label = found["entry:path"], found["entry:way"], found["entry:label"]
    assert isinstance(path, Stroke)
    assert isinstance(way, Stroke)
    assert isinstance(label, Label)
    times = int(label.text.split("×")[1].split(":")[0])
    assert times > 1
    for place, true in zip(path.points, entry.path.tolist(), strict=True):
        assert place[0] - path.points[0][0] == pytest.approx(times * (true[0] - 400.0))
        assert place[1] - path.points[0][1] == pytest.approx(times * true[1])
    (ax, ay), (bx, by) = way.points
    assert hypot(bx - ax, by - ay) == pytest.approx(times * 30.0)
    assert "3.7 mm aside, 5° off" in label.text
    assert sum(key.startswith("entry:tick") for key in found) == 4  # 0, 10, 20, 30 mm


def test_it_stands_ahead_of_the_panel_and_on_the_sheet_of_traces() -> None:
    analysis = analyse(LATCHED, 3)
    path = next(shape for shape in traces(analysis, LOOK) if shape.key == "entry:path")
    assert isinstance(path, Stroke)
    assert min(x for x, _ in path.points) > 400.0


def test_nothing_is_enlarged_where_nothing_is_told() -> None:
    assert entry_shapes(analyse(single_pivot, 3), LOOK, "mm") == []
    fixed = replace(LATCHED, loads=Loads(latch=Latch("body", (400.0, 0.0))))
    assert entry_shapes(analyse(fixed, 3), LOOK, "mm") == []
