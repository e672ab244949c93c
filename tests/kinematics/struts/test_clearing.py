"""A strut's line against what is drawn, coarsely: lines that cross, come too near, or end at a bracket."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from kinematics.project import Outline, Project, Zone
from kinematics.struts.clearing import clear, obstacles_of
from kinematics.struts.wanted import read_problem
from tests.kinematics.struts.making import lid, settings

SQUARE = ((0.0, -300.0), (300.0, -300.0), (300.0, 0.0), (0.0, 0.0))


def kept(project: Project, tail: complex, head: complex, off: float = 10.0) -> bool:
    """Whether a strut from body to lid is clear."""
    problem = read_problem(project, settings(Zone("body", SQUARE), Zone("lid", SQUARE)))
    (pair,) = problem.pairs
    ends = (np.array([z]) - pair.centre for z in (tail, head))
    return bool(clear(obstacles_of(problem), pair, *ends, np.array([off]))[0])


def with_lines(*outlines: Outline) -> Project:
    return replace(lid(), outlines=outlines)


TAIL, HEAD = 200.0 - 250.0j, 100.0 - 60.0j


def test_nothing_drawn_is_in_no_ones_way() -> None:
    assert kept(with_lines(), TAIL, HEAD)


def test_a_line_of_the_body_that_it_crosses_when_open_only() -> None:
    """The lid opens to 80°: its end goes from (100, −60) to (76.454, 88.062), over a post at (150, −90 … −60)."""
    post = Outline("post", "body", ((150.0, -110.0), (150.0, -60.0)))
    assert not kept(with_lines(post), TAIL, HEAD)
    assert kept(with_lines(replace(post, points=((-150.0, -110.0), (-150.0, -60.0)))), TAIL, HEAD)


def test_half_a_tube_and_more_is_kept_off() -> None:
    """A wall beside the strut, whose line leaves it 25 mm at the foot and more above."""
    wall = Outline("wall", "body", ((235.0, -200.0), (235.0, -100.0)))
    apart = 35.0 * 190.0 / abs(HEAD - TAIL)  # of its upper end at shut: the line leans away from it
    assert kept(with_lines(wall), TAIL, HEAD, off=20.0)
    assert not kept(with_lines(wall), TAIL, HEAD, off=70.0)
    assert 20.0 < apart < 70.0
    assert not kept(with_lines(replace(wall, half_width=50.0)), TAIL, HEAD, off=20.0)


def test_a_closed_outline_holds_nothing_within() -> None:
    box = Outline("box", "body", ((-400.0, -400.0), (500.0, -400.0), (500.0, 400.0), (-400.0, 400.0)), closed=True)
    assert not kept(with_lines(box), TAIL, HEAD)
    assert kept(with_lines(replace(box, closed=False)), TAIL, HEAD)


@pytest.mark.parametrize(("y", "good"), [(-20.0, True), (-200.0, False)])
def test_the_panel_is_looked_at_where_it_is(y: float, good: bool) -> None:
    """A skin over the end goes along with the lid; one beneath it is crossed."""
    skin = Outline("skin", "lid", ((0.0, y), (400.0, y)))
    assert kept(with_lines(skin), TAIL, HEAD) is good


def test_brackets_may_come_near() -> None:
    """An end 12 mm beneath the skin, where 20 are kept: it is fastened there."""
    skin = Outline("skin", "lid", ((0.0, -48.0), (400.0, -48.0)))
    assert kept(with_lines(skin), TAIL, HEAD, off=20.0)
