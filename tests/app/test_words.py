"""The sentences, read as a builder reads them: want and have in both units, worst case and edge cases."""

from __future__ import annotations

import math
from dataclasses import replace
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app import words
from kinematics import analyse
from kinematics.pinching import Pinch
from kinematics.project import Attachment, Device, Loads
from kinematics.results import Check, Gap, Opening
from tests.specimens import empty, four_bar_a1

GAP = Check("gap", ("windscreen", "hatch skin"), want=6.0, have=3.1, ok=False, margin=-2.9, deg=31.24, place=(0.0, 0.0))
LIMIT = Check("limit", ("rear corner",), want=-2.0, have=-3.3, ok=False, margin=-1.3, deg=12.0, side="dx_at_least")
OPENING = Check("opening", (), want=75.0, have=75.0, ok=True, margin=0.0, deg=75.0)
SHUT = Check("shut gap", ("sill", "lid"), want=3.2, have=7.1, ok=False, margin=-0.7, deg=0.0, most=6.4)
ROOF = Check("roof", ("hatch",), want=0.0, have=12.0, ok=True, margin=12.0, deg=41.0)
FRONT = Check("front edge", (), want=1800.0, have=1950.0, ok=True, margin=150.0, deg=75.0)
ZONE = Check("zone", ("wall", "C"), want=0.0, have=-3.14, ok=False, margin=-3.14, deg=0.0)
SPACING = Check("pin spacing", ("rear arm", "A", "B"), want=30.0, have=28.25, ok=False, margin=-1.75)


