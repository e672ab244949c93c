"""E7 and E9: what is printed at true size, read back by two libraries that share nothing with Qt, which wrote it.

A PDF unit is 1/72 inch (ISO 32000-1:2008, 8.3.2.3, UserUnit 1): A4 is 595.275591 × 841.889764, Letter 612 × 792, 100 mm
are 283.464567. Lengths within 0.01 mm, register marks of neighbours within 0.01 mm (issue: 0.05 and 0.01).
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import pytest

from app.files.mockup import mockup_sheets, save_mockup
from app.files.mockup_options import MockupOptions
from kinematics import edits
from tests import specimens
from tests.outside.pdf_readers import READERS, Page, Spot

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from kinematics.project import Project

pytestmark = pytest.mark.usefixtures("qapp")

SIZES = {"A4": (210.0, 297.0), "A3": (297.0, 420.0), "Letter": (215.9, 279.4), "Tabloid": (279.4, 431.8)}
WITHIN = 0.01


def long_armed() -> Project:
    """The demo with a pin so far out that its parts take several sheets both ways."""
    project = edits.move_pivot(specimens.demo_six_bar, "O1", (500.0, -150.0))
    return edits.move_pivot(project, "Q", (-100.0, 450.0))


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str, str], list[Page]]:
    """What a reader finds on the demo's sheets (title "Hatch Ж") of a paper; each is written and read once."""
    folder = tmp_path_factory.mktemp("printed")
    project = replace(specimens.demo_six_bar, title="Hatch Ж")

    @cache
    def read(paper: str, reader: str) -> list[Page]:
        path = folder / f"{paper}.pdf"
        if not path.exists():
            save_mockup(project, path, MockupOptions(paper), "mm" if paper.startswith("A") else "in")
        return READERS[reader](path)

    return read


@pytest.mark.parametrize("paper", sorted(SIZES))
@pytest.mark.parametrize("reader", sorted(READERS))
def test_page_square_and_bars_have_their_lengths(
    printed: Callable[[str, str], list[Page]], paper: str, reader: str
) -> None:
    units = "mm" if paper.startswith("A") else "in"
    first, *pages = printed(paper, reader)
    side = 100.0 if units == "mm" else 101.6
    for upright in (False, True):
        assert sum(abs(length - side) < WITHIN for length in first.lengths(upright)) == 2
    for page in (first, *pages):
        assert sorted(page.size) == pytest.approx(sorted(SIZES[paper]), abs=WITHIN)
    assert len(pages) >= 6
    for page in pages:
        for upright in (False, True):
            for length in (100.0, 101.6):
                assert any(abs(each - length) < WITHIN for each in page.lengths(upright)), (upright, length)


def test_a_catalog_asks_for_no_scaling(tmp_path: Path) -> None:
    pypdf = pytest.importorskip("pypdf")
    save_mockup(specimens.demo_six_bar, tmp_path / "a.pdf", MockupOptions())
    root = pypdf.PdfReader(tmp_path / "a.pdf", strict=True).trailer["/Root"]
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"


@pytest.mark.parametrize("reader", sorted(READERS))
def test_holes_stand_as_far_apart_as_the_pins(tmp_path: Path, reader: str) -> None:
    """On a part of one sheet: the distances of its round holes are those of the pins, and so are their diameters."""
    project = specimens.demo_six_bar
    save_mockup(project, tmp_path / "a.pdf", MockupOptions("A3", hole=6.4))
    pages = READERS[reader](tmp_path / "a.pdf")
    sheets = mockup_sheets(project, MockupOptions("A3", hole=6.4))
    seen = 0
    for sheet, page in zip(sheets[1:], pages[1:], strict=True):
        link = next(each.id for each in project.links if each.id in sheet.title.split("pins on ")[-1])
        holes = [
            box for box in page.rounds if abs(box[2] - box[0] - 6.4) < WITHIN and abs(box[3] - box[1] - 6.4) < WITHIN
        ]
        spots = [((left + right) / 2, (low + high) / 2) for left, low, right, high in holes]
        pins = [pivot.at for pivot in project.pivots_on(link)]
        assert distances(spots) == pytest.approx(distances(pins), abs=WITHIN)
        seen += len(spots)
    assert seen == 2 * len(project.pivots)  # each pin joins two links here, and both have its hole


def distances(spots: list[tuple[float, float]]) -> list[float]:
    return sorted(math.dist(a, b) for place, a in enumerate(spots) for b in spots[:place])


@pytest.mark.parametrize(("reader", "measured"), [("pypdf", 100.0), ("pypdf", 98.5), ("pdfminer", 100.0)])
def test_register_marks_of_neighbours_coincide(tmp_path: Path, reader: str, measured: float) -> None:
    """Laid so that the holes coincide (each is drawn on all sheets of its part, cut at the edge), the marks do too."""
    options = MockupOptions("A4", overlap=20.0, measured=measured)
    save_mockup(long_armed(), tmp_path / "a.pdf", options)
    pages = READERS[reader](tmp_path / "a.pdf")
    sheets = mockup_sheets(long_armed(), options)
    by_place = {(s.title, s.tile.row, s.tile.column): (s.tile, p) for s, p in zip(sheets, pages, strict=True) if s.tile}
    compared = 0
    for (title, row, column), (tile, page) in by_place.items():
        for neighbour in ((title, row, column + 1), (title, row + 1, column)):
            if neighbour in by_place:
                beside, other = by_place[neighbour]
                wanted = tile.box.left - beside.box.left, tile.box.high - beside.box.high
                holes = near(wanted, middles(page), middles(other))
                marks = near(wanted, page.crosses(5.0), other.crosses(5.0))
                assert len(marks) >= 2
                assert holes
                assert max(math.dist(a, b) for a in holes + marks for b in holes) <= 0.01
                compared += len(marks)
    assert compared >= 8


def middles(page: Page) -> list[Spot]:
    return [((left + right) / 2, (low + high) / 2) for left, low, right, high in page.rounds if right - left > 6.0]


def near(wanted: Spot, here: list[Spot], there: list[Spot]) -> list[Spot]:
    """By how much things on one sheet lie elsewhere on another, as far as it is about as much as wanted."""
    shifts = [(b[0] - a[0], b[1] - a[1]) for a in here for b in there]
    return [shift for shift in shifts if math.dist(shift, wanted) < 1.0]


def test_a_printer_that_makes_98_5_of_100_gets_1_015228_times_as_much(tmp_path: Path) -> None:
    save_mockup(specimens.demo_six_bar, tmp_path / "a.pdf", MockupOptions(measured=98.5))
    for reader in READERS.values():
        for page in reader(tmp_path / "a.pdf")[1:]:
            assert any(abs(each - 101.5228426) < 0.001 for each in page.lengths(upright=False))


def test_the_words_are_read_too(printed: Callable[[str, str], list[Page]]) -> None:
    for reader in READERS:
        words = " ".join(page.words.replace("\t", " ") for page in printed("A4", reader))
        for said in ("Hatch Ж", "Print at 100 %", "Links pinch", "level", "plumb", "O1", "short link"):
            assert said in " ".join(words.split()), said
