"""SVG drawings: which curves they hold, through groups, copies and transforms, as sources with y up.

A *viewport* is a stretch of the sheet with a width and a height, and its viewBox the part of the drawing shown there.
The outermost one's width and height tell the drawing's unit where they name one; bare numbers are CSS pixels, 1/96 inch
by the standard, which many a program writes that means millimetres: the drawing's unit is then "px", a remark says so,
and another unit may be chosen. SVG counts y down; here y goes up, so the drawing is mirrored at y = 0.
Scripts and styles are not run, and nothing outside the file is fetched. What can't be used is counted and named.
Source: W3C, SVG 2, 2018, 7 (coordinates), 9 (paths), 10 (basic shapes), 5 (structure).
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from app.files.curves import MOST_POINTS, Source
from app.files.errors import FileError, shown_name
from app.files.flatten import Arc, Piece, Spline, Straight, is_finite, reach
from app.files.svg_file import ADVICE, MOST_ELEMENTS, PLAIN, Element, read_root
from app.files.svg_numbers import PX_PER_UNIT, Affine, affine_of, length_px, shifted, split_length
from app.files.svg_path import Subpath, TooLongError
from app.files.svg_shapes import SHAPES, Bounds

if TYPE_CHECKING:
    from pathlib import Path

FARTHEST = 1e12
"""Coordinates beyond this are damaged ones."""
DEEPEST_COPY = 16
"""Copies of copies beyond this depth are left out."""
UNITS = ("mm", "cm", "in")
"""Units that a drawing keeps; others that the standard knows become mm."""
USUAL = (300.0, 150.0)
"""Size of a viewport that gives none, px (CSS 2.2, 10.3.2)."""

GROUPS = ("g", "a", "switch")
PASSED_OVER = ("title", "desc", "metadata", "defs", "symbol", "style", "clipPath", "mask", "marker", "pattern", "")
PLAIN_NAMES = {
    "text": ("text", "texts"),
    "image": ("picture", "pictures"),
    "script": ("script, which was not run", "scripts, which were not run"),
    "foreignObject": ("foreign part", "foreign parts"),
}
BARE = (
    "The drawing names no unit; bare numbers are pixels of 1/96 inch by the standard of SVG, but many programs mean "
    "millimetres: check the size, and choose another unit if it is wrong."
)


@dataclass(slots=True)
class Finds:
    """What a walk through the drawing has gathered."""

    name: str
    by_id: dict[str, Element]
    sources: list[Source] = field(default_factory=list)
    left_out: Counter[str] = field(default_factory=Counter)
    damaged: Counter[str] = field(default_factory=Counter)
    outside: int = 0
    hidden: int = 0
    visited: int = 0
    points: int = 0


@dataclass(frozen=True, slots=True)
class Inside:
    """Where the walk stands: the map to the sheet, the viewport's size (user units), the layer, the copies around."""

    map: Affine
    size: Bounds
    layer: str = "0"
    copies: tuple[str, ...] = ()


def read_sources(path: Path) -> tuple[tuple[Source, ...], str, tuple[str, ...]]:
    """The curves of an SVG file, its unit ("px" where it names none), and remarks on what was left out.

    Raises FileError when the file can't be read, is no SVG, is damaged, or is larger than what is read here.
    """
    root = read_root(path)
    finds = Finds(shown_name(path), _by_id(root))
    units, per_px = _unit_of(root)
    sheet = Affine(complex(per_px), -1j * per_px)
    try:
        _enter_viewport(root, Inside(sheet @ affine_of(root.get("transform")), Bounds(*USUAL)), finds, outermost=True)
    except (ValueError, ArithmeticError) as fault:
        raise FileError("the size of its sheet can't be read", finds.name, PLAIN) from fault
    return tuple(finds.sources), units, (*((BARE,) if units == "px" else ()), *_remarks(finds))


def _by_id(root: Element) -> dict[str, Element]:
    """All elements that have an id; of two with one id the first."""
    found: dict[str, Element] = {}
    waiting = [root]
    while waiting:
        element = waiting.pop()
        if "id" in element.attributes:
            found.setdefault(element.attributes["id"], element)
        waiting += reversed(element.children)
    return found


