"""Sentences of pins and holes: every fault has one, in mm and inches, with figures that tell the difference."""

from __future__ import annotations

from dataclasses import replace

import pytest

from app.hardware import hardware
from app.hardware_words import (
    FAULTS,
    fault_sentence,
    fault_sentences,
    finishing_sentences,
    fit_words,
    joint_sentences,
    making_gist,
    origin_sentences,
    summary_sentences,
)
from kinematics.build_parts import Stack
from kinematics.fits import Fit
from kinematics.joints_made import JointMade, joints_made
from kinematics.made_faults import MakingFault
from tests.specimens import demo_six_bar


def joints(**stack: object) -> list[JointMade]:
    project = replace(demo_six_bar, stack=replace(Stack(), **stack))  # type: ignore[arg-type]
    return list(joints_made(project, hardware()).values())


@pytest.mark.parametrize("kind", FAULTS)
@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_fault_has_a_sentence(kind: str, units: str) -> None:
    for grave in (True, False):
        for links in ((), ("arm",), ("arm", "other")):
            fault = MakingFault(kind, grave, ("A", "B"), links, 7.31, 9.6, "holes")
            words = fault_sentence(fault, units)  # type: ignore[arg-type]
            assert words.endswith(".")
            assert "{" not in words
            assert "A and B" in words
            assert "None" not in words


def test_alike_faults_are_one_sentence() -> None:
    alike = [MakingFault("proud", False, (pin,), ("arm",), 2.0, 0.0) for pin in "ABC"]
    (one,) = fault_sentences(alike, "mm")
    assert one.startswith("Pins A, B and C: the shortest bushing stands 2 mm out")
    assert len(fault_sentences([*alike, replace(alike[0], have=1.0)], "mm")) == 2


def test_figures_that_would_read_alike_are_told_in_full() -> None:
    words = fault_sentence(MakingFault("pins too near", True, ("A", "B"), ("arm",), 15.01, 15.02, "holes"), "mm")
    assert "15.01 mm apart" in words
    assert "want 15.02 mm" in words


def test_fits() -> None:
    assert fit_words(Fit(0.013, 0.043), "mm") == "0.013 to 0.043 mm of clearance"
    assert fit_words(Fit(-0.034, -0.005), "mm") == "0.005 to 0.034 mm of interference"
    assert fit_words(Fit(-0.01, 0.02), "mm") == "from 0.01 mm of interference to 0.02 mm of clearance"
    assert fit_words(Fit(0.0508, 0.1778), "in") == '0.002 to 0.007" of clearance'


def test_a_joint_is_told_with_limits() -> None:
    told = "\n".join(joint_sentences(joints()[0], "mm"))
    assert "shank 7.91 to 8 mm" in told
    assert "cut 10.7 mm, ream 11 to 11.018 mm (H7)" in told
    assert "bushing 8 × 11 × 6 mm, sintered, 0.005 to 0.034 mm of interference" in told
    assert "0 to 0.105 mm of clearance" in told
    assert "grooves 7.6 mm" in "\n".join(joint_sentences(joints(kind="plain pin")[0], "mm"))


def test_the_work_depends_on_bushing_and_fixing() -> None:
    work = {
        (kind, fixing): " ".join(finishing_sentences(joints(bushing=kind, fixing=fixing)))
        for kind in ("sintered", "solid bronze", "none")
        for fixing in ("press", "bond")
    }
    assert "fitting pin" in work["sintered", "press"]
    assert "Never ream a sintered bushing" in work["sintered", "press"]
    assert "Never ream a sintered bushing" in work["sintered", "bond"]
    assert "only then ream its bore" in work["solid bronze", "press"]
    assert "once the compound has cured" in work["solid bronze", "bond"]
    assert "Never ream" not in work["solid bronze", "press"]
    for (kind, fixing), words in work.items():
        assert ("solvent" in words) == (fixing == "bond" and kind != "none")
        assert "before you ream" in words
    assert finishing_sentences(joints(bushing="none", holes="to size")) == []


def test_alike_pins_are_one_line_and_sources_are_told() -> None:
    (line,) = summary_sentences(joints(), "mm")
    assert line.startswith("O1, ")
    told = " ".join(origin_sentences(joints()))
    for standard in ("ISO 2341", "ISO 2795", "ISO 7089", "from memory"):
        assert standard in told
    assert making_gist({}, 0, "mm") == "no pin yet"
    by_pin = {joint.pivot: joint for joint in joints()}
    assert making_gist(by_pin, 1, "mm") == f"1 fault, {len(by_pin)} clevis pins 8 mm"
