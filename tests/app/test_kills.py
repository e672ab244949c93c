"""`kill -9` at random instants: nothing is lost but the last edits, and every file can be read."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from typing import TYPE_CHECKING, Any

import pytest

from tests.app.kills import ROOT
from tests.thorough import cases

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="processes are forked")


def killed(folder: Path, *options: str) -> dict[str, Any]:
    """Have the script kill, and give what it saw."""
    command = [sys.executable, "-m", "tests.app.kills", str(folder / "benches"), *options]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.stdout, done.stderr
    seen: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    return seen


def test_kills_during_hasty_saves_lose_nothing_that_was_written(tmp_path: Path) -> None:
    """Autosaves follow at once here, so that most kills come in the middle of a write."""
    seen = killed(tmp_path, "--kills", "24", "--benches", "4", "--longest", "0.4", "--keep-after", "0.0")
    assert (seen["kills"], seen["faults"]) == (24, [])
    assert seen["offered"] > 0  # some work was there to be taken back


@pytest.mark.slow
def test_kills_lose_no_more_than_the_last_two_seconds(tmp_path: Path) -> None:
    """As the program keeps: the figure that is promised; `python -m tests.app.kills` kills 200 times."""
    kills = cases(24, 100)
    seen = killed(tmp_path, "--kills", str(kills), "--benches", "12")
    assert (seen["kills"], seen["faults"]) == (kills, [])
    assert seen["offered"] > kills / 10
    assert seen["lost_s"] <= 2.0