@pytest.mark.parametrize(
    ("check", "units", "sentence"),
    [
        (GAP, "mm", "windscreen – hatch skin: only 3.1 mm at 31.2°, wants 6.0 mm"),
        (GAP, "in", 'windscreen – hatch skin: only 1/8" at 31.2°, wants 15/64"'),
        (replace(GAP, have=10.6, ok=True), "mm", "windscreen – hatch skin: 10.6 mm at 31.2°, wants 6.0 mm"),
        (replace(GAP, have=0.0), "mm", "windscreen – hatch skin: touches at 31.2°, wants 6.0 mm"),
        (replace(GAP, after_deg=40.0), "mm", "windscreen – hatch skin: only 3.1 mm at 31.2°, wants 6.0 mm from 40° on"),
        (
            replace(GAP, have=None, deg=None, after_deg=80.0),
            "mm",
            "windscreen – hatch skin: no figure, as the sweep doesn't get there; wants 6.0 mm from 80° on",
        ),
        (OPENING, "mm", "opens to 75°: has 75°"),
        (replace(OPENING, have=62.34, ok=False), "mm", "opens to 75°: stops at 62.3°"),
        (SPACING, "mm", "pins A – B on rear arm: 28.2 mm apart, wants 30.0 mm"),
        (ZONE, "mm", "pins of wall in their zone: C 3.1 mm outside"),
        (ZONE, "in", 'pins of wall in their zone: C 1/8" outside'),
        (replace(ZONE, have=-0.002), "mm", "pins of wall in their zone: C 0.002 mm outside"),
        (replace(ZONE, have=4.2, ok=True), "mm", "pins of wall in their zone: C nearest to its edge, 4.2 mm inside"),
        (
            replace(ZONE, have=None, margin=-math.inf),
            "mm",
            "pins of wall in their zone: no figure, as the zone bounds no region; wants all inside",
        ),
        (LIMIT, "mm", "rear corner: goes 3.3 mm to the left at 12°, wants at most 2.0 mm to the left"),
        (
            replace(LIMIT, side="dx_at_most", want=0.0, have=4.0),
            "mm",
            "rear corner: goes 4.0 mm to the right at 12°, wants nothing to the right",
        ),
        (
            replace(LIMIT, side="dy_at_least", want=5.0, have=3.0),
            "mm",
            "rear corner: goes 3.0 mm up at 12°, wants at least 5.0 mm up",
        ),
        (
            replace(LIMIT, side="dy_at_most", want=-5.0, have=-2.0),
            "mm",
            "rear corner: goes 2.0 mm down at 12°, wants at least 5.0 mm down",
        ),
        (replace(LIMIT, ahead=1), "mm", "rear corner: goes 3.3 mm back at 12°, wants at most 2.0 mm back"),
        (
            replace(LIMIT, side="dx_at_most", want=2.0, have=3.3, ahead=-1),
            "mm",
            "rear corner: goes 3.3 mm back at 12°, wants at most 2.0 mm back",
        ),
        (
            replace(LIMIT, side="dx_at_most", want=0.0, have=3.3, ahead=1),
            "mm",
            "rear corner: goes 3.3 mm ahead at 12°, wants nothing ahead",
        ),
        (
            replace(LIMIT, side="dy_at_least", want=-2.0, have=-3.0, ahead=-1),
            "mm",
            "rear corner: goes 3.0 mm down at 12°, wants at most 2.0 mm down",
        ),
        (SHUT, "mm", "sill – lid, shut: 7.1 mm, wants 3.2 to 6.4 mm"),
        (SHUT, "in", 'sill – lid, shut: 9/32", wants 1/8" to 1/4"'),
        (replace(SHUT, have=2.0), "mm", "sill – lid, shut: only 2.0 mm, wants 3.2 to 6.4 mm"),
        (replace(SHUT, have=0.0), "mm", "sill – lid, shut: touches, wants 3.2 to 6.4 mm"),
        (replace(SHUT, want=0.0), "mm", "sill – lid, shut: 7.1 mm, wants at most 6.4 mm"),
        (replace(SHUT, most=None, ok=True), "mm", "sill – lid, shut: 7.1 mm, wants at least 3.2 mm"),
        (replace(SHUT, most=None, want=0.0, have=0.0), "mm", "sill – lid, shut: touches, wants a gap"),
        (
            replace(SHUT, have=None),
            "mm",
            "sill – lid, shut: no figure, as a link of the pair has no pins; wants 3.2 to 6.4 mm",
        ),
        (ROOF, "mm", "hatch under the roof: 12.0 mm left at 41°"),
        (replace(ROOF, have=-12.0, ok=False), "mm", "hatch under the roof: 12.0 mm through it at 41°"),
        (FRONT, "mm", "front edge over the floor: 1950.0 mm at 75°, wants at least 1800.0 mm"),
        (
            replace(FRONT, subject=("nose",), have=1700.0, ok=False),
            "mm",
            "nose over the floor: only 1700.0 mm at 75°, wants at least 1800.0 mm",
        ),
        (
            replace(FRONT, have=None, deg=None, ok=False),
            "mm",
            "front edge over the floor: no figure, as the panel isn't drawn; wants at least 1800.0 mm",
        ),
        (replace(LIMIT, have=-0.0, ok=True), "mm", "rear corner: goes 0.0 mm at 12°, wants at most 2.0 mm to the left"),
    ],
)
def test_each_kind_of_check_is_one_sentence_with_want_and_have(check: Check, units: str, sentence: str) -> None:
    assert words.check_sentence(check, units) == sentence


def test_the_three_pieces_of_a_check() -> None:
    assert words.check_name(GAP) == "windscreen – hatch skin"
    assert (words.check_want(GAP, "mm"), words.check_have(GAP, "mm")) == ("6.0 mm", "3.1 mm at 31.2°")
    assert words.check_name(replace(LIMIT, side="dy_at_most")) == "rear corner, height"
    assert (words.check_want(OPENING, "in"), words.check_have(OPENING, "in")) == ("75°", "75°")
    assert words.check_have(replace(GAP, have=None, deg=None), "mm") == "—"


