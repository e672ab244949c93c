"""How long `analyse` takes: after a pivot has moved, cold, against the plain way, and how it grows."""

from __future__ import annotations

import functools
import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from kinematics import analyse, wanting
from kinematics.project import PinFriction
from kinematics.sureness import how_sure
from tests.benchmarks import hinges, plain
from tests.benchmarks.timing import Times, head, line, timed

if TYPE_CHECKING:
    from kinematics.analysis import Analysis
    from kinematics.arrays import Floats
    from kinematics.project import Project

MOVES = 200
ALLOWED = ("with struts, handle and wants", "with strength: as the demo ships")
"""Lines of the table that have a budget of their own: what one more kind of figures may cost a frame."""


def after_moves(project: Project, pivot: str, moves: int = MOVES, steps: int = 181) -> Times:
    """`analyse(moved, near=last)` along a wandering path of one pivot, as in a drag."""
    last: list[Analysis] = [analyse(project, steps)]

    def one(moved: Project) -> None:
        last[0] = analyse(moved, steps, last[0])

    return timed((functools.partial(one, moved) for moved in hinges.wandering(project, pivot, moves)), warm_up=5)


def agrees_with_plain(project: Project) -> None:
    """The two ways must find the same hinge before their times mean anything."""
    found = {frozenset(gap.between): gap.smallest for gap in analyse(project).gaps}
    for pair, sampled in plain.whole(project, 181).items():
        smallest = found[frozenset(pair)]
        if smallest is None or not sampled - 0.3 <= smallest <= sampled + 1e-6:
            raise SystemExit(f"{pair}: the program says {smallest}, the plain way {sampled} at its poses")


def compare() -> None:
    """One pivot moved: the program, warm and cold, beside the plain way."""
    project = hinges.demo_with(points=200, pairs=2)
    agrees_with_plain(project)
    head("One pivot moved by 1 mm: demo six-bar, 181 poses, two pairs of 200-point outlines")
    moved = list(hinges.wandering(project, "X", 12))
    slow = timed((functools.partial(plain.whole, each, 181) for each in moved), warm_up=2)
    only_motion = timed((functools.partial(plain.motion, each, 181) for each in moved), warm_up=2)
    line("plain way: fsolve per pose, distance per pose and pair", slow)
    line("  of it the motion", only_motion)
    for pivot in ("X", "B", "Q", "P1", "O2"):
        quick = after_moves(project, pivot)
        line(f"analyse(near=…), pivot {pivot} wandering", quick, "p95 8 ms", quick.p95 <= 8.0)
        ratios = slow.p50 / quick.p50, slow.p50 / quick.p95
        line("  times faster than the plain way's p50: our p50, our p95", "{:.0f} ×, {:.0f} ×".format(*ratios),
             "20 ×, aim 50 ×", ratios[1] >= 20)  # fmt: skip
    split = hinges.demo_split(200)
    slow = timed((functools.partial(plain.whole, each, 181) for each in hinges.wandering(split, "X", 8)), warm_up=2)
    quick = after_moves(split, "X")
    line("both pairs near (screen, sill), 200 points: plain way", slow)
    line("  analyse(near=…), pivot X wandering", quick, "p95 8 ms", quick.p95 <= 8.0)
    shipped = after_moves(hinges.demo(), "X")
    line("the demo as it ships, pivot X wandering", shipped, "p95 8 ms", shipped.p95 <= 8.0)
    head("Cold: a project that was never seen (outlines read anew)")
    fresh = [hinges.demo_with(points=200, pairs=2) for _ in range(15)]
    cold = timed((functools.partial(analyse, each) for each in fresh), warm_up=1)
    line("analyse, two pairs of 200 points", cold, "150 ms", cold.p95 <= 150.0)
    fresh = [hinges.demo() for _ in range(15)]
    cold = timed((functools.partial(analyse, each) for each in fresh), warm_up=1)
    line("analyse, the demo as it ships", cold, "150 ms", cold.p95 <= 150.0)


def growth() -> None:
    """How the warm time grows with poses, points and pairs; the exponent of each, from the ends."""
    grow("poses", {n: after_moves(hinges.demo_with(200, 2), "X", 60, n) for n in (91, 181, 361)})
    grow("points an outline", {n: after_moves(hinges.demo_with(n, 2), "X", 60) for n in (50, 200, 800)})
    grow("watched pairs", {n: after_moves(hinges.demo_with(200, n), "X", 60) for n in (1, 2, 4, 8)})


def grow(what: str, times: dict[int, Times]) -> None:
    """One little table; an exponent of 1 is linear."""
    head(f"Growth with {what} (analyse(near=…), pivot X wandering)")
    for size, found in times.items():
        line(f"{size} {what}", found)
    sizes = list(times)
    power = math.log(times[sizes[-1]].p50 / times[sizes[0]].p50) / math.log(sizes[-1] / sizes[0])
    line("exponent", f"{power:.2f}", "1 (linear)", power <= 1.1)


