"""Files: projects, outlines, pictures and drawings, read and written without any widget."""

from __future__ import annotations

from app.files.project_file import load, save

__all__ = ["load", "save"]
