"""The set-out as a figure: views to scale and the table of their numbers, the same for window, templates and sheets.

`setout_figure(project, analysis, units)` gives a `SetOutFigure`; each of its `views` is drawn by `draw_view` of
`app.setout.put`, in a window or on paper: "wall", "plan", and "skin" where a bracket is laid out. Where nothing can be
set out yet, `why` says what is missing.

Two figures must never be confused: what is measured *along the wall*, with a tape on it, and *square to the
centreline*, with a tape held across the body. The view of the wall has lengths along it; the plan has both, each named.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING

from app.hardware import hardware
from app.lengths import NOTHING, format_angle, format_coordinate, style_of
from app.setout.plan_view import plan_view
from app.setout.skin_view import skin_bolts, skin_view
from app.setout.views import figure_words
from app.setout.wall_view import LEANS, wall_view
from app.stacked import stacked, web_off
from app.template_words import faulty
from kinematics.marking_out import skin_marks
from kinematics.rear_edge import side_ahead
from kinematics.setting_out import set_out
from kinematics.wall_parts import HANDS
from kinematics.walling import FLAT, edge_height

if TYPE_CHECKING:
    from app.lengths import Units
    from app.setout.skin_view import SkinBolt
    from app.setout.views import View
    from kinematics.analysis import Analysis
    from kinematics.marking_out import SkinMarks
    from kinematics.project import Project
    from kinematics.setting_out import SetOut, Spot

DRILLING_CAUTION = (
    "Look behind the wall before you drill: wires, pipes, tanks. Goggles on; a stop on the drill keeps it from running "
    "through into what is behind. Drill small first, offer the plate up by two bolts, and measure again."
)
NO_BASE = "Lay out a base at the wall first: its bolts are what is set out."
NO_PINS = "The body has no pins yet, so there is no base to set out."
LIES = "The wall lies rather than stands, so nothing can be set out along it. Type its lean, or another wall's way."
SkinRow = tuple[str, str, str, str]
"""Bracket and bolt, ahead of the rear edge, square to the centreline, from the web's outer side along the flange."""
Row = tuple[str, str, str, str, str]
"""Hinge and place, along the wall, square to the centreline, height over the level line, up the wall."""


@dataclass(frozen=True, slots=True, eq=False)
class SetOutFigure:
    """The figure.   hands : the set-out of left and right on the wall; skins : on the panel.   views : those there are.

    heads, rows : the table of the wall, skin_heads, skin_rows that of the skin; figures without unit, to 0.01 mm or
    0.001 in.   sentences, skin_sentences : how to read and check them.   why : "" or what is missing at the wall.
    """

    hands: tuple[SetOut, ...]
    skins: tuple[SkinMarks, ...]
    views: tuple[View, ...]
    heads: Row
    rows: tuple[Row, ...]
    skin_heads: SkinRow
    skin_rows: tuple[SkinRow, ...]
    sentences: tuple[str, ...]
    skin_sentences: tuple[str, ...]
    why: str

    def view(self, key: str) -> View | None:
        """One of the views, None where it isn't there."""
        return next((each for each in self.views if each.key == key), None)

    def text(self) -> str:
        """The tables with tabs between their columns, to copy."""
        tables: list[tuple[tuple[str, ...], ...]] = [(self.heads, *self.rows)] if self.rows else []
        tables += [(self.skin_heads, *self.skin_rows)] if self.skin_rows else []
        return "\n\n".join("\n".join("\t".join(row) for row in table) for table in tables)


def setout_figure(
    project: Project, analysis: Analysis | None, units: Units, *, off: float | None = None
) -> SetOutFigure:
    """Set out both hinges of a project.

    analysis : of it, for where the bracket's web stands in the stack; None: as `off` says (mm, as `app.stacked.web_off`
    gives it), else nothing square to the centreline is told of the skin.
    """
    unit = "in" if style_of(units).units == "in" else "mm"
    tables, wall, told = hardware(), project.walled, project.mounted
    if off is None and analysis is not None and told.bracket is not None:
        off = web_off(project, stacked(analysis))
    hands = tuple(each for each in (set_out(project, tables, hand) for hand in HANDS) if each is not None)
    skins = tuple(each for each in (skin_marks(project, tables, hand, off) for hand in HANDS) if each is not None)
    views: list[View] = []
    edge = None if told.base is None else edge_height(project, told.base)
    if hands:
        pins = 1 if hands[0].plane.out[0] >= 0.0 else -1
        ordered = sorted(hands, key=lambda each: each.outboard)
        ahead = pins * (side_ahead(project) or 1)
        views += [wall_view(ordered, units, edge), plan_view(ordered, wall.trued, wall.shim_least, units, ahead)]
    if skins:
        views.append(skin_view(sorted(skins, key=lambda each: each.right), units))
    return SetOutFigure(
        hands,
        skins,
        tuple(views),
        (f"place ({unit})", "along the wall", "square to the centreline", "height", "up the wall"),
        tuple(_row(each, spot, units) for each in hands for spot in (each.middle, *each.bolts)),
        (f"place ({unit})", "ahead of the rear edge", "square to the centreline", "from the web"),
        tuple(_skin_row(each, bolt, units) for each in skins for bolt in skin_bolts(each)),
        tuple(_sentences(hands, edge, units)) if hands else (),
        tuple(_skin_sentences(skins, units)) if skins else (),
        "" if hands else _missing(project),
    )


