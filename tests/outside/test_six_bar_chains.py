"""Six links on seven pins make two chains only, with five inversions.

Source: any kinematics text (R. L. Norton, *Design of Machinery*, ch. 2; from memory); here by exhaustion: all 6 435
ways to
join six named links by seven pins. Check A11 of checks.md. The names must not depend on the order of links or pins.
"""

from __future__ import annotations

import itertools
import random
from collections import Counter

import pytest

import kinematics
from kinematics.families import family
from kinematics.project import Link, Outline, Pivot, Project, Travel
from kinematics.starts import StartKind, start, starts

LINKS = "abcdef"
EVERY_PAIR = list(itertools.combinations(LINKS, 2))


def neighbours(joins: tuple[tuple[str, str], ...]) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {link: set() for link in LINKS}
    for one, other in joins:
        found[one].add(other)
        found[other].add(one)
    return found


def is_linkage(joins: tuple[tuple[str, str], ...]) -> bool:
    """Every link has two pins or more, and no three links make a triangle, which would be rigid."""
    near = neighbours(joins)
    return all(len(others) >= 2 for others in near.values()) and not any(near[a] & near[b] for a, b in joins)


def book_name(joins: tuple[tuple[str, str], ...], fixed: str) -> str:
    """Ternary links joined directly: Watt (II with a ternary one fixed); else Stephenson (III with a ternary one
    fixed).

    Stephenson I has a link fixed that stands alone between the two ternary ones, II one of the pair.
    """
    near = neighbours(joins)
    ternary = {link for link, others in near.items() if len(others) == 3}
    one, other = ternary
    if other in near[one]:
        return "Watt II" if fixed in ternary else "Watt I"
    if fixed in ternary:
        return "Stephenson III"
    return "Stephenson I" if near[fixed] == ternary else "Stephenson II"


def project(joins: tuple[tuple[str, str], ...], fixed: str, dice: random.Random) -> Project:
    """The chain with pins anywhere, links, pins and joins listed in a random order."""
    panel = dice.choice([link for link in LINKS if link != fixed])
    links = [Link(link, "fixed" if link == fixed else "panel" if link == panel else "link") for link in LINKS]
    pivots = [
        Pivot(f"P{k}", (dice.uniform(-90, 90), dice.uniform(-90, 90)), tuple(dice.sample(pair, 2)))
        for k, pair in enumerate(joins)
    ]
    dice.shuffle(links)
    dice.shuffle(pivots)
    return Project(links=tuple(links), pivots=tuple(pivots), travel=Travel("clockwise", 40.0))


def test_a11_all_ways_to_join_six_links_by_seven_pins() -> None:
    """A11. 180 Watt chains and 180 Stephenson chains by name (6!/4 each), five inversions, and no others."""
    dice = random.Random(11)
    named: Counter[str | None] = Counter()
    for joins in itertools.combinations(EVERY_PAIR, 7):
        if not is_linkage(joins):
            assert family(project(joins, "a", dice)) not in ("Watt I", "Watt II", "four-bar", "single pivot")
            named[None] += 1
            continue
        for fixed in LINKS:
            told = family(project(joins, fixed, dice))
            assert told == book_name(joins, fixed), (joins, fixed)
            named[told] += 1
    assert named == {
        "Watt I": 720,
        "Watt II": 360,
        "Stephenson I": 360,
        "Stephenson II": 360,
        "Stephenson III": 360,
        None: 6435 - 360,
    }


def hatch() -> Project:
    """A panel with its rear edge at a wall: what a start is placed by."""
    return Project(
        links=(Link("body", "fixed"), Link("lid", "panel")),
        outlines=(
            Outline("wall", "body", ((-60.0, 420.0), (-22.0, 250.0), (-8.0, -150.0))),
            Outline("skin", "lid", ((-14.0, 262.0), (-14.0, 300.0), (500.0, 318.0), (900.0, 280.0))),
        ),
        travel=Travel("anticlockwise", 70.0),
    )


@pytest.mark.parametrize("kind", starts(), ids=lambda kind: kind.name)
def test_a11_starts_are_what_their_names_say(kind: StartKind) -> None:
    """A11. Each start bears the textbook's name by our own reading of its chain, has mobility 1, and moves at once."""
    begun = start(hatch(), kind.kind)
    letters = dict(zip((link.id for link in begun.links), LINKS, strict=False))
    if len(begun.links) == 6:
        joins = tuple((letters[p.joins[0]], letters[p.joins[1]]) for p in begun.pivots)
        assert is_linkage(joins)
        assert kind.family == book_name(joins, letters[begun.fixed.id])
    else:
        assert (len(begun.links), len(begun.pivots)) == {"single pivot": (2, 1), "four-bar": (4, 4)}[kind.family]
    analysis = kinematics.analyse(begun)
    assert analysis.mobility == 1
    assert analysis.opening.reached_deg > 5.0