@pytest.mark.parametrize(
    ("check", "units", "want", "have"),
    [
        (replace(GAP, have=5.98), "mm", "6 mm", "5.98 mm at 31.2°"),
        (replace(GAP, have=5.98), "in", '0.2362"', '0.2354" at 31.2°'),
        (replace(OPENING, have=74.99, ok=False), "mm", "75°", "74.99°"),
        (replace(LIMIT, want=-0.02, have=-0.01, ok=True), "mm", "at most 0.02 mm to the left", "0.0 mm at 12°"),
        (replace(SHUT, have=6.41), "mm", "3.2 to 6.4 mm", "6.41 mm"),
        (replace(SHUT, have=3.19), "mm", "3.2 to 6.4 mm", "3.19 mm"),
        (replace(ROOF, have=-0.01, ok=False), "mm", "nothing through it", "0.01 mm through it at 41°"),
        (replace(FRONT, have=1799.99, ok=False), "mm", "at least 1800 mm", "1799.99 mm at 75°"),
        (replace(LIMIT, have=-2.01), "mm", "at most 2 mm to the left", "2.01 mm to the left at 12°"),
    ],
)
def test_rounding_never_hides_a_shortfall(check: Check, units: str, want: str, have: str) -> None:
    assert (words.check_want(check, units), words.check_have(check, units)) == (want, have)


@given(
    st.sampled_from(["mm", "in"]), st.floats(min_value=1.0, max_value=1e3), st.floats(min_value=0.011, max_value=0.99)
)
def test_a_check_that_falls_short_by_a_hundredth_reads_so(units: str, want: float, short_by: float) -> None:
    check = replace(GAP, want=want, have=want - short_by)
    assert words.check_want(check, units) != words.check_have(check, units).split(" at ")[0]


def test_the_list_keeps_the_order_and_marks_by_sign_not_colour() -> None:
    lines = words.worst_first([GAP, OPENING], "mm")
    assert [line[0] for line in lines] == ["✗", "✓"]
    assert lines[0].endswith("only 3.1 mm at 31.2°, wants 6.0 mm")


def test_summary_counts() -> None:
    good = replace(GAP, have=7.0, ok=True)
    assert words.checks_summary([]) == "nothing is checked"
    assert words.checks_summary([good]) == "the one check holds"
    assert words.checks_summary([good, OPENING]) == "both checks hold"
    assert words.checks_summary([good, OPENING, good]) == "all 3 checks hold"
    assert words.checks_summary([GAP]) == "the one check falls short"
    assert words.checks_summary([GAP, OPENING]) == "1 of 2 checks falls short"
    assert words.checks_summary([GAP, LIMIT, OPENING]) == "2 of 3 checks fall short"
    assert words.checks_summary([GAP, LIMIT]) == "both checks fall short"
    assert words.checks_summary([GAP, LIMIT, GAP]) == "all 3 checks fall short"


def test_a_change_is_plus_where_it_is_better() -> None:
    before = replace(GAP, have=1.8)
    assert words.change_since(GAP, before, "mm") == "+1.3"
    assert words.change_since(before, GAP, "mm") == "−1.3"
    assert words.change_since(GAP, GAP, "mm") == "±0"
    # a mark that goes further to the left is worse under "at least", better under "at most"
    assert words.change_since(LIMIT, replace(LIMIT, have=-2.9), "mm") == "−0.4"
    at_most = replace(LIMIT, side="dx_at_most")
    assert words.change_since(at_most, replace(at_most, have=-2.9), "mm") == "+0.4"
    assert words.change_since(replace(OPENING, have=60.0), OPENING, "in") == "−15°"
    assert words.change_since(OPENING, replace(OPENING, have=62.7), "in") == "+12.3°"
    # a shut gap that was too wide is better when it gets narrower
    assert words.change_since(replace(SHUT, have=6.9, margin=-0.5), SHUT, "mm") == "+0.2"
    assert words.change_since(GAP, None, "mm") == ""
    assert words.change_since(replace(GAP, have=None), GAP, "mm") == ""
    assert words.change_of_angle(0.01) == "±0°"
    assert words.change_of_length(math.nan, "mm") == words.change_of_length(None, "mm") == ""


