"""Outlines in, from SVG: every command and shape, units, transforms, copies; bad files as sentences."""

from __future__ import annotations

import math
from contextlib import suppress
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from app.files import svg_file
from app.files.errors import FileError
from app.files.outline_import import Curve, Drawing, read_svg, scaled
from app.files.svg_numbers import affine_of
from app.files.svg_path import read_path
from kinematics.errors import HingewrightError, OutlineError

if TYPE_CHECKING:
    from pathlib import Path

MM = 'width="200mm" height="100mm" viewBox="0 0 200 100"'


def read(tmp_path: Path, inner: str, head: str = MM, before: str = "") -> Drawing:
    path = tmp_path / "drawing.svg"
    space = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    path.write_text(f"{before}<svg {space} {head}>{inner}</svg>", "utf-8")
    return read_svg(path)


def only(drawing: Drawing) -> Curve:
    assert len(drawing.curves) == 1, [(c.kind, c.points) for c in drawing.curves]
    return drawing.curves[0]


def points(drawing: Drawing) -> list[tuple[float, float]]:
    return [(round(x, 9) + 0.0, round(y, 9) + 0.0) for x, y in only(drawing).points]


# ------------------------------------------------------------------------------------------------------- units, y up
@pytest.mark.parametrize(
    ("head", "unit", "across"),
    [
        (MM, "mm", 100.0),
        ('width="20cm" height="10cm" viewBox="0 0 200 100"', "cm", 100.0),
        ('width="10in" height="5in" viewBox="0 0 200 100"', "in", 127.0),
        ('width="200pt" height="100pt" viewBox="0 0 200 100"', "mm", 100 * 25.4 / 72),
        ('width="200mm" height="100mm"', "mm", 100 * 25.4 / 96),
        ('width="200" height="100"', "px", 100 * 25.4 / 96),
        ('width="200px" height="100px" viewBox="0 0 400 200"', "px", 50 * 25.4 / 96),
        ('viewBox="0 0 400 200"', "px", 100 * 25.4 / 96),
        ('width="200mm" viewBox="0 0 200 100"', "mm", 100.0),
        ('height="50mm" viewBox="0 0 200 100"', "mm", 50.0),
        ('width="100%" height="100%" viewBox="0 0 200 100"', "px", 100 * 25.4 / 96),
    ],
)
def test_units_are_those_of_css(tmp_path: Path, head: str, unit: str, across: float) -> None:
    """1 in = 96 px = 72 pt = 25.4 mm; a bare number is a pixel. y goes up, so what stands lower is less."""
    drawing = read(tmp_path, '<path d="M10 10h100v20"/>', head)
    assert drawing.units == unit
    (x, y), (u, v), (_, w) = only(drawing).points
    assert math.hypot(u - x, v - y) == pytest.approx(across, rel=1e-12)
    assert w - v == pytest.approx(-across / 5, rel=1e-12)
    assert any("names no unit" in remark for remark in drawing.remarks) == (unit == "px")


def test_pixels_may_have_meant_millimetres(tmp_path: Path) -> None:
    drawing = read(tmp_path, '<circle cx="50" cy="50" r="40"/>', 'width="200" height="100"')
    circle = only(scaled(drawing, "mm"))
    assert circle.closed
    assert np.abs(np.abs(np.array([complex(*p) for p in circle.points]) - (50 - 50j)) - 40).max() < 1e-9


@pytest.mark.parametrize(
    ("fit", "first", "second"),
    [
        ("", (50, -0), (150, -100)),
        ("none", (0, 0), (200, -100)),
        ("xMinYMin", (0, 0), (100, -100)),
        ("xMaxYMid meet", (100, 0), (200, -100)),
        ("xMidYMid slice", (0, 50), (200, -150)),
    ],
)
def test_a_box_of_other_proportions_is_fitted(
    tmp_path: Path, fit: str, first: tuple[float, float], second: tuple[float, float]
) -> None:
    head = f'width="200mm" height="100mm" viewBox="10 10 50 50" preserveAspectRatio="{fit}"'
    assert points(read(tmp_path, '<line x1="10" y1="10" x2="60" y2="60"/>', head)) == [first, second]


