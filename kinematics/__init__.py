"""Kinematics: computes a hinge's motion, gaps and forces from a `Project`; knows no window and no file.

`kinematics.analyse(project)` is the one way in. It is looked up on first use, so that importing the model and its edits
stays quick (no numpy, no scipy).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from kinematics.analysis import Analysis, analyse

__all__ = ["Analysis", "analyse"]


def __getattr__(name: str) -> object:
    if name in __all__:
        from kinematics import analysis  # noqa: PLC0415  late on purpose, see above

        return getattr(analysis, name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
