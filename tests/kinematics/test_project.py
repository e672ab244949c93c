"""The model: what is refused, in which words and where; what is taken and in which form."""

from __future__ import annotations

import copy
import math
import pickle
import subprocess
import sys
from dataclasses import FrozenInstanceError, fields, is_dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from hypothesis import given

from kinematics.errors import HingewrightError, OutlineError, ProjectError
from kinematics.parts import LIMIT_SIDES
from kinematics.project import (
    Attachment,
    Device,
    GapWant,
    Handle,
    Kept,
    Limit,
    Link,
    Loads,
    Mark,
    Mass,
    Outline,
    Pivot,
    Project,
    Travel,
    Zone,
    entry,
)
from tests import specimens, strategies

if TYPE_CHECKING:
    from collections.abc import Callable

BODY, LID, ARM = Link("body", "fixed"), Link("lid", "panel"), Link("arm")
OPENS = Travel("anticlockwise", 75.0)
LINE = ((0.0, 0.0), (10.0, 0.0))
ENDS = Attachment("body", (0.0, 0.0)), Attachment("arm", (5.0, 0.0))


def project(**given_parts: Any) -> Project:  # noqa: ANN401
    """Three links and what a test adds."""
    return Project(**{"links": (BODY, LID, ARM), "travel": OPENS, **given_parts})


def strut(**figures: Any) -> Device:  # noqa: ANN401
    return Device(
        **{"id": "s", "kind": "gas strut", "count": 1, "from_end": ENDS[0], "to_end": ENDS[1]} | STRUT | figures
    )


STRUT = {"extended": 500.0, "stroke": 200.0, "force": 300.0, "ratio": 1.3}

