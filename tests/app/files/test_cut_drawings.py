"""Cut files read back: DXF by the library that reads drawings, SVG by its text; layers, units, marks, nothing else."""

from __future__ import annotations

import io
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import combinations
from typing import TYPE_CHECKING, cast

import ezdxf
import numpy as np
import pytest
import shapely

from app.files.cut_dxf import cut_dxf
from app.files.cut_parts import mark_of
from app.files.cut_svg import MARGIN, cut_svg
from kinematics.contours import Contour, Eye, around, circle
from kinematics.cutting import Hole, Part

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.entities.lwpolyline import LWPolyline

EYES = [Eye(0j, 14.0), Eye(100 + 0j, 14.0), Eye(60 + 70j, 10.0)]
PART = Part(
    "plate",
    "rear arm",
    "rear arm",
    around(EYES, (-4.0, 6.0, 0.0)),
    tuple(Hole(name, eye.at, 11.7) for name, eye in zip("ABC", EYES, strict=True)),
    (circle(50 + 20j, 8.0),),
    ((10 + 3j, 30 + 3j),),
    4.0,
    1,
    7850.0,
)
SVG = "{http://www.w3.org/2000/svg}"


def read(data: bytes) -> Drawing:
    document = ezdxf.read(io.StringIO(data.decode("cp1252")))  # type: ignore[attr-defined]
    auditor = document.audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
    return document


def test_the_drawing_holds_contours_and_marks_and_nothing_else() -> None:
    document = read(cut_dxf(PART))
    assert [(each.dxftype(), each.dxf.layer) for each in document.modelspace()] == [
        ("LWPOLYLINE", "CUT"),
        *[("CIRCLE", "CUT")] * 4,
        ("LINE", "MARK"),
        ("TEXT", "MARK"),
    ]
    assert {layer.dxf.name for layer in document.layers} >= {"0", "CUT", "MARK"}
    assert b"Defpoints" not in cut_dxf(PART)  # readers bring it along, the file doesn't
    assert document.dxfversion == "AC1015"


@pytest.mark.parametrize(("units", "code", "measurement", "per"), [("mm", 4, 1, 1.0), ("in", 1, 0, 25.4)])
def test_units_are_those_of_the_coordinates(units: str, code: int, measurement: int, per: float) -> None:
    document = read(cut_dxf(PART, units))
    assert (document.header["$INSUNITS"], document.header["$MEASUREMENT"]) == (code, measurement)
    circles = document.modelspace().query("CIRCLE")
    for one, other in combinations(zip(PART.holes, circles, strict=False), 2):
        apart = one[1].dxf.center.distance(other[1].dxf.center) * per
        assert apart == pytest.approx(abs(other[0].at - one[0].at), abs=1e-9)
    assert [each.dxf.radius * per for each in circles] == pytest.approx([5.85, 5.85, 5.85, 8.0])


def test_the_edge_is_a_closed_polyline_of_the_same_bulges() -> None:
    (line,) = cast("tuple[LWPolyline]", tuple(read(cut_dxf(PART)).modelspace().query("LWPOLYLINE")))
    rows = line.get_points("xyb")
    assert line.closed
    assert [complex(x, y) for x, y, _ in rows] == pytest.approx(PART.outer.corners.tolist(), abs=1e-12)
    assert [bulge for *_, bulge in rows] == pytest.approx(PART.outer.bulges.tolist(), abs=1e-14)
    assert abs(complex(*rows[0][:2]) - complex(*rows[-1][:2])) > 1.0


def test_the_other_hand_has_its_own_bulges() -> None:
    """Mirrored corners with the old signs would dent the ends: the area tells."""
    other = replace(PART, hand="left").mirrored()
    (line,) = cast("tuple[LWPolyline]", tuple(read(cut_dxf(other)).modelspace().query("LWPOLYLINE")))
    rows = np.array(line.get_points("xyb"))
    again = Contour(rows[:, 0] + 1j * rows[:, 1], rows[:, 2])
    assert again.area == pytest.approx(PART.outer.area)
    assert again.length == pytest.approx(PART.outer.length)
    assert sorted(again.corners.real) == pytest.approx(sorted(-PART.outer.corners.real))
    (text,) = read(cut_dxf(other)).modelspace().query("TEXT")
    assert text.dxf.text == "rear arm right"


