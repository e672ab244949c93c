"""What the hand is told, word for word."""

from __future__ import annotations

import pytest

from app.board.snapping import Hold, Ring, Snap, Target
from app.hand_words import hold_words, snap_words, target_words

PIN, POINT = Target((0.0, 0.0), "pivot", "A"), Target((0.0, 0.0), "point", "hatch skin", 2)
RING = Ring((0.0, 0.0), 128.04, "A", "arm")


@pytest.mark.parametrize(
    ("hold", "says"),
    [
        (Hold("on", (0.0, 0.0), PIN), "on pivot A"),
        (Hold("on", (0.0, 0.0), POINT), "on point 3 of hatch skin"),
        (Hold("on", (0.0, 0.0), Target((0.0, 0.0), "mark", "rear corner")), "on mark rear corner"),
        (Hold("level", (0.0, 0.0), PIN), "level with A"),
        (Hold("plumb", (0.0, 0.0), Target((0.0, 0.0), "end", "the first end")), "plumb with the first end"),
        (Hold("length", (0.0, 0.0), ring=RING), "as long as arm, 128.0 mm"),
        (Hold("grid", (20.0, 0.0), grid=10.0), "on a corner of the 10 mm squares"),
        (Hold("grid", (20.0, 4.0), grid=10.0), "on a line of the 10 mm squares"),
        (Hold("kept line", (0.0, 0.0), way="in line with arm"), "keeps in line with arm"),
        (Hold("kept length", (0.0, 0.0), ring=RING), "keeps the length of arm, 128.0 mm"),
    ],
)
def test_what_holds_the_hand(hold: Hold, says: str) -> None:
    assert hold_words(hold, "mm") == says
    assert snap_words(Snap((0.0, 0.0), (hold, Hold("level", (0.0, 0.0), PIN))), "mm") == f"{says}, level with A"


def test_targets() -> None:
    assert (target_words(PIN), target_words(POINT)) == ("pivot A", "point 3 of hatch skin")
