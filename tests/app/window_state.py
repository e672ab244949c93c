"""What a window's state is, as far as a test may come upon it: what its objects remember, and what its controls show.

Two windows are in equal state where `state_of` gives the same of both. It goes by the attributes of the program's own
objects, from the window on, so what is added to the window tomorrow is looked at too; a project, an analysis and the
like count by what they are, as the tests share them. Left out is what no test can tell (numbers of a run, times).
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import is_dataclass
from enum import Enum
from pathlib import Path
from typing import TYPE_CHECKING, Any

import shiboken6
from PySide6.QtCore import QObject, QPointF, QRect, QRectF, QSize, QTimer
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QAbstractButton,
    QComboBox,
    QGraphicsItem,
    QLabel,
    QLineEdit,
    QScrollBar,
    QSplitter,
    QTabBar,
    QWidget,
)

if TYPE_CHECKING:
    from collections.abc import Iterator
    from collections.abc import Set as AbstractSet

    from app.window import Window

PLAIN = (bool, int, float, str, bytes, type(None), Enum, Path, QSize, QRect, QPointF, QRectF)


LEFT_OUT = re.compile(
    r"\.keeper\.(session|_worker|_copy|_timer)|\.watch\._(timer|now)|\._pumped\."  # numbers of a run, tickets
    r"|_posed?$"  # each look at a project makes its own
    r"|\._measured|\._known|\._scale$|\._frames|\._images"  # kept for speed, found by what it is of
    r"|\._pressed_at$|\.pointer\._last|\.pointer\._hint$|\.desk\._led"  # of the last gesture: set as one begins
    r"|\._flash$"  # the timer of a mark that is gone
)


def state_of(window: Window) -> dict[str, Any]:
    """All of a window's state, by where it stands."""
    found = {where: value for where, value in _Walk().of("window", window) if not LEFT_OUT.search(where)}
    store = window.settings._store
    found |= {f"setting {key}": store.value(key) for key in store.allKeys()}
    found["beside the document"] = [type(each).__name__ for each in window.document.children()]
    focus = window.focusWidget()
    found["keys"] = None if focus is None else (type(focus).__name__, focus.accessibleName())
    names = _names(window)
    found |= {names[part]: shown_by(part) for part in names}
    for action in window.findChildren(QAction):
        if action.text():
            found[f"command {action.text()}"] = action.isChecked(), action.isEnabled(), action.isVisible()
    return found


def differences(before: dict[str, Any], after: dict[str, Any]) -> list[str]:
    """Where two states differ, in words."""
    gone = "nothing"
    return [
        f"{where}: {before.get(where, gone)} before, {after.get(where, gone)} now"
        for where in dict.fromkeys([*before, *after])
        if before.get(where, gone) != after.get(where, gone)
    ]


def _names(window: Window) -> dict[QWidget, str]:
    """All controls of a window, each with the way that leads to it."""
    found: dict[QWidget, str] = {}
    todo: list[tuple[QWidget, str]] = [(window, "window")]
    for part, way in todo:
        count: Counter[str] = Counter()
        for child in part.children():
            if isinstance(child, QWidget) and shiboken6.isValid(child):
                kind = type(child).__name__
                count[kind] += 1
                found[child] = f"{way} > {kind} {count[kind]} {child.accessibleName()}"
                todo.append((child, found[child]))
    return found


def shown_by(part: QWidget) -> tuple[object, ...]:
    """What one control shows."""
    seen: tuple[object, ...] = (part.isHidden(), part.isEnabled())
    if part.isVisible() and not isinstance(part, QLabel):  # words are laid out when they are next painted
        seen = (*seen, part.geometry().getRect())
    if isinstance(part, (QLabel, QAbstractButton, QLineEdit)):
        seen = (*seen, part.text())
    if isinstance(part, QAbstractButton):
        seen = (*seen, part.isChecked())
    if isinstance(part, QLineEdit):
        seen = (*seen, part.isModified())
    if isinstance(part, (QComboBox, QTabBar)):
        seen = (*seen, part.currentIndex())
    if isinstance(part, QScrollBar):
        seen = (*seen, part.value())
    if isinstance(part, QSplitter):
        seen = (*seen, tuple(part.sizes()))
    return seen


class _Walk:
    """Goes through what the program's objects remember, each object once."""

    def __init__(self) -> None:
        self._seen: set[int] = set()

    def of(self, where: str, value: object) -> Iterator[tuple[str, object]]:
        if isinstance(value, PLAIN):
            yield where, value
        elif isinstance(value, QTimer):
            yield where, value.isActive()
        elif isinstance(value, (tuple, list, set, frozenset, dict)):
            yield from self._of_many(where, value)
        elif type(value).__module__.startswith("kinematics"):
            yield where, id(value)
        elif is_dataclass(value) and value.__dataclass_params__.frozen:  # type: ignore[attr-defined]
            yield where, re.sub(r" at 0x[0-9a-f]+", "", repr(value))
        elif type(value).__module__.startswith("app.") and id(value) not in self._seen:
            self._seen.add(id(value))
            yield from self._of_object(where, value)

    def _of_many(
        self, where: str, values: tuple[object, ...] | list[object] | AbstractSet[object] | dict[object, object]
    ) -> Iterator[tuple[str, object]]:
        """To have none of something is as good as not to know of it."""
        if isinstance(values, (set, frozenset)):
            if values:
                yield where, sorted(map(repr, values))
            return
        parts = values.items() if isinstance(values, dict) else enumerate(values)
        for key, each in parts:
            yield from self.of(f"{where}[{key}]", each)
        if values and not where.endswith("_scene._items"):  # in which empty groups may stand
            yield where, len(values)

    def _of_object(self, where: str, value: object) -> Iterator[tuple[str, object]]:
        if isinstance(value, QObject) and not shiboken6.isValid(value):
            yield where, "gone"
            return
        if isinstance(value, QGraphicsItem) and not value.isVisible():
            yield where, "hidden"
            return
        names = dict(getattr(value, "__dict__", {}))
        for kind in type(value).__mro__:
            slots = kind.__dict__.get("__slots__", ())
            names |= {
                name: getattr(value, name)
                for name in ((slots,) if isinstance(slots, str) else slots)
                if hasattr(value, name)
            }
        for name, each in names.items():
            yield from self.of(f"{where}.{name}", each)