def _unit_of(root: Element) -> tuple[str, float]:
    """The drawing's unit by its width or height, and how many of it make one CSS pixel."""
    for name in ("width", "height"):
        try:
            _, unit = split_length(root.get(name))
        except ValueError:
            continue
        if unit in PX_PER_UNIT and unit not in ("", "px"):
            kept = unit if unit in UNITS else "mm"
            return kept, 1 / PX_PER_UNIT[kept]
    return "px", 1.0


# ---------------------------------------------------------------------------------------------------------------- walk
def _walk(element: Element, inside: Inside, finds: Finds) -> None:
    """Gather what can be used of one element and all that it holds."""
    finds.visited += 1
    if finds.visited > MOST_ELEMENTS:
        raise FileError(
            f"with its copies placed, the drawing holds more than {MOST_ELEMENTS} elements", finds.name, ADVICE
        )
    name = element.name
    if name in PASSED_OVER or not _is_shown(element, finds):
        return
    try:
        own = Inside(inside.map @ affine_of(element.get("transform")), inside.size, inside.layer, inside.copies)
        if name in GROUPS:
            _walk_all(element, _named(own, element), finds)
        elif name == "svg":
            _enter_viewport(element, own, finds)
        elif name == "use":
            _copy(element, own, finds)
        elif name in SHAPES:
            _take(element, own, finds)
        else:
            finds.left_out[name] += 1
    except (ValueError, ArithmeticError):
        finds.damaged[name] += 1  # a damaged element is no reason to lose the others


def _walk_all(element: Element, inside: Inside, finds: Finds) -> None:
    for child in element.children:
        _walk(child, inside, finds)


def _is_shown(element: Element, finds: Finds) -> bool:
    if element.get("display") == "none" or element.get("visibility") in ("hidden", "collapse"):
        finds.hidden += 1
        return False
    return True


def _named(inside: Inside, group: Element) -> Inside:
    """Within a group of a title or an id, the outermost one's is the layer."""
    title = _clean(group.title) or _clean(group.get("id"))
    if inside.layer != "0" or not title:
        return inside
    return Inside(inside.map, inside.size, title, inside.copies)


def _enter_viewport(element: Element, inside: Inside, finds: Finds, outermost: bool = False) -> None:
    """Walk an `svg` or a `symbol` within its own viewport."""
    box = _numbers(element.get("viewBox"))
    usual = Bounds(box[2], box[3]) if outermost and len(box) == 4 else inside.size
    wide = length_px(element.get("width"), usual.wide, usual.wide)
    high = length_px(element.get("height"), usual.high, usual.high)
    corner = Affine() if outermost else shifted(*_corner(element, inside.size))
    if len(box) != 4 or not (box[2] > 0 and box[3] > 0 and wide > 0 and high > 0):
        _walk_all(element, Inside(inside.map @ corner, Bounds(wide, high), inside.layer, inside.copies), finds)
        return
    wide, high = _filled(element, box, (wide, high))
    fit = _fitted(box, (wide, high), element.get("preserveAspectRatio"))
    _walk_all(element, Inside(inside.map @ corner @ fit, Bounds(box[2], box[3]), inside.layer, inside.copies), finds)


def _filled(element: Element, box: list[float], size: tuple[float, float]) -> tuple[float, float]:
    """A viewport's size; a side that isn't given follows from the other by the box's proportions."""
    wide, high = size
    given = [bool(element.get(name)) and "%" not in element.get(name) for name in ("width", "height")]
    if given == [True, False]:
        high = wide * box[3] / box[2]
    if given == [False, True]:
        wide = high * box[2] / box[3]
    return wide, high


def _fitted(box: list[float], size: tuple[float, float], fit: str) -> Affine:
    """The map from a viewBox (x, y, width, height) to a viewport of a size."""
    across, down = size[0] / box[2], size[1] / box[3]
    words = fit.split() or ["xMidYMid"]
    if words[0] != "none":
        across = down = max(across, down) if "slice" in words else min(across, down)
    place = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}
    x = place.get(words[0][1:4], 0.5) * (size[0] - across * box[2])
    y = place.get(words[0][5:8], 0.5) * (size[1] - down * box[3])
    return Affine(complex(across), 1j * down, complex(x - across * box[0], y - down * box[1]))


