"""Hinges that the tests of the strut finder work on, with weights, handle and wants."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

from kinematics.project import Handle, LiftWants, Loads, Mass, WorstCase, Zone
from kinematics.struts.results import Placement, StrutSettings, StrutSize
from kinematics.struts.wanted import read_problem
from tests.kinematics.proposals.making import demo
from tests.specimens import single_pivot

if TYPE_CHECKING:
    from kinematics.project import Project
    from kinematics.struts.wanted import Problem

SIZES = tuple(
    StrutSize(rod, tube, stroke, 2.0 * stroke + more, least, most, ratio)
    for rod, tube, more, least, most, ratio in (
        (6.0, 15.0, 90.0, 50.0, 400.0, 1.28),
        (8.0, 18.0, 95.0, 100.0, 750.0, 1.32),
    )
    for stroke in (60.0, 100.0, 150.0, 200.0, 250.0, 300.0)
)
WANTS = LiftWants(
    shut_at_most=80.0, at_most=80.0, rests_until_deg=8.0, stays_open=True, stays_open_in=WorstCase(-10.0, 5.0, True)
)


@cache
def hatch(wants: LiftWants = WANTS) -> Project:
    """The demo with a handle at its front edge and wants of lifting."""
    project = demo()
    assert project.loads is not None
    return replace(project, loads=replace(project.loads, handle=Handle("hatch", (1190.0, 262.0)), wants=wants))


@cache
def lid(wants: LiftWants = WANTS) -> Project:
    """A lid of 10 kg on one pin at (0, 0), its centre at 400, the hand at 800."""
    loads = Loads((Mass("lid", 10.0, (400.0, 0.0)),), Handle("lid", (800.0, 0.0)), wants=wants)
    return replace(single_pivot, loads=loads)


BODY = Zone("bulkhead", ((21.0, -200.0), (500.0, -200.0), (500.0, 200.0), (21.0, 200.0)))
PANEL = Zone("hatch", ((60.0, 260.0), (520.0, 250.0), (520.0, 190.0), (60.0, 190.0)))
ARM = Zone("lift link", ((170.0, 220.0), (260.0, 220.0), (260.0, 290.0), (170.0, 290.0)))


@cache
def hatch_problem(wants: LiftWants = WANTS, count: int = 2) -> Problem:
    """The demo's problem, with zones on three of its links."""
    return read_problem(hatch(wants), StrutSettings(SIZES, (PANEL, BODY, ARM), count))


def settings(*zones: Zone, count: int = 2, seed: int = 1) -> StrutSettings:
    """How to search, in zones."""
    return StrutSettings(SIZES, zones, count, seed)


def placement(**given: object) -> Placement:
    """One placement, of which a test says what matters."""
    usual: dict[str, object] = {
        "from_on": "bulkhead",
        "from_at": (400.0, 150.0),
        "to_on": "hatch",
        "to_at": (151.0, 205.0),
        "size": StrutSize(8.0, 18.0, 150.0, 395.0, 100.0, 750.0, 1.32),
        "count": 2,
        "force": 450.0,
        "ok": True,
        "short": (),
        "checks": (),
        "margin": 10.0,
        "way": "worst",
        "score": 9.9,
        "openings": (0.0, 75.0),
        "efforts": (60.0, -60.0),
        "shortest": 255.0,
        "longest": 388.0,
        "unit": 0,
    }
    return Placement(**{**usual, **given})  # type: ignore[arg-type]
