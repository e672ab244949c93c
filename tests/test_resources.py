"""What ships with the program is found, from a checkout and from a wheel's folder alike."""

from __future__ import annotations

import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

import resources
from app.files import load

if TYPE_CHECKING:
    from pathlib import Path


def test_files_are_found_by_name() -> None:
    assert load(resources.find("demos/launch hatch.hinge")).panel.id == "hatch"
    assert resources.find("demos").is_dir()


def test_they_are_found_from_any_folder(tmp_path: Path) -> None:
    find = "import resources; print(resources.find('demos'))"
    code = f"import sys; sys.path.insert(0, {str(resources.FOLDER.parent)!r}); {find}"
    told = subprocess.run([sys.executable, "-c", code], cwd=tmp_path, capture_output=True, text=True, check=True)
    assert told.stdout.strip() == str(resources.FOLDER / "demos")


def test_a_missing_one_is_named() -> None:
    with pytest.raises(FileNotFoundError, match=r"no such\.csv is missing"):
        resources.find("no such.csv")
