"""The lanes of lifting: the push at the handle over the opening, and what the pins of one hinge carry. No Qt here."""

from __future__ import annotations

from math import ceil, inf, isfinite
from typing import TYPE_CHECKING

import numpy as np

from app.lane_figures import Band, Edge, LaneFigures, Level, More, Sign, Upright
from app.lane_words import (
    RISES,
    balance_sign,
    effort_head,
    effort_told,
    end_words,
    jam_words,
    pin_head,
    pin_told,
    reading_words,
    want_words,
    why_none,
)
from app.lengths import format_angle, format_force
from app.ruler import tick_step
from kinematics.carrying import carried_at, pin_peaks, stretches, told

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.arrays import Floats
    from kinematics.carrying import PinPeak
    from kinematics.project import Loads
    from kinematics.results import LoadFigures

SHARE_OF_SHUT = 0.12  # how far along the travel the line of a want reaches that is of the shut panel alone
HIGHEST = 4.0  # a lane is at most so many times as high as what stays above in a tenth of the travel only
SHARE_BELOW = 0.22  # how much of the height above the zero line there is beneath it, for signs to hang there
ROOM_OVER_PINS = 1.9  # for the words above the largest
LEAST_FORCE = 4.0  # N, a lane's height at the least
NOBODY = np.zeros(0)
EFFORT = "push at the handle"  # the title of its lane


def lift_lanes(analysis: Analysis, units: Units, chosen: str | None = None) -> list[LaneFigures]:
    """Give the lanes of lifting; none where no loads are told of, or the panel doesn't open.

    chosen : the pin whose force stands out; None, or one that isn't there: the one that carries most.
    """
    figures, loads = analysis.loads, analysis.project.loads
    if figures is None or loads is None or not _says_something(loads, figures):
        return []
    if len(analysis.openings) < 2 or len(figures.effort) != len(analysis.openings):
        return []
    return [_effort_lane(analysis, figures, units), *_pin_lane(analysis, figures, units, chosen)]


def _says_something(loads: Loads, figures: LoadFigures) -> bool:
    """Whether there is anything to lift, and a handle, a want or a balance to tell of it."""
    told_of = loads.handle is not None or loads.wants is not None or figures.balances or figures.tip_overs
    return bool((loads.masses or loads.devices) and told_of)


# ---------------------------------------------------------------------------------------------------------- the effort
def _effort_lane(analysis: Analysis, figures: LoadFigures, units: Units) -> LaneFigures:
    xs, ys = analysis.openings, told(figures.effort, figures.bound)
    runs = stretches(ys)
    bands, jams = _bands(analysis, figures, ys)
    signs, levels = _signs(analysis, figures, units), _levels(analysis, units)
    seen = [ys, *(side for band in bands for side in (band.low, band.high))]
    bottom, top = _range(seen, [level.value for level in levels])
    bottom = min(bottom, -SHARE_BELOW * top)
    levels = levels if runs else ()
    first, *others = [(xs[a:b], ys[a:b]) for a, b in runs] or [(NOBODY, NOBODY)]

    def read(deg: float) -> tuple[float | None, str]:
        now = carried_at(analysis, deg)
        return now.push, reading_words(now, units)

    return LaneFigures(
        title=EFFORT,
        told=effort_told(analysis, units),
        head=effort_head(analysis, units),
        xs=first[0],
        ys=first[1],
        top=top,
        more=More(
            bottom=bottom,
            levels=levels,
            uprights=_uprights(analysis, units) if runs else (),
            signs=signs,
            bands=bands,
            edges=(*_edges(analysis, ys, runs, pushes=True), *(Edge(deg, force, jam_words()) for deg, force in jams)),
            pieces=tuple(others),
            shaded=RISES,
            instead="" if runs else why_none(analysis),
            read=read if runs else None,
            tall=True,
        ),
    )


def _bands(
    analysis: Analysis, figures: LoadFigures, effort: Floats
) -> tuple[tuple[Band, ...], list[tuple[float, float]]]:
    """The bands of friction, and where the pins begin to jam (deg, N of the effort there)."""
    if figures.raising is None or figures.letting_down is None:
        return (), []
    up, down = told(figures.raising, figures.bound), told(figures.letting_down, figures.bound)
    both = stretches(up + down)
    longest = max(both, key=lambda run: run[1] - run[0], default=(0, 0))
    bands = tuple(
        Band(analysis.openings[a:b], down[a:b], up[a:b], ("up", "down") if (a, b) == longest else ("", ""))
        for a, b in both
        if b - a > 1
    )
    jammed = stretches(np.where(np.isnan(up + down), effort, np.nan))
    return bands, [(float(analysis.openings[a]), float(effort[a])) for a, _ in jammed]


def _levels(analysis: Analysis, units: Units) -> tuple[Level, ...]:
    """The wants of the push: when shut over a short stretch, anywhere all along."""
    loads = analysis.project.loads
    wants = None if loads is None else loads.wants
    if wants is None:
        return ()
    found = []
    if wants.at_most is not None:
        found.append(Level(wants.at_most, want_words(wants.at_most, units)))
    anywhere = inf if wants.at_most is None else wants.at_most
    if wants.shut_at_most is not None and wants.shut_at_most < anywhere:  # else the other line says it too
        stretch = (0.0, SHARE_OF_SHUT * float(analysis.openings[-1]))
        found.append(Level(wants.shut_at_most, want_words(wants.shut_at_most, units, shut=True), stretch))
    return tuple(found)


def _uprights(analysis: Analysis, units: Units) -> tuple[Upright, ...]:
    loads = analysis.project.loads
    rests = None if loads is None or loads.wants is None else loads.wants.rests_until_deg
    return () if not rests else (Upright(rests, f"want no rise before {format_angle(rests, units)}"),)


