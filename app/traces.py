"""What the sweep leaves on the sheet: ghosts of the panel, paths of marks, the smallest clearances, contacts; and the
datum lines of floor and roof, which are told in the builder's units as these are. No Qt here.

Ghosts are the panel's own outlines at other placements, so they need no new points while a pin is dragged. A
clearance is a dimension where it is smallest: a line between the two nearest points, an arrow against each from
outside, and a label that says how much and at which opening. For the gap most in need, and those that fall short,
the outline that moves stands there too, dashed, as it stands at that opening. Where outlines touch, a struck circle
and words say so; a clearance that falls short is framed and names what was wanted: never by colour alone.
"""

from __future__ import annotations

from math import atan2, degrees, hypot
from typing import TYPE_CHECKING

import numpy as np

from app.check_figures import gap_figures
from app.datums import datums
from app.holding_shapes import holding_shapes
from app.lengths import format_angle
from app.shapes import Label, Layer, Pen, Placement, Shape, Stroke, Symbol, link_edge, seen
from app.shut_shapes import entry_shapes
from app.words import doubt_words, touching_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from app.lengths import Units
    from app.look import Look
    from kinematics.analysis import Analysis
    from kinematics.project import Point, Project
    from kinematics.results import Gap

GHOSTS = 9  # with the shut one and the last one
MOST_GAPS = 8  # dimensions on one sheet; more of them would hide each other


def traces(analysis: Analysis, look: Look, units: Units | None = None) -> list[Shape]:
    """Give all that the sweep adds to the picture of `analysis.project`; without units, in those of the project."""
    units = units or analysis.project.display_units
    return [
        *datums(analysis.project, look, units),
        *ghosts(analysis, look),
        *paths(analysis, look),
        *clearances(analysis, look, units),
        *holding_shapes(analysis, look, units),
        *entry_shapes(analysis, look, units),
    ]


# -------------------------------------------------------------------------------------------------------- ghosts, paths
def ghosts(analysis: Analysis, look: Look) -> list[Shape]:
    """Give thin copies of the panel's outlines, evenly spread over the sweep; none where it doesn't move."""
    count = len(analysis.openings)
    if count < 2:
        return []
    panel = analysis.project.panel.id
    rows = np.unique(np.linspace(0, count - 1, min(GHOSTS, count)).round().astype(int)).tolist()
    placements = [_placement(analysis, panel, row) for row in rows]
    pen = Pen(look.ghost, look.thin)
    return [
        Stroke(f"ghost:{outline.id}:{place}", panel, outline.points, pen, Layer.GHOSTS, outline.closed, at=placement)
        for outline in seen(analysis.project.outlines)
        if outline.on == panel
        for place, placement in enumerate(placements)
    ]


def _placement(analysis: Analysis, link_id: str, row: int) -> Placement:
    column = analysis.links.index(link_id)
    shift = complex(analysis.shifts[row, column])
    return Placement(float(analysis.turns[row, column]), shift.real, shift.imag)


def paths(analysis: Analysis, look: Look) -> list[Shape]:
    """Give the paths of the marks and of the handle through the sweep, dashed."""
    fixed = analysis.project.fixed.id
    pen = Pen(look.path, look.thin, (5.0, 3.0))
    found = {
        f"path:{name}": path for name, path in analysis.mark_paths.items() if not analysis.project.mark(name).hidden
    }
    handle = None if analysis.project.loads is None else analysis.project.loads.handle
    if handle is not None:
        found["path of the handle"] = analysis.path(handle.on, handle.at)
    return [Stroke(key, fixed, _points(path), pen, Layer.PATHS) for key, path in found.items() if len(path) > 1]


def pivot_path(analysis: Analysis, pivot_id: str, look: Look) -> list[Shape]:
    """Give the path of one pin through the sweep: shown for the pin that is selected."""
    path = analysis.pivot_paths.get(pivot_id)
    if path is None or len(path) < 2:
        return []
    return [
        Stroke(
            f"path of pivot:{pivot_id}",
            analysis.project.fixed.id,
            _points(path),
            Pen(look.selection, look.thin, (2.0, 3.0)),
            Layer.PATHS,
        )
    ]


def _points(path: NDArray[np.float64]) -> tuple[Point, ...]:
    return tuple((x, y) for x, y in path.tolist())


# ----------------------------------------------------------------------------------------------------------- clearances
def clearances(analysis: Analysis, look: Look, units: Units) -> list[Shape]:
    """Give the dimension, or the contact, of every gap that is shown; `shown_gaps` chooses."""
    found: list[Shape] = []
    for rank, gap in enumerate(shown_gaps(analysis)):
        found += _dimension(analysis, gap, rank, look, units)
    return found


def contacts(analysis: Analysis, gaps: Sequence[Gap], look: Look, units: Units) -> list[Shape]:
    """Give the contacts of gaps that nobody watches, such as of struts, marked as all others are."""
    return [shape for gap in gaps for shape in _dimension(analysis, gap, MOST_GAPS, look, units)]


def shown_gaps(analysis: Analysis) -> list[Gap]:
    """Choose the gaps to show, the one most in need first: all that are wanted, all that touch, and the smallest if
    none is wanted. Of a thing to keep clear of, which is watched against whatever passes, the nearest does.
    """
    there = [gap for gap in analysis.gaps if gap.smallest is not None and gap.at_points is not None]
    wanted = [gap for gap in there if gap.at_least is not None]
    touching = [gap for gap in there if gap.at_least is None and gap.smallest == 0]
    chosen = wanted + touching or sorted(there, key=lambda gap: gap.smallest or 0.0)[:1]
    return _one_a_thing(sorted(chosen, key=_room), analysis.project.keep_clear)[:MOST_GAPS]


