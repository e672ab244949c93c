"""The build sheet as a PDF, read back by two libraries: what it says is what is computed; its letters, its sheets."""

from __future__ import annotations

import io
import re
import unicodedata
from collections import Counter
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

import pypdf
import pytest
from pdfminer.converter import PDFPageAggregator
from pdfminer.layout import LTChar
from pdfminer.pdfinterp import PDFPageInterpreter, PDFResourceManager
from pdfminer.pdfpage import PDFPage

from app.build_sheet import pages
from app.build_sheet.drawings import KINDS, picture_of
from app.build_sheet.pages import MARGIN, build_pages
from app.build_sheet.step import Drawing, Table
from app.build_sheet.steps import steps_of
from app.files.pdf import write_pages
from app.making.plan import plan_of
from app.making.study import study_of
from kinematics import edits
from tests.app.build_sheet.specimen import built, facts_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from kinematics.project import Project

pytestmark = pytest.mark.usefixtures("qapp")
A4, LETTER_MM = (595.28, 841.89), (215.9, 279.4)
POINTS = 72.0 / 25.4


def plain(text: str) -> str:
    """Without ligatures, and with nothing between words but one space."""
    return " ".join(unicodedata.normalize("NFKC", text).split())


@pytest.fixture(scope="module")
def sheet(qapp: object) -> bytes:
    """One for all tests."""
    return write_pages(build_pages(facts_of(built)), "x")


@pytest.fixture(scope="module")
def texts(sheet: bytes) -> list[str]:
    return [plain(page.extract_text()) for page in pypdf.PdfReader(io.BytesIO(sheet)).pages]


def tight(text: str) -> str:
    """Without any space: a line may end anywhere."""
    return "".join(plain(text).split())


def letters(data: bytes, numbers: Iterable[int] | None = None) -> Iterator[tuple[float, list[LTChar]]]:
    """The letters of each sheet as pdfminer finds them, with the sheet's width (pt); it is slow, so seldom of all."""
    device = PDFPageAggregator(PDFResourceManager(), laparams=None)
    reader = PDFPageInterpreter(device.rsrcmgr, device)
    for page in PDFPage.get_pages(io.BytesIO(data), None if numbers is None else set(numbers)):
        reader.process_page(page)
        found = device.get_result()
        yield found.width, [each for each in found if isinstance(each, LTChar)]


def test_every_number_and_sentence_of_every_step_is_read_back(texts: list[str]) -> None:
    text = tight(" ".join(texts))
    for step in steps_of(facts_of(built)):
        lines = [each for each in (*step.does, *step.checks, *step.cautions, *step.needs) if isinstance(each, str)]
        tables = [each for each in step.does if isinstance(each, Table)]
        cells = [cell for table in tables for row in (table.head, *table.rows) for cell in row]
        for line in (step.title, *lines, *cells, *(each.caption for each in step.drawings)):
            assert tight(line) in text, (step.key, line)


def test_a_second_reader_finds_the_same_letters_large_and_within_the_margins(sheet: bytes, texts: list[str]) -> None:
    """10 pt or more, to be read at arm's length. Drawings' words may touch their frames, which keep the margin."""
    numbers = range(0, len(texts), 6)
    for number, (width, found) in zip(numbers, letters(sheet, numbers), strict=True):
        assert Counter(tight("".join(each.get_text() for each in found))) == Counter(tight(texts[number]))
        assert min(each.size for each in found) >= 9.99
        assert min(each.x0 for each in found) >= MARGIN * POINTS - 3.0
        assert max(each.x1 for each in found) <= width - MARGIN * POINTS + 4.0
        assert min(each.y0 for each in found) >= MARGIN * POINTS - 6.0


def test_steps_come_in_order_each_on_the_sheet_that_the_list_names(texts: list[str]) -> None:
    titles = [step.title for step in steps_of(facts_of(built))]
    listed = [int(each) for each in re.findall(r"sheet (\d+)(?! of)", texts[0])]
    assert len(listed) == len(titles)
    assert listed == sorted(listed)
    for number, (title, page) in enumerate(zip(titles, listed, strict=True), 1):
        assert f"{number} {title}" in texts[page - 1]


