"""Cut files held against the makers' DXF reference, arithmetic of circles, and second readers.

E1 to E5. Sources: the DXF reference that the format's makers publish (group code 42, $INSUNITS; $MEASUREMENT from
memory); areas of circles and segments, by anyone. Second readers, which share nothing with each other: GDAL's DXF
driver, within pyogrio's wheel, and Qt's SVG.
"""

from __future__ import annotations

import json
import math
from itertools import combinations
from typing import TYPE_CHECKING, Any, cast

import ezdxf
import numpy as np
import pytest
import shapely

from app.files.cut_dxf import cut_dxf
from app.files.cut_svg import cut_svg
from app.making.command import make
from kinematics.contours import Eye, around
from kinematics.cutting import Hole, Part
from tests.app.sharing import demo
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from pathlib import Path

    from ezdxf.document import Drawing
    from ezdxf.entities.lwpolyline import LWPolyline

LINK = next(link.id for link in demo_six_bar.links if link.width)


def edges(document: Drawing) -> list[LWPolyline]:
    return cast("list[LWPolyline]", list(document.modelspace().query("LWPOLYLINE")))


def capsule(radius: float = 10.0, hole: float = 8.0, thickness: float = 6.0, apart: float = 100.0) -> Part:
    eyes = [Eye(0j, radius), Eye(complex(apart), radius)]
    holes = (Hole("A", 0j, hole), Hole("B", complex(apart), hole))
    return Part("plate", LINK, LINK, around(eyes), holes, thickness=thickness, density=7850.0)


@pytest.fixture(scope="module")
def made(qapp: object, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, Any]]:
    """The demo's set, made once."""
    to = tmp_path_factory.mktemp("made") / "build"
    make(demo(), to)
    found: dict[str, Any] = json.loads((to / "index.json").read_text("utf-8"))
    return to, found


def test_e1_capsule() -> None:
    """Pins 100 apart, r = 10: area 2000 + 100π, way 200 + 20π; less two ø8; 6 mm of steel at 7850 kg/m³."""
    part = capsule()
    assert part.outer.area == pytest.approx(2314.159265359, abs=5e-10)
    assert part.outer.length == pytest.approx(262.831853072, abs=5e-10)
    assert part.area == pytest.approx(2213.628300444, abs=5e-10)
    assert part.mass == pytest.approx(0.104261893, abs=5e-10)


def test_e2_the_ends_of_a_capsule_have_bulge_one_and_a_mirrored_one_no_dents(tmp_path: Path) -> None:
    """Bulge of 180° is 1, positive anticlockwise. With the old signs the mirrored plate had 2000 − 100π = 1685.84."""
    for part in (capsule(), capsule().mirrored()):
        path = tmp_path / "part.dxf"
        path.write_bytes(cut_dxf(part))
        (line,) = edges(ezdxf.readfile(path))  # type: ignore[attr-defined]
        rows = line.get_points("xyb")
        assert sorted(bulge for *_, bulge in rows) == pytest.approx([0.0, 0.0, 1.0, 1.0], abs=1e-12)
        corners = np.array([complex(x, y) for x, y, _ in rows])
        chords = np.roll(corners, -1) - corners
        segments = sum(math.pi / 8 * abs(c) ** 2 * b for c, (*_, b) in zip(chords, rows, strict=True))
        area = 0.5 * float((corners.conj() * np.roll(corners, -1)).imag.sum()) + segments
        assert area == pytest.approx(2314.159265359, abs=1e-6)


@pytest.mark.parametrize(("units", "code", "measurement", "apart"), [("mm", 4, 1, 100.0), ("in", 1, 0, 3.937007874)])
def test_e3_units(tmp_path: Path, units: str, code: int, measurement: int, apart: float) -> None:
    """An inch file has 3.937007874 where a mm file has 100. Tolerance: half of the last printed digit."""
    path = tmp_path / "part.dxf"
    path.write_bytes(cut_dxf(capsule(), units))
    document = ezdxf.readfile(path)  # type: ignore[attr-defined]
    assert document.header["$INSUNITS"] == code
    assert document.header["$MEASUREMENT"] == measurement
    one, other = document.modelspace().query("CIRCLE")
    assert other.dxf.center.x - one.dxf.center.x == pytest.approx(apart, abs=5e-10)


