"""Which drawing is drawn how, by the kinds that steps name. Drawn with the shapes that the window draws."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.build_sheet import bench_drawings, pose_drawings, wall_drawings
from app.build_sheet.picture import Asked

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.build_sheet.facts import Facts
    from app.build_sheet.picture import Picture
    from app.build_sheet.step import Drawing

KINDS: dict[str, Callable[[Asked], Picture]] = {
    "parts": bench_drawings.parts,
    "edge": bench_drawings.edge,
    "bend": bench_drawings.bend,
    "eye": bench_drawings.eye,
    "holes": bench_drawings.holes,
    "bushing": bench_drawings.bushing,
    "section": bench_drawings.section,
    "wedge": wall_drawings.wedge,
    "base side": wall_drawings.base_side,
    "base plate": wall_drawings.base_plate,
    "lean": wall_drawings.lean,
    "bar": wall_drawings.bar,
    "set out": wall_drawings.set_out,
    "pattern": wall_drawings.pattern,
    "pose": pose_drawings.pose,
    "near": pose_drawings.near,
    "helped": pose_drawings.helped,
    "packers": pose_drawings.packers,
    "stop": pose_drawings.stop,
    "latch": pose_drawings.latch,
    "mounts": pose_drawings.mounts,
}


def picture_of(facts: Facts, drawing: Drawing, wide: float) -> Picture:
    """What a drawing shows, in a room so wide (mm)."""
    return KINDS[drawing.kind](Asked(facts, drawing.of, wide / drawing.tall))
