"""Order, hidden and locked: each edit does just that, keeps the rest, and leaves the mechanism alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from kinematics import analyse, arranging
from kinematics.errors import ProjectError
from tests.specimens import demo_six_bar, with_everything

if TYPE_CHECKING:
    from kinematics.project import Project

ONE_OF_EACH = (("link", "arm"), ("pivot", "X"), ("outline", "hatch skin"), ("mark", "rear corner"))


@pytest.mark.parametrize(("kind", "id_"), ONE_OF_EACH)
def test_a_part_is_hidden_and_shown_again(kind: str, id_: str) -> None:
    hidden = arranging.hide_part(demo_six_bar, kind, id_)
    assert getattr(hidden, kind)(id_).hidden
    assert arranging.hidden_count(hidden) == 1
    others = {"links", "pivots", "outlines", "marks"} - {arranging.LISTS[kind]}
    assert all(getattr(hidden, name) is getattr(demo_six_bar, name) for name in others)
    assert arranging.hide_part(hidden, kind, id_, hidden=False) == demo_six_bar
    assert arranging.hide_part(hidden, kind, id_) is hidden


def test_all_are_shown_at_once() -> None:
    hidden: Project = with_everything
    for kind, id_ in ONE_OF_EACH:
        hidden = arranging.hide_part(hidden, kind, id_)
    assert arranging.hidden_count(hidden) == 4
    assert arranging.show_all(hidden) == with_everything
    assert arranging.show_all(with_everything) is with_everything


@pytest.mark.parametrize(("kind", "id_"), ONE_OF_EACH[1:])
def test_a_part_is_locked_and_freed(kind: str, id_: str) -> None:
    locked = arranging.lock_part(demo_six_bar, kind, id_)
    assert getattr(locked, kind)(id_).locked
    assert arranging.lock_part(locked, kind, id_, locked=False) == demo_six_bar


def test_a_link_has_no_lock_and_says_what_to_do() -> None:
    with pytest.raises(ProjectError, match="Lock its pins instead"):
        arranging.lock_part(demo_six_bar, "link", "arm")


@pytest.mark.parametrize(
    ("step", "order"),
    [
        (-1, "O1 X O2 B Q P1 P2"),
        (1, "O1 O2 B X Q P1 P2"),
        (-9, "X O1 O2 B Q P1 P2"),
        (99, "O1 O2 B Q P1 P2 X"),
        (0, "O1 O2 X B Q P1 P2"),
    ],
)
def test_a_part_moves_up_and_down_its_list_as_far_as_it_goes(step: int, order: str) -> None:
    after = arranging.reorder(demo_six_bar, "pivot", "X", step)
    assert [pivot.id for pivot in after.pivots] == order.split()
    assert after.links is demo_six_bar.links
    assert (after is demo_six_bar) == (step == 0)


def test_what_is_not_there_is_told() -> None:
    for edit in (arranging.hide_part, arranging.lock_part):
        with pytest.raises(ProjectError, match="nobody"):
            edit(demo_six_bar, "pivot", "nobody")
    with pytest.raises(ProjectError, match="nobody"):
        arranging.reorder(demo_six_bar, "mark", "nobody", 1)


def test_the_mechanism_counts_what_is_hidden_or_locked() -> None:
    plain = analyse(demo_six_bar)
    other = demo_six_bar
    for kind, id_ in ONE_OF_EACH:
        other = arranging.hide_part(other, kind, id_)
        if kind in arranging.LOCKABLE:
            other = arranging.lock_part(other, kind, id_)
    found = analyse(other)
    assert found.checks == plain.checks
    assert np.array_equal(found.turns, plain.turns)
    assert [gap.smallest for gap in found.gaps] == [gap.smallest for gap in plain.gaps]
