"""The hinges as built of the newest analysis: put together once when they are first asked for, never during a drag."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from app.hardware import hardware
from app.stacked import stacked
from kinematics.built_beside import Apart, Beside, PinBeside, apart, beside, pins_beside
from kinematics.mounting import base_made, bolt_spans, bracket_made

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.made_parts import HandMade
    from kinematics.project import Project

__all__ = ["both_built", "built", "is_measured", "left_and_right", "on_pins", "spans_of", "wants_stack"]


def is_measured(project: Project) -> bool:
    """Tell whether anything was read off either hinge."""
    return any(made.is_said for made in project.made.hands)


def spans_of(project: Project) -> tuple[float, float]:
    """How far apart the outermost bolts of bracket and base are, which tilts by shims go by."""
    bracket, base = project.mounted.bracket, project.mounted.base
    tables = hardware()
    return bolt_spans(
        None if bracket is None else bracket_made(project, bracket, tables),
        None if base is None else base_made(project, base, tables),
    )


@lru_cache(maxsize=4)  # by the analysis itself, of which each is one value
def built(analysis: Analysis, hand: str) -> Beside:
    """One hinge as built, analysed: some 15 to 30 ms for a hinge of six links."""
    return beside(analysis.project, hand, spans_of(analysis.project), analysis)


def both_built(analysis: Analysis) -> tuple[Beside, Beside]:
    """Left and right; a hinge nobody measured is as drawn."""
    return built(analysis, "left"), built(analysis, "right")


@lru_cache(maxsize=2)
def left_and_right(analysis: Analysis) -> Apart | None:
    """How the two differ."""
    return apart(analysis, *both_built(analysis))


def wants_stack(analysis: Analysis, made: HandMade) -> bool:
    """Whether something was measured that changes what lies on the pins; all is as drawn there else."""
    return bool(made.sheets or made.on_pins) and analysis.state == "moves"


def on_pins(analysis: Analysis, made: HandMade) -> tuple[PinBeside, ...]:
    """What lies on each pin; nothing where nothing was measured of it, and of a hinge that doesn't open."""
    return pins_beside(stacked(analysis), made) if wants_stack(analysis, made) else ()
