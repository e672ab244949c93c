"""A robot at the window for a short while, with two seeds; the long runs are by hand (`tests.app.robot`)."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import qWarning

from app.document import Document
from tests.app.robot import RobotError, Run
from tests.thorough import cases

if TYPE_CHECKING:
    from pathlib import Path

    from app.document import Step

pytestmark = pytest.mark.slow


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("seed", [1, 2])
def test_random_gestures_do_no_harm_and_can_all_be_undone(tmp_path: Path, seed: int) -> None:
    Run(tmp_path / "robot", seed).go(range(1, cases(40, 90) + 1))


@pytest.mark.usefixtures("qapp")
def test_a_history_that_forgets_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    push = Document._push

    def forget(document: Document, step: Step) -> None:
        push(document, step)
        del document._done[:-1]

    monkeypatch.setattr(Document, "_push", forget)
    with pytest.raises(RobotError, match=r"seed 1, gesture 40: .* the first project"):
        Run(tmp_path / "robot", 1, stays=True).go(range(1, 41))


@pytest.mark.usefixtures("qapp")
def test_a_warning_of_qt_and_an_exception_in_a_slot_are_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def warn(_: Document) -> None:
        qWarning("something is amiss")

    def fail(_: Document) -> None:
        raise ArithmeticError

    for undo, told in ((warn, "Qt says: something is amiss"), (fail, "ArithmeticError")):
        monkeypatch.setattr(Document, "undo", undo)
        with pytest.raises(RobotError, match=told):
            Run(tmp_path / told[:2], 1).go(range(1, 41))
