"""Facts and cautions beneath the checks: heights, tight shut gaps, pinch places; none of them a check."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from app.document import Document
from app.facts import MEANWHILE, Facts
from app.room_words import fact_sentences
from kinematics import analyse, edits, wanting
from kinematics.project import FrontEdge, Room, ShutWant
from tests.specimens import demo_six_bar, single_pivot

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window import Window


def facts(project: object, units: str = "mm") -> list[str]:
    return fact_sentences(analyse(project), units)  # type: ignore[arg-type]


def test_the_front_edge_is_told_as_soon_as_there_is_a_floor() -> None:
    floored = wanting.set_floor(single_pivot, -700.0)
    assert facts(floored) == [
        "The front edge stands 1093.9 mm over the floor, open 80°.",
        "The highest place is 1093.9 mm over the floor: lid at 80°.",
    ]
    assert '43 1/16"' in facts(floored, "in")[0]
    marked = replace(floored, room=Room(-700.0, None, FrontEdge("front edge", 5000.0)))
    assert facts(marked)[0].startswith("front edge stands")
    assert facts(wanting.set_roof(single_pivot, 900.0)) == []  # a check says how near the roof it comes
    assert facts(single_pivot) == []


@pytest.mark.parametrize(("apart", "told"), [(2.4, 1), (3.0, 0), (0.0, 0)])
def test_a_shut_gap_below_3_mm_is_told(apart: float, told: int) -> None:
    """Common practice, no source: rubber strips and paint need more; touching is a check's affair."""
    wall = replace(single_pivot.outlines[0], points=((-30.0 - apart, -100.0), (-30.0 - apart, 100.0)))
    near = replace(single_pivot, outlines=(wall, *single_pivot.outlines[1:]))
    wanted = wanting.set_shut_gap(near, ("wall", "lid skin"), ShutWant(at_least=1.0))
    assert len(facts(wanted)) == told
    assert facts(near) == []
    if told:
        (sentence,) = facts(wanted)
        assert sentence.startswith("wall – lid skin are 2.4 mm apart while shut: below 3.0 mm there is hardly room")


def test_the_box_shows_what_there_is_and_nothing_else(qtbot: QtBot) -> None:
    document = Document(demo_six_bar)
    box = Facts(document)
    qtbot.addWidget(box)
    assert box.told.isHidden()
    assert box.caution.text().startswith("⚠ Here a finger fits")
    assert box.count.text() == "⚠ 4 pinch places"
    document.apply("Set the floor", wanting.set_floor(document.project, -640.0))
    assert box.told.text().startswith("• The front edge stands")
    document.apply("Hold the panel", replace(document.project, pivots=()))
    assert (box.caution.isHidden(), box.count.isHidden()) == (True, True)


def test_during_a_drag_the_caution_waits(qtbot: QtBot) -> None:
    document = Document(demo_six_bar)
    box = Facts(document)
    qtbot.addWidget(box)
    x, y = document.project.pivot("Q").at
    document.begin("Move pivot Q")
    document.preview(edits.move_pivot(document.project, "Q", (x + 2.0, y)))
    with qtbot.waitSignal(document.followed):
        document.flush()
    assert box.caution.text() == MEANWHILE
    document.commit()
    assert "Here a finger fits" in box.caution.text()


def test_the_window_marks_them_and_remembers_that_they_are_not_wanted(window: Window) -> None:
    assert not window.checks.facts.caution.isHidden()
    assert all(check.ok for check in window.document.analysis.checks)  # they fail no check
    assert window.board.scene.has("pinches")
    window.menus.pinches.trigger()
    assert not window.board.scene.has("pinches")
    assert not window.settings.pinches()
    window.menus.pinches.trigger()
    assert window.board.scene.has("pinches")
    assert window.settings.pinches()


def test_the_narrowest_section_is_named_before_the_others() -> None:
    skin = single_pivot.outline("lid skin")
    sections = [
        replace(skin, id=f"skin, {name}", station=name, points=tuple((x + off, y) for x, y in skin.points))
        for name, off in (("centreline", 0.0), ("corner", -4.0), ("hinge", -1.0))
    ]
    walls = [single_pivot.outline("wall")]
    project = replace(single_pivot, outlines=(*walls, *sections), gaps=())
    (told,) = fact_sentences(analyse(project), "mm")
    assert told.startswith("Of the sections, corner is the narrowest: ")
    assert told.index("hinge") < told.index("centreline")
    assert fact_sentences(analyse(replace(project, outlines=(*walls, sections[0]))), "mm") == []
