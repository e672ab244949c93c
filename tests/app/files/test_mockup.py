"""Mock-up templates: which parts there are and what is on them; what can't be printed, in sentences."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import product
from typing import TYPE_CHECKING

import pytest

from app.files.errors import FileError
from app.files.mockup import mockup_sheets, save_mockup, usual_options
from app.files.mockup_options import BOLTS, MockupOptions
from app.files.mockup_parts import templates
from kinematics import edits
from kinematics.errors import HingewrightError
from tests import specimens

if TYPE_CHECKING:
    from pathlib import Path

    from kinematics.project import Project

SCALED = "A print that misses by more was scaled on its way: look for “fit to page”."

pytestmark = pytest.mark.usefixtures("qapp")


def test_every_link_with_pins_has_its_template_wall_first_panel_last() -> None:
    project = specimens.demo_six_bar
    found = templates(project, 6.4, "mm")
    assert [each.link for each in found] == ["bulkhead", "arm", "cross link", "short link", "lift link", "hatch"]
    assert found[0].title == "pins on bulkhead (fixed)"
    assert found[-1].title == "pins on hatch (the panel)"
    for template in found:
        pins = {pivot.id: pivot.at for pivot in project.pivots_on(template.link)}
        spots = {hole.name: hole.at for hole in template.holes}
        assert spots.keys() == pins.keys()
        for a, b in product(pins, repeat=2):
            assert math.dist(spots[a], spots[b]) == pytest.approx(math.dist(pins[a], pins[b]), abs=1e-9)
        assert all(template.box.holds(point) for line in template.lines for point in line.points)


def test_links_are_turned_upright_but_never_turned_over() -> None:
    """The area that three pins turn around keeps its sign."""
    project = specimens.demo_six_bar
    arm = templates(project, 6.4, "mm")[1]
    spots = {hole.name: complex(*hole.at) for hole in arm.holes}
    longest = max((b - a for a in spots.values() for b in spots.values()), key=abs)
    assert abs(longest.real) < 1e-9
    shut = {pivot.id: complex(*pivot.at) for pivot in project.pivots_on("arm")}

    def turn(z: dict[str, complex]) -> float:
        a, b, c = (z[name] for name in sorted(z))
        return ((b - a).conjugate() * (c - a)).imag

    assert turn(spots) == pytest.approx(turn(shut))


def test_body_templates_stay_level_with_outlines_near_the_pins_only() -> None:
    wall = templates(specimens.demo_six_bar, 6.4, "mm")[0]
    assert {hole.name: hole.at for hole in wall.holes} == {"O1": (141.0, 257.0), "O2": (32.0, 179.0)}
    assert [line.name for line in wall.lines if line.kind == "datum"] == ["level", "plumb"]
    assert any(line.name == "screen and sill" for line in wall.lines)
    assert max(y for line in wall.lines for _, y in line.points) <= 257.0 + 40.0 + 3.2 + 1e-6
    assert wall.holes[0].note == "141.00; 257.00"


def test_a_bare_line_is_drawn_wide_enough_to_hold_its_holes() -> None:
    project = edits.set_width(specimens.demo_six_bar, "short link", 0.0)
    short = templates(project, 8.4, "mm")[3]
    assert short.notes == ("drawn 20.4 mm wide, so that card is left around the holes",)
    xs = [x for line in short.lines if line.kind == "edge" for x, _ in line.points]
    assert max(xs) - min(xs) == pytest.approx(20.4, abs=0.05)


def test_what_is_usual_follows_the_units() -> None:
    assert usual_options("mm") == MockupOptions("A4", 15.0, BOLTS["M6"])
    assert usual_options("in").paper == "Letter"


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (MockupOptions("B4"), "“B4” is no paper known here. Take one of A4, A3, Letter, Tabloid."),
        (MockupOptions(overlap=2.0), "2.0 mm is too small for an overlap. It goes from 5.0 mm to 50.0 mm."),
        (MockupOptions(hole=90.0), "90.0 mm is too large for a hole. It goes from 2.0 mm to 40.0 mm."),
        (MockupOptions(hole=math.nan), "— is too large for a hole. It goes from 2.0 mm to 40.0 mm."),
        (
            MockupOptions(measured=94.0),
            f"94.0 mm is too small for a 100 mm bar. It goes from 95.0 mm to 105.0 mm. {SCALED}",
        ),
    ],
)
def test_what_makes_no_sense_is_told_in_a_sentence(options: MockupOptions, told: str) -> None:
    with pytest.raises(HingewrightError) as fault:
        mockup_sheets(specimens.demo_six_bar, options)
    assert str(fault.value) == told


def far(project: Project, by: float) -> Project:
    return edits.move_pivot(project, "O1", (by, by))


def test_nothing_too_much_or_too_far_to_print_is_told(tmp_path: Path) -> None:
    demo = specimens.demo_six_bar
    for project, told in (
        (replace(demo, pivots=()), "there are no pins yet"),
        (far(demo, 9000.0), "sheets of A4, more than 200"),
        (far(demo, 90_000.0), "bulkhead: it is longer than 20000.0 mm"),
    ):
        with pytest.raises(HingewrightError, match=told):
            save_mockup(project, tmp_path / "a.pdf", MockupOptions())
        assert not list(tmp_path.iterdir())


def test_what_cannot_be_written_is_told(read_only: Path) -> None:
    with pytest.raises(FileError, match=r"^a\.pdf: the templates can't be written: "):
        save_mockup(specimens.demo_six_bar, read_only / "a.pdf", MockupOptions())


@pytest.mark.parametrize("name", sorted(specimens.ALL))
def test_every_specimen_is_printed_or_has_no_pins(tmp_path: Path, name: str) -> None:
    project = specimens.ALL[name]
    if not project.pivots:
        with pytest.raises(HingewrightError, match="no pins yet"):
            save_mockup(project, tmp_path / "a.pdf", MockupOptions())
        return
    assert save_mockup(project, tmp_path / "a.pdf", MockupOptions("A3")) > 1
    assert (tmp_path / "a.pdf").read_bytes().startswith(b"%PDF")
