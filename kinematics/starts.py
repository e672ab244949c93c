"""Starts: a linkage that moves at once, placed by the panel's rear edge.

Each kind of start has a *layout* (layouts.py): pins that were tried on one hatch. A start lays it into the hinge frame
of the project's own panel (rear_edge.py), below the skin and ahead of what stands behind, in several sizes and places,
and keeps the best of them: no pin beyond the body's lines, pins no nearer to each other than wanted, the panel clear of
the body as far as it opens. Growing, shifting, turning and mirroring a linkage changes nothing in how far it opens, so
every start moves as its layout does; whether it clears the body depends on the body, and is the builder's to see.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache
from itertools import combinations, product
from typing import TYPE_CHECKING

import numpy as np
import shapely

from kinematics.edits import free_id, remove_link, remove_pivot, set_travel
from kinematics.errors import ProjectError
from kinematics.layouts import LAYOUTS, LENGTH, WIDTH, Layout, Miniature, miniature
from kinematics.project import Link, Pivot, Project, Travel
from kinematics.rear_edge import RearEdge, rear_edge, rising_turn
from kinematics.sweep import sweep
from kinematics.values import shown

if TYPE_CHECKING:
    from kinematics.arrays import Complexes, Floats

LARGEST_SIZE = 2.7
"""Above the usual ones, where a small panel's pins would else stand nearer than wanted."""
ROUNDED = 0.15
"""How much nearer two pins may come (mm) as each is put on a tenth."""
CROWDED = 0.25
"""What a spacing that falls short costs at once, in shares of the spacing: a start is to meet the check if it can."""
SIZES = (2.0, 1.6, 1.3, 1.0, 0.8, 0.62, 0.48, 0.36, 0.25, 0.16)
AHEAD = (0.0, 40.0, 110.0)
BELOW = (0.0, -25.0)
"""The places tried: shares of the full size, mm ahead and below at the layout's own size."""
POSES = 25
"""Poses at which the panel's clearance is looked at; a rough look, which `analyse` doesn't rest on."""
GOOD_GAP = 12.0
"""A gap (mm at the layout's own size) beyond which more is no better."""
LEAST_AHEAD = 6.0
"""mm at the layout's own size: what stands behind is taken to stand at least this far ahead of the rear edge."""


@dataclass(frozen=True, slots=True)
class StartKind:
    """One way to begin.

    kind : what `start` is asked for.   name : in shop words.   family : the textbook's name.
    use : a sentence on when to take it.   picture : points to draw.
    """

    kind: str
    name: str
    family: str
    use: str
    picture: Miniature


def starts() -> tuple[StartKind, ...]:
    """All kinds, the simplest first; the first with six bars, the scissor hinge, is the one to begin with."""
    return tuple(StartKind(each.kind, each.name, each.family, each.use, miniature(each)) for each in LAYOUTS)


def start(project: Project, kind: str) -> Project:
    """The project with a new linkage of a kind: one motion, and moving at once.

    project : with the outlines of the fixed link and of the panel, if they are drawn yet, and the way it opens.
    kind : one of `starts()`.
    Links between the fixed link and the panel, what rides on them, and all pivots make place for the new ones; all else
    stays. Raises ProjectError for a kind that there isn't.
    """
    layout = next((each for each in LAYOUTS if each.kind == kind), None)
    if layout is None:
        kinds = ", ".join(each.kind for each in LAYOUTS)
        raise ProjectError(f"there is no start of kind {shown(kind)}", "", f"Take one of {kinds}.")
    cleared = _cleared(project)
    edge = rear_edge(cleared)
    return _built(cleared, layout, edge, _best(layout, edge, cleared))


