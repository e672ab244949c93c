"""The README keeps its promises: the two one-line commands, the same one in CI, and links that lead somewhere."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parent.parent
START = "python3 -m venv .venv && .venv/bin/pip install . && .venv/bin/hingewright"
TEST = 'python3 -m venv .venv && .venv/bin/pip install ".[test]" && .venv/bin/python -m pytest'


def fenced_lines(text: str) -> list[str]:
    return [
        line
        for block in re.findall(r"^```[a-z]*\n(.*?)^```", text, re.DOTALL | re.MULTILINE)
        for line in block.splitlines()
    ]


def test_both_commands_stand_each_on_a_line_of_its_own() -> None:
    lines = fenced_lines((ROOT / "README.md").read_text("utf-8"))
    assert [line for line in lines if "venv" in line] == [START, TEST]


def test_ci_runs_the_readmes_test_command() -> None:
    assert TEST in [line.strip() for line in (ROOT / ".ci/run").read_text("utf-8").splitlines()]


def test_links_within_the_repository_lead_somewhere() -> None:
    for name in ("README.md", "DEVELOPERS.md"):
        links = re.findall(r"\]\(([^)#:]+)\)", (ROOT / name).read_text("utf-8"))
        missing = [link for link in links if not (ROOT / link).exists()]
        assert not missing, f"{name}: {missing}"
