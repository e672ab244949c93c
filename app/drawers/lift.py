"""The drawer Lift: weights, handle, helpers and wants of lifting are entered here, and what they come to is told.

It is a drawer of sections that fold; a box is added by its class in `BOXES` (`app.drawers.folding` says how).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.drawers.devices_box import DevicesBox
from app.drawers.effort_box import EffortBox
from app.drawers.finder_box import FinderBox
from app.drawers.folding import FoldingDrawer
from app.drawers.handle_box import HandleBox
from app.drawers.hinges_box import FrictionBox, HingesBox
from app.drawers.holding_box import HoldingBox
from app.drawers.lift_wants_box import LiftWantsBox
from app.drawers.shut_box import ShutBox
from app.drawers.strength_box import StrengthBox
from app.drawers.weigh_box import WeighBox
from app.drawers.weights_box import WeightsBox
from app.lettering import breakable
from app.shut_words import shut_cautions
from app.words import caution_sentences
from kinematics.pinching import pinches

if TYPE_CHECKING:
    from PySide6.QtWidgets import QLabel

    from app.board import Board
    from app.document import Document
    from app.drawers.lift_box import LiftBox

BOXES: tuple[type[LiftBox], ...] = (
    EffortBox,
    WeightsBox,
    WeighBox,
    HandleBox,
    DevicesBox,
    FinderBox,
    LiftWantsBox,
    HoldingBox,
    ShutBox,
    FrictionBox,
    HingesBox,
    StrengthBox,
)
"""The boxes from above to below."""


class LiftDrawer(FoldingDrawer):
    """The sections, and beneath them what to keep in mind."""

    kinds: ClassVar[tuple[type[LiftBox], ...]] = BOXES

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(
            document,
            board,
            "Lift",
            "What the panel weighs, where the hand lifts it and what helps; the push, the pins and what is wanted "
            "follow at once.",
        )
        self.cautions: QLabel | None = None

    def make_foot(self) -> None:
        """Make room for what to keep in mind."""
        self.heading("Keep in mind")
        self.cautions = self.text()
        self.sections[ShutBox].unfolded.connect(self._show_cautions)

    def show_foot(self) -> None:
        """Say what to keep in mind."""
        self._show_cautions()

    def _show_cautions(self, _unfolded: bool = True) -> None:
        """Say it once: what an unfolded box tells where it is met is not said again."""
        if self.cautions is None:
            return
        analysis = self.document.analysis
        cautions = caution_sentences(analysis.project, pinches(analysis), self.document.units)
        there = shut_cautions(analysis.project) if self.sections[ShutBox].is_unfolded else []
        cautions = [caution for caution in cautions if caution not in there]
        self.cautions.setText(breakable("\n\n".join(cautions)))