def begin(project: Project, kind: str) -> Project:
    """The first linkage of a hinge: `start`, the panel turning so that its front rises from the body at its rear.

    Anticlockwise is what stands in a project in which nobody has said anything, so it gives way where the outlines tell
    otherwise. Clockwise was said by somebody and stays; so does either once there are pivots.
    """
    is_unsaid = not project.pivots and project.travel.opens == "anticlockwise"
    return start(set_travel(project, "clockwise") if is_unsaid and rising_turn(project) < 0 else project, kind)


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a layout is laid, in the hinge frame: pin = scale × its pin + offset.

    size : share of the full size.   moved : how far from the first place to try, mm at the layout's own size.
    """

    size: float
    moved: float
    scale: float
    offset: complex

    def pins(self, layout: Layout) -> dict[str, complex]:
        """The pins, in the hinge frame."""
        return {pin: self.scale * at + self.offset for pin, at in layout.pins.items()}


def _cleared(project: Project) -> Project:
    """The project without pivots, and without links but the fixed one and the panel."""
    bare = project
    for pivot in project.pivots:
        bare = remove_pivot(bare, pivot.id)
    for link in project.links:
        if link.kind == "link":
            bare = remove_link(bare, link.id)
    return bare


def _sizes(layout: Layout, edge: RearEdge, pin_spacing: float) -> tuple[float, ...]:
    """The sizes to try: the usual ones, and the one at which the nearest pins stand just as far apart as wanted."""
    just = (pin_spacing + ROUNDED) * LENGTH / (spacing(layout) * edge.length)
    return (*SIZES, just) if SIZES[-1] < just < LARGEST_SIZE else SIZES


def _places(layout: Layout, edge: RearEdge, pin_spacing: float) -> list[_Place]:
    """All the places to try."""
    found = []
    for size, ahead, below in product(_sizes(layout, edge, pin_spacing), AHEAD, BELOW):
        scale = size * edge.length / LENGTH
        face = max(edge.face if edge.face is not None else 0.03 * edge.length, LEAST_AHEAD * scale)
        u = [face + scale * (at.real + ahead) for at in layout.pins.values()]
        under = min(edge.underside(each) for each in u)
        found.append(
            _Place(size, abs(complex(ahead, below)), scale, complex(face + scale * ahead, under + scale * below))
        )
    return found


def _best(layout: Layout, edge: RearEdge, project: Project) -> _Place:
    """The best place. Clearance is dear to look at, so it is only where the rest leaves hope."""
    places = _places(layout, edge, project.pin_spacing)
    hopes = [_hope(place, layout, edge, project) for place in places]
    best, most = places[0], -math.inf
    for k in sorted(range(len(places)), key=lambda k: -hopes[k]):
        if hopes[k] <= most:
            break
        merit = hopes[k] - _nearness(places[k], layout, edge, project.travel.wanted_deg)
        if merit > most:
            best, most = places[k], merit
    return best


def _hope(place: _Place, layout: Layout, edge: RearEdge, project: Project) -> float:
    """How good a place can be at best: pins within the body and the zones first, then spacing, then size."""
    pins = place.pins(layout)
    stray = sum(_is_stray(at, edge) for at in pins.values()) + _outside_zones(pins, layout, edge, project)
    wanted = max(project.pin_spacing, 1e-6)
    crowding = max(0.0, 1.0 - spacing(layout) * place.scale / wanted)
    crowding += CROWDED if crowding > 0.0 else 0.0
    oddness = 1.5 * max(0.0, place.size - 1.0) + 0.5 * max(0.0, 1.0 - place.size) + 0.002 * place.moved
    return -10.0 * stray - 4.0 * crowding - oddness


def _nearness(place: _Place, layout: Layout, edge: RearEdge, wanted_deg: float) -> float:
    """What clearance costs a place: up to 2 for a small gap, up to 5 more for touching all the way."""
    gaps = _gaps(place, layout, edge, wanted_deg)
    if len(gaps) == 0:
        return 0.0
    short = 1.0 - min(float(gaps.min()) / (GOOD_GAP * edge.length / LENGTH), 1.0)
    return 2.0 * short + 5.0 * float((gaps <= 0.0).mean())


def _is_stray(pin: complex, edge: RearEdge) -> bool:
    """Whether a line of the body, or the panel's front end, lies between a pin and the panel's underside above it."""
    way = shapely.LineString([(pin.real, edge.underside(pin.real)), (pin.real, pin.imag)])
    return pin.real > 0.95 * edge.length or bool(edge.fixed.intersects(way))


def _outside_zones(pins: dict[str, complex], layout: Layout, edge: RearEdge, project: Project) -> int:
    """How many pins lie outside the zones of their fixed link or panel."""
    count = 0
    for role, link in (("fixed", project.fixed.id), ("panel", project.panel.id)):
        zones = [shapely.Polygon(zone.points) for zone in project.zones if zone.on == link]
        spots = [shapely.Point(edge.drawn(pins[pin])) for pin, joins in layout.joins.items() if role in joins]
        count += sum(not any(zone.covers(spot) for zone in zones) for spot in spots) if zones else 0
    return count


def _gaps(place: _Place, layout: Layout, edge: RearEdge, wanted_deg: float) -> Floats:
    """(n,) distances of the panel's outlines to the fixed ones up to the wanted opening; empty without outlines."""
    if edge.fixed.is_empty or edge.panel.is_empty:
        return np.zeros(0)
    turns, shifts = _motion(layout.kind, wanted_deg)
    coordinates = shapely.get_coordinates(edge.panel)
    local = (coordinates[:, 0] + 1j * coordinates[:, 1] - place.offset) / place.scale
    moved = (np.exp(1j * turns)[:, None] * local + shifts[:, None]) * place.scale + place.offset
    panels = np.array([edge.panel] * len(turns))
    panels = shapely.set_coordinates(panels, np.stack([moved.real.ravel(), moved.imag.ravel()], axis=1))
    return np.asarray(shapely.distance(panels, edge.fixed))


