"""How sure: by hand on one pin, against analyses of other hinges, against exact re-solves, and where it is withheld."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from kinematics import analyse, wanting
from kinematics.influence import influence_on
from kinematics.project import GapWant, Outline, Pivot, Project, Sureness
from kinematics.sampling import Faults, moved_gaps, sampled
from kinematics.sureness import Sure, _answer, _Sources, how_sure, poses_of, unanswered
from tests.kinematics.random_linkages import linkage
from tests.specimens import ALL, demo_six_bar, hinge, single_pivot

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.bodies import Body
    from kinematics.sureness import Poses

WANT = GapWant(("wall", "lid skin"), 5.0)
one_pin = replace(single_pivot, gaps=(WANT,))
# A lid on two arms whose dead point, at 127°, is well away from what is opened.
two_arms = replace(
    hinge(
        "body lid front rear",
        {
            "A": (-40.0 + 0j, "body front"),
            "B": (20.0 + 90.0j, "front lid"),
            "C": (90.0 + 30.0j, "body rear"),
            "D": (80.0 + 100.0j, "rear lid"),
        },
        opens="clockwise",
        wanted_deg=70.0,
    ),
    outlines=(
        Outline("wall", "body", ((-60.0, -100.0), (-60.0, 260.0), (400.0, 260.0))),
        Outline("lid skin", "lid", ((-20.0, 120.0), (-20.0, 160.0), (420.0, 150.0))),
    ),
    gaps=(GapWant(("wall", "lid skin"), 5.0),),
)


def sure_of(project: Project, holes: float, play: float) -> Sure:
    (found,) = how_sure(analyse(wanting.set_sureness(project, holes, play)))
    assert found is not None
    return found


# -------------------------------------------------------------------------------------------------------------- by hand
def test_on_one_pin_by_hand() -> None:
    """Each hole moves the lid bodily: by h each, and p/2 of play; the wall is level with the skin's corner."""
    smallest = analyse(one_pin).gaps[0].smallest
    assert smallest is not None
    sure = sure_of(one_pin, 0.3, 0.2)
    assert sure.low == pytest.approx(smallest - (2 * 0.3 + 0.1), abs=1e-9)
    assert sure.likely == pytest.approx(smallest - math.sqrt(2 * 0.3**2 + 0.1**2), abs=1e-9)
    assert (sure.matters, sure.share) == ("A", pytest.approx(1.0))
    assert sure.by_pivot == (("A", pytest.approx(0.7)),)
    openings, lows = sure.lane
    over = analyse(one_pin).gaps[0].lane[1]
    np.testing.assert_allclose(lows, np.maximum(over - 0.7, 0.0), atol=1e-9)
    assert len(openings) == len(lows)
    assert sure.untrusted_deg == ()


def test_three_links_on_one_pin_by_hand() -> None:
    """A tab on the same pin: its hole and play are no matter of the lid, whose first link's hole is."""
    tab = replace(one_pin, links=(*one_pin.links, replace(one_pin.links[1], id="tab", kind="link")))
    with_tab = replace(tab, pivots=(Pivot("A", (0.0, 0.0), ("body", "lid", "tab")),))
    assert sure_of(with_tab, 0.3, 0.2).by_pivot == (("A", pytest.approx(0.7)),)


