"""The ruler's arithmetic: places and pixels, round ticks, words that don't lie on each other."""

from __future__ import annotations

import pytest

from app.ruler import INSET, Scale, place_words, tick_step


def test_scale_and_pixels_agree_both_ways() -> None:
    scale = Scale(0.0, 75.0)
    assert scale.pixel(0.0, 900) == INSET
    assert scale.pixel(75.0, 900) == 900 - INSET
    assert scale.place(scale.pixel(31.25, 900), 900) == pytest.approx(31.25, abs=1e-9)  # float rounding
    assert scale.place(-50, 900) == 0.0
    assert scale.place(2000, 900) == 75.0


@pytest.mark.parametrize(("span", "step"), [(75.0, 10.0), (100.0, 10.0), (12.0, 1.0), (180.0, 20.0), (0.5, 0.05)])
def test_ticks_are_round(span: float, step: float) -> None:
    assert tick_step(span) == pytest.approx(step, rel=1e-12)  # powers of ten


def test_words_never_lie_on_each_other_nor_outside() -> None:
    taken = [(100.0, 160.0)]
    assert place_words(90.0, 40.0, 400.0, taken) == (46.0, 86.0)
    assert place_words(380.0, 40.0, 400.0, taken) == (336.0, 376.0)
    assert place_words(30.0, 40.0, 60.0, taken) is None
