"""The drawer Build: what is taken to the shop, section by section.

It is a drawer of sections that fold; a box is added by its class in `BOXES` (`app.drawers.folding` says how).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from app.drawers.adjusters_box import AdjustersBox
from app.drawers.as_made_box import AsMadeBox
from app.drawers.cutting_box import CuttingBox
from app.drawers.folding import FoldingDrawer
from app.drawers.mockup_box import MockupBox
from app.drawers.mount_box import BaseBox, BracketBox, StopPartBox
from app.drawers.pins_made_box import PinsMadeBox
from app.drawers.plates_box import PlatesBox
from app.drawers.set_box import SetBox
from app.drawers.setout_box import SetOutBox
from app.drawers.stack_box import StackBox
from app.drawers.templates_box import TemplatesBox
from app.drawers.toe_box import ToeBox
from app.drawers.wall_box import WallBox

if TYPE_CHECKING:
    from app.board import Board
    from app.document import Document
    from app.drawers.lift_box import LiftBox

BOXES: tuple[type[LiftBox], ...] = (
    MockupBox,
    PlatesBox,
    PinsMadeBox,
    StackBox,
    BracketBox,
    BaseBox,
    StopPartBox,
    WallBox,
    ToeBox,
    SetOutBox,
    AdjustersBox,
    CuttingBox,
    TemplatesBox,
    SetBox,
    AsMadeBox,
)
"""The boxes in the order of the work."""


class BuildDrawer(FoldingDrawer):
    """The sections."""

    kinds: ClassVar[tuple[type[LiftBox], ...]] = BOXES

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(
            document, board, "Build", "What you take to the shop. All of it follows the pins: nothing is typed twice."
        )
