"""The set-out as a figure: views to scale and the table of their numbers, the same for window, templates and sheets.

`setout_figure(project, analysis, units)` gives a `SetOutFigure`; each of its `views` is drawn by `draw_view` of
`app.setout.put`, in a window or on paper. Where nothing can be set out yet, `why` says what is missing.

Two figures must never be confused: what is measured *along the wall*, with a tape on it, and *square to the
centreline*, with a tape held across the body. The view of the wall has lengths along it; the plan has both, each named.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.hardware import hardware
from app.lengths import format_angle, format_coordinate, style_of
from app.setout.plan_view import plan_view
from app.setout.views import figure_words
from app.setout.wall_view import LEANS, wall_view
from kinematics.rear_edge import side_ahead
from kinematics.setting_out import set_out
from kinematics.wall_parts import HANDS
from kinematics.walling import FLAT

if TYPE_CHECKING:
    from app.lengths import Units
    from app.setout.views import View
    from kinematics.analysis import Analysis
    from kinematics.project import Project
    from kinematics.setting_out import SetOut, Spot

NO_BASE = "Lay out a base at the wall first: its bolts are what is set out."
NO_PINS = "The body has no pins yet, so there is no base to set out."
LIES = "The wall lies rather than stands, so nothing can be set out along it. Type its lean, or another wall's way."
Row = tuple[str, str, str, str, str]
"""Hinge and place, along the wall, square to the centreline, height over the level line, up the wall."""


@dataclass(frozen=True, slots=True, eq=False)
class SetOutFigure:
    """The figure.   hands : the set-out of left and right.   views : "wall" and "plan".   heads, rows : the table,
    its figures without unit, 0.01 mm or 0.001 in.   sentences : how to read and check it.   why : "" or what is
    missing.
    """

    hands: tuple[SetOut, ...]
    views: tuple[View, ...]
    heads: Row
    rows: tuple[Row, ...]
    sentences: tuple[str, ...]
    why: str

    def view(self, key: str) -> View | None:
        """One of the views, None where it isn't there."""
        return next((each for each in self.views if each.key == key), None)

    def text(self) -> str:
        """The table with tabs between its columns, to copy."""
        return "\n".join("\t".join(row) for row in (self.heads, *self.rows))


def setout_figure(project: Project, analysis: Analysis | None, units: Units) -> SetOutFigure:  # noqa: ARG001
    """Set out both hinges of a project.   analysis : of it, where there is one; None leaves out what asks for it."""
    unit = "in" if style_of(units).units == "in" else "mm"
    heads = (f"place ({unit})", "along the wall", "square to the centreline", "height", "up the wall")
    hands = tuple(told for told in (set_out(project, hardware(), hand) for hand in HANDS) if told is not None)
    if not hands:
        return SetOutFigure((), (), heads, (), (), _missing(project))
    wall = project.walled
    pins = 1 if hands[0].plane.out[0] >= 0.0 else -1
    ahead = pins * (side_ahead(project) or 1)
    ordered = sorted(hands, key=lambda told: told.outboard)
    views = wall_view(ordered, units, wall.edge), plan_view(ordered, wall.trued, wall.shim_least, units, ahead)
    rows = tuple(_row(told, spot, units) for told in hands for spot in (told.middle, *told.bolts))
    return SetOutFigure(hands, views, heads, rows, tuple(_sentences(hands, units)), "")


def _missing(project: Project) -> str:
    if project.mounted.base is None:
        return NO_BASE
    return LIES if project.pivots_on(project.fixed.id) else NO_PINS


def _row(told: SetOut, spot: Spot, units: Units) -> Row:
    along, square, height, up = (
        format_coordinate(each, units) for each in (told.taped(spot), spot.square, spot.height, spot.up)
    )
    return f"{told.hand} {spot.name}", along, square, height, up


def _sentences(hands: tuple[SetOut, ...], units: Units) -> list[str]:
    """How the figures are read, and what checks the marking."""
    first = hands[0]
    where = "right" if next(told for told in hands if told.hand == "left").outboard > 0 else "left"
    said = [f"You face the wall, so the left hinge is on your {where}."]
    if first.from_middle:
        said.append("Nobody said how far the hinges are apart, so all counts from the middle of each base.")
    elif any(abs(told.plane.off_deg) > FLAT for told in hands):
        said.append(
            "Along the wall is longer than square to the centreline: "
            + "; ".join(_two(told, units) for told in hands)
            + ". Measure each with the tape held as its line is drawn, and never mix them."
        )
    if any(abs(told.plane.lean_deg) > LEANS for told in hands):
        lean = format_angle(abs(first.plane.lean_deg), units)
        said.append(f"The wall leans by {lean}, so up the wall is longer than the height plumb over the level line.")
    for told in hands:
        checks = ", ".join(f"{each.one} to {each.other} {figure_words(each.length, units)}" for each in told.diagonals)
        if checks:
            said.append(f"Check the {told.hand} marks before you drill: {checks}.")
    return said


def _two(told: SetOut, units: Units) -> str:
    middle = told.middle
    along, square = figure_words(told.taped(middle), units), figure_words(middle.square, units)
    return f"the {told.hand} middle {along} along, {square} square"
