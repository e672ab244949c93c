"""DXF files: weighed before they are read, mended where that is safe.

A file is weighed by its size, then by counting entities in the raw bytes, so that a drawing of a million lines is
refused in an instant. What passes goes to the parser, and where that stumbles, to its repair.
Source of names and codes: the public DXF reference.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from app.files.errors import FileError

if TYPE_CHECKING:
    from pathlib import Path

    from ezdxf.document import Drawing as Document

MOST_BYTES = 25_000_000
MOST_BINARY_BYTES = 2_500_000
MOST_LINES = 800_000
MOST_ENTITIES = 20_000
"""What is read within about two seconds on a small machine (measured: some 60 µs an entity, 2 µs a line of text)."""

UNITS = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m", 8: "µin", 9: "mil", 10: "yd", 13: "µm", 14: "dm"}
"""Header variable $INSUNITS; 0 says "none". Source: the public DXF reference."""

ADVICE = "Save only the lines of the outline to a drawing of their own, and bring that in."
FIRST_TAG = re.compile(rb"(?:\xef\xbb\xbf)?\s*(?:999[^\n]*\n[^\n]*\n\s*)*0[ \t]*\r?\n[ \t]*(?:SECTION|EOF)")
LAST_TAG = re.compile(rb"\n[ \t]*0[ \t]*\r?\n[ \t]*EOF\s*\Z")
ENTITY = re.compile(rb"\n[ \t]*0[ \t]*\r?\n[ \t]*(?:[A-Z]|3D)")


def read_document(path: Path) -> tuple[Document, str | None, tuple[str, ...]]:
    """The parsed drawing, its unit (None where it doesn't say), and remarks on the unit.

    Raises FileError when the file can't be read, is no DXF, breaks off, is damaged, or is too large to read here.
    """
    data = _weighed(path)
    document = _parsed(path)
    return document, *_units(document, data)


def _weighed(path: Path) -> bytes:
    """The file's bytes, if they are a whole DXF of a size that can be read at once."""
    try:
        size = path.stat().st_size
        if size > MOST_BYTES:
            raise FileError(
                f"the file has {size / 1e6:.0f} MB, more than the {MOST_BYTES / 1e6:.0f} MB read here",
                path.name,
                ADVICE,
            )
        data = path.read_bytes()
    except OSError as fault:
        raise FileError(
            f"the file can't be read ({fault.strerror or fault})", path.name, "Check that it is there and not locked."
        ) from fault
    binary = data[20:22] == b"\x1a\x00"
    if binary and size > MOST_BINARY_BYTES:
        raise FileError(f"this binary DXF has {size / 1e6:.0f} MB, too much to read here", path.name, ADVICE)
    if not binary:
        _check_text(path, data)
    return data


def _check_text(path: Path, data: bytes) -> None:
    """Refuse what is no DXF text, what breaks off, and what is too large."""
    if not FIRST_TAG.match(data):
        raise FileError(
            "this is no DXF drawing",
            path.name,
            "Export the drawing as DXF; other formats (DWG, PDF, STEP) can't be read.",
        )
    if not LAST_TAG.search(data[-200:]):
        raise FileError("the drawing breaks off before its end", path.name, "Copy or export it again.")
    lines = data.count(b"\n")
    entities = sum(1 for _ in ENTITY.finditer(data))
    if entities > MOST_ENTITIES:
        raise FileError(
            f"the drawing holds {entities} entities, more than the {MOST_ENTITIES} read here", path.name, ADVICE
        )
    if lines > MOST_LINES:
        raise FileError(
            f"the drawing has {lines} lines of text, more than the {MOST_LINES} read here", path.name, ADVICE
        )


def _parsed(path: Path) -> Document:
    """The document, mended where the format's rules are broken but the meaning is plain."""
    from ezdxf import recover
    from ezdxf.filemanagement import readfile

    try:
        return readfile(path)
    except Exception:  # noqa: BLE001  a parser of others meets any bytes at all; whatever it trips over, the repair is tried
        pass
    try:
        document, _ = recover.readfile(path)
    except Exception as fault:
        raise FileError(
            "the drawing is damaged and can't be read",
            path.name,
            "Open it where it was drawn and export it as DXF again.",
        ) from fault
    return document


def _units(document: Document, data: bytes) -> tuple[str | None, tuple[str, ...]]:
    """The drawing's unit, and a remark where it names one that isn't used here."""
    # Looked for in the bytes: the parser gives drawings without this variable one of its own choosing.
    if b"$INSUNITS" not in data:
        return None, ()
    code = document.header.get("$INSUNITS", 0)
    if code in UNITS:
        return UNITS[code], ()
    return None, () if code == 0 else (f"The drawing's unit (code {code}) is not one that is used here.",)
