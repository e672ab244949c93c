"""What the strip shows of an analysis: lanes, marks and words, without a widget."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from app.travel import lanes_of, marks_of, scale_of, travel_note
from app.window import demo
from kinematics import analyse, edits
from kinematics.project import Travel
from tests import specimens


def test_a_lane_shows_the_smallest_gap_and_the_want() -> None:
    lane, gap = lanes_of(analyse(demo()), "mm")[0], analyse(demo()).gaps[0]
    assert gap.smallest is not None
    assert gap.at_deg is not None
    assert lane.least == (gap.at_deg, gap.smallest)
    assert lane.want == gap.at_least == 10.0
    assert "10.0 mm" in lane.want_words
    assert lane.told.startswith("✓ least 10.6 mm at 3.2°")
    assert lane.top > max(gap.smallest, 10.0)
    assert np.min(lane.ys) >= gap.smallest - 1e-9


def test_a_gap_that_falls_short_says_so_without_colour() -> None:
    project = demo()
    short = edits.set_gap(project, project.gaps[0].between, 11.0)
    assert lanes_of(analyse(short), "mm")[0].told.startswith("✗ least")


def test_where_a_trace_may_be_off_the_head_is_short_and_the_tip_says_why() -> None:
    project = demo()
    assert lanes_of(analyse(project), "mm")[0].head == ""  # the figures as they are
    off = replace(project, outlines=tuple(replace(each, uncertain=1.5) for each in project.outlines))
    lane = lanes_of(analyse(off), "mm")[0]
    assert lane.told == "✗ least 10.6 mm ± 3.0 mm (trace) at 3.2°"
    assert lane.head == "✗ 10.6 ± 3.0 mm at 3.2°"
    assert lanes_of(analyse(off), "in")[0].head == '✗ 27/64" ± 1/8" at 3.2°'


def test_a_contact_is_told_in_words_and_drawn_as_a_stretch() -> None:
    project = demo()
    walled = edits.move_outline_point(project, project.outlines[0].id, 3, (40.0, 330.0))
    lane = lanes_of(analyse(walled), "mm")[0]
    assert "touches at" in lane.told
    assert lane.touching


def test_the_marks_are_words() -> None:
    assert [mark.words for mark in marks_of(analyse(demo()))][:2] == ["shut", "wanted 75°"]


def test_a_dead_point_near_the_wanted_opening_is_on_the_scale() -> None:
    """Norton's A1 rocker: its dead point lies 2.4° before the wanted opening could be reached."""
    analysis = analyse(replace(specimens.four_bar_a1, travel=Travel("anticlockwise", 75.0)))
    dead = analysis.dead_point_deg
    assert dead is not None
    assert 0.0 < dead < 75.0
    assert scale_of(analysis).last == 75.0
    assert marks_of(analysis)[-1].words == f"dead point {dead:.1f}°"


def test_every_specimen_gives_lanes_without_nan_and_a_note_where_nothing_moves() -> None:
    for name, project in specimens.ALL.items():
        analysis = analyse(project)
        for lane in lanes_of(analysis, "mm"):
            assert np.isfinite(lane.ys).all(), name
            assert lane.top > 0.0, name
            assert "nan" not in lane.told, name
        assert scale_of(analysis).last > scale_of(analysis).first, name
        if analysis.state != "moves":
            assert travel_note(analysis), name
