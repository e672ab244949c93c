"""The starts: linkages that move at once, placed by the panel's rear edge. Each is a card with its picture, its name in
shop words, the textbook's name, and when to take it; a click places it as one step.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QVBoxLayout, QWidget

from app.fields import named
from app.theme import blend

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.document import Document
    from app.look import Look
    from kinematics.layouts import Miniature
    from kinematics.starts import StartKind

PICTURE = QSize(108, 82)
PAD = 6
TURNED = (
    "The body stands at the panel's right end, so the panel opens clockwise: its front rises. Turns, under Wants, "
    "changes that."
)


class StartCard(QAbstractButton):
    """One start to choose."""

    def __init__(self, kind: StartKind, look: Look) -> None:
        super().__init__()
        self.kind, self._look = kind, look
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        named(
            self,
            f"Start: {kind.name}",
            f"{kind.name} ({kind.family})\n{kind.use}\nIt takes the place of the links and pivots that are there; "
            "undo brings them back.",
        )

    def set_look(self, look: Look) -> None:
        """Take other colours."""
        self._look = look
        self.update()

    def hasHeightForWidth(self) -> bool:
        """Words wrap."""
        return True

    def heightForWidth(self, width: int) -> int:
        """As high as the picture, or as the words where they need more."""
        used = sum(rect.height() for _, rect, _ in self._lines(float(width)))
        return max(PICTURE.height(), round(used)) + 2 * PAD

    def sizeHint(self) -> QSize:
        """Height for the width that it has."""
        return QSize(280, self.heightForWidth(max(self.width(), 280)))

    def _lines(self, width: float) -> list[tuple[str, QRectF, bool]]:
        """Say what is written where: words, place, whether bold."""
        left = PICTURE.width() + 2 * PAD
        room, top, found = width - left - PAD, float(PAD), []
        for words, is_bold in ((self.kind.name, True), (self.kind.family, False), (self.kind.use, False)):
            font = self.font()
            font.setBold(is_bold)
            metrics = QFontMetricsF(font)
            height = metrics.boundingRect(QRectF(0, 0, room, 1000), int(Qt.TextFlag.TextWordWrap), words).height()
            found.append((words, QRectF(left, top, room, height + 1), is_bold))
            top += height
        return found

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the picture and the words."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        look = self._look
        if self.underMouse() or self.hasFocus():
            painter.fillRect(self.rect(), QColor(blend(look.selection, look.paper, 0.1)))
        painter.setPen(QPen(QColor(look.selection if self.hasFocus() else blend(look.ink, look.paper, 0.2)), 1))
        painter.drawRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5))
        for place, (words, rect, is_bold) in enumerate(self._lines(float(self.width()))):
            font = self.font()
            font.setBold(is_bold)
            painter.setFont(font)
            painter.setPen(QColor(look.faint if place == 1 else look.ink))
            painter.drawText(rect, int(Qt.TextFlag.TextWordWrap), words)
        area = QRectF(PAD, PAD, PICTURE.width(), PICTURE.height())
        paint_miniature(painter, area, self.kind.picture, look)
        painter.end()


def paint_miniature(painter: QPainter, area: QRectF, picture: Miniature, look: Look) -> None:
    """Paint a miniature to fit an area: fixed lines thin, links as grey bars, the panel heavy, pins as circles."""
    scale = min(area.width() / picture.size[0], area.height() / picture.size[1])
    left = area.center().x() - scale * picture.size[0] / 2
    base = area.center().y() + scale * picture.size[1] / 2

    def spot(point: tuple[float, float]) -> QPointF:
        return QPointF(left + scale * point[0], base - scale * point[1])

    weights = {"fixed": (look.fixed, 1.2), "panel": (look.panel, 2.6), "link": (look.link, 3.2)}
    for role in ("fixed", "link", "panel"):
        colour, weight = weights[role]
        pen = QPen(QColor(colour), weight, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)
        for stroke in picture.strokes:
            if stroke.role == role:
                painter.setPen(pen)
                painter.setBrush(QColor(look.link_fill) if stroke.closed else Qt.BrushStyle.NoBrush)
                shape = QPolygonF([spot(point) for point in stroke.points])
                (painter.drawPolygon if stroke.closed else painter.drawPolyline)(shape)
    painter.setPen(QPen(QColor(look.ink), 1.2))
    for pin in picture.pins:
        painter.setBrush(QColor(look.ink if pin in picture.fixed_pins else look.paper))
        painter.drawEllipse(spot(pin), 2.6, 2.6)


class StartsBox(QWidget):
    """The cards, one beneath the other, made when they are first shown."""

    placed = Signal()

    def __init__(self, document: Document, look: Callable[[], Look]) -> None:
        super().__init__()
        self._document, self._look = document, look
        self.cards: list[StartCard] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)

    def showEvent(self, event: object) -> None:
        """Make the cards; what they need loads slowly, so not before."""
        if not self.cards:
            self._make()
        super().showEvent(event)  # type: ignore[arg-type]  # Qt gives a QShowEvent

    def _make(self) -> None:
        from kinematics.starts import starts

        for kind in starts():
            card = StartCard(kind, self._look())
            card.clicked.connect(lambda _=False, kind=kind: self.place(kind))
            self._column.addWidget(card)
            self.cards.append(card)

    def set_look(self, look: Look) -> None:
        """Take other colours."""
        for card in self.cards:
            card.set_look(look)

    def place(self, kind: StartKind) -> None:
        """Place a start: one step."""
        from kinematics.starts import begin

        opened = self._document.project.travel.opens
        if self._document.attempt(f"Place {kind.name.partition(':')[0]}", lambda project: begin(project, kind.kind)):
            self._document.set_opening(0.0)
            self.placed.emit()
            if self._document.project.travel.opens != opened:
                self._document.told.emit(TURNED)
