"""The chooser by hand: names, picks, layers, units; what is chosen in the end."""

from __future__ import annotations

from typing import TYPE_CHECKING

import ezdxf
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtWidgets import QApplication, QLineEdit

from app.document import blank_project
from app.drawers.chooser import OutlineChooser
from app.drawers.incoming import from_file, from_text, with_outlines
from app.lengths import LengthStyle
from app.look import light
from app.window import demo

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

LEFT = Qt.MouseButton.LeftButton
CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def chooser(qtbot: QtBot, tmp_path: Path) -> OutlineChooser:
    """A drawing without a unit: two lines on the layer "skins", one on "walls"."""
    drawing = ezdxf.new("R2010", units=0)
    space = drawing.modelspace()
    space.add_lwpolyline([(0, 0), (100, 0), (100, 10)], dxfattribs={"layer": "skins"})
    space.add_lwpolyline([(0, 40), (100, 40), (100, 50)], dxfattribs={"layer": "skins"})
    space.add_lwpolyline([(0, 80), (100, 80), (100, 90)], dxfattribs={"layer": "walls"})
    drawing.saveas(tmp_path / "three.dxf")
    return shown(qtbot, OutlineChooser(demo(), from_file(tmp_path / "three.dxf", "mm"), light()))


def shown(qtbot: QtBot, chooser: OutlineChooser) -> OutlineChooser:
    qtbot.addWidget(chooser)
    with qtbot.waitExposed(chooser):
        chooser.show()
    return chooser


def click(qtbot: QtBot, chooser: OutlineChooser, place: int, more: bool = False) -> None:
    """Click a line in the picture, in the middle of its first stretch."""
    x, y = chooser.preview.pixels_of(place)[:2].mean(axis=0)
    modifiers = CTRL if more else Qt.KeyboardModifier.NoModifier
    qtbot.mouseClick(chooser.preview, LEFT, modifiers, QPoint(round(x), round(y)))


def put(qtbot: QtBot, chooser: OutlineChooser, link: str) -> None:
    chooser.link.choose(link)
    qtbot.mouseClick(chooser.put, LEFT)


def take_unit(chooser: OutlineChooser, unit: str) -> None:
    chooser.unit.choose(unit)
    chooser.unit.activated.emit(chooser.unit.currentIndex())


def tick(qtbot: QtBot, chooser: OutlineChooser, layer: str) -> None:
    """Click a layer's box."""
    box = chooser.layer_list
    item = next(box.item(row) for row in range(box.count()) if box.item(row).text() == layer)
    spot = box.visualItemRect(item).topLeft() + QPoint(12, 10)
    qtbot.mouseClick(box.viewport(), LEFT, pos=spot)


def names(chooser: OutlineChooser) -> list[tuple[str, str]]:
    return [(name, on) for _, name, on in chooser.chosen]


def test_lines_are_picked_in_the_picture_one_more_with_ctrl_and_let_go_again(
    chooser: OutlineChooser, qtbot: QtBot
) -> None:
    click(qtbot, chooser, 0)
    click(qtbot, chooser, 2, more=True)
    assert chooser.picked() == [0, 2]
    click(qtbot, chooser, 0, more=True)
    assert chooser.picked() == [2]
    click(qtbot, chooser, 1)
    assert chooser.picked() == [1]


def test_nothing_is_brought_in_without_a_unit(chooser: OutlineChooser, qtbot: QtBot) -> None:
    """An inch taken for a millimetre would make a hinge 25 times too small."""
    click(qtbot, chooser, 0)
    put(qtbot, chooser, "hatch")
    assert not chooser.ok.isEnabled()
    take_unit(chooser, "in")
    assert chooser.ok.isEnabled()
    curve, _, on = chooser.chosen[0]
    assert on == "hatch"
    assert max(x for x, _ in curve.points) == pytest.approx(2540.0, abs=1e-9)


def test_another_unit_keeps_what_was_put_where(chooser: OutlineChooser, qtbot: QtBot) -> None:
    take_unit(chooser, "mm")
    click(qtbot, chooser, 1)
    put(qtbot, chooser, "hatch")
    take_unit(chooser, "cm")
    assert [on for _, on in names(chooser)] == ["hatch"]
    assert max(x for x, _ in chooser.chosen[0][0].points) == pytest.approx(1000.0, abs=1e-9)