def test_on_equal_arms_by_hand() -> None:
    """Two level arms of 100 mm, upright pairs of pins 80 mm apart: the lid shifts sideways with either arm's length."""
    side = replace(
        hinge(
            "body lid low high",
            {
                "A": (0j, "body low"),
                "B": (100.0 + 0j, "low lid"),
                "C": (80.0j, "body high"),
                "D": (40.0 + 170.0j, "high lid"),
            },
            wanted_deg=2.0,
        ),
        outlines=(
            Outline("wall", "body", ((130.0, -50.0), (130.0, 0.0))),
            Outline("lid skin", "lid", ((110.0, 0.0), (110.0, 20.0))),
        ),
        gaps=(GapWant(("wall", "lid skin"), 1.0),),
    )
    analysis = analyse(wanting.set_sureness(side, 0.1, 0.0))
    poses, _ = poses_of(analysis, [])
    answer = _answer(poses, couple_of(analysis), analysis.project.sureness or Sureness(), sources_of(poses))
    # At shut, turn held. Low arm along x: lid shifts by t·(0, 1) if that arm turns; the high arm, along (40, 90)/98.49,
    # lets it shift across itself alone: across (−90, 40). A shift s of B along x needs a shift d of the lid with
    # d·x = s and d·(40, 90) = 0, so d = (s, −4/9·s); along y it needs none. The gap is along x: dg = −s.
    joints = [analysis.project.pivots[joint.pivot].id for joint in poses.closure.joints]
    at_b = answer.by_joint[0][joints.index("B")]
    assert (abs(at_b.real), at_b.imag) == (pytest.approx(1.0), pytest.approx(0.0, abs=1e-12))
    # A shift of D along the high arm by s needs d·(40, 90)/98.49 = s and d·x = 0: the gap doesn't change.
    assert abs(answer.by_joint[0][joints.index("D")]) == pytest.approx(0.0, abs=1e-12)


# -------------------------------------------------------------------------------------------------------- other hinges
def longer_arm(by: float) -> Project:
    """The lid on two arms, with the front arm's hole at B drilled further out: at each turn the lid stands elsewhere.

    Found here by hand's Newton on two circles, and written down as a hinge of its own, without any fault.
    """
    at = {pivot.id: complex(*pivot.at) for pivot in two_arms.pivots}
    front, rear = abs(at["B"] - at["A"]) + by, abs(at["D"] - at["C"])
    shift = 0j
    for _ in range(30):
        one, other = at["B"] + shift - at["A"], at["D"] + shift - at["C"]
        lack = np.array([abs(one) - front, abs(other) - rear])
        slope = np.array([[one.real, one.imag], [other.real, other.imag]]) / np.array([[abs(one)], [abs(other)]])
        step = np.linalg.solve(slope, lack)
        shift -= complex(*step)
    pivots = tuple(
        replace(pivot, at=(pivot.at[0] + shift.real, pivot.at[1] + shift.imag)) if "lid" in pivot.joins else pivot
        for pivot in two_arms.pivots
    )
    skin = two_arms.outline("lid skin")
    moved = tuple((x + shift.real, y + shift.imag) for x, y in skin.points)
    return replace(two_arms, pivots=pivots, outlines=(two_arms.outlines[0], replace(skin, points=moved)))


def test_a_longer_arm_is_what_analysis_of_another_hinge_says() -> None:
    """Central differences of whole analyses: their error falls by four with half the step."""
    analysis = analyse(wanting.set_sureness(two_arms, 0.1, 0.0))
    assert analysis.state == "moves"
    gap = analysis.gaps[0]
    assert gap.at_deg is not None
    poses, (own,) = poses_of(analysis, [gap.at_deg])
    answer = _answer(poses, couple_of(analysis), Sureness(0.1), sources_of(poses))
    joints = [two_arms.pivots[joint.pivot].id for joint in poses.closure.joints]
    place = joints.index("B")
    joint = poses.closure.joints[place]
    arm = next(k for k, name in enumerate(poses.closure.links) if name == "front")
    a, b = (complex(*two_arms.pivot(name).at) for name in "AB")
    hole = poses.e[own, arm] * (b - a) / abs(b - a)
    sign = 1.0 if joint.first == arm else -1.0
    rate = sign * (answer.by_joint[own, place] * hole).real

    def smallest(by: float) -> float:
        found = analyse(longer_arm(by)).gaps[0].smallest
        assert found is not None
        return found

    errors = [abs((smallest(step) - smallest(-step)) / (2 * step) - rate) for step in (4.0, 2.0, 1.0)]
    assert abs(rate) > 0.1
    assert errors[2] < 2e-3 * abs(rate)
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.25)
    assert errors[1] / errors[2] == pytest.approx(4.0, rel=0.25)


