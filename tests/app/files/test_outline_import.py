"""Outlines in, from DXF: every kind of curve, wherever it hides, within 0.05 mm; bad files as sentences."""

from __future__ import annotations

import math
import random
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
import shapely

from app.files import dxf_file, outline_import
from app.files.errors import FileError
from app.files.outline_import import Curve, Drawing, read_dxf, scaled
from kinematics.errors import HingewrightError, OutlineError
from tests.app.files.dxf_text import arc, block, circle, dxf, entity, insert, line, lwpolyline, polyline, spline

ROUNDING = 1e-9
BEHIND = ((210, 0), (220, 0), (230, -1))  # extrusion: the plane seen from behind


def read(tmp_path: Path, text: str) -> Drawing:
    path = tmp_path / "drawing.dxf"
    path.write_text(text, "cp1252")  # the code page of drawings of this age that name none
    return read_dxf(path)


def only(drawing: Drawing) -> Curve:
    assert len(drawing.curves) == 1, [(c.kind, c.points) for c in drawing.curves]
    return drawing.curves[0]


def array(curve: Curve) -> np.ndarray:
    """(n,) complex."""
    return np.array([complex(*point) for point in curve.points])


def chord_middles(curve: Curve) -> np.ndarray:
    z = array(curve)
    return (z + np.roll(z, -1)) / 2 if curve.closed else (z[:-1] + z[1:]) / 2


def close(points: object, wanted: list[tuple[float, float]], within: float = ROUNDING) -> bool:
    return np.shape(points) == np.shape(wanted) and bool(np.allclose(points, wanted, rtol=0, atol=within))


# ------------------------------------------------------------------------------------------------------ curves, exactly


@pytest.mark.parametrize("r", [0.5, 8.0, 123.4, 5000.0, 90_000.0])
def test_a_circle_keeps_within_the_sagitta(tmp_path: Path, r: float) -> None:
    curve = only(read(tmp_path, dxf(circle(3, -2, r))))
    assert curve.closed
    assert curve.kind == "circle"
    assert np.abs(np.abs(array(curve) - (3 - 2j)) - r).max() < ROUNDING * r
    sagitta = r - np.abs(chord_middles(curve) - (3 - 2j)).min()
    assert 0.05 / 8 < sagitta <= 0.05 or len(curve.points) == 12  # not needlessly fine either; a small hole has 12


def test_tolerance_is_in_millimetres_whatever_the_drawing_is_in(tmp_path: Path) -> None:
    """Flattened before scaling, this one would be off by up to 25.4 × 0.05 = 1.27 mm."""
    curve = only(read(tmp_path, dxf(circle(0, 0, 40), units=1)))
    assert np.abs(np.abs(array(curve)) - 1016.0).max() < 1e-9
    assert 1016.0 - np.abs(chord_middles(curve)).min() <= 0.05


def test_a_drawing_without_unit_waits_for_one(tmp_path: Path) -> None:
    drawing = read(tmp_path, dxf(circle(0, 0, 1.5), units=None, version="AC1009"))
    assert drawing.units is None
    assert np.abs(np.abs(array(only(drawing))) - 1.5).max() < ROUNDING
    metres = scaled(drawing, "m")
    assert metres.units == "m"
    assert np.abs(np.abs(array(only(metres))) - 1500.0).max() < 1e-9
    assert 1500.0 - np.abs(chord_middles(only(metres))).min() <= 0.05
    assert only(scaled(metres, "in")).length == pytest.approx(2 * math.pi * 38.1, abs=0.2)
    with pytest.raises(OutlineError, match="furlong"):
        scaled(drawing, "furlong")


def test_arc_runs_anticlockwise_across_zero(tmp_path: Path) -> None:
    curve = only(read(tmp_path, dxf(arc(10, 20, 5, 300, 30))))
    z = array(curve) - (10 + 20j)
    assert not curve.closed
    assert close([curve.points[0], curve.points[-1]], [(12.5, 15.66987298107781), (14.330127018922193, 22.5)])
    assert np.abs(np.abs(z) - 5).max() < ROUNDING
    assert np.all(np.diff(np.unwrap(np.angle(z))) > 0)
    assert curve.length == pytest.approx(5 * math.pi / 2, abs=0.05)


