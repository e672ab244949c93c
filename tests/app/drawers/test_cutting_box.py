"""Cut files in the window: what is shown, prices as steps, the files made, stopped, refused."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog

from app.drawers import cutting_box
from app.drawers.cutting_box import CuttingBox
from app.exports import show_cutting
from app.help.where import page_for
from app.making.job import MakeJob
from kinematics.build_parts import Prices

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.fields import Field
    from app.window import Window
    from kinematics.project import Project


@pytest.fixture
def box(window: Window) -> CuttingBox:
    window.area.open_drawer("Build")
    return window.build.box(CuttingBox)


def typed(qtbot: QtBot, field: Field[float], text: str) -> None:
    field.line.selectAll()
    qtbot.keyClicks(field.line, text)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)


def test_every_plate_is_shown_and_what_all_come_to(box: CuttingBox, window: Window) -> None:
    project = window.document.project
    parts = [link.id for link in project.links if link.kind == "link"]
    parts += ["bracket left", "bracket right", "doubler", "base web", "base plate", "backing plate", "gusset"]
    assert [line.split(",")[0] for line in box.sheet.lines] == parts
    assert all(" × 8.0 mm" in line for line in box.sheet.lines[:4])
    assert box.sheet.grab().toImage().width() > 100
    assert box.totals.text().replace("\u200b", "").startswith(f"{2 * len(parts)} parts of {len(parts)} kinds: ")
    assert CuttingBox.gist(window.document.analysis, window.document) == "4 plates, mounts"
    window.set_units("in")
    assert "lb" in box.totals.text()
    assert all(line.endswith('"') for line in box.sheet.lines)


def test_the_menu_leads_to_it(window: Window) -> None:
    show_cutting(window)
    assert window.area.open_name == "Build"
    box = window.build.box(CuttingBox)
    assert box.isVisible()
    QApplication.processEvents()
    assert not box.sheet.visibleRegion().isEmpty()
    assert page_for(box.make, "Build", "") == "build#files-for-the-cutter"


def test_prices_are_steps_told_by_kg_or_lb(box: CuttingBox, window: Window, qtbot: QtBot) -> None:
    document = window.document
    typed(qtbot, box.prices["per_kg"], "4,5")
    assert document.project.plating.prices == Prices(per_kg=4.5)
    assert "By your prices" in box.estimate.text()
    window.set_units("in")
    assert box.prices["per_kg"].line.text() == "2.04116567"
    label = box._label_of(box.prices["per_kg"])
    assert label is not None
    assert label.text() == "Sheet, a lb"
    typed(qtbot, box.prices["per_pierce"], "-1")
    assert box.prices["per_pierce"].message
    document.undo()
    document.undo()
    assert document.project.plating.prices is None


def test_faults_are_told_and_no_format_is_answered(box: CuttingBox, window: Window, qtbot: QtBot) -> None:
    project = window.document.project
    narrow = replace(project, plates=replace(project.plating, radius=4.0))
    window.document.apply("Narrow", narrow)
    assert "Give the plate more edge distance there" in box.faults.text().replace("\u200b", "")
    assert box.make.isEnabled()
    for tick in box.formats.values():
        qtbot.mouseClick(tick, Qt.MouseButton.LeftButton, pos=tick.rect().center() * 0.2)
    assert not box.make.isEnabled()
    assert "no kind of cut file" in box.faults.text().replace("\u200b", "")


class Done(MakeJob):
    """A job that is at its end when it has begun."""

    sentence = ""
    stops = False

    def make(self, project: Project, to: Path, options: object) -> None:
        del project, options
        Done.to = to  # type: ignore[attr-defined]
        Done.old_news = not self.parent().said.isHidden()  # type: ignore[attr-defined]
        self.progressed.emit(50)
        if self.stops:
            self.is_stopped = True
        self.ended.emit(self.sentence)


@pytest.mark.parametrize(
    ("sentence", "stops", "told"),
    [
        ("", False, " files are written, in "),
        ("build: nothing is written: the disk is full.", False, "the disk is full"),
        ("", True, "Stopped; nothing was written."),
    ],
)
def test_how_it_ended_is_told(
    box: CuttingBox,
    qtbot: QtBot,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    sentence: str,
    stops: bool,
    told: str,
) -> None:
    said: list[str] = []
    box.document.told.connect(said.append)
    box.document.noticed.connect(said.append)
    (tmp_path / "other.txt").write_text("mine")
    monkeypatch.setattr(cutting_box, "MakeJob", Done)
    box._say("What came of it the last time.")
    monkeypatch.setattr(Done, "sentence", sentence)
    monkeypatch.setattr(Done, "stops", stops)
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", staticmethod(lambda *_: str(tmp_path)))
    qtbot.mouseClick(box.make, Qt.MouseButton.LeftButton)
    assert told in box.said.text().replace("\u200b", "")
    assert told in said[-1]
    assert not Done.old_news  # type: ignore[attr-defined]
    assert Done.to.parent == tmp_path  # type: ignore[attr-defined]
    assert Done.to.name.endswith(" build")  # type: ignore[attr-defined]
    assert not box.bar.isVisible()
    assert box.make.isEnabled()


def test_left_without_a_folder_nothing_happens(box: CuttingBox, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", staticmethod(lambda *_: ""))
    qtbot.mouseClick(box.make, Qt.MouseButton.LeftButton)
    assert box.job is None
    assert not box.said.text()