def test_a_pivot_moved_is_both_its_holes_moved() -> None:
    """`influence` moves a pivot in both its links; the rate is that of the two holes together."""
    analysis = analyse(demo_six_bar)
    gap = analysis.gaps[0]
    check = next(check for check in analysis.checks if check.kind == "gap")
    assert gap.at_deg is not None
    poses, (own,) = poses_of(analysis, [gap.at_deg])
    answer = _answer(poses, couple_of(analysis), Sureness(0.1), sources_of(poses))
    for place, joint in enumerate(poses.closure.joints):
        pivot = demo_six_bar.pivots[joint.pivot]
        found = influence_on(analysis, check, pivot.id)
        assert found is not None
        shift = poses.e[own, joint.first] - poses.e[own, joint.second]
        rates = [(answer.by_joint[own, place] * shift * way).real for way in (1.0, 1j)]
        assert rates == pytest.approx(found.per_mm, abs=1e-5)


def couple_of(analysis: Analysis) -> tuple[Body, Body]:
    a, b = analysis.gaps[0].between
    return analysis.bodies[a], analysis.bodies[b]


def sources_of(poses: Poses) -> _Sources:
    return _Sources(np.array([joint.pivot for joint in poses.closure.joints], dtype=np.intp), len(poses.closure.places))


# ----------------------------------------------------------------------------------------------------- exact re-solves
@pytest.mark.parametrize("name", ["two_arms", "demo_six_bar"])
def test_each_fault_by_itself_is_right_to_first_order(name: str) -> None:
    """Halve a fault, and what first order misses falls by four: holes of first links, of others, and play."""
    project = {"two_arms": two_arms, "demo_six_bar": demo_six_bar}[name]
    analysis = analyse(wanting.set_sureness(project, 0.2, 0.2))
    poses, _ = poses_of(analysis, [])
    poses = poses.pick(np.arange(4, len(poses.degs)))  # the demo's first poses stand near a dead point
    answer = _answer(poses, couple_of(analysis), Sureness(0.2, 0.2), sources_of(poses))
    on = sources_of(poses)
    joints = poses.closure.joints
    plain = moved_gaps(analysis, poses, faults(poses))[0][:, 0]
    first_link = [next(joint.first for joint in joints if joint.pivot == k) for k in range(on.pivots)]
    cases = [("first", k, -on.sums(answer.by_joint)[:, k], first_link[k]) for k in range(on.pivots)]
    cases += [("others", j, answer.by_joint[:, j], joint.second) for j, joint in enumerate(joints)]
    cases += [("leans", j, -answer.by_joint[:, j], joint.first) for j, joint in enumerate(joints)]
    for part, k, rate, link in cases:
        for way in (1.0, 1j):
            missed = []
            for size in (0.4, 0.2):
                found = moved_gaps(analysis, poses, faults(poses, part, k, size * way))[0][:, 0]
                predicted = -(rate * poses.e[:, link] * size * way).real
                missed.append(float(np.abs(found - plain - predicted).max()))
            assert missed[1] < 0.02, (part, k)
            assert missed[1] < 1e-9 or missed[0] / missed[1] == pytest.approx(4.0, rel=0.3), (part, k, missed)


def faults(poses: Poses, part: str = "first", place: int = 0, by: complex = 0j) -> Faults:
    pivots, joints = len(poses.closure.places), len(poses.closure.joints)
    found = {
        "first": np.zeros(pivots, complex),
        "others": np.zeros(joints, complex),
        "leans": np.zeros(joints, complex),
    }
    found[part][place] = by
    return Faults(**found)


@pytest.mark.parametrize(("holes", "play"), [(0.1, 0.0), (0.0, 0.2), (0.2, 0.1)])
def test_no_hinge_that_is_tried_is_worse_than_the_worst_case(holes: float, play: float) -> None:
    for project in (one_pin, two_arms):
        asked = wanting.set_sureness(project, holes, play)
        analysis = analyse(asked)
        (sure,), (tried,) = how_sure(analysis), sampled(analysis, 100, seed=3)
        assert sure is not None
        assert tried is not None
        assert sure.low is not None
        assert sure.likely is not None
        smallest = analysis.gaps[0].smallest
        assert smallest is not None
        assert tried.stuck == 0
        assert float(tried.smallest[0]) >= sure.low - 0.02
        assert float(tried.smallest[0]) < smallest  # they differ at all
        assert float(tried.smallest[0]) > smallest - 1.05 * (smallest - sure.low)
        assert sure.low <= sure.likely < smallest


