"""What only the whole travel tells: grips, whether plates pass, checks that the layout falls short of."""

from __future__ import annotations

from dataclasses import replace

from app.making.study import study_of
from kinematics.build_parts import LayerChoice, Stack
from tests.specimens import demo_six_bar, half_drawn, parallelogram


def test_a_sound_hinge_has_grips_and_no_faults() -> None:
    study = study_of(demo_six_bar, "mm")
    assert set(study.pins) == {pivot.id for pivot in demo_six_bar.pivots}
    assert all(pin.grip > 8.0 for pin in study.pins.values())
    assert study.faults == ()


def test_layers_that_cannot_be_are_faults() -> None:
    layers = tuple(LayerChoice(link.id, (1,)) for link in demo_six_bar.links if link.kind == "link")
    study = study_of(replace(demo_six_bar, stack=Stack(layers=layers)), "mm")
    assert any("are in one layer, but their plates meet" in fault for fault in study.faults)


def test_a_layout_that_falls_short_is_a_caution_and_a_half_drawn_one_no_trouble() -> None:
    assert any("falls short of 1 of its checks" in said for said in study_of(parallelogram, "mm").cautions)
    assert study_of(half_drawn, "mm").faults == ()