def test_an_arc_seen_from_behind_is_mirrored(tmp_path: Path) -> None:
    """Extrusion (0, 0, −1): centre and angles are in a plane whose x runs to the left."""
    curve = only(read(tmp_path, dxf(arc(10, 20, 5, 0, 90, *BEHIND))))
    assert close([curve.points[0], curve.points[-1]], [(-15, 20), (-10, 25)])
    assert np.abs(np.abs(array(curve) - (-10 + 20j)) - 5).max() < ROUNDING


@pytest.mark.parametrize(("bulge", "top"), [(1.0, -5.0), (-1.0, 5.0)])
def test_bulge_bends_to_the_right_side(tmp_path: Path, bulge: float, top: float) -> None:
    """Anticlockwise from (0, 0) to (10, 0) passes below; both ends are kept to the last digit."""
    curve = only(read(tmp_path, dxf(lwpolyline([(0, 0, bulge), (10, 0)]))))
    y = array(curve).imag
    assert y[np.abs(y).argmax()] == pytest.approx(top, abs=1e-9)
    assert curve.points[0] == (0, 0)
    assert curve.points[-1] == (10, 0)


def test_old_polylines_and_new_ones_are_the_same(tmp_path: Path) -> None:
    """Both with straight and bent stretches; closing runs over the last vertex's own bulge."""
    vertices = [(0.0, 0.0, 0.0), (40.0, 0.0, 0.41421356237309503), (50.0, 10.0, 0.0), (50.0, 30.0, -2.414213562373095)]
    new = only(read(tmp_path, dxf(lwpolyline(vertices, closed=True))))
    old = only(read(tmp_path, dxf(polyline(list(vertices), flags=1), version="AC1009")))
    assert close(new.points, list(old.points))
    assert new.closed
    assert old.closed
    corner = np.array([z for z in array(new) if 40 <= z.real <= 50 and 0 <= z.imag <= 10])
    assert len(corner) > 5
    assert np.abs(np.abs(corner - (40 + 10j)) - 10).max() < ROUNDING
    # Back from (50, 30) to (0, 0), 270° clockwise: the centre lies half a chord to the left, (40, −10), r = √1700.
    ring = array(new)[array(new).imag < 0]
    assert len(ring) > 20
    assert np.abs(np.abs(ring - (40 - 10j)) - 41.23105625617661).max() < ROUNDING


def test_the_frame_of_a_fitted_polyline_is_not_the_curve(tmp_path: Path) -> None:
    """Flag 16: a vertex of the control frame; flag 8: one of the fitted curve."""
    text = dxf(polyline([(0, 90), (0, 0), (5, 5), (90, 90), (10, 0)], 4, (16, 8, 8, 16, 8)), version="AC1009")
    assert close(only(read(tmp_path, text)).points, [(0, 0), (5, 5), (10, 0)])


def test_ellipse_and_its_part(tmp_path: Path) -> None:
    tags = [(100, "AcDbEllipse"), (10, 7), (20, 3), (11, 0), (21, 50), (40, 0.4), (41, 0), (42, 2 * math.pi)]
    whole = only(read(tmp_path, dxf([(0, "ELLIPSE"), (100, "AcDbEntity"), (8, "0"), *tags])))
    z = array(whole) - (7 + 3j)
    assert whole.closed
    assert np.abs((z.imag / 50) ** 2 + (z.real / 20) ** 2 - 1).max() < 1e-12
    assert shapely.Polygon(whole.points).area == pytest.approx(math.pi * 1000, abs=0.05 * 230)
    tags[-1] = (42, math.pi / 2)
    part = only(read(tmp_path, dxf([(0, "ELLIPSE"), (100, "AcDbEntity"), (8, "0"), *tags])))
    assert close([part.points[0], part.points[-1]], [(7, 53), (-13, 3)])  # from the end of the long axis anticlockwise