def test_the_worst_case_itself_is_met_but_for_second_order() -> None:
    """All holes off to the full in the worst directions, moved exactly: the gap is the low end, to second order."""
    missed = []
    for holes in (0.4, 0.2):
        analysis = analyse(wanting.set_sureness(two_arms, holes, 0.0))
        gap = analysis.gaps[0]
        assert gap.at_deg is not None
        poses, (own,) = poses_of(analysis, [gap.at_deg])
        sources = sources_of(poses)
        answer = _answer(poses, couple_of(analysis), Sureness(holes), sources)
        worst = sources.taken(answer.by_joint, Sureness(holes))[0].sum(axis=1)[own]
        u, e, joints = answer.by_joint[own], poses.e[own], poses.closure.joints
        first, others = np.zeros(sources.pivots, complex), np.zeros(len(joints), complex)
        for k, joint in enumerate(joints):
            others[k] = holes * (u[k].conjugate() / abs(u[k])) * e[joint.second].conjugate()
            first[joint.pivot] = -holes * (u[k].conjugate() / abs(u[k])) * e[joint.first].conjugate()
        off = moved_gaps(analysis, poses, Faults(first, others, np.zeros(len(joints), complex)))[0][own, 0]
        assert gap.smallest is not None
        missed.append(abs(gap.smallest - worst - off))
        assert missed[-1] <= answer.second[own] * 1.5 + 0.02
    assert missed[0] / missed[1] == pytest.approx(4.0, rel=0.3)


def worst_faults(poses: Poses, by_joint: np.ndarray, holes: float) -> Faults:
    """All holes off to the full, each so that it takes most off the gap at the one pose given."""
    sources = sources_of(poses)

    def against(vectors: np.ndarray) -> np.ndarray:
        return vectors.conj() / np.where(np.abs(vectors) > 0.0, np.abs(vectors), 1.0)

    first, others = -holes * against(sources.sums(by_joint)[0]), holes * against(by_joint[0])
    for k, joint in enumerate(poses.closure.joints):
        others[k] *= poses.e[0, joint.second].conjugate()
    for pivot, link in {joint.pivot: joint.first for joint in poses.closure.joints}.items():
        first[pivot] *= poses.e[0, link].conjugate()
    return Faults(first, others, np.zeros(len(others), complex))


def test_random_linkages_where_trusted_are_right_within_the_trust() -> None:
    """Chains of every kind with two lines drawn at random: the worst faults, moved exactly, against first order."""
    met = 0
    for seed in range(20):
        dice, project = random.Random(seed), linkage(seed).project()
        size = max((max(map(abs, pivot.at)) for pivot in project.pivots), default=100.0)
        one, other = (
            tuple((dice.uniform(-1.5, 1.5) * size, dice.uniform(-1.5, 1.5) * size) for _ in "12") for _ in "ab"
        )
        lines = (Outline("one", project.fixed.id, one), Outline("other", project.panel.id, other))
        bare = replace(project, outlines=lines, gaps=(), marks=(), limits=(), measures=())
        holes = 1e-3 * size
        analysis = analyse(wanting.set_sureness(bare, holes), steps=2)
        if unanswered(analysis):
            continue
        poses, _ = poses_of(analysis, [])
        poses = poses.pick(np.array([dice.randrange(len(poses.degs))]))
        answer = _answer(poses, couple_of(analysis), Sureness(holes), sources_of(poses))
        worst = float(sources_of(poses).taken(answer.by_joint, Sureness(holes))[0].sum())
        off, closed = moved_gaps(analysis, poses, worst_faults(poses, answer.by_joint, holes))
        if answer.second[0] > 0.25 * worst or answer.distance[0] < 2.0 * worst or worst == 0.0 or not closed[0]:
            continue
        met += 1
        assert abs(off[0, 0] - (answer.distance[0] - worst)) <= 0.25 * worst, seed
    assert met >= 5


