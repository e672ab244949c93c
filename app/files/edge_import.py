"""Closed contours with true arcs out of a DXF drawing: what a plate's own edge, its holes and cutouts are drawn as.

Curves that are closed are contours as they stand; lines and arcs whose ends meet are joined. An arc that is round stays
an arc; ellipses and splines become chords that miss them by no more than TOLERANCE. What stays open is left out.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from app.files.curves import MM_PER_UNIT
from app.files.dxf_import import read_sources
from app.files.errors import FileError
from app.files.flatten import Arc, flatten
from kinematics.contours import ONE, Contour

if TYPE_CHECKING:
    from pathlib import Path

    from app.files.curves import Source
    from app.files.flatten import Piece

TOLERANCE = 0.01
"""Mm by which chords may miss what is no round arc."""
MEET = 0.02
"""Mm within which two ends are one."""
ROUND = 1e-6
"""Share by which a round arc's two half axes may differ."""
MOST_PIECES = 5000
"""More lines and arcs than these are no plate's edge."""

Chain = list[tuple[complex, float]]
"""Corners with the bulges of the pieces that begin at them; the last one's bulge means nothing."""


def read_contours(path: Path) -> list[Contour]:
    """The closed contours of a drawing, mm, anticlockwise, the largest first.

    Raises FileError where the file can't be read, doesn't say its unit, or holds no closed contour.
    """
    sources, units, _ = read_sources(path)
    if units is None:
        remedy = "Save it with its unit, or bring it in as an outline (drawer Trace), where you say it."
        raise FileError("the drawing doesn't say its unit", path.name, remedy)
    if sum(len(source.pieces) for source in sources) > MOST_PIECES:
        remedy = "Save the plate alone as a drawing of its own."
        raise FileError("the drawing holds more lines than a plate's edge has", path.name, remedy)
    factor = MM_PER_UNIT[units]
    rings: list[Chain] = []
    open_ones: list[Chain] = []
    for source in sources:
        chain = [(z * factor, bulge) for z, bulge in _chain(source, factor)]
        is_closed = source.closed or abs(chain[0][0] - chain[-1][0]) <= MEET
        (rings if is_closed and len(chain) > 2 else open_ones).append(chain)
    found = [contour for ring in (*rings, *_joined(open_ones)) if (contour := _contour(ring)) is not None]
    if not found:
        raise FileError("the drawing holds no closed line", path.name, "Close the plate's edge, and save it again.")
    return sorted(found, key=lambda contour: -contour.area)


def _chain(source: Source, factor: float) -> Chain:
    """A curve's corners, in its own unit; a closed one comes back to its first."""
    chain: Chain = []
    for piece in source.pieces:
        part = _corners(piece, factor)
        if chain and abs(chain[-1][0] - part[0][0]) <= ONE:
            chain.pop()
        chain += part
    if source.closed and abs(chain[0][0] - chain[-1][0]) > ONE:
        chain.append((chain[0][0], 0.0))
    return chain


def _corners(piece: Piece, factor: float) -> Chain:
    if not isinstance(piece, Arc) or not _is_round(piece):
        return [(z, 0.0) for z in flatten(piece, TOLERANCE / factor)]
    count = math.ceil(abs(piece.span) / math.pi - 1e-9)  # a bulge of more than half a circle is no common thing
    turn = math.copysign(1.0, (piece.u.conjugate() * piece.v).imag) * piece.span / count
    places = [piece.at(piece.start + piece.span * k / count) for k in range(count + 1)]
    if piece.ends is not None:
        places[0], places[-1] = piece.ends
    return [(z, math.tan(turn / 4.0)) for z in places]


def _is_round(arc: Arc) -> bool:
    even = abs(abs(arc.u) - abs(arc.v)) <= ROUND * abs(arc.u)
    return even and abs((arc.u.conjugate() * arc.v).real) <= ROUND * abs(arc.u) ** 2


def _joined(chains: list[Chain]) -> list[Chain]:
    """Rings of open chains whose ends meet, in order; what meets nothing is left out."""
    rest, rings = list(chains), []
    while rest:
        run = rest.pop(0)
        while abs(run[0][0] - run[-1][0]) > MEET or len(run) < 3:
            place = next((k for k, each in enumerate(rest) if _meets(run, each)), None)
            if place is None:
                break
            each = rest.pop(place)
            run = [*run[:-1], *(each if abs(each[0][0] - run[-1][0]) <= MEET else _backwards(each))]
        else:
            rings.append(run)
    return rings


def _meets(run: Chain, other: Chain) -> bool:
    return min(abs(other[0][0] - run[-1][0]), abs(other[-1][0] - run[-1][0])) <= MEET


def _backwards(chain: Chain) -> Chain:
    bulges = [-bulge for _, bulge in chain[:-1]][::-1]
    return list(zip([z for z, _ in chain][::-1], [*bulges, 0.0], strict=True))


def _contour(ring: Chain) -> Contour | None:
    """The ring as a contour; None of one that encloses nothing."""
    kept = [(z, bulge) for (z, bulge), (after, _) in pairwise(ring) if abs(after - z) > ONE]
    if len(kept) < 2:
        return None
    contour = Contour(np.array([z for z, _ in kept]), np.array([bulge for _, bulge in kept]))
    area = contour.area
    return None if abs(area) < ONE else contour if area > 0.0 else contour.reversed()
