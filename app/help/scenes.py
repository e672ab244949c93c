"""The small projects that the help shows: one lid in front of one wall, hinged in several ways. No Qt here.

The lid shuts a little ahead of the wall and is to open wide without touching it. On one pin it strikes the wall; two
arms, or six bars, carry it clear. The same body in every picture lets the eye see what the hinge alone changes.
A *scene* is a project, the opening at which it is shown, and the part of the side view (mm) that is looked at.
All of it is invented.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from typing import TYPE_CHECKING

from app.pinch_marks import pinch_marks
from app.shapes import Layer, Pen, Shape, Stroke, Symbol
from kinematics import analyse, edits
from kinematics.measures import Anchor, Measure
from kinematics.pinching import pinches
from kinematics.project import GapWant, Link, Mark, Outline, Pivot, Project, Travel
from kinematics.starts import start

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.lengths import Units
    from app.look import Look
    from kinematics.analysis import Analysis
    from kinematics.project import Point

Box = tuple[float, float, float, float]  # left, bottom, right, top, mm

WALL = ((-8.0, 215.0), (-8.0, -150.0))
LID = ((0.0, 0.0), (420.0, 0.0), (420.0, -50.0), (414.0, -50.0), (414.0, -8.0), (0.0, -8.0))
NEAR: Box = (-70.0, -160.0, 300.0, 190.0)
HINGE: Box = (-60.0, -150.0, 220.0, 60.0)
WHOLE: Box = (-70.0, -170.0, 470.0, 460.0)
REAR = "rear corner"
FAR = 4000.0  # mm, well beyond every sheet


@dataclass(frozen=True, slots=True)
class Scene:
    """What one picture shows.

    analysis : of its project.     deg : the opening shown.     box : the part looked at, mm.
    tall : height of the picture as a share of its width.
    more : further shapes, if any, in the sheet's look and the builder's units.
    swept : whether ghosts, paths and clearances are shown too.
    """

    analysis: Analysis
    deg: float
    box: Box
    tall: float
    more: Callable[[Analysis, float, Look, Units], list[Shape]] | None = None
    swept: bool = True


# ------------------------------------------------------------------------------------------------------------ projects
def bare() -> Project:
    """The lid and the wall, nothing pinned yet."""
    return Project(
        title="A lid in front of a wall",
        links=(Link("body", "fixed"), Link("lid", "panel")),
        outlines=(Outline("wall", "body", WALL), Outline("lid board", "lid", LID, closed=True)),
        marks=(Mark(REAR, "lid", (0.0, 0.0)),),
        travel=Travel("anticlockwise", 80.0),
        gaps=(GapWant(("wall", "lid board"), 4.0),),
        pin_spacing=20.0,
    )


def on_one_pin(at: Point) -> Project:
    """The lid on a single pivot."""
    return replace(bare(), pivots=(Pivot("A", at, ("body", "lid")),))


def four_bar() -> Project:
    """The lid on two arms, as the start of that name places them."""
    return start(bare(), "four-bar")


def scissor() -> Project:
    """The lid on a scissor hinge, as the start of that name places it."""
    return start(bare(), "Watt I")


def stalling() -> Project:
    """The lid on two arms that come to stand parallel before it is open; its wall is too far off to stop it."""
    arms = {"rear arm": ((50.0, -100.0), (20.0, -20.0)), "front arm": ((130.0, -60.0), (80.0, -60.0))}
    pivots = tuple(
        Pivot(f"{end}{place}", at, (body, arm))
        for place, (arm, ends) in enumerate(arms.items(), 1)
        for end, at, body in zip("OP", ends, ("body", "lid"), strict=True)
    )
    links = (Link("body", "fixed"), *(Link(arm, "link", 14.0) for arm in arms), Link("lid", "panel"))
    wall = tuple((x - 40.0, y) for x, y in WALL)
    return replace(bare(), links=links, pivots=pivots, outlines=(Outline("wall", "body", wall), bare().outlines[1]))


def parted() -> Project:
    """The same with the front arm's pin on the body moved ahead, which takes the dead point out of the travel."""
    lid = stalling()
    return edits.move_pivot(lid, "O2", (150.0, -60.0))


def weighed() -> Project:
    """The lid on two arms with its centre of gravity as a mark: about the middle of the board."""
    lid = four_bar()
    return replace(lid, marks=(Mark("centre of gravity", "lid", (210.0, -6.0)),), gaps=())


def measured() -> Project:
    """The two arms with the distance of their pins measured."""
    lid = four_bar()
    pairs = (("rear arm", "O1", "P1"), ("front arm", "O2", "P2"))
    measures = tuple(Measure(arm, "distance", (Anchor(pivot=one), Anchor(pivot=other))) for arm, one, other in pairs)
    return replace(lid, measures=measures, gaps=(), marks=())


