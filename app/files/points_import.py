"""Measured points, from a CSV file or pasted: one point a line, x and y, and perhaps a name.

Columns are parted by a semicolon, a tab, a comma or spaces, whichever the text has (looked for in this order). A comma
inside a number is a decimal comma where commas don't part the columns. Lengths may be typed as everywhere in the
program: `12.5`, `3 1/16"`, `25.4/2`.

A blank line, or a new name in the third column, starts the next outline; names that differ on every line number the
points and start nothing. A line of words alone, before the points of an outline, is its heading: one word or phrase is
the outline's name, several are column headings. `#` starts a remark. An outline that ends on its first point is closed.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path

from app.files.curves import MM_PER_UNIT, Curve
from app.files.errors import FileError
from app.lengths import parse_length, quoted
from kinematics.errors import HingewrightError, OutlineError
from kinematics.values import LARGEST_COORDINATE, Point

MOST_CHARACTERS = 10_000_000
MOST_POINTS = 100_000
PLAIN_NUMBER = re.compile(r"[+−-]?(?:\d+[.,]?\d*|[.,]\d+)(?:[eE][+-]?\d+)?")
FORMS = "Write x and y on each line, such as 12.5; 30 or 12.5, 30."


@dataclass(frozen=True, slots=True)
class _Row:
    """One line with a point on it; lines are counted from 1."""

    line: int
    at: Point
    name: str


@dataclass(slots=True)
class _Block:
    """What stands between two blank lines: headings, then points."""

    heading: str = ""
    rows: list[_Row] = field(default_factory=list)


def read_points(text: str, units: str) -> tuple[Curve, ...]:
    """The outlines that a text of points describes.

    text : as the module says.     units : one of `MM_PER_UNIT`, for lengths that name no unit of their own.
    Returns curves of kind "points", in mm, named by their heading or third column ("" where there is none).
    Raises OutlineError with the line and what stands there.
    """
    if units not in MM_PER_UNIT:
        raise OutlineError(f'"{units}" is no unit that is known here', "", f"Take one of {', '.join(MM_PER_UNIT)}.")
    if len(text) > MOST_CHARACTERS:
        raise OutlineError(f"the text has {len(text)} characters, more than the {MOST_CHARACTERS} read here", "", FORMS)
    blocks = _blocks(text.removeprefix("\ufeff"), units)
    curves = tuple(_curve(name, rows) for block in blocks for name, rows in _outlines(block))
    if not curves:
        raise OutlineError("the text holds no points", "", FORMS)
    return curves


def read_points_file(path: str | Path, units: str) -> tuple[Curve, ...]:
    """`read_points` of a text file (UTF-8, UTF-16 with its mark, or Western Windows).

    Raises FileError when the file can't be read or isn't text, OutlineError as `read_points` does.
    """
    path = Path(path)
    try:
        if path.stat().st_size > MOST_CHARACTERS:
            raise FileError(
                f"the file has more than {MOST_CHARACTERS / 1e6:.0f} MB", path.name, "Keep only the points."
            )
        data = path.read_bytes()
    except OSError as fault:
        raise FileError(
            f"the file can't be read ({fault.strerror or fault})", path.name, "Check that it is there and not locked."
        ) from fault
    return read_points(_decoded(data, path.name), units)


def _decoded(data: bytes, name: str) -> str:
    """The text of a file's bytes."""
    encodings = ("utf-16",) if data[:2] in (b"\xff\xfe", b"\xfe\xff") else ("utf-8-sig", "cp1252")
    for encoding in encodings:
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return text
    raise FileError("this is no text", name, FORMS)


def _blocks(text: str, units: str) -> list[_Block]:
    """The text's lines, read and gathered between blank lines."""
    lines = [line.split("#", 1)[0].strip() for line in text.splitlines()]
    sign = _separator(lines)
    blocks = [_Block()]
    count = 0
    for number, (line, raw) in enumerate(zip(lines, text.splitlines(), strict=True), 1):
        if not line:
            if not raw.strip() and blocks[-1].rows:
                blocks.append(_Block())
            continue
        fields = _fields(line, sign)
        if not blocks[-1].rows and _is_heading(fields):
            blocks[-1].heading = fields[0] if len(fields) == 1 else blocks[-1].heading
            continue
        blocks[-1].rows.append(_row(number, line, fields, units))
        count += 1
        if count > MOST_POINTS:
            raise OutlineError(
                f"there are more than the {MOST_POINTS} points read here", f"line {number}", "Thin them out."
            )
    return [block for block in blocks if block.rows]