def test_a_scaled_circle_is_an_ellipse(tmp_path: Path) -> None:
    text = dxf(insert("B", 100, 0, (41, 3), (42, -2), (50, 90)), blocks=(block("B", circle(0, 0, 10)),))
    z = array(only(read(tmp_path, text))) - 100
    assert np.abs((z.imag / 30) ** 2 + (z.real / 20) ** 2 - 1).max() < 1e-12
    middles = chord_middles(only(read(tmp_path, text))) - 100
    assert 30 * (1 - np.hypot(middles.imag / 30, middles.real / 20).min()) <= 0.05


BEZIER = [(0.0, 0.0), (0.0, 400.0), (300.0, -350.0), (300.0, 50.0)]


def bernstein(control: list[tuple[float, float]], count: int = 4000) -> np.ndarray:
    """A cubic Bézier curve by its formula: (n,) complex."""
    t = np.linspace(0, 1, count)
    p = [complex(*each) for each in control]
    return np.asarray((1 - t) ** 3 * p[0] + 3 * t * (1 - t) ** 2 * p[1] + 3 * t**2 * (1 - t) * p[2] + t**3 * p[3])


def test_spline_keeps_within_tolerance(tmp_path: Path) -> None:
    curve = only(read(tmp_path, dxf(spline(BEZIER, [0, 0, 0, 0, 1, 1, 1, 1]))))
    true = bernstein(BEZIER)
    off = shapely.distance(shapely.LineString(curve.points), shapely.points(true.real, true.imag))
    assert off.max() <= 0.05
    assert close([curve.points[0], curve.points[-1]], [(0, 0), (300, 50)])


def test_spline_of_two_spans_with_unclamped_knots(tmp_path: Path) -> None:
    """Uniform knots 0…8, five control points: the curve runs over [3, 5] and starts at (P0 + 4·P1 + P2)/6."""
    control = [(0.0, 0.0), (60.0, 120.0), (120.0, 0.0), (180.0, 120.0), (240.0, 0.0)]
    curve = only(read(tmp_path, dxf(spline(control, [0, 1, 2, 3, 4, 5, 6, 7, 8]))))
    assert close([curve.points[0], curve.points[-1]], [(60, 80), (180, 80)])
    assert min(abs(z - (120 + 40j)) for z in array(curve)) < ROUNDING  # (P1 + 4·P2 + P3)/6 at the middle knot


def test_rational_spline_is_a_true_quarter_circle(tmp_path: Path) -> None:
    """Weights 1, √½, 1; without them the same control points make a parabola, 3 mm inside at 45°."""
    text = dxf(spline([(100, 0), (100, 100), (0, 100)], [0, 0, 0, 1, 1, 1], 2, (1.0, math.sqrt(0.5), 1.0)))
    curve = only(read(tmp_path, text))
    assert np.abs(np.abs(array(curve)) - 100).max() < 1e-9
    assert 100 - np.abs(chord_middles(curve)).min() <= 0.05


def test_spline_given_by_points_on_it(tmp_path: Path) -> None:
    tags = [(100, "AcDbSpline"), (70, 8), (71, 3), (72, 0), (73, 0), (74, 3)]
    tags += [tag for x, y in ((0, 0), (50, 30), (100, 0)) for tag in ((11, x), (21, y), (31, 0))]
    curve = only(read(tmp_path, dxf([(0, "SPLINE"), (100, "AcDbEntity"), (8, "0"), *tags])))
    way = shapely.LineString(curve.points)
    assert max(way.distance(shapely.Point(*p)) for p in ((0, 0), (50, 30), (100, 0))) <= 0.05
    assert len(curve.points) > 5


# --------------------------------------------------------------------------------------------------------------- blocks


