"""Everything that the steps of the build sheet draw upon, each thing worked out once, when it is first asked for."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from app.hardware import hardware
from app.lengths import format_angle, format_force, format_length, style_of
from app.making_faults import made
from app.parts_list import bought
from app.setout.drawing import setout_figure
from app.stacked import stacked
from kinematics import analyse
from kinematics.adjusting import adjusting
from kinematics.balance import holding_in_full
from kinematics.mount_parts import Base
from kinematics.mounting import base_made, bolt_spans, bracket_made
from kinematics.pinching import pinches
from kinematics.setting_out import set_out
from kinematics.stop_made import stop_made
from kinematics.toeing import most_toe, plays_of
from kinematics.wall_feet import foot_of
from kinematics.wall_parts import HANDS
from kinematics.walling import wedge

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from app.lengths import Units
    from app.making.planned import CutPlan
    from app.parts_list import Bought
    from app.setout.drawing import SetOutFigure
    from kinematics.adjusting import Adjusting
    from kinematics.analysis import Analysis
    from kinematics.joints_made import HoleMade, JointMade
    from kinematics.mounting import BaseMade, BracketMade
    from kinematics.pinching import Pinch
    from kinematics.project import Project
    from kinematics.results import Gap, HoldingFigures
    from kinematics.setting_out import SetOut
    from kinematics.stacking import StackMade
    from kinematics.stop_made import StopMade
    from kinematics.wall_feet import Foot
    from kinematics.walling import Wedge

SQUARE_DEG = 0.05
"""Deg off square below which nobody grinds a bevel: a tenth of a mm over a hand's breadth."""
WIDEST = 60.0
"""Mm of a shut gap beyond which nobody packs it: what stands there is far off (common practice, no source)."""
HINGES = 2
"""Where a project has no loads that say how many."""


class Facts:
    """A project with all that is made of it.   units : in which the sheet speaks.   cuts : the parts that are cut.

    analysis, stack : of it, where they are there already.
    """

    def __init__(
        self,
        project: Project,
        units: Units,
        cuts: Sequence[CutPlan],
        analysis: Analysis | None = None,
        stack: StackMade | None = None,
    ) -> None:
        self.project, self.units, self.cuts = project, units, tuple(cuts)
        self._analysis, self._stack = analysis, stack

    @cached_property
    def analysis(self) -> Analysis:
        """The travel with its loads."""
        return self._analysis or analyse(self.project)

    @cached_property
    def stack(self) -> StackMade:
        """What lies on each pin."""
        return self._stack or stacked(self.analysis)

    @cached_property
    def joints(self) -> Mapping[str, JointMade]:
        """Pins, bushings and holes by pivot."""
        return made(self.project)[0]

    @cached_property
    def holes(self) -> tuple[tuple[str, HoleMade], ...]:
        """Every link's hole at every pivot."""
        return tuple((joint.pivot, hole) for joint in self.joints.values() for hole in joint.holes)

    @cached_property
    def bought(self) -> tuple[Bought, ...]:
        """The rows of the parts list that are bought, of the same stack."""
        return tuple(bought(self.project, pins={pin.pivot: pin for pin in self.stack.pins}))

    @property
    def hinges(self) -> int:
        """How many hinges the panel hangs on."""
        return HINGES if self.project.loads is None else self.project.loads.hinges

    # What holds it ----------------------------------------------------------------------------------------------------

    @cached_property
    def base(self) -> BaseMade | None:
        """The wall's side."""
        part = self.project.mounted.base
        return None if part is None else base_made(self.project, part, hardware())

    @cached_property
    def bracket(self) -> BracketMade | None:
        """The panel's side."""
        part = self.project.mounted.bracket
        return None if part is None else bracket_made(self.project, part, hardware())

    @cached_property
    def wedges(self) -> tuple[Wedge, ...]:
        """Of each hand whose wall is off square so far that it counts."""
        part = self.project.mounted.base
        found = () if part is None else (wedge(self.project, part, hand) for hand in HANDS)
        return tuple(each for each in found if each is not None and each.angle_deg >= SQUARE_DEG)

    @cached_property
    def feet(self) -> tuple[Foot, ...]:
        """Of each hand whose webs' feet are ground."""
        made = self.base
        found = () if made is None else (foot_of(self.project, made, each.hand) for each in self.wedges)
        return tuple(each for each in found if each is not None)

    @cached_property
    def most_toe_deg(self) -> float | None:
        """How far each of two hinges may be out of parallel, and the pair still opens; None: unknown, or any way."""
        if not self.moves or self.hinges < 2:
            return None
        return most_toe(self.analysis, self.project.mounted.base or Base(), plays_of(self.project, hardware()))

    @cached_property
    def set_outs(self) -> tuple[SetOut, ...]:
        """Of each hand, where a base is laid out."""
        found = (set_out(self.project, hardware(), hand) for hand in HANDS)
        return tuple(each for each in found if each is not None)

    @cached_property
    def set_out_figure(self) -> SetOutFigure:
        """The same with its views and sentences, as the window has it."""
        return setout_figure(self.project, self.analysis, self.units)

    @cached_property
    def stop(self) -> StopMade | None:
        """The stop as a part."""
        part = self.project.mounted.stop_part
        return None if part is None else stop_made(self.analysis, part)

    @cached_property
    def adjusting(self) -> Adjusting | None:
        """What slots and shims do."""
        bracket, base = self.project.mounted.bracket, self.project.mounted.base
        if bracket is None and base is None:
            return None
        return adjusting(self.analysis, bracket, base, bolt_spans(self.bracket, self.base))

    # How it moves -----------------------------------------------------------------------------------------------------

    @property
    def moves(self) -> bool:
        """Whether the panel opens."""
        return self.analysis.state == "moves" and self.analysis.opening.reached_deg > 0.0

    @cached_property
    def holding(self) -> HoldingFigures | None:
        """Prop, stop, rest, in full."""
        return holding_in_full(self.project, self.analysis.sweep)

    @cached_property
    def pinches(self) -> tuple[Pinch, ...]:
        """Where a finger fits and is then crushed."""
        return pinches(self.analysis)

    @cached_property
    def packers(self) -> tuple[Gap, ...]:
        """The gaps between shut panel and body that a packer fills, each pair once, those that are asked for first."""
        project, found, seen = self.project, [], set()
        panel, fixed = project.panel.id, project.fixed.id
        for gap in sorted(self.analysis.gaps, key=lambda each: not each.wanted):
            if any(map(project.is_device, gap.between)) or gap.between in seen:
                continue
            if {project.rides_on(name) for name in gap.between} == {panel, fixed} and 0.0 < (gap.shut or 0.0) <= WIDEST:
                seen.add(gap.between)
                found.append(gap)
        return tuple(found)

    # How it is said ---------------------------------------------------------------------------------------------------

    def mm(self, value: float | None) -> str:
        """A length."""
        return format_length(value, self.units)

    def fine(self, value: float | None) -> str:
        """A length with all digits that a micrometer shows."""
        return format_length(value, self.units, fine=True)

    def small(self, value: float) -> str:
        """A small length, such as a tolerance, which a fraction would round away."""
        inches = style_of(self.units).units == "in"
        return self.fine(round(value / 25.4, 3) * 25.4 if inches else round(value, 3))

    def deg(self, value: float | None) -> str:
        """An angle."""
        return format_angle(value, self.units)

    def force(self, value: float | None) -> str:
        """A force."""
        return format_force(value, self.units)
