"""Which steps there are, in which order; numbers by tables and trigonometry typed here; cautions where they belong."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

import pytest

from app.build_sheet.step import PRACTICE, Step, Table
from app.build_sheet.steps import steps_of
from app.hardware import hardware
from app.template_words import steps as template_steps
from kinematics.build_parts import EyeSize, Plate, Plates, Stack
from kinematics.marking_out import wall_marks
from kinematics.mount_parts import Base, Mount
from kinematics.project import GapWant, Outline
from kinematics.wall_parts import HandWall, Wall
from tests.app.build_sheet.specimen import built, facts_of
from tests.specimens import ALL, demo_six_bar

if TYPE_CHECKING:
    from kinematics.project import Project

ORDER = [
    "cut", "deburr", "bend", "mock up", "bevel", "weld", "straighten", "edges", "ream", "bushings", "stack", "set out",
    "drill", "hang", "tack", "cycle", "adjust", "struts", "stop", "prop", "latch", "last",
]  # fmt: skip
shimmed = replace(
    built, plates=Plates(thickness=5.0, radius=14.0), wall=Wall(left=HandWall(-2.0), trued="shim", shim_least=3.0)
)


@lru_cache(maxsize=16)
def steps(project: Project) -> dict[str, Step]:
    return {step.key: step for step in steps_of(facts_of(project))}


def rows(step: Step, first: str) -> list[tuple[str, ...]]:
    """The rows of the table whose first head is this."""
    return next(list(each.rows) for each in step.does if isinstance(each, Table) and each.head[0] == first)


def said(step: Step) -> str:
    """All that a step says but its tables."""
    return " ".join((*(each for each in step.does if isinstance(each, str)), *step.checks))


def test_all_steps_stand_in_the_order_of_the_work() -> None:
    assert list(steps(built)) == ORDER
    assert all(step.checks and (step.cautions or key == "last") for key, step in steps(built).items())


@pytest.mark.parametrize(
    ("project", "gone", "more"),
    [
        (shimmed, {"bevel"}, {"shim"}),
        (replace(built, wall=None), {"bevel"}, set()),
        (replace(built, mount=None), {"bend", "bevel", "weld", "straighten", "drill", "adjust"}, set()),
        (replace(built, stack=Stack(bushing="none")), {"bushings"}, set()),
        (replace(built, stack=Stack(bushing="none", holes="to size")), {"ream", "bushings"}, set()),
        (replace(built, loads=None), {"struts", "stop", "prop", "latch"}, set()),
    ],
)
def test_what_does_not_apply_is_left_out(project: Project, gone: set[str], more: set[str]) -> None:
    assert set(steps(project)) == set(ORDER) - gone | more


def test_the_wedge_is_that_of_the_wall_and_the_grinders_table_its_complement() -> None:
    """A web of 6 mm on a wall 9.5° off falls by 6·tan 9.5°, and stands at 90 − 9.5 to the belt. Half a millimetre is
    left to be ground where least is.
    """
    step = steps(built)["bevel"]
    rise = 6.0 * math.tan(math.radians(9.5))
    assert rows(step, "hand") == [
        (hand, "9.5°", "6.0 mm", f"{rise:.3f} mm", "80.5° to the belt", f"outboard, its {hand} edge")
        for hand in ("left", "right")
    ]
    lines = [each for each in step.does if isinstance(each, Table)][1].rows
    most = f"{0.5 + rise:.2f}".rstrip("0") + " mm"
    assert lines[:2] == (("left", "outboard side", "0.5 mm", "0.5 mm"), ("left", "inboard side", most, most))
    assert "80.5° on its inboard side" in said(steps(built)["weld"])
    assert "between the lines" in said(steps(built)["weld"])


def test_a_shim_has_the_plates_width_and_its_webs_stand_square() -> None:
    """The plate is 110 mm wide: 3 mm at the thin end, 3 + 110·tan 2° at the other."""
    found = steps(shimmed)
    thick = f"{3.0 + 110.0 * math.tan(math.radians(2.0)):.3f} mm"
    assert rows(found["shim"], "hand")[0] == ("left", "2°", "110.0 mm", "3 mm", thick, "inboard, its right edge")
    assert "stand square on their plates" in said(found["weld"])
    assert "Push the tabs through" in said(found["weld"])


def test_holes_have_the_limits_of_their_zones() -> None:
    """ISO 286-2: 11 H7 is +18/0 µm; 8 H8 +22/0 (from memory); cut 0.3 mm under."""
    for link, _, cut, limits, zone, what in rows(steps(built)["ream"], "link"):
        bushed = what == "bushing"
        assert (cut, limits, zone) == (
            ("10.7 mm", "11 to 11.018 mm", "H7") if bushed else ("7.7 mm", "8 to 8.022 mm", "H8")
        ), link
    assert any("8 mm H8, 11 mm H7" in each for each in steps(built)["ream"].needs)


def test_bonding_says_cure_and_pressing_doesnt() -> None:
    pressed, bonded = (steps(replace(built, stack=Stack(fixing=how)))["bushings"] for how in ("press", "bond"))
    assert "fitting pin" in said(pressed)
    assert "cure" not in said(pressed)
    assert bonded.title == "Bond the bushings in and let cure"
    assert "about a day at 20 °C" in said(bonded)
    assert "solvent" in " ".join(bonded.cautions)


def test_each_eye_is_held_against_its_own_hole() -> None:
    """A small hole's narrow eye says nothing of a large hole's wide one: the pin that stands worst is told."""
    plates = replace(built.plating, each=(Plate("arm", eyes=(EyeSize("X", 12.0),)),))
    arm = rows(steps(replace(built, plates=plates))["edges"], "link")[0]
    holes = {pivot: hole.diameter for pivot, hole in facts_of(built).holes if hole.link == "arm"}
    shares = {pivot: ((12.0 if pivot == "X" else 16.0) - 0.31) / hole for pivot, hole in holes.items()}
    assert arm[-1] == f"{min(shares.values()):.2f} ×"


def test_stock_that_is_lost_takes_its_share_of_the_eye() -> None:
    """16 mm less 0.20 + 0.05 + 0.03 + 0.02 + 0.01; over a hole of 11 mm 1.43 times, and it was below 1.5 before."""
    step = steps(built)["edges"]
    assert rows(step, "step")[-1] == ("in all", "0.31 mm")
    assert rows(step, "link")[0] == ("arm", "⌀11 mm", "16.0 mm", "15.69 mm", "1.43 ×")
    assert "Draw these eyes larger" not in said(step)
    plates = built.plates
    assert plates is not None
    narrow = steps(replace(built, plates=replace(plates, radius=16.6)))["edges"]
    assert "less than 1.50 × of the hole is left" in said(narrow)
    assert PRACTICE in said(step)


def test_stack_goes_from_the_head_on_and_fills_the_standard_length() -> None:
    facts = facts_of(built)
    pins = {row[0]: row[1:] for row in rows(steps(built)["stack"], "pin")}
    for pin in facts.stack.pins:
        order, designation = pins[pin.pivot]
        assert re.fullmatch(rf"ISO 2341 - B - 8 x {pin.length.length:g} x [\d.]+ - St", designation)
        links = [word for word in order.split(", ") if word in {link.id for link in built.links}]
        heights = [next(each.low for each in pin.pieces if each.link == link) for link in links]
        assert heights == sorted(heights, reverse=pin.turned)
        assert order.count("washer") >= 2


def test_packers_are_the_shut_gap_and_the_bar_reaches_both_hinges() -> None:
    """The rear corner stands 12 mm before the sill: −28 against −40."""
    step = steps(built)["hang"]
    assert rows(step, "packers between") == [("screen and sill – hatch skin", "12 mm")]
    assert "straight bar of 8 mm, 1250.0 mm long through O1" in said(step)
    assert "18 kg" in said(step)


def test_what_stands_far_off_is_no_gap_to_pack() -> None:
    shelf = Outline("shelf", "bulkhead", ((0.0, 900.0), (400.0, 900.0)))
    gaps = (*built.gaps, GapWant(("shelf", "hatch skin"), 5.0))
    found = steps(replace(built, outlines=(*built.outlines, shelf), gaps=gaps))
    assert rows(found["hang"], "packers between") == [("screen and sill – hatch skin", "12 mm")]
    assert ("shelf – hatch skin") in [row[0] for row in rows(found["cycle"], "between")]


def test_drills_are_those_of_the_thread() -> None:
    """M8: 9 mm clear (ISO 273, medium), 6.8 to tap (diameter less pitch)."""
    found = rows(steps(built)["drill"], "where")
    assert [row[2] for row in found] == ["9 mm clear", "6.8 mm (cut to it)", "9 mm clear"]
    assert found[1][3] == "M8"


def test_templates_and_build_sheet_have_the_backing_plate_made_the_same_way() -> None:
    """Its holes are cut at the tap drill's size, so it is tapped on the bench and not drilled through the wall."""
    facts = facts_of(built)
    assert facts.base is not None
    plate = next(cut.part for cut in facts.cuts if cut.part.mark == "backing plate")
    drill = facts.base.thread.drill
    assert [hole.area for hole in plate.cutouts] == pytest.approx([0.25 * math.pi * drill**2] * len(plate.cutouts))
    assert len(plate.cutouts) == len(facts.base.bolts)
    said = next(each for each in steps(built)["drill"].does if isinstance(each, str) and "tap it on the bench" in each)
    wall = wall_marks(built, hardware(), "left")
    assert said in " ".join(template_steps(wall, None, 15.0, "mm"))