def test_nested_blocks_turned_scaled_and_mirrored(tmp_path: Path) -> None:
    """(1, 0) in "inner" → less base (1, 1), ×2, turned 90°: (2, 0) … worked out by hand below, step by step."""
    inner = block("inner", line(1, 0, 3, 0), base=(1.0, 1.0))
    # inner, less its base: (0, −1), (2, −1); ×2: (0, −2), (4, −2); turned by 90°: (2, 0), (2, 4);
    # at (10, 0): (12, 0), (12, 4).
    outer = block("outer", insert("inner", 10, 0, (41, 2), (42, 2), (50, 90)))
    # outer, x × −1: (−12, 0), (−12, 4); turned by 180°: (12, 0), (12, −4); at (0, 7): (12, 7), (12, 3).
    drawing = read(tmp_path, dxf(insert("outer", 0, 7, (41, -1), (50, 180)), blocks=(inner, outer)))
    assert close(only(drawing).points, [(12, 7), (12, 3)])


def test_an_arc_seen_from_behind_in_a_turned_block(tmp_path: Path) -> None:
    """Its own plane first: (−15, 20) to (−10, 25); then turned by 90°: (−20, −15), (−25, −10); then shifted."""
    text = dxf(insert("B", 100, 0, (50, 90)), blocks=(block("B", arc(10, 20, 5, 0, 90, *BEHIND)),))
    curve = only(read(tmp_path, text))
    assert close([curve.points[0], curve.points[-1]], [(80, -15), (75, -10)])


def test_a_bulge_in_a_mirrored_block_still_bulges_outwards(tmp_path: Path) -> None:
    """The plate's area tells: mirrored with the old sign, its round ends would be dents."""
    plate = lwpolyline([(0, -10), (100, -10, 1), (100, 10), (0, 10, 1)], closed=True)
    curve = only(read(tmp_path, dxf(insert("P", 0, 0, (41, -1)), blocks=(block("P", plate),))))
    assert shapely.Polygon(curve.points).area == pytest.approx(2000 + 100 * math.pi, abs=63 * 0.05)
    assert shapely.Polygon(curve.points).bounds == pytest.approx((-110, -10, 10, 10), abs=0.05)


def test_rows_and_columns_of_a_block(tmp_path: Path) -> None:
    rows = insert("B", 5, 5, (70, 3), (71, 2), (44, 100), (45, 50), (50, 90))
    drawing = read(tmp_path, dxf(rows, blocks=(block("B", circle(0, 0, 1)),)))
    centres = {(round(z.mean().real, 6), round(z.mean().imag, 6)) for z in map(array, drawing.curves)}
    # 3 columns along the turned x axis (up), 2 rows along the turned y axis (left).
    assert centres == {(5 - x, 5 + y) for x in (0, 50) for y in (0, 100, 200)}


def test_layers_are_kept_and_layer_0_in_a_block_is_that_of_the_insert(tmp_path: Path) -> None:
    made = block("B", circle(0, 0, 1), circle(9, 0, 1, layer="HOLES"))
    drawing = read(tmp_path, dxf(insert("B", 0, 0, layer="LID"), circle(0, 0, 5, layer="Hülle"), blocks=(made,)))
    assert [curve.layer for curve in drawing.curves] == ["LID", "HOLES", "Hülle"]
    assert [curve.name for curve in drawing.curves] == ["LID", "HOLES", "Hülle"]


def test_blocks_that_hold_themselves_are_left_out_and_named(tmp_path: Path) -> None:
    a = block("A", line(0, 0, 10, 0), insert("B", 0, 0))
    b = block("B", circle(0, 0, 3), insert("A", 5, 5))
    drawing = read(tmp_path, dxf(insert("A", 0, 0), blocks=(a, b)))
    assert sorted(curve.kind for curve in drawing.curves) == ["circle", "line"]
    assert any("'A' within itself" in remark for remark in drawing.remarks)


def test_a_block_that_multiplies_is_refused(tmp_path: Path) -> None:
    """Twenty levels, each placing the next one twice: a million circles from a small file."""
    blocks = [block(f"B{k}", insert(f"B{k + 1}", 0, 0), insert(f"B{k + 1}", 1, 0)) for k in range(20)]
    with pytest.raises(FileError, match="with its blocks placed"):
        read(tmp_path, dxf(insert("B0", 0, 0), blocks=(*blocks, block("B20", circle(0, 0, 1)))))
    grid = insert("B", 0, 0, (70, 30000), (71, 30000), (44, 1), (45, 1))
    with pytest.raises(FileError, match="900000000 times"):
        read(tmp_path, dxf(grid, blocks=(block("B", circle(0, 0, 1)),)))


