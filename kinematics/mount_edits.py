"""Edits of what holds the hinge: bracket, base and stop part, begun with usual sizes, changed and taken out again.

Pure functions from one project to the next, as in `kinematics.edits`: an edit that changes nothing gives back the
project itself, and what can't be is a `ProjectError`. Lengths mm.
"""

from __future__ import annotations

from dataclasses import fields, replace
from typing import TYPE_CHECKING, Any

from kinematics.errors import ProjectError
from kinematics.mount_parts import Base, Bracket, Mount, StopPart
from kinematics.values import in_sixteenths

if TYPE_CHECKING:
    from kinematics.project import Project

KINDS: dict[str, type[Any]] = {"bracket": Bracket, "base": Base, "stop_part": StopPart}
"""The parts of a mount by their names in it."""
INCH_BOLT = "5/16-18"
"""The bolt to begin with where lengths are in inches."""


def begin_mount(project: Project, which: str) -> Project:
    """Say what a part of the mount is, with usual sizes; the project itself where that is said already."""
    if getattr(project.mounted, which) is not None:
        return project
    part = KINDS[which]()
    return _put(project, which, _in_inches(part) if project.display_units == "in" else part)


def _in_inches(part: Any) -> Any:  # noqa: ANN401  a part
    """The usual sizes as somebody has them who measures in inches: in sixteenths, with bolts of that kind."""
    names = [field.name for field in fields(part) if not field.name.endswith("_deg")]
    sizes = {name: value for name in names if isinstance(value := getattr(part, name), float) and value > 0.0}
    bolt = {"bolt": INCH_BOLT} if "bolt" in names else {}
    return replace(part, **bolt, **{name: in_sixteenths(value) for name, value in sizes.items()})


def set_mount(project: Project, which: str, **changed: Any) -> Project:  # noqa: ANN401  any field of the part
    """Change a part of the mount; ProjectError where nothing is said of it yet."""
    part = getattr(project.mounted, which)
    if part is None:
        raise ProjectError("nothing is said of it yet", which.replace("_", " "), "Begin with a usual one.")
    new = replace(part, **changed)
    return project if new == part else _put(project, which, new)


def drop_mount(project: Project, which: str) -> Project:
    """Say nothing of a part of the mount any more."""
    if getattr(project.mounted, which) is None:
        return project
    made = _put(project, which, None)
    return replace(made, mount=None) if made.mount == Mount() else made


def _put(project: Project, which: str, part: Any) -> Project:  # noqa: ANN401  a part or None
    """The project with a part of its mount; what a file carries in the mount's place is never written over."""
    if project.mount is not None and not isinstance(project.mount, Mount):
        what = "what the file says of the mount isn't sound, and is kept as it is"
        raise ProjectError(what, "mount", "Correct it in the file, or take it out there.")
    return replace(project, mount=replace(project.mounted, **{which: part}))
