"""Data that ships with the program: demo projects, the schema of the project file, icons, fonts, tables.

It lies beside this file, in a checkout as in an installed package.
"""

from __future__ import annotations

from pathlib import Path

FOLDER = Path(__file__).resolve().parent


def find(name: str) -> Path:
    """Give the path of a file or folder of the resources, by its name from here ("demos/launch hatch.hinge").

    Raises FileNotFoundError when it isn't there, which is a fault of the package, none of the user's.
    """
    path = FOLDER / name
    if not path.exists():
        raise FileNotFoundError(f"the program's own file {name} is missing in {FOLDER}")
    return path
