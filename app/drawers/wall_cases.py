"""Cards of the ways in which a wall can go, each a small picture from above: one of them is picked."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QAbstractButton, QGridLayout, QSizePolicy, QWidget

from app.fields import named
from app.setout.bevel_view import bevel_view
from app.setout.put import draw_view
from app.theme import blend
from app.wall_words import AWAY, NEARER

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtGui import QPaintEvent

    from app.look import Look

Case = tuple[int, int]
"""How left and right go: +1 falls away outboard, −1 comes nearer."""
CASES: tuple[Case, ...] = ((1, 1), (-1, -1), (1, -1), (-1, 1))
SHORT = {(1, 1): "Falls away", (-1, -1): "Comes nearer", (1, -1): "Right nearer", (-1, 1): "Left nearer"}
"""What stands beneath the pictures; which way is meant is seen."""
SHOWN_DEG = 18.0
"""Deg by which the walls of the pictures are off: more than most, so that the way is seen."""
HEIGHT, PAD = 92, 4


class CaseCard(QAbstractButton):
    """One case: its picture, and its words beneath."""

    def __init__(self, case: Case) -> None:
        super().__init__()
        self.case = case
        self.seen: tuple[int, int] = (1, 1)
        self.look: Look | None = None
        self.setCheckable(True)
        self.setAutoExclusive(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setFixedHeight(HEIGHT)
        left, right = (AWAY if way > 0 else NEARER for way in case)
        self.words = SHORT[case]
        name = left if left == right else f"left {left}, right {right}"
        named(
            self, f"The wall {name}", f"Seen from above, the wall {name}, by however much. Picked, it keeps its angle."
        )

    def sizeHint(self) -> QSize:
        """Half as wide as the drawer."""
        return QSize(140, HEIGHT)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint picture and words; what is picked has a heavy frame."""
        if self.look is None:
            return
        look, painter = self.look, QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(look.paper))
        if self.underMouse() or self.hasFocus():
            painter.fillRect(self.rect(), QColor(blend(look.selection, look.paper, 0.1)))
        line = self.fontMetrics().height()
        painter.save()
        painter.translate(PAD, PAD)
        offs = SHOWN_DEG * self.case[0], SHOWN_DEG * self.case[1]
        view = bevel_view(offs, *self.seen, "foot", "mm", told=False)
        draw_view(painter, view, (self.width() - 2.0 * PAD, HEIGHT - line - 2.0 * PAD), look)
        painter.restore()
        painter.setPen(QColor(look.ink))
        font = self.font()
        font.setBold(self.isChecked())
        painter.setFont(font)
        place = QRectF(PAD, HEIGHT - line - PAD, self.width() - 2.0 * PAD, line)
        words = painter.fontMetrics().elidedText(self.words, Qt.TextElideMode.ElideRight, int(place.width()))
        painter.drawText(place, int(Qt.AlignmentFlag.AlignCenter), words)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        weight = 2.4 if self.isChecked() else 1.0
        frame = (
            look.selection if self.hasFocus() else look.ink if self.isChecked() else blend(look.ink, look.paper, 0.4)
        )
        painter.setPen(QPen(QColor(frame), weight))
        painter.drawRect(QRectF(self.rect()).adjusted(1.2, 1.2, -1.2, -1.2))
        painter.end()


class CaseCards(QWidget):
    """The cards, two beside each other; `picked(left, right)` tells which one was clicked."""

    picked = Signal(int, int)

    def __init__(self) -> None:
        super().__init__()
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(6)
        self.cards = {case: CaseCard(case) for case in CASES}
        for place, (case, card) in enumerate(self.cards.items()):
            grid.addWidget(card, place // 2, place % 2)
            card.clicked.connect(partial(self._clicked, case))
        self.cards[CASES[0]].setChecked(True)

    @property
    def case(self) -> Case:
        """The one that is picked."""
        return next(case for case, card in self.cards.items() if card.isChecked())

    def show_cases(self, offered: Sequence[Case], picked: Case, seen: tuple[int, int], look: Look) -> None:
        """Offer some of the cases.   seen : as in `bevel_view`, left and ahead."""
        for case, card in self.cards.items():
            card.seen, card.look = seen, look
            card.setVisible(case in offered)
            card.update()
        self.cards[picked].setChecked(True)

    def _clicked(self, case: Case, _checked: bool = True) -> None:
        self.picked.emit(*case)
