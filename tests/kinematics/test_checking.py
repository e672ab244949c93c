"""Checks: each kind of want, met and missed by a hair, with the place it speaks of."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from kinematics import analyse, edits, wanting
from kinematics.project import GapWant, Limit, Mark, Outline, Project, ShutWant
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
    kinds = ("gap", "shut gap", "limit", "opening", "pin spacing", "zone", "roof", "front edge", "strength")
    assert {check.kind for check in checks} == {*kinds}
    assert list(checks) == sorted(checks, key=lambda check: (check.ok, check.margin))
    assert all(check.ahead == 0 for check in analyse(demo_six_bar).checks if check.kind != "limit")


def on_a_pivot(side: str, want: float, at: tuple[float, float], after_deg: float = 0.0, deg: float = 80.0) -> Check:
    """A limit on a mark of a lid that turns about (0, 0), anticlockwise."""
    travel = replace(single_pivot.travel, wanted_deg=deg)
    limit = Limit("M", **{side: want}, after_deg=after_deg)
    return check_of(replace(single_pivot, marks=(Mark("M", "lid", at),), limits=(limit,), travel=travel), "limit")


@pytest.mark.parametrize(
    ("side", "at", "after_deg", "have", "deg"),
    [
        # Typed by hand: M at radius 50 and angle φ; x = 50·cos(φ + opening), y = 50·sin(φ + opening).
        ("dx_at_most", (30.0, -40.0), 0.0, 20.0, 53.130102354),  # φ = −53.13°: furthest right level with the pivot
        ("dx_at_least", (30.0, -40.0), 0.0, 0.0, 0.0),  # it goes right first: least at shut
        ("dx_at_most", (30.0, 40.0), 0.0, 0.0, 0.0),  # it goes left: most at shut
        ("dx_at_least", (30.0, 40.0), 0.0, -64.182864790, 80.0),  # 50·cos(133.130102354°) − 30
        ("dy_at_most", (30.0, 40.0), 0.0, 10.0, 36.869897646),  # highest straight above the pivot
        ("dy_at_least", (30.0, 40.0), 0.0, -3.509840303, 80.0),  # 50·sin(133.130102354°) − 40
        ("dy_at_most", (30.0, 40.0), 50.0, 8.692837681, 50.0),  # past its highest: falls from 50° on
        ("dx_at_most", (30.0, -40.0), 60.0, 19.641016151, 60.0),  # 50·cos(6.869897646°) − 30
        ("dx_at_most", (30.0, -40.0), 80.0, 14.601755450, 80.0),  # only the last pose counts
    ],
)
def test_how_far_a_mark_goes_about_a_pivot(
    side: str, at: tuple[float, float], after_deg: float, have: float, deg: float
) -> None:
    """Exact between poses: the extreme of a circle's arc."""
    check = on_a_pivot(side, 0.0, at, after_deg)
    assert check.have == pytest.approx(have, rel=0, abs=1e-8)
    assert check.deg == pytest.approx(deg, rel=0, abs=1e-4)
    assert check.after_deg == after_deg
    assert check.side == side
    turned = math.radians(check.deg or 0.0) + math.atan2(at[1], at[0])
    assert check.place == pytest.approx((50.0 * math.cos(turned), 50.0 * math.sin(turned)), rel=0, abs=1e-6)
    least = side.endswith("least")
    assert check.margin == pytest.approx(have if least else -have, rel=0, abs=1e-8)
    assert check.ok is (check.margin >= -1e-9)


@pytest.mark.parametrize(("want", "ok"), [(20.0, True), (19.9999, False), (20.0001, True)])
def test_a_limit_is_met_or_missed_by_a_hair(want: float, ok: bool) -> None:
    check = on_a_pivot("dx_at_most", want, (30.0, -40.0))
    assert check.ok is ok
    assert check.margin == pytest.approx(want - 20.0, rel=0, abs=1e-8)


def test_a_limit_from_an_opening_that_is_never_reached_is_missed() -> None:
    check = on_a_pivot("dx_at_most", 100.0, (30.0, -40.0), after_deg=80.1)
    assert (check.have, check.ok, check.place, check.deg, check.margin) == (None, False, None, None, -math.inf)


