"""Masses, forces, spring rates and the like as people type and read them, beside the lengths of `app.lengths`.

Inside the program masses are kg, forces N, rates N/mm, moments N·mm, temperatures °C, wind m/s, densities kg/m³. With
inches they are told in lb, lbf, lbf/in, in·lbf, °F, mph and lb/ft³. Any of these units is read anywhere, and sums as of
lengths: `18`, `40 lb`, `2 kg + 300 g`. Shares are told in %, and plain numbers as they are.

Sources: the pound is 0.45359237 kg and the inch 25.4 mm, exact (international yard and pound, 1959); standard gravity
9.80665 m/s², exact (ISO 80000-3).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from app.lengths import NOTHING, format_number, parse_sum, style_of
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from app.lengths import Units

INCH = Fraction(254, 10)
POUND = Fraction(45359237, 100000000)
G = Fraction(980665, 100000)
LBF = POUND * G
FOOT_M = Fraction(3048, 10000)
DIGITS = 9


@dataclass(frozen=True, slots=True)
class Quantity:
    """What a number stands for.

    kind : with its article, for sentences ("a force").   example : how it may be typed.   units : name in small letters
    → how many of the program's own unit.   metric, inch : the units in which it is told.   places : decimals told.
    """

    kind: str
    example: str
    units: dict[str, Fraction]
    metric: str
    inch: str
    places: int = 3

    def parse(self, text: str, units: Units) -> float:
        """The value that a person typed, in the program's own unit. Raises HingewrightError, one sentence."""
        return parse_sum(text, self.units, self._worth(units), self.kind, self.example)

    def format(self, value: float | None, units: Units, *, unit: bool = True) -> str:
        """The value as people read it, to `places` decimals and without trailing zeros; "—" for None."""
        if value is None or not math.isfinite(value):
            return NOTHING
        told = _decimal(value / float(self._worth(units)), self.places, units)
        sign = self.unit(units)
        return told + (f" {sign}" if unit and sign else "")

    def unit(self, units: Units) -> str:
        """The unit in which it is told."""
        return self.inch if style_of(units).units == "in" else self.metric

    def exact(self, value: float, units: Units) -> str:
        """The value for exact entry: with so many digits that typing them again gives it back to nine digits."""
        worth = float(self._worth(units))
        told = format_number(value / worth, units) if _is_short(value / worth) else _full(value / worth, units)
        sign = self.unit(units)
        return f"{told} {sign}" if sign else told

    def _worth(self, units: Units) -> Fraction:
        return self.units[self.unit(units).lower()]


def _is_short(value: float) -> bool:
    """Whether the six digits that are usually told tell the value."""
    return math.isclose(float(f"{value:.6g}"), value, rel_tol=10.0**-DIGITS, abs_tol=1e-12) and 1e-4 <= abs(value) < 1e6


def _full(value: float, units: Units) -> str:
    """Up to nine digits, never with an exponent."""
    size = 0 if value == 0.0 else math.floor(math.log10(abs(value)))
    return _decimal(value, max(DIGITS - 1 - size, 0), units)


def _decimal(value: float, places: int, units: Units) -> str:
    """Rounded to so many places, trailing zeros cut, with the true minus and the builder's point or comma."""
    text = f"{value:.{min(places, 15)}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    text = "0" if text in ("-0", "") else text.replace("-", "−")
    return text.replace(".", ",") if style_of(units).comma else text


