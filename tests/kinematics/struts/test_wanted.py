"""What is asked of struts: the bare effort, the wants as bounds, and what hinders a search."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import kinematics
from kinematics.fittings import Stop
from kinematics.project import Attachment, Device, Handle, LiftWants, Loads, Mass, WorstCase, Zone
from kinematics.struts.fitting import with_struts
from kinematics.struts.levers import spans
from kinematics.struts.results import StrutSettings
from kinematics.struts.wanted import asks, cannot, read_problem, without_struts
from tests import specimens
from tests.kinematics.struts.making import BODY, PANEL, SIZES, WANTS, hatch, hatch_problem, lid, placement, settings

STRUT = Device(
    "old",
    "gas strut",
    2,
    Attachment("bulkhead", (100.0, -100.0)),
    Attachment("hatch", (300.0, 240.0)),
    extended=600.0,
    stroke=280.0,
    force=300.0,
    ratio=1.3,
)
SPRING = Device(
    "helper",
    "tension spring",
    1,
    Attachment("bulkhead", (60.0, 20.0)),
    Attachment("lift link", (200.0, 250.0)),
    free=60.0,
    initial=5.0,
    rate=0.4,
)


def test_struts_go_and_springs_stay() -> None:
    loads = hatch().loads
    assert loads is not None
    project = replace(hatch(), loads=replace(loads, devices=(STRUT, SPRING)))
    bare = without_struts(project)
    assert bare.loads is not None
    assert bare.loads.devices == (SPRING,)
    found = kinematics.analyse(bare, 41).loads
    assert found is not None
    problem = read_problem(project, settings(BODY, PANEL))
    there = [int(np.argmin(np.abs(problem.openings - each))) for each in np.linspace(0.0, 75.0, 41)]
    assert problem.bare[there] == pytest.approx(found.effort, abs=1e-9)


def test_the_opening_up_to_which_it_rests_is_looked_at() -> None:
    problem = hatch_problem()
    assert 8.0 in problem.openings
    rows = problem.columns
    first, end = rows.starts[rows.names.index("rests")], rows.starts[rows.names.index("rests") + 1]
    assert problem.openings[rows.poses[first:end]].max() == 8.0
    assert (rows.ways[first:end] == -1.0).all()


def test_rooms_of_a_lid() -> None:
    """10 kg at 400, hand at 800: 49.03325 N when shut; open 80°, on 5° of slope, 49.03325·cos 75° at worst."""
    problem = read_problem(lid(), settings(Zone("body", BODY.points), Zone("lid", PANEL.points)))
    rows = problem.columns
    assert rows.names == ("shut", "largest", "rests", "open", "worst")
    rooms = dict(zip(rows.names, np.minimum.reduceat(rows.rooms, rows.starts).tolist(), strict=True))
    assert rooms["shut"] == pytest.approx(80.0 - 49.03325, abs=1e-9)
    assert rooms["worst"] == pytest.approx(-12.690739, abs=1e-6)
    # one of two dead, at −10 °C: half of 263.15/293.15
    assert rows.factors[-2:] == pytest.approx([0.448832] * 2, abs=1e-6)


def test_a_warm_shop_has_its_own_factor() -> None:
    """At 35 °C a strut pushes 308.15/293.15 of what it is stated with; the cold is told against that."""
    warm = replace(lid().loads or Loads(), temperature=35.0)
    problem = read_problem(
        replace(lid(), loads=warm), settings(Zone("body", BODY.points), Zone("lid", PANEL.points), count=1)
    )
    assert problem.warmth == pytest.approx(1.051168, abs=1e-6)
    assert problem.columns.factors[-1] == 0.0  # the only strut is dead


@pytest.mark.parametrize(
    ("wants", "some"),
    [
        (None, False),
        (LiftWants(), False),
        (LiftWants(shut_at_most=0.0), True),
        (LiftWants(stays_open=True), True),
        (LiftWants(stays_open_in=WorstCase()), True),
    ],
)
def test_whether_anything_is_asked(wants: LiftWants | None, some: bool) -> None:
    assert asks(wants) is some


def test_nothing_hinders_the_demo() -> None:
    assert cannot(hatch(), settings(BODY, PANEL)) == ()
    assert cannot(hatch(), StrutSettings(SIZES)) == ()


def told(project: object, given: StrutSettings | None = None) -> str:
    return " ".join(str(fault) for fault in cannot(project, given or settings(BODY, PANEL)))  # type: ignore[arg-type]


def test_what_hinders_is_told() -> None:
    loads = hatch().loads
    assert loads is not None
    assert "weight" in told(replace(hatch(), loads=None))
    assert "weight" in told(replace(hatch(), loads=replace(loads, masses=(Mass("hatch", 0.0, (0.0, 0.0)),))))
    assert "no handle" in told(replace(hatch(), loads=replace(loads, handle=None)))
    fixed = Handle("bulkhead", (0.0, 0.0))
    assert "handle is on the fixed link" in told(replace(hatch(), loads=replace(loads, handle=fixed)))
    assert "nothing is wanted of lifting" in told(replace(hatch(), loads=replace(loads, wants=None)))
    assert "no size" in told(hatch(), StrutSettings((), (BODY, PANEL)))
    assert "on one link" in told(hatch(), settings(PANEL))
    flat = Zone("hatch", ((0.0, 0.0), (1.0, 0.0), (2.0, 0.0)))
    assert "“hatch” has no area" in told(hatch(), settings(BODY, flat))


def test_what_doesnt_open_is_told() -> None:
    loads = Loads((Mass("lid", 5.0, (1.0, 1.0)),), Handle("lid", (1.0, 2.0)), wants=WANTS)
    assert "doesn't open" in told(replace(specimens.empty, loads=loads))


def test_a_handle_on_the_pin_stands_still() -> None:
    loads = replace(lid().loads or Loads(), handle=Handle("lid", (0.0, 0.0)))
    zones = Zone("body", BODY.points), Zone("lid", PANEL.points)
    assert "stands still" in told(replace(lid(), loads=loads), settings(*zones))


def test_a_gust_is_in_the_worst_case() -> None:
    """As the analysis has it: 12 m/s against a hatch 1.2 m wide."""
    wants = LiftWants(stays_open_in=WorstCase(temperature=-10.0, slope_deg=3.0, wind=12.0))
    loads = hatch(wants).loads
    assert loads is not None
    project = replace(hatch(wants), loads=replace(loads, across=1200.0, devices=()))
    found = kinematics.analyse(project, 2).loads
    assert found is not None
    assert found.worst is not None
    rows = read_problem(project, settings(BODY, PANEL)).columns
    assert -rows.rooms.min() == pytest.approx(found.worst.force, abs=1e-9)
    calm = read_problem(hatch(replace(wants, stays_open_in=WorstCase(-10.0, 3.0))), settings(BODY, PANEL)).columns
    assert calm.rooms.min() > rows.rooms.min() + 10.0


def test_a_strut_must_be_long_enough_for_the_stop_too() -> None:
    """A stop at 80°, past the wanted 75°: lengths are looked at up to there."""
    loads = hatch().loads
    assert loads is not None
    project = replace(hatch(), loads=replace(loads, stop=Stop(("bulkhead", "arm"), 80.0, 20.0), devices=()))
    (pair,) = read_problem(project, settings(BODY, PANEL)).pairs
    lengths, levers = spans(pair, np.array([400.0 + 150.0j]) - pair.centre, np.array([151.0 + 205.0j]) - pair.centre)
    assert lengths.shape[1] == levers.shape[1] + 3
    longer = placement(size=replace(placement().size, stroke=170.0, extended=420.0))
    further = replace(with_struts(hatch(), longer), travel=replace(hatch().travel, wanted_deg=80.0))
    told = kinematics.analyse(further, 2).loads
    assert told is not None
    assert lengths[0, -1] == pytest.approx(told.lengths[-1, 0], abs=1e-9)
    assert lengths[0, -1] > lengths[0, levers.shape[1] - 1] + 3.0
