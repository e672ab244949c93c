"""Edits that redraw an outline: rounded, bent, smoothed, cut, joined, thinned; or that draw another one from it.

Pure functions from one project to the next, as in `kinematics.edits`. Lines made from lines (`kinematics.drafting`) are
added as outlines of their own, named after what they come from; the others change the outline in place. `place` is the
number of a point, from 0; lengths are mm. What can't be drawn is an `OutlineError`, what can't be edited a
`ProjectError`.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from kinematics import curves, drafting, edits
from kinematics.errors import OutlineError
from kinematics.values import shown

if TYPE_CHECKING:
    from kinematics.project import Outline, Point, Project


# ----------------------------------------------------------------------------------------------------- in its place
def round_corner(project: Project, id: str, place: int, radius: float) -> Project:
    """Round the corner at a point with an arc."""
    outline = project.outline(id)
    return _redrawn(project, outline, curves.fillet(outline.points, _within(outline, place), radius, outline.closed))


def bend(project: Project, id: str, place: int) -> Project:
    """Run an arc from the point before, through the point, to the one after it."""
    outline = project.outline(id)
    points, count, here = outline.points, len(outline.points), _within(outline, place)
    if not outline.closed and not 0 < here < count - 1:
        raise OutlineError("an arc needs a point on either side", f"outline {shown(id)}", "Select one between two.")
    arc = curves.arc(points[here - 1], points[here], points[(here + 1) % count])
    if here == 0 or here == count - 1:  # of a closed line: begin it elsewhere, so that the arc lies in the middle
        points = (*points[1:], points[0]) if here == 0 else (points[-1], *points[:-1])
        here = count - 1 if here == 0 else 0
        turned = (*points[here - 1 :], *points[: here - 1]) if here else (*points[-1:], *points[:-1])
        return _redrawn(project, outline, (*arc, *turned[3:]))
    return _redrawn(project, outline, (*points[: here - 1], *arc, *points[here + 2 :]))


def smooth(project: Project, id: str) -> Project:
    """Run a smooth curve through all the points."""
    outline = project.outline(id)
    return _redrawn(project, outline, curves.smooth(outline.points, outline.closed))


def thin_out(project: Project, id: str, tolerance: float) -> Project:
    """Leave points out, as long as the line stays within the tolerance of where it was."""
    outline = project.outline(id)
    return _redrawn(project, outline, drafting.simplify(outline.points, tolerance, outline.closed))


def trim(project: Project, id: str, place: int) -> Project:
    """Cut the line where other outlines cross it, shut; the piece at a point stays."""
    outline = project.outline(id)
    cutters = [_around(other) for other in project.outlines if other.id != id]
    keep = outline.points[_within(outline, place)]
    points = drafting.trim(outline.points, cutters, keep, outline.closed)
    return edits.replace_outline(project, id, replace(outline, points=points, closed=False))


def join(project: Project, id: str, other: str) -> Project:
    """Make one line of two open ones on the same link, by their nearest ends; the other outline goes into this one."""
    one, two = project.outline(id), project.outline(other)
    if one.closed or two.closed:
        raise OutlineError("only open lines have ends to join", f"outline {shown(id)}")
    if one.on != two.on:
        raise OutlineError(
            f"it rides on {shown(one.on)}, and {shown(other)} on {shown(two.on)}", f"outline {shown(id)}",
            "Lines that are joined move together: let both ride on one link first.",
        )  # fmt: skip
    return _redrawn(edits.remove_outline(project, other), one, drafting.join(one.points, two.points))


def mirror(project: Project, id: str, a: Point, b: Point) -> Project:
    """Turn the line over, to the other side of the straight line through two points."""
    outline = project.outline(id)
    return _redrawn(project, outline, drafting.mirror(outline.points, a, b))


# ------------------------------------------------------------------------------------------------------ another line
def beside(project: Project, id: str, distance: float) -> Project:
    """Add the line at a distance: left of an open line as it runs, outside a closed one; negative: the other side."""
    outline = project.outline(id)
    points = drafting.offset(outline.points, distance, outline.closed)
    return _with_another(project, outline, f"{id} beside", points, outline.on)


def mirror_copy(project: Project, id: str, a: Point, b: Point) -> Project:
    """Add the mirror image of a line."""
    outline = project.outline(id)
    return _with_another(project, outline, f"{id} mirrored", drafting.mirror(outline.points, a, b), outline.on)


def facing_edge(project: Project, id: str, gap: float) -> Project:
    """Add the panel's edge that stands all along a line of another link at a shut gap, pens included, on the side on
    which the panel lies; without a panel drawn, on the left of the line as it runs.
    """
    outline, panel = project.outline(id), project.panel.id
    if outline.on == panel:
        raise OutlineError(
            "this line is the panel's own", f"outline {shown(id)}", "Pick the line of the body that it is to face."
        )
    drawn = [point for each in project.outlines if each.on == panel for point in each.points]
    apart = gap + outline.half_width
    if outline.closed or not drawn:
        points = drafting.offset(outline.points, apart, outline.closed)
    else:
        side = (sum(x for x, _ in drawn) / len(drawn), sum(y for _, y in drawn) / len(drawn))
        points = drafting.facing_edge(outline.points, apart, side)
    return _with_another(project, replace(outline, half_width=0.0), f"edge along {id}", points, panel)


def _redrawn(project: Project, outline: Outline, points: tuple[Point, ...]) -> Project:
    return edits.replace_outline(project, outline.id, replace(outline, points=points))


def _with_another(project: Project, outline: Outline, stem: str, points: tuple[Point, ...], on: str) -> Project:
    name = edits.free_id(project, stem[:76])
    return edits.add_outline(project, replace(outline, id=name, on=on, points=points, locked=False))


def _around(outline: Outline) -> tuple[Point, ...]:
    return (*outline.points, outline.points[0]) if outline.closed else outline.points


def _within(outline: Outline, place: int) -> int:
    if not 0 <= place < len(outline.points):
        raise OutlineError(f"there is no point {place + 1}", f"outline {shown(outline.id)}", "Select a point of it.")
    return place