def test_a_missing_block_is_named(tmp_path: Path) -> None:
    drawing = read(tmp_path, dxf(insert("NOWHERE", 0, 0), circle(0, 0, 1)))
    assert any("missing block 'NOWHERE'" in remark for remark in drawing.remarks)


# -------------------------------------------------------------------------------------------------------------- joining


def test_loose_lines_and_arcs_become_one_outline(tmp_path: Path) -> None:
    """A stadium in mixed order and direction: two lines, two half circles."""
    parts = [line(100, 0, 0, 0), arc(0, 50, 50, 90, 270), line(0, 100, 100, 100), arc(100, 50, 50, 270, 90)]
    curve = only(read(tmp_path, dxf(*parts)))
    assert curve.kind == "joined"
    assert curve.closed
    polygon = shapely.Polygon(curve.points)
    assert polygon.is_valid
    assert polygon.area == pytest.approx(100 * 100 + math.pi * 2500, abs=0.05 * 315)


def test_open_chain_keeps_its_order(tmp_path: Path) -> None:
    """The pieces lie in the file last one first, one of them backwards."""
    curve = only(read(tmp_path, dxf(line(20, 5, 30, 5), line(20, 5, 10, 0), line(0, 0, 10, 0))))
    wanted = [(0, 0), (10, 0), (20, 5), (30, 5)]
    assert close(curve.points, wanted) or close(curve.points, wanted[::-1])
    assert not curve.closed


@pytest.mark.parametrize(("gap", "curves"), [(0.04, 1), (0.06, 2)])
def test_ends_join_within_the_tolerance_only(tmp_path: Path, gap: float, curves: int) -> None:
    assert len(read(tmp_path, dxf(line(0, 0, 10, 0), line(10, gap, 20, 9))).curves) == curves


def test_where_three_lines_meet_nothing_is_guessed(tmp_path: Path) -> None:
    """The stem of a T stays apart, and what lies beyond it is joined all the same."""
    lines = [line(0, 0, 10, 0), line(10, 0, 20, 0), line(10, 0, 10, 9), line(10, 9, 15, 12)]
    drawing = read(tmp_path, dxf(*lines))
    assert sorted(len(curve.points) for curve in drawing.curves) == [2, 2, 3]


def test_layers_are_not_joined(tmp_path: Path) -> None:
    drawing = read(tmp_path, dxf(line(0, 0, 10, 0, layer="BODY"), line(10, 0, 20, 9, layer="LID")))
    assert [curve.kind for curve in drawing.curves] == ["line", "line"]


def test_an_outline_of_steps_finer_than_the_tolerance_stays_whole(tmp_path: Path) -> None:
    """300 steps of 0.03 mm; within 0.05 mm, all the ends would be one knot."""
    steps = [line(0.03 * k, 0, 0.03 * (k + 1), 0) for k in range(300)]
    curve = only(read(tmp_path, dxf(*steps)))
    assert curve.length == pytest.approx(9.0, abs=1e-9)


def test_a_ring_touched_by_another_line_is_still_closed(tmp_path: Path) -> None:
    ring = lwpolyline([(0, 0), (10, 0), (10, 10), (0, 0)])
    drawing = read(tmp_path, dxf(ring, line(0, 0, -9, -9)))
    assert [(curve.closed, len(curve.points)) for curve in drawing.curves] == [(True, 3), (False, 2)]


def test_lines_drawn_twice_are_left_out_and_told(tmp_path: Path) -> None:
    drawing = read(tmp_path, dxf(line(0, 0, 10, 0), line(10, 0, 0, 0), line(10, 0, 20, 5)))
    assert len(only(drawing).points) == 3
    assert any("1 curve, because each lies exactly on another one" in remark for remark in drawing.remarks)


