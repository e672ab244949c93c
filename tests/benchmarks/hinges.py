"""The hinge that is measured: the demo's six-bar with outlines of as many points and as many pairs as asked for."""

from __future__ import annotations

import random
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from app.files import load
from kinematics import edits, plate_edits
from kinematics.build_parts import Plates
from kinematics.project import GapWant, Link, Outline, Pivot, Project
from resources import find

if TYPE_CHECKING:
    from collections.abc import Iterator

SEED = 20
DEMO = "demos/launch hatch.hinge"


def demo() -> Project:
    """The demo as it ships, read anew: nothing is known of its outlines yet."""
    return load(find(DEMO))


def demo_with(points: int, pairs: int) -> Project:
    """The demo's linkage with `pairs` watched pairs (panel against body), each outline of `points` points.

    The first pair is the demo's own screen and skin, resampled; the others stand beside and beneath them. The skin is
    the panel's only outline, up to 4 pairs; from 8 on there is a liner beneath it too.
    """
    project = demo()
    screen, skin = (np.array(outline.points) for outline in project.outlines)
    body, panel = project.fixed.id, project.panel.id
    deck = np.array([(6.0, -200.0), (60.0, -20.0), (300.0, 60.0), (700.0, 120.0), (1200.0, 90.0)])
    engine = np.array([(300.0, 40.0), (330.0, 150.0), (520.0, 190.0), (900.0, 170.0), (940.0, 60.0)])
    coaming = np.array([(1215.0, 0.0), (1215.0, 230.0), (1240.0, 240.0), (1240.0, 0.0)])
    on_body = [("screen", screen), ("deck", deck), ("engine", engine), ("coaming", coaming)]
    on_panel = [("skin", skin), ("liner", skin + np.array([0.0, -18.0]))]
    kept = on_body[: min(pairs, 4)]
    worn = on_panel[: 2 if pairs > 4 else 1]
    outlines = [Outline(name, body, resampled(line, points)) for name, line in kept]
    outlines += [Outline(name, panel, resampled(line, points)) for name, line in worn]
    return replace(project, outlines=tuple(outlines), gaps=(), limits=(), marks=(), loads=None)


def demo_split(points: int) -> Project:
    """The demo with its screen and its sill as two outlines, both near the panel: two pairs, straight as they are."""
    project = demo()
    screen, skin = (np.array(outline.points) for outline in project.outlines)
    body, panel = project.fixed.id, project.panel.id
    outlines = (
        Outline("screen", body, resampled(screen[:4], points, wave=0.0)),
        Outline("sill", body, resampled(screen[3:], points, wave=0.0)),
        Outline("skin", panel, resampled(skin, points, wave=0.0)),
    )
    return replace(project, outlines=outlines, gaps=(), limits=(), marks=(), loads=None)


PLATED = "arm", "short link"
BOW, WAIST = 8.0, 6.0


def demo_plated() -> dict[str, Project]:
    """The demo without loads, its links as bands and as plates of every shape, two of them watched against the body."""
    shipped = demo()
    bare = replace(shipped, loads=None, strength=None, plates=None, stack=None, mount=None)
    body = next(outline.id for outline in bare.outlines if outline.on == bare.fixed.id)
    watched = replace(bare, gaps=(*bare.gaps, *(GapWant((link, body), 1.0) for link in PLATED)))
    plain = replace(watched, plates=Plates(thickness=4.0))
    bowed = waisted = plain
    for link in (each.id for each in bare.links if each.kind == "link"):
        sides = plate_edits.sides_of(plain, link)
        bowed = plate_edits.set_bow(bowed, link, sides[0], BOW) if len(sides) == 2 else bowed
        waisted = plate_edits.set_waist(waisted, link, WAIST)
    return {
        "no link watched": bare,
        "bands": watched,
        "plain plates": plain,
        "bowed plates": bowed,
        "waisted plates": waisted,
    }


