"""The proposals as cards: a small picture, what it is and whether it holds, how it moves, how large it is.

What a card shows beyond its words, the picture, needs the proposal analysed once more here; that is done one by one off
the window's thread, so that no find stops the hand.
"""

from __future__ import annotations

import re
from functools import partial
from typing import TYPE_CHECKING, Any, Protocol

from PySide6.QtCore import (
    QAbstractListModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QRect,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QCursor, QFont, QFontMetrics, QHelpEvent, QPainter, QPen
from PySide6.QtWidgets import QAbstractItemView, QListView, QStyledItemDelegate, QStyleOptionViewItem, QToolTip, QWidget

from app.drawers.starts import paint_miniature
from app.fields import named
from app.proposals.words import card_words
from app.theme import blend
from app.trials.picture import small_picture

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from PySide6.QtGui import QKeyEvent

    from app.lengths import Units
    from app.look import Look
    from app.pumped import Pumped
    from kinematics.analysis import Analysis
    from kinematics.layouts import Miniature
    from kinematics.project import Project
    from kinematics.proposals.results import Proposal

PICTURE = QSize(104, 78)
PAD = 6
LINES = 5  # a title, and two paragraphs of at most two lines
Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole
ROOT = QModelIndex()


class Analyses(QObject):
    """Analyses of proposals, worked out one by one off the window's thread; `read` tells of each.

    pumped : does them; it outlives this, as a job that is under way ends in its own time.
    """

    read = Signal()

    def __init__(self, pumped: Pumped, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pumped = pumped
        self._known: dict[int, tuple[Project, Analysis]] = {}
        self._wanted: tuple[Proposal, ...] = ()
        self._is_busy, self._is_closed = False, False

    def want(self, proposals: Sequence[Proposal]) -> None:
        """Work these out, the first first, and forget all others."""
        self._wanted = tuple(proposals)
        there = {id(each.project) for each in proposals}
        self._known = {key: value for key, value in self._known.items() if key in there}
        self._next()

    def of(self, proposal: Proposal) -> Analysis | None:
        """Give an analysis; None where it isn't worked out yet."""
        found = self._known.get(id(proposal.project))
        return None if found is None else found[1]

    def now(self, proposal: Proposal) -> Analysis:
        """Give an analysis, worked out here and now if need be: what is pointed at is to be seen."""
        found = self.of(proposal)
        if found is None:
            found = _analysed(proposal.project)
            self._known[id(proposal.project)] = (proposal.project, found)
        return found

    def close(self) -> None:
        """Begin no other; what is under way is told to nobody."""
        self._is_closed = True

    def _next(self) -> None:
        waiting = next((each.project for each in self._wanted if self.of(each) is None), None)
        if waiting is not None and not self._is_busy and not self._is_closed:
            self._is_busy = True
            self._pumped.do("proposal", partial(_analysed, waiting), partial(self._take, waiting))

    def _take(self, project: Project, analysis: Analysis) -> None:
        self._is_busy = False
        if self._is_closed:
            return
        if any(each.project is project for each in self._wanted):
            self._known[id(project)] = (project, analysis)
            self.read.emit()
        self._next()


def _analysed(project: Project) -> Analysis:
    from kinematics import analyse

    return analyse(project)


class CardsModel(QAbstractListModel):
    """A row a proposal, the best first."""

    def __init__(self, analyses: Analyses, units: Callable[[], Units]) -> None:
        super().__init__()
        self._analyses, self._units = analyses, units
        self.proposals: tuple[Proposal, ...] = ()
        analyses.read.connect(self.refresh)

    def show(self, proposals: Sequence[Proposal]) -> None:
        """Show these, in this order."""
        if tuple(proposals) != self.proposals:
            self.beginResetModel()
            self.proposals = tuple(proposals)
            self.endResetModel()

    def refresh(self) -> None:
        """Say all anew, as in other units."""
        if self.proposals:
            self.dataChanged.emit(self.index(0), self.index(len(self.proposals) - 1))

    def words(self, row: int) -> tuple[str, str, str]:
        """Give the lines of a card."""
        return card_words(self.proposals[row], self._units())

    def holds(self, row: int) -> bool:
        """Whether a proposal holds every want."""
        return self.proposals[row].ok

    def analysis(self, row: int) -> Analysis | None:
        """Give the analysis behind a card's picture, if it is there."""
        return self._analyses.of(self.proposals[row])

    def rowCount(self, parent: Index = ROOT) -> int:
        """One a proposal."""
        return 0 if parent.isValid() else len(self.proposals)

    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:  # noqa: ANN401
        """What a card says."""
        if not index.isValid() or index.row() >= len(self.proposals):
            return None
        if role == Role.DisplayRole:
            return "\n".join(self.words(index.row()))
        if role == Role.ToolTipRole:  # a title that falls short may be long; else the card says it all
            return "" if self.proposals[index.row()].ok else self.words(index.row())[0]
        if role == Role.AccessibleTextRole:
            return ". ".join(self.words(index.row()))
        return None


class Words(Protocol):
    """What a card says, by its row."""

    def words(self, row: int) -> tuple[str, str, str]:
        """Give its title and two paragraphs."""

    def holds(self, row: int) -> bool:
        """Whether it holds every want."""


class CardDelegate(QStyledItemDelegate):
    """Paints cards in the sheet's look: a picture, which subclasses paint, and words."""

    def __init__(self, model: Words, look: Callable[[], Look], looked_at: Callable[[], int], parent: QWidget) -> None:
        super().__init__(parent)
        self._words, self._look, self._looked_at = model, look, looked_at

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: ARG002  Qt's own
        """As high as the picture, or as the words where the letters are large."""
        return QSize(200, max(PICTURE.height(), LINES * QFontMetrics(option.font).height()) + 2 * PAD)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint wash, frame, picture and words."""
        look, rect = self._look(), option.rect
        chosen = bool(option.state.value & _SELECTED)
        painter.save()
        if chosen or index.row() == self._looked_at():
            painter.fillRect(rect, QColor(blend(look.selection, look.paper, 0.16 if chosen else 0.07)))
        painter.setPen(QPen(QColor(blend(look.ink, look.paper, 0.28)), 1))
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        if chosen:
            painter.fillRect(QRect(rect.left(), rect.top(), 3, rect.height()), QColor(look.selection))
        area = QRectF(rect.left() + PAD, rect.top() + PAD, PICTURE.width(), rect.height() - 2 * PAD)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setClipRect(area)
        self.paint_picture(painter, area, index.row(), look)
        painter.setClipping(False)
        words = rect.adjusted(PICTURE.width() + 2 * PAD, PAD, -PAD, -PAD)
        self._paint_words(painter, words, option.font, index.row(), look)
        painter.restore()

    def paint_picture(self, painter: QPainter, area: QRectF, row: int, look: Look) -> None:
        """Paint the picture of a card."""

    def _paint_words(self, painter: QPainter, area: QRect, font: QFont, row: int, look: Look) -> None:
        title, *paragraphs = self._words.words(row)
        bold = QFont(font)
        bold.setBold(True)
        painter.setFont(bold)
        painter.setPen(QColor(look.ink if self._words.holds(row) else look.fault))
        line = QFontMetrics(font).height()
        shown = QFontMetrics(bold).elidedText(title, Qt.TextElideMode.ElideRight, area.width())
        painter.drawText(QRect(area.left(), area.top(), area.width(), line), 0, shown)
        painter.setFont(font)
        top = area.top() + line
        for words, colour in zip(paragraphs, (look.ink, look.faint), strict=True):
            painter.setPen(QColor(colour))
            room = QRect(area.left(), top, area.width(), 2 * line)
            used = painter.drawText(room, int(Qt.TextFlag.TextWordWrap), unbroken(words))
            top += min(_height(used), 2 * line)


class LayoutDelegate(CardDelegate):
    """Its picture is the layout, the panel half open."""

    def __init__(
        self, model: CardsModel, look: Callable[[], Look], looked_at: Callable[[], int], parent: QWidget
    ) -> None:
        super().__init__(model, look, looked_at, parent)
        self._model = model
        self._pictures: dict[int, tuple[Analysis, Miniature]] = {}

    def paint_picture(self, painter: QPainter, area: QRectF, row: int, look: Look) -> None:
        """Paint the layout, once it is analysed."""
        analysis = self._model.analysis(row)
        if analysis is None:
            return
        found = self._pictures.get(row)
        if found is None or found[0] is not analysis:
            found = self._pictures[row] = (analysis, small_picture(analysis))
        paint_miniature(painter, area, found[1], look)


_SELECTED = 0x8000  # QStyle.State_Selected


def unbroken(words: str) -> str:
    """The same words, a figure kept on one line with its unit."""
    return re.sub(r"(?<=\d) (?=mm|N\b|lbf|\d+/\d+)", "\u00a0", words).replace(" × ", "\u00a0×\u00a0")


def _height(used: QRect | None) -> int:
    return 0 if used is None else used.height()


class CardsView(QListView):
    """A list of cards. `shown_row` tells which is looked at: that beneath the pointer, else the chosen one, else −1."""

    shown_row = Signal(int)
    entered_row = Signal()

    def __init__(self, model: QAbstractListModel) -> None:
        super().__init__()
        self._row = -1
        self.setModel(model)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setUniformItemSizes(True)
        self.setMouseTracking(True)
        self.setMinimumHeight(PICTURE.height() + 2 * PAD)
        self.viewport().installEventFilter(self)
        self.entered.connect(lambda index: self._look_at(index.row()))
        self.selectionModel().currentRowChanged.connect(lambda *_: self._look_at(self.currentIndex().row()))

    @property
    def looked_at(self) -> int:
        """The row that is looked at, −1 for none."""
        return self._row

    def look_again(self) -> None:
        """Other cards stand here: look at the one that is beneath the pointer now, else at the chosen one."""
        self._row = -2
        inside = self.viewport().underMouse()
        below = self.indexAt(self.viewport().mapFromGlobal(QCursor.pos())) if inside else self.currentIndex()
        self._look_at(below.row())

    def viewportEvent(self, event: QEvent) -> bool:
        """A tip only where a card has one: the list's own would hide what is pointed at."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            QToolTip.showText(event.globalPos(), str(self.indexAt(event.pos()).data(Role.ToolTipRole) or ""), self)
            return True
        return super().viewportEvent(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The pointer leaves: what is chosen is looked at again."""
        if watched is self.viewport() and event.type() == QEvent.Type.Leave:
            self._look_at(self.currentIndex().row())
        return super().eventFilter(watched, event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter is for the card, not for the sheet."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered_row.emit()
        else:
            super().keyPressEvent(event)

    def _look_at(self, row: int) -> None:
        if row != self._row:
            self._row = row
            self.viewport().update()
            self.shown_row.emit(row)


class CardsList(CardsView):
    """The cards of proposals."""

    def __init__(self, model: CardsModel, look: Callable[[], Look]) -> None:
        super().__init__(model)
        named(
            self,
            "Proposals",
            "Hinges that were found, the best first. Point at one, or go to it by arrow keys, and its sweep is drawn "
            "on the board; Enter takes it.",
        )
        self.setItemDelegate(LayoutDelegate(model, look, lambda: self.looked_at, self))