def test_a_round_plate_is_a_circle() -> None:
    document = read(cut_dxf(Part("mount", "m", "m", circle(3 + 4j, 20.0))))
    (edge,) = document.modelspace().query("CIRCLE")
    assert (edge.dxf.center.x, edge.dxf.center.y, edge.dxf.radius) == pytest.approx((3.0, 4.0, 20.0))


@pytest.mark.parametrize("name", ["рычаг", "arm %%c ^J \\P", "😀", "<&>", "x" * 80, "a\u2028b\uffff"])
def test_any_name_can_be_a_mark(name: str) -> None:
    part = replace(PART, mark=name)
    (text,) = read(cut_dxf(part)).modelspace().query("TEXT")
    assert text.dxf.text
    root = ET.fromstring(cut_svg(part))
    assert root.findtext(f".//{SVG}text") == mark_of(part).text


@pytest.mark.parametrize("name", ["arm", "a name of thirty letters and more"])
@pytest.mark.parametrize(
    "part",
    [
        replace(PART, cutouts=(circle(50 + 0j, 9.0),)),
        replace(PART, outer=around(EYES[:2], (-6.0, -6.0)), holes=PART.holes[:2], cutouts=()),
        Part("mount", "m", "m", circle(0j, 60.0), cutouts=(circle(0j, 20.0),)),
        Part("mount", "m", "m", circle(0j, 60.0), bends=((-50 + 0j, 50 + 0j),)),
    ],
    ids=["cutout in its way", "waist", "ring", "line"],
)
def test_the_mark_keeps_clear_of_edge_and_holes(part: Part, name: str) -> None:
    mark = mark_of(replace(part, mark=name))
    half = complex(0.375 * mark.height * len(name), mark.height / 2)
    words = shapely.box(
        *[(mark.at + way * half).real if k % 2 == 0 else (mark.at + way * half).imag for way in (-1, 1) for k in (0, 1)]
    )
    metal = shapely.Polygon(part.outer.polyline(), [each.polyline() for each in part.inner])
    assert metal.contains(words)
    assert not any(words.intersects(shapely.LineString([(a.real, a.imag), (b.real, b.imag)])) for a, b in part.bends)
    assert shapely.distance(words, metal.boundary) > 0.9
    assert 1.5 < mark.height <= 6.0


def test_a_mark_that_fits_nowhere_is_small_and_between_the_pins() -> None:
    mark = mark_of(
        Part("mount", "m", "x" * 80, circle(50 + 9j, 20.0), (Hole("A", 40 + 0j, 5.0), Hole("B", 62 + 0j, 5.0)))
    )
    assert (mark.height, mark.at) == (1.5, 51 + 0j)


def numbers(text: str) -> list[float]:
    return [float(each) for each in re.findall(r"-?\d+(?:\.\d+)?", text)]


@pytest.mark.parametrize(("units", "per"), [("mm", 1.0), ("in", 25.4)])
def test_svg_is_full_size_with_arcs_as_arcs(units: str, per: float) -> None:
    root = ET.fromstring(cut_svg(PART, units))
    left, low, right, high = PART.box()
    wide, tall = right - left + 2 * MARGIN, high - low + 2 * MARGIN
    assert root.get("width", "").endswith(units)
    assert numbers(root.get("width", "")) == pytest.approx([wide / per])
    assert numbers(root.get("viewBox", "")) == pytest.approx([0, 0, wide / per, tall / per])
    cut, marked = root.findall(f"{SVG}g")
    assert (cut.get("id"), marked.get("id")) == ("CUT", "MARK")
    assert [each.tag for each in cut] == [f"{SVG}path", *[f"{SVG}circle"] * 4]
    assert [each.tag for each in marked] == [f"{SVG}line", f"{SVG}text"]
    radii = {round(numbers(arc)[0] * per, 6) for arc in re.findall(r"A[^A-Z]+", cut[0].get("d", ""))}
    assert {14.0, 10.0} < radii
    centre = cut[2]
    assert float(centre.get("cx", "")) * per - MARGIN + left == pytest.approx(100.0)
    assert high + MARGIN - float(centre.get("cy", "")) * per == pytest.approx(0.0, abs=1e-6)


def test_the_same_part_is_the_same_file_whenever_it_is_written() -> None:
    """So files that differ are parts that differ; the reader's own setting stays as it was."""
    first = cut_dxf(PART)
    assert cut_dxf(PART) == first
    assert cut_dxf(PART, "in") != first
    assert not ezdxf.options.write_fixed_meta_data_for_testing  # type: ignore[attr-defined]
