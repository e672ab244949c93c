"""Boxes to tick, drawn in the sheet's own ink: alone with their words, or in a table.

The desktop's own boxes are framed so palely that they can hardly be seen on a dark sheet; these stand out from the
paper at 3:1 or better (WCAG 2.1, 2018, success criterion 1.4.11).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QAbstractItemModel, QEvent, QModelIndex, QPersistentModelIndex, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPalette, QPen, QPolygonF
from PySide6.QtWidgets import QCheckBox, QSizePolicy, QStyle, QStyledItemDelegate, QStyleOptionViewItem

if TYPE_CHECKING:
    from PySide6.QtGui import QPaintEvent
    from PySide6.QtWidgets import QWidget

SIDE = 13.0  # pixels of a box
WORDS_AT = 20.0  # where the words begin
LEAST_WIDTH = 90
TICK = ((0.22, 0.52), (0.42, 0.74), (0.80, 0.24))  # shares of the box


def draw_tick(painter: QPainter, box: QRectF, palette: QPalette, *, ticked: bool, enabled: bool = True) -> None:
    """Draw a box, ticked or empty; one that can't be changed is dotted."""
    group = QPalette.ColorGroup.Normal if enabled else QPalette.ColorGroup.Disabled
    ink = palette.color(group, QPalette.ColorRole.Text)
    frame = palette.color(QPalette.ColorRole.PlaceholderText)
    painter.save()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(frame, 1.0, Qt.PenStyle.SolidLine if enabled else Qt.PenStyle.DotLine))
    painter.drawRect(box.adjusted(0.5, 0.5, -0.5, -0.5))
    if ticked:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(ink, 2.0, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin))
        spots = [QPointF(box.left() + x * box.width(), box.top() + y * box.height()) for x, y in TICK]
        painter.drawPolyline(QPolygonF(spots))
    painter.restore()


class TickBox(QCheckBox):
    """A box with its words."""

    def __init__(self, words: str = "", parent: QWidget | None = None) -> None:
        super().__init__(words, parent)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)  # may be narrower than its words

    def sizeHint(self) -> QSize:
        """As wide as box and words."""
        metrics = self.fontMetrics()
        return QSize(round(WORDS_AT) + metrics.horizontalAdvance(self.text()) + 4, metrics.height() + 4)

    def minimumSizeHint(self) -> QSize:
        """Give a size that shows where the words begin; words that find no room end in "…", the tip has them all."""
        return QSize(min(self.sizeHint().width(), LEAST_WIDTH), self.sizeHint().height())

    def shown(self) -> str:
        """Give the words as they are painted in the room there is."""
        room = self.width() - round(WORDS_AT)
        return self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideMiddle, room)

    def hitButton(self, pos: QPointF) -> bool:  # type: ignore[override]  # noqa: N802  Qt's own
        """Take a press anywhere on box and words."""
        return 0 <= pos.x() <= self.sizeHint().width() and 0 <= pos.y() <= self.height()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the box and the words; a wash and a rule beneath tell that it has the keys."""
        painter = QPainter(self)
        if self.hasFocus() or self.underMouse():
            wash = QColor(self.palette().color(QPalette.ColorRole.Text))
            wash.setAlphaF(0.06)
            painter.fillRect(QRectF(0, 0, self.sizeHint().width(), self.height()), wash)
        if self.hasFocus():
            painter.setPen(QPen(self.palette().color(QPalette.ColorRole.Highlight), 1.0))
            painter.drawLine(QPointF(0, self.height() - 0.5), QPointF(self.sizeHint().width(), self.height() - 0.5))
        box = QRectF(1.0, round((self.height() - SIDE) / 2), SIDE, SIDE)
        draw_tick(painter, box, self.palette(), ticked=self.isChecked(), enabled=self.isEnabled())
        group = QPalette.ColorGroup.Normal if self.isEnabled() else QPalette.ColorGroup.Disabled
        painter.setPen(self.palette().color(group, QPalette.ColorRole.WindowText))
        room = QRectF(WORDS_AT, 0, self.width() - WORDS_AT, self.height())
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, self.shown())
        painter.end()


class TickDelegate(QStyledItemDelegate):
    """Draws the boxes of a table; a click anywhere in the cell ticks, as the box alone is a small target."""

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Paint the cell's ground as ever, and our own box in its middle."""
        plain = QStyleOptionViewItem(option)
        self.initStyleOption(plain, index)
        plain.features &= ~QStyleOptionViewItem.ViewItemFeature.HasCheckIndicator
        widget = option.widget
        style = widget.style()
        style.drawControl(QStyle.ControlElement.CE_ItemViewItem, plain, painter, widget)
        state = index.data(Qt.ItemDataRole.CheckStateRole)
        if state is not None:
            middle = QRectF(option.rect).center()
            box = QRectF(round(middle.x() - SIDE / 2), round(middle.y() - SIDE / 2), SIDE, SIDE)
            draw_tick(painter, box, widget.palette(), ticked=Qt.CheckState(state) == Qt.CheckState.Checked)

    def editorEvent(
        self,
        event: QEvent,
        model: QAbstractItemModel,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> bool:
        """Tick, or take the tick away: by a click anywhere in the cell, or by Space."""
        if not index.flags() & Qt.ItemFlag.ItemIsUserCheckable or not _asks(event, option):
            return False
        ticked = Qt.CheckState(index.data(Qt.ItemDataRole.CheckStateRole)) == Qt.CheckState.Checked
        state = Qt.CheckState.Unchecked if ticked else Qt.CheckState.Checked
        return model.setData(index, state, Qt.ItemDataRole.CheckStateRole)


def _asks(event: QEvent, option: QStyleOptionViewItem) -> bool:
    """Tell whether what happened to a cell means its box."""
    if isinstance(event, QMouseEvent):
        inside = option.rect.contains(event.position().toPoint())
        return event.type() == QEvent.Type.MouseButtonRelease and event.button() == Qt.MouseButton.LeftButton and inside
    return isinstance(event, QKeyEvent) and event.key() in (Qt.Key.Key_Space, Qt.Key.Key_Select)
