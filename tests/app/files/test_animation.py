"""The animation: frames there and back, within bounds, with progress and stop; read back by Qt, not its writer."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from PySide6.QtGui import QImageReader

from app.files import animation
from app.files.animation import FRAME_MS, FRAMES, REST_MS, save_animation
from app.files.errors import FileError
from app.files.pictures import Stills
from kinematics import analyse
from tests import specimens
from tests.app import pictures

if TYPE_CHECKING:
    from pathlib import Path

    from kinematics.analysis import Analysis

pytestmark = pytest.mark.usefixtures("qapp")

SIZE = (320, 200)


@pytest.fixture(scope="module")
def demo() -> Analysis:
    return analyse(specimens.demo_six_bar)


def test_it_opens_and_shuts_over_and_over(demo: Analysis, tmp_path: Path) -> None:
    told: list[float] = []
    out = tmp_path / "a.gif"
    assert save_animation(demo, out, SIZE, progress=lambda share: told.append(share) is None)
    assert told == sorted(told)
    assert (told[0], told[-1]) == (0.0, 1.0)
    reader = QImageReader(str(out))
    assert reader.loopCount() == -1  # for ever
    frames, delays = [], []
    while reader.canRead():
        frames.append(reader.read())
        delays.append(reader.nextImageDelay())
    assert len(frames) == 2 * FRAMES - 2
    assert {(frame.width(), frame.height()) for frame in frames} == {SIZE}
    assert sorted(delays)[-2:] == [REST_MS, REST_MS]
    assert sorted(delays)[0] == FRAME_MS
    stills = Stills(demo, (0.0, 75.0), SIZE)
    far = pictures.differ(frames[0], frames[FRAMES - 1])
    assert far > 0.02
    assert pictures.differ(frames[0], stills.at(0.0)) < far / 2.0  # words find their places by those before
    assert pictures.differ(frames[FRAMES - 1], stills.at(75.0)) < far / 2.0
    assert frames[1] == frames[-1]


def test_stopped_it_writes_nothing(demo: Analysis, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(animation, "FRAMES", 6)
    for last in (0.0, 0.5, 0.99):
        assert not save_animation(demo, tmp_path / "a.gif", SIZE, progress=lambda share, last=last: share < last)
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("name", "size", "last", "told"),
    [
        ("a.png", SIZE, None, "a.png: an animation is a GIF. Let the name end in .gif."),
        ("a.gif", (10, 400), None, "10 × 400 is no size for an animation"),
        ("a.gif", (2000, 1200), None, "no more than 2073600 in all"),
        ("a.gif", SIZE, 80.0, "there is no sweep to 80°. The panel goes from 0° to 75°."),
        ("a.gif", SIZE, 0.0, "there is no sweep to 0°"),
        ("a.gif", SIZE, math.nan, "there is no sweep to —"),
    ],
)
def test_what_cannot_be_drawn_is_told(
    demo: Analysis, tmp_path: Path, name: str, size: tuple[int, int], last: float | None, told: str
) -> None:
    with pytest.raises(FileError, match=told):
        save_animation(demo, tmp_path / name, size, last)
    assert not list(tmp_path.iterdir())


def test_a_locked_panel_a_full_disk_and_too_many_bytes_are_told(
    demo: Analysis, tmp_path: Path, read_only: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(animation, "FRAMES", 4)
    with pytest.raises(FileError, match="nothing to animate"):
        save_animation(analyse(specimens.locked_triangle), tmp_path / "a.gif", SIZE)
    with pytest.raises(FileError, match=r"^a\.gif: the animation can't be written: "):
        save_animation(demo, read_only / "a.gif", SIZE)
    monkeypatch.setattr(animation, "MOST_BYTES", 100)
    with pytest.raises(FileError, match="takes more than"):
        save_animation(demo, tmp_path / "a.gif", SIZE)
