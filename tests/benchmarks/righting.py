"""How long arrows at the pins and putting right take, and what share of spoilt demos is put right."""

from __future__ import annotations

import functools
import math
from typing import TYPE_CHECKING

from app.files import load
from kinematics import analyse, edits
from kinematics.mending import Mended
from kinematics.proposals import mending_again
from kinematics.pushing import pushes
from resources import find
from tests.benchmarks import hinges
from tests.benchmarks.timing import head, line, timed

if TYPE_CHECKING:
    from kinematics.project import Project

WRONG = 12.0  # mm by which one pin stands elsewhere
WAYS = range(15, 360, 45)  # degrees


def arrows() -> None:
    """The pushes of the worst check, shut and at 40°, after one pivot moved."""
    head("Which way to push, of an analysis after one pivot moved")
    last = analyse(hinges.demo())
    made = []
    for moved in hinges.wandering(last.project, "X", 120):
        last = analyse(moved, near=last)
        made.append((last, last.pose(40.0)))
    shut = timed((functools.partial(pushes, each) for each, _ in made), warm_up=5)
    line("all pins, shut", shut, "p95 1 ms", shut.p95 <= 1.0)
    there = timed((functools.partial(pushes, each, None, pose) for each, pose in made), warm_up=5)
    line("all pins, at 40°", there, "p95 1 ms", there.p95 <= 1.0)


def spoilt() -> list[Project]:
    """Both demos with each pin 12 mm wrong in eight ways, where that breaks a want."""
    found = []
    for path in sorted(find("demos").glob("*.hinge")):
        demo = load(path)
        for pin in demo.pivots:
            for way in WAYS:
                x, y = pin.at
                to = x + WRONG * math.cos(math.radians(way)), y + WRONG * math.sin(math.radians(way))
                found.append(edits.move_pivot(demo, pin.id, to))
    return [each for each in found if not all(check.ok for check in analyse(each, steps=2).checks)]


def put_right() -> None:
    """All spoilt demos mended, and how far that moves pins."""
    projects, results = spoilt(), list[Mended]()
    head(f"Put right: {len(projects)} demos with one pin {WRONG:g} mm wrong")

    def one(project: Project) -> None:
        results.append(mending_again.put_right(project))

    took = timed(functools.partial(one, each) for each in projects)
    line("the whole search", took, "p50 500 ms", took.p50 <= 500.0)
    mended = [found for found in results if found.ok]
    line("share mended", f"{len(mended)} of {len(results)}", "all", len(mended) == len(results))
    far = sorted(math.sqrt(sum(dx * dx + dy * dy for dx, dy in found.moved.values())) for found in mended)
    line("root of the sum of squared moves, median and largest", f"{far[len(far) // 2]:.1f}, {far[-1]:.1f} mm",
         f"{WRONG:g} mm", far[-1] <= WRONG)  # fmt: skip