def precision() -> None:
    """What the numbers of the moved hinge are worth: residuals, and the smallest gap against dense sampling."""
    head("What the times are worth")
    project = hinges.demo_with(points=200, pairs=2)
    last = analyse(project)
    worst, miss = 0.0, 0.0
    for number, moved in enumerate(hinges.wandering(project, "X", 40)):
        last = analyse(moved, 181, last)
        turned = np.exp(1j * last.turns)
        for pivot in moved.pivots:
            columns = [last.links.index(link) for link in pivot.joins]
            claims = last.shifts[:, columns] + turned[:, columns] * complex(*pivot.at)
            worst = max(worst, float(np.abs(claims - claims[:, :1]).max()))
        if number % 20 == 0:
            sampled = plain.whole(moved, 3601)
            found = {frozenset(gap.between): gap.smallest for gap in last.gaps}
            miss = max(miss, *(abs((found[frozenset(pair)] or 0.0) - gap) for pair, gap in sampled.items()))
    line("largest residual at any pose of 40 warm analyses", f"{worst:.1e} mm", "1e-9 mm", worst <= 1e-9)
    line("smallest gaps against 3 601 poses of the plain way", f"{miss:.1e} mm", "0.01 mm", miss <= 0.01)


def sureness() -> None:
    """What the band of how sure a gap is costs a frame, on top of `analyse`, once it is asked for."""
    head("How sure, of an analysis after one pivot moved (holes ± 0.25 mm, play 0.1 mm)")
    sizes = {"the demo as it ships": hinges.demo(), "two pairs of 200-point outlines": hinges.demo_with(200, 2)}
    for words, project in sizes.items():
        last = analyse(wanting.set_sureness(project, 0.25, 0.1))
        made = []
        for moved in hinges.wandering(last.project, "X", MOVES):
            last = analyse(moved, near=last)
            made.append(last)
        found = timed((functools.partial(how_sure, each) for each in made), warm_up=5)
        line(words, found, "p95 1 ms", found.p95 <= 1.0)


def lifting() -> None:
    """What loads, their worst case, strength and friction cost a frame: the demo with each, and in turns without."""
    head("Loads and strength, on the demo after one pivot moved: processor time, each move in turns with and without")
    whole = hinges.demo()
    if whole.loads is None or whole.loads.wants is None:
        raise SystemExit("the demo has no loads with wants")
    fair = replace(whole.loads, wants=replace(whole.loads.wants, stays_open_in=None))
    rub = PinFriction(4.0, 0.15)
    sizes = {
        "without loads": replace(whole, loads=None, strength=None),
        "with struts, handle and wants": replace(whole, loads=fair, strength=None),
        "with a worst case": replace(whole, strength=None),
        "with strength: as the demo ships": whole,
        "with friction in its pins": replace(whole, loads=replace(whole.loads, pin_friction=rub)),
    }
    found = in_turns(sizes, "X")
    before: Floats | None = None
    for words, ms in found.items():
        line(words, f"p50 {np.median(ms):6.2f} ms")
        if before is not None:
            more = float(np.median(ms - before))
            line("… more than the line before it", f"{more:.2f} ms", "1 ms" if words in ALLOWED else "")
        before = ms
    both = float(np.median(found["with a worst case"] - found["without loads"]))
    line("loads with their worst case, more than without", f"{both:.2f} ms", "1 ms", both <= 1.0)


def plates() -> None:
    """What watching plates costs a frame: the demo without loads, two of its links against the body, in turns."""
    head("Plates as bodies, on the demo without loads after one pivot moved: processor time, each move in turns")
    sizes = hinges.demo_plated()
    waisted = sizes["waisted plates"]
    moved = list(hinges.wandering(waisted, "X", 6))
    line("plain way, waisted plates", timed((functools.partial(plain.plated, each, 181) for each in moved), warm_up=1))
    for words, ms in in_turns(sizes, "X").items():
        figure = f"p50 {np.median(ms):6.2f}   p95 {np.percentile(ms, 95):6.2f} ms"
        line(words, figure, "p95 8 ms", float(np.percentile(ms, 95)) <= 8.0)


def in_turns(sizes: dict[str, Project], pivot: str) -> dict[str, Floats]:
    """(moves,) ms of processor of `analyse(moved, near=last)` of each project, all of them at every move of a pivot."""
    last = {words: analyse(project) for words, project in sizes.items()}

    def one(words: str, moved: Project) -> None:
        last[words] = analyse(moved, near=last[words])

    turns = zip(*(hinges.wandering(project, pivot, MOVES) for project in sizes.values()), strict=True)
    runs = (functools.partial(one, *each) for turn in turns for each in zip(sizes, turn, strict=True))
    busy = np.array(timed(runs, warm_up=5 * len(sizes)).cpu_ms).reshape(-1, len(sizes))
    return dict(zip(sizes, busy.T, strict=True))
