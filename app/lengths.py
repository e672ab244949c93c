"""Lengths, angles and forces as people type and read them.

Inside the program every length is in mm and every angle in degrees; here they meet the builder's units ("mm" or "in").
*Units* are either just that word, or a `LengthStyle`: the word with the habits that a builder set for the window (how
many decimals, how fine the fractions, point or comma). Reports and the command line keep the plain word.

Typed: `12`, `1/2"`, `3 1/16 in`, `1-1/2 in`, `0.16 in`, `25.4/2`, `1' 6 1/2"`, sums such as `12+3/4` or `38 - 2*1.5`;
comma or point. A whole number glued by a hyphen to a proper fraction is a *mixed number*, as on a drawing (`1-1/2` is
one and a half); with spaces around the minus it is a difference. A number without a unit takes the next unit named
after it, else the last one named before it, else the project's: `12+3/4 in` is all in inches. A number that follows
feet without a sign, or joined by a hyphen, is in inches.

Read: to 0.1 mm, or to the nearest 1/64 inch as a reduced fraction, unless a style says otherwise.
"""

from __future__ import annotations

import math
import re
import unicodedata
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import NamedTuple, TypeAlias

from kinematics.errors import HingewrightError

__all__ = [
    "FRACTIONS",
    "NOTHING",
    "LengthStyle",
    "Units",
    "exact_length",
    "force_unit",
    "format_angle",
    "format_change",
    "format_coordinate",
    "format_force",
    "format_length",
    "format_number",
    "parse_angle",
    "parse_length",
    "parse_sum",
    "quoted",
    "style_of",
]

MM_PER_INCH = Fraction(254, 10)  # exact: the international inch, 1959
MM_PER_UNIT = {"mm": Fraction(1), "in": MM_PER_INCH}
N_PER_LBF = 4.4482216152605  # exact: 0.45359237 kg (the pound, 1959) times 9.80665 m/s² (standard gravity)
NOTHING = "—"  # stands where there is no number

LONGEST_TEXT = 60
LARGEST = 10**9  # the file format's bound on every number

LENGTH_UNITS = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), Fraction(1)),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), Fraction(10)),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), Fraction(1000)),
    **dict.fromkeys(("in", "in.", "inch", "inches", '"', "''"), MM_PER_INCH),
    **dict.fromkeys(("ft", "ft.", "foot", "feet", "'"), 12 * MM_PER_INCH),
}
ANGLE_UNITS = {**dict.fromkeys(("°", "deg", "deg.", "degree", "degrees"), Fraction(1))}
FOOT = 12 * MM_PER_INCH

