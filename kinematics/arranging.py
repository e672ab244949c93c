"""Edits of the list of parts: the order in which they stand, which are drawn, which the mouse may move.

None of these touches the mechanism. The order is that of tables and sheets, and of what is drawn over what (later ones
lie on top). As in `kinematics.edits`, what isn't touched is shared, and an edit that changes nothing gives back the
project itself.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from kinematics.errors import ProjectError

if TYPE_CHECKING:
    from kinematics.project import Link, Mark, Outline, Pivot, Project

LISTS = {"link": "links", "pivot": "pivots", "outline": "outlines", "mark": "marks"}
"""Kinds of parts, and the project's list of each."""
LOCKABLE = ("pivot", "outline", "mark")
"""Kinds whose parts can be locked; a link is moved by its pins alone."""


def parts_of(
    project: Project, kind: str
) -> tuple[Link, ...] | tuple[Pivot, ...] | tuple[Outline, ...] | tuple[Mark, ...]:
    """Give all parts of a kind ("link", "pivot", "outline" or "mark"), in order."""
    found: tuple[Any, ...] = getattr(project, LISTS[kind])
    return found


def hide_part(project: Project, kind: str, id: str, hidden: bool = True) -> Project:
    """Leave a part out of the picture, or show it again; it counts all the same."""
    return _with(project, kind, id, hidden=hidden)


def show_all(project: Project) -> Project:
    """Show every part again."""
    for kind in LISTS:
        for part in parts_of(project, kind):
            project = hide_part(project, kind, part.id, hidden=False)
    return project


def hidden_count(project: Project) -> int:
    """Give how many parts are hidden."""
    return sum(part.hidden for kind in LISTS for part in parts_of(project, kind))


def lock_part(project: Project, kind: str, id: str, locked: bool = True) -> Project:
    """Keep a pivot, an outline or a mark from being moved by the mouse, or free it; ProjectError for a link."""
    if kind not in LOCKABLE:
        raise ProjectError("a link is moved by its pins alone", f"{kind} “{id}”", "Lock its pins instead.")
    return _with(project, kind, id, locked=locked)


def reorder(project: Project, kind: str, id: str, step: int) -> Project:
    """Move a part `step` places down its list (negative: up), as far as the list goes."""
    parts = list(parts_of(project, kind))
    place = _place(project, kind, id)
    part = parts.pop(place)
    parts.insert(min(max(place + step, 0), len(parts)), part)
    return _replaced(project, kind, tuple(parts))


def _place(project: Project, kind: str, id: str) -> int:
    """Where a part stands in its list; ProjectError when there is none of this name."""
    getattr(project, kind)(id)
    return [part.id for part in parts_of(project, kind)].index(id)


def _with(project: Project, kind: str, id: str, **fields: bool) -> Project:
    parts: list[Any] = list(parts_of(project, kind))
    place = _place(project, kind, id)
    changed = replace(parts[place], **fields)
    if changed == parts[place]:
        return project
    parts[place] = changed
    return _replaced(project, kind, tuple(parts))


def _replaced(project: Project, kind: str, parts: tuple[Any, ...]) -> Project:
    lists: dict[str, Any] = {LISTS[kind]: parts}
    return project if parts == parts_of(project, kind) else replace(project, **lists)
