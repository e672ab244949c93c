"""Three linkages, one curve; and the area that a coupler curve encloses.

Sources: S. Roberts (1875) and P. L. Chebyshev (1878) on cognates; H. Holditch (1858) and J. Steiner on areas (all from
memory); derivable. Checks A18, A19 of checks.md. The strongest checks there are on points of a coupler.
"""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest

from tests.outside import figures
from tests.outside.oracles import circle_meets
from tests.outside.sketch import Sketch, four_bar, read

W = 0.6 + 0.5j  # P = A + w (B − A)
SHUT_DEG = 20.0


def original(crossed: bool, **more: float) -> tuple[Sketch, complex]:
    sketch = four_bar(figures.NORTON, SHUT_DEG, crossed, **more)
    a, b = sketch.pin("A"), sketch.pin("B")
    return sketch, a + W * (b - a)


def leg(start: complex, length: float, end: complex, other: float, near: complex) -> complex:
    """The meet of two circles that is nearer to a guess."""
    return min(circle_meets(start, length, end, other), key=lambda z: abs(z - near))


def cognates(crossed: bool, **more: float) -> list[tuple[Sketch, str]]:
    """The two cognates from their typed lengths, shut in the pose of the original; and the link that carries P.

    Which meet of the circles is meant is told by the parallelograms O2–A–P–A′ and O4–B–P–B′, and by the angles of w.
    """
    base, p = original(crossed)
    o2, o4, a, b = (base.pin(name) for name in ("O2", "O4", "A", "B"))
    o3 = 60 + 50j  # typed: w·100
    # at O2: crank 93.722996 parallel to AP, coupler 31.240999 base, rocker 62.481997 at O3; P at distance 40 (∥ O2A)
    at_o2 = o2 + (p - a)
    assert abs(at_o2) == pytest.approx(93.722996, rel=0, abs=1e-6)
    far_2 = leg(at_o2, 40 * abs(W), o3, 80 * abs(W), o3 + W * (b - o4))
    assert abs(far_2 - o3) == pytest.approx(62.481997, rel=0, abs=1e-6)
    assert abs(far_2 - at_o2) == pytest.approx(31.240999, rel=0, abs=1e-6)
    # at O4: crank 76.837491 parallel to BP, coupler 51.224994, rocker 25.612497 at O3
    at_o4 = o4 + (p - b)
    assert abs(at_o4 - o4) == pytest.approx(76.837491, rel=0, abs=1e-6)
    far_4 = leg(at_o4, 80 * abs(1 - W), o3, 40 * abs(1 - W), o3 + (1 - W) * (a - o2))
    assert abs(far_4 - o3) == pytest.approx(25.612497, rel=0, abs=1e-6)
    assert abs(far_4 - at_o4) == pytest.approx(51.224994, rel=0, abs=1e-6)

    def chain(foot: complex, near: complex, far: complex, panel: str) -> Sketch:
        return Sketch(
            links=("ground", "crank", "coupler", "rocker"),
            panel=panel,
            pivots={
                "foot": (foot, ("ground", "crank")),
                "near": (near, ("crank", "coupler")),
                "far": (far, ("coupler", "rocker")),
                "O3": (o3, ("rocker", "ground")),
            },
            **more,  # type: ignore[arg-type]
        )

    # the links that turn as the original's crank: the coupler of the first, the crank at O3 of the second
    return [(chain(o2, at_o2, far_2, "coupler"), "coupler"), (chain(o4, at_o4, far_4, "rocker"), "coupler")]


@pytest.mark.parametrize("way", ["as given", "turned 37°", "mirrored", "times 25.4", "all at once"])
@pytest.mark.parametrize("anticlockwise", [True, False])
@pytest.mark.parametrize("crossed", [False, True], ids=["open", "crossed"])
def test_a18_three_linkages_draw_one_curve(crossed: bool, anticlockwise: bool, way: str) -> None:
    """A18. P of all three at every pose within 1e-9 mm residual × 2 (P lies outside AB). Trap: a mirrored coupler
    point.
    """
    more = {"anticlockwise": anticlockwise, "wanted_deg": 180.0}
    first, p = original(crossed, **more)
    path = read(first, way).places("coupler", p)
    assert len(path) == 181
    for number, (sketch, link) in enumerate(cognates(crossed, **more)):
        reading = read(sketch, way)
        assert reading.analysis.opening.reached_deg == pytest.approx(180.0, rel=0, abs=1e-9), number
        assert float(np.abs(reading.places(link, p) - path).max()) < 2e-9, number


def enclosed(loop: np.ndarray) -> float:
    """Signed area of a closed curve from equal steps of its parameter, by Fourier: exact once the spectrum has died
    out.
    """
    n = len(loop)
    c = np.fft.fft(loop) / n
    return float(math.pi * (np.fft.fftfreq(n, 1 / n) * np.abs(c) ** 2).sum())


@pytest.mark.parametrize("way", ["as given", "turned 37°", "reordered"])
@pytest.mark.parametrize(("u", "area"), [(0.5, 2513.274122872), (0.25, 3769.911184308)])
def test_a19_area_of_a_coupler_curve(u: float, area: float, way: str) -> None:
    """A19. (1 − u)·π·a² for the point at fraction u of AB; 2048 equal steps of the crank, half of them each way.

    Tolerance 1e-6 mm²: 1e-9 mm of residual along a loop 300 mm round, and the typed nine decimals.
    """
    halves = []
    for anticlockwise in (True, False):
        sketch = four_bar(figures.NORTON, 0.0, anticlockwise=anticlockwise, wanted_deg=180.0)
        a, b = sketch.pin("A"), sketch.pin("B")
        halves.append(read(sketch, way, steps=1025).places("coupler", a + u * (b - a)))
    loop = np.concatenate([halves[0], halves[1][-2:0:-1]])
    assert len(loop) == 2048
    assert enclosed(loop) == pytest.approx(area, rel=0, abs=1e-6)
    if u == 0.5:  # what the plain polygon gives, so that nobody takes it for the area
        polygon = float((loop.conj() * np.roll(loop, -1)).imag.sum() / 2)
        assert polygon == pytest.approx(2513.27071, rel=0, abs=5e-6)


def test_a18_lengths_of_the_third_linkage_are_as_typed() -> None:
    """A18. |1 − w| = 0.640312424; the ground pivots lie as w says: similar triangles, on both sides."""
    assert abs(1 - W) == pytest.approx(0.640312424, rel=0, abs=5e-10)
    assert cmath.phase((60 + 50j) / 100) == pytest.approx(cmath.phase(W), rel=0, abs=1e-15)
