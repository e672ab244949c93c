"""Hinges that share the load, the panel's width, the warmth of the struts, and how the pins rub."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.drawers.lift_box import LiftBox
from app.quantities import NUMBER, format_temperature
from kinematics import loading
from kinematics.project import Loads

if TYPE_CHECKING:
    from app.board import Board
    from app.document import Document
    from kinematics.analysis import Analysis
    from kinematics.project import Project

DRY = "About 0.1 to 0.2 for steel in a bronze bushing without much grease (common practice, no source)."


class HingesBox(LiftBox):
    """How many hinges, how wide the panel is, how far apart they are."""

    title: ClassVar[str] = "Hinges and width"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.hinges = self.count(
            "Hinges",
            "Set the number of hinges",
            "How many hinges carry the panel; they share weights, struts and push. What is told of pins is of one.",
            lambda project: _loads(project).hinges,
            loading.set_hinges,
        )
        self.across = self.over_nothing(
            "Panel's width",
            "Set the panel's width",
            "Across the body, from side to side: wind presses on it, and sheet metal weighs by it.",
            lambda project: _loads(project).across,
            lambda project, mm: loading.with_loads(project, across=mm),
        )
        self.spacing = self.over_nothing(
            "Hinges apart",
            "Set how far the hinges are apart",
            "Across the body, from the middle of one hinge to that of the other.",
            lambda project: _loads(project).spacing,
            lambda project, mm: loading.with_loads(project, spacing=mm),
        )

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:  # noqa: ARG003  the same in all units
        """Say how many hinges there are."""
        count = _loads(analysis.project).hinges
        return f"{count} hinge{'s' if count != 1 else ''}"


class FrictionBox(LiftBox):
    """The warmth of the struts, and the friction of the pins."""

    title: ClassVar[str] = "Temperature and friction"

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(document, board)
        self.temperature = self.warmth(
            "Struts at",
            "Set the struts' temperature",
            "How warm the gas struts are: their force goes with the absolute temperature. Empty: at 20 °C (68 °F), at "
            "which makers state it.",
            lambda project: _loads(project).temperature,
            loading.set_temperature,
        )
        self.temperature.line.setPlaceholderText(format_temperature(20.0, self.units))
        self.radius = self.length(
            "Pin radius",
            "Set the pins' radius",
            "Half the diameter of the hinge's pins, as friction works on it.",
            lambda project: loading.pin_friction_of(project).pin_radius,
            lambda project, mm: loading.rub_pins(project, pin_radius=mm),
        )
        self.coefficient = self.quantity(
            "Coefficient",
            "Set the pins' friction",
            f"Coefficient of friction of pin and bushing. {DRY} 0 takes it as none.",
            NUMBER,
            lambda project: loading.pin_friction_of(project).coefficient,
            lambda project, value: loading.rub_pins(project, coefficient=value),
        )
        self.told(
            "Friction makes the push to raise the panel larger, and the one to let it down smaller. How a gas strut "
            "rubs is typed with the strut."
        )

    @classmethod
    def gist(cls, analysis: Analysis, document: Document) -> str:
        """Say how warm it is, and how it rubs."""
        loads = _loads(analysis.project)
        warm = format_temperature(20.0 if loads.temperature is None else loads.temperature, document.units)
        rubs = loading.pin_friction_of(analysis.project)
        return f"{warm}, pins rub" if rubs.pin_radius * rubs.coefficient > 0.0 else warm


def _loads(project: Project) -> Loads:
    return project.loads or Loads()
