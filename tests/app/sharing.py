"""What is the same in many tests and costs time is made once: the demo, and the first analysis of a project.

Both are fixed values that nothing can change. Only a look without an earlier one is shared, and only where it is the
very same project; what follows an edit is analysed as in the program.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

from kinematics import analyse

if TYPE_CHECKING:
    from app.window import Window
    from kinematics import Analysis
    from kinematics.project import Project

MOST = 16  # projects that are remembered
_first: dict[int, Analysis] = {}  # by the id of its project, which it keeps alive


@cache
def demo() -> Project:
    """The demo that a first start shows."""
    from app import window

    return window.demo()


@cache
def bare_demo() -> Project:
    """The same before anything was said of pins, plates and mounts."""
    return replace(demo(), strength=None, plates=None, stack=None, mount=None)


def begin_again(window: Window) -> None:
    """The window on the demo with nothing opened or selected, for the next state of a test that looks at many."""
    window.board.give_up()
    window.area.open_drawer("")
    window.document.new(demo())
    window.document.noticed.emit("")
    window.checks.entry.show_wants()


def shared_analyse(project: Project, near: Analysis | None = None) -> Analysis:
    """Analyse as the program does, the first time that it is asked for without an earlier analysis."""
    if near is not None:
        return analyse(project, near=near)
    found = _first.pop(id(project), None)  # and put back as the newest: what is asked for often stays
    if found is not None:
        _first[id(project)] = found
    else:
        while len(_first) >= MOST:
            oldest = next(key for key in _first if key != id(demo()))  # with which every window begins
            del _first[oldest]
        found = _first[id(project)] = analyse(project)
    return found