# What is built, and words that its sentence must hold: the place, and the fault.
REFUSED_PARTS: dict[str, tuple[Callable[[], Any], tuple[str, ...]]] = {
    "empty id": (lambda: Link(""), ("link", "0 characters")),
    "long id": (lambda: Link("x" * 81), ("link", "81 characters")),
    "control character": (lambda: Link("a\x07b"), ("link", "control character")),
    "C1 control character": (lambda: Link("a\x85b"), ("link", "control character")),
    "half a character": (lambda: Link("a\ud800"), ("link", "half a character")),
    "id no text": (lambda: Link(7), ("link 7", "a text is expected")),
    "kind": (lambda: Link("a", "door"), ('link "a"', '"door"', '"panel"')),
    "kind no text": (lambda: Link("a", []), ('link "a"', "kind")),
    "width": (lambda: Link("a", "link", -1.0), ('link "a"', "width", "negative")),
    "width text": (lambda: Link("a", "link", "28"), ('link "a"', '"28"', "number")),
    "true": (lambda: Link("a", "link", True), ('link "a"', "true", "number")),
    "NaN": (lambda: Link("a", "link", math.nan), ('link "a"', "finite")),
    "infinity": (lambda: Link("a", "link", math.inf), ('link "a"', "finite")),
    "huge integer": (lambda: Link("a", "link", 10**400), ('link "a"', "finite")),
    "beyond 1e9": (lambda: Link("a", "link", 1.0000001e9), ('link "a"', "1,000,000,000")),
    "coordinate": (lambda: Pivot("A", (0.0, 100000.1), ("a", "b")), ('pivot "A"', "y of at", "100,000")),
    "one coordinate": (lambda: Pivot("A", (0.0,), ("a", "b")), ('pivot "A"', "point")),
    "three coordinates": (lambda: Pivot("A", (0.0, 1.0, 2.0), ("a", "b")), ('pivot "A"', "point")),
    "text for a point": (lambda: Pivot("A", "ab", ("a", "b")), ('pivot "A"', "point")),
    "joins one": (lambda: Pivot("A", (0.0, 0.0), ("a",)), ('pivot "A"', "two or more")),
    "joins none": (lambda: Pivot("A", (0.0, 0.0), ()), ('pivot "A"', "two or more")),
    "joins twice": (lambda: Pivot("A", (0.0, 0.0), ("a", "b", "a")), ('pivot "A"', '"a" twice')),
    "joins no list": (lambda: Pivot("A", (0.0, 0.0), "ab"), ('pivot "A"', "list")),
    "locked": (lambda: Pivot("A", (0.0, 0.0), ("a", "b"), 1), ('pivot "A"', "locked", "true or false")),
    "one point": (lambda: Outline("o", "a", LINE[:1]), ('outline "o"', "1 of the 2")),
    "closed line": (lambda: Outline("o", "a", LINE, closed=True), ('outline "o"', "2 of the 3")),
    "bad point": (lambda: Outline("o", "a", (*LINE, (1e6, 0.0))), ('outline "o"', "points, entry 3", "1e+06")),
    "half width": (lambda: Outline("o", "a", LINE, half_width=-0.1), ('outline "o"', "half_width")),
    "uncertain": (lambda: Outline("o", "a", LINE, uncertain=-0.1), ('outline "o"', "uncertain")),
    "station": (lambda: Outline("o", "a", LINE, station=None), ('outline "o"', "station")),
    "limit": (lambda: Limit("m", dx_at_most=math.nan), ('mark "m"', "dx_at_most")),
    "limit after": (lambda: Limit("m", after_deg=-1.0), ('mark "m"', "after_deg")),
    "opens": (lambda: Travel("up", 75.0), ("travel", '"up"', '"clockwise"')),
    "wanted 0": (lambda: Travel("clockwise", 0.0), ("travel", "wanted_deg", "greater than 0")),
    "wanted 181": (lambda: Travel("clockwise", 180.001), ("travel", "wanted_deg", "180")),
    "gap of one": (lambda: GapWant(("a",)), ("gap", "1 outlines")),
    "gap wanted": (lambda: GapWant(("a", "b"), -1.0), ('"a" and "b"', "at_least")),
    "gap after": (lambda: GapWant(("a", "b"), 1.0, -1.0), ('"a" and "b"', "after_deg")),
    "zone": (lambda: Zone("a", LINE), ('zone on "a"', "2 of the 3")),
    "mass": (lambda: Mass("a", -1.0, (0.0, 0.0)), ('mass on "a"', "negative")),
    "handle": (lambda: Handle("a", (math.nan, 0.0)), ("handle", "x of at")),
    "hinges": (lambda: Loads(hinges=0), ("loads", "hinges")),
    "half a hinge": (lambda: Loads(hinges=1.5), ("loads", "hinges", "whole")),
    "count": (lambda: strut(count=0), ('device "s"', "count")),
    "device kind": (lambda: strut(kind="rubber band"), ('device "s"', "rubber band", "gas strut")),
    "spring": (lambda: strut(kind="tension spring", rate=-1.0), ('device "s"', "rate")),
    **{
        f"{key} {value}": (lambda key=key, value=value: strut(**{key: value}), ('device "s"', key))
        for key in STRUT
        for value in (0.0, -1.0, None)
    },
}

