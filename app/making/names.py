"""Names of files that every system takes, made from names that people chose freely.

The rule, the same everywhere: letters and digits of any script stay, and so do space, hyphen, underscore, dot, plus and
brackets; every other sign becomes a hyphen, and hyphens or spaces in a row become one. Dots, spaces and hyphens at the
ends go. What is left is cut to 60 letters. A name that Windows keeps for devices (CON, COM1 …) gets an underscore, a
name with nothing left becomes the word for what it is. Names that are equal where capitals don't count get a number.
Source of the kept names: Microsoft's rules for naming files (from memory).
"""

from __future__ import annotations

import re
import unicodedata
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

LONGEST, MOST_BYTES = 60, 180
SIGNS = frozenset(" -_.+()")
KEPT = re.compile(r"(?:con|prn|aux|nul|conin\$|conout\$|com[0-9¹²³]|lpt[0-9¹²³])(?:\..*)?", re.IGNORECASE)


def portable(name: str, word: str = "part") -> str:
    """The name as a file's, without ending.   word : taken where nothing is left of the name."""
    text = unicodedata.normalize("NFC", name)
    text = "".join(letter if letter in SIGNS or _is_plain(letter) else "-" for letter in text)
    text = re.sub(r"-(?:[ -]*-)+", "-", re.sub(r" +", " ", text)).strip(" .-")[:LONGEST]
    while len(text.encode()) > MOST_BYTES:
        text = text[:-1]
    text = text.rstrip(" .-") or word
    return f"{text}_" if KEPT.fullmatch(text) else text


def _is_plain(letter: str) -> bool:
    """Letters, digits and the marks that belong to letters, of the scripts in daily use."""
    return ord(letter) < 0x10000 and unicodedata.category(letter)[0] in "LMN"


def distinct(names: Iterable[str], word: str = "part") -> tuple[str, ...]:
    """Portable names, in order, no two of which are equal where capitals, widths or accents' writing don't count."""
    made: list[str] = []
    taken: set[str] = set()
    for name in names:
        base = portable(name, word)
        found, number = base, 1
        while _key(found) in taken:
            number += 1
            found = f"{base} {number}"
        taken.add(_key(found))
        made.append(found)
    return tuple(made)


def _key(name: str) -> str:
    return unicodedata.normalize("NFKC", unicodedata.normalize("NFKC", name).casefold())