def test_trials_are_drawn_alike_from_the_same_seed() -> None:
    analysis = analyse(wanting.set_sureness(two_arms, 0.3, 0.1))
    (one,), (same,), (other,) = (sampled(analysis, 20, seed) for seed in (5, 5, 6))
    assert one is not None
    assert same is not None
    assert other is not None
    assert np.array_equal(one.smallest, same.smallest)
    assert not np.array_equal(one.smallest, other.smallest)
    assert len(one.smallest) == 20
    assert (np.diff(one.smallest) >= 0.0).all()


# ------------------------------------------------------------------------------------------------- trust, and what else
def test_near_a_dead_point_nothing_is_drawn_but_said() -> None:
    """Two arms opened as far as they go: towards the dead point the lane ends instead of spiking."""
    far = replace(two_arms, travel=replace(two_arms.travel, wanted_deg=180.0))
    analysis = analyse(wanting.set_sureness(far, 0.3, 0.1))
    assert analysis.opening.ends == "dead point"
    (sure,) = how_sure(analysis)
    assert sure is not None
    assert sure.untrusted_deg
    assert sure.untrusted_deg[-1][1] == pytest.approx(analysis.opening.reached_deg)
    assert math.isnan(sure.lane[1][-1])
    drawn = analysis.gaps[0].lane[1] - sure.lane[1]
    told = np.isfinite(drawn)
    assert told.sum() > 10
    assert np.nanmax(drawn) < 40.0 * np.nanmedian(drawn)


def test_where_the_smallest_gap_itself_can_t_be_told_there_is_no_figure() -> None:
    wild = wanting.set_sureness(two_arms, 60.0, 0.0)
    (sure,) = how_sure(analyse(wild))
    assert sure is not None
    assert (sure.low, sure.likely, sure.at_deg, sure.matters) == (None, None, None, "")


def test_what_the_trace_may_be_off_comes_on_top() -> None:
    doubted = replace(one_pin, outlines=tuple(replace(each, uncertain=0.5) for each in one_pin.outlines))
    plain, both = sure_of(one_pin, 0.3, 0.2), sure_of(doubted, 0.3, 0.2)
    assert plain.low is not None
    assert plain.likely is not None
    assert both.low == pytest.approx(plain.low - 1.0)
    smallest = analyse(one_pin).gaps[0].smallest
    assert smallest is not None
    assert both.likely == pytest.approx(smallest - math.hypot(smallest - plain.likely, 1.0))


def test_only_what_counts_for_the_want_counts() -> None:
    """The smallest gap of all lies before the want begins to hold."""
    early = sure_of(two_arms, 0.2, 0.1)
    late = sure_of(replace(two_arms, gaps=(replace(two_arms.gaps[0], after_deg=40.0),)), 0.2, 0.1)
    assert early.at_deg is not None
    assert late.at_deg is not None
    assert early.low is not None
    assert late.low is not None
    assert early.at_deg < 40.0 <= late.at_deg + 1e-9
    assert early.low < late.low


def test_without_a_word_on_holes_nothing_is_said() -> None:
    assert how_sure(analyse(two_arms)) == ()
    assert sampled(analyse(two_arms)) == ()
    assert wanting.set_sureness(wanting.set_sureness(two_arms, 0.2), 0.0) == two_arms
    assert wanting.set_sureness(two_arms, 0.0) is two_arms


@pytest.mark.parametrize("name", sorted(ALL))
def test_every_specimen_is_answered_or_told_why_not(name: str) -> None:
    analysis = analyse(wanting.set_sureness(ALL[name], 0.2, 0.1), steps=2)
    found = how_sure(analysis)
    assert bool(unanswered(analysis)) == (found == () and bool(analysis.gaps)) or not analysis.gaps
    for sure in found:
        if sure is not None and sure.low is not None:
            assert math.isfinite(sure.low)
            assert 0.0 <= sure.share <= 1.0
    for tried in sampled(analysis, 2):
        assert tried is None or len(tried.smallest) == 2


def test_figures_don_t_depend_on_the_number_of_reported_poses() -> None:
    asked = wanting.set_sureness(demo_six_bar, 0.25, 0.1)
    (one,), (other,) = (how_sure(analyse(asked, steps=steps)) for steps in (2, 181))
    assert one is not None
    assert other is not None
    assert (one.low, one.likely, one.by_pivot) == (other.low, other.likely, other.by_pivot)
