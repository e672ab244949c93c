"""How the board shows what is selected, what is under the pointer, and what is being drawn: shapes like all others.
No Qt here.
"""

from __future__ import annotations

from dataclasses import replace
from math import cos, hypot, pi, sin
from typing import TYPE_CHECKING

from app.board import foot_hands, plate_hands
from app.board.hits import Hit
from app.hand_words import snap_words
from app.load_shapes import frame
from app.shapes import Label, Layer, Pen, Shape, Stroke, Symbol, hull, link_edge, rides_on
from kinematics.loading import spots
from kinematics.plate_edits import has_plate

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.board.snapping import Hold, Snap
    from app.document import Selection
    from app.lengths import Units
    from app.look import Look
    from kinematics.project import Outline, Point, Project, Zone


def all_selected_shapes(project: Project, selections: Sequence[Selection], look: Look) -> list[Shape]:
    """Show all that is selected; the last one, which is selected first of all, as if it were alone."""
    found = selection_shapes(project, selections[-1], look) if selections else []
    for place, each in enumerate(selections[:-1]):
        if each.part is None:
            shapes = _ringed(project, each.kind, each.id, look, "ring", 2.0)
        else:
            kind = {"zone": "corner", "device": "end", "link": plate_hands.HIT}.get(each.kind, "point")
            shapes = hover_shapes(project, Hit(kind, each.id, each.part), look)
        found += [replace(shape, key=f"{shape.key}:{place}") for shape in shapes]
    return found


def selection_shapes(project: Project, selection: Selection | None, look: Look) -> list[Shape]:
    """Show what is selected: a ring around a pin or a mark, a line along a link, an outline or a zone, handles
    at the points of the last two.
    """
    if selection is None or selection.kind == "measure":  # a measure shows it itself
        return []
    found = _ringed(project, selection.kind, selection.id, look, "ring", 2.0)
    if selection.kind == "device" and selection.part is not None:
        found += _end_chosen(project, selection.id, selection.part, "selected:handle", look)
    if selection.kind == "link":
        found += plate_hands.grip_shapes(project, selection.id, selection.part, look)
    line = _line(project, selection.kind, selection.id)
    if line is None:
        return found
    ink, paper = look.selection, look.paper
    found.append(Symbol("selected:handles", line.on, line.points, "handle", ink, paper, Layer.HANDS))
    if selection.part is not None and selection.part < len(line.points):
        at = (line.points[selection.part],)
        found.append(Symbol("selected:handle", line.on, at, "chosen handle", ink, paper, Layer.HANDS))
    return found


def _line(project: Project, kind: str, id_: str) -> Outline | Zone | None:
    """Give an outline or a zone; None for other kinds, and where the project holds none of this name."""
    if kind == "zone":
        return project.zone(id_) if id_ in project.zone_names else None
    return next((each for each in project.outlines if each.id == id_), None) if kind == "outline" else None


def hover_shapes(project: Project, hit: Hit | None, look: Look) -> list[Shape]:
    """Show what the pointer would take."""
    if hit is None or hit.kind in ("measure", foot_hands.HIT):
        return []
    if hit.kind in ("point", "corner"):
        part, line = hit.part or 0, _line(project, "zone" if hit.kind == "corner" else "outline", hit.id)
        if line is None or part >= len(line.points):
            return []
        at, ink = (line.points[part],), look.selection
        return [Symbol("hover:handle", line.on, at, "chosen handle", ink, look.paper, Layer.HANDS)]
    if hit.kind == plate_hands.HIT:
        return plate_hands.one_grip(project, hit.id, hit.part or 0, "hover:handle", look)
    if hit.kind == "end":
        return _end_chosen(project, hit.id, hit.part or 0, "hover:handle", look)
    return _ringed(project, hit.kind, hit.id, look, "hover", 1.0)


def _ringed(project: Project, kind: str, id_: str, look: Look, glyph: str, px: float) -> list[Shape]:
    """Mark a part: `glyph` around a point, a pen of `px` along a line. Nothing when the project holds no such part."""
    key, ink = f"{glyph}:{kind}", look.selection
    if kind == "link":
        return _link_ringed(project, id_, key, Pen(ink, px))
    if kind in ("mass", "handle", "device"):
        return _load_ringed(project, kind, id_, glyph, Pen(ink, px), look)
    if kind in ("outline", "zone"):
        line = _line(project, kind, id_)
        if line is None:
            return []
        return [Stroke(key, line.on, line.points, Pen(ink, px), Layer.HANDS, getattr(line, "closed", True))]
    return [Symbol(key, link, (at,), glyph, ink, look.paper, Layer.HANDS) for link, at in _spots(project, kind, id_)]


def _end_chosen(project: Project, id_: str, part: int, key: str, look: Look) -> list[Shape]:
    """Mark one end of a device."""
    ends = [spot for spot in spots(project) if (spot.kind, spot.id, spot.number) == ("device", id_, part)]
    ink, paper = look.selection, look.paper
    return [Symbol(key, spot.on, (spot.at,), "chosen handle", ink, paper, Layer.HANDS) for spot in ends]


def _load_ringed(project: Project, kind: str, id_: str, glyph: str, pen: Pen, look: Look) -> list[Shape]:
    """Mark a mass, the handle, or a device along its line and at both ends."""
    there = [spot for spot in spots(project) if (spot.kind, spot.id) == (kind, id_)]
    found: list[Shape] = [
        Symbol(f"{glyph}:{kind}:{spot.number}", spot.on, (spot.at,), glyph, pen.colour, look.paper, Layer.HANDS)
        for spot in there
    ]
    if kind == "device" and len(there) == 2:
        ends = (there[0].at, there[1].at)
        found.append(Stroke(f"{glyph}:{kind}", frame(id_, "line"), ends, pen, Layer.HANDS))
    return found


