"""The program's icon as the files that packages for Windows and macOS ask for. No Qt here.

Both are a list of PNG pictures behind a head. ICO: a head of 6 bytes, then 16 bytes a picture that say how large it is
and where it lies (sides of 256 are written as 0; pictures as PNG are read from Windows Vista on). ICNS: "icns" and the
whole length, then each picture behind four letters that stand for its size, and its length with that head of 8 bytes.
(Both from memory of their makers' descriptions; the tests have Qt read them back.)
"""

from __future__ import annotations

import struct
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

ICO_SIDES = (16, 24, 32, 48, 64, 128, 256)
ICNS_KINDS = {16: b"icp4", 32: b"icp5", 64: b"icp6", 128: b"ic07", 256: b"ic08", 512: b"ic09", 1024: b"ic10"}
SIDES = tuple(sorted({*ICO_SIDES, *ICNS_KINDS}))
"""Sides of all pictures that both ask for, pixels."""


def ico(pictures: Mapping[int, bytes]) -> bytes:
    """Give an icon for Windows. pictures : PNG by side, pixels; those of `ICO_SIDES` are taken."""
    at = 6 + 16 * len(ICO_SIDES)
    table, whole = b"", b""
    for side in ICO_SIDES:
        data = pictures[side]
        table += struct.pack("<BBBBHHII", side % 256, side % 256, 0, 0, 1, 32, len(data), at + len(whole))
        whole += data
    return struct.pack("<HHH", 0, 1, len(ICO_SIDES)) + table + whole


def icns(pictures: Mapping[int, bytes]) -> bytes:
    """Give an icon for macOS. pictures : PNG by side, pixels; those of `ICNS_KINDS` are taken."""
    whole = b"".join(
        kind + struct.pack(">I", 8 + len(pictures[side])) + pictures[side] for side, kind in ICNS_KINDS.items()
    )
    return b"icns" + struct.pack(">I", 8 + len(whole)) + whole
