"""What struts and springs are called, and what is told of them, in the builder's units."""

from __future__ import annotations

from dataclasses import replace

from app.device_words import device_remarks, device_sentence, load_name
from app.report import all_remarks
from kinematics import analyse, edits, loading
from kinematics.parts import Attachment, Device, Outline
from tests.specimens import demo_six_bar

FIXED, PANEL = demo_six_bar.fixed.id, demo_six_bar.panel.id
FROM, TO = Attachment(FIXED, (60.0, -120.0)), Attachment(PANEL, (420.0, 240.0))
STRUT = Device("strut", "gas strut", 1, FROM, TO, extended=890.0, stroke=390.0, force=300.0, ratio=1.3)
PROJECT = loading.add_device(replace(demo_six_bar, loads=None), STRUT)


def test_names() -> None:
    assert load_name("handle", "handle") == "handle"
    assert load_name("mass", "on hatch") == "mass on hatch"
    assert [load_name("device", "strut", part) for part in (0, 1)] == ["first end of strut", "second end of strut"]


def test_a_length_is_told_in_the_builders_units() -> None:
    analysis = analyse(PROJECT, 31)
    said = device_sentence(analysis, "strut", "mm")
    assert said.startswith("From pin to pin 509.1 mm shut, 509.1 mm to 883.")
    assert "Left to its ends: 9.1 mm pushed in, " in said
    assert device_sentence(analysis, "strut", "in").startswith('From pin to pin 20 3/64" shut')
    assert device_sentence(analysis, "gone", "mm") == ""


def test_remarks_say_what_touches_and_where_but_not_in_a_drag() -> None:
    wall = Outline("wall", FIXED, ((240.0, -60.0), (240.0, 90.0)))
    project = edits.add_outline(PROJECT, wall)
    analysis = analyse(project, 3)
    (said,) = device_remarks(analysis, "mm")
    assert said.startswith("Seen from the side “strut” touches “wall” at 0°")
    assert device_remarks(analysis, "mm", at_rest=False) == []
    assert said in all_remarks(project, analysis)


def test_a_strut_that_cannot_be_had_is_told_with_its_lengths() -> None:
    project = loading.change_device(PROJECT, "strut", extended=900.0, stroke=460.0)
    said = device_remarks(analyse(project, 3), "mm")
    assert said[0].startswith("No strut can be had like “strut”: pushed in it would be 440.0 mm long")
