"""What ships: every folder with code in it is a package, or the wheel would leave it out."""

from __future__ import annotations

from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
FOLDERS = sorted(
    {path.parent for top in ("app", "kinematics", "resources", "tests") for path in (ROOT / top).rglob("*.py")}
)


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.relative_to(ROOT).as_posix())
def test_every_folder_with_code_is_a_package(folder: Path) -> None:
    assert (folder / "__init__.py").is_file()


def test_the_version_is_named_once() -> None:
    """pyproject.toml takes it from `app.__version__`; a second number would drift from the first."""
    from app import __version__

    assert f'"{__version__}"' not in (ROOT / "pyproject.toml").read_text("utf-8")