def test_a_closed_polyline_of_two_points_is_a_line(tmp_path: Path) -> None:
    assert not only(read(tmp_path, dxf(lwpolyline([(0, 0), (10, 0)], closed=True)))).closed


# -------------------------------------------------------------------------------------------------------------- remarks


def test_what_is_no_line_is_counted_and_named(tmp_path: Path) -> None:
    others = [entity("TEXT", (10, 0), (20, 0), (40, 5), (1, "LID"))] * 3 + [entity("POINT", (10, 0), (20, 0))]
    hatch = [(0, "HATCH"), (100, "AcDbEntity"), (8, "0"), (100, "AcDbHatch"), (2, "SOLID"), (70, 1), (91, 0)]
    drawing = read(tmp_path, dxf(circle(0, 0, 1), *others, hatch))
    assert only(drawing).kind == "circle"
    remark = next(each for each in drawing.remarks if each.startswith("Left out"))
    for part in ("3 texts", "1 single point", "1 hatch"):
        assert part in remark


def test_depth_is_dropped_and_told(tmp_path: Path) -> None:
    flat = entity("LINE", (10, 0), (20, 0), (30, 7), (11, 10), (21, 0), (31, 7))
    steep = entity("LINE", (10, 0), (20, 50), (30, 0), (11, 30), (21, 50), (31, 40))
    drawing = read(tmp_path, dxf(flat, steep))
    assert [curve.length for curve in drawing.curves] == pytest.approx([10, 30], abs=1e-9)
    assert [remark for remark in drawing.remarks if "plane" in remark] == [
        "1 curve leaves the drawing's plane; taken as seen along z."
    ]


def test_a_leaning_circle_is_seen_as_an_ellipse(tmp_path: Path) -> None:
    """Its plane leans by 60° about the x axis: extrusion (0, −sin 60°, cos 60°), the height seen halves."""
    drawing = read(tmp_path, dxf(circle(0, 0, 10, (210, 0), (220, -math.sqrt(0.75)), (230, 0.5))))
    z = array(only(drawing))
    assert np.abs((z.real / 10) ** 2 + (z.imag / 5) ** 2 - 1).max() < 1e-9
    assert any("1 curve leaves the drawing's plane" in remark for remark in drawing.remarks)


def test_numbers_that_are_none_cost_their_entity_only(tmp_path: Path) -> None:
    bad = [line(0, 0, float("nan"), 1), circle(0, 0, float("inf")), circle(0, 0, -3), line(0, 0, 1e300, 0)]
    drawing = read(tmp_path, dxf(*bad, circle(0, 0, 5)))
    assert only(drawing).kind == "circle"
    assert any(remark.startswith("Damaged and left out: 2 × LINE, 2 × CIRCLE") for remark in drawing.remarks)


def test_what_lies_too_far_away_is_told(tmp_path: Path) -> None:
    """100 m is as far as a project reaches; the same drawing in inches has both beyond it."""
    drawing = read(tmp_path, dxf(line(0, 0, 9000, 0), line(0, 0, 0, 100_001)))
    assert only(drawing).length == 9000
    assert any("more than 100 m from" in remark for remark in drawing.remarks)
    with pytest.raises(OutlineError, match=r"2 curves, because each lies.*100 m"):
        scaled(drawing, "ft")


# ------------------------------------------------------------------------------------------------------------ bad files

GOOD = dxf(
    line(0, 0, 50, 0),
    arc(50, 10, 10, 270, 0),
    lwpolyline([(0, 0, 0.5), (10, 30), (20, 0)], closed=True),
    spline(BEZIER, [0, 0, 0, 0, 1, 1, 1, 1]),
    insert("B", 5, 5, (41, -2)),
    circle(0, 0, 4),
    blocks=(block("B", circle(0, 0, 2), line(0, 0, 1, 1)),),
)


