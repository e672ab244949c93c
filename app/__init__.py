"""Everything that meets people and files: the window, the command line, the words and the outputs.

What is computed comes from `kinematics`; this package shows it, asks for changes, and carries it in and out of files.
"""

from __future__ import annotations

__all__ = ["__version__"]

__version__ = "0.1.0"
