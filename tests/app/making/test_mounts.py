"""Mounts among the files: their parts with counts and hands, the stop's hole and block, faults as sentences."""

from __future__ import annotations

import io
from dataclasses import replace

import ezdxf
import pytest

from app.files.cut_dxf import cut_dxf
from app.hardware import hardware
from app.making.mounts import stopped
from app.making.plan import cuts_of, plan_of
from app.making.planned import MakeOptions
from kinematics.fittings import Stop
from kinematics.loads import Loads
from kinematics.mount_parts import Base, Bracket, Mount, StopPart
from kinematics.mounting import base_made
from tests.specimens import demo_six_bar

BRACKET = Bracket(at=(90.0, 345.0), skin_deg=0.0)
STOP = Loads(stop=Stop(("arm", "bulkhead"), 40.0, 60.0))


def test_parts_of_mounts_are_planned_for_both_hands() -> None:
    cuts, _ = cuts_of(replace(demo_six_bar, mount=Mount(BRACKET, Base(webs=2))))
    counts = {cut.name: cut.count for cut in cuts if cut.part.kind == "mount"}
    assert counts == {
        "bracket left": 1,
        "bracket right": 1,
        "doubler": 2,
        "base web": 4,
        "base plate": 2,
        "backing plate": 2,
        "gusset": 4,
    }


@pytest.mark.parametrize(("on", "mark"), [("first", "arm"), ("second", "base web")])
def test_the_stops_pin_has_its_hole_wherever_it_sits(on: str, mark: str) -> None:
    bare = replace(demo_six_bar, mount=Mount(base=Base()), loads=STOP)
    project = replace(bare, mount=Mount(base=Base(), stop_part=StopPart(on)))  # type: ignore[arg-type]
    before, after = ({cut.name: cut.part for cut in cuts_of(each)[0]} for each in (bare, project))
    assert set(after) - set(before) == {"stop block"}
    more = {name: len(part.cutouts) - len(before[name].cutouts) for name, part in after.items() if name in before}
    assert {name: count for name, count in more.items() if count} == {mark: 1}
    screwed = replace(project, mount=Mount(stop_part=StopPart(kind="screw")))
    assert stopped(screwed) is screwed
    assert stopped(bare) is bare


def test_stop_and_welds_are_marked_on_what_is_cut() -> None:
    project = replace(demo_six_bar, mount=Mount(base=Base(weld_side="left"), stop_part=StopPart("first")), loads=STOP)
    parts = {cut.name: cut.part for cut in cuts_of(project)[0]}
    assert len(parts["base web"].bends) == 4  # the block's outline: the wall's side has the face
    assert parts["arm"].bends == ()
    plate, both = parts["base plate"], replace(project, mount=Mount(base=Base()))
    stands, ticks = plate.bends[:2], plate.bends[2:]
    assert len(ticks) > 3
    left = min(start.real for start, _ in stands)
    throat = base_made(project, Base(), hardware()).throat  # type: ignore[union-attr]
    for start, end in ticks:
        assert (start.real, end.imag) == (pytest.approx(left), start.imag)
        assert start.real - end.real == pytest.approx(throat * 2.0**0.5)  # the leg, by its throat
    others = {cut.name: cut.part for cut in cuts_of(both)[0]}["base plate"].bends
    assert len(others) == 2 + 2 * len(ticks)
    marks = ezdxf.read(io.StringIO(cut_dxf(plate).decode())).modelspace().query('LINE[layer=="MARK"]')
    assert len(marks) == len(plate.bends)


def test_what_is_wrong_with_a_mount_is_a_fault_of_the_index() -> None:
    plan = plan_of(replace(demo_six_bar, mount=Mount(Bracket(bolt="M7"), Base(weld=1.0))), MakeOptions(("dxf",)))
    assert any(each.startswith("Mount at hatch: No table has this thread") for each in plan.faults)
    assert any(each.startswith("Mount at bulkhead: A throat of 1.0 mm") for each in plan.cautions)
