"""What it takes to make the whole set of a build: its start included, as somebody waits for it; and its dear parts."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from app.files import load
from app.making.plan import plan_of
from app.making.study import study_of
from resources import find
from tests.benchmarks.timing import Times, head, line

RUNS = 5
WHOLE_MS = 8000.0
DEMO = "demos/launch hatch.hinge"


def whole_set() -> None:
    """`hingewright make` of the demo in a process of its own, then each kind of file by itself."""
    head(f"The whole set of the demo, {RUNS} times")
    waited, busy = [], []
    for _ in range(RUNS):
        with tempfile.TemporaryDirectory() as folder:
            begun, spent = time.perf_counter(), _children()
            words = ["make", str(find(DEMO)), "--to", str(Path(folder) / "set")]
            done = subprocess.run([sys.executable, "-m", "app", *words], capture_output=True, check=False)
            if done.returncode not in (0, 1):
                raise SystemExit(done.stderr.decode())
            waited.append(1000.0 * (time.perf_counter() - begun))
            busy.append(1000.0 * (_children() - spent))
    times = Times(tuple(waited), tuple(busy))
    line("`hingewright make`, its start included", times, f"{WHOLE_MS:g} ms", times.p95 <= WHOLE_MS)
    for kind, told in _by_kind().items():
        line(kind, told, "", None)


def _children() -> float:
    """Seconds of processor that ended children took, where the system tells."""
    told = os.times()
    return told.children_user + told.children_system


def _by_kind() -> dict[str, Times]:
    """What studying and each kind of file take, here."""
    project = load(find(DEMO))
    found: dict[str, Times] = {}
    begun, spent = time.perf_counter(), time.process_time()
    plan = plan_of(project, study=study_of(project, "mm"))
    found["study of the travel, plan"] = _since(begun, spent)
    for kind in dict.fromkeys(each.kind for each in plan.files):
        begun, spent = time.perf_counter(), time.process_time()
        for each in plan.files:
            if each.kind == kind:
                each.content()
        found[f"all files of the kind “{kind}”"] = _since(begun, spent)
    return found


def _since(begun: float, spent: float) -> Times:
    return Times((1000.0 * (time.perf_counter() - begun),), (1000.0 * (time.process_time() - spent),))
