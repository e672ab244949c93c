"""A drawer of sections that fold (`app.drawers.section`), one for each of its boxes, in their order.

To add a box, subclass `app.drawers.lift_box.LiftBox` in a file of its own, give it a `title` and a `gist`, and put the
class into the drawer's tuple of boxes: the drawer makes it as `Box(document, board)` when its section is first
unfolded, and calls `show_analysis` then and with each new analysis while it is unfolded. `drawer.box(Box)` gives the
box itself, unfolded.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, ClassVar, TypeVar

from PySide6.QtCore import Signal

from app.drawers.drawer import Drawer
from app.drawers.lift_box import LiftBox
from app.drawers.section import Section
from app.fields import in_tab_order

if TYPE_CHECKING:
    from PySide6.QtGui import QShowEvent
    from PySide6.QtWidgets import QWidget

    from app.board import Board
    from app.document import Document
    from app.look import Look

Box = TypeVar("Box", bound=LiftBox)


class FoldingDrawer(Drawer):
    """The sections of `kinds`, made when the drawer is first opened, and a foot beneath them."""

    kinds: ClassVar[tuple[type[LiftBox], ...]] = ()
    wanted = Signal(str)  # as a box says

    def __init__(self, document: Document, board: Board, title: str, purpose: str) -> None:
        super().__init__(document, title, purpose)
        self._board = board
        self.sections: dict[type[LiftBox], Section] = {}
        document.analysed.connect(self._show)
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

    def set_look(self, _look: Look) -> None:
        """Show all once more, as the sheet has other colours and what boxes had drawn on it is gone."""
        self._show()

    def make_foot(self) -> None:
        """Make what stands beneath the sections; a drawer that has nothing there leaves this as it is."""

    def show_foot(self) -> None:
        """Bring that up to date."""

    def _build(self) -> None:
        if self.sections:
            return
        for kind in self.kinds:
            section = self.sections[kind] = Section(kind.title, partial(self._made, kind))
            section.unfolded.connect(partial(self._show_box, kind))
            self.column.addWidget(section)
            if kind.unfolds(self.document.analysis):
                section.unfold()
            section.unfolded.connect(self._order_tabs)
        self._order_tabs()
        self.make_foot()
        self.column.addStretch(1)

    def _made(self, kind: type[LiftBox]) -> LiftBox:
        box = kind(self.document, self._board)
        box.wanted.connect(self.wanted)
        return box

    def _order_tabs(self, _unfolded: bool = True) -> None:
        """Let Tab go through the sections as they stand, those too whose bodies were made later."""
        before: QWidget = self.shut
        for section in self.sections.values():
            before = in_tab_order(before, section)

    def _show(self) -> None:
        if self.document.is_dragging or not self.sections or self.isHidden():
            return
        for kind in self.kinds:
            self._show_box(kind)
        self.show_foot()

    def _show_box(self, kind: type[LiftBox], _unfolded: bool = True) -> None:
        section, analysis = self.sections[kind], self.document.analysis
        section.tell("" if section.is_unfolded else kind.gist(analysis, self.document))
        if not isinstance(section.body, LiftBox):
            return
        if section.is_unfolded:
            section.body.show_analysis(analysis)
        else:
            section.body.put_away()
