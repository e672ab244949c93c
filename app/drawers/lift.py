"""The drawer Lift: weights, handle, helpers and wants of lifting are entered here, and what they come to is told.

It is a column of sections that fold (`app.drawers.section`), one for each box of `BOXES`, in that order. To add a
box, subclass `app.drawers.lift_box.LiftBox` in a file of its own, give it a `title` and a `gist`, and put the class
into `BOXES`: the drawer makes it as `Box(document, board)` when its section is first unfolded, and calls
`show_analysis` then and with each new analysis while it is unfolded. `LiftDrawer.box(Box)` gives the box itself,
unfolded.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import Signal

from app.drawers.devices_box import DevicesBox
from app.drawers.drawer import Drawer
from app.drawers.effort_box import EffortBox
from app.drawers.finder_box import FinderBox
from app.drawers.handle_box import HandleBox
from app.drawers.hinges_box import FrictionBox, HingesBox
from app.drawers.holding_box import HoldingBox
from app.drawers.lift_box import LiftBox
from app.drawers.lift_wants_box import LiftWantsBox
from app.drawers.section import Section
from app.drawers.shut_box import ShutBox
from app.drawers.strength_box import StrengthBox
from app.drawers.weigh_box import WeighBox
from app.drawers.weights_box import WeightsBox
from app.fields import in_tab_order
from app.lettering import breakable
from app.words import caution_sentences
from kinematics.pinching import pinches

if TYPE_CHECKING:
    from PySide6.QtGui import QShowEvent
    from PySide6.QtWidgets import QLabel, QWidget

    from app.board import Board
    from app.document import Document

Box = TypeVar("Box", bound=LiftBox)

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


class LiftDrawer(Drawer):
    """The sections, and beneath them what to keep in mind. They are made when the drawer is first opened."""

    wanted = Signal(str)  # as a box says

    def __init__(self, document: Document, board: Board) -> None:
        super().__init__(
            document,
            "Lift",
            "What the panel weighs, where the hand lifts it and what helps; the push, the pins and what is wanted "
            "follow at once.",
        )
        self._board = board
        self.sections: dict[type[LiftBox], Section] = {}
        self.cautions: QLabel | None = None
        document.analysed.connect(lambda _: self._show())
        document.restyled.connect(self._show)

    def setVisible(self, visible: bool) -> None:  # noqa: N802  Qt's own
        """Make the sections before the drawer is first seen, so that the keyboard finds them there."""
        if visible:
            self._build()
        super().setVisible(visible)
        if not visible:
            for section in self.sections.values():
                if isinstance(section.body, LiftBox):
                    section.body.put_away()

    def showEvent(self, event: QShowEvent) -> None:
        """Bring all up to date."""
        self._show()
        super().showEvent(event)

    def box(self, kind: type[Box]) -> Box:
        """Give a box, unfolded."""
        self._build()
        section = self.sections[kind]
        section.unfold()
        if not isinstance(section.body, kind):
            raise TypeError(kind.__name__)  # cannot be: its section made it
        return section.body

    def _build(self) -> None:
        if self.cautions is not None:
            return
        for kind in BOXES:
            section = self.sections[kind] = Section(kind.title, partial(self._made, kind))
            section.unfolded.connect(partial(self._show_box, kind))
            self.column.addWidget(section)
            if kind.unfolds(self.document.analysis):
                section.unfold()
            section.unfolded.connect(self._order_tabs)
        self._order_tabs()
        self.heading("Keep in mind")
        self.cautions = self.text()
        self.column.addStretch(1)

    def _made(self, kind: type[LiftBox]) -> LiftBox:
        box = kind(self.document, self._board)
        box.wanted.connect(self.wanted)
        return box

    def show_afresh(self) -> None:
        """Show all once more, as the sheet has other colours and what boxes had drawn on it is gone."""
        self._show()

    def _order_tabs(self, _unfolded: bool = True) -> None:
        """Let Tab go through the sections as they stand, those too whose bodies were made later."""
        before: QWidget = self.shut
        for section in self.sections.values():
            before = in_tab_order(before, section)

    def _show(self) -> None:
        if self.document.is_dragging or self.cautions is None or self.isHidden():
            return
        for kind in self.sections:
            self._show_box(kind)
        analysis = self.document.analysis
        cautions = caution_sentences(analysis.project, pinches(analysis), self.document.units)
        self.cautions.setText(breakable("\n\n".join(cautions)))

    def _show_box(self, kind: type[LiftBox], _unfolded: bool = True) -> None:
        section, analysis = self.sections[kind], self.document.analysis
        section.tell("" if section.is_unfolded else kind.gist(analysis, self.document))
        if not isinstance(section.body, LiftBox):
            return
        if section.is_unfolded:
            section.body.show_analysis(analysis)
        else:
            section.body.put_away()