def test_how_parallel_the_hinges_must_be_bounds_bevel_and_bar() -> None:
    """Over a foot of 6 mm and a square of 100 mm, each times the tangent, on the careful side."""
    most = facts_of(built).most_toe_deg
    assert most is not None
    assert 0.1 < most < 0.9  # else the usual bounds stand
    foot = math.floor(600.0 * math.tan(math.radians(most))) / 100.0
    bar = math.floor(1000.0 * math.tan(math.radians(most))) / 10.0
    assert any(f"differ as listed, within {foot:g} mm." in check for check in steps(built)["bevel"].checks)
    assert any(f"within {bar:g} mm over 100.0 mm" in check for check in steps(built)["hang"].checks)
    inches = steps(replace(built, display_units="in"))["bevel"].checks[0]
    told = re.search(r"within (0\.\d+)\"\.", inches)
    assert told is not None
    assert 25.4 * float(told[1]) <= 6.0 * math.tan(math.radians(most))
    alone = replace(built, loads=replace(built.loads, hinges=1))  # type: ignore[arg-type, type-var]
    assert facts_of(alone).most_toe_deg is None
    assert any("within 0.1 mm (common practice" in check for check in steps(alone)["bevel"].checks)


def test_places_are_told_from_two_pins_as_a_tape_finds_them() -> None:
    at = {pin.id: pin.at for pin in built.pivots}
    row = rows(steps(built)["struts"], "what")[0]
    one, other = (math.dist(at[pin], (400.0, 150.0)) for pin in ("O1", "O2"))
    assert row[2] == f"bulkhead, {one:.1f} mm from O1 and {other:.1f} mm from O2"
    assert row[3].startswith("hatch, ")
    assert " from P1" in " ".join(map(str, steps(built)["latch"].does))
    said = str(steps(built)["prop"].does[0])
    assert said.count(" mm from ") == 4


