"""Prop and stop on the sheet, where they work; what is seldom used is drawn thin. No Qt here.

The prop is a rod of true length. At the opening at which it is set it stands between its two ends; at all others it
hangs by its first end and lies, dashed, along the way to the panel's furthest edge, as far as it is long: so one sees
whether it finds room. Both are one bar of 1 mm, drawn out and turned on *frames* (`app.load_shapes`); the one that is
not to be seen is drawn together to a point. The stop is two small blocks, one on each of its links, whose faces meet
when the panel is open so far.
"""

from __future__ import annotations

from cmath import phase, rect
from math import copysign, radians
from typing import TYPE_CHECKING

from app.kept import kept
from app.lengths import format_angle
from app.load_shapes import FRAME
from app.strokes import SHUT, Label, Layer, Pen, Placement, Shape, Stroke, Symbol
from kinematics.gust import chord_ends

if TYPE_CHECKING:
    from collections.abc import Mapping

    from app.lengths import Units
    from app.look import Look
    from kinematics.analysis import Analysis
    from kinematics.fittings import Prop, Stop
    from kinematics.project import Outline, Point
    from kinematics.results import Pose

SET, STOWED = f"{FRAME}prop set", f"{FRAME}prop stowed"
"""Frames on which the rod rides when it is set, and when it isn't."""
NEAR_DEG = 0.25
"""So near to its opening a prop is drawn set."""
GONE = 1e-6
"""What isn't to be seen is drawn together by so much."""
THICK = 10.0
"""Of the rod as drawn, mm (a usual size)."""
BLOCK = 10.0
"""Of the stop's blocks, along the arm either way and across it, mm."""


def holding_placements(analysis: Analysis, pose: Pose, links: Mapping[str, Placement]) -> dict[str, Placement]:
    """Give the placements of the rod's frames at a pose; none without a prop."""
    prop = None if analysis.project.loads is None else analysis.project.loads.prop_rod
    if prop is None:
        return {}
    foot = complex(*links.get(prop.from_end.on, SHUT).carry(prop.from_end.at))
    seat = complex(*links.get(prop.to_end.on, SHUT).carry(prop.to_end.at))
    length = prop_length(analysis)
    if length is None:  # it is never set: the line between its ends
        return {SET: _bar(foot, 0j), STOWED: _bar(foot, seat - foot)}
    if abs(pose.deg - prop.at_deg) <= NEAR_DEG:
        return {SET: _bar(foot, seat - foot), STOWED: _bar(foot, 0j)}
    turn = links.get(prop.from_end.on, SHUT).turn_rad
    return {SET: _bar(foot, 0j), STOWED: _bar(foot, rect(length, turn + stow_way(analysis, prop)))}


def _bar(foot: complex, line: complex) -> Placement:
    """Where a bar of 1 mm along x lies along a line from a foot."""
    return Placement(phase(line) if line else 0.0, foot.real, foot.imag, max(abs(line), GONE), 0.0)


def prop_length(analysis: Analysis) -> float | None:
    """Give how long the prop is, mm; None where its opening isn't reached."""
    told = None if analysis.loads is None or analysis.loads.holding is None else analysis.loads.holding.prop
    return None if told is None else told.length


def stow_way(analysis: Analysis, prop: Prop) -> float:
    """Give the direction (rad, shut) in which it is stowed: to that end of the panel which is further away."""
    ends = _panel_ends(analysis.project.outlines, analysis.project.panel.id)
    foot = complex(*prop.from_end.at)
    far = max(ends or (complex(*prop.to_end.at),), key=lambda end: abs(end - foot))
    return phase(far - foot) if far != foot else 0.0


@kept(4)
def _panel_ends(outlines: tuple[Outline, ...], panel: str) -> tuple[complex, complex] | None:
    """The two points of the panel that lie furthest apart; asked for at every pose."""
    return chord_ends(outline for outline in outlines if outline.on == panel)


# -------------------------------------------------------------------------------------------------------------- shapes
def holding_shapes(analysis: Analysis, look: Look, units: Units) -> list[Shape]:
    """Give prop and stop, as far as they are known."""
    loads = analysis.project.loads
    if loads is None:
        return []
    found = [] if loads.prop_rod is None else _prop(loads.prop_rod, look, units)
    return found + ([] if loads.stop is None else _stop(analysis, loads.stop, look, units))


def _prop(prop: Prop, look: Look, units: Units) -> list[Shape]:
    half = 0.5 * THICK
    bar: tuple[Point, ...] = ((0.0, half), (1.0, half), (1.0, -half), (0.0, -half))
    line: tuple[Point, ...] = ((0.0, 0.0), (1.0, 0.0))
    hangs, seat = prop.from_end, prop.to_end
    words = f"prop, at {format_angle(prop.at_deg, units)}"
    return [
        Stroke("prop:stowed", STOWED, line, Pen(look.link, look.thin, (8.0, 4.0)), Layer.DEVICES),
        Stroke("prop:set", SET, bar, Pen(look.link, look.line), Layer.DEVICES, closed=True, fill=look.link_fill),
        Symbol("prop:hangs", hangs.on, (hangs.at,), "eye", look.ink, look.paper, Layer.PINS),
        Symbol("prop:seat", seat.on, (seat.at,), "eye", look.ink, look.paper, Layer.PINS),
        Label("name of prop", hangs.on, hangs.at, "prop", look.faint, look.paper, look.small_px, (-1.0, -1.0), rank=8),
        Label("name of seat", seat.on, seat.at, words, look.faint, look.paper, look.small_px, (-1.0, 1.0), rank=8),
    ]


def _stop(analysis: Analysis, stop: Stop, look: Look, units: Units) -> list[Shape]:
    """Two blocks; the second link's comes against the first's."""
    told = None if analysis.loads is None or analysis.loads.holding is None else analysis.loads.holding.stop
    if told is None or told.turned_deg is None or told.ratio is None or not told.pivot:
        return []
    project, (first, second) = analysis.project, stop.between
    about = complex(*project.pivot(told.pivot).at)
    others = [complex(*pivot.at) for pivot in project.pivots_on(second) if pivot.id != told.pivot]
    way = phase(min(others, key=lambda at: abs(at - about)) - about) if others else 0.0
    ahead, turned = copysign(1.0, told.ratio), radians(told.turned_deg)
    pen, found = Pen(look.link, look.line), []
    faces = (first, way + turned, ahead, look.link), (second, way, -ahead, look.link_fill)
    for number, (link, angle, side, fill) in enumerate(faces):
        block = _block(about, stop.arm, angle, side)
        found.append(Stroke(f"stop:{number}", link, block, pen, Layer.DEVICES, closed=True, fill=fill))
    face = about + rect(stop.arm, way + turned)
    words, at = f"stop, at {format_angle(stop.at_deg, units)}", (face.real, face.imag)
    ink, away = look.faint, (face.real - about.real, face.imag - about.imag)
    room = 3.0 * stop.arm
    return [*found, Label("name of stop", first, at, words, ink, look.paper, look.small_px, away, rank=8, span=room)]


def _block(about: complex, arm: float, angle: float, side: float) -> tuple[Point, ...]:
    """A block whose face lies on the ray from a pivot at an angle, and whose body lies beside it: +1 anticlockwise."""
    half = min(BLOCK, 0.4 * arm)
    out = rect(1.0, angle)
    near, far, aside = (arm - half) * out, (arm + half) * out, side * 1j * BLOCK * out
    corners = (about + near, about + far, about + far + aside, about + near + aside)
    return tuple((z.real, z.imag) for z in corners)
