"""The pages: every link, picture and figure leads somewhere, no figure of an example is typed, cautions where due."""

from __future__ import annotations

import re

import pytest

from app.help import facts, pages
from app.help.pictures import names as picture_names
from app.lengths import LengthStyle
from resources import find

INSERTS = {"hands": "…", "commands": "…"}
LINK = re.compile(r"(!?)\[([^\]]*)\]\(([^)]*)\)")
DOES = {"do:first-steps"}  # what the window knows to do, by `app.help.desk`
SOURCED = ("source", "from memory", "ISO")
FIGURE = re.compile(r"\d+(?:[.,]\d+)?\s*(?:mm|°|\"|kg|N\b|degrees|inch)")


def links(page: str) -> list[tuple[bool, str, str]]:
    """Every link of a page: whether it is a picture, its words, where it leads."""
    return [(bang == "!", words, to) for bang, words, to in LINK.findall(pages.source(page))]


def test_the_files_are_the_pages() -> None:
    assert {path.stem for path in find("help").glob("*.md")} == set(pages.ORDER)


@pytest.mark.parametrize("page", pages.ORDER)
def test_every_link_leads_somewhere(page: str) -> None:
    for is_picture, words, to in links(page):
        assert words, f"{to}: a link without words, or a picture that a screen reader can't tell"
        if is_picture:
            assert to.removeprefix("picture:") in picture_names(), to
        else:
            page_there = pages.page_of(to)
            assert page_there in pages.ORDER or to in DOES, to
            section = pages.section_of(to)
            assert not section or (page_there and section in pages.sections(page_there)), to


def test_every_page_can_be_reached_from_the_first() -> None:
    seen, ahead = set[str](), [pages.FIRST]
    while ahead:
        page = ahead.pop()
        seen.add(page)
        ahead += [found for _, _, to in links(page) if (found := pages.page_of(to)) and found not in seen]
    assert seen == set(pages.ORDER)


def test_every_picture_is_shown_and_told_in_words() -> None:
    shown = {to.removeprefix("picture:") for page in pages.ORDER for is_picture, _, to in links(page) if is_picture}
    assert shown == set(picture_names())


def test_every_figure_is_known_and_used() -> None:
    asked = {name for page in pages.ORDER for name in pages.FACT.findall(pages.source(page))}
    assert asked - set(INSERTS) == set(facts.FACTS)


@pytest.mark.parametrize("page", pages.ORDER)
def test_no_figure_is_typed_without_a_source(page: str) -> None:
    for paragraph in re.split(r"\n\s*\n|\n(?=- )", pages.source(page)):
        if FIGURE.search(paragraph):
            assert any(word in paragraph for word in SOURCED), paragraph


@pytest.mark.parametrize("units", ["mm", "in", LengthStyle("mm", decimals=2, comma=True)])
@pytest.mark.parametrize("page", pages.ORDER)
def test_figures_are_put_in_in_the_builders_units(page: str, units: str) -> None:
    told = pages.words(page, units, INSERTS)
    assert "{{" not in told
    assert "—" not in told  # no figure is missing
    assert pages.title(page) in told


def test_inches_and_commas_show() -> None:
    assert '3/8"' not in pages.source("single-pivot")
    assert "16.6 mm" in pages.words("single-pivot", "mm")
    assert '21/32"' in pages.words("single-pivot", "in")
    assert "16,57 mm" in pages.words("single-pivot", LengthStyle("mm", decimals=2, comma=True))


@pytest.mark.parametrize("stage", ["trace", "pins", "lift", "build"])
def test_there_is_a_page_for_every_drawer(stage: str) -> None:
    assert stage in pages.ORDER


@pytest.mark.parametrize(
    ("page", "caution"),
    [
        ("start", "Take care"),
        ("pins", "Pinch places"),
        ("scissor", "Pinch places"),
        ("lift", "A panel overhead"),
        ("build", "Take care"),
        ("checks", "no safety certificate"),
        ("care", "It falls when"),
    ],
)
def test_cautions_stand_where_the_work_meets_them(page: str, caution: str) -> None:
    assert re.search(rf"^> \*\*[^*]*{caution}", pages.source(page), re.MULTILINE)


def test_build_says_what_is_not_there() -> None:
    assert "This version does **not**" in pages.source("build")


@pytest.mark.parametrize(
    ("link", "page"),
    [
        ("pins.md", "pins"), ("pins.md#begin", "pins"), ("pins.mdx", None), ("pins", None), ("nowhere.md", None),
        ("do:first-steps", None), ("", None),
    ],
)  # fmt: skip
def test_pages_of_links(link: str, page: str | None) -> None:
    assert pages.page_of(link) == page