def test_the_demos_rear_corner_goes_back_by_3_3() -> None:
    """Between poses too: the demo's rear corner goes back by 3.3 mm, as it was tried out for the demo, near 8.4°."""
    check = check_of(demo_six_bar, "limit")
    assert check.have == pytest.approx(-3.3, rel=0, abs=0.05)
    fine = analyse(demo_six_bar, steps=3001)
    sampled = fine.mark_paths["rear corner"][:, 0] - demo_six_bar.marks[0].at[0]
    assert check.have == pytest.approx(sampled.min(), rel=0, abs=1e-6)
    assert check.have <= sampled.min() + 1e-9
    assert check.deg == pytest.approx(fine.openings[sampled.argmin()], rel=0, abs=0.03)


def test_a_mark_that_moves_nowhere_is_at_0_from_shut_on() -> None:
    check = on_a_pivot("dx_at_least", 0.0, (0.0, 0.0))
    assert (check.have, check.ok, check.deg) == (0.0, True, 0.0)


def test_where_nothing_opens_a_limit_speaks_of_shut() -> None:
    still = replace(single_pivot, pivots=(), limits=(Limit("front edge", dx_at_least=1.0),))
    check = check_of(still, "limit")
    assert (check.have, check.ok, check.deg, check.place) == (0.0, False, 0.0, (400.0, 0.0))


def test_figures_are_plain_numbers() -> None:
    """Nothing of numpy's: they go into files and sentences."""
    for check in analyse(ALL["with_everything"]).checks:
        assert type(check.ok) is bool
        for number in (check.want, check.have, check.margin, check.deg, *(check.place or ())):
            assert number is None or type(number) is float


# ------------------------------------------------------------------------------------------------- pin spacing, opening
def test_of_a_links_pins_the_two_nearest_are_told() -> None:
    spaced = replace(demo_six_bar, pin_spacing=50.0)
    told = {c.subject[0]: c for c in analyse(spaced).checks if c.kind == "pin spacing"}
    assert set(told) == {"arm", "cross link", "short link", "lift link"}  # those that have a width
    arm = told["arm"]
    assert arm.subject == ("arm", "O1", "X")
    assert arm.have == pytest.approx(math.hypot(16.0, 44.0), rel=0, abs=1e-12)
    assert (arm.ok, arm.place, arm.want) == (False, (133.0, 235.0), 50.0)
    assert told["cross link"].subject == ("cross link", "X", "B")
    assert told["cross link"].ok


def test_a_link_with_one_pin_or_no_width_has_no_spacing() -> None:
    assert not [c for c in analyse(single_pivot).checks if c.kind == "pin spacing"]
    assert not [c for c in analyse(ALL["half_drawn"]).checks if c.kind == "pin spacing"]


@pytest.mark.parametrize(("wanted", "ok"), [(71.35, True), (71.36, False)])
def test_reaching_the_wanted_opening_is_a_check(wanted: float, ok: bool) -> None:
    """The four-bar's dead point is 128.68218745 − 57.32488010 = 71.35730735 degrees from shut."""
    project = replace(ALL["four_bar_a1"], travel=replace(ALL["four_bar_a1"].travel, wanted_deg=wanted))
    check = check_of(project, "opening")
    assert check.ok is ok
    assert check.have == pytest.approx(min(wanted, 71.35730735), rel=0, abs=1e-6)
    assert check.margin == pytest.approx(71.35730735 - wanted, rel=0, abs=1e-6)


def test_what_falls_short_comes_first_the_widest_miss_before_the_others() -> None:
    limits = (Limit("rear corner", dx_at_least=50.0), Limit("rear corner", dy_at_most=-1.0))
    project = replace(
        demo_six_bar, limits=limits, pin_spacing=47.0, travel=replace(demo_six_bar.travel, wanted_deg=180.0)
    )
    checks = analyse(project).checks
    assert [check.ok for check in checks] == sorted(check.ok for check in checks)
    missed = [check for check in checks if not check.ok]
    assert len(missed) >= 3
    assert [check.margin for check in missed] == sorted(check.margin for check in missed)


def test_gap_checks_are_for_wants_alone() -> None:
    checks = analyse(replace(demo_six_bar, gaps=())).checks
    assert not [check for check in checks if check.kind == "gap"]
    late = replace(demo_six_bar, gaps=(replace(demo_six_bar.gaps[0], after_deg=100.0),))
    check = check_of(late, "gap")
    assert (check.have, check.ok, check.margin, check.after_deg) == (None, False, -math.inf, 100.0)
