"""Pinch places: a gap that opens to 25 mm and closes below it, found where it is, and no other."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from kinematics import analyse, pinching
from kinematics.pinching import APART, LEAST_GAPS, MOST_POINTS, Pinch, followed, pinches
from kinematics.project import Link, Outline, Pivot, Point, Project, Travel
from tests.specimens import ALL, demo_six_bar

FRONT, REAR = 500.0, 60.0


def lid(*frame: Outline, wanted_deg: float = 60.0, panel: tuple[Point, ...] = ((20.0, 0.0), (FRONT, 0.0))) -> Project:
    """A level lid on one pin at the origin; the frame is what it shuts upon."""
    return Project(
        links=(Link("body", "fixed"), Link("lid", "panel")),
        pivots=(Pivot("A", (0.0, 0.0), ("body", "lid")),),
        outlines=(*frame, Outline("skin", "lid", panel)),
        travel=Travel("anticlockwise", wanted_deg),
    )


def post(x: float, gap: float, name: str = "post", station: str = "") -> Outline:
    """An upright post whose top is so far below the shut lid."""
    return Outline(name, "body", ((x, -200.0), (x, -gap)), station=station)


def found(project: Project, **more: float) -> tuple[Pinch, ...]:
    return pinches(analyse(project), **more)


def test_the_least_gaps_of_the_standard() -> None:
    """EN ISO 13854 (ISO 13854:2017), table 1, as quoted by trade guides (found, not the standard's own text)."""
    assert LEAST_GAPS == {
        "body": 500.0, "head": 300.0, "leg": 180.0, "foot": 120.0, "toes": 50.0, "arm": 120.0, "hand": 100.0,
        "finger": 25.0,
    }  # fmt: skip


def test_a_lid_that_shuts_on_a_post_pinches_at_its_top() -> None:
    (pinch,) = found(lid(post(FRONT, 5.0)))
    assert pinch.between == ("post", "skin")
    assert (pinch.closes_to, pinch.deg) == (pytest.approx(5.0, abs=1e-9), 0.0)
    assert pinch.place == pytest.approx((FRONT, -2.5), abs=1e-6)
    turn = math.radians(60.0)
    assert pinch.opens_to == pytest.approx(FRONT * math.sin(turn) + 5.0 * math.cos(turn), abs=1e-6)


@pytest.mark.parametrize(("gap", "count"), [(24.99, 1), (25.0, 0), (40.0, 0)])
def test_what_closes_below_25_is_a_pinch_and_what_stays_at_it_is_none(gap: float, count: int) -> None:
    assert len(found(lid(post(FRONT, gap)))) == count


@pytest.mark.parametrize(("wanted_deg", "count"), [(2.0, 0), (2.5, 1)])
def test_a_gap_that_no_finger_enters_is_none(wanted_deg: float, count: int) -> None:
    """The front edge, 500 from the pin, rises by 500·sin: 17.4 mm at 2°, 21.8 mm at 2.5°; 5 mm more over the post."""
    assert len(found(lid(post(FRONT, 5.0), wanted_deg=wanted_deg))) == count


@pytest.mark.parametrize(
    ("gap", "wanted_deg", "off", "count"),
    [
        (26.0, 60.0, 0.0, 0),
        (26.0, 60.0, 0.9, 0),
        (26.0, 60.0, 1.1, 1),  # it may close to 24.9
        (5.0, 2.0, 2.0, 0),
        (5.0, 2.0, 2.7, 1),  # 22.4 mm, drawn, is 25.1 at most: a finger may enter
    ],
)
def test_what_may_be_a_pinch_by_the_traces_doubt_is_one(gap: float, wanted_deg: float, off: float, count: int) -> None:
    project = lid(post(FRONT, gap), wanted_deg=wanted_deg)
    frame, skin = project.outlines
    project = replace(project, outlines=(replace(frame, uncertain=0.6 * off), replace(skin, uncertain=0.4 * off)))
    told = found(project)
    assert len(told) == count
    assert [pinch.uncertain for pinch in told] == pytest.approx([off] * count, abs=1e-12)
    assert [pinch.closes_to for pinch in told] == pytest.approx([gap] * count, abs=1e-6)  # as drawn


def test_another_part_of_the_body_has_another_gap() -> None:
    assert found(lid(post(FRONT, 60.0))) == ()
    (hand,) = found(lid(post(FRONT, 60.0)), least=LEAST_GAPS["hand"])
    assert hand.closes_to == pytest.approx(60.0, abs=1e-9)


def test_the_front_is_found_though_the_pair_as_a_whole_stays_near() -> None:
    """A frame all along beneath the lid: near the pin it is 5 mm away at every opening, at the front it closes."""
    frame = Outline("frame", "body", ((10.0, -5.0), (FRONT, -5.0)))
    analysis = analyse(lid(frame))
    assert max(analysis.gaps[0].lane[1]) < 25.0
    (pinch,) = pinches(analysis)
    assert pinch.place == pytest.approx((FRONT, -2.5), abs=1e-6)  # all of it closes to 5 mm, the front opens widest
    assert pinch.closes_to == pytest.approx(5.0, abs=1e-9)


def test_two_places_of_a_pair_are_two_and_near_ones_are_one() -> None:
    two = Outline("frame", "body", ((200.0, -5.0), (200.0, -90.0), (FRONT, -90.0), (FRONT, -8.0)))
    assert [pinch.place[0] for pinch in found(lid(two))] == pytest.approx([200.0, FRONT], abs=1e-6)
    near = Outline("frame", "body", ((440.0, -5.0), (440.0, -90.0), (FRONT, -90.0), (FRONT, -8.0)))
    assert [pinch.closes_to for pinch in found(lid(near))] == pytest.approx([5.0], abs=1e-9)


def test_what_is_wide_when_shut_and_closes_when_open_pinches_too() -> None:
    """Behind the pin: a tail that swings down onto a sill."""
    tail = lid(Outline("sill", "body", ((-90.0, -100.0), (-20.0, -100.0))), panel=((-100.0, 0.0), (FRONT, 0.0)))
    (pinch,) = found(tail)
    assert 50.0 < pinch.deg <= 60.0
    assert pinch.closes_to < 25.0


def test_pens_are_taken_off() -> None:
    thick = lid(replace(post(FRONT, 15.0), half_width=4.0))
    assert found(thick)[0].closes_to == pytest.approx(11.0, abs=1e-9)


def test_other_stations_are_not_compared() -> None:
    project = lid(post(FRONT, 5.0, "near side", "near"), post(FRONT, 9.0, "far side", "far"))
    skin = replace(project.outlines[-1], station="near")
    (pinch,) = found(replace(project, outlines=(*project.outlines[:-1], skin)))
    assert pinch.between == ("near side", "skin")


def test_links_that_close_like_shears_are_found() -> None:
    pairs = {frozenset(pinch.between) for pinch in found(demo_six_bar)}
    assert frozenset(("lift link", "arm")) in pairs
    bare = replace(demo_six_bar, links=tuple(replace(link, width=0.0) for link in demo_six_bar.links))
    assert {frozenset(pinch.between) for pinch in found(bare)} == {frozenset(("screen and sill", "hatch skin"))}


def test_turned_and_shifted_the_places_go_along() -> None:
    turn, shift = complex(math.cos(0.7), math.sin(0.7)), 1000.0 - 300.0j

    def put(point: Point) -> Point:
        z = complex(*point) * turn + shift
        return z.real, z.imag

    project = lid(post(FRONT, 5.0))
    moved = replace(
        project,
        pivots=tuple(replace(pivot, at=put(pivot.at)) for pivot in project.pivots),
        outlines=tuple(replace(line, points=tuple(map(put, line.points))) for line in project.outlines),
    )
    (here,), (there,) = found(project), found(moved)
    assert there.place == pytest.approx(put(here.place), abs=1e-6)
    assert (there.closes_to, there.opens_to) == pytest.approx((here.closes_to, here.opens_to), abs=1e-6)


def test_a_panel_that_stays_pinches_nobody() -> None:
    for name in ("locked_triangle", "empty", "half_drawn", "parallelogram"):
        assert found(ALL[name]) == ()


def test_every_specimen_is_looked_at() -> None:
    for project in ALL.values():
        for pinch in found(project):
            assert pinch.closes_to < 25.0 <= pinch.opens_to
            assert all(math.isfinite(value) for value in (*pinch.place, pinch.deg, pinch.opens_to))


def test_points_that_are_followed_are_close_and_hold_every_vertex() -> None:
    bodies = analyse(lid(post(FRONT, 5.0))).bodies
    points = followed(bodies["skin"])
    assert np.abs(np.diff(points)).max() <= APART + 1e-9
    assert {20.0 + 0j, FRONT + 0j} <= set(points.tolist())
    long = analyse(lid(post(FRONT, 5.0), panel=((0.0, 0.0), (9000.0, 0.0), (9000.0, -40.0)))).bodies["skin"]
    assert len(followed(long)) <= MOST_POINTS + 3


def test_outlines_of_very_many_points_are_looked_at_in_full(monkeypatch: pytest.MonkeyPatch) -> None:
    """A wavy lid of 700 points over two posts: asking every few points first leaves out none that is caught."""
    skin = tuple((20.0 + 0.7 * k, 1.5 * math.sin(k / 9.0)) for k in range(700))
    project = lid(post(430.0, 6.0), post(200.0, 9.0, "near post"), panel=skin)
    quick = found(project)
    monkeypatch.setattr(pinching, "MOST_POINTS", 10**6)
    pinches.cache_clear()
    assert quick == found(project) != ()
    pinches.cache_clear()


@pytest.mark.parametrize("name", sorted(ALL))
def test_few_edges_and_many_are_measured_alike(name: str) -> None:
    """Edge by edge against GEOS, on every body of every specimen; 1e-9 mm: both are sums and roots."""
    random = np.random.default_rng(5)
    for body in analyse(ALL[name], steps=2).bodies.values():
        reach = 1.2 * body.reach + 10.0
        points = random.uniform(-reach, reach, (40, 8)) + 1j * random.uniform(-reach, reach, (40, 8))
        points[0] = np.resize(0.5 * (body.tails + body.heads), 8)
        few, many = pinching._from_few_edges(points, body), pinching._from_many_edges(points, body)
        assert np.abs(few - many).max() < 1e-9 * reach