@pytest.mark.parametrize(
    ("data", "word"),
    [
        (b"", "no DXF"),
        (b"{}", "no DXF"),
        (b"x,y\n1,2\n3,4\n", "no DXF"),
        (b"AC1032\x00\x00\x00\x00\x00\x06\x00" + bytes(200), "no DXF"),
        (bytes(range(256)) * 40, "no DXF"),
        (random.Random(3).randbytes(5000), "no DXF"),
        (GOOD.encode()[: len(GOOD) // 2], "breaks off"),
        (GOOD.encode()[:-7], "breaks off"),
        (b"  0\nSECTION\n  2\nENTITIES\n  0\nLINE\n 10\nabc\n  0\nENDSEC\n  0\nEOF\n", "damaged|no line or curve"),
        (b"  0\nEOF\n", "breaks off|damaged|no line or curve"),
        (dxf().encode(), "no line or curve"),
        (dxf(entity("TEXT", (10, 0), (20, 0), (40, 5), (1, "LID"))).encode(), "1 text"),
        (dxf(line(3, 3, 3, 3)).encode(), "shorter than 0.1 mm"),
    ],
)
def test_bad_files_get_a_sentence(tmp_path: Path, data: bytes, word: str) -> None:
    path = tmp_path / "bad one.dxf"
    path.write_bytes(data)
    with pytest.raises((FileError, OutlineError), match=word) as caught:
        read_dxf(path)
    assert str(caught.value).rstrip().endswith(".")
    assert str(tmp_path) not in str(caught.value)


def test_files_that_cannot_be_opened_get_a_sentence(tmp_path: Path) -> None:
    for path in (tmp_path / "nowhere.dxf", tmp_path):
        with pytest.raises(FileError, match="can't be read"):
            read_dxf(path)


def test_a_huge_file_is_refused_before_it_is_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "huge.dxf"
    with path.open("wb") as stream:
        stream.truncate(200_000_000)
    monkeypatch.setattr(Path, "read_bytes", lambda _: pytest.fail("it was read"))
    with pytest.raises(FileError, match=r"200 MB.*Save only the lines"):
        read_dxf(path)


def test_too_many_entities_are_refused_before_they_are_parsed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(dxf_file, "_parsed", lambda _: pytest.fail("it was parsed"))
    text = dxf(*[line(k, 0, k, 1) for k in range(20_001)])
    with pytest.raises(FileError, match="more than the 20000"):
        read(tmp_path, text)
    crlf = tmp_path / "crlf.dxf"
    crlf.write_bytes(text.replace("\n", "\r\n").encode())
    with pytest.raises(FileError, match="more than the 20000"):
        read_dxf(crlf)
    with pytest.raises(FileError, match="lines of text"):
        read(tmp_path, dxf(lwpolyline([(k, 0.0) for k in range(200_001)])))


def test_more_points_than_a_project_needs_are_refused(tmp_path: Path) -> None:
    """100 circles of 100 m radius would be 314 000 points."""
    with pytest.raises(OutlineError, match="more than 200000 points"):
        read(tmp_path, dxf(*[circle(k, 0, 99_000 - k) for k in range(100)]))


def test_mutated_files_give_curves_or_a_sentence(tmp_path: Path) -> None:
    chance = random.Random(11)
    read_at_all = 0
    for _ in range(250):
        lines = GOOD.split("\n")
        for _ in range(chance.randint(1, 4)):
            k = chance.randrange(12, len(lines) - 4)
            lines[k] = chance.choice(
                ["", "0", "-1", "1e308", "nan", "99999999999", "LINE", "B", lines[k] + "x", "\x00é"]
            )
        try:
            drawing = read(tmp_path, "\n".join(lines))
        except HingewrightError as fault:
            assert str(fault).endswith(".")  # noqa: PT017  both ways out are right
            continue
        read_at_all += 1
        assert all(math.isfinite(x) for curve in drawing.curves for point in curve.points for x in point)
        assert all(len(curve.points) >= 2 + curve.closed for curve in drawing.curves)
    assert 20 < read_at_all < 250


def test_the_parser_is_loaded_only_when_a_drawing_is_read() -> None:
    code = "import sys, app.files.outline_import; sys.exit('ezdxf' in sys.modules)"
    root = Path(outline_import.__file__).parents[2]
    assert subprocess.run([sys.executable, "-c", code], cwd=root, check=False, timeout=60).returncode == 0
