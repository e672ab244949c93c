"""Outlines out: closed lines as a drawing, full size, DXF or SVG.

DXF: polylines that are closed by their flag, in mm ($INSUNITS 4: public DXF reference), on one layer. SVG: width and
height in mm with a viewBox in mm, so that one unit is one mm (SVG 1.1, 2011, 7.2 and 7.7); y is turned downwards.
"""

from __future__ import annotations

import io
from typing import TYPE_CHECKING
from xml.sax.saxutils import quoteattr

from app.files.atomic import write_whole
from app.files.errors import FileError, fault_of, shown_name

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from kinematics.project import Point

MM = 4  # $INSUNITS
MARGIN = 10.0  # mm around an SVG


def save_rings(rings: Sequence[Sequence[Point]], path: Path, layer: str) -> None:
    """Write closed lines (mm) as .dxf or .svg. Raises FileError for another ending and what can't be written."""
    ways = {".dxf": _dxf, ".svg": _svg}
    way = ways.get(path.suffix.lower())
    if way is None:
        raise FileError(f'"{path.suffix}" is no kind of drawing', shown_name(path), "Let the name end in .dxf or .svg.")
    if not rings:
        raise FileError("there is nothing to draw", shown_name(path))
    try:
        write_whole(path, way(rings, layer))
    except OSError as fault:
        raise FileError(f"the drawing can't be written: {fault_of(fault)}", shown_name(path)) from fault


def _dxf(rings: Sequence[Sequence[Point]], layer: str) -> bytes:
    import ezdxf

    document = ezdxf.new("R2010", units=MM)  # type: ignore[attr-defined]  # ezdxf exports it lazily
    document.layers.add(layer)
    space = document.modelspace()
    for ring in rings:
        space.add_lwpolyline(list(ring), close=True, dxfattribs={"layer": layer})
    out = io.StringIO()
    document.write(out)
    return out.getvalue().encode(document.encoding)


def _svg(rings: Sequence[Sequence[Point]], layer: str) -> bytes:
    xs = [x for ring in rings for x, _ in ring]
    ys = [y for ring in rings for _, y in ring]
    left, top = min(xs) - MARGIN, max(ys) + MARGIN
    width, height = max(xs) + MARGIN - left, top - (min(ys) - MARGIN)
    paths = " ".join("M" + " L".join(f"{x - left:.4f},{top - y:.4f}" for x, y in ring) + " Z" for ring in rings)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.4f}mm" height="{height:.4f}mm" '
        f'viewBox="0 0 {width:.4f} {height:.4f}">\n'
        f'<path id={quoteattr(layer)} fill="none" stroke="black" stroke-width="0.2" d="{paths}"/>\n</svg>\n'
    ).encode()