SAME_SIGN = str.maketrans(
    {"−": "-", "–": "-", "‐": "-", "″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "×": "*", "÷": "/", "º": "°"}
)
NUMBER = r"(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)"
TERM = re.compile(
    rf"""\s* (?P<sign> [+-] \s* -? )? \s*
    (?: (?P<whole>[0-9]+) (?P<glue>\s+|-) (?P<part>[0-9]+) / (?P<parts>[0-9]+) (?! [0-9.,] | \s*[*/] )
      | (?P<product> {NUMBER} (?:\s*[*/]\s*{NUMBER})* ) )
    \s* (?P<unit> \'\' | ["'°] | [^\W\d_]+\.? )? \s*""",
    re.VERBOSE,
)
SIGNS = re.compile(r"[a-z]\W+[a-z\d³]|%|°[cf]")
"""What makes a unit one of several signs: "n/mm", "°c", "%"."""
FACTOR = re.compile(rf"([*/]?)\s*({NUMBER})")


FRACTIONS = (16, 32, 64)
"""Finest parts of an inch that a style may have."""


@dataclass(frozen=True, slots=True)
class LengthStyle:
    """How lengths are told.

    units : "mm" or "in", which also says what a typed number without a unit means.     fraction : finest part of an
    inch, 16, 32 or 64.     decimals : of a mm, 0 to 3.     comma : whether decimals stand behind a comma.
    """

    units: str = "mm"
    fraction: int = 64
    decimals: int = 1
    comma: bool = False


Units: TypeAlias = "str | LengthStyle"
"""The builder's units: "mm" or "in" alone, or with habits."""


def style_of(units: Units) -> LengthStyle:
    """Give the whole style: of a word alone, the one that reports have."""
    return units if isinstance(units, LengthStyle) else LengthStyle(units)


class _Term(NamedTuple):
    """One signed number of a sum, with the mm (or degrees) of its unit, if it names one."""

    value: Fraction
    unit: Fraction | None


def parse_length(text: str, units: Units) -> float:
    """The length that a person typed, mm.

    text : what was typed.     units : for numbers that name no unit.
    Negative lengths are allowed. Raises HingewrightError, one sentence, for anything that is no length.
    """
    return parse_sum(
        text, LENGTH_UNITS, MM_PER_UNIT[style_of(units).units], "a length", 'such as 12.5 mm, 3 1/16" or 25.4/2'
    )


def parse_angle(text: str) -> float:
    """The angle that a person typed, degrees; "75", "75°", "90 - 12,5 deg". Raises HingewrightError, one sentence."""
    return parse_sum(text, ANGLE_UNITS, Fraction(1), "an angle", "such as 75 or 62.5°")


def format_length(mm: float | None, units: Units, *, unit: bool = True, fine: bool = False) -> str:
    """A length as people read it: "12.5 mm", '3 1/16"'; "—" for None and for what is no number.

    unit : whether the unit stands behind it.
    fine : 0.001 mm, or decimal inches to 0.0001, without trailing zeros: for exact entry, and where the short form
    would hide a difference.
    """
    if mm is None or not math.isfinite(mm):
        return NOTHING
    style = style_of(units)
    if style.units == "in":
        told, sign = _decimal(mm / 25.4, 4) if fine else _fractions(mm, style.fraction), '"'
    else:
        told, sign = _decimal(mm, 3) if fine else _signed(f"{mm:.{style.decimals}f}"), " mm"
    return _pointed(told, style) + (sign if unit else "")


def exact_length(mm: float, units: Units, *, unit: bool = True) -> str:
    """A length in full: an inch fraction where it is exactly one (to 1/64), else decimals."""
    style = replace(style_of(units), fraction=64)
    short = format_length(mm, style)
    is_fraction = style.units == "in" and abs(parse_length(short, style) - mm) < 1e-6
    return format_length(mm, style, unit=unit, fine=not is_fraction)


def format_coordinate(mm: float, units: Units) -> str:
    """A coordinate to drill by, without its unit: always 2 decimals of a mm, or 3 of an inch."""
    style = style_of(units)
    return _pointed(_signed(f"{mm / 25.4:.3f}" if style.units == "in" else f"{mm:.2f}"), style)


def format_change(mm: float, units: Units) -> str:
    """How much a length has changed, always with its sign and without its unit: "+1.3", "−1/16", "±0"."""
    text = format_length(mm, units, unit=False)
    if text.strip("0.,") == "":
        return "±0"
    return text if text.startswith("−") else "+" + text


def format_angle(deg: float | None, units: Units = "mm", *, fine: bool = False) -> str:
    """An angle as people read it, to 0.1° (fine: 0.001°), trailing zeros cut: "75°"; "—" where there is none.

    units : say point or comma.
    """
    if deg is None or not math.isfinite(deg):
        return NOTHING
    return _pointed(_decimal(deg, 3 if fine else 1), style_of(units)) + "°"


def format_number(value: float, units: Units = "mm") -> str:
    """A round number of a scale: as few digits as it has, the true minus, and point or comma as the units say."""
    return _pointed(_signed(f"{value:g}"), style_of(units))


def format_force(newtons: float | None, units: Units = "mm", *, unit: bool = True, fine: bool = False) -> str:
    """A force as people read it: whole newtons, below 10 N to a tenth; with inches pounds-force, below 100 to a tenth;
    "—" for None and for what is no number.

    unit : whether the unit stands behind it.     fine : to a thousandth.
    """
    if newtons is None or not math.isfinite(newtons):
        return NOTHING
    inches = style_of(units).units == "in"
    value, tenths = (newtons / N_PER_LBF, 99.95) if inches else (newtons, 9.95)
    told = round(value, 3 if fine else 1 if abs(value) < tenths else 0) + 0.0
    sign = force_unit(units) if unit else ""
    return _pointed(_decimal(told, 3), style_of(units)) + (f" {sign}" if sign else "")


def force_unit(units: Units) -> str:
    """The unit in which forces are told beside these lengths: "N", "lbf"."""
    return "lbf" if style_of(units).units == "in" else "N"


# ------------------------------------------------------------------------------------------------------------- reading
def parse_sum(text: str, units: dict[str, Fraction], default: Fraction, kind: str, example: str) -> float:
    """The sum that a person typed, in units of which one is worth so much each; `default` is that of a bare number.

    kind, example : what the sentence of the error calls it ("a length") and shows. A unit may be of several signs
    ("n/mm"). Raises HingewrightError, one sentence, for what is no such sum.
    """
    cleaned, units = _single_words(_plain_signs(text), units)
    shown = quoted(text)
    remedy = f"Type {kind} {example}."
    if not cleaned.strip():
        raise HingewrightError(f"there is nothing to read as {kind}", remedy=remedy)
    if len(cleaned) > LONGEST_TEXT:
        raise HingewrightError(f"{shown} is too long for {kind}", remedy=remedy)
    try:
        total = _total(_terms(cleaned, units), default)
    except ZeroDivisionError:
        raise HingewrightError(f"{shown} divides by zero", remedy=remedy) from None
    except ValueError as fault:
        raise HingewrightError(f"{shown} can't be read as {kind}: {fault}", remedy=remedy) from None
    if abs(total) > LARGEST:
        raise HingewrightError(f"{shown} is too large for {kind}", remedy=remedy)
    return float(total)


def _single_words(text: str, units: dict[str, Fraction]) -> tuple[str, dict[str, Fraction]]:
    """The text with units of several signs ("n/mm") written as one word each, and the units that name those words."""
    of_signs = [name for name in sorted(units, key=len, reverse=True) if SIGNS.search(name)]
    for number, name in enumerate(of_signs):
        word = f"unit{chr(ord('a') + number)}"
        spaced = r"\s*".join(re.escape(sign) for sign in name if not sign.isspace())
        text, times = re.subn(rf"(?<![^\W\d_]){spaced}(?![^\W\d_])", f" {word} ", text)
        if times:
            units = {**units, word: units[name]}
    return text, units


def quoted(text: str, length: int = 30) -> str:
    """What was typed, in quotation marks on one line, cut where it is long."""
    line = " ".join(text.split())
    line = "".join(c for c in line if c.isprintable())
    return f"“{line[: length - 1]}…”" if len(line) > length else f"“{line}”"


def _plain_signs(text: str) -> str:
    """Typographic minus, quotation and fraction signs as plain ones: "3½″" becomes '3 1/2"'."""
    out = []
    for char in text[: 4 * LONGEST_TEXT]:
        plain = unicodedata.normalize("NFKC", char) if unicodedata.category(char) == "No" else char
        out.append(" " + plain.replace("\u2044", "/") if "\u2044" in plain else char)
    return "".join(out).translate(SAME_SIGN).strip().lower()


def _terms(text: str, units: dict[str, Fraction]) -> list[_Term]:
    """Splits a sum into its terms. Raises ValueError with the reason in words, or ZeroDivisionError."""
    terms: list[_Term] = []
    position = 0
    while position < len(text):
        match = TERM.match(text, position)
        if match is None:
            raise ValueError(_why_not(text[position:].strip()))
        if match["whole"] and not _is_mixed(match):
            match = _first_number(match)
        after_feet = bool(terms) and terms[-1].unit == FOOT
        if terms and not match["sign"] and not after_feet:
            raise ValueError("two numbers stand side by side; put + or − between them")
        term = _Term(_sign(match, terms) * _value(match), _unit(match["unit"], units))
        if after_feet and not match["sign"] and term.unit is None:
            term = term._replace(unit=MM_PER_INCH)
        terms.append(term)
        position = match.end()
    return terms


def _is_mixed(match: re.Match[str]) -> bool:
    """Whether a whole number and a fraction make one mixed number: only a proper fraction does."""
    if int(match["parts"]) == 0:
        raise ZeroDivisionError
    return int(match["part"]) < int(match["parts"])


def _first_number(match: re.Match[str]) -> re.Match[str]:
    """The term again, ending behind its whole number."""
    shorter = TERM.match(match.string, match.start(), match.end("whole"))
    if shorter is None:  # cannot be: a sign and a whole number are a term
        raise ValueError(_why_not(match.string))
    return shorter


def _sign(match: re.Match[str], terms: list[_Term]) -> int:
    """+1 or −1. Inches behind feet go the feet's way, also where a hyphen joins them as on drawings: 5'-6"."""
    hyphen = match["sign"] == "-" and not match.string[match.start() - 1].isspace()
    if terms and terms[-1].unit == FOOT and (not match["sign"] or hyphen):
        return 1 if terms[-1].value >= 0 else -1
    return -1 if (match["sign"] or "").count("-") == 1 else 1


def _value(match: re.Match[str]) -> Fraction:
    if match["whole"]:
        return int(match["whole"]) + Fraction(int(match["part"]), int(match["parts"]))
    value = Fraction(1)
    for operator, number in FACTOR.findall(match["product"]):
        factor = Fraction(number.replace(",", "."))
        value = value / factor if operator == "/" else value * factor
    return value


def _unit(word: str | None, units: dict[str, Fraction]) -> Fraction | None:
    if word is None:
        return None
    if word not in units:
        raise ValueError(f"{quoted(word)} is no unit known here")
    return units[word]


def _why_not(rest: str) -> str:
    if rest in ("+", "-"):
        return "a number is missing at its end"
    return f"{quoted(rest, 12)} has no meaning here"


def _total(terms: list[_Term], default: Fraction) -> Fraction:
    """The sum, after every number has found its unit."""
    following: Fraction | None = None
    units: list[Fraction | None] = []
    for term in reversed(terms):
        following = term.unit or following
        units.insert(0, following)
    last = next((term.unit for term in reversed(terms) if term.unit), None)
    return sum((term.value * (unit or last or default) for term, unit in zip(terms, units, strict=True)), Fraction(0))


# ------------------------------------------------------------------------------------------------------------- writing
def _signed(digits: str) -> str:
    """A printed number with the true minus, and without a minus before nothing."""
    bare = digits.lstrip("-")
    return bare if bare.strip("0.") == "" or bare == digits else "−" + bare


def _decimal(value: float, places: int) -> str:
    """Rounded to so many places, trailing zeros cut."""
    text = f"{value:.{places}f}"
    return _signed(text.rstrip("0").rstrip(".") or "0")


def _pointed(digits: str, style: LengthStyle) -> str:
    return digits.replace(".", ",") if style.comma else digits


def _fractions(mm: float, parts: int) -> str:
    """Whole inches and the reduced fraction to the nearest of so many parts: "3 1/16"."""
    whole, rest = divmod(abs(round(mm / 25.4 * parts)), parts)
    fraction = str(Fraction(rest, parts)) if rest else ""
    text = " ".join(part for part in (str(whole) if whole or not rest else "", fraction) if part)
    return "−" + text if mm < 0 and (whole or rest) else text
