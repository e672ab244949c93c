"""What measures are called and read, word for word."""

from __future__ import annotations

import pytest

from app.lengths import LengthStyle
from app.measure_words import anchor_words, measure_words, reading_words
from kinematics.measures import Anchor, Measure
from kinematics.measuring import Reading

PLACES = (Anchor(pivot="A"), Anchor(outline="skin", point=0), Anchor(link="arm", at=(0.0, 0.0)))


def test_anchors() -> None:
    assert [anchor_words(each) for each in PLACES] == ["pivot A", "point 1 of skin", "a point of arm"]
    things = (Anchor(outline="skin"), Anchor(link="arm"), Anchor(mark="m"))
    assert [anchor_words(each) for each in things] == ["skin", "arm", "mark m"]


def test_measures() -> None:
    assert measure_words(Measure("m", "distance", PLACES[:2])) == "distance from pivot A to point 1 of skin"
    assert measure_words(Measure("m", "angle", PLACES)) == "angle at point 1 of skin between pivot A and a point of arm"
    assert measure_words(Measure("m", "path", PLACES[:1])) == "path of pivot A through the travel"
    clearance = Measure("m", "clearance", (Anchor(outline="skin"), Anchor(link="arm")))
    assert measure_words(clearance) == "clearance of skin and arm"


@pytest.mark.parametrize(
    ("kind", "reading", "says"),
    [
        ("distance", Reading(128.04, ()), "128.0 mm"),
        ("angle", Reading(54.26, ()), "54.3°"),
        ("path", Reading(412.3, (), 120.0), "path 412.3 mm, 120.0 mm to here"),
        ("clearance", Reading(7.31, ()), "clear 7.3 mm"),
        ("clearance", Reading(0.0, ()), "touch"),
        ("clearance", Reading(None, ()), "—"),
        ("angle", Reading(None, ()), "—"),
    ],
)
def test_figures(kind: str, reading: Reading, says: str) -> None:
    of = PLACES[: {"distance": 2, "angle": 3, "path": 1, "clearance": 2}[kind]]
    assert reading_words(Measure("m", kind, of), reading, "mm") == says  # type: ignore[arg-type]


def test_figures_in_inches() -> None:
    assert reading_words(Measure("m", "distance", PLACES[:2]), Reading(25.4 * 3.0625, ()), "in") == '3 1/16"'


def test_figures_have_the_builders_decimal_comma() -> None:
    """Angles as lengths: one sheet has one sign between whole and decimals."""
    comma = LengthStyle(comma=True)
    assert reading_words(Measure("m", "angle", PLACES), Reading(54.26, ()), comma) == "54,3°"
    assert reading_words(Measure("m", "distance", PLACES[:2]), Reading(128.04, ()), comma) == "128,0 mm"
