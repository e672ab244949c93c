"""The demo as it is built, held against sums that anybody can do: every pin's section, and what follows one moved pin.

Sums: single plates of 8 mm, washers of 1.6 mm (ISO 7089 for M8, 1.4 to 1.8), tubes where a layer is left free, clevis
pins of 8 mm by ISO 2341 whose split pin's hole (2.14 mm at most) has its middle 3.5 mm from the pin's end: the room
below the head is length − 3.5 − 1.07. Lengths that are made (ISO 2341): …, 22, 24, 28, 30, 35, 40. Sheet that was
measured is taken to be right by ±0.05 mm, tubes of 8 mm by ±0.2 (ISO 2768-m, over 6 to 30). ezdxf reads the drawings.
"""

from __future__ import annotations

import csv
import io
import json
import math
from itertools import combinations
from typing import TYPE_CHECKING, Any

import ezdxf
import pytest

from app.look import light
from app.making.command import make
from app.shapes import Stroke
from app.stack.section import section_shapes
from app.stacked import stacked
from kinematics import edits
from tests.app.sharing import demo, shared_analyse

if TYPE_CHECKING:
    from pathlib import Path

    from kinematics.project import Project

NEAR = 1.6 + 8.0 + 1.6 + 8.0 + 1.6
"""Head's washer, plate, washer, plate, clip's washer: the links lie in neighbouring layers."""
FAR = 1.6 + 8.0 + 1.6 + 8.0 + 1.6 + 8.0 + 1.6
"""Washer, plate, washer, tube of a layer that is left free, washer, plate, washer."""
GRIPS = {"O1": FAR, "O2": FAR, "X": FAR, "B": FAR, "Q": NEAR, "P1": NEAR, "P2": FAR}
MOST = {NEAR: 3 * 1.8 + 2 * 8.05, FAR: 4 * 1.8 + 2 * 8.05 + 8.2}
"""When all comes out thick: 21.5, and 31.5."""
LONG = {NEAR: 28.0, FAR: 40.0}
"""The shortest whose room holds that: 28 − 4.57 = 23.43 (24 has 19.43), 40 − 4.57 = 35.43 (35 has 30.43)."""


def test_every_section_of_the_demo_is_the_sum_of_what_lies_there() -> None:
    project = demo()
    stack = stacked(shared_analyse(project))
    assert {pin.pivot for pin in stack.pins} == set(GRIPS)
    for pin in stack.pins:
        grip = GRIPS[pin.pivot]
        shapes = section_shapes(project, stack, pin, (light(), "mm"), 10.0)
        drawn = {shape.key: sorted(z for _, z in shape.points) for shape in shapes if isinstance(shape, Stroke)}
        assert drawn["grip"][-1] - drawn["grip"][0] == pytest.approx(grip, abs=1e-9)
        assert drawn["length"][-1] - drawn["length"][0] == pytest.approx(LONG[grip])
        assert pin.most == pytest.approx(MOST[grip], abs=1e-9)
        assert pin.length.room == pytest.approx(LONG[grip] - 3.5 - 1.07, abs=1e-9)
        fill = sum(piece.thickness for piece in pin.length.fill)
        assert 0.1 <= pin.length.room - grip - fill <= 0.3  # the end float that is usual
    assert MOST[FAR] > 35.0 - 4.57  # so 35 is too short when all comes out thick
    assert MOST[NEAR] > 24.0 - 4.57


@pytest.fixture(scope="module")
def sets(qapp: object, tmp_path_factory: pytest.TempPathFactory) -> list[tuple[Project, Path, dict[str, Any]]]:
    """The demo's set, and the set after one pin was moved: O2, by 3 and −9 mm."""
    moved = edits.move_pivot(demo(), "O2", (35.0, 170.0))
    found = []
    for k, project in enumerate((demo(), moved)):
        to = tmp_path_factory.mktemp("sets") / str(k)
        make(project, to)
        found.append((project, to, json.loads((to / "index.json").read_text("utf-8"))))
    return found


def holes_of(path: Path) -> list[complex]:
    """The middles of the round holes in a drawing."""
    document = ezdxf.readfile(path)  # type: ignore[attr-defined]
    assert not document.audit().has_errors
    return [complex(*circle.dxf.center.vec2) for circle in document.query("CIRCLE")]


def test_one_pin_moves_and_all_that_hangs_on_it_follows(sets: list[tuple[Project, Path, dict[str, Any]]]) -> None:
    """Holes as far apart as the pins, within 0.001 mm as the issue asks, on plates, base and bracket; what doesn't hang
    on the pin stays; and the parts list holds what the new stack needs.
    """
    sizes: list[dict[str, float]] = []
    for project, to, index in sets:
        at = {pivot.id: complex(*pivot.at) for pivot in project.pivots}
        held = [row for row in index["files"] if row.get("holes")]
        assert {row["link"] for row in held} == {link.id for link in project.links}
        for row in held:
            drawn = holes_of(to / row["path"])
            own = {hole["pivot"]: complex(*hole["at"]) for hole in row["holes"]}
            assert all(min(abs(each - place) for each in drawn) < 1e-6 for place in own.values())
            for one, other in combinations(own, 2):
                assert abs(own[one] - own[other]) == pytest.approx(abs(at[one] - at[other]), abs=0.001)
        sizes.append({row["path"]: row["area"] for row in index["files"] if "area" in row})
        rows = list(csv.DictReader(io.StringIO((to / "parts.csv").read_text("utf-8"))))
        pins = [row for row in rows if row["item"] == "clevis pin"]
        assert sum(int(row["count"]) for row in pins) == 2 * len(project.pivots)
        stack = stacked(shared_analyse(project))
        for pin in stack.pins:
            row = next(row for row in pins if pin.pivot in row["for"].split())
            assert row["size"].startswith(f"8 x {pin.length.length:g} mm")
    changed = {path for path, area in sizes[0].items() if not math.isclose(area, sizes[1][path], abs_tol=1e-6)}
    assert {"plates/short link.dxf", "mounts/base web.dxf", "mounts/base plate.dxf"} <= changed
    assert not {"plates/arm.dxf", "plates/lift link.dxf", "mounts/bracket left.dxf", "mounts/doubler.dxf"} & changed


def test_the_demo_is_a_good_example(sets: list[tuple[Project, Path, dict[str, Any]]]) -> None:
    """No fault; of cautions only that holes are cut a little smaller than the sheet is thick."""
    _, _, index = sets[0]
    assert index["faults"] == []
    assert [caution.partition(":")[2].split(",")[0] for caution in index["cautions"]] == [" the hole is cut at 7.7 mm"]
    assert all(check.ok for check in shared_analyse(demo()).checks)
