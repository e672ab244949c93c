"""The sweep as an animation: a GIF that opens the panel and shuts it again, over and over.

Each frame is the picture at one opening, drawn once and shown on the way there and back. All frames share one palette,
made from a few of them, so that colours don't flicker and writing stays quick. What a GIF may take is bounded before it
is drawn (pixels) and before it is written (bytes). Qt reads GIF but writes none, so Pillow does.
"""

from __future__ import annotations

from io import BytesIO
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from app.files.atomic import write_whole
from app.files.errors import FileError, fault_of, shown_name
from app.files.pictures import LEAST_SIDE, Stills
from app.lengths import format_angle

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from PIL.Image import Image

    from app.look import Look
    from kinematics.analysis import Analysis

USUAL_SIZE = (800, 500)
FRAMES = 30
"""From shut to open; there and back they are shown for some four seconds."""
FRAME_MS, REST_MS = 60, 700
MOST_PIXELS = 1920 * 1080
"""In one frame."""
MOST_BYTES = 20_000_000
PALETTE_FROM = 4
SMALLER = "Take a smaller size."


def save_animation(
    analysis: Analysis,
    path: Path | str,
    size: tuple[int, int] = USUAL_SIZE,
    last_deg: float | None = None,
    look: Look | None = None,
    progress: Callable[[float], bool] = lambda _: True,
) -> bool:
    """Write the sweep as a GIF; False where it was stopped, and then nothing is written.

    last_deg : the opening that it goes to; None: as far as the panel goes.     look : None: ink on paper.
    progress : is told the share that is done, 0 to 1; what it returns says whether to go on.
    Raises FileError, one sentence, for what can't be drawn or written, and then nothing is written.
    """
    target = Path(path)
    reached = analysis.opening.reached_deg
    last = reached if last_deg is None else last_deg
    _check(target, size, last, reached)
    degs = tuple(np.linspace(0.0, last, FRAMES).tolist())
    frames = list(_frames(analysis, degs, size, look, progress))
    if len(frames) < FRAMES:
        return False
    content = _gif(frames)
    if len(content) > MOST_BYTES:
        raise FileError(f"the animation takes more than {MOST_BYTES / 1e6:.0f} MB", shown_name(target), SMALLER)
    if not progress(1.0):
        return False
    try:
        write_whole(target, content)
    except OSError as problem:
        raise FileError(f"the animation can't be written: {fault_of(problem)}", shown_name(target)) from problem
    return True


def _check(target: Path, size: tuple[int, int], last: float, reached: float) -> None:
    name = shown_name(target)
    if target.suffix.lower() != ".gif":
        raise FileError("an animation is a GIF", name, "Let the name end in .gif.")
    if not all(side >= LEAST_SIDE for side in size) or size[0] * size[1] > MOST_PIXELS:
        raise FileError(
            f"{size[0]} × {size[1]} is no size for an animation",
            name,
            f"Take {LEAST_SIDE} pixels a side or more, and no more than {MOST_PIXELS} in all, such as 1920 × 1080.",
        )
    if reached <= 0.0:
        raise FileError("the panel doesn't open, so there is nothing to animate", name)
    if not (isfinite(last) and 0.0 < last <= reached + 1e-6):
        raise FileError(
            f"there is no sweep to {format_angle(last)}", name, f"The panel goes from 0° to {format_angle(reached)}."
        )


def _frames(
    analysis: Analysis,
    degs: tuple[float, ...],
    size: tuple[int, int],
    look: Look | None,
    progress: Callable[[float], bool],
) -> Iterator[Image]:
    """Draw the frames, in the colours of one palette; ends early when it is stopped."""
    from PIL.Image import Dither

    chosen = degs[:: len(degs) // PALETTE_FROM]
    stills = Stills(analysis, (*chosen, degs[-1]), size, look)
    palette = _palette([_plain(stills, deg) for deg in chosen])
    for number, deg in enumerate(degs):
        if not progress(0.9 * number / len(degs)):
            return
        yield _plain(stills, deg).quantize(palette=palette, dither=Dither.NONE)


def _plain(stills: Stills, deg: float) -> Image:
    """One frame as an image of Pillow's."""
    from PIL import Image

    image = stills.at(deg)
    wide, tall = image.width(), image.height()
    return Image.frombuffer("RGB", (wide, tall), bytes(image.constBits()), "raw", "BGRX", image.bytesPerLine(), 1)


def _palette(images: list[Image]) -> Image:
    """The 255 colours that a few frames, side by side, need most."""
    from PIL import Image

    wide, tall = images[0].size
    strip = Image.new("RGB", (wide * len(images), tall))
    for place, image in enumerate(images):
        strip.paste(image, (place * wide, 0))
    return strip.quantize(255)


def _gif(frames: list[Image]) -> bytes:
    """There and back, resting at either end."""
    there_and_back = [*frames, *frames[-2:0:-1]]
    durations = [FRAME_MS] * len(there_and_back)
    durations[0] = durations[len(frames) - 1] = REST_MS
    held = BytesIO()
    there_and_back[0].save(
        held, "GIF", save_all=True, append_images=there_and_back[1:], duration=durations, loop=0, optimize=False
    )
    return held.getvalue()
