"""What the travel strip shows of an analysis, as plain numbers and words: the scale, the marks, the lanes. No widget
here.
"""

from __future__ import annotations

from itertools import zip_longest
from math import ceil
from typing import TYPE_CHECKING

import numpy as np

from app.check_figures import gap_figures
from app.lane_figures import LaneFigures
from app.lengths import format_angle, format_length, style_of
from app.lift_lanes import lift_lanes
from app.ruler import RulerMark, Scale, tick_step
from app.words import FAILS, HOLDS, doubt_words, gap_name, mobility_sentence, touching_words
from kinematics.sureness import how_sure

if TYPE_CHECKING:
    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.results import Gap, Transmission
    from kinematics.sureness import Sure

DEAD_POINT_WITHIN = (
    1.4  # a dead point up to this many times the wanted opening is on the scale; a farther one is only named
)


def slides(analysis: Analysis) -> bool:
    """Whether the travel is told by place along the branch, as the panel moves without turning at shut."""
    return analysis.state == "slides"


def scale_of(analysis: Analysis) -> Scale:
    """The travel's scale: from shut to the wanted opening, and on to the dead point where that is near."""
    if slides(analysis):
        first, last = analysis.arc_range
        return Scale(first, last) if last > first else Scale()
    last = max(analysis.opening.wanted_deg, analysis.opening.reached_deg, 1.0)
    dead = analysis.dead_point_deg
    if dead is not None and dead <= DEAD_POINT_WITHIN * analysis.opening.wanted_deg:
        last = max(last, dead)
    stop = None if analysis.project.loads is None else analysis.project.loads.stop
    if stop is not None and stop.at_deg <= DEAD_POINT_WITHIN * analysis.opening.wanted_deg:
        last = max(last, stop.at_deg)
    return Scale(0.0, float(last))


def marks_of(analysis: Analysis, units: Units = "mm") -> tuple[RulerMark, ...]:
    """Shut, the wanted opening, the dead point and where the sweep ends, in words."""
    if slides(analysis):
        return (RulerMark(0.0, "shut"),)
    scale, opening, dead = scale_of(analysis), analysis.opening, analysis.dead_point_deg
    marks = [RulerMark(0.0, "shut"), RulerMark(opening.wanted_deg, f"wanted {format_angle(opening.wanted_deg, units)}")]
    if dead is not None:
        beyond = " ▸" if dead > scale.last else ""
        marks.append(
            RulerMark(min(dead, scale.last), f"dead point {format_angle(dead, units)}{beyond}", strong=not beyond)
        )
    return (*marks, *_holding_marks(analysis, scale, units), *_lift_marks(analysis, units))


def _holding_marks(analysis: Analysis, scale: Scale, units: Units) -> list[RulerMark]:
    """Where the prop is set, and where the stop lies."""
    loads = analysis.project.loads
    parts = {} if loads is None else {"prop": loads.prop_rod, "stop": loads.stop}
    return [
        RulerMark(part.at_deg, f"{name} {format_angle(part.at_deg, units)}")
        for name, part in parts.items()
        if part is not None and part.at_deg <= scale.last
    ]


def _lift_marks(analysis: Analysis, units: Units) -> list[RulerMark]:
    """Where it balances, and where its weight alone tips over: told where there is room."""
    told = analysis.loads
    if told is None:
        return []
    marks = [
        RulerMark(each.deg, f"{'stays' if each.stable else 'balances'} {format_angle(each.deg, units)}", minor=True)
        for each in told.balances
    ]
    return marks + [RulerMark(deg, f"tip-over {format_angle(deg, units)}", minor=True) for deg in told.tip_overs]


def lanes_of(analysis: Analysis, units: Units, pin: str | None = None) -> tuple[LaneFigures, ...]:
    """A lane for each watched pair, in the analysis's order, those of lifting, then one for the transmission angle.

    pin : the one that is selected, if one is.
    """
    sures = zip_longest(analysis.gaps, how_sure(analysis))
    lanes = [_gap_lane(gap, units, sure) for gap, sure in sures]
    lanes += lift_lanes(analysis, units, pin)
    if analysis.transmission is not None:
        want = analysis.project.transmission_at_least
        lanes.append(_transmission_lane(analysis.transmission, want, units))
    return tuple(lanes)


