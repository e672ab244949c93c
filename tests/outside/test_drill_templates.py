"""E7, E9, E10: the templates for the drill, read back by two libraries that share nothing with Qt, which wrote them.

Lengths within 0.05 mm and tiles within 0.01 mm (the issue's figures); a PDF unit is 1/72 inch (ISO 32000-1:2008,
8.3.2.3). What is read: circles as curves, the numbers of the holes as words with their places, straight lines. The
checks are functions that slips are held against: a sheet printed for the wrong hand, and one scaled the wrong way.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import combinations
from typing import TYPE_CHECKING

import pytest

from app.files import template_parts, templates
from app.files.paper import Scale
from app.files.pdf import write_pages
from app.files.print_check import PrintCheck
from app.files.templates import TemplateOptions, save_templates, template_sheets
from app.hardware import hardware
from kinematics.errors import HingewrightError
from kinematics.marking_out import wall_marks
from kinematics.mount_parts import Base, Bracket, Mount
from kinematics.setting_out import set_out
from kinematics.wall_parts import HandWall, Wall
from tests.outside.pdf_readers import MM, READERS, Page, Spot
from tests.outside.test_print import near
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from pathlib import Path

    from kinematics.hardware import Hardware
    from kinematics.marking_out import WallMarks
    from kinematics.project import Project

pytestmark = pytest.mark.usefixtures("qapp")

WITHIN, JOINED = 0.05, 0.01
CLEAR, TAP = 9.0, 6.8  # M8: ISO 273 medium; diameter less pitch


def project(bracket: Bracket | None = None, **base: float) -> Project:
    wall = Wall(left=HandWall(9.5, None, 575.0), level=0.0)
    return replace(demo_six_bar, mount=Mount(bracket, Base(bolt="M8", **base)), wall=wall)  # type: ignore[arg-type]


@dataclass(frozen=True)
class Face:
    """A page of the PDF: holes by their number (mm, y up), upright dashed lines at x, and its words."""

    holes: dict[str, Spot]
    page: Page
    hand: str


def faces(path: Path, reader: str) -> list[Face]:
    """The pages that show the wall, each with what two readers say is on it: one the curves, pdfminer the words."""
    found = []
    for page, words in zip(READERS[reader](path), words_of(path), strict=True):
        told = " ".join(text for text, _ in words)
        if "wall, as you face it" not in told:
            continue
        centres = [middle(box) for box in page.rounds if abs(box[2] - box[0] - CLEAR) < 0.4]  # scaled ones too
        numbers = [(text, at) for text, at in words if text.isdigit()]
        holes = {}
        for centre in centres:
            beside = [each for each in numbers if math.dist(each[1], centre) < 13.0]
            if beside:
                holes[min(beside, key=lambda each: math.dist(each[1], centre))[0]] = centre
        found.append(Face(holes, page, "left" if "LEFT" in told else "right"))
    return found


def walls_of(told: Project, folder: Path, options: TemplateOptions | None = None) -> Path:
    """The wall's sheets alone, written to a PDF."""
    sheets = template_sheets(told, options or TemplateOptions())
    return written([each for each in sheets if ": base on" in each.title], folder)


def written(sheets: list[templates.TemplateSheet], folder: Path) -> Path:
    """Some of the sheets, written to a PDF."""
    (folder / "some.pdf").write_bytes(write_pages([(each.size, each.draw) for each in sheets], "some"))
    return folder / "some.pdf"


def words_of(path: Path) -> list[list[tuple[str, Spot]]]:
    """The words of each page with the middle of where they stand; none may be mirrored."""
    layout = pytest.importorskip("pdfminer.layout")
    high_level = pytest.importorskip("pdfminer.high_level")
    pages = []
    for laid in high_level.extract_pages(path):
        words: list[tuple[str, Spot]] = []
        for line in lines_in(laid, layout):
            for char in line:
                if isinstance(char, layout.LTChar):
                    a, b, c, d, *_ = char.matrix
                    assert a * d - b * c > 0.0, "mirrored words"
            x, y = (line.x0 + line.x1) / 2 * MM, (line.y0 + line.y1) / 2 * MM
            words.append((" ".join(line.get_text().split()), (x, y)))
        pages.append(words)
    return pages


def lines_in(laid: object, layout: object) -> list:  # type: ignore[type-arg]
    """All lines of words below a part of a page."""
    if isinstance(laid, layout.LTTextLine):  # type: ignore[attr-defined]
        return [laid]
    if isinstance(laid, layout.LTContainer):  # type: ignore[attr-defined]
        return [line for each in laid for line in lines_in(each, layout)]
    return []