def test_a_name_is_typed_in_the_list(chooser: OutlineChooser, qtbot: QtBot) -> None:
    take_unit(chooser, "mm")
    index = chooser.filter.index(0, 0)
    spot = chooser.table.visualRect(index).center()
    qtbot.mouseClick(chooser.table.viewport(), LEFT, pos=spot)
    qtbot.mouseDClick(chooser.table.viewport(), LEFT, pos=spot)
    line = chooser.table.findChild(QLineEdit)
    assert isinstance(line, QLineEdit)
    line.selectAll()
    qtbot.keyClicks(line, "hatch skin, left")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    QApplication.processEvents()
    put(qtbot, chooser, "hatch")
    assert names(chooser) == [("hatch skin, left", "hatch")]


def test_an_empty_name_keeps_the_old_one(chooser: OutlineChooser) -> None:
    before = chooser.lines.names[0]
    assert not chooser.lines.setData(chooser.lines.index(0, 0), "   ")
    assert chooser.lines.names[0] == before


def test_lines_of_a_layer_that_is_unticked_are_neither_shown_nor_brought_in(
    chooser: OutlineChooser, qtbot: QtBot
) -> None:
    take_unit(chooser, "mm")
    for place in (0, 2):
        click(qtbot, chooser, place)
        put(qtbot, chooser, "hatch")
    assert chooser._told.text().startswith("2 lines")
    tick(qtbot, chooser, "walls")
    assert chooser.filter.rowCount() == 2
    assert chooser.preview.line_at(*chooser.preview.pixels_of(2)[0]) is None
    assert len(chooser.chosen) == 1
    assert chooser._told.text().startswith("1 line ")
    tick(qtbot, chooser, "walls")
    assert len(chooser.chosen) == 2


def test_a_line_is_left_out_again(chooser: OutlineChooser, qtbot: QtBot) -> None:
    take_unit(chooser, "mm")
    click(qtbot, chooser, 0)
    put(qtbot, chooser, "hatch")
    qtbot.mouseClick(chooser.leave, LEFT)
    assert chooser.chosen == []
    assert not chooser.ok.isEnabled()


def test_a_click_beside_all_lines_picks_nothing(chooser: OutlineChooser, qtbot: QtBot) -> None:
    click(qtbot, chooser, 0)
    between = QPointF(*((chooser.preview.pixels_of(0)[0] + chooser.preview.pixels_of(1)[0]) / 2)).toPoint()
    qtbot.mouseClick(chooser.preview, LEFT, pos=between + QPoint(40, 0))
    assert chooser.picked() == [0]


def test_points_know_their_unit_and_have_no_layers(qtbot: QtBot) -> None:
    chooser = shown(qtbot, OutlineChooser(demo(), from_text("0;0\n100;0\n100;50", "mm"), light()))
    assert chooser.layer_list.isHidden()
    assert chooser.unit.value == "mm"
    qtbot.keyClick(chooser.table, Qt.Key.Key_A, CTRL)
    put(qtbot, chooser, "bulkhead")
    assert chooser.ok.isEnabled()
    assert len(chooser.chosen) == 1


def test_a_lone_line_is_on_the_link_that_comes_next_and_follows_the_choice(qtbot: QtBot) -> None:
    """One measured line: nothing to pick, and its name is the file's."""
    fresh = blank_project("mm")
    first = shown(qtbot, OutlineChooser(fresh, from_text("0;0\n100;0\n100;50", "mm"), light()))
    assert [(name, on) for _, name, on in first.chosen] == [("pasted points", "panel")]
    assert first.ok.isEnabled()
    second = shown(qtbot, OutlineChooser(with_outlines(fresh, first.chosen), from_text("0;0\n0;50", "mm"), light()))
    assert second.chosen[0][2] == "body"
    second.link.choose("panel")
    second.link.activated.emit(second.link.currentIndex())
    assert second.chosen[0][2] == "panel"
    qtbot.mouseClick(second.leave, Qt.MouseButton.LeftButton)
    assert not second.ok.isEnabled()


def test_lengths_are_told_as_preferences_have_it(qtbot: QtBot) -> None:
    style = LengthStyle("mm", decimals=2, comma=True)
    incoming = from_text("0;0\n100.25;0", "mm")
    chooser = shown(qtbot, OutlineChooser(demo(), incoming, light(), units=style))
    told = [chooser.lines.index(0, column).data() for column in range(chooser.lines.columnCount())]
    assert "100,25 mm" in told
