"""SVG files as a tree of elements, read without following anything that leads out of the file.

SVG is XML. Of XML only elements and their attributes are taken, and the words of a `title`. A document may *declare
entities* (short names for long texts, which may be made to grow without bound) or point to other files: declarations
are refused, pointers are never followed. A plain document type, as old files carry, is passed over.
Source of names: W3C, Scalable Vector Graphics (SVG) 2, 2018.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NoReturn
from xml.parsers import expat

from app.files.errors import FileError, fault_of, shown_name

if TYPE_CHECKING:
    from pathlib import Path

MOST_BYTES = 25_000_000
MOST_ELEMENTS = 20_000
DEEPEST = 100
"""Elements within elements beyond this depth are refused."""
MOST_TITLE = 80
ADVICE = "Save only the lines of the outline to a drawing of their own, and bring that in."
PLAIN = "Save the drawing as plain SVG where it was made."
NAMESPACE = "http://www.w3.org/2000/svg"
LINK = "http://www.w3.org/1999/xlink href"


@dataclass(slots=True)
class Element:
    """One element: its local name, its attributes by local name, what it holds, the words of its title."""

    name: str
    attributes: dict[str, str]
    children: list[Element] = field(default_factory=list)
    title: str = ""

    def get(self, name: str) -> str:
        """An attribute; from `style` too, which goes before, "" where there is none."""
        for declaration in self.attributes.get("style", "").split(";"):
            key, _, value = declaration.partition(":")
            if key.strip() == name:
                return value.strip()
        return self.attributes.get(name, "").strip()


def read_root(path: Path) -> Element:
    """The root element of an SVG file. Raises FileError when it can't be read, is no SVG, is damaged or too large."""
    try:
        size = path.stat().st_size
        if size > MOST_BYTES:
            raise FileError(
                f"the file has {size / 1e6:.0f} MB, more than the {MOST_BYTES / 1e6:.0f} MB read here",
                shown_name(path),
                ADVICE,
            )
        data = path.read_bytes()
    except OSError as fault:
        raise FileError(f"the file can't be read: {fault_of(fault)}", shown_name(path)) from fault
    return root_of(data, shown_name(path))


def root_of(data: bytes, name: str) -> Element:
    """The root element of an SVG's bytes; `name` is told in errors."""
    if data[:2] == b"\x1f\x8b":
        raise FileError("this is a compressed SVG, which can't be read here", name, PLAIN)
    return _Reader(name).read(data)


class _Reader:
    """Builds the tree while the parser runs, and stops it as soon as something is refused."""

    def __init__(self, name: str) -> None:
        self._name = name
        self._root: Element | None = None
        self._open: list[Element] = []
        self._count = 0

    def read(self, data: bytes) -> Element:
        parser = expat.ParserCreate(namespace_separator=" ")
        parser.StartElementHandler = self._start
        parser.EndElementHandler = self._end
        parser.CharacterDataHandler = self._words
        parser.EntityDeclHandler = self._entity
        try:
            parser.Parse(data, True)
        except (expat.ExpatError, UnicodeError, ValueError, LookupError) as fault:  # ValueError, LookupError: encodings
            line = f" (line {fault.lineno})" if isinstance(fault, expat.ExpatError) else ""
            raise FileError(f"this is no SVG, or a damaged one{line}", self._name, PLAIN) from fault
        if self._root is None or self._root.name != "svg":
            raise FileError("this is no SVG drawing", self._name, "Export the drawing as SVG or DXF.")
        return self._root

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        self._count += 1
        if self._count > MOST_ELEMENTS:
            raise FileError(f"the drawing holds more than {MOST_ELEMENTS} elements", self._name, ADVICE)
        if len(self._open) >= DEEPEST:
            raise FileError(f"its groups are nested more than {DEEPEST} deep", self._name, ADVICE)
        element = Element(_own(name), _plain(attributes))
        if self._open:
            self._open[-1].children.append(element)
        else:
            self._root = element
        self._open.append(element)

    def _end(self, _name: str) -> None:
        self._open.pop()

    def _words(self, text: str) -> None:
        if len(self._open) > 1 and self._open[-1].name == "title":
            holder = self._open[-2]
            holder.title = (holder.title + text)[:MOST_TITLE]

    def _entity(self, *_: object) -> NoReturn:
        raise FileError("it declares entities, which aren't followed here", self._name, PLAIN)


def _own(name: str) -> str:
    """The local name of an element of SVG (files without a namespace are taken as SVG); "" for all others."""
    space, _, local = name.rpartition(" ")
    return local if space in ("", NAMESPACE) else ""


def _plain(attributes: dict[str, str]) -> dict[str, str]:
    """Attributes without a namespace; the older way to write a link counts as the newer one."""
    found = {name: value for name, value in attributes.items() if " " not in name}
    if LINK in attributes:
        found.setdefault("href", attributes[LINK])
    return found
