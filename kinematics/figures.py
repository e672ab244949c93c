"""Key figures of a layout: the few numbers by which two hinges are compared.

How far it opens; the smallest *clearance* among what is wanted (among all panel–fixed pairs where nothing is), at its
low end where the outlines are uncertain; how far the *rear corner* goes back, away from the panel's front, at any
opening; the least *transmission angle*; and the *room* that the hinge takes when shut, as the box around the pins.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from kinematics.carrying import largest_pin
from kinematics.extremes import lowest
from kinematics.rear_edge import rear_edge

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.arrays import Floats
    from kinematics.results import Gap

FINE = 6
"""Samples in each stretch between knots when the furthest place back is sought."""


@dataclass(frozen=True, slots=True)
class KeyFigures:
    """None stands where there is no figure.

    opens_deg : opening reached; `opens` tells whether that is the one wanted.
    clearance, of : mm, the smallest clearance (less what the outlines may be off) and its pair; of_drawn, uncertain :
    mm, that pair's clearance as drawn, and by how much it may be off (0: `clearance` is as drawn).
    back, back_deg : mm, how far the rear corner goes back at most (0: never), and at which opening.
    transmission_deg : the least transmission angle.   room : mm, width and height of the box around the pins, shut.
    effort : N, the largest push at the handle; None where it isn't known.
    pin, pin_id : N, the most that a pin of one hinge carries, and which.   hold : N, the push that must hold it open at
    worst (less than nothing: so much is to spare); None where no worst case is asked for.
    short : how many checks fall short, of `checks`.
    """

    opens_deg: float
    opens: bool
    clearance: float | None
    of: tuple[str, str] | None
    of_drawn: float | None
    uncertain: float
    back: float | None
    back_deg: float | None
    transmission_deg: float | None
    room: tuple[float, float] | None
    effort: float | None
    short: int
    checks: int
    pin: float | None = None
    pin_id: str = ""
    hold: float | None = None


def key_figures(analysis: Analysis) -> KeyFigures:
    """Give the key figures of an analysed project."""
    opening, told, loads = analysis.opening, analysis.transmission, analysis.loads
    pin = largest_pin(analysis)
    gap = _tightest(analysis)
    back, back_deg = _furthest_back(analysis)
    angle = told.smallest_deg if told is not None and math.isfinite(told.smallest_deg) else None
    return KeyFigures(
        opens_deg=opening.reached_deg,
        opens=opening.ends == "wanted opening",
        clearance=None if gap is None else _low(gap),
        of=None if gap is None else gap.between,
        of_drawn=None if gap is None else gap.smallest,
        uncertain=0.0 if gap is None else gap.uncertain,
        back=back,
        back_deg=back_deg,
        transmission_deg=angle,
        room=_room(analysis),
        effort=None if loads is None or loads.largest is None else loads.largest.force,
        pin=None if pin is None else pin.force,
        pin_id="" if pin is None else pin.pivot,
        hold=None if loads is None or loads.worst is None else loads.worst.force,
        short=sum(not check.ok for check in analysis.checks),
        checks=len(analysis.checks),
    )


def _tightest(analysis: Analysis) -> Gap | None:
    """The gap of the smallest clearance."""
    there = [gap for gap in analysis.gaps if gap.smallest is not None]
    return min([gap for gap in there if gap.wanted] or there, key=_low, default=None)


def _low(gap: Gap) -> float:
    return max((gap.smallest or 0.0) - gap.uncertain, 0.0)


def _room(analysis: Analysis) -> tuple[float, float] | None:
    """Width and height of the box around all pins, shut."""
    if not analysis.project.pivots:
        return None
    xs, ys = zip(*(pivot.at for pivot in analysis.project.pivots), strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def _furthest_back(analysis: Analysis) -> tuple[float | None, float | None]:
    """How far (mm) the panel's rear corner goes back at most, and the opening (deg); Nones where no panel is drawn."""
    project, sweep = analysis.project, analysis.sweep
    if not any(outline.on == project.panel.id for outline in project.outlines):
        return None, None
    if sweep.reached <= 0.0:
        return 0.0, 0.0
    edge = rear_edge(project)
    column = analysis.links.index(project.panel.id)

    def ahead(y: Floats) -> Floats:
        """How far ahead of its shut place the corner stands, mm."""
        z = sweep.shifts(y)[:, column] + np.exp(1j * sweep.link_turns(y)[:, column]) * edge.origin
        return np.asarray(((z - edge.origin) / edge.ahead).real)

    def close(places: Floats) -> Floats:
        return ahead(sweep.branch.cubic(places))

    arcs = sweep.fine_arcs(0.0, FINE)
    arc, least = lowest(arcs, close(arcs), close, lambda places: ahead(sweep.at_arcs(places)))
    if least >= -1e-9:
        return 0.0, 0.0
    y = sweep.at_arcs(np.array([arc]))
    return -least, min(max(math.degrees(sweep.sign * float(y[0, sweep.panel])), 0.0), sweep.reached_deg)
