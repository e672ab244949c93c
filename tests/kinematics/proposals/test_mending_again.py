"""Put right from deep in contact, where linear steps alone end; chains told apart; stopping; wants that fight."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from kinematics import analyse, edits
from kinematics.mending import Mended, _Search, mend
from kinematics.proposals import mending_again
from kinematics.proposals.chains import FOUR_BAR
from kinematics.proposals.mending_again import own_chain, put_right
from kinematics.proposals.refining import refine
from tests import specimens
from tests.kinematics.making import demo_layouts
from tests.kinematics.test_mending import door

if TYPE_CHECKING:
    from kinematics.project import Project

HATCH, BENCH = (demo_layouts()[name] for name in ("launch hatch", "potting bench"))
DEEP = edits.move_pivot(HATCH, "X", (141.0, 227.0))
"""21 mm wrong: the skin's rear edge stands up to 44 mm deep in the screen. Linear steps alone ended here."""


def test_from_deep_in_contact() -> None:
    """Going back would be 21.3 mm, so the least moves are no more in sum."""
    found = put_right(DEEP)
    assert found.ok
    assert all(check.ok for check in analyse(found.project, steps=2).checks)
    assert math.sqrt(sum(dx * dx + dy * dy for dx, dy in found.moved.values())) <= 21.3
    assert found.steps > 10, "linear steps alone did it: this layout shows nothing any more"


def test_the_demos_are_chains_of_the_search() -> None:
    for project in (HATCH, BENCH):
        own = own_chain(project)
        assert own is not None
        chain, pivots = own
        assert sorted(pivots) == list(range(len(project.pivots)))
        assert (chain is FOUR_BAR) == (project is BENCH)
        names = {0: project.fixed.id, 1: project.panel.id}
        for pair, k in zip(chain.pins, pivots, strict=True):
            for link in pair:
                if link in names:
                    assert names[link] in project.pivots[k].joins


@pytest.mark.parametrize("name", sorted(specimens.ALL))
def test_every_specimen_is_a_chain_or_not(name: str) -> None:
    project = specimens.ALL[name]
    own = own_chain(project)
    assert own is None or len(own[0].pins) == len(project.pivots)


def test_single_pivots_and_pins_of_three_links_are_none() -> None:
    pin = replace(BENCH.pivots[0], joins=tuple(link.id for link in BENCH.links[:3]))
    assert own_chain(replace(BENCH, pivots=(pin, *BENCH.pivots[1:]))) is None
    assert own_chain(replace(BENCH, pivots=BENCH.pivots[:3])) is None


def test_starts_come_least_far_first_and_keep_locked_pins() -> None:
    project = replace(DEEP, pivots=tuple(replace(pin, locked=pin.id == "O2") for pin in DEEP.pivots))
    home = np.array([pin.at for pin in project.pivots])
    starts = list(mending_again._starts(project, lambda: False))
    assert 1 <= len(starts) <= mending_again.STARTS
    assert all(np.array_equal(places[1], home[1]) for places in starts)
    assert np.linalg.norm(starts[0] - home) < 60.0
    assert list(mending_again._starts(project, lambda: True)) == []


@pytest.mark.parametrize("after", [0, 2])
def test_stopped_it_leaves_the_project(after: int) -> None:
    asked = itertools.count()
    found = put_right(DEEP, stop=lambda: next(asked) >= after)
    assert (found.ok, found.why, found.project, found.moved) == (False, "stopped", DEEP, {})


def test_stopped_between_searches_it_leaves_the_project(monkeypatch: pytest.MonkeyPatch) -> None:
    """Stop comes while copies are refined: no other search begins."""
    stopped = False

    def stopping(*args: object, **more: object) -> object:
        nonlocal stopped
        stopped = True
        return refine(*args, **more)  # type: ignore[arg-type]

    def ended(project: Project, *_: object) -> Mended:
        return mend(project, stop=lambda: True) if stopped else Mended(project, {}, ok=False, why="fight")

    monkeypatch.setattr(mending_again, "refine", stopping)
    monkeypatch.setattr(mending_again, "mend", ended)
    found = put_right(DEEP, stop=lambda: stopped)
    assert (found.ok, found.why, found.project, found.moved) == (False, "stopped", DEEP, {})


def test_where_nothing_beside_the_pins_moves_the_pins_as_they_stand_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(_Search, "begun", lambda *_: None)
    found = mend(DEEP, aside=(4.0,))
    assert (found.ok, found.why) == (False, "fight")
    assert [fight.check.kind for fight in found.fighting] == ["gap"]


def test_wants_that_fight_are_told_all_the_same() -> None:
    """One pin, which is no chain with loops: two limits that contradict each other by 5 mm."""
    project = door(dx_at_least=-90.0, dx_at_most=-95.0, after_deg=90.0)
    found = put_right(project)
    assert (found.ok, found.why, found.project) == (False, "fight", project)
    assert {fight.check.side for fight in found.fighting} == {"dx_at_least", "dx_at_most"}
    assert sum(fight.by for fight in found.fighting) == pytest.approx(5.0, abs=0.05)
