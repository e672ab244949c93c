"""A worker whose results come by themselves: results, refusals as sentences, and an end."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from app.pumped import Pumped
from kinematics.errors import HingewrightError

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


def refuse() -> None:
    raise HingewrightError("no photo")


def test_results_and_refusals_are_handed_over(qtbot: QtBot) -> None:
    parent, got, told = QObject(), [], []
    pumped = Pumped(parent, told.append)
    pumped.do("one", lambda: 7, got.append)
    pumped.do("other", refuse, got.append)
    qtbot.waitUntil(lambda: bool(got) and bool(told), timeout=5_000)
    assert got == [7]
    assert str(told[0]) == "no photo."
    qtbot.waitUntil(lambda: not pumped.is_busy, timeout=5_000)


def test_other_faults_are_raised_where_they_are_told(qtbot: QtBot) -> None:
    parent = QObject()
    pumped = Pumped(parent, lambda _: None)
    with qtbot.captureExceptions() as faults:
        pumped.do("one", lambda: 1 / 0, lambda _: None)
        qtbot.waitUntil(lambda: bool(faults), timeout=5_000)
    assert faults[0][0] is ZeroDivisionError
    qtbot.waitUntil(lambda: not pumped.is_busy, timeout=5_000)
