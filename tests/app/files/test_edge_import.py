"""A plate's edge out of a drawing: what was cut comes back to its place; lines and arcs are joined; faults are told."""

from __future__ import annotations

from typing import TYPE_CHECKING

import ezdxf
import pytest
from ezdxf import units

from app.files.cut_dxf import cut_dxf
from app.files.edge_import import read_contours
from app.files.errors import FileError
from kinematics import plate_edits as edits
from kinematics.cutting import part_of
from kinematics.errors import ProjectError
from kinematics.plate_fitting import take_drawing
from kinematics.plate_shapes import plate_cut
from tests.specimens import demo_six_bar as demo

if TYPE_CHECKING:
    from pathlib import Path

LINK = demo.link("short link")
plated = edits.begin_plates(demo)
SIDES = edits.sides_of(plated, LINK.id)
holed = edits.add_cutout(edits.set_bow(plated, LINK.id, SIDES[0], 8.0), LINK.id, (50.0, 130.0), 9.0)


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_a_plate_that_was_cut_comes_back_to_its_place(tmp_path: Path, unit: str) -> None:
    before, part = plate_cut(holed, LINK), part_of(holed, LINK, lambda *_: 12.0)
    assert before is not None
    assert part is not None
    path = tmp_path / "plate.dxf"
    path.write_bytes(cut_dxf(part, unit))
    found = take_drawing(plated, LINK.id, read_contours(path))
    after, plate = plate_cut(found, LINK), edits.own_plate(found, LINK.id)
    assert after is not None
    assert after.outer.area == pytest.approx(before.outer.area, abs=1e-2)
    assert abs(after.outer.centre - before.outer.centre) < 1e-3
    assert len(plate.cutouts) == 1
    assert plate.cutouts[0].at == pytest.approx((50.0, 130.0), abs=1e-3)
    assert plate.cutouts[0].diameter == pytest.approx(9.0, abs=1e-5)
    assert len(plate.edge) == len(before.outer.corners)  # arcs are arcs still


def test_lines_and_arcs_are_joined(tmp_path: Path) -> None:
    document = ezdxf.new(units=units.MM)
    space = document.modelspace()
    space.add_line((0, -10), (100, -10))
    space.add_arc((100, 0), 10, -90, 90)
    space.add_line((0, 10), (100, 10))  # the other way round
    space.add_arc((0, 0), 10, 90, 270)
    space.add_line((500, 0), (600, 0))  # ends meet nothing
    document.saveas(tmp_path / "loose.dxf")
    (contour,) = read_contours(tmp_path / "loose.dxf")
    assert contour.area == pytest.approx(100.0 * 20.0 + 314.159265, abs=1e-5)  # a rectangle and a circle, π·10²
    assert len(contour.corners) == 4
    with pytest.raises(ProjectError, match="outside"):
        take_drawing(plated, LINK.id, [contour])


@pytest.mark.parametrize(("unit", "said"), [(0, "unit"), (units.MM, "no closed line")])
def test_faults_are_told(tmp_path: Path, unit: int, said: str) -> None:
    document = ezdxf.new(units=unit)
    document.modelspace().add_line((0, 0), (10, 0))
    document.saveas(tmp_path / "bad.dxf")
    with pytest.raises(FileError, match=said):
        read_contours(tmp_path / "bad.dxf")
