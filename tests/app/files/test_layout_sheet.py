"""The layout sheet: what it says, at which size, and on further pages what is too long for the first."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from app.files.errors import FileError
from app.files.layout_sheet import save_layout_sheet
from kinematics import analyse
from kinematics.errors import HingewrightError
from tests import specimens

if TYPE_CHECKING:
    from pathlib import Path

    from kinematics.analysis import Analysis

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.fixture(scope="module")
def demo() -> Analysis:
    return analyse(specimens.demo_six_bar)


def pages_of(path: Path) -> list[tuple[float, float, str]]:
    """Width and height (mm) and words of each page."""
    pypdf = pytest.importorskip("pypdf")
    pages = pypdf.PdfReader(path, strict=True).pages
    mm = 25.4 / 72
    return [
        (float(p.mediabox.width) * mm, float(p.mediabox.height) * mm, " ".join(p.extract_text().split())) for p in pages
    ]


@pytest.mark.parametrize(
    ("paper", "size"), [("A4", (297, 210)), ("A3", (420, 297)), ("Letter", (279.4, 215.9)), ("Tabloid", (431.8, 279.4))]
)
def test_one_page_on_its_side_says_poses_pins_and_checks(
    demo: Analysis, tmp_path: Path, paper: str, size: tuple[float, float]
) -> None:
    assert save_layout_sheet(demo, tmp_path / "a.pdf", paper) == 1
    ((wide, tall, words),) = pages_of(tmp_path / "a.pdf")
    assert (wide, tall) == pytest.approx(size, abs=0.01)
    for said in ("Engine hatch", "Shut", "Half: 37.5°", "Full: 75°", "141.00", "257.00", "cross link, short link"):
        assert said in words
    for said in ("all 7 checks hold", "10.6 mm at 3.2°, wants 10.0", "aids to judgement", "500 mm"):
        assert said in words


def test_what_is_too_long_goes_on_on_further_pages(tmp_path: Path) -> None:
    notes = "\n".join(f"note number {number} of a long list of notes that goes on and on" for number in range(60))
    long = replace(specimens.demo_six_bar, notes=notes)
    assert save_layout_sheet(analyse(long), tmp_path / "a.pdf") >= 2
    words = " ".join(page[2] for page in pages_of(tmp_path / "a.pdf"))
    assert "Checks and notes, continued" in words
    for number in (0, 30, 59):
        assert f"ote number {number} of" in words


def test_inches_are_said_in_inches(tmp_path: Path) -> None:
    save_layout_sheet(analyse(replace(specimens.demo_six_bar, display_units="in")), tmp_path / "a.pdf", "Letter")
    assert "5.551 10.118" in pages_of(tmp_path / "a.pdf")[0][2]  # 141 and 257 mm


@pytest.mark.parametrize("name", sorted(specimens.ALL))
def test_every_specimen_has_its_sheet(tmp_path: Path, name: str) -> None:
    assert save_layout_sheet(analyse(specimens.ALL[name]), tmp_path / "a.pdf") >= 1
    words = pages_of(tmp_path / "a.pdf")[0][2]
    assert "Shut" in words
    assert "Pins, shut" in words


def test_what_cannot_be_made_is_told(demo: Analysis, read_only: Path) -> None:
    with pytest.raises(HingewrightError, match="“Folio” is no paper"):
        save_layout_sheet(demo, read_only / "a.pdf", "Folio")
    with pytest.raises(FileError, match=r"^a\.pdf: the sheet can't be written: "):
        save_layout_sheet(demo, read_only / "a.pdf")
