"""The sentence on a pin, by itself: directions, steps, figures."""

from __future__ import annotations

from dataclasses import replace

import pytest

from app.influence_words import influence_sentence
from app.lengths import LengthStyle
from kinematics.influence import Influence
from kinematics.results import Check

GAP = Check("gap", ("screen", "skin"), 10.0, 8.0, ok=False, margin=-2.0, deg=30.0)


@pytest.mark.parametrize(
    ("per_mm", "says"),
    [
        (
            (-0.3, 0.6),
            (
                "Worst check, screen – skin: 1 mm up gives 0.6 mm more; 1 mm to the left gives 0.3 mm more. "
                "The other way takes as much."
            ),
        ),
        (
            (1.25, -0.02),
            (
                "Worst check, screen – skin: 1 mm down gives 0.02 mm more; 1 mm to the right gives 1.2 mm more. "
                "The other way takes as much."
            ),
        ),
        (
            (0.0, 0.5),
            (
                "Worst check, screen – skin: 1 mm up gives 0.5 mm more; sideways changes nothing. "
                "The other way takes as much."
            ),
        ),
        (
            (0.5, 0.001),
            (
                "Worst check, screen – skin: 1 mm to the right gives 0.5 mm more; up or down changes nothing. "
                "The other way takes as much."
            ),
        ),
        ((0.001, -0.002), "Moving this pin a little changes nothing about the worst check, screen – skin."),
    ],
)
def test_a_gap(per_mm: tuple[float, float], says: str) -> None:
    assert influence_sentence(Influence(GAP, per_mm), "mm") == says


def test_in_inches_the_step_is_a_sixteenth() -> None:
    told = influence_sentence(Influence(GAP, (0.0, 1.0)), "in")
    assert told.startswith('Worst check, screen – skin: 1/16" up gives 1/16" more; sideways changes nothing.')


def test_what_touches_and_what_opens_are_told_in_degrees() -> None:
    touching = Influence(replace(GAP, have=0.0), (0.0, -2.0), in_contact=True)
    assert "1 mm down makes the contact 2° shorter" in influence_sentence(touching, "mm")
    deep = replace(touching, by_depth=True)
    assert "1 mm down makes the contact 2.0 mm less deep" in influence_sentence(deep, "mm")
    limit = Check("limit", ("corner",), -4.0, -5.0, ok=False, margin=-1.0, deg=8.0, side="dx_at_least")
    assert "1 mm up gives 0.4 mm more room" in influence_sentence(Influence(limit, (0.0, 0.4)), "mm")
    opening = Check("opening", (), 75.0, 62.0, ok=False, margin=-13.0, deg=62.0)
    assert influence_sentence(Influence(opening, (0.25, 0.0)), LengthStyle(comma=True)).startswith(
        "Worst check, opens to 75°: 1 mm to the right lets it open 0,2° further; up or down changes nothing."
    )


def test_where_there_is_no_rate_it_says_so() -> None:
    assert influence_sentence(None, "mm") == "How far the worst check moves with this pin can't be told just here."


def test_a_zone() -> None:
    outside = Check("zone", ("wall", "C"), 0.0, -3.0, ok=False, margin=-3.0, deg=0.0)
    told = influence_sentence(Influence(outside, (0.0, -1.0)), "mm")
    assert told.startswith(
        "Worst check, pins of wall in their zone: 1 mm down brings the pin 1.0 mm further in; sideways"
    )
