"""Struts that were found, as cards: the push over the travel as a small lane, what it is, how it lifts, where it goes.

The lanes of all cards have the same scale, so that they can be compared. Beneath the pointer a card has a button of
its own that takes it: one click.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPen, QPolygonF

from app.fields import named
from app.proposals.cards import PAD, CardDelegate, CardsView
from app.struts.words import card_words
from app.theme import blend

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from PySide6.QtCore import QPersistentModelIndex
    from PySide6.QtGui import QMouseEvent
    from PySide6.QtWidgets import QStyleOptionViewItem

    from app.lengths import Units
    from app.look import Look
    from kinematics.struts.results import Placement

    Index = QModelIndex | QPersistentModelIndex

ROOT = QModelIndex()
Role = Qt.ItemDataRole
TAKE = "Take it"
LEAST = 1.0
"""N, the least range of a lane."""


class StrutsModel(QAbstractListModel):
    """A row a placement, the best first. want : N, the largest push that is wanted, drawn as a line; None: none."""

    def __init__(self, units: Callable[[], Units]) -> None:
        super().__init__()
        self._units = units
        self.placements: tuple[Placement, ...] = ()
        self.want: float | None = None
        self.range = (0.0, LEAST)

    def show(self, placements: Sequence[Placement], want: float | None) -> None:
        """Show these, in this order."""
        self.beginResetModel()
        self.placements, self.want = tuple(placements), want
        pushes = [push for each in placements for push in each.efforts if push == push]  # noqa: PLR0124  not NaN
        self.range = min([0.0, *pushes]), max([LEAST, want or 0.0, *pushes])
        self.endResetModel()

    def refresh(self) -> None:
        """Say all anew, as in other units."""
        if self.placements:
            self.dataChanged.emit(self.index(0), self.index(len(self.placements) - 1))

    def words(self, row: int) -> tuple[str, str, str]:
        """Give the lines of a card."""
        return card_words(self.placements[row], self._units())

    def holds(self, row: int) -> bool:
        """Whether a placement meets every want."""
        return self.placements[row].ok

    def rowCount(self, parent: Index = ROOT) -> int:
        """One a placement."""
        return 0 if parent.isValid() else len(self.placements)

    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:  # noqa: ANN401
        """What a card says."""
        if not index.isValid() or index.row() >= len(self.placements):
            return None
        if role == Role.DisplayRole:
            return "\n".join(self.words(index.row()))
        if role == Role.AccessibleTextRole:
            return ". ".join(self.words(index.row()))
        return None


class LaneDelegate(CardDelegate):
    """Its picture is the lane; the card looked at has a button."""

    def __init__(
        self, model: StrutsModel, look: Callable[[], Look], looked_at: Callable[[], int], parent: StrutCards
    ) -> None:
        super().__init__(model, look, looked_at, parent)
        self._model, self._view = model, parent

    def paint_picture(self, painter: QPainter, area: QRectF, row: int, look: Look) -> None:
        """Paint the push over the opening: nothing as a line, what is wanted as dashes, the push as a curve."""
        placement, (low, high) = self._model.placements[row], self._model.range
        if len(placement.openings) < 2:
            return
        end = placement.openings[-1]
        box = area.adjusted(1.0, 3.0, -1.0, -3.0)

        def spot(deg: float, push: float) -> QPointF:
            share = (push - low) / (high - low)
            return QPointF(box.left() + box.width() * deg / end, box.bottom() - box.height() * share)

        painter.setPen(QPen(QColor(look.edge), 1))
        painter.drawLine(spot(0.0, 0.0), spot(end, 0.0))
        if self._model.want is not None:
            painter.setPen(QPen(QColor(look.ink), 1, Qt.PenStyle.DashLine))
            painter.drawLine(spot(0.0, self._model.want), spot(end, self._model.want))
        curve = [spot(*pair) for pair in zip(placement.openings, placement.efforts, strict=True)]
        below = [QPointF(each.x(), max(each.y(), spot(0.0, 0.0).y())) for each in curve]
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(blend(look.gap, look.paper, 0.18)))
        painter.drawPolygon(QPolygonF([*below, spot(end, 0.0), spot(0.0, 0.0)]))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(look.ink if placement.ok else look.fault), 1.5))
        painter.drawPolyline(QPolygonF(curve))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint the card, and its button where it is looked at."""
        super().paint(painter, option, index)
        if index.row() != self._looked_at():
            return
        look, area = self._look(), self._view.button_area(option.rect)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(look.selection), 1))
        painter.setBrush(QColor(look.paper))
        painter.drawRoundedRect(QRectF(area).adjusted(0.5, 0.5, -0.5, -0.5), 3.0, 3.0)
        painter.setPen(QColor(look.selection))
        painter.setFont(option.font)
        painter.drawText(area, int(Qt.AlignmentFlag.AlignCenter), TAKE)
        painter.restore()


class StrutCards(CardsView):
    """The cards. `taken_row` : the button of a card was clicked."""

    taken_row = Signal(int)

    def __init__(self, model: StrutsModel, look: Callable[[], Look]) -> None:
        super().__init__(model)
        named(
            self,
            "Struts that were found",
            "Struts that were found, the best first. Point at one, or go to it by arrow keys, and it is drawn on the "
            "board; its button, or Enter, takes it.",
        )
        self.setItemDelegate(LaneDelegate(model, look, lambda: self.looked_at, self))

    def button_area(self, card: QRect) -> QRect:
        """Where a card's button is: its upper right corner."""
        metrics = QFontMetrics(self.font())
        wide, high = metrics.horizontalAdvance(TAKE) + 14, metrics.height() + 4
        return QRect(card.right() - wide - PAD + 2, card.top() + PAD - 3, wide, high)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Take the card whose button is clicked; else choose the card."""
        super().mouseReleaseEvent(event)
        index = self.indexAt(event.position().toPoint())
        is_left = event.button() == Qt.MouseButton.LeftButton
        if (
            is_left
            and index.isValid()
            and self.button_area(self.visualRect(index)).contains(event.position().toPoint())
        ):
            self.taken_row.emit(index.row())
