"""The pages of the help: what there is, and a page's words with its figures put in. No widget here.

A page is a file of Markdown in `resources/help`; its first line is its title, `##` begins a *section*. In it stand
links to other pages (`pins.md`) and their sections (`tools.md#measure`), to something the window does
(`do:first-steps`), pictures (`picture:four-bar`) and figures (`{{wanted}}`). What stands between backticks is the name
of a control, word for word: the tests look for it in the window.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

from app.help.facts import fact
from resources import find

if TYPE_CHECKING:
    from collections.abc import Mapping

    from app.lengths import Units

ORDER = (
    "start",
    "trace",
    "pins",
    "proposals",
    "tools",
    "lift",
    "build",
    "wall",
    "single-pivot",
    "scissor",
    "dead-point",
    "strip",
    "checks",
    "words",
    "hands",
    "keeping",
    "care",
)
"""All pages, as the list of contents has them."""
FIRST = ORDER[0]
FACT = re.compile(r"\{\{([a-z.-]+)\}\}")
CONTROL = re.compile(r"`([^`]+)`")


@cache
def source(page: str) -> str:
    """Give a page as it is written."""
    return find(f"help/{page}.md").read_text(encoding="utf-8")


def title(page: str) -> str:
    """Give a page's title."""
    return source(page).splitlines()[0].removeprefix("# ")


def sections(page: str) -> dict[str, str]:
    """Give the headings of a page's sections, by what a link to them says behind "#"."""
    lines = source(page).splitlines()
    return {slug(line): line.removeprefix("## ") for line in lines if line.startswith("## ")}


def slug(heading: str) -> str:
    """Give a heading as a link says it: its letters and digits, small, with dashes between."""
    return "-".join(re.findall(r"[a-z0-9]+", heading.lower()))


def words(page: str, units: Units, inserts: Mapping[str, str] | None = None) -> str:
    """Give a page's Markdown with its figures; names of controls stand in italics.

    inserts : what else may stand in double braces, such as the table of commands.
    """
    known = inserts or {}
    written = CONTROL.sub(r"*\1*", source(page))
    return FACT.sub(lambda found: known.get(found[1]) or fact(found[1], units), written)


def page_of(link: str) -> str | None:
    """Give the page that a link leads to; None where it leads elsewhere."""
    name, dot, rest = link.partition(".md")
    return name if dot and name in ORDER and (not rest or rest.startswith("#")) else None


def section_of(link: str) -> str:
    """Give the section that a link leads to, "" for the top of its page."""
    return link.partition("#")[2]
