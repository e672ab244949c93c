"""Outlines in: curves from a DXF or SVG drawing or from measured points, for the builder to choose from.

`read_dxf`, `read_svg` and `read_points` give curves; which of them becomes the outline of which link is the builder's
choice. A drawing that doesn't say its unit has `units` None: ask, then call `scaled`. What a file holds beside usable
curves is told in `Drawing.remarks`, never dropped in silence.
"""

from __future__ import annotations

from pathlib import Path

from app.files.curves import MM_PER_UNIT, Curve, Drawing, drawing_of, scaled
from app.files.points_import import read_points, read_points_file

__all__ = ["MM_PER_UNIT", "Curve", "Drawing", "read_dxf", "read_points", "read_points_file", "read_svg", "scaled"]


def read_dxf(path: str | Path) -> Drawing:
    """The curves of a DXF drawing, flattened to 0.05 mm, lines that meet end to end joined.

    Raises FileError when the file can't be read, is damaged or too large, OutlineError when it holds nothing usable.
    """
    from app.files.dxf_import import read_sources

    sources, units, said = read_sources(Path(path))
    return drawing_of(sources, units, said)


def read_svg(path: str | Path) -> Drawing:
    """The curves of an SVG drawing, y up, flattened to 0.05 mm, lines that meet end to end joined.

    Its unit is that of its width, or "px" (1/96 inch), with a remark, where it names none: offer others, then call
    `scaled`. Raises as `read_dxf` does; nothing outside the file is fetched.
    """
    from app.files.svg_import import read_sources

    sources, units, said = read_sources(Path(path))
    return drawing_of(sources, units, said)
