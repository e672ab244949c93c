"""Link plates in the hand: the grips of the selected link, and how they are dragged and nudged. No Qt here.

A grip is selected as its link with the grip's number as part (`kinematics.plate_grips`). Sides and bow go across the
plate only, in steps that can be seen, and catch where they are straight; cutouts go anywhere.
"""

from __future__ import annotations

from math import hypot
from typing import TYPE_CHECKING

from app.board.hits import Hit
from app.labels import Box
from app.shapes import SHUT, Layer, Symbol
from kinematics.plate_edits import sides_of
from kinematics.plate_grips import grip_of, grips, move_grip

if TYPE_CHECKING:
    from collections.abc import Mapping

    from app.document import Selection
    from app.look import Look
    from app.shapes import Placement, Shape
    from app.sheet import Camera
    from kinematics.project import Point, Project

FREE_PX = 7.0
"""Pixels that words keep off a grip's middle."""
HIT = "plate grip"
"""The kind of hit."""


def is_grip(selection: Selection) -> bool:
    """Tell whether a grip of a plate is selected."""
    return selection.kind == "link" and selection.part is not None


def there(project: Project, selection: Selection) -> bool:
    """Tell whether the grip that is selected is there."""
    return selection.part is not None and 0 <= selection.part < len(grips(project, selection.id))


def grip_hit(project: Project, placements: Mapping[str, Placement], at: Point, reach: float, link: str) -> Hit | None:
    """Give the grip of a link's plate that lies within `reach` (mm) of a place of the board; None without one."""
    back = placements.get(link, SHUT).back(at)
    near = [(hypot(g.at[0] - back[0], g.at[1] - back[1]), place) for place, g in enumerate(grips(project, link))]
    away, place = min(near, default=(reach + 1.0, 0))
    return Hit(HIT, link, place) if away <= reach else None


def grip_at(project: Project, selection: Selection) -> Point:
    """Give where a grip lies, shut."""
    return grip_of(project, selection.id, selection.part or 0).at


def moved(project: Project, selection: Selection, to: Point, step: float = 0.0, near: float = 0.0) -> Project:
    """Bring a grip to a shut place, as near as it goes; `step` and `near` as in `move_grip`."""
    return move_grip(project, selection.id, selection.part or 0, to, step, near)


def label(project: Project, verb: str, selection: Selection) -> str:
    """Name the step: "Bend side A–B of arm", "Bow arm", "Move cutout 1 of arm"."""
    link, grip = selection.id, grip_of(project, selection.id, selection.part or 0)
    if grip.kind == "bow":
        return f"Bow {link}"
    if grip.kind == "side":
        return f"Bend side {'–'.join(sides_of(project, link)[grip.place])} of {link}"
    return f"{verb} cutout {grip.place + 1} of {link}"


# ------------------------------------------------------------------------------------------------------------ to see
def grip_boxes(
    project: Project, placements: Mapping[str, Placement], selection: Selection | None, camera: Camera
) -> list[Box]:
    """Give where the grips of the selected link stand, in pixels, so that words leave them free."""
    if selection is None or selection.kind != "link":
        return []
    carry = placements.get(selection.id, SHUT).carry
    spots = (camera.to_px(carry(grip.at)) for grip in grips(project, selection.id))
    return [Box(x - FREE_PX, y - FREE_PX, x + FREE_PX, y + FREE_PX) for x, y in spots]


def grip_shapes(project: Project, link: str, chosen: int | None, look: Look) -> list[Shape]:
    """Show the grips of the selected link, and which of them is chosen."""
    found = grips(project, link)
    if not found:
        return []
    ink, paper = look.selection, look.paper
    shapes: list[Shape] = [
        Symbol("selected:handles", link, tuple(grip.at for grip in found), "handle", ink, paper, Layer.HANDS)
    ]
    if chosen is not None and chosen < len(found):
        shapes.append(one_grip(project, link, chosen, "selected:handle", look)[0])
    return shapes


def one_grip(project: Project, link: str, place: int, key: str, look: Look) -> list[Shape]:
    """Show one grip as chosen."""
    found = grips(project, link)
    if place >= len(found):
        return []
    return [Symbol(key, link, (found[place].at,), "chosen handle", look.selection, look.paper, Layer.HANDS)]