MASS = Quantity(
    "a mass",
    "such as 18, 400 g or 40 lb",
    {
        **dict.fromkeys(("kg", "kilo", "kilos"), Fraction(1)),
        "g": Fraction(1, 1000),
        "t": Fraction(1000),
        **dict.fromkeys(("lb", "lbs", "lb.", "lbs.", "pound", "pounds"), POUND),
        **dict.fromkeys(("oz", "oz.", "ounces"), POUND / 16),
    },
    "kg",
    "lb",
)
FORCE = Quantity(
    "a force",
    "such as 300, 0.3 kN or 65 lbf",
    {
        **dict.fromkeys(("n", "newton", "newtons"), Fraction(1)),
        "dan": Fraction(10),
        "kn": Fraction(1000),
        **dict.fromkeys(("kgf", "kp"), G),
        **dict.fromkeys(("lbf", "lb", "lbs", "lb.", "lbs.", "pounds"), LBF),
    },
    "N",
    "lbf",
)
RATE = Quantity(
    "a spring rate",
    "such as 2.5, 2.5 N/mm or 14 lbf/in",
    {
        "n/mm": Fraction(1),
        "n/cm": Fraction(1, 10),
        "n/m": Fraction(1, 1000),
        **dict.fromkeys(("lbf/in", "lb/in", "lbs/in"), LBF / INCH),
    },
    "N/mm",
    "lbf/in",
    4,
)
MOMENT = Quantity(
    "a moment",
    "such as 5000, 5 N·m or 44 in·lbf",
    {
        **dict.fromkeys(("n·mm", "n*mm", "n mm", "nmm"), Fraction(1)),
        **dict.fromkeys(("n·m", "n*m", "n m", "nm"), Fraction(1000)),
        **dict.fromkeys(("in·lbf", "in*lbf", "in lbf", "lbf·in", "lbf*in", "lbf in", "in·lb", "in-lbf"), LBF * INCH),
        **dict.fromkeys(("ft·lbf", "ft*lbf", "ft lbf", "lbf·ft", "lbf*ft", "lbf ft", "ft·lb"), LBF * INCH * 12),
    },
    "N·mm",
    "in·lbf",
)
MOMENT_RATE = Quantity(
    "a moment per degree",
    "such as 20, 20 N·mm/° or 0.2 in·lbf/°",
    {
        **dict.fromkeys(("n·mm/°", "n*mm/°", "n·mm/deg", "nmm/°"), Fraction(1)),
        **dict.fromkeys(("n·m/°", "n*m/°", "n·m/deg", "nm/°"), Fraction(1000)),
        **dict.fromkeys(("in·lbf/°", "in*lbf/°", "in·lbf/deg"), LBF * INCH),
    },
    "N·mm/°",
    "in·lbf/°",
    4,
)
WIND = Quantity(
    "a wind speed",
    "such as 12, 40 km/h or 25 mph",
    {
        "m/s": Fraction(1),
        **dict.fromkeys(("km/h", "kmh", "kph"), Fraction(10, 36)),
        **dict.fromkeys(("mph", "mi/h"), Fraction(1609344, 3600000)),
        **dict.fromkeys(("kn", "kt", "kts", "knots"), Fraction(1852, 3600)),
    },
    "m/s",
    "mph",
    1,
)
DENSITY = Quantity(
    "a density",
    "such as 2700, 7.85 g/cm³ or 170 lb/ft³",
    {
        **dict.fromkeys(("kg/m³", "kg/m3"), Fraction(1)),
        **dict.fromkeys(("g/cm³", "g/cm3", "kg/l"), Fraction(1000)),
        **dict.fromkeys(("lb/ft³", "lb/ft3"), POUND / FOOT_M**3),
        **dict.fromkeys(("lb/in³", "lb/in3"), POUND / (FOOT_M / 12) ** 3),
    },
    "kg/m³",
    "lb/ft³",
)
STRESS = Quantity(
    "a stress",
    "such as 235, 235 N/mm² or 34 ksi",
    {
        **dict.fromkeys(("mpa", "n/mm²", "n/mm2"), Fraction(1)),
        "gpa": Fraction(1000),
        "bar": Fraction(1, 10),
        "psi": LBF / INCH**2,
        "ksi": 1000 * LBF / INCH**2,
    },
    "MPa",
    "ksi",
    2,
)
SLIDING = Quantity(
    "a sliding speed",
    "such as 2.5, 2.5 m/s or 500 ft/min",
    {
        "m/s": Fraction(1),
        "mm/s": Fraction(1, 1000),
        "m/min": Fraction(1, 60),
        **dict.fromkeys(("ft/min", "fpm", "sfm"), FOOT_M / 60),
    },
    "m/s",
    "ft/min",
)
PRESSURE_SPEED = Quantity(
    "a pressure times a speed",
    "such as 1.75 or 50000 psi·ft/min",
    {
        **dict.fromkeys(("mpa·m/s", "mpa*m/s", "n/mm²·m/s"), Fraction(1)),
        **dict.fromkeys(("psi·ft/min", "psi*ft/min", "psi·fpm", "psi*fpm"), LBF / INCH**2 * FOOT_M / 60),
    },
    "MPa·m/s",
    "psi·ft/min",
)
TIME = Quantity(
    "a time",
    "such as 2 or 2 s",
    {**dict.fromkeys(("s", "sec", "seconds"), Fraction(1)), **dict.fromkeys(("min", "minutes"), Fraction(60))},
    "s",
    "s",
)
SHARE = Quantity("a share", "such as 15 or 15 %", {"%": Fraction(1, 100)}, "%", "%", 1)
NUMBER = Quantity("a number", "such as 2 or 0.15", {"": Fraction(1)}, "", "", 4)

FAHRENHEIT = ("°f", "° f", "f", "fahrenheit")
CELSIUS = ("°c", "° c", "c", "celsius")
DEGREES = dict.fromkeys(("°", "deg", "degrees"), Fraction(1))


def parse_temperature(text: str, units: Units) -> float:
    """The temperature that a person typed, °C: "-10", "−10 °C", "14 °F". Raises HingewrightError, one sentence."""
    bare, is_inch = text.strip().lower(), style_of(units).units == "in"
    named = next((word for word in (*FAHRENHEIT, *CELSIUS) if bare.endswith(word)), "")
    number = parse_sum(bare[: len(bare) - len(named)], DEGREES, Fraction(1), "a temperature", "such as −10 or 14 °F")
    fahrenheit = named in FAHRENHEIT or (not named and is_inch)
    return (number - 32.0) / 1.8 if fahrenheit else number


def format_temperature(celsius: float, units: Units) -> str:
    """A temperature as people read it, to a tenth: "−10 °C", with inches "14 °F"."""
    is_inch = style_of(units).units == "in"
    return f"{_decimal(celsius * 1.8 + 32.0 if is_inch else celsius, 1, units)} {'°F' if is_inch else '°C'}"


def parse_count(text: str, units: Units) -> int:
    """The whole number, 1 or more, that a person typed. Raises HingewrightError, one sentence."""
    found = NUMBER.parse(text, units)
    if found != int(found) or found < 1:
        remedy = "Type 1, 2, 3, …"
        raise HingewrightError(f"{NUMBER.format(found, units)} is no whole number of 1 or more", remedy=remedy)
    return int(found)
