"""Search in the help: the sections of all pages in which every wanted word stands. No widget here.

A *section* is what stands beneath one heading; what it says is looked at as it is shown, with its figures and without
the signs of Markdown. Words are found at their beginning and in either case: "pin" finds "pins", not "spin".
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.help.hands import cell
from app.help.pages import ORDER, slug, title, words

if TYPE_CHECKING:
    from collections.abc import Mapping

    from app.lengths import Units

AROUND = 60  # letters of a snippet on either side of the first word
LONGEST = 80  # letters of what is looked for; a page that was pasted is cut
MARKS = re.compile(r"!\[([^\]]*)\]\([^)]*\)|\[([^\]]*)\]\([^)]*\)|\\(?=\W)|[*|>]|^[-\d.]+ |^ *-{3,}", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Found:
    """One section that was found. link : leads there.   heading : page and section.   snippet : the words around."""

    link: str
    heading: str
    snippet: str


def find(wanted: str, units: Units, inserts: Mapping[str, str]) -> tuple[Found, ...]:
    """Look for words in all pages; sections whose heading has them come first."""
    patterns = [re.compile(rf"(?<!\w){re.escape(word)}", re.IGNORECASE) for word in wanted[:LONGEST].split()]
    found: list[tuple[int, Found]] = []
    for page in ORDER if patterns else ():
        for heading, text in _sections(words(page, units, inserts)):
            whole = heading or title(page)
            if all(pattern.search(f"{whole} {text}") for pattern in patterns):
                link = f"{page}.md#{slug(heading)}" if heading else f"{page}.md"
                told = f"{title(page)} › {heading}" if heading else title(page)
                rank = 0 if all(pattern.search(whole) for pattern in patterns) else 1
                found.append((rank, Found(link, told, _snippet(text, patterns[0]))))
    return tuple(each for _, each in sorted(found, key=lambda pair: pair[0]))


def found_page(wanted: str, found: tuple[Found, ...]) -> str:
    """Give what was found as a page of Markdown."""
    shown = cell(" ".join(wanted[:LONGEST].split()))
    if not found:
        return f"# Found: {shown}\n\nNo page has this. Try fewer words, or one word of the page *The words*.\n"
    rows = "\n\n".join(f"[{cell(each.heading)}]({each.link}): {cell(each.snippet)}" for each in found)
    return f"# Found: {shown}\n\n{rows}\n"


def _sections(text: str) -> list[tuple[str, str]]:
    """Take a page apart: heading ("" for the top) and plain words of each section."""
    parts = re.split(r"^## (.*)$", text.split("\n", 1)[1], flags=re.MULTILINE)
    headings, bodies = ["", *parts[1::2]], parts[0::2]
    return [(heading, plain(body)) for heading, body in zip(headings, bodies, strict=True)]


def plain(text: str) -> str:
    """Give Markdown as plain words on one line."""
    return " ".join(MARKS.sub(lambda sign: sign[1] or sign[2] or "", text).split())


def _snippet(text: str, pattern: re.Pattern[str]) -> str:
    place = pattern.search(text)
    start = max(place.start() - AROUND, 0) if place else 0
    end = start + 2 * AROUND
    start = text.find(" ", start) + 1 if start else 0
    cut = text[start:end].rsplit(" ", 1)[0] if end < len(text) else text[start:]
    return ("… " if start else "") + cut + (" …" if end < len(text) else "")
