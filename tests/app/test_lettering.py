"""Long names: told in short on the sheet, broken in columns."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.lettering import BREAK, LONGEST, ON_SHEET, TIP_LINE, breakable, in_lines, short_name


def test_a_long_name_is_told_by_its_beginning_and_its_end() -> None:
    assert short_name("rear corner") == "rear corner"
    assert short_name("hinge bolt of the rear left bracket no. 17") == "hinge bolt of t…t no. 17"
    assert short_name("hinge bolt of the rear left bracket no. 17") != short_name(
        "hinge bolt of the rear left bracket no. 18"
    )


@given(st.text(max_size=80), st.integers(6, 40))
def test_a_short_name_is_never_longer_than_asked(name: str, most: int) -> None:
    told = short_name(name, most)
    assert len(told) <= most
    assert (told == name) == (len(name) <= most)


@given(st.text(st.characters(exclude_characters=BREAK), max_size=80))
def test_breaks_change_nothing_that_is_read(text: str) -> None:
    assert breakable(text).replace(BREAK, "") == text


@pytest.mark.parametrize("words", ["shut gap of lid and sill", "x" * LONGEST])
def test_usual_words_are_never_broken(words: str) -> None:
    assert breakable(words) == words
    assert len(words) <= ON_SHEET


@given(st.text(st.sampled_from("ab c\n"), max_size=300))
def test_tips_are_broken_into_lines_and_lose_no_word(tip: str) -> None:
    told = in_lines(tip)
    assert told.split() == tip.split()
    assert all(len(line) <= TIP_LINE or " " not in line for line in told.split("\n"))
