"""What is planned: files, counts, hands, faults as sentences, names; nothing where there is nothing."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from app.files.cut_parts import mark_of
from app.making import plan
from app.making.plan import cuts_of, plan_of
from app.making.planned import MakeOptions
from app.making.rows import parts_csv
from kinematics.build_parts import Plate, Plates, Prices, Side
from kinematics.contours import circle
from kinematics.cutting import Part
from kinematics.edits import rename_link
from kinematics.errors import HingewrightError
from kinematics.loads import Loads
from kinematics.mount_parts import Base, Mount
from kinematics.wall_parts import HandWall, Wall
from tests import specimens
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from kinematics.project import Project

LINKS = [link.id for link in demo_six_bar.links if link.kind == "link"]


def plain(project: Project, *formats: str) -> plan.Plan:
    return plan_of(project, MakeOptions(formats or ("dxf",)))


def test_a_file_for_each_plate_then_templates_and_the_list() -> None:
    made = plain(demo_six_bar, "dxf", "svg")
    assert [each.path for each in made.files] == [
        *[f"plates/{link}.{form}" for link in LINKS for form in ("dxf", "svg")],
        "templates.pdf",
        "mock-up.pdf",
        "build sheet.pdf",
        "index.pdf",
        "parts.csv",
    ]
    assert [each.kind for each in made.files] == [
        *["plate", "drawing"] * len(LINKS),
        "templates",
        "mock-up",
        "build sheet",
        "index page",
        "parts",
    ]
    assert made.faults == ()


def test_counts_are_of_all_hinges() -> None:
    pair = replace(demo_six_bar, plates=Plates(each=(Plate(LINKS[0], count=2),)), loads=None)
    assert [cut.count for cut in plain(pair).cuts] == [4] + [2] * (len(LINKS) - 1)
    assert [cut.count for cut in plain(replace(pair, loads=Loads(hinges=3))).cuts] == [6] + [3] * (len(LINKS) - 1)


def test_what_has_a_hand_is_made_for_both(monkeypatch: pytest.MonkeyPatch) -> None:
    bent = Part("mount", "hatch", "bracket", circle(5j, 30.0), hand="left", thickness=4.0)
    monkeypatch.setattr(plan, "SOURCES", (lambda _: [bent],))
    for hinges, expected in ((2, [1, 1]), (3, [2, 1]), (1, [1])):
        cuts, faults = cuts_of(replace(demo_six_bar, loads=Loads(hinges=hinges)))
        assert [cut.count for cut in cuts] == expected
        assert faults == ()
    names = [each.path for each in plain(replace(demo_six_bar, loads=Loads())).files]
    assert names[:2] == ["mounts/bracket left.dxf", "mounts/bracket right.dxf"]


def test_tapered_shims_are_made_and_counted_each_hand_its_own_where_they_differ() -> None:
    for right, expected in ((None, {"tapered shim": 2}), (4.0, {"tapered shim left": 1, "tapered shim right": 1})):
        wall = Wall(left=HandWall(8.0), right=None if right is None else HandWall(right), trued="shim")
        made = plain(replace(demo_six_bar, mount=Mount(base=Base(webs=2)), wall=wall, loads=Loads()))
        shims = [cut for cut in made.cuts if cut.part.taper is not None]
        assert {cut.name: cut.count for cut in shims} == expected
        for cut in shims:
            told = next(each.told for each in made.files if each.path == cut.path("dxf"))
            assert told["taper"] == list(cut.part.taper or ())
            written = mark_of(cut.part).text
            assert written.endswith(f"{cut.part.thickness:.2f} mm")  # the stock is as thick as the thick end
    rows = parts_csv(made.project, made.cuts, made.options).decode()
    assert rows.count("tapered shim") == 4  # two rows, each with its file


def test_what_is_wrong_with_the_wall_goes_to_the_shop_with_the_files() -> None:
    """Left 6° and right 8° at 575 mm miss each other by 575·(tan 8° − tan 6°) = 20.4; no shim tapers up and down."""
    wall = Wall(left=HandWall(6.0, 10.0, 575.0), right=HandWall(8.0, 10.0, 575.0), trued="shim")
    found = plain(replace(demo_six_bar, mount=Mount(base=Base()), wall=wall))
    assert any("taper by 10° up and down" in each for each in found.faults)
    assert any("at the centreline by 20.4 mm" in each for each in found.cautions)
    square = plain(replace(demo_six_bar, mount=Mount(base=Base())))
    assert not any("wall" in each.lower() and "lean" in each for each in (*square.faults, *square.cautions))


def test_names_that_are_none_go_by_the_rule_and_the_index_has_the_true_one() -> None:
    project = demo_six_bar
    for link, name in zip(LINKS, ("a/b", "a?b", "CON", "😀"), strict=False):
        project = rename_link(project, link, name)
    rows = [row for row in plain(project).index()["files"] if row["kind"] == "plate"]
    assert [(row["link"], row["path"]) for row in rows[:4]] == [
        ("a/b", "plates/a-b.dxf"),
        ("a?b", "plates/a-b 2.dxf"),
        ("CON", "plates/CON_.dxf"),
        ("😀", "plates/plate.dxf"),
    ]


def test_faults_are_sentences_and_the_rest_is_made_all_the_same() -> None:
    narrow = replace(demo_six_bar, links=tuple(replace(link, width=8.0) for link in demo_six_bar.links))
    made = plain(narrow)
    assert len(made.cuts) == len(LINKS)
    assert "from the hole's centre to the edge" in made.faults[0]
    close = plain(replace(demo_six_bar, pin_spacing=500.0))
    assert "is the least between two pins" in close.faults[0]


def test_a_shape_that_cannot_be_is_told_and_left_out() -> None:
    pins = [pivot.id for pivot in demo_six_bar.pivots_on(LINKS[-1])]
    sides = tuple(Side(pair, -5000.0) for pair in ((pins[0], pins[1]), (pins[1], pins[0])))
    made = plain(replace(demo_six_bar, plates=Plates(each=(Plate(LINKS[-1], sides=sides),))))
    assert len(made.cuts) == len(LINKS) - 1
    assert made.faults[0].startswith(f"Plate of {LINKS[-1]}: a side of a plate can't be bent so far.")


@pytest.mark.parametrize("name", sorted(specimens.ALL))
def test_every_project_is_planned_or_refused_in_a_sentence(name: str) -> None:
    project = specimens.ALL[name]
    if not project.pivots:
        with pytest.raises(HingewrightError, match="nothing can be made"):
            plain(project)
        return
    made = plain(project)
    assert made.files[-1].path == "parts.csv"
    made.files[-1].content()
    for each in made.files:
        if each.path.startswith("plates/"):
            assert each.content()


def test_the_estimate_is_by_the_builders_own_prices() -> None:
    assert plain(demo_six_bar).price is None
    priced = plain(replace(demo_six_bar, plates=Plates(prices=Prices(per_pierce=1.0, currency="€"))))
    told = priced.index()["estimate"]
    assert told["price"] == told["pierces"] == sum(cut.count * cut.part.pierces for cut in priced.cuts)
    assert told["currency"] == "€"
    rows = priced.files[-1].content().decode().splitlines()
    assert rows[0].startswith("item,for,designation,size,count,spares,file")
    assert rows[1].endswith(",€")
    assert f"plates/{LINKS[0]}.dxf" in rows[1]


def test_options_that_are_none() -> None:
    with pytest.raises(HingewrightError, match="no kind of cut file"):
        MakeOptions(("dwg",))
    with pytest.raises(HingewrightError, match="no kind of cut file"):
        MakeOptions(())
    with pytest.raises(HingewrightError, match="no unit"):
        MakeOptions(units="cm")


def test_a_name_is_no_formula_in_the_list() -> None:
    made = plain(rename_link(demo_six_bar, LINKS[0], "=1+1"))
    assert "plate,'=1+1," in made.files[-1].content().decode()
