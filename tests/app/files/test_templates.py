"""Templates for the drill: what is on them, what is missing, and what makes no sense, in sentences."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest

from app.files.errors import FileError
from app.files.print_check import PrintCheck
from app.files.template_parts import round_within
from app.files.templates import (
    TemplateOptions,
    _in_pages,
    save_templates,
    template_bytes,
    template_sheets,
    usual_templates,
)
from app.template_words import tap_words
from kinematics import edits
from kinematics.errors import HingewrightError
from kinematics.loads import Loads
from kinematics.mount_parts import Base, Bracket, Mount
from kinematics.threads import Thread
from kinematics.wall_parts import HandWall, Wall
from tests import specimens
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from pathlib import Path

    from app.files.templates import FaceTemplate
    from kinematics.project import Project

pytestmark = pytest.mark.usefixtures("qapp")


def mounted(base: Base | None = Base(), bracket: Bracket | None = Bracket(), **wall: object) -> Project:  # noqa: B008
    told = Wall(**{"left": HandWall(9.5, None, 575.0), **wall})  # type: ignore[arg-type]
    return replace(demo_six_bar, mount=Mount(bracket, base), wall=told)


def faces(project: Project, units: str = "mm", web_off: float | None = 12.0) -> list[FaceTemplate]:
    found = [each.face for each in template_sheets(project, TemplateOptions("A3"), units, web_off)]
    return [each for each in found if each is not None]


def words(face: FaceTemplate) -> str:
    return "\n".join([*(word.text for word in face.words), *(note for drill in face.drills for note in drill.notes)])


def test_both_hands_of_both_faces_say_what_they_are() -> None:
    found = faces(mounted())
    assert [each.title for each in found] == [
        "LEFT: base on bulkhead", "RIGHT: base on bulkhead", "LEFT: bracket on hatch", "RIGHT: bracket on hatch",
    ]  # fmt: skip
    for face in found:
        assert face.hand.upper() in words(face)
        assert "this face to you" in words(face)
        assert all(face.box.holds(point, -1e-6) for line in face.lines for point in line.points)
        assert all(face.box.holds(word.at) for word in face.words)
    wall, skin = words(found[0]), words(found[2])
    for said in ("↑ UP", "clear 9 mm (M8)", "tap behind 6.8 mm", "plane of the links", "below the wall's upper edge"):
        assert said in wall
    for said in ("↑ AHEAD", "ahead of the panel's rear edge", "from the panel's centreline", "Flange bent inboard"):
        assert said in skin
    # 9.5° off square: a line 510 mm along the wall is 510·cos 9.5° = 503.01 from the centreline
    assert "510 mm along the wall from the centreline (503.01 mm square to it)" in wall


@pytest.mark.parametrize(
    ("project", "said"),
    [
        (mounted(trued="shim"), "Drill along the links, 9.5° off square to the wall, the drill's back end inboard."),
        (mounted(trued="shim", left=HandWall(-9.5)), "the drill's back end outboard."),
        (mounted(Base(up_down_at=2.0)), "Bolts in the middle of their slots, though the base is drawn off it."),
        (mounted(edge=200.0, level=20.0), "✗ The base plate reaches 61.0 mm over the wall's upper edge."),
        (mounted(Base(edge=4.0)), "✗ The base has faults, told in the drawer Build: mend them before you drill."),
        (mounted(Base(bolt="W 1/2")), "No table has the thread “W 1/2”: figures of M8 stand in."),
        (mounted(Base(pitch=12.0)), "Every hole: clear 9 mm (M8), tap behind 6.8 mm. Distances: see the list."),
        (replace(mounted(left=HandWall(3.0)), loads=Loads()), "along and square count from the base's middle."),
    ],
)
def test_what_must_be_seen_on_the_wall_stands_there(project: Project, said: str) -> None:
    assert said in words(faces(project)[0])


def test_holes_words_dont_run_into_each_other() -> None:
    """Rows with room have all words; of a row without, the inner holes have their number alone."""
    for base, silent in ((Base(width=250.0, pitch=80.0), 0), (Base(width=250.0, pitch=45.0), 8)):
        wall = faces(mounted(base))[0]
        assert sum(not drill.notes for drill in wall.drills) == silent
        assert ("Every hole: " in words(wall)) == (silent > 0)
        assert all(drill.notes[0].startswith(f"{drill.name}: ") for drill in wall.drills if drill.notes)


def test_bolts_in_two_rows_have_their_words_to_either_side() -> None:
    """The skin's outboard row is told outboard, the inner one inboard; of three rows none has words."""
    for hand, face in enumerate(faces(mounted(bracket=Bracket(rows=2)))[2:]):
        outboard = 1 if hand == 0 else -1  # the left hinge is on one's right
        assert {drill.side for drill in face.drills} == {1, -1}
        for drill in face.drills:
            assert drill.beside is not None
            assert drill.side * (drill.beside - drill.at[0]) > 0.0
        outermost = max(face.drills, key=lambda drill: outboard * drill.at[0])
        assert outermost.side == outboard
        lines = [line for line in face.lines if line.kind == "datum" and line.points[0][0] == line.points[1][0]]
        reach = min(outboard * drill.beside for drill in face.drills if drill.beside is not None)
        assert outboard * lines[0].points[0][0] < reach - 30.0  # the centreline's line keeps off the words
    assert all(not drill.notes for drill in faces(mounted(bracket=Bracket(rows=3)))[2].drills)


