"""The wall as one sees it who stands before it and drills: both hinges side by side, mirrored about the centreline.

Along the wall runs to the right, up the wall up; where a wall leans, lengths up the wall are named so, and the table
has heights plumb over the level line beside them. Every hinge has its own wall, folded flat at the centreline; where it
is off square and leans as well, the centreline runs aslant up either half, and what is taped along the wall counts from
it (`SetOut.taped`). Bolts have their number in the order of drilling.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from app.setout.views import CENTRE, HIDDEN, STEP, Axis, Style, View, circled, figure_words, shortened
from app.shapes import Layer, Pen, Shape
from kinematics.walling import FLAT

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from app.lengths import Units
    from app.look import Look
    from kinematics.project import Point
    from kinematics.setting_out import SetOut, Spot

STUB = 0.8
"""Of the plate's width, the stretch that stays at either side of a break."""
MOST = 3
"""So many columns or rows of bolts have a dimension line each; of more, only the first two bolts drilled."""
SAME = 0.05
"""Mm by which bolts of one column may differ."""
LEANS = 0.05
"""Deg of lean from which on plumb and up the wall are told apart."""


@dataclass(frozen=True, slots=True)
class Hand:
    """One hinge in the view: its set-out, and how along and up are shortened for it."""

    told: SetOut
    along: Axis
    up: Axis

    def at(self, along: float, up: float) -> Point:
        """Where a place of the wall comes in the view."""
        return self.told.outboard * self.along.shown(along), self.up.shown(up)

    def spot(self, spot: Spot) -> Point:
        """Where a spot comes."""
        return self.at(spot.along, spot.up)

    def aslant(self, y: float) -> Point:
        """Where the centreline of this half is at a height of the view."""
        return self.told.outboard * y * self.told.rise[0] / self.told.rise[1], y

    def taped(self, spot: Spot) -> Point:
        """Where a spot comes on the level line, taken down along the centreline's way."""
        return self.at(self.told.taped(spot), 0.0)

    @property
    def plate(self) -> tuple[Point, ...]:
        """The plate's corners."""
        return tuple(self.at(*corner) for corner in self.told.plate)

    @property
    def leans(self) -> bool:
        """Whether plumb and up the wall differ."""
        return abs(self.told.plane.lean_deg) > LEANS


@dataclass(frozen=True, slots=True)
class WallView(View):
    """The view.   edge : height of the wall's upper edge over the level line, or None."""

    hands: tuple[Hand, ...]
    units: Units
    edge: float | None = None

    def shapes(self, look: Look, scale: float) -> list[Shape]:
        """What is drawn."""
        style = Style(look, self.units, 1.0 / scale)
        found = self._datums(style)
        for hand in self.hands:
            found += _hinge(hand, style)
            found += _alongs(hand, style, self.box[1])
            found += _heights(hand, style, self.box)
        return found

    def _datums(self, style: Style) -> list[Shape]:
        """Centreline, level line, the wall's upper edge, and the breaks."""
        left, low, right, high = self.box
        dashed, px = Pen(style.look.path, style.look.line, CENTRE), style.px
        top, bottom = high + 10.0 * px, low - 14.0 * px
        found: list[Shape] = [
            style.line(f"centreline {hand.told.hand}", (hand.aslant(bottom), hand.aslant(top)), dashed, Layer.GAPS)
            for hand in self.hands[: 1 if all(abs(hand.told.rise[0]) < FLAT for hand in self.hands) else 2]
        ]
        found += [
            style.words("centreline name", (0.0, high + 8.0 * px), "centreline", (0.0, 1.0), rank=2),
            style.line("level", ((left - 6.0 * px, 0.0), (right + 6.0 * px, 0.0)), dashed, Layer.GAPS),
            style.words("level name", (0.0, 0.0), "level line", (1.0, 1.0), rank=4),
        ]
        if self.edge is not None and self.hands:
            y = self.hands[0].up.shown(self.edge / float(self.hands[0].told.plane.up[1]))
            pen = Pen(style.look.fixed, style.look.heavy)
            found.append(style.line("edge", ((left, y), (right, y)), pen, Layer.FIXED))
            found.append(
                style.words(
                    "edge name",
                    (0.3 * (right if right > 0.0 else left), y),
                    f"edge of the wall, {figure_words(self.edge, style.units)} high",
                    (0.0, 1.0),
                    rank=4,
                )
            )
        for hand in self.hands:
            if hand.along.breaks:
                x = hand.told.outboard * hand.along.low
                found += style.zigzag(f"break {hand.told.hand}", (x, 0.0), (-low + 6.0 * px, high), 90.0)
        if self.hands and self.hands[0].up.breaks:
            y = self.hands[0].up.low * (1.0 if high > 0.0 else -1.0)
            found += style.zigzag("break up", (0.0, y), (-left, right), 0.0)
        return found


def wall_view(hands: Sequence[SetOut], units: Units, edge: float | None) -> WallView:
    """Lay the view out, shortened alike for both hinges."""
    corners = [corner for told in hands for corner in told.plate]
    nearest = min(min(along for along, _ in told.plate) for told in hands)
    wide = max(max(along for along, _ in told.plate) - min(along for along, _ in told.plate) for told in hands)
    ups = [up for _, up in corners]
    away = min(ups) if min(ups) > 0.0 else -max(ups) if max(ups) < 0.0 else 0.0
    along, up = shortened(nearest, STUB * wide), shortened(away, 0.35 * (max(ups) - min(ups)))
    seen = tuple(Hand(told, along, up) for told in hands)
    places = [place for hand in seen for place in hand.plate]
    xs, ys = [x for x, _ in places], [y for _, y in places]
    if edge is not None:
        ys.append(up.shown(edge / float(hands[0].plane.up[1])))
    reach = max(abs(x) for x in xs)
    left = -reach if any(hand.told.outboard < 0 for hand in seen) else min(0.0, *xs)
    right = reach if any(hand.told.outboard > 0 for hand in seen) else max(0.0, *xs)
    rows = max(len(_chosen(told, told.taped)) for told in hands)
    beside = 64.0 + max(_apart(hand) for hand in seen) * (MOST - 1)
    title = "The wall as you see it who stands before it and drills; folded flat at the centreline"
    box = (left, min(0.0, *ys), right, max(0.0, *ys))
    margins = (beside if left < -1e-6 else 30.0, 46.0, beside if right > 1e-6 else 30.0, 34.0 + STEP * rows)
    return WallView("wall", title, box, margins, seen, units, edge)