def middle(box: tuple[float, float, float, float]) -> Spot:
    return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2


# ------------------------------------------------------------------------------------------------- checks, as functions
def check_hands(told: Project, found: list[Face]) -> None:
    """E10: each hand's holes as far apart as planned; the area that three of them turn round is opposite; and on the
    left hinge's sheet, as one faces a wall behind the panel, outboard is to the right.
    """
    areas = {}
    for face in found:
        plan = set_out(told, hardware(), face.hand)
        assert plan is not None
        spots = {spot.name: (spot.along, spot.up) for spot in plan.bolts}
        assert face.holes.keys() == spots.keys()
        for one, other in combinations(spots, 2):
            apart = math.dist(face.holes[one], face.holes[other])
            assert apart == pytest.approx(math.dist(spots[one], spots[other]), abs=WITHIN)
        (ax, ay), (bx, by), (cx, cy) = (face.holes[name] for name in "123")
        areas[face.hand] = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
        outermost = max(spots, key=lambda name: spots[name][0])
        innermost = min(spots, key=lambda name: spots[name][0])
        assert (face.holes[outermost][0] > face.holes[innermost][0]) == (face.hand == "left")
    assert areas["left"] == pytest.approx(-areas["right"], rel=1e-3)
    assert abs(areas["left"]) > 1000.0


def check_scale(pages: list[Page], across: float, up: float) -> None:
    """E9: both bars both ways on every page but the first, which has the square."""
    for number, page in enumerate(pages):
        turned = page.size[0] > page.size[1]
        for upright in (False, True):
            scale = up if upright != turned else across
            wanted = (100.0,) if number == 0 else (100.0, 101.6)
            for length in wanted:
                assert any(abs(each - length * scale) < 0.01 for each in page.lengths(upright)), (number, length)


# ---------------------------------------------------------------------------------------------------------------- tests
@pytest.mark.parametrize("reader", sorted(READERS))
def test_holes_hands_and_bars_are_true(tmp_path: Path, reader: str) -> None:
    found = faces(walls_of(project(), tmp_path), reader)
    assert [face.hand for face in found] == ["left", "right"]
    check_hands(project(), found)
    save_templates(project(Bracket()), tmp_path / "a.pdf", TemplateOptions())
    pages = READERS[reader](tmp_path / "a.pdf")
    assert len(pages) == 7
    check_scale(pages, 1.0, 1.0)
    side = 100.0
    for upright in (False, True):
        assert sum(abs(length - side) < 0.01 for length in pages[0].lengths(upright)) == 2
    for face in found:
        taps = [middle(box) for box in face.page.rounds if abs(box[2] - box[0] - TAP) < 0.01]
        for tap, hole in zip(sorted(taps), sorted(face.holes.values()), strict=True):
            assert tap == pytest.approx(hole, abs=0.01)


