"""Lengths as people type and read them: what is understood, what is refused, what survives both ways."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.lengths import (
    FRACTIONS,
    NOTHING,
    LengthStyle,
    exact_length,
    format_angle,
    format_change,
    format_coordinate,
    format_length,
    format_number,
    parse_angle,
    parse_length,
    style_of,
)
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from collections.abc import Callable

UNITS = st.sampled_from(["mm", "in"])
LENGTHS = st.floats(min_value=-9e5, max_value=9e5)


@pytest.mark.parametrize(
    ("text", "units", "mm"),
    [
        ("12", "mm", 12.0),
        ("12", "in", 304.8),
        ('1/2"', "mm", 12.7),
        ("1,5", "mm", 1.5),
        (".5", "in", 12.7),
        ("5.", "mm", 5.0),
        ("12+3/4", "mm", 12.75),
        ("12+3/4 in", "mm", 323.85),  # a unit at the end is for the whole sum
        ("12 mm + 1/2 in", "in", 24.7),
        ('1/2" + 5', "mm", 139.7),  # and else the last one named
        ("1 + 2 in + 3 mm", "mm", 79.2),  # the next one named comes before the last
        ("38 - 2*1.5", "mm", 35.0),
        ("1 - 1/2", "mm", 0.5),  # spaces: a difference
        ("1-1/2", "mm", 1.5),  # glued: a mixed number
        ("-1-1/2", "mm", -1.5),
        ("20-40/2", "mm", 0.0),  # no proper fraction: a difference
        ("12 - -3", "mm", 15.0),
        ("−7", "mm", -7.0),
        ("3½″", "mm", 88.9),
        ("1' 6", "mm", 457.2),
        ("5'-6 1/2\"", "mm", 1689.1),
        ("-1' 6\"", "mm", -457.2),
        ("1' - 6\"", "mm", 152.4),
        ("2 cm", "in", 20.0),
        ("1 m", "in", 1000.0),
        ("  7  MM ", "in", 7.0),
    ],
)
def test_what_people_type(text: str, units: str, mm: float) -> None:
    assert parse_length(text, units) == pytest.approx(mm, rel=1e-15, abs=0)


PASTED = "Dear all,\nthe rear edge stands 12 mm back, please check.\n" * 400


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("", "nothing to read"),
        (" \t\n", "nothing to read"),
        ("a bit", "“a bit”"),
        ("nan", "“nan”"),
        ("inf", "“inf”"),
        ("1e5", "no unit known"),
        ("12 parsecs", "“parsecs” is no unit"),
        ("12+", "missing at its end"),
        ("1 2", "side by side"),
        ("1.234,5", "side by side"),
        ("3 5/4", "side by side"),
        ("0/0", "divides by zero"),
        ("3 1/0", "divides by zero"),
        ("7/0.0", "divides by zero"),
        ("9" * 50, "too large"),
        ("9" * 5000, "too long"),
        ("(1+2)*3", "no meaning"),
        ("12;4", "no meaning"),
        ("\x00\x1b[2J", "no meaning"),
        ("٣", "no meaning"),
        (PASTED, "too long"),
    ],
)
def test_what_is_no_length_is_told_in_one_sentence(text: str, names: str) -> None:
    with pytest.raises(HingewrightError) as caught:
        parse_length(text, "mm")
    sentence = str(caught.value)
    assert names in sentence
    assert "Type a length such as" in sentence
    assert len(sentence) < 250
    assert sentence.isprintable()


def outcome(parse: Callable[[], float]) -> float | str:
    try:
        return parse()
    except HingewrightError as fault:
        return str(fault)


@given(st.text(max_size=100) | st.text(alphabet="0123456789.,/*+-'\" inm½", max_size=40), UNITS)
def test_parse_raises_nothing_else(text: str, units: str) -> None:
    for found in (outcome(lambda: parse_length(text, units)), outcome(lambda: parse_angle(text))):
        assert found.isprintable() if isinstance(found, str) else math.isfinite(found)


@given(LENGTHS, UNITS)
def test_what_is_shown_can_be_typed_again(mm: float, units: str) -> None:
    """The shown text read back misses by no more than half a step, and shown again it is the same text."""
    text = format_length(mm, units)
    again = parse_length(text, units)
    half = 0.05 if units == "mm" else 25.4 / 128
    assert abs(again - mm) <= half * (1 + 1e-9) + 1e-9
    assert format_length(again, units) == text
    assert parse_length(format_length(mm, units, unit=False), units) == again


@given(LENGTHS, UNITS)
def test_exact_entry_loses_no_more_than_its_last_digit(mm: float, units: str) -> None:
    half = 0.0005 if units == "mm" else 25.4 * 0.00005
    assert abs(parse_length(format_length(mm, units, fine=True), units) - mm) <= half * (1 + 1e-6)


@given(st.integers(0, 200), st.integers(0, 63), st.sampled_from([1, -1]))
def test_sixty_fourths_are_reduced_and_exact(whole: int, rest: int, sign: int) -> None:
    mm = sign * (whole + rest / 64) * 25.4
    text = format_length(mm, "in")
    assert parse_length(text, "mm") == pytest.approx(mm, rel=1e-15, abs=0)
    if rest:
        top, bottom = text.strip('"').split()[-1].strip("−").split("/")
        assert math.gcd(int(top), int(bottom)) == 1
        assert int(bottom) in {2, 4, 8, 16, 32, 64}


@pytest.mark.parametrize(
    ("mm", "in_mm", "in_inches"),
    [
        (77.7875, "77.8 mm", '3 1/16"'),
        (12.7, "12.7 mm", '1/2"'),
        (-77.7875, "−77.8 mm", '−3 1/16"'),
        (25.39, "25.4 mm", '1"'),  # 63.97/64 rounds up to a whole inch, not to 64/64
        (0.0, "0.0 mm", '0"'),
        (-0.01, "0.0 mm", '0"'),  # no minus before nothing
        (None, NOTHING, NOTHING),
        (math.nan, NOTHING, NOTHING),
        (math.inf, NOTHING, NOTHING),
    ],
)
def test_what_people_read(mm: float | None, in_mm: str, in_inches: str) -> None:
    assert format_length(mm, "mm") == in_mm
    assert format_length(mm, "in") == in_inches


def test_a_change_always_has_its_sign() -> None:
    assert [format_change(mm, "mm") for mm in (1.31, -0.28, 0.04, -0.04)] == ["+1.3", "−0.3", "±0", "±0"]
    assert [format_change(mm, "in") for mm in (1.5875, -1.5875, 0.1)] == ["+1/16", "−1/16", "±0"]


def test_a_coordinate_keeps_its_decimals() -> None:
    assert [format_coordinate(mm, "mm") for mm in (141.0, -0.001, -12.345)] == ["141.00", "0.00", "−12.35"]
    assert [format_coordinate(mm, "in") for mm in (141.0, -12.7)] == ["5.551", "−0.500"]


def test_angles() -> None:
    assert [parse_angle(text) for text in ("75", "75°", "62,5 deg", "90 - 12.5", "-3")] == [
        75.0,
        75.0,
        62.5,
        77.5,
        -3.0,
    ]
    assert [format_angle(deg) for deg in (75.0, 31.24, -0.04, None)] == ["75°", "31.2°", "0°", NOTHING]
    assert format_angle(31.2346, fine=True) == "31.235°"
    with pytest.raises(HingewrightError, match="no unit known"):
        parse_angle("75 mm")


# --------------------------------------------------------------------------------------------------------------- habits
@pytest.mark.parametrize(
    ("style", "mm", "says"),
    [
        (LengthStyle("mm", decimals=0), 12.34, "12 mm"),
        (LengthStyle("mm", decimals=2), 12.3, "12.30 mm"),
        (LengthStyle("mm", decimals=3, comma=True), -12.3456, "−12,346 mm"),
        (LengthStyle("mm", decimals=0), -0.4, "0 mm"),
        (LengthStyle("in", fraction=16), 25.4 * 3 / 64, '1/16"'),
        (LengthStyle("in", fraction=16), 25.4 * (1 + 1 / 64), '1"'),
        (LengthStyle("in", fraction=32), 25.4 * (1 + 3 / 64), '1 1/16"'),
        (LengthStyle("in", fraction=32), -25.4 / 32, '−1/32"'),
        (LengthStyle("in", fraction=64), 25.4 / 64, '1/64"'),
    ],
)
def test_a_style_says_how_fine(style: LengthStyle, mm: float, says: str) -> None:
    assert format_length(mm, style) == says


def test_exact_entry_shows_all_digits_whatever_the_habit() -> None:
    assert exact_length(12.345, LengthStyle("mm", decimals=0)) == "12.345 mm"
    assert exact_length(25.4 / 64, LengthStyle("in", fraction=16)) == '1/64"'
    assert exact_length(1.0, LengthStyle("in", fraction=16, comma=True)) == '0,0394"'
    assert exact_length(-3.5, LengthStyle("mm", comma=True), unit=False) == "−3,5"


@given(st.floats(-1e5, 1e5), st.sampled_from(FRACTIONS), st.booleans(), st.sampled_from(["mm", "in"]))
def test_what_a_style_shows_in_full_is_read_back(mm: float, fraction: int, comma: bool, units: str) -> None:
    """To the last digit shown: 0.0005 mm, or 0.00005 inch."""
    style = LengthStyle(units, fraction, 1, comma)
    assert parse_length(exact_length(mm, style), style) == pytest.approx(mm, abs=0.00051 if units == "mm" else 0.0013)


def test_comma_reaches_every_figure() -> None:
    style = LengthStyle("mm", comma=True)
    assert format_angle(31.25, style, fine=True) == "31,25°"
    assert format_coordinate(-1.5, style) == "−1,50"
    assert format_change(1.26, style) == "+1,3"
    assert format_change(-0.04, style) == "±0"
    assert format_number(-0.5, style) == "−0,5"
    assert parse_length("12,5", style) == parse_length("12.5", style) == 12.5


def test_a_word_alone_is_the_style_of_reports() -> None:
    assert style_of("in") == LengthStyle("in", fraction=64, decimals=1, comma=False)
    for mm in (-0.05, 0.0, 3.14159, 1234.5):
        for units in ("mm", "in"):
            assert format_length(mm, units) == format_length(mm, LengthStyle(units))
