"""What only the whole travel tells of a build: whether the plates can pass each other, how long the pins are, and what
they bear so far from plate to plate.

It takes as long as a few sweeps, so it is done when files are made and not each time they are shown.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from app.built_words import short_sentences
from app.making.words import falls_short_words
from app.stack_words import fault_words
from app.stacked import stacked, web_off
from kinematics import analyse

if TYPE_CHECKING:
    from collections.abc import Mapping

    from app.lengths import Units
    from kinematics.analysis import Analysis
    from kinematics.project import Project
    from kinematics.stacking import PinStack, StackMade


@dataclass(frozen=True, slots=True)
class Study:
    """What was found.   pins : with what lies on them.   faults, cautions : a sentence each.

    web_off : how far the middle of the bracket's web lies outboard of the base's middle, mm; None: unknown.
    analysis, stack : of the project, for what is drawn from them; None: not worked out.
    """

    pins: Mapping[str, PinStack] = field(default_factory=dict)
    faults: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    web_off: float | None = None
    analysis: Analysis | None = None
    stack: StackMade | None = None


def study_of(project: Project, units: Units) -> Study:
    """Open the hinge and stack it. A layout that falls short of its own checks is a caution: metal is dear."""
    analysis = analyse(project)
    short = sum(not check.ok for check in analysis.checks)
    stack = stacked(analysis)
    told = [(fault.breaks, fault_words(fault, units)) for fault in stack.faults if fault.what != "shapeless"]
    cautions = [falls_short_words(short)] if short else []
    cautions += [*(said for breaks, said in told if not breaks), *short_sentences(analysis, stack, units)]
    return Study(
        {pin.pivot: pin for pin in stack.pins},
        tuple(dict.fromkeys(said for breaks, said in told if breaks)),
        tuple(dict.fromkeys(cautions)),
        web_off(project, stack),
        analysis,
        stack,
    )
