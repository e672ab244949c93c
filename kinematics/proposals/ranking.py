"""Which of several proposals comes first: preferences as weights, applied to what was found, without a new search.

Each figure of a proposal becomes a *merit* between 0 (hopeless) and 1 (as good as can be), by a rule of its own that
looks at no other proposal; so no proposal's merit changes because another was found. With s, the panel's size (the
diagonal of the box around its outlines, or around all pins where none is drawn):

- few pins: (8 − n) / 7 for n pins, 0 for eight and more. One pin is the least to make.
- compact: s / (s + 2 d), d the diagonal of the box around all pins, shut.
- short links: s / (s + 2 l), l the longest distance of two pins on one link between fixed link and panel.
- good transmission: sin µ, µ the least transmission angle; 1 for a single pivot, which transmits nothing.
- never back: s / (s + 20 b), b how far the rear corner goes back: a twentieth of the panel's size halves it.
- low effort: 200 N / (200 N + |F|), F the largest push at the handle; ½ where it isn't known.

The *score* is the mean of the merits, weighted by the preferences; with all preferences at 0, every score is 0.
Proposals that hold every want come first, by score; behind them those that fall short, by how much. What is equal
stands in the order in which it was found. The scales (2, 20, 200 N) are our own choice: they set how soon a figure
counts as poor, and no order by one figure alone depends on them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, fields
from itertools import combinations
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from kinematics.project import Point, Project
    from kinematics.proposals.results import Proposal

MOST_PINS = 8
BOX_SCALE, LINK_SCALE, BACK_SCALE, EFFORT_N = 2.0, 2.0, 20.0, 200.0
NOT_KNOWN = 0.5


@dataclass(frozen=True, slots=True)
class Preferences:
    """How much each figure counts, 0 (not at all) to 1.

    By default all of them, most of all the transmission: what nearly binds is no pleasure however small it is.
    """

    few_pins: float = 0.4
    compact: float = 0.5
    short_links: float = 0.3
    transmission: float = 0.9
    never_back: float = 0.5
    low_effort: float = 0.3


NAMES = tuple(each.name for each in fields(Preferences))
"""The preferences, in the order in which they are shown."""


def merits(proposal: Proposal) -> dict[str, float]:
    """Give the merit of each figure, by the names of `Preferences`."""
    figures, size = proposal.figures, panel_size(proposal.project)
    room = math.hypot(*figures.room) if figures.room is not None else 0.0
    angle, back, effort = figures.transmission_deg, figures.back or 0.0, figures.effort
    return {
        "few_pins": max(0.0, (MOST_PINS - len(proposal.project.pivots)) / (MOST_PINS - 1)),
        "compact": size / (size + BOX_SCALE * room),
        "short_links": size / (size + LINK_SCALE * longest_link(proposal.project)),
        "transmission": 1.0 if angle is None else math.sin(math.radians(angle)),
        "never_back": size / (size + BACK_SCALE * back),
        "low_effort": NOT_KNOWN if effort is None else EFFORT_N / (EFFORT_N + abs(effort)),
    }


def score(proposal: Proposal, preferences: Preferences) -> float:
    """How good a proposal is by these preferences, 0 to 1."""
    weights = {name: float(getattr(preferences, name)) for name in NAMES}
    total = sum(weights.values())
    if total <= 0.0:
        return 0.0
    return sum(weights[name] * merit for name, merit in merits(proposal).items()) / total


def ranked(proposals: Iterable[Proposal], preferences: Preferences) -> tuple[Proposal, ...]:
    """The same proposals, the best first; the order in which they come doesn't matter."""

    def place(proposal: Proposal) -> tuple[bool, float, float, int, tuple[Point, ...]]:
        pins = tuple(pivot.at for pivot in proposal.project.pivots)
        short = 0.0 if proposal.ok else proposal.short_by
        return not proposal.ok, short, -score(proposal, preferences), proposal.unit, pins

    return tuple(sorted(proposals, key=place))


def longest_link(project: Project) -> float:
    """The longest distance (mm) of two pins on one of the links between fixed link and panel; 0 without one."""
    ends = (
        math.dist(one.at, other.at)
        for link in project.links
        if link.kind == "link"
        for one, other in combinations(project.pivots_on(link.id), 2)
    )
    return max(ends, default=0.0)


def panel_size(project: Project) -> float:
    """The diagonal (mm) of the box around the panel's outlines; of that around all pins where none is drawn."""
    drawn = [point for outline in project.outlines if outline.on == project.panel.id for point in outline.points]
    points = drawn or [pivot.at for pivot in project.pivots]
    if not points:
        return 1.0
    (left, right), (low, high) = ((min(v), max(v)) for v in zip(*points, strict=True))
    return max(math.hypot(right - left, high - low), 1.0)