def test_a_step_begins_with_something_to_do_on_the_sheet_of_its_title() -> None:
    """Wherever on the sheet its title would come."""
    laid = pages._Sheets(facts_of(built), "A4", ())
    step, flow = next(each for each in laid.steps if each.key == "hang"), laid.flow
    for up in range(20, 70, 4):
        flow.turn()
        flow.pages[-1].append(lambda _: None)  # so that it isn't fresh
        flow.y = flow.foot - up
        laid._step(1, step)
        begun = [each.args[0] for each in flow.pages[laid.starts[1] - 1] if isinstance(each, partial)]
        assert any(getattr(each, "text", "") == step.does[0] for each in begun), up


def test_the_first_sheet_says_what_figures_are_and_every_sheet_its_number(texts: list[str]) -> None:
    assert "aids to judgement: they don't replace local codes, nor licensed or professional review" in texts[0]
    for number, text in enumerate(texts, 1):
        assert f"sheet {number} of {len(texts)}" in text


def test_sheets_have_the_paper_of_their_units(sheet: bytes) -> None:
    for page in pypdf.PdfReader(io.BytesIO(sheet)).pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(A4, abs=0.01)
    inches = facts_of(replace(built, display_units="in"))
    assert {size for size, _ in build_pages(inches)} == {LETTER_MM}
    told = " ".join(str(step) for step in steps_of(inches))
    assert '0.4331 to 0.4338"' in told  # 11 to 11.018 mm
    assert " mm" not in re.sub(r"tube [\d. x]+ mm", "", told)


def test_every_kind_of_drawing_is_drawn() -> None:
    shimmed = facts_of(built)
    kinds = {drawing.kind for step in steps_of(shimmed) for drawing in step.drawings}
    assert kinds | {"pose"} == set(KINDS)


NAMES = (
    "العربية שלום",
    "日本語の部品名前がとても長い場合" * 3,
    "e\u0301\u0323 Ωμέγα 😀 <b>&amp;</b>",
    "X" * 80,
    "%s {0} \\n",
)


def renamed(project: Project, names: Iterable[str]) -> Project:
    links = [link.id for link in project.links]
    for link, name in zip(links, names, strict=False):
        project = edits.rename_link(project, link, name)
    return edits.rename_pivot(project, project.pivots[0].id, NAMES[2])


def test_names_of_every_letter_are_printed_and_never_leave_the_sheet() -> None:
    project = renamed(replace(built, title=NAMES[1]), NAMES)
    pages = build_pages(facts_of(project))
    data = write_pages([*pages[1:3], *pages[6:9]], "x")
    text = tight(" ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages))
    assert tight(NAMES[4]) in text
    assert tight(NAMES[3]) in text
    for width, found in letters(data):
        assert max(each.x1 for each in found) <= width - MARGIN * POINTS + 4.0


def test_the_index_page_lists_every_file_with_its_count() -> None:
    plan = plan_of(built, study=study_of(built, "mm"))
    page = next(each for each in plan.files if each.kind == "index page")
    reader = pypdf.PdfReader(io.BytesIO(page.content()))
    text = plain(" ".join(each.extract_text() for each in reader.pages))
    for each in plan.files:
        if each.kind == "drawing":
            continue
        assert text.count(each.path) == 1, each.path
        if "count" in each.told:
            assert f"{each.told['count']} off" in text
    assert "index.json" in text
    assert text.index("build sheet.pdf") < text.index("templates.pdf") < text.index("plates/")


def test_faults_stand_on_the_first_sheet(qtbot: object) -> None:
    pages = build_pages(facts_of(built), faults=("Plate of arm: it can't be.",))
    data = write_pages(pages[:1], "x")
    assert "✗ Plate of arm: it can't be." in plain(pypdf.PdfReader(io.BytesIO(data)).pages[0].extract_text())


def test_where_slots_are_the_bracket_is_drawn_bent_and_not_as_its_blank() -> None:
    shown = picture_of(facts_of(built), Drawing("mounts"), 170.0)
    keys = {shape.key for shape in shown.shapes}
    assert {"bracket:flange", "base:plate"} <= keys
    assert not any("blank" in key or key == "bracket web" for key in keys)
