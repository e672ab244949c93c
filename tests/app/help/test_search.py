"""Search in the help: what is found, where it leads, and that whatever is typed makes no fault."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QTextDocument

from app.help import pages
from app.help.search import LONGEST, find, found_page, plain

INSERTS = {"hands": "| **drag a pivot** | moves it |", "commands": "| **F1** | *Help on this* |"}


def test_a_heading_that_has_the_words_comes_first() -> None:
    first = find("dead point", "mm", INSERTS)[0]
    assert (first.link, first.heading) == ("dead-point.md", "What a dead point does")


def test_every_link_of_what_is_found_leads_to_its_section() -> None:
    found = find("the", "mm", INSERTS)
    assert len(found) > 30
    for each in found:
        page = pages.page_of(each.link)
        assert page
        section = pages.section_of(each.link)
        assert not section or section in pages.sections(page)


def test_all_words_must_be_there_at_their_beginning_in_either_case() -> None:
    assert {each.link.partition("#")[0] for each in find("COMMON wiper", "mm", INSERTS)} == {"trace.md"}
    assert find("pin", "mm", INSERTS)
    assert not find("ivot", "mm", INSERTS)
    assert find("DRAG A PIVOT", "mm", INSERTS)[0].link.startswith("hands.md")


def test_figures_are_found_as_they_are_shown() -> None:
    assert any(each.link.startswith("single-pivot.md") for each in find("16.6 mm", "mm", INSERTS))
    assert not find("16.6 mm", "in", INSERTS)


def test_snippets_are_plain_words_around_what_was_found() -> None:
    for each in find("wiper", "mm", INSERTS):
        assert "wiper" in each.snippet.lower()
        assert "*" not in each.snippet
        assert "](" not in each.snippet
        assert len(each.snippet) < 150
    assert plain("- a **b** [c](d.md) ![e](picture:f) | g") == "a b c e g"


@pytest.mark.parametrize(
    "wanted", ["", "   ", "][", "[a](b.md)", "**", "\\", "no such wrod", "x" * 100_000, "a\n# b", "{{wanted}}"]
)
def test_whatever_is_typed_gives_a_page_that_says_it_plainly(wanted: str, qtbot: object) -> None:
    sheet = QTextDocument()
    sheet.setMarkdown(found_page(wanted, find(wanted, "mm", INSERTS)))
    heading, told = sheet.toPlainText().splitlines()
    assert heading == f"Found: {' '.join(wanted[:LONGEST].split())}".strip()
    assert "No page has this" in told
