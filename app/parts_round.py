"""F6 and Shift+F6: the keyboard goes from part to part of the window, without all the Tabs between.

The round: notice (while one is shown), rail, open drawer, board, tools, checks, entry, travel strip. A part gets the
keys where one would look for them: at what is pressed in it, else at its first control.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QApplication, QWidget

if TYPE_CHECKING:
    from app.window import Window


def parts(window: Window) -> list[QWidget]:
    """Give the parts that are to be seen, in the order of the round."""
    drawer = [] if window.area.drawer is None else [window.area.drawer]
    found = [window.area.notice, window.rail, *drawer, window.board, window.board.toolbox]
    found += [window.checks, window.checks.entry, window.strip]
    return [part for part in found if part.isVisible() and (part.focusPolicy() or controls(part))]


def controls(part: QWidget) -> list[QWidget]:
    """Give what Tab would stop at within a part, as the eye goes: from above to below, from left to right.

    Qt's own chain isn't asked: PySide takes what `nextInFocusChain()` gives for a child of what was asked, and once
    that is gone, for gone as well, wherever in the window it is.
    """
    found = [
        each
        for each in _within(part)
        if each.focusPolicy() & Qt.FocusPolicy.TabFocus and each.isVisibleTo(part) and each.isEnabled()
    ]
    return sorted(found, key=lambda each: ((place := each.mapTo(part, each.rect().topLeft())).y(), place.x()))


def _within(part: QWidget) -> list[QWidget]:
    """All widgets below a part, in the same window."""
    own = [each for each in part.children() if isinstance(each, QWidget) and not each.isWindow()]
    return [found for each in own for found in (each, *_within(each))]


def go_on(window: Window, step: int) -> None:
    """Give the keys to the next part (+1) or to the one before (−1)."""
    round_ = parts(window)
    if round_:
        here = _here(round_)
        enter(round_[(here + step) % len(round_) if here is not None else 0], round_)


def _here(round_: list[QWidget]) -> int | None:
    """The part that has the keys: the innermost, as tools lie in the board and the entry in the checks."""
    focused = QApplication.focusWidget()
    while focused is not None:
        if focused in round_:
            return round_.index(focused)
        focused = focused.parentWidget()
    return None


def enter(part: QWidget, round_: list[QWidget]) -> None:
    """Give a part the keys, but not to another part that lies in it."""
    reason = Qt.FocusReason.ShortcutFocusReason
    if part.focusPolicy() & Qt.FocusPolicy.TabFocus:
        part.setFocus(reason)
        return
    inner = [each for each in round_ if each is not part and part.isAncestorOf(each)]
    found = [each for each in controls(part) if not any(other.isAncestorOf(each) for other in inner)]
    pressed = [each for each in found if isinstance(each, QAbstractButton) and each.isChecked()]
    if found:
        (pressed or found)[0].setFocus(reason)