REFUSED_TOGETHER: dict[str, tuple[dict[str, Any], tuple[str, ...]]] = {
    "no panel": ({"links": (BODY, ARM)}, ("links", "0", '"panel"')),
    "two panels": ({"links": (BODY, LID, Link("x", "panel"))}, ("links", '"lid", "x"')),
    "no fixed": ({"links": (LID, ARM)}, ("links", "0", '"fixed"')),
    "link twice": ({"links": (BODY, LID, ARM, ARM)}, ('links, entry 4 "arm"', "twice")),
    "pivot twice": ({"pivots": (Pivot("A", (0, 0), ("body", "lid")),) * 2}, ('pivots, entry 2 "A"', "twice")),
    "outline twice": ({"outlines": (Outline("o", "lid", LINE),) * 2}, ('outlines, entry 2 "o"', "twice")),
    "mark twice": ({"marks": (Mark("m", "lid", (0, 0)),) * 2}, ('marks, entry 2 "m"', "twice")),
    "device twice": ({"loads": Loads(devices=(strut(),) * 2)}, ('loads, devices, entry 2 "s"', "twice")),
    "outline as link": ({"outlines": (Outline("arm", "lid", LINE),)}, ('outlines, entry 1 "arm"', "a link has this")),
    "joins nobody": ({"pivots": (Pivot("A", (0, 0), ("body", "?")),)}, ('pivots, entry 1 "A"', '"?"')),
    "outline on nobody": ({"outlines": (Outline("o", "?", LINE),)}, ('outlines, entry 1 "o"', '"?"')),
    "mark on nobody": ({"marks": (Mark("m", "?", (0, 0)),)}, ('marks, entry 1 "m"', '"?"')),
    "zone on nobody": ({"zones": (Zone("?", (*LINE, (0, 5))),)}, ("zones, entry 1", '"?"')),
    "mass on nobody": ({"loads": Loads((Mass("?", 1, (0, 0)),))}, ("loads, masses, entry 1", '"?"')),
    "handle on nobody": ({"loads": Loads(handle=Handle("?", (0, 0)))}, ("loads, handle", '"?"')),
    "from nobody": (
        {"loads": Loads(devices=(strut(from_end=Attachment("?", (0, 0))),))},
        ('loads, devices, entry 1 "s"', "from", '"?"'),
    ),
    "to nobody": ({"loads": Loads(devices=(strut(to_end=Attachment("?", (0, 0))),))}, ("to", '"?"')),
    "limit on nobody": ({"limits": (Limit("m"),)}, ("limits, entry 1", '"m"')),
    "gap of nobody": ({"gaps": (GapWant(("arm", "?")),)}, ("gaps, entry 1", '"?"')),
    "gap of a mark": (
        {"marks": (Mark("m", "lid", (0, 0)),), "gaps": (GapWant(("arm", "m")),)},
        ("gaps, entry 1", '"m"'),
    ),
    "gap with itself": ({"gaps": (GapWant(("arm", "arm")),)}, ("gaps, entry 1", "one link")),
    "gap on one link": (
        {"outlines": (Outline("o", "arm", LINE),), "gaps": (GapWant(("arm", "o")),)},
        ("gaps, entry 1", "one link"),
    ),
    "pin spacing": ({"pin_spacing": -1.0}, ("pin_spacing", "negative")),
    "units": ({"display_units": "cm"}, ("display_units", '"cm"')),
    "title": ({"title": 3}, ("title", "text")),
    "notes": ({"notes": "a\udfff"}, ("notes", "half a character")),
}


@pytest.mark.parametrize("name", REFUSED_PARTS)
def test_a_bad_part_is_refused_in_one_sentence(name: str) -> None:
    build, words = REFUSED_PARTS[name]
    with pytest.raises(ProjectError) as refused:
        build()
    assert_says(refused.value, words)


@pytest.mark.parametrize("name", REFUSED_TOGETHER)
def test_parts_that_do_not_fit_together_are_refused(name: str) -> None:
    parts, words = REFUSED_TOGETHER[name]
    with pytest.raises(ProjectError) as refused:
        project(**parts)
    assert_says(refused.value, words)


def assert_says(fault: HingewrightError, words: tuple[str, ...]) -> None:
    sentence = str(fault)
    assert [word for word in words if word not in sentence] == [], sentence
    assert "\n" not in sentence
    assert len(sentence) < 300
    sentence.encode()  # it can be printed


def test_the_limits_themselves_are_allowed() -> None:
    assert Travel("clockwise", 180.0).wanted_deg == 180.0
    assert Link("x" * 80, "link", 1e9).width == 1e9
    assert Pivot("A", (-1e5, 1e5), ("a", "b")).at == (-1e5, 1e5)
    assert Limit("m").dx_at_least is None
    assert Mass("a", 0.0, (0.0, 0.0)).mass == 0.0
    assert Outline("o", "a", (*LINE, (0.0, 1.0)), closed=True).closed