def _numbers(text: str) -> list[float]:
    return [float(each) for each in text.replace(",", " ").split()]


def _corner(element: Element, size: Bounds) -> tuple[float, float]:
    return length_px(element.get("x"), size.wide), length_px(element.get("y"), size.high)


def _copy(element: Element, inside: Inside, finds: Finds) -> None:
    """Walk what a `use` copies, if it is in this file."""
    link = element.get("href")
    if not link.startswith("#"):
        finds.outside += 1
        return
    target = finds.by_id.get(link[1:])
    if target is None or link in inside.copies or len(inside.copies) >= DEEPEST_COPY:
        finds.damaged["use"] += 1
        return
    moved = inside.map @ shifted(*_corner(element, inside.size))
    own = Inside(moved, inside.size, inside.layer, (*inside.copies, link))
    if target.name == "symbol":
        sized = {name: element.get(name) for name in ("width", "height") if element.get(name)}
        _enter_viewport(Element("symbol", {**target.attributes, **sized}, target.children), own, finds)
    else:
        _walk(target, own, finds)


# ------------------------------------------------------------------------------------------------------------- curves
def _take(element: Element, inside: Inside, finds: Finds) -> None:
    """Add the curves of one shape."""
    try:
        subpaths, whole = SHAPES[element.name](element, inside.size, MOST_POINTS - finds.points)
    except TooLongError:
        raise FileError(f"the drawing has more than {MOST_POINTS} points", finds.name, ADVICE) from None
    if not whole:
        finds.damaged[f"{element.name}, from a place on"] += 1
    for subpath in subpaths:
        pieces = tuple(_placed(piece, inside.map) for piece in subpath.pieces)
        finds.points += sum(len(piece.points) if isinstance(piece, Straight) else 1 for piece in pieces)
        if not all(is_finite(piece) and reach(piece) < FARTHEST for piece in pieces):
            finds.damaged[element.name] += 1
            continue
        finds.sources.append(Source(inside.layer, _kind(element, subpath), subpath.closed, pieces))


def _kind(element: Element, subpath: Subpath) -> str:
    if element.name in ("circle", "ellipse"):
        return element.name
    if not all(isinstance(piece, Straight) for piece in subpath.pieces):
        return "path"
    points = sum(len(piece.points) for piece in subpath.pieces if isinstance(piece, Straight))
    return "line" if points == 2 else "polyline"


def _placed(piece: Piece, map_: Affine) -> Piece:
    """A piece carried by a map: all kinds of piece stay what they are."""
    if isinstance(piece, Straight):
        return Straight(tuple(map(map_.place, piece.points)))
    if isinstance(piece, Spline):
        return Spline(tuple(map(map_.place, piece.control)), piece.weights, piece.knots, piece.degree)
    ends = piece.ends and (map_.place(piece.ends[0]), map_.place(piece.ends[1]))
    return Arc(map_.place(piece.centre), map_.turn(piece.u), map_.turn(piece.v), piece.start, piece.span, ends)


def _clean(name: str) -> str:
    """A name without what no label can hold."""
    return "".join(letter for letter in " ".join(name.split()) if letter.isprintable())[:60].strip()


def _remarks(finds: Finds) -> tuple[str, ...]:
    """What was left out, in sentences."""
    remarks = []
    if finds.left_out:
        words = ((count, *PLAIN_NAMES.get(kind, (kind, kind))) for kind, count in finds.left_out.items())
        remarks.append(f"Left out: {', '.join(f'{n} {many if n > 1 else one}' for n, one, many in words)}.")
    if finds.hidden:
        remarks.append(f"Left out, as hidden in the drawing: {finds.hidden} part{'s' if finds.hidden > 1 else ''}.")
    if finds.outside:
        one = "1 copy of a thing" if finds.outside == 1 else f"{finds.outside} copies of things"
        remarks.append(f"Not fetched: {one} in another file.")
    if finds.damaged:
        parts = ", ".join(f"{count} × {kind}" for kind, count in finds.damaged.items())
        remarks.append(f"Damaged and left out: {parts}.")
    return tuple(remarks)
