"""What is built, on the sheet: the holes of plates, and what holds the hinge at panel and wall. No Qt here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.hole_shapes import hole_shapes
from app.mount_shapes import mount_shapes, webs_drawn

if TYPE_CHECKING:
    from app.look import Look
    from app.shapes import Shape
    from kinematics.project import Project


def built_shapes(project: Project, look: Look, mount: bool = True) -> list[Shape]:
    """Show holes, and bracket and base where `mount` says so."""
    webs = webs_drawn(project) if mount else []
    return [*(mount_shapes(project, look) if mount else []), *hole_shapes(project, look, webs)]
