"""The feet of bracket and base in the hand: a grip on each while they are drawn, slid along skin or wall. No widgets.

It follows what is drawn of panel or body; Ctrl lets it go between the steps that can be seen. One drag, one step.
"""

from __future__ import annotations

from math import hypot
from typing import TYPE_CHECKING

from app.board import gestures
from app.board.hits import Hit
from app.mount_shapes import FEET, foot_shape, mount_shapes
from app.shapes import SHUT, Layer, Symbol
from kinematics.errors import HingewrightError
from kinematics.foot_sliding import slide_foot

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from app.board.gestures import Desk, Gesture, Press
    from app.look import Look
    from app.shapes import Placement, Shape, Stroke
    from kinematics.project import Point

NEAR = 0.5
"""Pixels per mm from which on the grips are there: farther off they would lie upon pins."""
HIT = "foot"
"""The kind of hit; its id is "bracket" or "base"."""


def foot_hit(shapes: Iterable[Shape], placements: Mapping[str, Placement], at: Point, reach: float) -> Hit | None:
    """Give the foot whose grip lies within `reach` (mm) of a place of the board.   shapes : as they are drawn."""
    grips = [shape for shape in shapes if isinstance(shape, Symbol) and shape.key.startswith(f"{HIT}:")]
    for grip in grips:
        x, y = placements.get(grip.link, SHUT).carry(grip.at[0])
        if hypot(x - at[0], y - at[1]) <= reach:
            return Hit(HIT, grip.key.removeprefix(f"{HIT}:"))
    return None


def foot_grips(shapes: Iterable[Shape], look: Look) -> list[Shape]:
    """Show a grip on each foot that is drawn."""
    shapes = tuple(shapes)
    feet = ((which, foot_shape(which, shapes)) for which in FEET)
    return [
        Symbol(
            f"{HIT}:{which}", foot.link, (_middle(foot),), "handle", look.selection, look.paper, Layer.HANDS, near=NEAR
        )
        for which, foot in feet
        if foot is not None
    ]


def _middle(foot: Stroke) -> Point:
    xs, ys = zip(*foot.points, strict=True)
    return sum(xs) / len(xs), sum(ys) / len(ys)


def drag_foot(desk: Desk, press: Press, which: str, link: str) -> Gesture:
    """Slide a foot; Esc takes it back. A click does nothing."""
    document = desk.document
    at, is_drag = yield from gestures.moves(press)
    if not is_drag:
        return
    where = gestures.placement_of(document, link)
    off, foot = where.back(press.at), foot_shape(which, mount_shapes(document.project, desk.look))
    was = off if foot is None else _middle(foot)

    def put(at: Point) -> None:
        now = where.back(at)
        to = (was[0] + now[0] - off[0], was[1] + now[1] - off[1])
        step = 0.0 if "free" in desk.held else desk.step
        try:
            document.preview(slide_foot(document.project, which, to, step))
        except HingewrightError as fault:
            document.noticed.emit(str(fault))

    yield from gestures.one_step(document, f"Slide the foot of the {which}", at, put)
