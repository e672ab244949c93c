"""What an import gives: a drawing's curves, from which the builder chooses the outlines of his links.

A *source* is a curve as the file has it: exact pieces in the file's own unit. A *curve* is a source, or several joined
end to end, flattened to points in mm. A drawing that doesn't say its unit has curves in drawing units (as if they were
mm) until `scaled` is told the unit: no unit is ever guessed.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from math import dist

from app.files.flatten import TOLERANCE, Arc, Piece, flatten, reach, steps_of
from app.files.joining import EXACT, Chain, join, without_repeats
from kinematics.errors import OutlineError
from kinematics.values import LARGEST_COORDINATE, Point

MM_PER_UNIT = {
    # 1 inch is 25.4 mm exactly (international yard and pound agreement, 1959); the rest are multiples.
    "mm": 1.0,
    "in": 25.4,
    "cm": 10.0,
    "dm": 100.0,
    "m": 1000.0,
    "ft": 304.8,
    "yd": 914.4,
    "mil": 0.0254,
    "µin": 0.0000254,
    "µm": 0.001,
    "px": 25.4 / 96,  # the pixel of CSS and SVG (W3C, CSS Values and Units Level 3, 2024, 6.2)
}
"""mm in one of each unit that a drawing may be in."""

SHOWN_SHARE = 1e-4
"""Share of the drawing's reach within which curves are flattened for show while their unit is unknown."""

MOST_POINTS = 200_000
"""More points than this in one drawing are refused: no outline of a panel needs them."""


@dataclass(frozen=True, slots=True)
class Source:
    """One curve as a file has it: pieces that follow each other end to end, in the file's unit."""

    layer: str
    kind: str
    closed: bool
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Curve:
    """A curve to choose as an outline.

    name : what to call it at first ("" where the file has no name for it).
    kind : "line", "polyline", "arc", "circle", "ellipse", "spline", "path" (of SVG, with curves), "points",
        or "joined" for several end to end.
    points : mm (drawing units while the drawing's unit is unknown); a closed curve doesn't repeat its first point.
    """

    name: str
    layer: str
    kind: str
    closed: bool
    points: tuple[Point, ...]

    @property
    def length(self) -> float:
        """Length along the points, mm, the closing stretch of a closed curve included."""
        around = (*self.points, self.points[0]) if self.closed else self.points
        return sum(dist(a, b) for a, b in pairwise(around))


@dataclass(frozen=True, slots=True)
class Drawing:
    """What a drawing holds.

    units : one of `MM_PER_UNIT`, or None where the file doesn't say: ask the builder, then call `scaled`.
    curves : in the file's order.   remarks : sentences on what was left out, joined or looks odd.
    sources, said : what the curves and the remarks are made of, kept so that `scaled` can start afresh.
    """

    units: str | None
    curves: tuple[Curve, ...]
    remarks: tuple[str, ...]
    sources: tuple[Source, ...] = field(default=(), repr=False)
    said: tuple[str, ...] = field(default=(), repr=False)


def drawing_of(sources: tuple[Source, ...], units: str | None, said: tuple[str, ...]) -> Drawing:
    """Flatten sources in mm and join what meets end to end.

    While `units` is None the points stay in drawing units and keep within 1/10 000 of the drawing's reach, for show.

    Raises
    ------
    OutlineError
        when nothing usable remains, or too many points.
    """
    factor = MM_PER_UNIT[units] if units else 1.0
    near, far = (list(sources), 0) if units is None else _within_reach(sources, factor)
    tolerance = TOLERANCE if units else SHOWN_SHARE * (max(map(_reach, sources), default=0.0) or 1.0)
    chains = _chains(near, factor, tolerance)
    lines, repeated = without_repeats([chain for chain in chains if chain.length > EXACT * tolerance], tolerance)
    whole = join(lines, tolerance)
    # Only now: an outline may be made of steps that are specks by themselves.
    joined = [chain for chain in whole if chain.length > 2 * tolerance]
    specks = len(chains) - repeated - len(lines) + len(whole) - len(joined)
    short = "0.1 mm" if units else "1/5000 of the drawing"
    remarks = (
        *said,
        *_told(far, "lies, at least in part, more than 100 m from the drawing's origin (0, 0)"),
        *_told(specks, f"is shorter than {short}"),
        *_told(repeated, "lies exactly on another one"),
    )
    if not joined:
        raise _nothing_usable(remarks)
    return Drawing(units, tuple(_curve(chain) for chain in joined), remarks, sources, said)


def _nothing_usable(remarks: tuple[str, ...]) -> OutlineError:
    """The error for a drawing without curves, with all that was seen instead."""
    return OutlineError(
        " ".join(("the drawing holds no line or curve that can be used.", *remarks)),
        "",
        "Draw the outline near the origin, with lines, arcs, polylines or splines in the drawing's model space.",
    )


def scaled(drawing: Drawing, units: str) -> Drawing:
    """The same drawing read in another unit, flattened anew so that 0.05 mm are 0.05 mm.

    Raises OutlineError for a unit that is none of `MM_PER_UNIT`, or when nothing usable remains in it.
    """
    if units not in MM_PER_UNIT:
        raise OutlineError(f'"{units}" is no unit that is known here', "", f"Take one of {', '.join(MM_PER_UNIT)}.")
    return drawing_of(drawing.sources, units, drawing.said)


def _within_reach(sources: tuple[Source, ...], factor: float) -> tuple[list[Source], int]:
    """The sources whose coordinates a project can hold, and how many others there are."""
    near = [source for source in sources if _reach(source) * factor <= LARGEST_COORDINATE]
    return near, len(sources) - len(near)


def _reach(source: Source) -> float:
    """How far a source goes from the origin, in its own unit."""
    return max(map(reach, source.pieces))


def _chains(sources: list[Source], factor: float, tolerance: float) -> list[Chain]:
    """The sources flattened to within `tolerance`, in mm."""
    chains: list[Chain] = []
    total = 0
    for source in sources:
        # The arcs' points are counted before they are made: a radius of 100 m in a drawing of arcs soon fills a memory.
        arcs = [piece for piece in source.pieces if isinstance(piece, Arc)]
        total += sum(steps_of(arc, tolerance / factor) for arc in arcs)
        if total <= MOST_POINTS:
            chains.append(_chain(source, factor, tolerance))
            total += len(chains[-1].points)
        if total > MOST_POINTS:
            raise OutlineError(
                f"flattened to within 0.05 mm, the drawing has more than {MOST_POINTS} points",
                "",
                "Check its unit, or save only the lines of the outline to a drawing of their own.",
            )
    return chains


def _chain(source: Source, factor: float, tolerance: float) -> Chain:
    """One source flattened to within `tolerance`, in mm."""
    points: list[complex] = []
    for piece in source.pieces:
        more = flatten(piece, tolerance / factor)
        points += more[1:] if points and points[-1] == more[0] else more
    chain = Chain(source.layer, source.kind, source.closed, [z * factor for z in points])
    return chain.closed_if_ring(EXACT * tolerance)


def _curve(chain: Chain) -> Curve:
    """One chain as a curve to choose; what is called closed but has two points only is a line."""
    points = chain.as_points()
    return Curve(_name(chain.layer), chain.layer, chain.kind, chain.closed and len(points) > 2, points)


def _name(layer: str) -> str:
    """A layer's name as a first name for a curve; "0" is the layer of those who gave no name."""
    return "" if layer == "0" else layer


def _told(count: int, why: str) -> tuple[str, ...]:
    """A remark on curves that were left out, or none."""
    return (f"Left out: {count} curve{'s' if count > 1 else ''}, because each {why}.",) if count else ()
