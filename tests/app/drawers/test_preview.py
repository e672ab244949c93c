"""The picture in the chooser: lines to fit, the nearest one under the pointer."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt

from app.drawers.preview import MARGIN, Preview
from app.files.outline_import import Curve
from app.look import light
from app.window import demo

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

LOW = Curve("low", "a", "line", closed=False, points=((0.0, 0.0), (1000.0, 0.0)))
HIGH = Curve("high", "b", "line", closed=False, points=((0.0, 500.0), (1000.0, 500.0)))


@pytest.fixture
def preview(qtbot: QtBot) -> Preview:
    preview = Preview(light())
    qtbot.addWidget(preview)
    preview.resize(600, 400)
    preview.show_curves((LOW, HIGH), ["", "hatch"], demo())
    with qtbot.waitExposed(preview):
        preview.show()
    return preview


def test_all_lines_fit_and_up_is_up(preview: Preview) -> None:
    low, high = preview.pixels_of(0), preview.pixels_of(1)
    assert high[0, 1] < low[0, 1]
    for pixels in (low, high):
        assert pixels.min() >= MARGIN - 1e-9
        assert pixels[:, 0].max() <= 600 - MARGIN + 1e-9


def test_the_nearest_line_within_reach_is_found(preview: Preview) -> None:
    y = preview.pixels_of(0)[0, 1]
    assert preview.line_at(300, y + 5) == 0
    assert preview.line_at(300, y + 20) is None
    preview.show_layers({"b"})
    assert preview.line_at(300, y + 5) is None


def test_a_click_tells_which_line_and_whether_it_adds(preview: Preview, qtbot: QtBot) -> None:
    told: list[tuple[int, bool]] = []
    preview.picked.connect(lambda place, more: told.append((place, more)))
    at = QPoint(200, round(preview.pixels_of(1)[0, 1]))
    qtbot.mouseClick(preview, Qt.MouseButton.LeftButton, pos=at)
    qtbot.mouseClick(preview, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.ControlModifier, pos=at)
    qtbot.mouseClick(preview, Qt.MouseButton.LeftButton, pos=QPoint(5, 5))
    assert told == [(1, False), (1, True)]


def test_what_is_on_the_panel_is_heavier_than_what_is_left_out(preview: Preview) -> None:
    assert preview._pen(1).widthF() > preview._pen(0).widthF()
    assert preview._pen(0).style() == Qt.PenStyle.DashLine  # not by colour alone


def test_no_lines_at_all_are_no_fault(preview: Preview) -> None:
    preview.show_curves((), [], demo())
    preview.repaint()
    assert preview.line_at(10, 10) is None
