"""Checks: each kind of want, met and missed by a hair, with the place it speaks of."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from kinematics import analyse, edits, wanting
from kinematics.project import GapWant, Limit, Outline, Project, ShutWant
from tests.specimens import ALL, demo_six_bar, single_pivot

if TYPE_CHECKING:
    from kinematics.results import Check

PAIR = ("wall", "lid skin")  # 22 mm apart at shut: x from -52 to -30
TOP = 400.0 * math.sin(math.radians(80.0))


def check_of(project: Project, kind: str) -> Check:
    """The one check of a kind."""
    (found,) = [check for check in analyse(project).checks if check.kind == kind]
    return found


# ---------------------------------------------------------------------------------------------------------- shut gaps
@pytest.mark.parametrize(
    ("want", "ok", "margin"),
    [
        (ShutWant(at_least=22.0), True, 0.0),
        (ShutWant(at_least=22.001), False, -0.001),
        (ShutWant(at_most=22.0), True, 0.0),
        (ShutWant(at_most=21.999), False, -0.001),
        (ShutWant(20.0, 23.0), True, 1.0),
        (ShutWant(21.5, 30.0), True, 0.5),
        (ShutWant(3.175, 6.35), False, -15.65),
    ],
)
def test_a_shut_gap_is_held_from_both_sides(want: ShutWant, ok: bool, margin: float) -> None:
    check = check_of(wanting.set_shut_gap(single_pivot, PAIR, want), "shut gap")
    assert (check.subject, check.ok, check.have) == (PAIR, ok, pytest.approx(22.0, rel=0, abs=1e-9))
    assert check.margin == pytest.approx(margin, rel=0, abs=1e-9)
    assert (check.want, check.most) == (want.at_least or 0.0, want.at_most)
    assert check.deg == 0.0
    assert check.place is not None
    assert check.place[0] == pytest.approx(-41.0, rel=0, abs=1e-9)


def test_what_touches_while_shut_has_no_shut_gap() -> None:
    sill = Outline("sill", "body", ((100.0, -50.0), (100.0, 0.0)))
    touching = edits.add_outline(single_pivot, sill)
    for want in (ShutWant(at_least=0.0), ShutWant(at_most=6.0)):
        check = check_of(wanting.set_shut_gap(touching, ("sill", "lid skin"), want), "shut gap")
        assert (check.have, check.ok) == (0.0, False)


def test_a_shut_gap_leaves_the_gap_s_own_verdict_alone() -> None:
    wanted = replace(single_pivot, gaps=(GapWant(PAIR, 3.0, 10.0, ShutWant(at_least=100.0)),))
    plain = replace(single_pivot, gaps=(GapWant(PAIR, 3.0, 10.0),))
    one, other = analyse(wanted), analyse(plain)
    assert (one.gaps[0].ok, one.gaps[0].smallest, one.gaps[0].shut) == (
        other.gaps[0].ok, other.gaps[0].smallest, other.gaps[0].shut,
    )  # fmt: skip
    assert [check for check in one.checks if check.kind != "shut gap"] == list(other.checks)


def test_a_shut_gap_is_read_though_the_panel_never_moves_or_never_gets_there() -> None:
    still = replace(single_pivot, pivots=(), gaps=(GapWant(PAIR, 3.0, 90.0, ShutWant(at_least=20.0)),))
    assert check_of(still, "shut gap").ok
    short = replace(single_pivot, gaps=(GapWant(PAIR, 3.0, 170.0, ShutWant(at_least=20.0)),))
    assert check_of(short, "shut gap").ok
    assert not check_of(short, "gap").ok


def test_a_shut_gap_of_a_link_without_pins_has_no_figure() -> None:
    spare = edits.set_width(edits.add_link(single_pivot, ALL["with_everything"].link("spare")), "spare", 10.0)
    check = check_of(wanting.set_shut_gap(spare, ("wall", "spare"), ShutWant(4.0, 6.0)), "shut gap")
    assert (check.have, check.ok, check.margin, check.most) == (None, False, -math.inf, 6.0)


# ---------------------------------------------------------------------------------------------------------------- room
@pytest.mark.parametrize(("roof", "ok"), [(TOP, True), (TOP - 1e-3, False), (TOP + 50.0, True)])
def test_the_roof_is_held_against_the_highest_place(roof: float, ok: bool) -> None:
    check = check_of(wanting.set_roof(single_pivot, roof), "roof")
    assert (check.ok, check.subject, check.want) == (ok, ("lid",), 0.0)
    assert check.have == check.margin == pytest.approx(roof - TOP, rel=0, abs=1e-8)
    assert (check.deg, check.place) == (pytest.approx(80.0), pytest.approx((400.0 * math.cos(math.radians(80.0)), TOP)))


@pytest.mark.parametrize(("want", "ok"), [(TOP + 700.0 - 1e-3, True), (TOP + 700.0 + 1e-3, False)])
def test_the_front_edge_is_held_over_the_floor(want: float, ok: bool) -> None:
    floored = wanting.set_floor(single_pivot, -700.0)
    assert not [check for check in analyse(floored).checks if check.kind == "front edge"]
    check = check_of(wanting.set_front_height(floored, want), "front edge")
    assert (check.ok, check.subject) == (ok, ())
    assert check.have == pytest.approx(TOP + 700.0, rel=0, abs=1e-9)
    marked = wanting.set_front_mark(wanting.set_front_height(floored, want), "front edge")
    assert check_of(marked, "front edge").subject == ("front edge",)


def test_a_front_edge_that_is_nowhere_has_no_figure() -> None:
    bare = replace(wanting.set_floor(single_pivot, -700.0), outlines=(), marks=())
    check = check_of(wanting.set_front_height(bare, 10.0), "front edge")
    assert (check.have, check.ok) == (None, False)


# -------------------------------------------------------------------------------------------------------------- limits
@pytest.mark.parametrize(("side", "ahead"), [(1.0, 1), (-1.0, -1)])
def test_a_limit_knows_on_which_side_the_front_is(side: float, ahead: int) -> None:
    def flip(points: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
        return tuple((side * x, y) for x, y in points)

    project = replace(
        single_pivot,
        outlines=tuple(replace(each, points=flip(each.points)) for each in single_pivot.outlines),
        marks=tuple(replace(mark, at=flip((mark.at,))[0]) for mark in single_pivot.marks),
        travel=replace(single_pivot.travel, opens="anticlockwise" if side > 0 else "clockwise"),
        limits=(Limit("front edge", dx_at_least=-2.0, dy_at_most=1e4),),
    )
    limits = [check for check in analyse(project).checks if check.kind == "limit"]
    assert [check.ahead for check in limits] == [ahead, ahead]
    assert [check.ahead for check in analyse(project).checks if check.kind != "limit"] == [0]


def test_all_kinds_are_sorted_worst_first() -> None:
    checks = analyse(ALL["with_everything"]).checks
    assert {"gap", "shut gap", "limit", "opening", "pin spacing", "roof", "front edge"} == {c.kind for c in checks}
    assert list(checks) == sorted(checks, key=lambda check: (check.ok, check.margin))
    assert all(check.ahead == 0 for check in analyse(demo_six_bar).checks if check.kind != "limit")
