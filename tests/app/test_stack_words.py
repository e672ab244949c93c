"""What is said of the stack."""

from __future__ import annotations

from dataclasses import replace

import pytest

from app.stack_words import FAULTS, fault_words, layer_words, pin_sentences, pin_title, stack_gist, stack_sentences
from app.stacked import stacked
from kinematics.build_parts import LayerChoice, Stack
from kinematics.stacking import StackFault
from tests.app.sharing import demo, shared_analyse


@pytest.mark.parametrize("what", FAULTS)
def test_every_fault_is_a_sentence_that_names_whom_it_is_about(what: str) -> None:
    fault = StackFault(what, "arm", "link", 12.34)
    words = fault_words(fault, "mm")
    assert words.endswith(".")
    assert "{" not in words
    if what not in ("no way", "not found"):
        assert "arm" in words
    if what in ("meet", "shank", "end", "pins"):
        assert "at 12.3°" in words
        assert "when shut" in fault_words(replace(fault, deg=0.0), "mm")
        assert "at" not in fault_words(replace(fault, deg=None), "mm").split(".")[0].split()


def test_layers_are_said_in_words() -> None:
    assert [layer_words((2,)), layer_words((1, 3))] == ["2", "1 and 3"]


def test_what_was_found_is_said_to_be_the_fewest() -> None:
    stack = stacked(shared_analyse(demo()))
    sentences = stack_sentences(stack, "mm")
    assert sentences[0].startswith(f"{stack.count} layers, ")
    assert sentences[1] == "Fewer can't do: all ways were tried."
    assert stack_gist(demo()) == "layers found"


def test_layers_by_hand_are_said_to_be() -> None:
    project = replace(demo(), stack=Stack(layers=(LayerChoice("arm", (7,)),)))
    assert stack_gist(project) == "layers by hand"
    assert "They were set by hand." in stack_sentences(stacked(shared_analyse(project)), "mm")


def test_a_pin_says_what_it_is_and_what_lies_on_it() -> None:
    pin = next(pin for pin in stacked(shared_analyse(demo())).pins if pin.pivot == "O1")
    assert pin_title(pin, "mm") == "Pin O1: clevis pin ⌀8 mm, 40 mm long, ISO 2341"
    told = " ".join(pin_sentences(pin, "mm"))
    for words in (
        "Grip 30.4 mm",
        "29.3 mm to 31.5 mm",
        "4 washers 1.6 mm, tube 8 mm",
        "36.5 mm below the head",
        "0.23 mm",
        "Beneath the clip, to fill up",
    ):
        assert words in told
    assert '"' in pin_title(pin, "in")
    bolts = replace(demo(), stack=Stack(kind="shoulder bolt"))
    bolt = next(pin for pin in stacked(shared_analyse(bolts)).pins if pin.pivot == "O1")
    assert "Beneath the nut, to fill up" in " ".join(pin_sentences(bolt, "mm"))


def test_a_plain_pin_says_its_grooves() -> None:
    project = replace(demo(), stack=Stack(kind="plain pin"))
    pin = stacked(shared_analyse(project)).pins[0]
    told = " ".join(pin_sentences(pin, "mm"))
    assert "Two grooves" in told
    assert "measure it first" in told
