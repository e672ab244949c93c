"""Where notes stand: off each other, off what must not be hidden, within the window."""

from __future__ import annotations

from itertools import combinations
from random import Random

import pytest
from PySide6.QtCore import QPoint, QRect, QSize

from app.note_places import Surroundings, Want, note_places

ROUND = ((1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))
SIZE = QSize(216, 62)


def wants(*things: tuple[int, int]) -> list[Want]:
    return [Want(str(number), QPoint(*thing), SIZE, ROUND) for number, thing in enumerate(things)]


@pytest.mark.parametrize("seed", range(30))
def test_three_notes_never_lie_on_each_other_nor_on_their_things(seed: int) -> None:
    """Wherever the three things are in a window of 960 × 600 or larger."""
    dice = Random(seed)
    window = QRect(0, 0, dice.choice((960, 1264, 2560)), dice.choice((600, 744, 1440)))
    things = [(dice.randrange(20, window.width() - 20), dice.randrange(20, window.height() - 20)) for _ in range(3)]
    found = [box for box, _ in note_places(wants(*things), Surroundings(window, window), {}).values()]
    assert len(found) == len(things)
    assert all(window.contains(box) for box in found)
    assert not any(a.intersects(b) for a, b in combinations(found, 2))
    assert not any(box.contains(QPoint(*thing)) for box in found for thing in things)


def test_a_note_keeps_off_pins_bars_and_controls() -> None:
    window, board = QRect(0, 0, 1280, 800), QRect(400, 0, 500, 600)
    pins = [QPoint(620 + 20 * step, 340) for step in range(10)]
    bar = QRect(400, 150, 500, 90)
    (box, _), *_ = note_places(wants((600, 300)), Surroundings(window, board, pins, (bar,)), {}).values()
    assert not any(box.contains(pin) for pin in pins)
    assert not box.intersects(bar)
    assert board.contains(box)


def test_a_note_stays_where_it_stands_for_as_little_as_a_better_place() -> None:
    window = QRect(0, 0, 1280, 800)
    free = Surroundings(window, window)
    first = note_places(wants((600, 300)), free, {})["0"][1]
    other = note_places(wants((600, 300)), free, {"0": first + 2})["0"][1]
    assert other == first + 2
    crowded = Surroundings(window, window, [QPoint(600 - 178, 300 + 101)])
    assert note_places(wants((600, 300)), crowded, {"0": first + 2})["0"][1] != first + 2