@pytest.mark.parametrize(
    ("opening", "sentence"),
    [
        (Opening(75.0, 75.0, 93.44, "wanted opening"), "opens to 75° as wanted; it could go on to 93.4°"),
        (Opening(75.0, 75.0, 75.0, "wanted opening"), "opens to 75° as wanted, and no further"),
        (
            Opening(75.0, 62.34, 62.34, "dead point"),
            "opens to 62.3° of the 75° wanted: the panel can turn no further on this branch (dead point)",
        ),
        (
            Opening(75.0, 74.99, 74.99, "dead point"),
            "opens to 74.99° of the 75° wanted: the panel can turn no further on this branch (dead point)",
        ),
        (Opening(75.0, 40.0, 93.0, "device stop"), "opens to 40° of the 75° wanted: a strut is at its end there"),
        (Opening(75.0, 0.0, 0.0, "locked"), "doesn't open to the 75° wanted"),
        (Opening(75.0, 0.0, 0.0, "loose"), "doesn't open to the 75° wanted"),
        (
            Opening(75.0, 0.0, 0.0, "dead point"),
            "doesn't open to the 75° wanted: the panel can turn no further on this branch (dead point)",
        ),
    ],
)
def test_the_opening_says_how_far_and_why_no_further(opening: Opening, sentence: str) -> None:
    assert words.opening_sentence(opening) == sentence


def test_a_panel_that_slides_is_at_no_dead_point() -> None:
    """It moves; it only doesn't turn at shut. `mobility_sentence` stands beside and says so."""
    opening = Opening(75.0, 0.0, 0.0, "dead point")
    assert words.opening_sentence(opening, "slides") == "doesn't open to the 75° wanted"


def test_dead_point() -> None:
    assert words.dead_point_sentence(93.44) == "dead point at 93.4°"
    assert words.dead_point_sentence(None) == "no dead point up to 180°"


@pytest.mark.parametrize(
    ("mobility", "state", "sentence"),
    [
        (1, "moves", "moves in one way (mobility 1)"),
        (2, "moves", "the panel moves in one way, other links too (mobility 2)"),
        (1, "slides", "the panel slides at shut without turning (mobility 1)"),
        (0, "locked", "the panel is locked (mobility 0)"),
        (3, "loose", "the panel hangs loose: its turn doesn't settle where it is (mobility 3)"),
    ],
)
def test_mobility(mobility: int, state: str, sentence: str) -> None:
    analysis = SimpleNamespace(mobility=mobility, state=state, project=four_bar_a1)
    assert words.mobility_sentence(cast("Any", analysis)) == sentence


def test_before_the_first_pin_nothing_hangs_loose() -> None:
    assert words.mobility_sentence(analyse(empty)) == "nothing is pinned yet (mobility 3)"


def gap(clear: list[float], touching: tuple[tuple[float, float], ...] = ()) -> Gap:
    lane = (np.linspace(0.0, 75.0, len(clear)), np.array(clear))
    return Gap(("sill", "lid"), 0.0, 1.0, None, 1.0, touching, None, 0.0, None, False, lane)


def test_touching_stretches() -> None:
    assert words.touching_words(gap([1.0, 2.0], ((31.0, 34.5), (40.0, 40.0)))) == "31° to 34.5°, 40°"
    assert words.touching_words(gap([1.0])) == "—"


def test_contacts_that_nobody_asked_about_are_told_all_the_same() -> None:
    touching = ((67.1, 75.0),)
    assert words.unasked_contacts([gap([1.0, 2.0])]) == ""
    assert words.unasked_contacts([replace(gap([1.0], touching), wanted=True)]) == ""  # that is a check
    one = gap([1.0], touching)
    assert words.unasked_contacts([gap([1.0]), one]) == "nobody asked, but sill – lid touch at 67.1° to 75°"
    assert words.unasked_contacts([one] * 3).count("sill – lid") == 3
    assert words.unasked_contacts([one] * 5).endswith("; and 3 more pairs")


