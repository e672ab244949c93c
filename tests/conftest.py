"""What every test stands on: no screen, the same random numbers each time, settings that are not the user's."""

from __future__ import annotations

import gc
import os
import signal
import sys
from typing import TYPE_CHECKING

# Before any Qt import: tests draw into memory. QT_QPA_PLATFORM=xcb in the environment runs them on a real screen.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("QT_SCALE_FACTOR", "1")

import pytest
from hypothesis import HealthCheck, settings

from tests.thorough import cases

# Where Python may not keep what it has compiled (many images say so), each process of the tests, and each one that
# these start, compiles the whole program anew: half a second of processor time every time.
sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

# What collecting makes (seven thousand tests) lives to the end: to look through it for rubbish again and again took a
# quarter of the time of collecting, and goes on taking it during the tests unless it is put aside.
gc.disable()

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

# The same examples every time, and no deadline: a slow machine is no fault of the code.
settings.register_profile(
    "hingewright",
    derandomize=True,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    print_blob=True,
    max_examples=cases(20, 100),  # the whole suite is to take less than 4 minutes
)
settings.load_profile("hingewright")


def pytest_configure(config: pytest.Config) -> None:
    """On several cores asserts stay as they are written: to rewrite ten thousand takes each process as long as a
    twentieth of all tests. What fails shows its variables instead; one by one (-n 0) it shows both sides.
    """
    if getattr(config.option, "numprocesses", None) and not hasattr(config, "workerinput"):
        asked = os.environ.get("PYTEST_ADDOPTS", "")
        os.environ["PYTEST_ADDOPTS"] = f"--assert=plain --showlocals {asked}"  # for the processes that are to come


def pytest_collection_finish() -> None:
    """Rubbish is looked for from here on, among what the tests themselves make."""
    gc.freeze()
    gc.enable()


@pytest.fixture(autouse=True, scope="session")
def _own_settings(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Settings, caches and recovery files go to a folder of the test run, never to the user's."""
    home = tmp_path_factory.mktemp("home")
    for name in ("XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_CACHE_HOME", "XDG_STATE_HOME"):
        os.environ[name] = str(home / name.lower())


@pytest.fixture(autouse=True, scope="session")
def _plain_numbers() -> None:
    """Decimals behind a point, whatever the desktop of the one who tests has."""
    from PySide6.QtCore import QLocale

    QLocale.setDefault(QLocale.c())


@pytest.fixture
def python_interrupts() -> Iterator[None]:
    """Ctrl-C as Python handles it from the start; where tests run in the background, shells let it be ignored."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.fixture
def read_only(tmp_path: Path) -> Path:
    """A place where nothing can be written, for root too: a path below a plain file."""
    wall = tmp_path / "a plain file"
    wall.write_text("not a folder")
    return wall / "below it"