# -------------------------------------------------------------------------------------------------------- what is added
def radius(analysis: Analysis, deg: float, look: Look, _units: Units) -> list[Shape]:
    """Give the line from a single pivot to the rear corner, as it stands."""
    pivot, corner = analysis.project.pivots[0].at, _corner(analysis, deg)
    fixed = analysis.project.fixed.id
    return [Stroke("help:radius", fixed, (pivot, corner), Pen(look.path, 1.4, (7.0, 4.0)), Layer.HANDS)]


def centre_lines(analysis: Analysis, deg: float, look: Look, _units: Units) -> list[Shape]:
    """Give the lines along both arms, and a ring about the point about which the lid turns just then."""
    project, pose = analysis.project, analysis.pose(deg)
    places, columns = {}, project.link_index
    for pivot in project.pivots:
        places[pivot.id] = pose.place(columns[pivot.joins[0]], pivot.at)
    pen = Pen(look.path, 1.4, (7.0, 4.0))
    found: list[Shape] = [
        Stroke(f"help:line {end}", project.fixed.id, _long(places[f"O{end}"], places[f"P{end}"]), pen, Layer.HANDS)
        for end in (1, 2)
    ]
    centre = analysis.instant_centre(pose, project.panel.id, project.fixed.id)
    if centre is not None and max(map(abs, centre)) < FAR:
        found.append(Symbol("help:centre", project.fixed.id, (centre,), "ring", look.path, look.paper, Layer.HANDS))
    return found


def pinched(analysis: Analysis, _deg: float, look: Look, units: Units) -> list[Shape]:
    """Give the cautions where a finger is caught, as the board marks them."""
    return pinch_marks(pinches(analysis), analysis.project.fixed.id, look, units)


def _long(one: Point, other: Point) -> tuple[Point, Point]:
    """Give a line through two points that runs off the sheet both ways."""
    x, y = other[0] - one[0], other[1] - one[1]
    share = FAR / max((x * x + y * y) ** 0.5, 1e-9)
    return (one[0] - share * x, one[1] - share * y), (one[0] + share * x, one[1] + share * y)


def _corner(analysis: Analysis, deg: float) -> Point:
    mark = analysis.project.mark(REAR)
    return analysis.pose(deg).place(analysis.project.link_index[mark.on], mark.at)


def touching_middle(analysis: Analysis) -> float:
    """Give the opening in the middle of the first contact, shut where there is none."""
    stretches = [stretch for gap in analysis.gaps for stretch in gap.touching_deg]
    return sum(stretches[0]) / 2 if stretches else 0.0


# -------------------------------------------------------------------------------------------------------------- scenes
@cache
def analysed(name: str) -> Analysis:
    """Analyse one of the projects; the facts of the pages and the pictures share it."""
    return analyse(PROJECTS[name]())


PROJECTS: dict[str, Callable[[], Project]] = {
    "bare": bare,
    "single": lambda: on_one_pin((40.0, -40.0)),
    "ahead": lambda: on_one_pin((60.0, -30.0)),
    "four": four_bar,
    "scissor": scissor,
    "stalling": stalling,
    "parted": parted,
    "weighed": weighed,
    "measured": measured,
}


def scene(name: str) -> Scene:
    """Give a scene by its name; KeyError for one that there isn't."""
    return SCENES[name]()


def _at(project: str, deg: float | None, box: Box, tall: float = 0.75) -> Scene:
    """A project at an opening; None: as far open as it goes."""
    found = analysed(project)
    return Scene(found, found.opening.reached_deg if deg is None else deg, box, tall)


def _dead_point() -> Scene:
    return replace(_at("stalling", None, (-90.0, -150.0, 330.0, 250.0), 0.9), more=centre_lines)


SCENES: dict[str, Callable[[], Scene]] = {
    "outlines": lambda: replace(_at("bare", 0.0, (-110.0, -120.0, 450.0, 130.0), 0.45), swept=False),
    "single-pivot": lambda: replace(
        _at("single", touching_middle(analysed("single")), (-90.0, -140.0, 280.0, 230.0)), more=radius
    ),
    "single-ahead": lambda: replace(_at("ahead", None, (-90.0, -140.0, 280.0, 230.0)), more=radius),
    "four-bar": lambda: _at("four", 35.0, NEAR, 0.85),
    "turning-point": lambda: replace(_at("four", 35.0, (-60.0, -120.0, 220.0, 170.0), 0.85), more=centre_lines),
    "scissor-shut": lambda: replace(_at("scissor", 0.0, HINGE, 0.72), swept=False),
    "scissor-open": lambda: _at("scissor", None, (-70.0, -130.0, 220.0, 200.0), 1.1),
    "dead-point-shut": lambda: replace(_at("stalling", 0.0, (-60.0, -150.0, 330.0, 60.0), 0.5), swept=False),
    "dead-point": _dead_point,
    "weight": lambda: _at("weighed", 60.0, WHOLE, 0.95),
    "pinch-places": lambda: replace(
        _at("scissor", 30.0, (-60.0, -160.0, 260.0, 120.0), 0.85), more=pinched, swept=False
    ),
    "arms": lambda: replace(_at("measured", 0.0, (-60.0, -110.0, 220.0, 50.0), 0.58), swept=False),
}