def travel_note(analysis: Analysis) -> str:
    """What the strip has to say beside its lanes: why nothing moves, that the panel slides, or that no pair is watched
    yet. "" for nothing.
    """
    if slides(analysis):
        return f"{_capital(mobility_sentence(analysis))}: the strip runs along its path instead of the opening."
    if analysis.state != "moves":
        return f"{_capital(mobility_sentence(analysis))}."
    if not analysis.gaps:
        return (
            "No pair is watched yet: bring in an outline on the fixed link and one on the panel, "
            "or want a gap for any pair under Wants."
        )
    return ""


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _gap_lane(gap: Gap, units: Units, sure: Sure | None = None) -> LaneFigures:
    """The lane of a watched pair; its upper edge lies where want and smallest gap can both be told apart."""
    xs, ys = gap.lane
    least = None if gap.smallest is None or gap.at_deg is None else (gap.at_deg, gap.smallest)
    return LaneFigures(
        title=gap_name(gap.between),
        told=_gap_told(gap, units) + _at_worst(sure, units),
        xs=xs,
        ys=ys,
        top=_top(gap),
        holds=gap.ok,
        want=gap.at_least if gap.at_least else None,
        want_words=f"want {format_length(gap.at_least, units)}",
        least=least,
        least_words=gap_figures(gap, units)[0],
        touching=gap.touching_deg,
        doubt=gap.uncertain,
        head=_gap_head(gap, units, sure),
        lows=None if sure is None else sure.lane[1],
    )


def _gap_told(gap: Gap, units: Units) -> str:
    mark = "" if gap.ok is None else f"{HOLDS if gap.ok else FAILS} "
    if gap.smallest is None:
        return f"{mark}no figure: the sweep ends earlier"
    if gap.smallest <= 0.0:
        return f"{mark}touches at {touching_words(gap, units)}"
    doubt = doubt_words(gap.smallest, gap.uncertain, units)
    return f"{mark}least {gap_figures(gap, units)[0]}{doubt} at {format_angle(gap.at_deg, units)}"


def _gap_head(gap: Gap, units: Units, sure: Sure | None) -> str:
    """The same where it may be off, short enough to stand beside the lane: "✓ 10.6 ± 2.0 mm at 43.3°; worst 5.9"."""
    worst = _at_worst(sure, units)
    if not gap.smallest or not (gap.uncertain > 0.0 or worst):
        return ""
    mark = "" if gap.ok is None else f"{HOLDS if gap.ok else FAILS} "
    at = format_angle(gap.at_deg, units)
    if gap.uncertain <= 0.0:
        return f"{mark}{gap_figures(gap, units)[0]} at {at}{worst}"
    least = format_length(gap.smallest, units, unit=style_of(units).units == "in")
    return f"{mark}{least} ± {format_length(gap.uncertain, units)} at {at}{worst}"


def _at_worst(sure: Sure | None, units: Units) -> str:
    """The low end with holes and pins off, in short: "; worst 5.9"."""
    if sure is None or sure.low is None:
        return ""
    unit = style_of(units).units == "in"
    return f"; worst {format_length(sure.low, units, unit=unit) if sure.low > 0.0 else '0'}"


def _top(gap: Gap) -> float:
    """A round value above three times the want and twice the smallest gap."""
    high = max(3.0 * (gap.at_least or 0.0), 2.0 * (gap.smallest or 0.0), 10.0)
    step = tick_step(high, 4)
    return ceil(high / step) * step


def _transmission_lane(told: Transmission, want: float | None, units: Units) -> LaneFigures:
    """The smallest transmission angle of all links at each opening, and the want, deg, if there is one."""
    holds = None if want is None else told.smallest_deg >= want - 1e-9
    sign = "" if holds is None else f"{HOLDS if holds else FAILS} "
    least = f"least {format_angle(told.smallest_deg, units)}"
    angles = told.angles.min(axis=1) if told.angles.size else np.zeros(len(told.openings))
    return LaneFigures(
        title="transmission angle",
        told=f"{sign}{least} at {format_angle(told.at_deg, units)} ({told.link})",
        xs=told.openings,
        ys=angles,
        top=95.0,
        least=(told.at_deg, told.smallest_deg),
        least_words=format_angle(told.smallest_deg, units),
        holds=holds,
        want=want,
        want_words="" if want is None else f"want {format_angle(want, units)}",
    )