# ---------------------------------------------------------------------------------------------------------- path data
@pytest.mark.parametrize(
    ("d", "wanted"),
    [
        ("M1 2L3 4", [(1, 2), (3, 4)]),
        ("m1 2 3 4 5 6", [(1, 2), (4, 6), (9, 12)]),
        ("M1,2,3,4H7v1V0h-1z", [(1, 2), (3, 4), (7, 4), (7, 5), (7, 0), (6, 0)]),
        ("M.5.5.25-1e1", [(0.5, 0.5), (0.25, -10)]),
        ("M0 0L1 1z l0 5", None),
    ],
)
def test_straight_commands(tmp_path: Path, d: str, wanted: list[tuple[float, float]] | None) -> None:
    drawing = read(tmp_path, f'<path d="{d}"/>')
    if wanted is None:  # after z the pen stands where the subpath began
        assert np.allclose(drawing.curves[-1].points, [(0.0, 0.0), (0.0, -5.0)])
        return
    assert points(drawing) == [(x, 0.0 - y) for x, y in wanted]
    assert only(drawing).closed == d.endswith("z")


@pytest.mark.parametrize(
    ("short", "long"),
    [
        ("M0 0C0 10 10 10 10 0S20-10 20 0", "M0 0C0 10 10 10 10 0C10-10 20-10 20 0"),
        ("M0 0S10 10 10 0", "M0 0C0 0 10 10 10 0"),
        ("M0 0Q5 10 10 0T20 0", "M0 0Q5 10 10 0Q15-10 20 0"),
        ("M0 0Q5 10 10 0t10 0 10 0", "M0 0Q5 10 10 0Q15-10 20 0Q25 10 30 0"),
        ("M0 0L5 5T10 0", "M0 0L5 5Q5 5 10 0"),
        ("M3 4c0 10 10 10 10 0s10-10 10 0", "M3 4C3 14 13 14 13 4C13-6 23-6 23 4"),
        ("M3 4q5 10 10 0", "M3 4Q8 14 13 4"),
        ("M3 4a5 5 0 1 0 10 0", "M3 4A5 5 0 1 0 13 4"),
        ("M3 4a5 5 0 10 10 0", "M3 4A5 5 0 1 0 13 4"),
        ("M3 4a5 5 0 0110 0 5 5 0 0110 0", "M3 4A5 5 0 0 1 13 4A5 5 0 0 1 23 4"),
        ("M3 4a0 5 0 0 1 10 0", "M3 4L13 4"),
    ],
)
def test_short_forms_mean_the_long_ones(short: str, long: str) -> None:
    assert read_path(short, 99) == read_path(long, 99)


@pytest.mark.parametrize(
    ("flags", "centre", "span"), [("0 1", 4 + 3j, 1), ("1 0", 4 + 3j, -1), ("0 0", 4 - 3j, -1), ("1 1", 4 - 3j, 1)]
)
def test_an_arc_takes_the_one_of_four_ways_that_its_flags_say(flags: str, centre: complex, span: int) -> None:
    """From (0, 0) to (8, 0) with radius 5, in SVG's frame (y down): two circles, two ways round each."""
    (subpath,), _ = read_path(f"M0 0A5 5 0 {flags} 8 0", 9)
    (arc,) = subpath.pieces
    assert arc.centre == pytest.approx(centre)  # type: ignore[union-attr]
    assert math.copysign(1, arc.span) == span  # type: ignore[union-attr]
    assert (abs(arc.span) > math.pi) == flags.startswith("1")  # type: ignore[union-attr]


def test_radii_too_short_to_reach_are_stretched(tmp_path: Path) -> None:
    """A half circle over the chord of 40, though radius 1 was asked; it bulges up, that is to y = +20."""
    curve = only(read(tmp_path, '<path d="M0 0A1 1 0 0 1 40 0"/>'))
    assert max(y for _, y in curve.points) == pytest.approx(20.0, abs=0.05)


@pytest.mark.parametrize("d", ["M0 0L10 0L5", "M0 0L10 0 Q1 1", "M0 0L10 0X5 5", "M0 0 10 0A5 5 0 2 0 1 1"])
def test_what_stands_before_a_fault_is_good(tmp_path: Path, d: str) -> None:
    drawing = read(tmp_path, f'<path d="{d}"/>')
    assert points(drawing) == [(0, 0), (10, 0)]
    assert any("path, from a place on" in remark for remark in drawing.remarks)


