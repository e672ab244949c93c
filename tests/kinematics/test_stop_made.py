"""The stop as a part: pin and face meet at the stop's opening, and not before."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely

from kinematics import analyse
from kinematics.build_parts import Plates
from kinematics.contours import Contour
from kinematics.cutting import clipped, part_of
from kinematics.fittings import Stop
from kinematics.loads import Loads
from kinematics.mount_parts import StopPart
from kinematics.stop_made import stop_block, stop_faults, stop_lines, stop_made
from tests.kinematics.held_open import STOP, lid
from tests.specimens import demo_six_bar, four_bar_a1

ARM = Stop(("bulkhead", "arm"), 40.0, 60.0)


@pytest.mark.parametrize("on", ["first", "second"])
@pytest.mark.parametrize("kind", ["pin", "screw"])
def test_pin_and_face_meet_at_the_opening_and_not_before(on: str, kind: str) -> None:
    analysis = analyse(replace(demo_six_bar, loads=Loads(stop=ARM)), steps=2)
    made = stop_made(analysis, StopPart(on, kind))  # type: ignore[arg-type]
    assert made is not None
    columns = [analysis.links.index(link) for link in (made.carries, made.faces)]
    radius = made.part.diameter / 2.0 if kind == "pin" else 0.0
    apart = []
    for deg in (10.0, 25.0, 39.9, 40.0):
        pose = analysis.pose(deg)
        tip = complex(*pose.place(columns[0], (made.at.real, made.at.imag)))
        one, other = (complex(*pose.place(columns[1], (end.real, end.imag))) for end in made.face)
        along = (other - one) / abs(other - one)
        apart.append(abs(((tip - one) * along.conjugate()).imag) - radius)
        if deg == 40.0:
            assert 0.0 < ((tip - one) * along.conjugate()).real < abs(other - one)
    assert apart[0] > apart[1] > apart[2] > 0.0
    assert apart[3] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("kind", ["pin", "screw"])
def test_the_face_is_scribed_on_the_plate_where_both_meet(kind: str) -> None:
    project = replace(demo_six_bar, loads=Loads(stop=ARM))
    analysis = analyse(project, steps=2)
    made = stop_made(analysis, StopPart("first", kind))  # type: ignore[arg-type]
    assert made is not None
    assert made.faces == "arm"
    lines = stop_lines(made)
    assert lines["arm"][0] == made.face
    assert len(lines["arm"]) == 4  # round the block
    assert set(lines) == ({"arm"} if kind == "pin" else {"arm", "bulkhead"})
    part = part_of(project, project.link("arm"), lambda *_: 8.0, lines["arm"])
    assert part is not None
    pins = {hole.pivot: hole.at for hole in part.holes}
    start, end = part.bends[0]
    # along the face lies the pivot that joins both, the arm less half the face from its nearer end
    way = (end - start) / abs(end - start)
    assert ((pins[made.pivot] - start) * way.conjugate()).imag == pytest.approx(0.0, abs=1e-6)
    near = min(abs(start - pins[made.pivot]), abs(end - pins[made.pivot]))
    assert near == pytest.approx(ARM.arm - made.part.face / 2.0, abs=1e-6)
    edge = shapely.Polygon(part.outer.polyline(1e-3))
    for a, b in part.bends:
        assert edge.buffer(0.02).covers(shapely.LineString([(a.real, a.imag), (b.real, b.imag)]))


def test_a_block_over_a_pin_or_beside_its_plate_is_told() -> None:
    project = replace(demo_six_bar, plates=Plates(thickness=4.0))
    pin = abs(complex(*project.pivot("X").at) - complex(*project.pivot("O1").at))
    told = {}
    for arm in (0.55 * pin, pin, 3.0 * pin):
        analysis = analyse(replace(project, loads=Loads(stop=replace(ARM, arm=arm))), steps=2)
        made = stop_made(analysis, StopPart(face=10.0))
        assert made is not None
        told[arm] = [(fault.kind, fault.pin) for fault in stop_faults(project, made, {"X": 14.0, "O1": 14.0})]
    assert list(told.values())[1:] == [[("over pin", "X")], [("beside", "")]]
    assert ("over pin", "X") not in told[0.55 * pin]


def test_what_lies_beside_a_part_is_not_scribed() -> None:
    square = Contour(np.array([0j, 10.0, 10.0 + 10.0j, 10.0j]), np.zeros(4))
    assert clipped(square, [(-5.0 + 5.0j, 25.0 + 5.0j)]) == ((0.0 + 5.0j, 10.0 + 5.0j),)
    assert clipped(square, [(-5.0 - 5.0j, 25.0 - 5.0j), (20.0 + 0j, 20.0 + 9j)]) == ()


def test_a_mm_of_screw_shifts_the_stop_as_the_arm_says() -> None:
    analysis = analyse(lid(stop=replace(STOP, at_deg=70.0)), steps=2)
    made = stop_made(analysis, StopPart(kind="screw"))
    assert made is not None
    assert made.per_mm == pytest.approx(57.29577951 / 50.0)  # one pin: the lid turns as it opens
    assert made.turned_deg == pytest.approx(70.0)
    block = stop_block(analysis, made)
    assert block.area == pytest.approx(16.0 * 12.0)
    assert made.force == pytest.approx(0.0)  # before it tips over, nothing leans on a stop


def test_a_stop_past_the_opening_wanted_is_a_part_too() -> None:
    reached = analyse(lid(), steps=2).opening.reached_deg
    analysis = analyse(lid(stop=replace(STOP, at_deg=reached + 2.0)), steps=2)
    assert analysis.opening.reached_deg == pytest.approx(reached)
    made = stop_made(analysis, StopPart())
    assert made is not None
    assert made.turned_deg == pytest.approx(reached + 2.0)  # one pin: the lid turns as it opens


def test_what_stops_nothing_is_no_part() -> None:
    past = Stop(four_bar_a1.pivots[0].joins[:2], analyse(four_bar_a1, 2).opening.largest_deg + 1.0, 20.0)  # type: ignore[arg-type]
    for project, stop in (
        (demo_six_bar, None),
        (demo_six_bar, Stop(("bulkhead", "hatch"), 40.0, 60.0)),
        (four_bar_a1, past),
    ):
        analysis = analyse(replace(project, loads=Loads(stop=stop)), steps=2)
        assert stop_made(analysis, StopPart()) is None