def test_bushings_stand_to_their_plates_faces_as_they_are_long() -> None:
    """Half of what it is longer or shorter than its plate on either side."""
    thick = replace(built, plates=Plates(thickness=8.0, radius=16.0))
    told = [check for check in steps(thick)["bushings"].checks if check.startswith("A bushing")]
    for _, hole in facts_of(thick).holes:
        if hole.bushing is None:
            continue
        length, thickness = hole.bushing.length, hole.thickness
        off = length - thickness
        way = "below either face by" if off < 0.0 else "out of either face by"
        words = f"{way} {abs(off) / 2:g} mm" if off else "is flush with both faces"
        assert any(f"{length:g} mm long in a plate of {thickness:g} mm" in each and words in each for each in told)
    assert told


def test_distances_on_the_wall_are_told_both_ways() -> None:
    """Along the wall is square to the centreline over cos 9.5°."""
    found = rows(steps(built)["set out"], "left, mm")
    for _, along, square, height, up in found:
        assert float(square) / math.cos(math.radians(9.5)) == pytest.approx(float(along), abs=0.011)
        assert up == height
    assert any("diagonals within 0.5 mm; 1 to 2: " in check for check in steps(built)["set out"].checks)
    inches = steps(replace(built, display_units="in"))["set out"].checks
    assert any(re.search(r"; 1 to 2: \d+\.\d{3}, 3 to 4: ", check) for check in inches)  # no "1 to 2 4 21/32"


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("cut", "gloves"),
        ("deburr", "Eyes"),
        ("bevel", "Sparks are hot"),
        ("bevel", "No gloves"),
        ("weld", "poisonous fumes"),
        ("edges", "mask"),
        ("bushings", "Pressing"),
        ("stack", "shear"),
        ("drill", "Eyes"),
        ("hang", "overhead"),
        ("tack", "Nobody lies under"),
        ("cycle", "Pinch places"),
        ("struts", "under pressure"),
        ("prop", "drops the panel"),
        ("latch", "second catch"),
    ],
)
def test_cautions_stand_at_their_steps(key: str, words: str) -> None:
    assert words in " ".join(steps(built)[key].cautions)


def test_pinch_places_are_those_that_were_found() -> None:
    facts = facts_of(built)
    told = " ".join(steps(built)["cycle"].cautions)
    assert facts.pinches
    for pinch in facts.pinches[:6]:
        assert f"{pinch.between[0]} – {pinch.between[1]}" in told


def test_nothing_says_that_anything_is_safe() -> None:
    for step in steps(built).values():
        words = " ".join((said(step), *step.cautions, *step.needs, *(each.caption for each in step.drawings)))
        assert not re.search(r"\bsafe(ly)?\b", words, re.IGNORECASE)


@pytest.mark.parametrize("name", [name for name, project in ALL.items() if project.pivots])
def test_every_hinge_has_its_steps(name: str) -> None:
    found = steps(ALL[name])
    assert list(found)[-1] == "last"
    told = " ".join(str(step) for step in found.values())
    assert "nan" not in told.split()
    assert "None" not in told


def test_a_base_alone_counts_from_its_middle_where_nobody_said_how_far_apart() -> None:
    alone = steps(replace(demo_six_bar, mount=Mount(base=Base()), loads=None, wall=Wall(left=HandWall(9.5))))
    assert "Type how far the hinges are apart" in said(alone["set out"])