def test_numbers_take_one_form() -> None:
    pin = Pivot("A", np.array([1, 2]), ["a", "b"])
    assert (pin.at, pin.joins) == ((1.0, 2.0), ("a", "b"))
    assert {type(value) for value in pin.at} == {float}
    skin = Outline("o", "a", np.array([[0, 1], [2, 3]], dtype=np.float32), half_width=np.int64(2))
    assert skin.points == ((0.0, 1.0), (2.0, 3.0))
    assert {type(value) for point in skin.points for value in point} | {type(skin.half_width)} == {float}
    assert type(Loads(hinges=2.0).hinges) is int


def test_a_spring_has_its_figures_and_a_strut_its_own() -> None:
    spring = Device("s", "tension spring", 1, *ENDS, rate=2.0)
    assert (spring.free, spring.initial, spring.rate, spring.extended) == (0.0, 0.0, 2.0, None)
    assert strut().free is None


def test_parts_are_found_by_name() -> None:
    demo = specimens.demo_six_bar
    assert demo.link("arm").width == 28.0
    assert demo.pivot("X").at == (125.0, 213.0)
    assert demo.outline("hatch skin").on == "hatch"
    assert demo.mark("rear corner").at == (-28.0, 312.0)
    assert (demo.fixed.id, demo.panel.id) == ("bulkhead", "hatch")
    assert demo.link_index["hatch"] == 5
    assert [pin.id for pin in demo.pivots_on("cross link")] == ["X", "B", "Q"]
    assert (demo.rides_on("hatch skin"), demo.rides_on("arm")) == ("hatch", "arm")
    assert (OPENS.sign, Travel("clockwise", 1.0).sign) == (1, -1)


@pytest.mark.parametrize("find", ["link", "pivot", "outline", "mark", "rides_on"])
def test_what_is_not_there_is_named(find: str) -> None:
    with pytest.raises(ProjectError, match=r'there is no .*"nothing"'):
        getattr(specimens.demo_six_bar, find)("nothing")


def test_entries_are_counted_as_people_count() -> None:
    assert entry("pivots", 2, "A") == 'pivots, entry 3 "A"'
    assert entry("gaps", 0) == "gaps, entry 1"


@given(strategies.ready_projects())
def test_projects_are_values(made: Project) -> None:
    again = pickle.loads(pickle.dumps(made))
    assert again == made
    assert hash(again) == hash(made)
    assert copy.deepcopy(made) == made
    assert replace(made) == made
    assert replace(made, title=made.title + "!") != made


@given(strategies.ready_projects())
def test_all_of_a_project_is_frozen(made: Project) -> None:
    for part in every_part(made):
        first = fields(part)[0].name
        with pytest.raises(FrozenInstanceError):
            setattr(part, first, None)
        assert isinstance(part.unknown, Kept)
        with pytest.raises(TypeError):
            part.unknown["x"] = 1


def every_part(value: object) -> list[Any]:
    """The project and all parts of it, however deep."""
    if isinstance(value, tuple):
        return [part for each in value for part in every_part(each)]
    if not is_dataclass(value):
        return []
    return [value, *(part for each in fields(value) for part in every_part(getattr(value, each.name)))]


def test_unknown_keys_cannot_be_changed_from_outside() -> None:
    mine = {"colour": "green"}
    link = Link("a", unknown=mine)
    mine["colour"] = "red"
    assert link.unknown == {"colour": "green"}
    assert repr(link.unknown) == "Kept({'colour': 'green'})"


def test_an_error_is_a_sentence_and_survives_another_process() -> None:
    fault = OutlineError("the line is too short.", "outline 3", "Draw a longer one.")
    assert str(fault) == "outline 3: the line is too short. Draw a longer one."
    assert str(ProjectError("no pivot")) == "no pivot."
    again = pickle.loads(pickle.dumps(fault))
    assert (type(again), str(again)) == (OutlineError, str(fault))


def test_the_sides_of_a_limit_are_its_fields() -> None:
    assert set(LIMIT_SIDES) < {each.name for each in fields(Limit)}


def test_the_model_and_its_edits_load_nothing_slow() -> None:
    code = (
        "import sys, kinematics, kinematics.edits\n"
        "print([name for name in ('numpy', 'scipy', 'shapely', 'PySide6') if name in sys.modules])"
    )
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert shown.stdout.strip() == "[]"