def _missing(project: Project) -> str:
    if project.mounted.base is None:
        return NO_BASE
    return LIES if project.pivots_on(project.fixed.id) else NO_PINS


def _row(told: SetOut, spot: Spot, units: Units) -> Row:
    along, square, height, up = (
        format_coordinate(each, units) for each in (told.taped(spot), spot.square, spot.height, spot.up)
    )
    return f"{told.hand} {spot.name}", along, square, height, up


def _skin_row(marks: SkinMarks, bolt: SkinBolt, units: Units) -> SkinRow:
    ahead, square, across = (
        NOTHING if each is None else format_coordinate(each, units) for each in (bolt.ahead, bolt.square, bolt.across)
    )
    return f"{marks.hand} {bolt.name}", ahead, square, across


def _skin_sentences(skins: tuple[SkinMarks, ...], units: Units) -> list[str]:
    """How the figures of the skin are read."""
    where = "right" if next(each for each in skins if each.hand == "left").right > 0 else "left"
    said = [f"You face the inner skin, the panel's front up: the left bracket is on your {where}."]
    if skins[0].rear is None:
        said.append("No panel is drawn, so nothing is told from its rear edge.")
    else:
        said.append("Ahead of the rear edge is along the skin, by a straight edge laid on it.")
    if skins[0].from_centre is None:
        said.append("Where the webs stand off the centreline isn't known yet, so nothing is told square to it.")
    said.append(f"The flange is bent {skins[0].flange} of its web; bolts stand at the middles of their slots.")
    bolts = skin_bolts(skins[0])
    if len(bolts) > 1:
        one, other = bolts[0], bolts[1]
        length = figure_words(hypot(one.right - other.right, one.up - other.up), units)
        said.append(f"Check before you drill, left and right, {one.name} to {other.name}: {length}.")
    return said


def _sentences(hands: tuple[SetOut, ...], edge: float | None, units: Units) -> list[str]:
    """How the figures are read, where the level line is, and what checks the marking."""
    first = hands[0]
    where = "right" if next(told for told in hands if told.hand == "left").outboard > 0 else "left"
    said = [f"You face the wall, so the left hinge is on your {where}."]
    if edge is not None:
        side = "below" if edge > 0.0 else "over"
        said.append(f"The level line is {figure_words(abs(edge), units)} {side} the wall's upper edge, plumb.")
    if first.from_middle:
        said.append("Nobody said how far the hinges are apart, so all counts from the middle of each base.")
    elif any(abs(told.plane.off_deg) > FLAT for told in hands):
        said.append(
            "Along the wall is longer than square to the centreline: "
            + "; ".join(_middles(hands, units))
            + ". Measure each with the tape held as its line is drawn, and never mix them."
        )
    if any(abs(told.plane.lean_deg) > LEANS for told in hands):
        lean = format_angle(abs(first.plane.lean_deg), units)
        said.append(
            f"The wall leans by {lean}, so up the wall is longer than the height plumb over the level line. Measure as "
            "the drawing says, up; heights in the table are plumb."
        )
    checks = {told.hand: _checks(told, units) for told in hands}
    if len(set(checks.values())) == 1:
        checks = {"left and right": next(iter(checks.values()))}
    before = "Check the marks before you drill"
    said += [f"{before}. {who.capitalize()}, {words}." for who, words in checks.items() if words]
    return [*said, *faulty("base", first.base.faults)]


def _checks(told: SetOut, units: Units) -> str:
    return ", ".join(f"{each.one} to {each.other}: {format_coordinate(each.length, units)}" for each in told.diagonals)


def _middles(hands: tuple[SetOut, ...], units: Units) -> list[str]:
    """Both figures of each base's middle; once where both hinges have the same."""
    said = {}
    for told in hands:
        along, square = figure_words(told.taped(told.middle), units), figure_words(told.middle.square, units)
        said[told.hand] = f"{along} along, {square} square"
    if len(set(said.values())) == 1:
        return [f"the base's middle {next(iter(said.values()))}"]
    return [f"the {hand} base's middle {words}" for hand, words in said.items()]