def test_e4_every_part_of_the_demo_reads_back(made: tuple[Path, dict[str, Any]]) -> None:
    """No error and no fix in the audit; holes where the index says, as far apart as the pins, within 1e-9 mm."""
    to, index = made
    at = {pivot.id: complex(*pivot.at) for pivot in demo().pivots}
    rows = [row for row in index["files"] if row["kind"] in ("plate", "mount")]
    assert {row["link"] for row in rows} == {link.id for link in demo().links}
    for row in rows:
        document = ezdxf.readfile(to / row["path"])  # type: ignore[attr-defined]
        auditor = document.audit()
        assert (len(auditor.errors), len(auditor.fixes)) == (0, 0)
        circles = {complex(*c.dxf.center.vec2): c.dxf.radius for c in document.modelspace().query("CIRCLE")}
        for hole in row["holes"]:
            centre = min(circles, key=lambda z: abs(z - complex(*hole["at"])))
            assert abs(centre - complex(*hole["at"])) <= 1e-9
            assert 2 * circles[centre] == pytest.approx(hole["diameter"], abs=1e-9)
        for one, other in combinations(row["holes"], 2):
            apart = abs(complex(*one["at"]) - complex(*other["at"]))
            assert apart == pytest.approx(abs(at[one["pivot"]] - at[other["pivot"]]), abs=1e-9)
        for line in edges(document):
            assert line.closed
            assert tuple(line[0][:2]) != tuple(line[-1][:2])


def rings(path: Path, step: str) -> list[shapely.Polygon]:
    """The contours of the layer CUT as GDAL reads them, its chords `step` degrees each; largest first."""
    pyogrio = pytest.importorskip("pyogrio", reason="needs GDAL's DXF reader, which pyogrio's wheel carries")
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": step})
    meta, _, geometry, fields = pyogrio.raw.read(path, columns=["Layer"])
    layers = fields[list(meta["fields"]).index("Layer")]
    lines = [line for line, layer in zip(shapely.from_wkb(geometry), layers, strict=True) if layer == "CUT"]
    assert all(line.is_closed for line in lines)
    return sorted((shapely.Polygon(line.coords) for line in lines), key=lambda ring: -ring.area)


def test_e5_the_capsule_by_gdal(tmp_path: Path) -> None:
    """By chords of 4° and of 0.1°, the digits of the printed areas."""
    path = tmp_path / "part.dxf"
    path.write_bytes(cut_dxf(capsule()))
    assert [ring.area for ring in rings(path, "4")] == pytest.approx([2313.904132, 50.224661, 50.224661], abs=5e-7)
    assert rings(path, "0.1")[0].area == pytest.approx(2314.159106, abs=5e-7)


def flattened(path: Path, step: float) -> float:
    """By how much (mm²) chords of a step (rad) may miss the area within all edges of a drawing: r²·θ·step²/12 an arc.

    A chord over an angle s cuts r²·(s − sin s)/2 off, about r²·s³/12; a whole circle so is off by area·step²/6.
    """
    off = 0.0
    document = ezdxf.readfile(path)  # type: ignore[attr-defined]
    for line in edges(document):
        places = [complex(x, y) for x, y, *_ in line]
        for one, other, bulge in zip(places, places[1:] + places[:1], [corner[4] for corner in line], strict=True):
            turn = 4.0 * math.atan(abs(bulge))
            if turn:
                off += (abs(other - one) / (2.0 * math.sin(turn / 2.0))) ** 2 * turn * step**2 / 12.0
    return off + sum(math.pi * circle.dxf.radius**2 * step**2 / 6.0 for circle in document.query("CIRCLE"))


def test_e5_every_part_of_the_demo_by_gdal(made: tuple[Path, dict[str, Any]]) -> None:
    """One outer contour, holes within, none crossing; areas as ours but for the chords, of plates and mounts."""
    to, index = made
    rows = [row for row in index["files"] if row["kind"] in ("plate", "mount")]
    assert {row["path"].split("/")[0] for row in rows} == {"plates", "mounts"}
    for row in rows:
        outer, *holes = rings(to / row["path"], "0.1")
        assert outer.is_valid
        assert len(holes) >= len(row["holes"])
        assert all(outer.contains(hole) for hole in holes)
        assert all(one.disjoint(other) for one, other in combinations(holes, 2))
        area = outer.area - sum(hole.area for hole in holes)
        assert area == pytest.approx(row["area"], abs=1.1 * flattened(to / row["path"], math.radians(0.1)) + 1e-6)


def test_svg_by_qt_has_the_area(qapp: object, tmp_path: Path) -> None:
    """Qt's reader draws what is enclosed at 20 dots a mm; counted, it is the area but for the dots on its edge."""
    from PySide6.QtGui import QImage, QPainter
    from PySide6.QtSvg import QSvgRenderer

    data = cut_svg(capsule()).replace(b'fill="none" stroke="#000000"', b'fill="#000000" stroke="none"')
    path = tmp_path / "part.svg"
    path.write_bytes(data)
    drawing = QSvgRenderer(str(path))
    size = drawing.viewBoxF().size() * 20.0
    image = QImage(size.toSize(), QImage.Format.Format_Grayscale8)
    image.fill(255)
    painter = QPainter(image)
    drawing.render(painter)
    painter.end()
    dots = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.bytesPerLine())
    assert int((dots < 128).sum()) / 400.0 == pytest.approx(2314.159265359, abs=262.8 * 0.05)
