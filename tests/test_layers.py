"""The layers of the program, held by a machine: the contracts stand in pyproject.toml under `tool.importlinter`."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
SOURCES = sorted((ROOT / "kinematics").rglob("*.py"))


def test_every_layer_contract_is_kept() -> None:
    command = [sys.executable, "-c", "from importlinter.cli import lint_imports_command as lint; lint()", "--no-cache"]
    wide = {**os.environ, "COLUMNS": "120"}
    done = subprocess.run(command, cwd=ROOT, env=wide, capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert "3 kept, 0 broken" in done.stdout


@pytest.mark.parametrize("path", SOURCES, ids=lambda p: p.relative_to(ROOT).as_posix())
def test_kinematics_names_neither_qt_nor_app(path: Path) -> None:
    """The linter above reads the import graph; this reads the text, so an import within a function is seen too."""
    names = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            names.add((node.module or "").split(".")[0])
    assert not names & {"PySide6", "PyQt5", "PyQt6", "shiboken6", "ezdxf", "app"}
