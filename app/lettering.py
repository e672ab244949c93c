"""Long names, where room is short. No Qt here.

A name may be as long as its builder likes. On the sheet, where it would cover the drawing, it is told by its beginning
and its end, as names of one job mostly differ there ("hinge bolt rear left no. 17"); in columns a word that is longer
than the column is broken.
"""

from __future__ import annotations

import re
from functools import lru_cache
from textwrap import wrap

ON_SHEET = 24
"""Letters of a name that stand on the sheet; the list of parts and tips have them all."""
END = 8  # of them, how many are the name's end
LONGEST = 18  # letters of a word that is never broken
TIP_LINE = 64  # letters in a line of a tip; 45 to 75 are common practice in print, no source
FILE_NAME = re.compile(r"\.\w{1,8}(,|$)")
BREAK = "\u200b"  # a space without width: a line may break there


@lru_cache(maxsize=1024)
def short_name(name: str, most: int = ON_SHEET) -> str:
    """Give a name in at most `most` letters: its beginning, "…" and its end."""
    if len(name) <= most:
        return name
    end = min(END, most // 3)
    return f"{name[: most - end - 1].rstrip()}…{name[-end:].lstrip()}"


@lru_cache(maxsize=1024)
def breakable(text: str) -> str:
    """Let the lines of a text break within words that are longer than a narrow column; nothing else is seen of it."""
    return " ".join(_broken(word) for word in text.split(" "))


@lru_cache(maxsize=1024)
def in_lines(tip: str) -> str:
    """Break a tip into lines that the eye follows easily; Qt would show each sentence as one line, however long."""
    return "\n".join("\n".join(wrap(line, TIP_LINE, break_long_words=False)) for line in tip.split("\n"))


def opened(sentence: str) -> str:
    """Begin a sentence with a capital, unless it begins with a name: in quotes, or that of a file ("lid.dxf: …")."""
    place, colon, _ = sentence.partition(": ")
    return sentence if colon and FILE_NAME.search(place) else sentence[:1].upper() + sentence[1:]


def in_menu(name: str) -> str:
    """Give a name as a menu or a button must have it, where a single & would underline a letter and be lost."""
    return name.replace("&", "&&")


def _broken(word: str) -> str:
    return word if len(word) <= LONGEST else word[:4] + BREAK + BREAK.join(word[4:-3]) + BREAK + word[-3:]
