"""How weighing on two supports is shown on the sheet: both supports, the line of them, the centre of gravity found."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.shapes import Label, Layer, Pen, Stroke, Symbol

if TYPE_CHECKING:
    from app.look import Look
    from app.shapes import Shape
    from kinematics.project import Point

GROUP = "weighing"


def weigh_shapes(
    link: str, supports: dict[str, Point | None], centre: Point | None, words: str, look: Look
) -> list[Shape]:
    """Give the shapes on the weighed link. supports : "A" and "B" → place, None until it is known.

    centre : the centre of gravity found, or None; words : what stands beside it.
    """
    ink, paper, known = look.selection, look.paper, {name: at for name, at in supports.items() if at is not None}
    found: list[Shape] = []
    if len(known) == 2:
        found.append(Stroke(f"{GROUP}:line", link, tuple(known.values()), Pen(ink, 1.0, (6.0, 3.0)), Layer.HANDS))
    for name, at in known.items():
        found.append(Symbol(f"{GROUP}:support {name}", link, (at,), "handle", ink, paper, Layer.HANDS))
        found.append(_words(f"name of support {name}", link, at, f"support {name}", look))
    if centre is not None:
        found.append(Symbol(f"{GROUP}:centre", link, (centre,), "mass", ink, paper, Layer.HANDS))
        found.append(_words("name of what was weighed", link, centre, words, look))
    return found


def _words(key: str, link: str, at: Point, text: str, look: Look) -> Label:
    return Label(
        f"{GROUP}:{key}", link, at, text, look.selection, look.paper, look.small_px, (1.0, 1.0), rank=4, clear_px=10.0
    )