# -------------------------------------------------------------------------------------------------- shapes, transforms
@pytest.mark.parametrize(
    ("shape", "area", "length"),
    [
        ('<rect x="5" y="5" width="40" height="20"/>', 800.0, 120.0),
        ('<rect width="40" height="20" rx="5"/>', 800 - (4 - math.pi) * 25, 80 + 10 * math.pi),
        ('<rect width="20%" height="20" rx="99" ry="10"/>', math.pi * 200, None),
        ('<circle cx="1in" cy="2" r="10"/>', math.pi * 100, 20 * math.pi),
        ('<ellipse cx="1" cy="2" rx="20" ry="10"/>', math.pi * 200, None),
        ('<polygon points="0,0 10,0 10,10"/>', 50.0, 20 + 10 * math.sqrt(2)),
        ('<path d="M0 0H10V10Z"/>', 50.0, 20 + 10 * math.sqrt(2)),
    ],
)
def test_closed_shapes_have_their_area(tmp_path: Path, shape: str, area: float, length: float | None) -> None:
    curve = only(read(tmp_path, shape))
    assert curve.closed
    assert shapely.Polygon(curve.points).area == pytest.approx(area, rel=0.008)  # sagitta 0.05 of r = 10
    if length is not None:
        assert curve.length == pytest.approx(length, rel=0.003)


@pytest.mark.parametrize(
    ("transform", "wanted"),
    [
        ("translate(10)", 11 + 2j),
        ("translate(10, 5) scale(2)", 12 + 9j),
        ("scale(2 -3)", 2 - 6j),
        ("rotate(90)", -2 + 1j),
        ("rotate(90 10 0)", 8 - 9j),
        ("skewX(45)", 3 + 2j),
        ("skewY(45)", 1 + 3j),
        ("matrix(1 2 3 4 5 6)", 12 + 16j),
        ("rotate(90deg) translate(1px,1px)", -3 + 2j),
        ("", 1 + 2j),
    ],
)
def test_transforms(transform: str, wanted: complex) -> None:
    assert affine_of(transform).place(1 + 2j) == pytest.approx(wanted, abs=1e-12)


@pytest.mark.parametrize("transform", ["translate()", "rotate(1,2)", "spin(3)", "scale(1) nonsense", "matrix(1)"])
def test_a_transform_that_cannot_be_read_leaves_its_thing_out(tmp_path: Path, transform: str) -> None:
    drawing = read(tmp_path, f'<path d="M0 0H5"/><g transform="{transform}"><path d="M0 9H5"/></g>')
    assert points(drawing) == [(0, 0), (5, 0)]
    assert any("1 × g" in remark for remark in drawing.remarks)


def test_groups_nest_copies_are_placed_and_titles_are_layers(tmp_path: Path) -> None:
    inner = """
      <defs><path id="edge" d="M0 0H10"/><symbol id="sign" viewBox="0 0 10 10"><path d="M0 0V10"/></symbol></defs>
      <g transform="translate(10 0)"><title>panel</title>
        <g id="inner" transform="scale(2)"><use xlink:href="#edge" x="1" y="5"/></g></g>
      <use href="#sign" x="100" y="10" width="20" height="20"/>"""
    drawing = read(tmp_path, inner)
    first, second = drawing.curves
    assert first.layer == "panel"
    assert np.allclose(first.points, [(12, -10), (32, -10)])
    assert second.layer == "0"
    assert np.allclose(second.points, [(100, -10), (100, -30)])


def test_what_cannot_be_used_is_told(tmp_path: Path) -> None:
    inner = """<path d="M0 0H10"/><text>words</text><image href="https://example.org/a.png"/><script>x()</script>
      <g display="none"><path d="M0 5H10"/></g><path style="fill:red; visibility:hidden" d="M0 5H10"/>
      <use href="other.svg#a"/><use href="#nowhere"/><circle r="-3"/><filter id="f"/>
      <path d="M0 0H1e300"/>"""
    drawing = read(tmp_path, inner)
    told = " ".join(drawing.remarks)
    assert points(drawing) == [(0, 0), (10, 0)]
    assert "1 text, 1 picture, 1 script, which was not run" in told
    assert "hidden in the drawing: 2 parts" in told
    assert "Not fetched: 1 copy of a thing in another file" in told
    assert "1 × use, 1 × circle, 1 × path" in told