def _chosen(told: SetOut, read: Callable[[Spot], float]) -> list[Spot]:
    """The bolts whose place has a dimension line: one of each column or row, or the first two where there are many."""
    found: list[Spot] = []
    for spot in sorted(told.bolts, key=read):
        if all(abs(read(spot) - read(other)) > SAME for other in found):
            found.append(spot)
    return found if len(found) <= MOST else list(told.bolts[:2])


def _hinge(hand: Hand, style: Style) -> list[Shape]:
    """Plate, holes with their numbers, the line of the links' plane, a diagonal to check by."""
    told, look, name = hand.told, style.look, hand.told.hand
    faint = Pen(look.hatch, look.thin, HIDDEN)
    found: list[Shape] = [
        style.line(f"plate {name}", hand.plate, Pen(look.link, look.line), Layer.LINKS, look.link_fill)
    ]
    x, y = hand.spot(told.middle)
    half = 0.5 * told.base.height
    rise = told.outboard * told.rise[0] * half, told.rise[1] * half
    ends = ((x - rise[0], y - rise[1]), (x + rise[0], y + rise[1]))
    found.append(style.line(f"links {name}", ends, Pen(look.path, look.thin, CENTRE), Layer.PINS))
    radius = 0.5 * told.base.thread.clearance
    for bolt in told.bolts:
        at = hand.spot(bolt)
        key = f"hole {name} {bolt.name}"
        found.append(style.line(key, circled(at, radius), Pen(look.ink, look.line), Layer.PINS, look.paper, 1.0))
        for number, (dx, dy) in enumerate(((1.6 * radius, 0.0), (0.0, 1.6 * radius))):
            cross = ((at[0] - dx, at[1] - dy), (at[0] + dx, at[1] + dy))
            found.append(style.line(f"{key} cross {number}", cross, style.thin, Layer.PINS))
        inward = -told.outboard if at[0] * told.outboard > x * told.outboard else told.outboard
        found.append(style.words(f"{key} number", at, bolt.name, (float(inward), 0.0), rank=2, bold=True, clear=8.0))
    spots = {spot.name: spot for spot in told.bolts}
    for number, each in enumerate(told.diagonals[:2]):
        ends = hand.spot(spots[each.one]), hand.spot(spots[each.other])
        found.append(style.line(f"diagonal {name} {number}", ends, faint, Layer.PATHS))
    if told.diagonals:
        longest = told.diagonals[0]
        words = f"{longest.one} to {longest.other}: {figure_words(longest.length, style.units)}"
        a, b = hand.spot(spots[longest.one]), hand.spot(spots[longest.other])
        share = 0.38
        at = a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
        wide = 0.7 * told.base.part.width  # where the plate is small there is no room for it: the sentences have it
        found.append(replace(style.words(f"diagonal {name} figure", at, words, (0.0, 1.0), rank=6), span=wide))
    top = max(py for _, py in hand.plate)
    found.append(
        style.words(f"name {name}", (x, top), f"{name.upper()} hinge", (0.0, 1.0), rank=0, bold=True, clear=6.0)
    )
    return found


def _alongs(hand: Hand, style: Style, low: float) -> list[Shape]:
    """Dimension lines along the wall, from the centreline, beneath all."""
    found: list[Shape] = []
    told = hand.told
    origin = hand.taped(told.middle)[0] if told.from_middle else 0.0
    for row, bolt in enumerate(_chosen(told, told.taped)):
        y = low - (row + 1) * STEP * style.px
        (x, _), at = hand.taped(bolt), hand.spot(bolt)
        words, key = f"{figure_words(told.taped(bolt), style.units)} along the wall", f"along {told.hand} {row}"
        foot = (x, 0.0) if at[1] > 0.0 else at
        if at[1] > 0.0:
            found.append(style.line(f"{key} up", (foot, at), Pen(style.look.hatch, style.look.thin), Layer.ZONES))
        found += style.dimension(key, ((origin, y), (x, y)), ((origin, min(0.0, y)), foot), words, (0.0, 1.0))
    return found


def _apart(hand: Hand) -> float:
    """Pixels from one dimension line of heights to the next: their words stand between them."""
    return STEP * (2.6 if hand.leans else 1.6)


def _heights(hand: Hand, style: Style, box: tuple[float, float, float, float]) -> list[Shape]:
    """Dimension lines from the level line up, outboard of the hinge."""
    found: list[Shape] = []
    side, units = hand.told.outboard, style.units
    outer = box[2] if side > 0 else box[0]
    for row, bolt in enumerate(_chosen(hand.told, lambda spot: spot.up)):
        x = outer + side * (18.0 + row * _apart(hand)) * style.px
        words = figure_words(bolt.up, units)
        if hand.leans:
            words = f"{words} up"
        at = hand.spot(bolt)
        key = f"height {hand.told.hand} {row}"
        found += style.dimension(key, ((x, 0.0), (x, at[1])), ((at[0], 0.0), at), words, (float(side), 0.0))
    return found
