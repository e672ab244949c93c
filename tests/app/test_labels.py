"""Where words stand: on the side they like, off each other, off lines, on the sheet; and they don't jump."""

from __future__ import annotations

import dataclasses
import itertools

import numpy as np
import pytest
import shapely

from app.labels import Box, Wish, arrange, has_room, lay_out
from app.look import light
from app.shapes import Label, placed, shapes
from app.sheet import extent, fitted
from app.traces import traces
from kinematics import analyse
from tests import specimens

SHEET = Box(0.0, 0.0, 400.0, 300.0)
BARE = np.zeros((0, 2))


def wish(
    key: str, at: tuple[float, float] = (200.0, 150.0), away: tuple[float, float] = (1.0, 0.0), **more: bool
) -> Wish:
    return Wish(key, at, (60.0, 16.0), away, 8.0, **more)


def shared(one: Box, other: Box) -> float:
    wide = min(one.right, other.right) - max(one.left, other.left)
    high = min(one.bottom, other.bottom) - max(one.top, other.top)
    return max(wide, 0.0) * max(high, 0.0)


@pytest.mark.parametrize(
    ("away", "box"),
    [
        ((1.0, 0.0), Box(208.0, 142.0, 268.0, 158.0)),
        ((0.0, -1.0), Box(170.0, 126.0, 230.0, 142.0)),
        ((-1.0, 0.0), Box(132.0, 142.0, 192.0, 158.0)),
    ],
    ids=["right", "up", "left"],
)
def test_with_room_it_stands_on_the_side_it_likes(away: tuple[float, float], box: Box) -> None:
    found, place = lay_out([wish("a", away=away)], [], SHEET, BARE, {})["a"]
    assert (found.left, found.top, found.right, found.bottom) == pytest.approx(
        (box.left, box.top, box.right, box.bottom)
    )
    assert place == 0


def test_words_at_one_point_keep_off_each_other() -> None:
    found = lay_out([wish(key) for key in "abcde"], [], SHEET, BARE, {})
    for one, other in itertools.combinations(found.values(), 2):
        assert shared(one[0], other[0]) == 0.0


def test_a_sign_rather_lies_on_lines_than_on_a_pin() -> None:
    """A pin of 80 × 30 above the point, lines everywhere else: words go onto the pin, a sign doesn't."""
    pin = Box(160.0, 118.0, 240.0, 148.0)
    xs, ys = (axis.ravel() for axis in np.meshgrid(np.arange(60.0, 340.0, 2.0), np.arange(60.0, 240.0, 2.0)))
    off = (xs < pin.left) | (xs > pin.right) | (ys < pin.top) | (ys > pin.bottom)
    lines = np.stack([xs[off], ys[off]], axis=1)
    words, sign = (
        lay_out([wish("a", away=(0.0, -1.0), sign=sign)], [pin], SHEET, lines, {}, pins=1)["a"][0]
        for sign in (False, True)
    )
    assert shared(words, pin) > 0.0
    assert shared(sign, pin) == 0.0


def test_words_keep_off_what_is_there_already_and_off_lines() -> None:
    symbol = Box(208.0, 130.0, 290.0, 170.0)
    assert shared(lay_out([wish("a")], [symbol], SHEET, BARE, {})["a"][0], symbol) == 0.0
    line = np.stack([np.linspace(190.0, 390.0, 40), np.full(40, 150.0)], axis=1)
    box = lay_out([wish("a")], [], SHEET, line, {})["a"][0]
    assert not (
        (line[:, 0] > box.left) & (line[:, 0] < box.right) & (line[:, 1] > box.top) & (line[:, 1] < box.bottom)
    ).any()


def crosses(at: tuple[float, float], words: Box, other: Box) -> bool:
    """Whether the leader from a point to its words runs over another box (shapely's word for it)."""
    near = (min(max(at[0], words.left), words.right), min(max(at[1], words.top), words.bottom))
    return bool(shapely.LineString([at, near]).intersection(shapely.box(*dataclasses.astuple(other))).length > 1.0)


@pytest.mark.parametrize("deg", range(0, 360, 30))
def test_no_leader_strikes_through_other_words(deg: float) -> None:
    """The words of a point with a leader, close by a pin whose name chose first, or chooses after it."""
    way = (float(np.cos(np.radians(deg))), float(np.sin(np.radians(deg))))
    told = wish("told", at=(200.0 - 18.0 * way[0], 150.0 - 18.0 * way[1]), away=way, leader=True)
    for wishes in ([wish("pin", away=way), told], [told, wish("pin", away=way)]):
        found = lay_out(wishes, [], SHEET, BARE, {})
        assert not crosses(told.at, found["told"][0], found["pin"][0])


def test_words_stay_on_the_sheet() -> None:
    box = lay_out([wish("a", at=(390.0, 150.0))], [], SHEET, BARE, {})["a"][0]
    assert box.right <= 400.0


def test_words_stay_where_they_were_unless_another_side_is_much_better() -> None:
    there = lay_out([wish("a")], [], SHEET, BARE, {"a": 3})["a"]
    assert there[1] == 3
    in_the_way = there[0]
    assert lay_out([wish("a")], [in_the_way], SHEET, BARE, {"a": 3})["a"][1] != 3


def test_a_name_without_room_is_left_out_and_a_number_is_not() -> None:
    full = [Box(0.0, 0.0, 400.0, 300.0)]
    assert lay_out([wish("name", optional=True)], full, SHEET, BARE, {}) == {}
    assert "number" in lay_out([wish("number")], full, SHEET, BARE, {})


def test_a_name_needs_a_part_longer_than_itself() -> None:
    look = light()
    label = Label("k", "l", (0.0, 0.0), "arm", look.ink, look.paper, 11.0, span=100.0)
    assert has_room(label, 1.0, lambda _: (60.0, 16.0))
    assert not has_room(label, 0.8, lambda _: (60.0, 16.0))


@pytest.mark.parametrize("deg", [0.0, 10.0, 30.0, 75.0])
@pytest.mark.parametrize("size", [(1280.0, 800.0), (700.0, 500.0)])
def test_the_demos_words_keep_off_each_other(deg: float, size: tuple[float, float]) -> None:
    """Pin names, mark and gap: no two overlap by more than a fifth of the smaller, at any of these poses."""
    project, look = specimens.demo_six_bar, light()
    analysis = analyse(project)
    camera = fitted(extent(project, analysis), size)
    found = arrange(
        [*shapes(project, look), *traces(analysis, look)],
        placed(analysis, analysis.pose(deg)),
        camera,
        lambda label: (7.0 * len(label.text) + 6.0, 16.0),
        Box(0.0, 0.0, *size),
        (),
        {},
    )
    assert len([key for key in found if key.startswith("name of pivot")]) == 7
    where = placed(analysis, analysis.pose(deg))
    boxes = []
    for shape in (*shapes(project, look), *traces(analysis, look)):
        if isinstance(shape, Label) and shape.key in found:
            boxes.append(found[shape.key][0].moved(*camera.to_px(where[shape.link].carry(shape.at))))
    for one, other in itertools.combinations(boxes, 2):
        smaller = min((box.right - box.left) * (box.bottom - box.top) for box in (one, other))
        assert shared(one, other) <= 0.2 * smaller
