"""What every drawer is made of: a title, a column that scrolls, and the parts it is filled with."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QListWidget, QListWidgetItem, QMenu, QPushButton, QToolButton

from app.board.menu import add_part_actions
from app.columns import scrolling_column, tight_column
from app.document import Selection
from app.entry.form import push_button
from app.fields import named

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from PySide6.QtGui import QFocusEvent, QKeyEvent

    from app.document import Document
    from app.look import Look

WIDTH = 330


class Drawer(QFrame):
    """One stage of the job. Subclasses fill `self.column` when they are made and follow the document themselves."""

    closed = Signal()

    def __init__(self, document: Document, title: str, purpose: str) -> None:
        super().__init__()
        self.setObjectName("drawer")
        self.setFixedWidth(WIDTH)
        self.setAccessibleName(f"Drawer {title}")
        self.document = document
        heading = QLabel(title.upper())
        heading.setObjectName("heading")
        self.shut = shut = QToolButton()
        shut.setText("×")
        named(shut, f"Close drawer {title}", "Close this drawer (Esc). Nothing in the project changes.")
        shut.clicked.connect(self.closed)
        head = QHBoxLayout()
        head.setContentsMargins(14, 10, 8, 0)
        head.addWidget(heading, 1)
        head.addWidget(shut)
        scroll, self.column = scrolling_column()
        self.column.setContentsMargins(14, 4, 14, 14)
        self.column.setSpacing(8)
        whole = tight_column(self)
        whole.setContentsMargins(0, 0, 1, 0)
        whole.setSpacing(4)
        whole.addLayout(head)
        whole.addWidget(scroll, 1)
        self.told(purpose)

    def told(self, sentence: str) -> QLabel:
        """Add a sentence or two in a low voice."""
        label = QLabel(sentence)
        label.setObjectName("faint")
        label.setTextFormat(Qt.TextFormat.PlainText)  # a name may look like markup
        label.setWordWrap(True)
        self.column.addWidget(label)
        return label

    def text(self, words: str = "") -> QLabel:
        """Add a paragraph."""
        label = QLabel(words)
        label.setTextFormat(Qt.TextFormat.PlainText)  # a name may look like markup
        label.setWordWrap(True)
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.column.addWidget(label)
        return label

    def heading(self, words: str) -> QLabel:
        """Add a small heading."""
        label = QLabel(words)
        label.setObjectName("subheading")
        label.setContentsMargins(0, 8, 0, 0)
        self.column.addWidget(label)
        return label

    def button(self, words: str, tip: str, act: Callable[[], object]) -> QPushButton:
        """Add a button across the width."""
        made = push_button(words, tip, act)
        self.column.addWidget(made)
        return made

    def buttons(self, *made: QPushButton) -> None:
        """Add buttons beside each other."""
        row = QHBoxLayout()
        row.setSpacing(6)
        for each in made:
            row.addWidget(each)
        row.addStretch(1)
        self.column.addLayout(row)

    def set_look(self, look: Look) -> None:
        """Take other colours; a drawer whose controls are all dressed by the window leaves this as it is."""

    def take_focus(self) -> None:
        """Let the keyboard stand at the drawer's head: it is always there, and Tab goes on into the body."""
        self.shut.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc closes the drawer."""
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)


class PartsList(QListWidget):
    """The parts of one kind in the project; choosing one selects it in the document, and the other way round."""

    def __init__(self, document: Document, kind: str, tip: str) -> None:
        super().__init__()
        self._document, self._kind = document, kind
        self._shown: list[tuple[str, str]] = []
        named(self, f"{kind.capitalize()}s of the project", tip)
        self.setUniformItemSizes(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.itemSelectionChanged.connect(self._choose_selected)
        self.itemClicked.connect(lambda _: self._choose(self.currentRow()))
        document.selected.connect(self._show_selection)

    def show_parts(self, parts: Iterable[tuple[str, str]]) -> None:
        """Show parts as (id, words)."""
        parts = list(parts)
        if parts == self._shown:
            return
        self._shown = parts
        self.blockSignals(True)
        self.clear()
        for id_, words in parts:
            item = QListWidgetItem(f"{id_}   {words}")
            item.setToolTip(f"{id_}: {words}")
            self.addItem(item)
        self.blockSignals(False)
        self.setFixedHeight(self.sizeHint().height())
        self._show_selection(self._document.selection)

    def sizeHint(self) -> QSize:
        """As high as its parts, from two to eight of them."""
        rows = min(max(self.count(), 2), 8)
        return QSize(200, rows * max(self.sizeHintForRow(0), 22) + 4)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Open the menu of the part under the pointer, or by the menu key of the one that is chosen."""
        by_mouse = event.reason() == QContextMenuEvent.Reason.Mouse
        index = self.indexAt(event.pos()) if by_mouse else self.currentIndex()
        if index.isValid():
            self._choose(index.row())
            menu = self.menu_of(index.row())
            menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
            menu.popup(event.globalPos() if by_mouse else self.viewport().mapToGlobal(self.visualRect(index).center()))

    def menu_of(self, row: int) -> QMenu:
        """Make the menu of the part in a row: what the board's own menu can do to it."""
        menu = QMenu(self)
        add_part_actions(menu, self._document, self._kind, self._shown[row][0])
        return menu

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Come to the list without choosing anything: Qt would make the first entry the current one, and tell it."""
        self.blockSignals(True)
        super().focusInEvent(event)
        self.blockSignals(False)

    def _choose_selected(self) -> None:
        """Arrows, Space or the mouse have selected a row."""
        if self.selectedItems():
            self._choose(self.currentRow())

    def _choose(self, row: int) -> None:
        if 0 <= row < len(self._shown):
            self._document.select(Selection(self._kind, self._shown[row][0]))

    def _show_selection(self, selection: Selection | None) -> None:
        ids = [id_ for id_, _ in self._shown]
        row = (
            ids.index(selection.id)
            if selection is not None and selection.kind == self._kind and selection.id in ids
            else -1
        )
        self.blockSignals(True)
        self.setCurrentRow(row)
        self.blockSignals(False)