PINCH = Pinch(("sill", "lid"), opens_to=210.0, closes_to=4.8, deg=0.0, place=(1.0, 2.0))


def test_places_where_a_finger_is_caught_are_named_with_the_standard() -> None:
    """EN ISO 13854 (ISO 13854:2017): the least gap for a finger is 25 mm."""
    told = words.pinch_caution([PINCH], "mm")
    assert told == (
        "Here a finger fits and is then crushed (below 25.0 mm, EN ISO 13854): sill – lid closes to 4.8 mm at 0°."
    )
    assert told in words.caution_sentences(four_bar_a1, [PINCH], "mm")[1]
    assert "63/64" in words.pinch_caution([PINCH], "in")
    assert words.pinch_caution([], "mm") == ""
    assert words.pinch_words(replace(PINCH, closes_to=0.0, deg=31.2), "mm") == "closes at 31.2°"
    assert words.pinch_caution([PINCH] * 5, "mm").count("sill") == 5
    off = replace(PINCH, uncertain=1.5)
    assert words.pinch_words(off, "mm") == "closes to 4.8 mm ± 1.5 mm (trace) at 0°"
    assert "(below 25.0 mm, EN ISO 13854; traces taken at their worst): sill – lid closes" in words.pinch_caution(
        [PINCH, off], "mm"
    )
    assert words.pinch_caution([PINCH] * 9, "mm").endswith("; and 5 more places.")


def test_cautions_name_the_panel_the_pinch_points_and_what_figures_are_worth() -> None:
    cautions = words.caution_sentences(four_bar_a1, [], "mm")
    assert [cautions[0][:16], cautions[1][:12], cautions[-1][:11]] == [
        "A panel overhead",
        "Pinch points",
        "The figures",
    ]
    assert "local codes" in cautions[-1]
    at = Attachment("ground", (0.0, 0.0))
    strut = Device("strut", "gas strut", 1, at, at, extended=500.0, stroke=200.0, force=300.0, ratio=1.3)
    loaded = replace(four_bar_a1, loads=Loads(devices=(strut,)))
    assert any("Struts and springs" in sentence for sentence in words.caution_sentences(loaded, [], "mm"))
    assert not any("safe" in sentence for sentence in words.caution_sentences(loaded, [], "mm"))


# --------------------------------------------------------------------------------------------------------------- doubt
@pytest.mark.parametrize(
    ("have", "want", "off", "ok", "told"),
    [
        (7.0, 4.0, 2.0, True, "a – b: 7.0 mm ± 2.0 mm (trace) at 31.2°, wants 4.0 mm"),
        (7.0, 6.0, 2.0, False, "a – b: 7.0 mm ± 2.0 mm (trace) at 31.2°, wants 6.0 mm; at the low end 5.0 mm"),
        (1.0, 0.0, 2.0, False, "a – b: 1.0 mm ± 2.0 mm (trace) at 31.2°, wants 0.0 mm; at the low end they touch"),
        (5.0, 6.0, 2.0, False, "a – b: only 5.0 mm ± 2.0 mm (trace) at 31.2°, wants 6.0 mm"),
    ],
)
def test_a_doubt_is_told_and_where_it_alone_makes_it_fall_short(
    have: float, want: float, off: float, ok: bool, told: str
) -> None:
    check = Check("gap", ("a", "b"), want, have, ok, have - off - want, 31.2, uncertain=off)
    assert words.check_sentence(check, "mm") == told


def test_a_shut_gap_may_be_too_wide_for_its_doubt() -> None:
    check = Check("shut gap", ("a", "b"), 2.0, 5.0, False, -1.0, 0.0, most=6.0, uncertain=2.0)
    assert words.check_sentence(check, "mm").endswith("wants 2.0 to 6.0 mm; at the high end 7.0 mm")
