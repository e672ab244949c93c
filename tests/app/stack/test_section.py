"""The section through a pin: its strokes are to scale, and on paper it is read back."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader
from shapely.geometry import LineString, box

from app.look import light
from app.shapes import Label, Stroke
from app.stack.section import camera_on, hatching, section_shapes
from app.stack.sheets import save_sections, scale_for, scale_words
from app.stacked import stacked
from kinematics.build_parts import PIN_KINDS, Stack
from kinematics.errors import HingewrightError
from tests.app.sharing import demo, shared_analyse

if TYPE_CHECKING:
    from pathlib import Path

    from kinematics.project import Project
    from kinematics.stacking import StackMade


def made(kind: str = "clevis pin") -> tuple[Project, StackMade]:
    project = demo() if kind == "clevis pin" else replace(demo(), stack=Stack(kind=kind))  # type: ignore[arg-type]
    return project, stacked(shared_analyse(project))


@pytest.mark.parametrize("kind", PIN_KINDS)
def test_every_piece_is_drawn_where_it_lies(kind: str) -> None:
    project, stack = made(kind)
    for pin in stack.pins[:2]:
        shapes = section_shapes(project, stack, pin, (light(), "mm"), 10.0)
        strokes = {shape.key: shape for shape in shapes if isinstance(shape, Stroke)}
        assert len(strokes) == sum(isinstance(shape, Stroke) for shape in shapes)  # each has a key of its own
        for number, piece in enumerate(pin.all_pieces):
            heights = [z for _, z in strokes[f"piece {number} right"].points]
            assert (min(heights), max(heights)) == (piece.low, piece.high)
        low, high = sorted(z for _, z in strokes["grip"].points)
        assert high - low == pytest.approx(pin.grip)
        low, high = sorted(z for _, z in strokes["length"].points)
        assert high - low == pytest.approx(pin.length.length)
        words = " ".join(shape.text for shape in shapes if isinstance(shape, Label))
        assert all(piece.link in words for piece in pin.pieces)


@pytest.mark.parametrize("way", [1, -1])
def test_hatching_stays_within_its_box_and_leans_as_told(way: int) -> None:
    room = box(2.0, 1.0, 9.0, 4.0).buffer(1e-9)
    lines = hatching(2.0, 9.0, 1.0, 4.0, way, 2.0)
    assert len(lines) == 5  # (7 + 3) / 2, along x
    for one, other in lines:
        assert room.contains(LineString([one, other]))
        assert (other[1] - one[1]) / (other[0] - one[0]) == pytest.approx(way)
    assert hatching(2.0, 2.0, 1.0, 4.0, way, 2.0) == []


def test_a_section_fits_its_sheet_with_its_words() -> None:
    project, stack = made()
    for size in ((720.0, 420.0), (600.0, 900.0)):
        for pin in stack.pins:
            camera = camera_on(project, pin, size)
            shapes = section_shapes(project, stack, pin, (light(), "mm"), camera.scale)
            spots = [camera.to_px(point) for shape in shapes if isinstance(shape, Stroke) for point in shape.points]
            assert all(0.0 <= x <= size[0] for x, _ in spots)
            assert all(-60.0 <= y <= size[1] + 60.0 for _, y in spots)  # a layer's line may run out of the sheet


def test_scales_are_those_of_the_standard() -> None:
    assert [scale_for([(28.0, 40.0)], (room, 300.0)) for room in (200.0, 100.0, 40.0, 20.0)] == [5.0, 2.0, 1.0, 0.5]
    assert [scale_words(scale, "mm") for scale in (2.0, 1.0, 0.5)] == ["2 : 1", "1 : 1", "1 : 2"]


@pytest.mark.usefixtures("qapp")
def test_all_pins_are_on_paper(tmp_path: Path) -> None:
    project, stack = made()
    target = tmp_path / "sections.pdf"
    assert save_sections(project, stack, target, "mm") == 4
    pages = PdfReader(target).pages
    words = " ".join(" ".join(page.extract_text().split()) for page in pages)
    assert len(pages) == 4
    assert all(f"Pin {pin.pivot}:" in words for pin in stack.pins)
    assert "Scale 1 : 1" in words
    assert project.title in words  # whole


def test_no_pin_is_no_sheet(tmp_path: Path) -> None:
    empty = replace(demo(), pivots=())
    with pytest.raises(HingewrightError, match="no pin"):
        save_sections(empty, stacked(shared_analyse(empty)), tmp_path / "sections.pdf", "mm")
    assert not list(tmp_path.iterdir())