def _separator(lines: list[str]) -> str:
    """What parts the columns: the first of ; tab , that a line with digits has, else spaces ("")."""
    held = [line for line in lines if any(letter.isdigit() for letter in line)]
    for sign in (";", "\t"):
        if any(sign in line for line in held):
            return sign
    # "12,5 30,2": the commas are within numbers, and spaces part the columns.
    commas = [line for line in held if "," in line]
    inside = [line for line in commas if re.fullmatch(r"[^\s,]*\d,\d+\s+[^\s,]*\d(,\d+)?(\s+[^,]*)?", line)]
    return "," if len(commas) > len(inside) else ""


def _fields(line: str, sign: str) -> list[str]:
    """A line's columns, without the quotation marks that spreadsheets put around names."""
    spaced = line.split(None, 2)
    plain = len(spaced) > 1 and all(PLAIN_NUMBER.fullmatch(each) for each in spaced[:2])
    # Two plain numbers with nothing else between them are x and y, whatever parts the columns of other lines.
    parts = line.split(sign) if sign and (sign in line or not plain) else spaced
    fields = [part.strip() for part in parts]
    while len(fields) > 2 and not fields[-1]:
        fields.pop()  # a separator at the line's end
    return [each[1:-1] if len(each) > 1 and each[0] == each[-1] == '"' else each for each in fields]


def _is_heading(fields: list[str]) -> bool:
    """Whether a line is words: nothing in its first two columns begins like a number."""
    return all(not re.match(r"[+−-]?[.,]?\d", each) for each in fields[:2]) and any(
        letter.isalpha() for letter in "".join(fields)
    )


def _row(number: int, line: str, fields: list[str], units: str) -> _Row:
    """The point on one line."""
    where = f"line {number}"
    if len(fields) < 2 or not fields[1]:
        raise OutlineError(f"{quoted(line)} holds only one number", where, FORMS)
    if len(fields) > 3:
        raise OutlineError(
            f"{quoted(line)} has {len(fields)} columns, where x, y and perhaps a name are expected",
            where,
            "Where numbers have a decimal comma, put a semicolon between them.",
        )
    x, y = (_length(each, units, where, axis) for each, axis in zip(fields, "xy", strict=False))
    return _Row(number, (x, y), fields[2] if len(fields) > 2 else "")


def _length(text: str, units: str, where: str, axis: str) -> float:
    """One coordinate, mm."""
    if PLAIN_NUMBER.fullmatch(text):
        value = float(text.replace(",", ".").replace("−", "-")) * MM_PER_UNIT[units]
    elif units in ("mm", "in"):
        try:
            value = parse_length(text, units)
        except HingewrightError as fault:
            raise OutlineError(f"{axis}: {fault.what}", where, fault.remedy or FORMS) from None
    else:
        raise OutlineError(f"{axis}: {quoted(text)} is no plain number, as points in {units} must be", where, FORMS)
    if not math.isfinite(value) or abs(value) > LARGEST_COORDINATE:
        raise OutlineError(f"{axis} is {quoted(text)}, farther than 100 m from (0, 0)", where, "Check the unit.")
    return value


def _outlines(block: _Block) -> list[tuple[str, list[_Row]]]:
    """A block's rows parted where the name in the third column changes."""
    names = [row.name for row in block.rows]
    if len(set(names)) == len(names):  # numbers of points, or all without a name but one: no outline has one point
        return [(block.heading, block.rows)]
    found: list[tuple[str, list[_Row]]] = []
    for row in block.rows:
        if not found or found[-1][1][-1].name != row.name:
            found.append((row.name or block.heading, []))
        found[-1][1].append(row)
    return found


def _curve(name: str, rows: list[_Row]) -> Curve:
    """One outline; points that repeat the one before are dropped."""
    points = [rows[0].at]
    points += [b.at for a, b in pairwise(rows) if a.at != b.at]
    closed = len(points) > 3 and points[0] == points[-1]
    if closed:
        points.pop()
    if len(points) < 2:
        called = f" {quoted(name)}" if name else ""
        raise OutlineError(
            f"the outline{called} has only one point", f"line {rows[0].line}", "An outline has two or more."
        )
    return Curve("".join(c for c in name if c.isprintable())[:60], "", "points", closed, tuple(points))
