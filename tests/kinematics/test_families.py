"""Families: every inversion typed by hand, whatever the order of its links, and what has no name.

Two chains of six links on seven pins, Watt with two inversions and Stephenson with three (check A11): any text on
kinematics, such as R. L. Norton, Design of Machinery, ch. 2 (from memory).
"""

from __future__ import annotations

import itertools
import random
from dataclasses import replace

import pytest

from kinematics.families import family
from kinematics.project import Link, Pivot, Project, Travel
from tests import specimens

# Links a to f. Watt: ternary a and b share a pin; c, d and e, f are the pairs between them.
WATT = "ab ac cd db ae ef fb"
# Stephenson: ternary a and b don't meet; c and d stand alone between them, e, f are the pair.
STEPHENSON = "ac cb ad db ae ef fb"

INVERSIONS = [
    *[(WATT, fixed, "Watt II") for fixed in "ab"],
    *[(WATT, fixed, "Watt I") for fixed in "cdef"],
    *[(STEPHENSON, fixed, "Stephenson III") for fixed in "ab"],
    *[(STEPHENSON, fixed, "Stephenson I") for fixed in "cd"],
    *[(STEPHENSON, fixed, "Stephenson II") for fixed in "ef"],
]


def linkage(joins: str, fixed: str, panel: str, seed: int = 0, extra: str = "") -> Project:
    """A project with these joints, links and pins in an order that the seed mixes; its places don't matter."""
    chance = random.Random(seed)
    pairs = joins.split()
    names = sorted(set("".join(pairs) + extra))
    chance.shuffle(names)
    chance.shuffle(pairs)
    kinds = {fixed: "fixed", panel: "panel"}
    pivots = []
    for k, pair in enumerate(pairs):
        ends = list(pair)
        chance.shuffle(ends)
        pivots.append(Pivot(f"pin {k}", (chance.uniform(0, 300), chance.uniform(0, 300)), tuple(ends)))
    links = tuple(Link(name, kinds.get(name, "link")) for name in names)
    return Project(links=links, pivots=tuple(pivots), travel=Travel("anticlockwise", 75.0))


@pytest.mark.parametrize(("joins", "fixed", "name"), INVERSIONS)
def test_every_inversion_with_the_panel_anywhere_in_any_order(joins: str, fixed: str, name: str) -> None:
    for panel, seed in itertools.product("abcdef", range(4)):
        if panel != fixed:
            assert family(linkage(joins, fixed, panel, seed)) == name


@pytest.mark.parametrize(
    ("project", "name"),
    [
        (specimens.demo_six_bar, "Watt I"),  # arm and cross link meet at X
        (specimens.watt_a21, "Watt I"),  # P2 P4 P6 and P3 P4 P5 share P4; the ground has two pins
        (specimens.stephenson_iii, "Stephenson III"),  # ground and coupler have three pins each
        (specimens.four_bar_a1, "four-bar"),
        (specimens.parallelogram, "four-bar"),
        (specimens.single_pivot, "single pivot"),
    ],
)
def test_specimens(project: Project, name: str) -> None:
    assert family(project) == name


@pytest.mark.parametrize(
    ("joins", "why"),
    [
        ("ab bc ca ad de ef fb", "a triangle a b c beside a loop of five"),
        ("ab ac cd db ae ef fa", "a loop hangs on one ternary link"),
        ("ab bc ca ad df fe ed", "two triangles joined by a pin: nothing between them turns"),
        ("ab ac ad bc bd ef ce", "a quaternary chain end: link f has one pin"),
        ("ab ac ad ae bf cf df", "one link of four pins"),
        ("ab ab ac cd de ef fb", "two links with two pins in common"),
        ("ab bc cd de ef fa", "six links on six pins"),
        ("ab bc cd de", "an open chain"),
        ("ab bc ca", "a triangle"),
        ("ab bc ca ad", "a triangle with a link that hangs on it"),
    ],
)
def test_what_has_no_name(joins: str, why: str) -> None:
    assert family(linkage(joins, "a", "b")) is None, why


@pytest.mark.parametrize("name", ["ternary_pin", "hanging_link", "half_drawn", "empty", "peaucellier", "twin_arms"])
def test_specimens_without_a_name(name: str) -> None:
    assert family(specimens.ALL[name]) is None


def test_a_spare_link_takes_the_name_away() -> None:
    assert family(linkage(WATT, "c", "d", extra="g")) is None
    four = specimens.four_bar_a1
    assert family(replace(four, links=(*four.links, Link("spare")))) is None
