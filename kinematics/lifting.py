"""Wants of lifting, compared: how hard it may be to lift, and where the panel must stay by itself.

Terms. *Shut* and *largest* are pushes at the handle (N): the one that holds the panel just when shut, and the largest
over the sweep. The panel *rests* until it rises by itself: the first opening at which the effort is below nothing; but
that its seal and bump stops lift it a little, unlatched, and it then lies on them, is no rising by itself. It
*stays* at full opening where the effort there is nothing or less, so that no hand is needed; where it doesn't, a prop
that is pressed holds it, and the check says that it needs it. All without friction, which comes and goes and isn't to
be relied on. A *stop* lies past the wanted opening and the prop's, and before the dead point. What the latch holds is
told with the struts hot, if there are any.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from kinematics.results import Check

if TYPE_CHECKING:
    from kinematics.fittings import Stop
    from kinematics.loads import LiftWants, WorstCase
    from kinematics.project import Point
    from kinematics.results import LoadFigures, Opening, ShutFigures

LIFTED = 1.0
"""Deg by which a seal may lift a panel that is said to rest; more is a rise (our own bound)."""
SLACK = 1e-9
"""A push (N) or an opening (deg) that misses by so little is rounding."""
HALF_TURN_DEG = 180.0
"""Openings are followed up to here: one as large is no dead point."""


def lift_checks(wants: LiftWants, told: LoadFigures, opening: Opening) -> list[Check]:
    """Every want of lifting; `have` is None where the effort isn't told."""
    shut, full = float(told.effort[0]), float(told.effort[-1])
    found = []
    if wants.shut_at_most is not None:
        found.append(_push("shut", wants.shut_at_most, shut, 0.0))
    if wants.at_most is not None:
        found.append(_largest(wants.at_most, told))
    if wants.rests_until_deg is not None:
        found.append(_rests(wants.rests_until_deg, told, shut, opening))
    if wants.stays_open:
        found.append(_stays("open", full, told, opening))
    if wants.stays_open_in is not None:
        found.append(_worst(wants.stays_open_in, told, opening))
    return found + _shut_checks(wants, told.shut)


def _worst(case: WorstCase, told: LoadFigures, opening: Opening) -> Check:
    """Whether it stays open in the worst case; untold where a gust is in it and nobody knows what that meets."""
    if case.wind > 0.0 and (told.holding is None or told.holding.gust is None):
        return replace(_push("worst", 0.0, math.nan, opening.reached_deg), needs="width")
    return _stays("worst", math.nan if told.worst is None else told.worst.force, told, opening)


def _shut_checks(wants: LiftWants, told: ShutFigures | None) -> list[Check]:
    """Wants of the panel shut, on its latch."""
    found = []
    if wants.latch_at_most is not None:
        holds = [] if told is None else [force for force in (told.latch, told.latch_hot) if force is not None]
        found.append(_push("latch", wants.latch_at_most, max(holds, default=math.nan), 0.0))
    if wants.rear_edge_rise_at_most is not None:
        rise, place = (None, None) if told is None else (told.rise, told.rear)
        found.append(_length("rear edge", wants.rear_edge_rise_at_most, rise, place))
    if wants.side_step_at_most is not None:
        entry = None if told is None else told.entry
        step, place = (None, None) if entry is None else (entry.side_step, entry.step_at)
        found.append(_length("striker", wants.side_step_at_most, step, place))
    return found


def _length(kind: str, want: float, have: float | None, place: Point | None) -> Check:
    """A length of at most so much (mm), shut; none that is told falls short."""
    if have is None:
        return Check(kind, (), want, None, False, -math.inf)
    return Check(kind, (), want, have, have <= want + SLACK, want - have, 0.0, place)


def _stays(side: str, have: float, told: LoadFigures, opening: Opening) -> Check:
    """Whether no push is needed at full opening; one that the prop takes over is none."""
    check = _push(side, 0.0, have, opening.reached_deg)
    prop = None if told.holding is None else told.holding.prop
    if check.ok or check.have is None or prop is None or not prop.holds:
        return check
    return replace(check, ok=True, margin=0.0, needs="pinned prop" if prop.is_drawn else "prop")


def stop_check(stop: Stop, told: LoadFigures, opening: Opening) -> Check:
    """Whether a stop lies past the wanted opening and the prop's, and before the dead point, and stops anything."""
    holds = told.holding
    prop = None if holds is None else holds.prop
    want = opening.wanted_deg if prop is None else max(opening.wanted_deg, prop.at_deg)
    why = "" if holds is None or holds.stop is None else holds.stop.why
    dead = opening.largest_deg if opening.largest_deg < HALF_TURN_DEG else None
    margin = stop.at_deg - want if dead is None else min(stop.at_deg - want, dead - stop.at_deg)
    margin = min(margin, 0.0) if why == "dead point" else -HALF_TURN_DEG if why else margin
    ok = margin >= -SLACK and not why
    return Check("stop", stop.between, want, stop.at_deg, ok, margin, opening.reached_deg, side=why, most=dead)


def _push(side: str, want: float, have: float, deg: float) -> Check:
    """A push of at most so much at an opening; none that is told falls short."""
    if not math.isfinite(have):
        return Check("push", (), want, None, False, -math.inf, side=side)
    return Check("push", (), want, have, have <= want + SLACK, want - have, deg=deg, side=side)


def _largest(want: float, told: LoadFigures) -> Check:
    """The largest push; where the panel rises by itself all the way, that is less than nothing."""
    if told.largest is None:
        return _push("largest", want, math.nan, 0.0)
    return _push("largest", want, told.largest.force, told.largest.deg)


def _lies_on_its_seal(told: LoadFigures) -> bool:
    """Whether a panel that seal and stops press up comes to lie on them before they let go."""
    return any(balance.stable and balance.deg <= min(told.let_go_deg, LIFTED) for balance in told.balances[:1])


def _rests(want: float, told: LoadFigures, shut: float, opening: Opening) -> Check:
    """Up to which opening it doesn't rise by itself; to the end, where it never does."""
    if not math.isfinite(shut):
        return Check("rests", (), want, None, False, -math.inf)
    first = next((balance.deg for balance in told.balances if not balance.stable), None)
    lies = shut >= -SLACK or _lies_on_its_seal(told)
    have = 0.0 if not lies else opening.reached_deg if first is None else first
    ok = have >= want - SLACK or (lies and first is None)
    return Check("rests", (), want, have, ok, have - want, deg=have)