@cache
def _motion(kind: str, wanted_deg: float) -> tuple[Floats, Complexes]:
    """How a layout's panel moves, at the layout's own size: (n,) turns (rad) and (n,) shifts (mm, u + iv)."""
    project = laid_out(next(each for each in LAYOUTS if each.kind == kind), wanted_deg)
    moved = sweep(project)
    y = moved.at_openings(np.linspace(0.0, moved.reached, POSES))
    panel = moved.closure.links.index("panel")
    return moved.link_turns(y)[:, panel], moved.shifts(y)[:, panel]


def laid_out(layout: Layout, wanted_deg: float) -> Project:
    """A layout by itself, at its own size, in the hinge frame as a sheet: opening anticlockwise."""
    links = (Link("fixed", "fixed"), Link("panel", "panel"), *(Link(name, "link", WIDTH) for name in layout.links))
    pivots = tuple(Pivot(pin, (at.real, at.imag), layout.joins[pin]) for pin, at in layout.pins.items())
    return Project(links=links, pivots=pivots, travel=Travel("anticlockwise", wanted_deg))


def spacing(layout: Layout) -> float:
    """The least distance (mm) between two pins of one link of a layout."""
    on = {link: [layout.pins[pin] for pin, joins in layout.joins.items() if link in joins] for link in layout.links}
    return min((abs(a - b) for pins in on.values() for a, b in combinations(pins, 2)), default=math.inf)


def _built(project: Project, layout: Layout, edge: RearEdge, place: _Place) -> Project:
    """The project with a layout's links and pivots, names that are taken numbered on."""
    width = _width(layout, place)
    names = {"fixed": project.fixed.id, "panel": project.panel.id}
    for stem in layout.links:
        names[stem] = free_id(project, stem)
        project = replace(project, links=(*project.links, Link(names[stem], "link", width)))
    pivots = tuple(
        Pivot(pin, edge.drawn(at), tuple(names[link] for link in layout.joins[pin]))
        for pin, at in place.pins(layout).items()
    )
    return replace(project, pivots=pivots)


def _width(layout: Layout, place: _Place) -> float:
    """A width (whole mm) in keeping with the size, that leaves pins room beside each other."""
    return float(max(4, round(min(WIDTH * place.scale, 0.8 * spacing(layout) * place.scale)))) if layout.links else 0.0
