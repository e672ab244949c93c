"""`hingewright make`: the build's files without a window. The window runs this too, in a process of its own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.making.plan import plan_of
from app.making.study import study_of
from app.making.writing import check_place, write_set

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from app.making.planned import MakeOptions, Plan
    from kinematics.project import Project


def make(
    project: Project, to: Path, options: MakeOptions | None = None, tell: Callable[[float], object] | None = None
) -> Plan:
    """Make all files and write them into a folder, all or none; gives the plan, whose faults are written too.

    tell : is called with the share that is done, 0 to 1.
    Raises HingewrightError, a sentence; nothing is written then.
    """
    check_place(to, [each.path for each in plan_of(project, options).files])
    plan = plan_of(project, options, study=study_of(project, project.display_units))
    contents: dict[str, bytes] = {}
    for place, each in enumerate(plan.files):
        if tell is not None:
            tell(place / (len(plan.files) + 1))
        contents[each.path] = each.content()
    write_set(to, contents, plan.index())
    if tell is not None:
        tell(1.0)
    return plan
