"""Masses, forces and the like: typed as people type them, told in the builder's units, read back as they were told."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.lengths import LengthStyle, parse_length
from app.quantities import (
    DENSITY,
    FORCE,
    MASS,
    MOMENT,
    MOMENT_RATE,
    NUMBER,
    RATE,
    SHARE,
    WIND,
    Quantity,
    format_temperature,
    parse_count,
    parse_temperature,
)
from kinematics.errors import HingewrightError

ALL = (MASS, FORCE, RATE, MOMENT, MOMENT_RATE, WIND, DENSITY, SHARE, NUMBER)


@pytest.mark.parametrize(
    ("quantity", "text", "value"),
    [
        (MASS, "18", 18.0),
        (MASS, "2 kg + 300 g", 2.3),
        (MASS, "40 lb", 18.1436948),
        (MASS, "8 oz", 0.22679618500000),
        (FORCE, "0,3 kN", 300.0),
        (FORCE, "1 lbf", 4.4482216152605),
        (FORCE, "10 lb", 44.482216152605),
        (RATE, "2.5 N/mm", 2.5),
        (RATE, "2.5N / mm", 2.5),
        (RATE, "1 lbf/in", 0.17512683524647636),
        (MOMENT, "5 N·m", 5000.0),
        (MOMENT, "5 Nm", 5000.0),
        (MOMENT, "1 in·lbf", 112.9848290276167),
        (MOMENT, "1 ft lbf", 1355.8179483314004),
        (MOMENT, "-3000", -3000.0),
        (MOMENT_RATE, "20 N·mm/°", 20.0),
        (MOMENT_RATE, "20 N·mm/deg", 20.0),
        (WIND, "36 km/h", 10.0),
        (WIND, "10 mph", 4.4704),
        (WIND, "20 kn", 10.288888888888889),
        (DENSITY, "7.85 g/cm³", 7850.0),
        (DENSITY, "1 lb/ft3", 16.018463373960142),
        (SHARE, "15 %", 0.15),
        (SHARE, "15", 0.15),
        (NUMBER, "1/8", 0.125),
    ],
)
def test_what_is_typed(quantity: Quantity, text: str, value: float) -> None:
    assert quantity.parse(text, "mm") == pytest.approx(value, rel=1e-12)


def test_a_bare_number_is_in_the_builder_s_units() -> None:
    assert MASS.parse("10", "in") == pytest.approx(4.5359237, rel=1e-12)
    assert FORCE.parse("10", "in") == pytest.approx(44.482216152605, rel=1e-12)
    assert RATE.parse("1", "in") == pytest.approx(0.17512683524647636, rel=1e-12)


def test_what_is_told() -> None:
    assert MASS.format(18.0, "mm") == "18 kg"
    assert MASS.format(18.1436948, "in") == "40 lb"
    assert MASS.format(2.25, LengthStyle("mm", comma=True)) == "2,25 kg"
    assert RATE.exact(2.5, "mm") == "2.5 N/mm"
    assert FORCE.exact(300.0, "in") == "67.4426829 lbf"
    assert MOMENT.format(-3000.0, "mm") == "−3000 N·mm"
    assert SHARE.format(0.15, "mm") == "15 %"
    assert NUMBER.exact(0.15, "mm") == "0.15"
    assert MASS.format(float("nan"), "mm") == MASS.format(None, "mm") == "—"


@given(st.sampled_from(ALL), st.floats(1e-3, 1e7), st.booleans(), st.sampled_from(["mm", "in"]), st.booleans())
def test_exact_entry_is_read_back(quantity: Quantity, value: float, less: bool, units: str, comma: bool) -> None:
    style = LengthStyle(units, comma=comma)
    value = -value if less else value
    told = quantity.exact(value, style)
    assert "e" not in told.partition(" ")[0]
    assert quantity.parse(told, style) == pytest.approx(value, rel=1e-8)


@pytest.mark.parametrize(
    ("text", "units", "celsius"),
    [
        ("-10", "mm", -10.0),
        ("−10 °C", "in", -10.0),
        ("14 °F", "mm", -10.0),
        ("14", "in", -10.0),
        ("68f", "mm", 20.0),
        ("20°", "mm", 20.0),
    ],
)
def test_temperatures_are_typed(text: str, units: str, celsius: float) -> None:
    assert parse_temperature(text, units) == pytest.approx(celsius, abs=1e-12)


def test_temperatures_are_told() -> None:
    assert format_temperature(-10.0, "mm") == "−10 °C"
    assert format_temperature(-10.0, "in") == "14 °F"


@pytest.mark.parametrize(
    ("quantity", "text"),
    [(MASS, "12 N"), (FORCE, "much"), (RATE, "3 N/kg"), (MASS, ""), (NUMBER, "1/0"), (WIND, "3 m")],
)
def test_what_is_none_is_answered_with_a_sentence(quantity: Quantity, text: str) -> None:
    with pytest.raises(HingewrightError) as refused:
        quantity.parse(text, "mm")
    assert quantity.kind in str(refused.value)
    assert "such as" in str(refused.value)
    assert "unita" not in str(refused.value)


def test_counts() -> None:
    assert parse_count("2", "mm") == 2
    for text in ("0", "-1", "1.5", "two"):
        with pytest.raises(HingewrightError):
            parse_count(text, "mm")


def test_lengths_are_read_as_ever() -> None:
    assert parse_length("1' 6 1/2\"", "mm") == pytest.approx(469.9)
    with pytest.raises(HingewrightError, match="no unit"):
        parse_length("3 N/mm", "mm")
