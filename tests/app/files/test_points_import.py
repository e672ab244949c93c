"""Measured points in: the ways in which people write them, and errors that name the line."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from app.files.errors import FileError
from app.files.outline_import import read_points, read_points_file
from app.files.points_import import MOST_POINTS
from kinematics.errors import HingewrightError, OutlineError

if TYPE_CHECKING:
    from pathlib import Path

INCH = 25.4


def points(text: str, units: str = "mm") -> list[tuple[float, float]]:
    """The points of a text with one outline."""
    (curve,) = read_points(text, units)
    return list(curve.points)


def flat(pairs: list[tuple[float, float]]) -> list[float]:
    return [number for pair in pairs for number in pair]


@pytest.mark.parametrize(
    "text",
    [
        "1.5,2.25\n-3,40",
        "1.5, 2.25\n-3, 40\n",
        "1,5;2,25\n-3;40",
        "1,5\t2,25\n-3\t40",
        "1.5 2.25\n-3 40",
        "1,5 2,25\n-3 40",
        "  1.5   2.25  \r\n  -3   40  \r\n",
        "\ufeffx;y\n1,5;2,25\n−3;40\n\n\n",
        "# measured from the sill\nx,y\n1.5,2.25 # rear corner\n-3,40,\n",
        '"1,5";"2,25"\n"-3";"40"',
        "1.5mm; 0.225cm\n-3; 4 cm",
    ],
)
def test_ways_to_write_the_same_points(text: str) -> None:
    assert flat(points(text)) == pytest.approx([1.5, 2.25, -3, 40], abs=1e-12)


@pytest.mark.parametrize(
    "text",
    ["1 1/2, 3/16\n-2, 25.4/2\n", '1-1/2"; 0.1875\n-2"; 12,7\n', "1 1/2\t3/16\n-2\t12.7", "38.1 mm, 3/16\n-2,12.7"],
)
def test_inches_with_fractions(text: str) -> None:
    """3/16 in = 4.7625 mm and 1 1/2 in = 38.1 mm, both exact."""
    assert flat(points(text, "in")) == pytest.approx([38.1, 4.7625, -50.8, 12.7 * INCH], abs=1e-12)


def test_other_units_take_plain_numbers() -> None:
    assert points("1.5;2\n3;4", "m") == [(1500, 2000), (3000, 4000)]
    with pytest.raises(OutlineError, match=r"line 2: x: “3 1/2” is no plain number, as points in ft must be"):
        read_points("1;2\n3 1/2;4", "ft")
    with pytest.raises(OutlineError, match="furlong"):
        read_points("1;2\n3;4", "furlong")


def test_blank_lines_part_outlines_and_words_name_them() -> None:
    curves = read_points("windscreen\n0 0\n1 1\n\n\nLid, skin\nx, y\n5, 5\n6,6\n7,5\n5,5\n\nlid\n1,2\n3,4", "mm")
    assert [(curve.name, curve.closed, len(curve.points)) for curve in curves] == [
        ("windscreen", False, 2),
        ("", True, 3),
        ("lid", False, 2),
    ]


def test_a_third_column_names_outlines() -> None:
    curves = read_points("x;y;name\n0;0;sill\n1;0;sill\n2;5;lid\n3;5;lid\n4;6;lid", "mm")
    assert [(curve.name, len(curve.points)) for curve in curves] == [("sill", 2), ("lid", 3)]


def test_a_third_column_may_number_the_points() -> None:
    """Taken as outlines, each would have one point."""
    assert points("0,0,P1\n1,0,P2\n2,5,P3") == [(0, 0), (1, 0), (2, 5)]


def test_repeated_points_are_one() -> None:
    assert points("0,0\n0,0\n1,0\n1,0\n1,0\n2,2") == [(0, 0), (1, 0), (2, 2)]


def test_out_and_back_is_no_closed_outline() -> None:
    (curve,) = read_points("0,0\n9,0\n0,0", "mm")
    assert not curve.closed
    assert len(curve.points) == 3


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("1,2\n3,4\n5,x", r"^line 3: y: “x” can't be read as a length"),
        ("1;2\n3", r"^line 2: “3” holds only one number\."),
        ("1;2\n3;", r"^line 2: “3;” holds only one number\."),
        ("x,y\n\n1,2\n\n3,4\n5,6", r"^line 3: the outline has only one point"),
        ("lid\n1,2\n1,2", r"^line 2: the outline “lid” has only one point"),
        ("1,5,2,5\n3,5,4,5", r"^line 1: “1,5,2,5” has 4 columns.*semicolon"),
        ("1,2\nfoo,bar\n3,4", r"^line 2: x: “foo” can't be read as a length"),
        ("0,0\n100001,0", r"^line 2: x is “100001”, farther than 100 m"),
        ("0,0\n1e999,0", r"^line 2: x is “1e999”, farther"),
        ("0,0\nnan,0", r"^line 2: x: “nan” can't be read"),
        ("0,0\n1/0,0", r"^line 2: x: “1/0” divides by zero"),
        ("", r"^the text holds no points\. Write x and y"),
        ("x,y\n# nothing\n", r"^the text holds no points\."),
    ],
)
def test_errors_name_the_line(text: str, sentence: str) -> None:
    with pytest.raises(OutlineError, match=sentence):
        read_points(text, "mm")


def test_too_many_points_are_refused() -> None:
    with pytest.raises(OutlineError, match="more than the 100000 points"):
        read_points("0,0\n1,1\n" * (MOST_POINTS // 2 + 1), "mm")


NUMBER = st.floats(-9e4, 9e4, allow_nan=False).map(lambda x: round(x, 4))
STYLE = st.sampled_from(
    [(",", "."), (", ", "."), (";", "."), (";", ","), ("\t", "."), ("\t", ","), (" ", "."), ("   ", ",")]
)


@given(
    st.lists(st.lists(st.tuples(NUMBER, NUMBER), min_size=2, max_size=6), min_size=1, max_size=3),
    STYLE,
    st.sampled_from(["\n", "\r\n"]),
    st.booleans(),
)
def test_what_is_written_is_read(
    outlines: list[list[tuple[float, float]]], style: tuple[str, str], ending: str, heading: bool
) -> None:
    """Any outlines, in any separator and decimal sign, come back to the last digit written."""
    for each in outlines:
        assume(all(a != b for a, b in pairwise(each)))
        assume(each[0] != each[-1])
    separator, decimal = style
    rows = [
        ending.join(separator.join(f"{v:.4f}".replace(".", decimal) for v in point) for point in each)
        for each in outlines
    ]
    text = (f"x{separator}y{ending}" if heading else "") + (2 * ending).join(rows)
    read = read_points(text, "mm")
    assert [list(curve.points) for curve in read] == outlines


@given(st.text(alphabet=st.sampled_from("0123456789.,;\t \n-+/\"'x#eE½″\u00a0\x00é"), max_size=60))
def test_any_text_gives_points_or_a_sentence(text: str) -> None:
    try:
        curves = read_points(text, "in")
    except HingewrightError as fault:
        assert str(fault)[-1] in ".”)"  # noqa: PT017  both ways out are right
        return
    assert all(abs(x) <= 1e5 for curve in curves for point in curve.points for x in point)
    assert all(len(curve.points) >= 2 for curve in curves)


def test_files_in_their_encodings(tmp_path: Path) -> None:
    path = tmp_path / "points.csv"
    for encoding in ("utf-8", "utf-8-sig", "utf-16", "cp1252"):
        path.write_bytes("Tür\r\n1,5;2\r\n3;4,5\r\n".encode(encoding))
        (curve,) = read_points_file(path, "mm")
        assert (curve.name, curve.points) == ("Tür", ((1.5, 2.0), (3.0, 4.5)))


def test_files_that_are_no_text(tmp_path: Path) -> None:
    path = tmp_path / "points.csv"
    path.write_bytes(bytes(range(256)))
    with pytest.raises(FileError, match=r"points\.csv: this is no text"):
        read_points_file(path, "mm")
    with pytest.raises(FileError, match="can't be read"):
        read_points_file(tmp_path / "nowhere.csv", "mm")
    with path.open("wb") as stream:
        stream.truncate(200_000_000)
    with pytest.raises(FileError, match="more than 10 MB"):
        read_points_file(path, "mm")