def _signs(analysis: Analysis, figures: LoadFigures, units: Units) -> tuple[Sign, ...]:
    """The largest push, balances and the tip-over, the push when shut and at the end."""
    found = []
    largest, least = figures.largest, figures.least
    short = any(not check.ok for check in analysis.checks if check.kind == "push" and check.side == "largest")
    if largest is not None and largest.force > 0.0:
        words = format_force(largest.force, units)
        at = format_angle(largest.deg, units)
        kind = "short" if short else "largest"
        found.append(Sign(largest.deg, largest.force, kind, words, f"Go to the largest push: {words} at {at}"))
    elif least is not None and least.force < 0.0:
        words, at = format_force(least.force, units), format_angle(least.deg, units)
        found.append(Sign(least.deg, least.force, "largest", words, f"Go to where it pulls most: {words} at {at}"))
    for balance in figures.balances:
        words = balance_sign(balance, units)
        kind = "stable" if balance.stable else "unstable"
        found.append(Sign(balance.deg, 0.0, kind, words, f"Go to the balance: {words}"))
    for deg in figures.tip_overs:
        words = f"tip-over {format_angle(deg, units)}"
        found.append(Sign(deg, 0.0, "tip-over", words, f"Go to the {words}"))
    return (*found, *_ends(analysis, figures, [sign.place for sign in found], units))


def _ends(analysis: Analysis, figures: LoadFigures, taken: list[float], units: Units) -> list[Sign]:
    """The push when shut and at the end, where nothing else stands close by."""
    near = 0.06 * float(analysis.openings[-1])
    ends = ((float(analysis.openings[k]), float(figures.effort[k])) for k in (0, -1))
    return [
        Sign(deg, force, "point", format_force(force, units))
        for deg, force in ends
        if isfinite(force) and abs(force) <= figures.bound and all(abs(deg - place) > near for place in taken)
    ]


def _edges(analysis: Analysis, values: Floats, runs: list[tuple[int, int]], *, pushes: bool) -> list[Edge]:
    """Where the curve ends before the travel does, or has a gap, and why; `pushes`: it is that of the hand's push."""
    found = []
    for a, b in runs:
        if a > 0:
            found.append(Edge(float(analysis.openings[a]), float(values[a])))
        if b < len(values):
            words = end_words(analysis, last=(a, b) == runs[-1], pushes=pushes)
            found.append(Edge(float(analysis.openings[b - 1]), float(values[b - 1]), words))
    return found


# ------------------------------------------------------------------------------------------------------------ the pins
def _pin_lane(analysis: Analysis, figures: LoadFigures, units: Units, chosen: str | None) -> list[LaneFigures]:
    peaks = pin_peaks(analysis)
    most = max((peak for peak in peaks if peak is not None), key=lambda peak: peak.force, default=None)
    if most is None:
        return []
    own = next((peak for peak in peaks if peak is not None and peak.pivot == chosen), most)
    sizes = told(figures.pins, figures.bound)
    names = [pivot.id for pivot in analysis.project.pivots]
    xs, ys = analysis.openings, sizes[:, names.index(own.pivot)]
    runs = stretches(ys)
    others = [
        (xs[a:b], sizes[a:b, k]) for k, name in enumerate(names) if name != own.pivot for a, b in stretches(sizes[:, k])
    ]

    def read(deg: float) -> tuple[float | None, str]:
        force = carried_at(analysis, deg).pins.get(own.pivot)
        return force, "" if force is None else format_force(force, units)

    first, *rest = [(xs[a:b], ys[a:b]) for a, b in runs]
    is_chosen = own.pivot == chosen
    return [
        LaneFigures(
            title=f"force on pin {own.pivot}" if is_chosen else "force on the pins",
            told=pin_told(own, most, is_chosen, units),
            head=pin_head(own, most, is_chosen, units),
            xs=first[0],
            ys=first[1],
            top=_range([np.where(np.isfinite(sizes), sizes, 0.0).max(axis=1)], [], ROOM_OVER_PINS)[1],
            more=More(
                signs=(_pin_sign(own, units),),
                edges=tuple(_edges(analysis, ys, runs, pushes=False)),
                pieces=tuple(rest),
                others=tuple(others),
                read=read,
            ),
        )
    ]


def _pin_sign(peak: PinPeak, units: Units) -> Sign:
    words, at = format_force(peak.force, units), format_angle(peak.deg, units)
    go = f"Go to where {peak.pivot} carries most: {words} at {at}"
    return Sign(peak.deg, peak.force, "largest", f"{peak.pivot} {words}", go)


# --------------------------------------------------------------------------------------------------------------- range
def _range(seen: Sequence[Floats], wanted: Sequence[float], room: float = 1.2) -> tuple[float, float]:
    """Round values beneath and above all that is to be seen, `room` times as high: a spike towards a place where forces
    grow without measure is cut off, so that the rest keeps its height.
    """
    values = np.concatenate([*seen, NOBODY])
    values = values[np.isfinite(values)]
    usual = HIGHEST * float(np.percentile(np.abs(values), 90)) if len(values) else 0.0
    least = max([LEAST_FORCE, usual, *(1.15 * want for want in wanted)])
    high = min(max([LEAST_FORCE, *(1.25 * want for want in wanted), room * float(values.max(initial=0.0))]), least)
    low = max(min(1.25 * float(values.min(initial=0.0)), 0.0), -least)
    step = tick_step(high - low, 8)
    return -ceil(-low / step) * step + 0.0, ceil(high / step) * step
