"""What holds the panel open: its loads, a prop, a stop; normally, and when all goes against it.

The worst case (`kinematics.adverse`) is told at full opening as the effort there: more than nothing, and the panel
comes down unless a hand or a prop holds it. Prop and stop are asked at their own openings, with nobody's hand; a stop's
may lie past the wanted one, up to the dead point. A panel that opens further by itself rests on its stop.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from kinematics.adverse import Scene, adverse
from kinematics.halting import past_end, rest_figures, stop_figures
from kinematics.propping import Rod
from kinematics.results import HoldingFigures, PropFigures, StopFigures

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.arrays import Complexes, Floats
    from kinematics.loads import Loads
    from kinematics.project import Project
    from kinematics.results import RestFigures, Worst
    from kinematics.statics import Applied, At, Statics
    from kinematics.sweep import Sweep

ROUNDING = 1e-9
"""Deg by which an opening may lie past the one reached."""

END = 0
"""Number of the pose at the opening reached."""


def asks_holding(loads: Loads) -> bool:
    """Whether any check is about what holds the panel."""
    case = None if loads.wants is None else loads.wants.stays_open_in
    return case is not None or loads.prop_rod is not None or loads.stop is not None


def further_openings(loads: Loads, sweep: Sweep) -> Floats:
    """(k,) rad, the openings besides the one reached at which `holding` is to be told of poses, in order."""
    return np.radians(_openings(loads, sweep)[0]).clip(0.0, sweep.largest)


def holding(
    project: Project, statics: Statics, poses: tuple[At, Applied], on_pins: Callable[[Complexes], Floats] | None = None
) -> tuple[Worst | None, HoldingFigures]:
    """The worst effort at full opening (None: none is asked for, or told), and what holds the panel.

    poses : that of the opening reached, and those of `further_openings`, with what the loads do there.
    on_pins : makes of forces on joints (n, joints) those on the pins of one hinge (n, pivots). Without it only what
    checks are about is told: while pins are dragged nobody reads the rest.
    """
    loads, sweep = statics.loads, statics.sweep
    case = None if loads.wants is None else loads.wants.stays_open_in
    _, prop_pose, stop_pose = _openings(loads, sweep)
    against = None if case is None else adverse(project, statics, case, *poses)
    scene = Scene(project, statics, *poses, against)
    gust, stop = None if against is None else against.gust, _stop(scene, stop_pose)
    rest = None if on_pins is None else _rest(scene, stop, stop_pose)
    return _worst(scene), HoldingFigures(_prop(scene, prop_pose, on_pins), stop, rest, gust)


def _openings(loads: Loads, sweep: Sweep) -> tuple[list[float], int | None, int | None]:
    """Openings (deg) to ask at besides the one reached; which of all poses is the prop's, and the stop's, if any is."""
    degs: list[float] = []
    prop, stop = None, None
    if loads.prop_rod is not None and loads.prop_rod.at_deg <= sweep.reached_deg + ROUNDING:
        degs.append(min(loads.prop_rod.at_deg, sweep.reached_deg))
        prop = END + len(degs)
    if loads.stop is not None and not past_end(sweep, loads.stop.at_deg):
        degs.append(loads.stop.at_deg)
        stop = END + len(degs)
    return degs, prop, stop


def _worst(scene: Scene) -> Worst | None:
    """The largest effort at full opening of all that the case may bring; None where none is told."""
    good, speed = scene.statics.told(scene.at)
    if scene.against is None or not good[END]:
        return None
    found = scene.against.largest(END, float(abs(speed[END])))
    return found if math.isfinite(found.force) else None


def _prop(scene: Scene, pose: int | None, on_pins: Callable[[Complexes], Floats] | None) -> PropFigures | None:
    prop = scene.statics.loads.prop_rod
    if prop is None:
        return None
    if pose is None:
        return PropFigures(prop.at_deg, None)
    rod = Rod(scene.project, prop, scene.statics.sweep)
    told = rod.figures(scene, pose)
    if on_pins is None:
        return told
    told = rod.in_full(told, scene, pose)
    if told.force is None:
        return told
    return replace(told, pins=on_pins(rod.joints(scene, pose, told.force))[0])


def _stop(scene: Scene, pose: int | None) -> StopFigures | None:
    stop = scene.statics.loads.stop
    if stop is None:
        return None
    return StopFigures(stop.at_deg, stop.arm, "", "dead point") if pose is None else stop_figures(scene, stop, pose)


def _rest(scene: Scene, stop: StopFigures | None, pose: int | None) -> RestFigures | None:
    """At the stop where it is one; else at the opening reached, unless that is the dead point."""
    if stop is not None and pose is not None and not stop.why:
        return rest_figures(scene, pose, on_stop=True)
    sweep = scene.statics.sweep
    at_dead_point = sweep.folds and sweep.reached >= sweep.largest
    return None if at_dead_point else rest_figures(scene, END, on_stop=False)


def end_pose(sweep: Sweep) -> Floats:
    """(1, unknowns) the pose at the opening reached."""
    return sweep.at_openings(np.array([sweep.reached]))