def test_a_sheet_for_the_wrong_hand_is_caught(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def slipped(told: Project, tables: Hardware, hand: str) -> WallMarks | None:
        marks = wall_marks(told, tables, hand)
        return replace(marks, right=1.0) if marks is not None else None

    for slip in ("one for both", "names"):
        with monkeypatch.context() as patched:
            if slip == "names":
                patched.setattr(template_parts, "HAND_WORDS", {"left": "RIGHT", "right": "LEFT"})
            else:
                patched.setattr(templates, "wall_marks", slipped)
            save_templates(project(), tmp_path / "a.pdf", TemplateOptions())
            with pytest.raises(AssertionError):
                check_hands(project(), faces(tmp_path / "a.pdf", "pypdf"))


def test_a_printer_that_misses_is_made_up_for_each_way_and_the_wrong_way_is_caught(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """98.5 of 100 → 1.015228 (E9); 99.5 along the long side → 1.005025. On a sheet on its side they change places."""
    wide = project(width=200.0, height=100.0)
    wide = replace(wide, wall=replace(wide.walled, edge=900.0))
    options = TemplateOptions(check=PrintCheck(98.5, 99.5))
    save_templates(wide, tmp_path / "a.pdf", options)
    pages = READERS["pypdf"](tmp_path / "a.pdf")
    assert any(page.size[0] > page.size[1] for page in pages)
    check_scale(pages, 1.0152284, 1.0050251)
    for page in pages:
        words = " ".join(page.words.split())
        assert "1.015228" in words
        assert "98.5 and 99.5" in words
    (left, _) = faces(walls_of(wide, tmp_path, options), "pypdf")
    plan = set_out(wide, hardware(), "left")
    assert plan is not None
    spots = {spot.name: (spot.along, spot.up) for spot in plan.bolts}
    scale = (1.0050251, 1.0152284) if left.page.size[0] > left.page.size[1] else (1.0152284, 1.0050251)
    for one, other in combinations(spots, 2):
        for axis in (0, 1):
            apart = left.holes[one][axis] - left.holes[other][axis]
            assert apart == pytest.approx(scale[axis] * (spots[one][axis] - spots[other][axis]), abs=WITHIN)
    monkeypatch.setattr(PrintCheck, "scale", property(lambda self: Scale(self.short / 100.0, self.long / 100.0)))
    save_templates(wide, tmp_path / "b.pdf", options)
    with pytest.raises(AssertionError):
        check_scale(READERS["pypdf"](tmp_path / "b.pdf"), 1.0152284, 1.0050251)


@pytest.mark.parametrize("check", [PrintCheck(94.9), PrintCheck(100.0, 105.1)])
def test_a_print_that_misses_by_more_than_a_twentieth_is_refused(tmp_path: Path, check: PrintCheck) -> None:
    with pytest.raises(HingewrightError, match="fit to page"):
        save_templates(project(), tmp_path / "a.pdf", TemplateOptions(check=check))
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(("paper", "reader"), [("A4", "pypdf"), ("Letter", "pdfminer")])
def test_tiles_joined_by_their_marks_are_the_plate(tmp_path: Path, paper: str, reader: str) -> None:
    """Marks of neighbours lie as far apart as the circles that both sheets draw; joined by the marks alone, each hole
    taken from a sheet that shows it, all are where they are planned.
    """
    large = project(width=250.0, height=250.0)
    options = TemplateOptions(paper, overlap=20.0)
    sheets = [each for each in template_sheets(large, options) if each.title.startswith("LEFT: base")]
    pages = READERS[reader](written(sheets, tmp_path))
    tiles = {
        (each.sheet.tile.row, each.sheet.tile.column): (each, page)
        for each, page in zip(sheets, pages, strict=True)
        if each.sheet is not None
    }
    assert len(tiles) == 4
    moved = {(0, 0): (0.0, 0.0)}
    for row, column in sorted(tiles):
        for place in ((row, column + 1), (row + 1, column)):
            if place in tiles:
                shift = joined(tiles[row, column], tiles[place])
                here = moved[row, column]
                moved.setdefault(place, (here[0] + shift[0], here[1] + shift[1]))
    plan = set_out(large, hardware(), "left")
    assert plan is not None
    seen = [
        (x - moved[place][0], y - moved[place][1])
        for place, (_, page) in tiles.items()
        for x, y in (middle(box) for box in page.rounds if abs(box[2] - box[0] - CLEAR) < 0.01)
        if shown(page, (x, y))
    ]
    spots = [(spot.along, spot.up) for spot in plan.bolts]
    low = min(seen), min(spots)
    for x, y in spots:
        wanted = x - low[1][0] + low[0][0], y - low[1][1] + low[0][1]
        assert min(math.dist(each, wanted) for each in seen) <= WITHIN


def joined(one: tuple[templates.TemplateSheet, Page], other: tuple[templates.TemplateSheet, Page]) -> Spot:
    """By how much what is on one sheet lies elsewhere on its neighbour, by their marks, held against their circles."""
    (a, page), (b, beside) = one, other
    assert a.sheet is not None
    assert b.sheet is not None
    wanted = a.sheet.tile.box.left - b.sheet.tile.box.left, a.sheet.tile.box.low - b.sheet.tile.box.low
    marks = near(wanted, page.crosses(5.0), beside.crosses(5.0))
    circles = near(wanted, *([middle(box) for box in each.rounds if box[2] - box[0] > 6.0] for each in (page, beside)))
    assert len(marks) >= 2
    assert circles
    assert max(math.dist(mark, circle) for mark in marks for circle in circles) <= JOINED
    return marks[0]


def shown(page: Page, at: Spot) -> bool:
    """Whether a place lies within a sheet's area, so isn't cut off."""
    return 19.0 < at[0] < page.size[0] - 8.0 and 23.0 < at[1] < page.size[1] - 19.0