def resampled(line: np.ndarray, points: int, wave: float = 0.4) -> tuple[tuple[float, float], ...]:
    """A line of as many points, evenly spaced, with waves (0.4 mm) so that it isn't all straight."""
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
    s = np.linspace(0.0, along[-1], points)
    x, y = np.interp(s, along, line[:, 0]), np.interp(s, along, line[:, 1])
    waves = wave * np.sin(s / 9.0)
    return tuple((float(a + w), float(b - w)) for a, b, w in zip(x, y, waves, strict=True))


def wandering(project: Project, pivot: str, moves: int, step: float = 1.0, reach: float = 6.0) -> Iterator[Project]:
    """Projects along a wandering path of one pivot: each move 1 mm, its direction bending, never far from home."""
    dice = random.Random(SEED)
    home = complex(*project.pivot(pivot).at)
    at, heading = home, complex(1.0, 0.0)
    for _ in range(moves):
        heading *= np.exp(1j * dice.uniform(-0.6, 0.6))
        if abs(at + step * heading - home) > reach:
            heading = (home - at) / abs(home - at)
        at += step * heading
        project = edits.move_pivot(project, pivot, (at.real, at.imag))
        yield project


def workshop() -> Project:
    """A full sheet: the demo's linkage with three more pairs of links, 12 in all, and 5 000 points of outlines.

    Each further pair leads from a pin on the body to one on the panel and leaves the motion as it is. Two outlines
    are traced on the body, one on the panel (two watched pairs), and a casting on each of two moving links.
    """
    project = demo_with(1500, 1)
    body, panel = project.fixed.id, project.panel.id
    links, pivots = list(project.links), list(project.pivots)
    for number, (foot, knee, top) in enumerate(KNEES, 1):
        links += [Link(f"lower brace {number}", "link", 20.0), Link(f"upper brace {number}", "link", 20.0)]
        pivots += [
            Pivot(f"F{number}", foot, (body, f"lower brace {number}")),
            Pivot(f"K{number}", knee, (f"lower brace {number}", f"upper brace {number}")),
            Pivot(f"H{number}", top, (f"upper brace {number}", panel)),
        ]
    engine = np.array([(330.0, -160.0), (350.0, -60.0), (520.0, -20.0), (900.0, -40.0), (940.0, -150.0)])
    outlines = (
        *project.outlines,
        Outline("engine", body, resampled(engine, 1000)),
        Outline("arm casting", "arm", ringed(project, ("O1", "X", "P1"), 500)),
        Outline("cross casting", "cross link", ringed(project, ("X", "B", "Q"), 500)),
    )
    shipped = demo()
    return replace(
        project,
        links=tuple(links),
        pivots=tuple(pivots),
        outlines=outlines,
        marks=shipped.marks,
        limits=shipped.limits,
        gaps=tuple(GapWant((outline.id, "skin"), 10.0) for outline in outlines if outline.on == body),
    )


KNEES = (  # of the workshop's further links: pin on the body, pin between the two, pin on the panel, mm
    ((200.0, 60.0), (560.0, 8.0), (320.0, 280.0)),
    ((260.0, 30.0), (680.0, -47.0), (400.0, 275.0)),
    ((180.0, 20.0), (580.0, -66.0), (360.0, 278.0)),
)


def ringed(project: Project, pins: tuple[str, ...], points: int) -> tuple[tuple[float, float], ...]:
    """A wavy line around some pins, not quite closed."""
    spots = np.array([project.pivot(pin).at for pin in pins])
    middle, reach = spots.mean(axis=0), np.hypot(*(spots - spots.mean(axis=0)).T).max() + 20.0
    t = np.linspace(0.0, 6.1, points)
    rim = reach * (1.0 + 0.06 * np.sin(9.0 * t))
    return tuple(
        (float(middle[0] + r * np.cos(a)), float(middle[1] + r * np.sin(a))) for r, a in zip(rim, t, strict=True)
    )
