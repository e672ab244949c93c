"""Single values of a project, checked and brought to one form.

Each function takes a value as it came (from a file, a field, another part of the program), the place where it stands,
and its key. It gives the value back in the model's own form (plain `float`, `tuple`), or raises a `ProjectError` that
names all three: what came, where, what was expected.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import isfinite
from numbers import Real
from typing import Any, TypeGuard

from kinematics.errors import ProjectError

Point = tuple[float, float]

LARGEST_NUMBER = 1e9
LARGEST_COORDINATE = 1e5
LONGEST_ID = 80
SIXTEENTH = 25.4 / 16.0
"""Mm: the step of sizes that somebody has who measures in inches."""


class Kept(Mapping[str, Any]):
    """A read-only mapping for keys that this version doesn't know, carried from a load to the next save."""

    __slots__ = ("_items",)

    def __init__(self, items: Mapping[str, Any] | None = None) -> None:
        self._items = dict(items or {})

    def __getitem__(self, key: str) -> Any:  # noqa: ANN401  a JSON value of any kind
        return self._items[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._items)

    def __len__(self) -> int:
        return len(self._items)

    def __repr__(self) -> str:
        return f"Kept({self._items!r})"


def shown(value: object) -> str:
    """Name a value in an error's sentence: short, and in the words of the file (true, null)."""
    if isinstance(value, str):
        short = value if len(value) <= LONGEST_ID else f"{value[:LONGEST_ID]}…"
        return '"' + "".join(letter if letter.isprintable() else "?" for letter in short) + '"'
    if value is None or isinstance(value, bool):
        return {None: "null", True: "true", False: "false"}[value]
    if isinstance(value, Mapping):
        return "an object"
    if isinstance(value, Sequence):
        return f"a list of {len(value)}"
    # The digits of a huge integer could fill pages, and beyond some thousands Python refuses to write them at all.
    return "a huge number" if isinstance(value, int) and abs(value) > LARGEST_NUMBER else str(value)


def _is_real(value: object) -> TypeGuard[Real]:
    return isinstance(value, Real) and not isinstance(value, bool)


def number(value: object, where: str, key: str, limit: float = LARGEST_NUMBER) -> float:
    """Check that the value is a finite number within ±`limit`; true and false are none, an int becomes a float."""
    if type(value) is not float:
        if not _is_real(value):
            raise ProjectError(f"{key} is {shown(value)}, where a number is expected", where)
        try:
            value = float(value)
        except OverflowError:
            value = float("inf")
    if not isfinite(value):
        raise ProjectError(f"{key} is not a finite number", where, f"Numbers may reach ±{limit:,.0f}.")
    if abs(value) > limit:
        raise ProjectError(f"{key} is {value:g}, beyond ±{limit:,.0f}", where)
    return value


def not_negative(value: object, where: str, key: str) -> float:
    """Check that the value is a number of 0 or more."""
    found = number(value, where, key)
    if found < 0:
        raise ProjectError(f"{key} is {found:g}, but may not be negative", where)
    return found


def positive(value: object, where: str, key: str) -> float:
    """Check that the value is a number greater than 0."""
    if value is None:
        raise ProjectError(f"{key} is missing", where)
    found = number(value, where, key)
    if found <= 0:
        raise ProjectError(f"{key} is {found:g}, but must be greater than 0", where)
    return found


def count(value: object, where: str, key: str) -> int:
    """Check that the value is a whole number of 1 or more; 2.0 counts as 2."""
    found = positive(value, where, key)
    if found != int(found):
        raise ProjectError(f"{key} is {found:g}, but must be a whole number", where)
    return int(found)


def point(value: object, where: str, key: str) -> Point:
    """Check that the value is a pair of coordinates, x and y, within ±1e5 mm."""
    if not _is_list(value) or len(value) != 2:
        raise ProjectError(f"{key} is {shown(value)}, where a point [x, y] is expected", where)
    x = number(value[0], where, f"x of {key}", LARGEST_COORDINATE)
    y = number(value[1], where, f"y of {key}", LARGEST_COORDINATE)
    return x, y


def points(value: object, where: str, key: str, least: int) -> tuple[Point, ...]:
    """Check that the value is a list of at least `least` points."""
    if not _is_list(value):
        raise ProjectError(f"{key} is {shown(value)}, where a list of points is expected", where)
    if len(value) < least:
        raise ProjectError(f"{key} has {len(value)} of the {least} points that are needed at least", where)
    return tuple(point(each, where, f"{key}, entry {place}") for place, each in enumerate(value, 1))


def sequence(value: object, where: str, key: str) -> Sequence[object]:
    """Check that the value is a list of anything."""
    if not _is_list(value):
        raise ProjectError(f"{key} is {shown(value)}, where a list is expected", where)
    return value


def _is_list(value: object) -> TypeGuard[Sequence[object]]:
    """Tell lists, tuples and arrays (which have no common base but a length and entries) from texts and all else."""
    return isinstance(value, (list, tuple)) or (hasattr(value, "__array__") and getattr(value, "ndim", 0) > 0)


def text(value: object, where: str, key: str) -> str:
    """Check that the value is a text that can be written as UTF-8."""
    if not isinstance(value, str):
        raise ProjectError(f"{key} is {shown(value)}, where a text is expected", where)
    if not value.isascii():
        try:
            value.encode()
        except UnicodeEncodeError as fault:
            what = f"{key} holds half a character at place {fault.start + 1}"
            raise ProjectError(what, where, "Type the text anew.") from None
    return value


def identifier(value: object, where: str, key: str = "id") -> str:
    """Check that the value may be an id: 1 to 80 characters, none of them a control character."""
    found = text(value, where, key)
    if not 1 <= len(found) <= LONGEST_ID:
        raise ProjectError(f"{key} has {len(found)} characters", where, f"A name has 1 to {LONGEST_ID} characters.")
    if any(ord(letter) < 32 or 127 <= ord(letter) < 160 for letter in found):
        raise ProjectError(f"{key} holds a control character", where, "Use letters, digits, spaces and signs.")
    return found


def identifiers(value: object, where: str, key: str) -> tuple[str, ...]:
    """Check that the value is a list of ids."""
    if not _is_list(value):
        raise ProjectError(f"{key} is {shown(value)}, where a list of names is expected", where)
    return tuple(identifier(each, where, f"{key}, entry {place}") for place, each in enumerate(value, 1))


def flag(value: object, where: str, key: str) -> bool:
    """Check that the value is true or false."""
    if not isinstance(value, bool):
        raise ProjectError(f"{key} is {shown(value)}, where true or false is expected", where)
    return value


def one_of(value: object, where: str, key: str, words: tuple[str, ...]) -> str:
    """Check that the value is one of these words."""
    if not isinstance(value, str) or value not in words:
        choice = " or ".join(f'"{word}"' for word in words)
        raise ProjectError(f"{key} is {shown(value)}, where {choice} is expected", where)
    return value


def in_sixteenths(mm: float) -> float:
    """The length of whole sixteenths of an inch that is nearest, one at least: what inch sizes begin with."""
    return max(round(mm / SIXTEENTH), 1) * SIXTEENTH