def _one_a_thing(gaps: list[Gap], things: tuple[str, ...]) -> list[Gap]:
    """Leave out what is farther from a thing than something else, unless it falls short."""
    kept: list[Gap] = []
    told: set[str] = set()
    for gap in gaps:
        named = set(things).intersection(gap.between)
        if not named or gap.ok is False or not named <= told:
            kept.append(gap)
        told |= named
    return kept


def _room(gap: Gap) -> float:
    """How much a gap has to spare, mm; negative where it falls short."""
    return (gap.smallest or 0.0) - gap.uncertain - (gap.at_least or 0.0)


def gap_key(gap: Gap) -> str:
    """Give the key under which a gap's shapes stand; those of one gap all begin with it."""
    return f"gap:{gap.between[0]}|{gap.between[1]}"


def _dimension(analysis: Analysis, gap: Gap, rank: int, look: Look, units: Units) -> list[Shape]:
    if gap.at_points is None:
        return []
    key, fixed = gap_key(gap), analysis.project.fixed.id
    one, other = gap.at_points
    touches, short = gap.smallest == 0, gap.ok is False or gap.smallest == 0
    ink = look.short if short else look.gap
    found = _witness(analysis, gap, ink) if rank == 0 or short else []
    if touches:
        found.append(Symbol(f"{key}:contact", fixed, (one,), "contact", ink, look.paper, Layer.GAPS))
    else:
        found.append(Stroke(key, fixed, (one, other), Pen(ink, look.line), Layer.GAPS))
        turn = degrees(atan2(other[1] - one[1], other[0] - one[0]))
        for end, (place, towards) in enumerate(((one, turn), (other, turn + 180.0))):
            found.append(
                Symbol(f"{key}:arrow {end + 1}", fixed, (place,), "arrow", ink, look.paper, Layer.GAPS, towards)
            )
    found.append(_gap_label(gap, fixed, gap_text(gap, units), rank, ink, look, framed=short))
    return found


def _gap_label(gap: Gap, fixed: str, text: str, rank: int, ink: str, look: Look, *, framed: bool) -> Label:
    one, other = gap.at_points or ((0.0, 0.0), (0.0, 0.0))
    return Label(
        f"{gap_key(gap)}:label",
        fixed,
        ((one[0] + other[0]) / 2, (one[1] + other[1]) / 2),
        text,
        ink,
        look.paper,
        look.words_px,
        _aside(one, other),
        rank=0 if framed else 1 + rank // 4,
        bold=True,
        framed=framed,
        leader=True,
        clear_px=26.0,
    )


def gap_text(gap: Gap, units: Units) -> str:
    """Say a gap's smallest value and its opening: "3.1 mm at 31.2°"; the want where it falls short; every contact.

    A contact before the opening from which the want holds is told too.
    """
    contact = f"touches at {touching_words(gap, units) if gap.touching_deg else format_angle(gap.at_deg, units)}"
    if gap.smallest == 0:
        return contact
    doubt = doubt_words(gap.smallest, gap.uncertain, units)
    smallest, wanted = gap_figures(gap, units)
    text = f"{smallest}{doubt} at {format_angle(gap.at_deg, units)}"
    if gap.ok is False:
        text = f"{text}, want {wanted}"
    return f"{text}; {contact}" if gap.touching_deg else text


def touching_now(analysis: Analysis, deg: float) -> list[Gap]:
    """Give the gaps whose outlines touch at this opening (within 1e-6°, as a mere touch is one angle)."""
    return [gap for gap in analysis.gaps if any(a - 1e-6 <= deg <= b + 1e-6 for a, b in gap.touching_deg)]


def _aside(one: Point, other: Point) -> Point:
    """Look across a dimension, to its right or above it; up where both ends are one."""
    x, y = other[0] - one[0], other[1] - one[1]
    if hypot(x, y) < 1e-9:
        return 0.0, 1.0
    return (y, -x) if y > 0 or (y == 0 and x < 0) else (-y, x)


def _witness(analysis: Analysis, gap: Gap, ink: str) -> list[Shape]:
    """Give the partners of a gap that move, dashed, as they stand where the gap is smallest."""
    if gap.at_deg is None:
        return []
    project = analysis.project
    pose, columns = analysis.pose(gap.at_deg), project.link_index
    found: list[Shape] = []
    for name in gap.between:
        link_id = project.rides_on(name)
        if link_id in (project.fixed.id, ""):  # a strut or spring rides between two links
            continue
        column = columns[link_id]
        shift = complex(pose.shifts[column])
        points, closed = _partner(project, name)
        at = Placement(float(pose.turns[column]), shift.real, shift.imag)
        found.append(
            Stroke(
                f"{gap_key(gap)}:witness:{name}",
                link_id,
                points,
                Pen(ink, 1.0, (7.0, 5.0)),
                Layer.GHOSTS,
                closed,
                at=at,
            )
        )
    return found


def _partner(project: Project, name: str) -> tuple[tuple[Point, ...], bool]:
    """Give the line of a gap's partner: an outline's points, or the edge of a link's band."""
    for outline in project.outlines:
        if outline.id == name:
            return outline.points, outline.closed
    edge = link_edge(project, project.link(name))
    return (edge, True) if edge else (tuple(pivot.at for pivot in project.pivots_on(name)), False)