# ------------------------------------------------------------------------------------------------------------ bad files
BOMB = """<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>"""
FETCH = """<!DOCTYPE svg [<!ENTITY secret SYSTEM "file:///etc/hostname">]>"""
DOCTYPE = """<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">"""


@pytest.mark.parametrize("before", [BOMB, FETCH])
def test_declared_entities_are_refused(tmp_path: Path, before: str) -> None:
    with pytest.raises(FileError, match="declares entities"):
        read(tmp_path, '<path d="M0 0H5"/>', before=before)


def test_a_plain_document_type_is_passed_over(tmp_path: Path) -> None:
    assert points(read(tmp_path, '<path d="M0 0H5"/>', before=DOCTYPE)) == [(0, 0), (5, 0)]


@pytest.mark.parametrize(
    ("inner", "told"),
    [
        ("<g>" * 200 + "</g>" * 200, "nested more than 100 deep"),
        ("<g/>" * 20_001, "more than 20000 elements"),
        ('<polyline points="' + "1 2 3 4 5 6 7 8 " * 125_000 + '"/>', "more than 200000 points"),
        ('<path d="M0 0' + "l1 1-1 1" * 125_000 + '"/>', "more than 200000 points"),
        ('<svg width="1em"><path d="M0 0H5"/></svg>', "no line or curve"),
        ("<path d='M0 0", "no SVG, or a damaged one"),
        ("", "no line or curve that can be used"),
        ('<path d="garbage"/>', "no line or curve that can be used"),
        (
            "".join(
                f'<g id="g{k}">' + (f'<use href="#g{k + 1}"/>' * 9 if k < 9 else '<path d="M0 0H1"/>') + "</g>"
                for k in range(10)
            ),
            "with its copies placed, the drawing holds more than 20000 elements",
        ),
    ],
)
def test_too_much_and_damaged_are_told_in_sentences(tmp_path: Path, inner: str, told: str) -> None:
    with pytest.raises((FileError, OutlineError), match=told):
        read(tmp_path, inner)


def test_a_copy_of_itself_ends(tmp_path: Path) -> None:
    drawing = read(tmp_path, '<g id="a"><path d="M0 0H5"/><use href="#a"/></g>')
    assert (0, 0) in points(drawing)
    assert any("use" in remark for remark in drawing.remarks)


@pytest.mark.parametrize("content", [b"", b"\x1f\x8b\x08", b"GIF89a", b"<html/>", b"\xff\xfe<\x00s", b"<svg"])
def test_what_is_no_svg_is_refused(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "a.svg").write_bytes(content)
    with pytest.raises(FileError, match=r"^a\.svg: "):
        read_svg(tmp_path / "a.svg")
    with pytest.raises(FileError, match="no such file"):
        read_svg(tmp_path / "b.svg")


def test_a_sheet_without_a_size_that_can_be_read_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="the size of its sheet can't be read"):
        read(tmp_path, '<path d="M0 0H5"/>', 'width="20em" viewBox="0 0 1 1"')


def test_a_file_too_large_is_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(svg_file, "MOST_BYTES", 10)
    with pytest.raises(FileError, match="more than the"):
        read(tmp_path, '<path d="M0 0H5"/>')


def test_cut_off_anywhere_it_is_read_or_refused(tmp_path: Path) -> None:
    whole = (
        f'<svg xmlns="http://www.w3.org/2000/svg" {MM}><g transform="rotate(3)"><rect width="9" height="9" rx="2"/>'
        '<path d="M0 0c1-1 2-2.5 3e0.5a1 2 3 01 4 5z"/></g></svg>'
    )
    for cut in range(0, len(whole), 3):
        for text in (whole[:cut], whole[:cut] + "0" + whole[cut + 1 :], whole[:cut] + whole[cut + 2 :]):
            (tmp_path / "a.svg").write_text(text)
            with suppress(HingewrightError):
                read_svg(tmp_path / "a.svg")
