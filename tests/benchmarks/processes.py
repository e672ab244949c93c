"""What a user waits for: frames, start of the window, `--version`, memory. Each measured in processes of their own."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

import numpy as np

from resources import find
from tests.benchmarks.timing import Times, head, line


def child(*words: str, scale: int = 1) -> dict[str, Any]:
    """Run tests.benchmarks.frames and read what it prints."""
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "QT_SCALE_FACTOR": str(scale)}
    run = subprocess.run(
        [sys.executable, "-m", "tests.benchmarks.frames", *words],
        capture_output=True,
        text=True,
        env=environment,
        check=False,
        timeout=300,
    )
    if run.returncode != 0 or not run.stdout.strip():
        raise SystemExit(f"frames {words}: {run.stderr.strip()[-2000:]}")
    found: dict[str, Any] = json.loads(run.stdout.strip().splitlines()[-1])
    return found


def frames() -> None:
    """Drags with the mouse, at the sizes of the budget; and at four times the pixels."""
    for scene, what in (
        ("drag", "pivot X of the demo dragged"),
        ("photo", "pivot X of the demo over a photo of 12 MP dragged"),
        ("ride", "the demo's panel swung, with a photo of 12 MP on it"),
        ("full", "pivot X of a full sheet (12 links, 5 000 outline points) dragged"),
    ):
        head(f"Pointer move to painted frame: {what} with the mouse, 160 moves, offscreen")
        frames_of(scene)


def frames_of(scene: str) -> None:
    """The lines of one scene."""
    for size, scale, budget in (("1280x800", 1, 16.7), ("1280x720", 2, 33.0), ("2560x1440", 2, None)):
        told = child(scene, size, scale=scale)
        if not told["moved"] or (scene != "ride" and not told["undo"]) or told["refused"] > 10:
            raise SystemExit(f"the drag did nothing: {told}")
        times = Times(tuple(told["frames"][5:]), tuple(told["busy"][5:]))
        pixels = "×".join(str(part) for part in told["pixels"])
        good = None if budget is None else times.p95 <= budget
        line(f"{pixels} pixels at scale {scale}", times, f"p95 {budget} ms" if budget else "", good)
        rate = f"{told['rate']:.0f} frames a second"
        line("  125 moves a second, each till it is shown", f"{Times(tuple(told['ages']))}   {rate}")
        redraw = told["redraw"]
        if redraw["all"]:
            line("  drawing the photo afresh after a zoom", Times(tuple(redraw["all"])))
            line("  the longest that anything waits meanwhile", Times(tuple(redraw["longest"])))
        if scale == 1:
            line("memory after the drag", f"{told['mb']:.0f} MB", "250 MB", told["mb"] <= 250)


def starts() -> None:
    """From the command line's start to a usable window; and the version, which loads nothing."""
    head("Start, each the median of several processes")
    found = [child("start", str(time.monotonic())) for _ in range(5)]
    seconds, mb = (float(np.median([each[key] for each in found])) for key in ("seconds", "mb"))
    line("start to usable window (demo painted with its analysis)", f"{seconds:.2f} s", "1.5 s", seconds <= 1.5)
    line("memory then", f"{mb:.0f} MB", "250 MB", mb <= 250)
    took = []
    for _ in range(9):
        began = time.monotonic()
        subprocess.run([sys.executable, "-m", "app", "--version"], capture_output=True, check=True)
        took.append(time.monotonic() - began)
    version = float(np.median(took))
    line("hingewright --version", f"{version:.3f} s", "0.3 s", version <= 0.3)


def shares() -> None:
    """What is made to be shown to others, from the command line, the program's start included."""
    head("Pictures and sheets of the demo, by the command line, each the median of three processes")
    demo = str(find("demos/launch hatch.hinge"))
    for what, words, budget in (
        ("animation, 58 frames of 800×500 (GIF)", ["--to", "a.gif"], 4.0),
        ("picture, 1600×1000 (PNG)", ["--to", "a.png"], None),
        ("layout sheet (PDF)", ["--to", "a.pdf", "--sheet", "layout"], None),
        ("mock-up templates, 8 sheets (PDF)", ["--to", "b.pdf", "--sheet", "mockup"], None),
    ):
        took = []
        with tempfile.TemporaryDirectory() as folder:
            for _ in range(3):
                began = time.monotonic()
                out = [str(Path(folder) / word) if "." in word else word for word in words]
                subprocess.run([sys.executable, "-m", "app", "picture", demo, *out], capture_output=True, check=True)
                took.append(time.monotonic() - began)
        found = float(np.median(took))
        line(what, f"{found:.2f} s", f"{budget} s" if budget else "", None if budget is None else found <= budget)
