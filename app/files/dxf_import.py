"""DXF drawings: which curves they hold, whatever blocks they are wrapped in.

Terms of the format. An *entity* is a thing drawn. An INSERT places a *block*, a named group of entities, shifted,
turned, scaled, mirrored, perhaps in rows and columns; blocks may hold further INSERTs. A walk through the model space
enters every block and brings home exact pieces (see dxf_entities.py); whatever it can't use it counts and names.
Source of names and codes: the public DXF reference.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from app.files.curves import Source
from app.files.dxf_entities import READERS, Frame, read_entity
from app.files.dxf_file import ADVICE, MOST_ENTITIES, read_document
from app.files.errors import FileError
from app.files.flatten import is_finite, reach

if TYPE_CHECKING:
    from pathlib import Path

    from ezdxf.document import Drawing as Document

FARTHEST = 1e12
"""Coordinates beyond this, in any unit, are damaged ones."""
DEEPEST_BLOCK = 32
"""Blocks within blocks beyond this depth are left out."""

PLAIN_NAMES = {
    "TEXT": ("text", "texts"),
    "MTEXT": ("text", "texts"),
    "ATTRIB": ("text", "texts"),
    "ATTDEF": ("text", "texts"),
    "DIMENSION": ("dimension", "dimensions"),
    "ARC_DIMENSION": ("dimension", "dimensions"),
    "LEADER": ("leader", "leaders"),
    "MULTILEADER": ("leader", "leaders"),
    "HATCH": ("hatch", "hatches"),
    "MPOLYGON": ("hatch", "hatches"),
    "POINT": ("single point", "single points"),
    "IMAGE": ("picture", "pictures"),
    "XLINE": ("endless line", "endless lines"),
    "RAY": ("endless line", "endless lines"),
    "SOLID": ("filled area", "filled areas"),
    "3DFACE": ("3-D face", "3-D faces"),
    "MESH": ("3-D mesh", "3-D meshes"),
    "POLYMESH": ("3-D mesh", "3-D meshes"),
    "3DSOLID": ("3-D solid", "3-D solids"),
    "REGION": ("region", "regions"),
    "VIEWPORT": ("viewport", "viewports"),
}


@dataclass(slots=True)
class Finds:
    """What a walk through the drawing has gathered."""

    sources: list[Source] = field(default_factory=list)
    left_out: Counter[str] = field(default_factory=Counter)
    damaged: Counter[str] = field(default_factory=Counter)
    tilted: int = 0
    notes: list[str] = field(default_factory=list)
    visited: int = 0


@dataclass(frozen=True, slots=True)
class Inside:
    """Where the walk stands: the frame, the layer that "0" means here, and the blocks around."""

    frame: Frame
    layer: str = "0"
    blocks: tuple[str, ...] = ()


def read_sources(path: Path) -> tuple[tuple[Source, ...], str | None, tuple[str, ...]]:
    """The curves of a DXF file, its unit (None where it doesn't say), and remarks on what was left out.

    Raises FileError when the file can't be read, is no DXF, breaks off, or is larger than what is read here.
    """
    document, units, said = read_document(path)
    from ezdxf.math import Matrix44

    finds = Finds()
    _walk(document.modelspace(), Inside(Frame.of(Matrix44())), finds, path)
    return tuple(finds.sources), units, (*said, *_remarks(document, finds))


def _walk(entities: Any, inside: Inside, finds: Finds, path: Path) -> None:  # noqa: ANN401  a layout or a block
    """Gather what can be used from a layout or a block, blocks within included."""
    for entity in entities:
        finds.visited += 1
        if finds.visited > MOST_ENTITIES:
            raise FileError(
                f"with its blocks placed, the drawing holds more than {MOST_ENTITIES} entities", path.name, ADVICE
            )
        kind = entity.dxftype()
        if kind == "INSERT":
            _enter(entity, inside, finds, path)
        elif kind in READERS:
            _take(entity, kind, inside, finds)
        else:
            finds.left_out[kind] += 1


def _enter(insert: Any, inside: Inside, finds: Finds, path: Path) -> None:  # noqa: ANN401  ezdxf's entities are dynamic
    """Walk the block that an INSERT places, once for each of its rows and columns."""
    name = insert.dxf.get("name", "")
    block = insert.block()
    finds.left_out["ATTRIB"] += len(insert.attribs)
    if block is None:
        finds.damaged[f"placing of the missing block {_clean(name)!r}"] += 1
        return
    if name in inside.blocks or len(inside.blocks) >= DEEPEST_BLOCK:
        finds.damaged[f"placing of the block {_clean(name)!r} within itself"] += 1
        return
    if insert.mcount > MOST_ENTITIES:
        raise FileError(f"the block {_clean(name)!r} is placed {insert.mcount} times", path.name, ADVICE)
    for each in insert.multi_insert() if insert.mcount > 1 else (insert,):
        matrix = each.matrix44() @ inside.frame.matrix
        _walk(block, Inside(Frame.of(matrix), _layer(insert, inside), (*inside.blocks, name)), finds, path)


def _take(entity: Any, kind: str, inside: Inside, finds: Finds) -> None:  # noqa: ANN401
    """Add one entity's curve, or count why not."""
    if kind == "POLYLINE" and not (entity.is_2d_polyline or entity.is_3d_polyline):
        finds.left_out["POLYMESH"] += 1
        return
    try:
        read = read_entity(entity, kind, inside.frame)
    except (ValueError, ArithmeticError, LookupError, TypeError, AttributeError):
        finds.damaged[kind] += 1  # a damaged entity is no reason to lose the others
        return
    if not read.pieces or not all(is_finite(piece) and reach(piece) < FARTHEST for piece in read.pieces):
        finds.damaged[kind] += 1
        return
    finds.tilted += read.tilted
    finds.sources.append(Source(_layer(entity, inside), read.kind, read.closed, read.pieces))


def _layer(entity: Any, inside: Inside) -> str:  # noqa: ANN401
    """An entity's layer; within a block, layer "0" means that of the INSERT."""
    layer = _clean(entity.dxf.get("layer", "0")) or "0"
    return inside.layer if layer == "0" and inside.blocks else layer


def _clean(name: object) -> str:
    """A name without what no text file or label can hold."""
    text = str(name).encode("utf-8", "replace").decode()
    return "".join(letter for letter in text if letter.isprintable())[:60].strip()


def _remarks(document: Document, finds: Finds) -> tuple[str, ...]:
    """What was left out or looks odd, in sentences."""
    remarks = []
    if any(finds.left_out.values()):
        remarks.append(f"Left out: {_listed(finds.left_out)}.")
    if finds.damaged:
        parts = ", ".join(f"{count} × {kind}" for kind, count in finds.damaged.items())
        remarks.append(f"Damaged and left out: {parts}.")
    if finds.tilted:
        one = "1 curve leaves" if finds.tilted == 1 else f"{finds.tilted} curves leave"
        remarks.append(f"{one} the drawing's plane; taken as seen along z.")
    hidden = _hidden_layers(document, {source.layer for source in finds.sources})
    if hidden:
        remarks.append(f"Switched off in the drawing, but brought in: layer {', '.join(hidden)}.")
    return tuple(remarks)


def _listed(left_out: Counter[str]) -> str:
    """Kinds and how many of each, in plain words where there are some."""
    words: Counter[tuple[str, str]] = Counter()
    for kind, count in left_out.items():
        words[PLAIN_NAMES.get(kind, (_clean(kind), _clean(kind)))] += count
    return ", ".join(f"{count} {many if count > 1 else one}" for (one, many), count in words.items() if count)


def _hidden_layers(document: Document, used: set[str]) -> list[str]:
    """Those of the used layers that are off or frozen in the drawing."""
    found = []
    for layer in document.layers:
        name = _clean(layer.dxf.get("name", ""))
        if name in used and (layer.is_off() or layer.is_frozen()):
            found.append(f"“{name}”")
    return found