def _spots(project: Project, kind: str, id_: str) -> list[tuple[str, Point]]:
    """Give the link and the place of a pivot or a mark."""
    if kind == "mark":
        return [(mark.on, mark.at) for mark in project.marks if mark.id == id_]
    return [(rides_on(project, pivot), pivot.at) for pivot in project.pivots if pivot.id == id_]


def _link_ringed(project: Project, id_: str, key: str, pen: Pen) -> list[Shape]:
    link = next((each for each in project.links if each.id == id_), None)
    pins = tuple(pivot.at for pivot in project.pivots_on(id_))
    if link is None or len(pins) < (1 if link.width > 0 or has_plate(project, id_) else 2):
        return []
    edge = link_edge(project, link)
    points = edge or hull(pins)
    return [Stroke(key, id_, points, pen, Layer.HANDS, closed=bool(edge) or len(points) > 2)]


def sketch_shapes(
    points: tuple[Point, ...], link_id: str, look: Look, words: str = "", spots: tuple[Point, ...] | None = None
) -> list[Shape]:
    """Show an outline that is being drawn, with handles at its spots: where it was clicked, without any given all but
    the last point, which is the pointer's; and words there, framed as a measure's are.
    """
    if not points:
        return []
    stand = spots or points[:-1] or points
    found: list[Shape] = [Symbol("sketch:handles", link_id, stand, "handle", look.selection, look.paper, Layer.HANDS)]
    if len(points) > 1:
        found.append(Stroke("sketch", link_id, points, Pen(look.selection, 2.0, (6.0, 3.0)), Layer.HANDS))
    if words:
        found.append(_hand_label(points[-1], link_id, words, look))
    return found


def _hand_label(at: Point, link_id: str, words: str, look: Look) -> Label:
    """What the hand is making, said beside the pointer, below what leads it."""
    ink, paper = look.selection, look.paper
    return Label(
        "sketch:words", link_id, at, words, ink, paper, look.words_px, (1.0, -1.0), rank=0, framed=True, clear_px=16.0
    )


def picked_shapes(at: Point, link_id: str, look: Look) -> list[Shape]:
    """Show a place that was picked, while a tool waits for more."""
    return [Symbol("sketch:picked", link_id, (at,), "chosen handle", look.selection, look.paper, Layer.HANDS)]


def frame_shapes(one: Point, other: Point, link_id: str, look: Look, words: str = "") -> list[Shape]:
    """Show the frame that gathers what lies in it, or a box that is drawn, with words at the pointer."""
    corners = (one, (other[0], one[1]), other, (one[0], other[1]))
    pen = Pen(look.selection, 1.0, (4.0, 3.0))
    frame = Stroke("sketch:frame", link_id, corners, pen, Layer.HANDS, closed=True, fill=look.selection, veil=0.08)
    return [frame, _hand_label(other, link_id, words, look)] if words else [frame]


def flash_shapes(at: Point, link_id: str, look: Look) -> list[Shape]:
    """Show where a check speaks of: two rings around the place, for a moment."""
    return [Symbol("flash", link_id, (at,), "flash", look.selection, look.paper, Layer.HANDS)]


# -------------------------------------------------------------------------------------------------- what leads the hand
RING_CHORDS = 96
BEYOND_PX = 28.0  # how far a guide goes on beyond the places that it ties


def led_shapes(led: Snap, link_id: str, look: Look, units: Units, scale: float) -> list[Shape]:
    """Show what leads the hand: thin lines to the pins that it is level or plumb with, rings of equal length, a ring
    around what it landed on; and say so beside it. scale : pixels per mm.
    """
    found: list[Shape] = []
    for place, hold in enumerate(led.holds):
        points = _hold_line(hold, led.at, BEYOND_PX / scale)
        if points:
            pen = Pen(look.selection, 1.0, (5.0, 3.0))
            found.append(Stroke(f"led:{place}", link_id, points, pen, Layer.HANDS))
        if hold.kind == "on":
            found.append(Symbol("led:on", link_id, (led.at,), "landed", look.selection, look.paper, Layer.HANDS))
    found.append(
        Label(
            "led:words", link_id, led.at, snap_words(led, units), look.selection, look.paper, look.small_px,
            rank=0, clear_px=16.0,
        )
    )  # fmt: skip
    return found


def _hold_line(hold: Hold, at: Point, beyond: float) -> tuple[Point, ...]:
    """The line along which something holds the hand; none for a place or the squares."""
    if hold.ring is not None:
        (x, y), r = hold.ring.about, hold.ring.radius
        turns = (2 * pi * k / RING_CHORDS for k in range(RING_CHORDS + 1))
        return tuple((x + r * cos(turn), y + r * sin(turn)) for turn in turns)
    if hold.kind not in ("level", "plumb", "kept line"):
        return ()
    x, y = at[0] - hold.place[0], at[1] - hold.place[1]
    far = hypot(x, y)
    if far == 0.0:
        return ()
    ex, ey = beyond * x / far, beyond * y / far
    return (hold.place[0] - ex, hold.place[1] - ey), (at[0] + ex, at[1] + ey)
