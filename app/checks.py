"""The checks: every comparison of what is with what is wanted, worst first; beneath them exact entry.

Each check is a row: its sign (✗ falls short, ✓ holds), its sentence, and while something is dragged how its figure
has changed since the drag began. A click goes to the opening and the place it speaks of. During a drag the rows keep
their order, so that a figure can be followed by eye; they are put in order, worst first, when the drag ends. Below
the rows stands what the analysis remarks: what is missing, hangs free or ends the sweep.
"""

from __future__ import annotations

import re
from math import ceil
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QContextMenuEvent, QFont, QFontMetricsF, QGuiApplication, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QFrame,
    QHBoxLayout,
    QLabel,
    QMenu,
    QSizePolicy,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from app.build_line import BuildLine
from app.columns import scrolling_column, tight_column
from app.device_words import device_remarks
from app.document import Selection
from app.entry.form import push_button
from app.entry.panel import EntryPanel
from app.facts import Facts
from app.lettering import breakable
from app.shut_words import shut_remarks
from app.strength_words import LINK_MODES
from app.sure_words import sure_of, sure_remarks
from app.theme import blend
from app.words import (
    FAILS,
    HOLDS,
    change_since,
    check_sentence,
    checks_summary,
    mobility_sentence,
    opening_sentence,
    unasked_contacts,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.document import Document
    from app.lengths import Units
    from app.look import Look
    from kinematics.analysis import Analysis
    from kinematics.results import Check
    from kinematics.sureness import Sure

MARK_WIDTH, CHANGE_WIDTH, PAD, LEAD = 28, 58, 6, 5  # LEAD: above and below the words
LIST_HEIGHT = 340  # of the list of parts at least, pixels; it has what the checks leave
Key = tuple[str, tuple[str, ...], str, float, int]


class CheckRow(QAbstractButton):
    """One check. Its name stands above, the rest of its sentence beneath, the change at the right."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self.check: Check | None = None
        self.sentence, self.change = "", ""
        self._measured: tuple[tuple[str, str], dict[int, int]] = (("", ""), {})  # heights by width
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def set_look(self, look: Look) -> None:
        """Take other colours."""
        self._look = look
        self.update()

    def show_check(self, check: Check, before: Check | None, units: Units, sure: Sure | None = None) -> None:
        """Show a check, how sure it is, and how it has changed since an earlier one."""
        sentence, change = check_sentence(check, units, sure), change_since(check, before, units)
        if check.ok == (self.check is not None and self.check.ok) and (sentence, change) == (
            self.sentence,
            self.change,
        ):
            self.check = check
            return
        regrow = sentence != self.sentence
        self.check, self.sentence, self.change = check, sentence, change
        state = "holds" if check.ok else "falls short"
        self.setAccessibleName(f"{sentence} ({state})" + (f", {change} since the drag began" if change else ""))
        self.setToolTip(f"{sentence}\nThis check {state}. Click to go to the opening and the place it speaks of.")
        if regrow and self.heightForWidth(self.width()) != self.height():
            self.updateGeometry()
        self.update()

    def _change_colour(self) -> str:
        """What got better is said in the one colour, what got worse in the other, if the check falls short now."""
        falls_short = self.check is not None and not self.check.ok
        worse = self._look.fault if falls_short else self._look.ink
        return {"+": self._look.ok, "−": worse}.get(self.change[:1], self._look.faint)

    # Layout and painting ---------------------------------------------------------------------------------------------

    def _rest(self) -> tuple[str, str]:
        name, _, rest = self.sentence.partition(": ")
        return breakable(name), breakable(held_together(rest))

    def _words_width(self, width: float) -> float:
        return max(width - MARK_WIDTH - CHANGE_WIDTH - PAD, 40.0)

    def hasHeightForWidth(self) -> bool:
        """Sentences wrap."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Height of a line for the name and as many as the rest needs."""
        said = (self.sentence, self.font().key())
        if self._measured[0] != said:  # layouts ask over and over, while a drag changes but the figures
            self._measured = (said, {})
        heights = self._measured[1]
        if width not in heights:
            heights[width] = self._height(width)
        return heights[width]

    def _height(self, width: int) -> int:
        return ceil(self._lines_height(width) + 2 * LEAD)

    def lines_height(self) -> float:
        """Tell how high its lines are, pixels, as they are painted."""
        return self._lines_height(self.width())

    def _lines_height(self, width: float) -> float:
        name, rest = self._rest()
        room = QRectF(0, 0, self._words_width(width), 10_000)
        flags = int(Qt.TextFlag.TextWordWrap)
        high = QFontMetricsF(self._bold()).boundingRect(room, flags, name).height()  # bold words are wider
        if rest:
            high += QFontMetricsF(self.font()).boundingRect(room, flags, rest).height()
        return high

    def _bold(self) -> QFont:
        bold = self.font()
        bold.setBold(True)
        return bold

    def sizeHint(self) -> QSize:
        """Height for the width that it has."""
        return QSize(200, self.heightForWidth(max(self.width(), 200)))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the sign, the sentence, the change and the rule beneath."""
        if self.check is None:
            return
        painter = QPainter(self)
        look, width, height = self._look, float(self.width()), float(self.height())
        if self.underMouse() or self.hasFocus():
            painter.fillRect(
                self.rect(), QColor(blend(look.selection if self.hasFocus() else look.ink, look.paper, 0.08))
            )
        if self.hasFocus():  # a wash alone is too faint to be found by eye
            painter.setPen(QColor(look.selection))
            painter.drawRect(self.rect().adjusted(0, 0, -1, -2))
        colour = QColor(look.ok if self.check.ok else look.fault)
        painter.setFont(self._bold())
        painter.setPen(colour)
        painter.drawText(
            QRectF(PAD, LEAD, MARK_WIDTH - PAD, height),
            Qt.AlignmentFlag.AlignHCenter,
            HOLDS if self.check.ok else FAILS,
        )
        painter.setPen(QColor(self._change_colour()))
        painter.drawText(
            QRectF(width - CHANGE_WIDTH, LEAD, CHANGE_WIDTH - PAD, height), Qt.AlignmentFlag.AlignRight, self.change
        )
        painter.setPen(QColor(look.ink))
        name, rest = self._rest()
        flags = int(Qt.TextFlag.TextWordWrap)
        drawn = painter.drawText(QRectF(MARK_WIDTH, LEAD, self._words_width(width), height), flags, name)
        painter.setFont(self.font())
        painter.setPen(QColor(look.ink if not self.check.ok else look.faint))
        top = QRectF(drawn).bottom()
        painter.drawText(QRectF(MARK_WIDTH, top, self._words_width(width), height), flags, rest)
        painter.setPen(QColor(blend(look.ink, look.paper, 0.18)))
        painter.drawLine(0, self.height() - 1, self.width(), self.height() - 1)
        painter.end()


class ChecksPanel(QFrame):
    """All checks of the newest analysis, what it remarks, and exact entry beneath."""

    asked = Signal(object)  # Check: go to where it speaks of
    put_right_wanted = Signal()

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__()
        self.setObjectName("side")
        self.setMinimumWidth(290)
        self._document, self._look = document, look
        self._rows: list[CheckRow] = []
        self._order: list[Key] = []
        self._shared: list[int] = []  # how the column was shared before the list of parts was turned to
        self._build()
        document.followed.connect(self._show_analysis)
        document.restyled.connect(lambda: self._show_analysis(document.analysis))
        self._show_analysis(document.analysis)

    def _build(self) -> None:
        self._build_labels()
        self.upper = QWidget()
        upper_column = tight_column(self.upper)
        head = QVBoxLayout()
        head.setContentsMargins(12, 10, 12, 6)
        head.setSpacing(2)
        self.facts = Facts(self._document)
        top = QHBoxLayout()
        top.addWidget(self._heading, 1)
        self.put_right = push_button(
            "Put right",
            "Move the free pins as little as possible, until all wants hold; shown first, taken only if you say so.",
            self._want_right,
        )
        top.addWidget(self.put_right)
        head.addLayout(top)
        self.build_line = BuildLine(self._document)
        for label in (self.summary, self.build_line, self._motion, self.facts.count):
            head.addWidget(label)
        upper_column.addLayout(head)
        self._scroll, self._column = scrolling_column()
        self._column.addWidget(self.remarks)
        self._column.addWidget(self.facts)
        self._column.addStretch(1)
        upper_column.addWidget(self._scroll, 1)
        self.entry = EntryPanel(self._document)
        self.entry.set_look(self._look)
        self.split = QSplitter(Qt.Orientation.Vertical)
        self.split.setObjectName("ruled")
        self.split.setChildrenCollapsible(False)
        self.split.addWidget(self.upper)
        self.split.addWidget(self.entry)
        self.split.setStretchFactor(0, 1)
        self.split.setStretchFactor(1, 1)
        self.split.setSizes([350, 240])
        self.split.handle(1).setToolTip("Drag to see more of the checks, or more of exact entry.")
        self.entry.listed.connect(self._share_with_list)
        whole = tight_column(self)
        whole.setContentsMargins(1, 0, 0, 0)
        whole.addWidget(self.split)

    def _want_right(self) -> None:
        self.put_right_wanted.emit()

    def _share_with_list(self, listed: bool) -> None:
        """Give the list of parts more of the column while it is turned to."""
        sizes = self.split.sizes()
        if listed:
            self._shared = sizes
            spare = sum(sizes) - self._checks_height()
            self.split.setSizes([sum(sizes) - max(spare, LIST_HEIGHT), max(spare, LIST_HEIGHT)])
        elif self._shared:
            self.split.setSizes(self._shared)

    def _checks_height(self) -> int:
        """Tell how high the upper half would have to be to show all checks at once."""
        return self.upper.height() - self._scroll.viewport().height() + self._column.sizeHint().height()

    def _build_labels(self) -> None:
        self._heading = QLabel("CHECKS")
        self._heading.setObjectName("heading")
        self.summary = QLabel()
        self.summary.setWordWrap(True)
        self._motion = QLabel()
        self._motion.setObjectName("faint")
        self._motion.setWordWrap(True)
        self.remarks = QLabel()
        self.remarks.setWordWrap(True)
        self.remarks.setTextFormat(Qt.TextFormat.PlainText)
        self.remarks.setContentsMargins(12, 6, 8, 6)

    def set_look(self, look: Look) -> None:
        """Take other colours."""
        self._look = look
        self.entry.set_look(look)
        for row in self._rows:
            row.set_look(look)

    @property
    def rows(self) -> tuple[CheckRow, ...]:
        """The rows on show, from above to below."""
        return tuple(self._rows)

    # Showing ---------------------------------------------------------------------------------------------------------

    def _show_analysis(self, analysis: Analysis) -> None:
        units = self._document.units
        base = self._document.drag_base
        before = keyed(base.checks) if base is not None else {}
        checks = self._in_order(analysis.checks)
        while len(self._rows) < len(checks):
            row = CheckRow(self._look)
            row.clicked.connect(lambda _=False, row=row: self._go_to(row))
            self._column.insertWidget(len(self._rows), row)
            QWidget.setTabOrder(self._rows[-1] if self._rows else self, row)
            self._rows.append(row)
        while len(self._rows) > len(checks):
            gone = self._rows.pop()
            gone.hide()
            gone.deleteLater()
        for row, (key, check) in zip(self._rows, checks.items(), strict=True):
            row.show_check(check, before.get(key), units, sure_of(analysis, check))
        self.summary.setText(as_sentences(checks_summary(analysis.checks), unasked_contacts(analysis.gaps)))
        opens = opening_sentence(analysis.opening, analysis.state, units)
        self._motion.setText(as_sentences(f"{mobility_sentence(analysis)}; {opens}"))
        odd = device_remarks(analysis, units, at_rest=not self._document.is_dragging)
        told = (*analysis.remarks, *shut_remarks(analysis, units), *odd, *sure_remarks(analysis, units))
        remarks = "\n".join(f"• {remark}" for remark in told)
        if breakable(remarks) != self.remarks.text():
            self.remarks.setText(breakable(remarks))
            self.remarks.setVisible(bool(remarks))

    def _in_order(self, checks: Sequence[Check]) -> dict[Key, Check]:
        """Worst first; during a drag in the order in which the drag found them."""
        found = keyed(checks)
        if not (self._document.is_dragging and set(found) == set(self._order)):
            self._order = list(found)
        return {key: found[key] for key in self._order}

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Open the menu of the check under the pointer, or of the one that has the keys."""
        by_mouse = event.reason() == QContextMenuEvent.Reason.Mouse
        under = self.childAt(event.pos()) if by_mouse else self.focusWidget()
        row = next((row for row in self._rows if row is under), None)
        if row is not None:
            menu = self.menu_of(row)
            menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
            menu.popup(event.globalPos() if by_mouse else row.mapToGlobal(row.rect().center()))
        event.accept()

    def menu_of(self, row: CheckRow) -> QMenu:
        """Make the menu of a check."""
        menu, sentence = QMenu(self), row.sentence
        menu.addAction("Go there\tSpace", lambda: self._go_to(row))
        menu.addAction("Change what is wanted", lambda: self._change_want(row))
        menu.addAction("Copy this sentence", lambda: QGuiApplication.clipboard().setText(sentence))
        every = "\n".join(f"{HOLDS if each.ok else FAILS} {row.sentence}" for row in self._rows if (each := row.check))
        menu.addAction("Copy all checks", lambda: QGuiApplication.clipboard().setText(every))
        return menu

    def _change_want(self, row: CheckRow) -> None:
        """Turn to where what a check wants is typed: a limit's with its mark, a zone's with the zone, every other with
        the wants; of a check of strength select its pin or link.
        """
        check = row.check
        if check is None:
            return
        if check.kind == "limit":
            self._document.select(Selection("mark", check.subject[0]))
        elif check.kind == "zone":
            self._document.select(Selection("zone", f"on {check.subject[0]}"))
        elif check.kind == "strength" and check.subject:
            kind = "link" if check.side in LINK_MODES else "pivot"
            self._document.select(Selection(kind, check.subject[0]))
        else:
            self.entry.show_wants(check)

    def _go_to(self, row: CheckRow) -> None:
        """Show the pose and what the check speaks of; the window shows its place on the board."""
        check = row.check
        if check is None:
            return
        if check.deg is not None:
            self._document.set_opening(check.deg)
        self._change_want(row)
        self.asked.emit(check)


def keyed(checks: Sequence[Check]) -> dict[Key, Check]:
    """Checks by what makes each the same one in the next analysis; of two that are alike the second is numbered on."""
    found: dict[Key, Check] = {}
    for check in checks:
        subject = check.subject[:1] if check.kind == "zone" else check.subject  # the worst pin may be another one
        side = "" if check.kind == "strength" else check.side  # the worst way to fail may be another one
        if check.kind == "strength":
            subject = check.subject[:1]
        key = (check.kind, subject, side, check.after_deg, 0)
        while key in found:
            key = (*key[:4], key[4] + 1)
        found[key] = check
    return found


def held_together(text: str) -> str:
    """Hold figures to their units, and small words to the figures after them, where lines are broken.

    So a sentence breaks after a comma, not as "wants 12.0 / mm".
    """
    return re.sub(r"(?<=\d) (?=mm\b|in\b|\d)|(?<=\bat) (?=\d)|(?<=\bwants) (?=\d)", "\u00a0", text)


def as_sentences(*parts: str) -> str:
    """Make sentences of parts, with a capital and a full stop each; empty ones are left out. "BODY" stays as it is."""
    return " ".join(f"{part[0].upper()}{part[1:]}." for part in parts if part)
