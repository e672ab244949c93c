"""What links are built of: own figures before common ones before usual ones; what makes no sense is refused."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from kinematics import edits
from kinematics.build_parts import Cutout, EyeSize, LayerChoice, PinChoice, Plate, Plates, Side, Stack
from kinematics.errors import ProjectError
from tests.specimens import demo_six_bar

if TYPE_CHECKING:
    from collections.abc import Callable


def test_a_plate_has_its_own_figures_then_the_common_then_the_usual_ones() -> None:
    plates = Plates(thickness=5.0, each=(Plate("arm", count=2),))
    arm, other = plates.of("arm", width=30.0), plates.of("short link")
    assert (arm.thickness, arm.count, arm.radius, arm.density) == (5.0, 2, 15.0, 7850.0)
    assert (other.thickness, other.count, other.radius) == (5.0, 1, 14.0)
    assert Plates().of("arm").thickness == 4.0
    named_all = Plates(thickness=5.0, each=(Plate("all", thickness=9.0),))
    assert (named_all.common.thickness, named_all.of("all").thickness) == (5.0, 9.0)


def test_a_pin_has_its_own_figures_then_the_common_then_the_usual_ones() -> None:
    stack = Stack(diameter=10.0, pins=(PinChoice("A", bushing="none"),))
    assert (stack.of("A").diameter, stack.of("A").bushing, stack.of("A").kind) == (10.0, "none", "clevis pin")
    assert (stack.of("B").bushing, stack.of("B").fixing, stack.of("B").wall) == ("sintered", "press", None)


REFUSED: dict[str, Callable[[], object]] = {
    "count is 3": lambda: Plates(count=3),
    "thickness is 0": lambda: Plate("arm", thickness=0.0),
    'the link "arm" is named twice': lambda: Plates(each=(Plate("arm"), Plate("arm"))),
    "between doesn't name two pins": lambda: Side(("A", "A"), 3.0),
    "edge has one corner only": lambda: Plate("arm", edge=((0.0, 0.0, 0.0),)),
    "a corner of edge isn't": lambda: Plate("arm", edge=((0.0,), (1.0,))),
    "diameter is -1": lambda: Cutout((0.0, 0.0), -1.0),
    "kind is": lambda: PinChoice("A", kind="nail"),
    "no layer is named": lambda: LayerChoice("arm", ()),
    "washer is -1": lambda: Stack(washer=-1.0),
}


@pytest.mark.parametrize("said", REFUSED)
def test_what_makes_no_sense_is_refused_in_a_sentence(said: str) -> None:
    with pytest.raises(ProjectError) as fault:
        REFUSED[said]()
    assert said in str(fault.value)


def test_what_is_built_follows_new_names_and_goes_with_its_link_or_pin() -> None:
    link, pin, other = "arm", "O1", "X"
    plates = Plates(each=(Plate(link, eyes=(EyeSize(pin, 20.0),), sides=(Side((pin, other), -4.0),)),))
    stack = Stack(pins=(PinChoice(pin, diameter=12.0),), layers=(LayerChoice(link, (2,)),))
    project = edits.replace(demo_six_bar, plates=plates, stack=stack)
    renamed = edits.rename_pivot(edits.rename_link(project, link, "first arm"), pin, "O")
    assert renamed.plating.of("first arm").eyes == (EyeSize("O", 20.0),)
    assert renamed.plating.of("first arm").sides == (Side(("O", other), -4.0),)
    assert renamed.stacking.of("O").diameter == 12.0
    assert renamed.stacking.layers[0].link == "first arm"
    without_pin = edits.remove_pivot(project, pin)
    assert (without_pin.plating.each[0].eyes, without_pin.stacking.pins) == ((), ())
    without_link = edits.remove_link(project, link)
    assert (without_link.plating.each, without_link.stacking.layers) == ((), ())