def test_a_list_goes_whole_on_a_sheet_that_holds_it() -> None:
    rows = [(str(number),) for number in range(40)]
    laid = _in_pages([("one", ("n",), rows[:10]), ("two", ("n",), rows[:8]), ("three", ("n",), rows)], 22)
    assert [[(heading, len(part)) for heading, _, part in page] for page in laid] == [
        [("one", 10)], [("two", 8), ("three", 8)], [("three", 19)], [("three", 13)],
    ]  # fmt: skip
    assert [row for page in laid for heading, _, part in page for row in part if heading == "three"] == rows


def test_off_the_centreline_isnt_known_without_the_stack() -> None:
    skin = words(faces(mounted(), web_off=None)[2])
    assert "How far off the centreline isn't known: measure it at the hinge." in skin
    assert "centreline, square" not in skin


def test_lines_are_so_far_below_the_edge() -> None:
    wall = faces(mounted(edge=300.0, lines=25.0))[0]
    ups = sorted({line.points[0][1] for line in wall.lines if line.kind == "offset"})
    assert all(math.isclose((300.0 - up) % 25.0, 0.0, abs_tol=1e-9) for up in ups)
    assert all(b - a == pytest.approx(25.0) for a, b in pairwise(ups))
    finest = faces(mounted(edge=300.0, lines=0.01))[0]
    assert 20 < sum(line.kind == "offset" for line in finest.lines) < 200


def test_without_base_or_bracket_the_rest_is_printed_and_it_is_told() -> None:
    for project, titles, told in (
        (mounted(base=None), 2, "No base at the wall is laid out"),
        (mounted(bracket=None), 2, "No bracket at the panel is laid out"),
        (demo_six_bar, 0, "No base at the wall is laid out"),
        (mounted(Base(at=(80.0, 0.0), wall_deg=0.0), None), 0, "The wall lies rather than stands"),
    ):
        sheets = template_sheets(project, TemplateOptions())
        assert len([each for each in sheets if each.face is not None]) == titles
        first = sheets[0].draw.args[0]  # type: ignore[attr-defined]  # a partial's
        assert any(each.startswith(told) for each in first.missing)


def test_inches_have_their_paper_lines_and_drills() -> None:
    assert usual_templates("in") == TemplateOptions("Letter", 12.7)
    wall = words(faces(mounted(Base(bolt="5/16-18")), "in")[0])
    assert 'tap behind F, 0.257"' in wall
    assert '20" along the wall from the centreline (19.726" square to it)' in wall
    assert tap_words(Thread("M8", 8.0, 9.0, 6.8, "6.8", True), "mm") == "tap drill 6.8 mm"
    assert round_within(101.0, 109.0, "mm") == 105.0
    assert round_within(95.0, 109.0, "mm") == 100.0


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (TemplateOptions("B4"), "“B4” is no paper known here. Take one of A4, A3, Letter, Tabloid."),
        (TemplateOptions(overlap=2.0), "2.0 mm is too small for an overlap."),
        (TemplateOptions(check=PrintCheck(long=math.nan)), "— is too large for a 100 mm bar."),
    ],
)
def test_what_makes_no_sense_is_told_in_a_sentence(options: TemplateOptions, told: str) -> None:
    with pytest.raises(HingewrightError) as fault:
        template_sheets(mounted(), options)
    assert str(fault.value).startswith(told)


def test_too_much_paper_too_far_and_no_pins_are_told_and_nothing_is_written(tmp_path: Path) -> None:
    for project, told in (
        (replace(mounted(), pivots=()), "there are no pins yet"),
        (edits.move_pivot(mounted(Base(width=1500.0)), "O1", (5000.0, 5000.0)), "sheets of A4, more than 200"),
        (edits.move_pivot(mounted(), "O1", (90_000.0, 90_000.0)), "it is longer than 20000.0 mm"),
    ):
        with pytest.raises(HingewrightError, match=told):
            save_templates(project, tmp_path / "a.pdf", TemplateOptions())
        assert not list(tmp_path.iterdir())


def test_what_cannot_be_written_is_told(read_only: Path) -> None:
    with pytest.raises(FileError, match=r"^a\.pdf: the templates can't be written: "):
        save_templates(demo_six_bar, read_only / "a.pdf", TemplateOptions())


@pytest.mark.parametrize("name", ['Ω ‘λ’ "q" <b>&amp;', "شريط لاصق", "蓋 😀👨‍👩‍👧", "%s {0} \\N", "x" * 2000])
def test_names_with_every_letter_are_printed(name: str, tmp_path: Path) -> None:
    pypdf = pytest.importorskip("pypdf")
    project = edits.rename_link(edits.rename_link(mounted(), "bulkhead", name[:80]), "hatch", f"{name[:70]} 2")
    save_templates(replace(project, title=name), tmp_path / "a.pdf", TemplateOptions(), web_off=3.0)
    reader = pypdf.PdfReader(tmp_path / "a.pdf", strict=True)
    assert len(reader.pages) == 7
    assert reader.metadata.title == f"{name}: templates"


@pytest.mark.parametrize("name", sorted(specimens.ALL))
def test_every_specimen_is_printed_or_has_no_pins(name: str) -> None:
    project = replace(specimens.ALL[name], mount=Mount(Bracket(), Base()), wall=Wall(left=HandWall(4.0, 3.0)))
    if not project.pivots:
        with pytest.raises(HingewrightError, match="no pins yet"):
            template_bytes(project, TemplateOptions())
        return
    assert template_bytes(project, TemplateOptions("Tabloid"), web_off=5.0).startswith(b"%PDF")
