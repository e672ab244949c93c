"""The pages of the help: what there is, and a page's words with its figures put in. No widget here.

A page is a file of Markdown in `resources/help`; its first line is its title. In it stand links to other pages
(`pins.md`), to something the window does (`do:first-steps`), pictures (`picture:four-bar`) and figures (`{{wanted}}`).
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
    "lift",
    "build",
    "single-pivot",
    "scissor",
    "dead-point",
    "strip",
    "checks",
    "words",
    "hands",
    "care",
)
"""All pages, as the list of contents has them."""
FIRST = ORDER[0]
FACT = re.compile(r"\{\{([a-z.-]+)\}\}")


@cache
def source(page: str) -> str:
    """Give a page as it is written."""
    return find(f"help/{page}.md").read_text(encoding="utf-8")


def title(page: str) -> str:
    """Give a page's title."""
    return source(page).splitlines()[0].removeprefix("# ")


def words(page: str, units: Units, inserts: Mapping[str, str] | None = None) -> str:
    """Give a page's Markdown with its figures.

    inserts : what else may stand in double braces, such as the table of commands.
    """
    known = inserts or {}
    return FACT.sub(lambda found: known.get(found[1]) or fact(found[1], units), source(page))


def page_of(link: str) -> str | None:
    """Give the page that a link leads to; None where it leads elsewhere."""
    name = link.removesuffix(".md")
    return name if link.endswith(".md") and name in ORDER else None
