"""Other roads to the same places: circles, pins followed in small steps, a physics engine.

Nothing here shares a line with the program. The program's unknowns are the turns of links; here they are the places
of pins
(`PinTracker`) or the hinge angles of MuJoCo's tree (`Twin`). `test_oracles.py` holds each of them to typed figures
first.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from tests.outside.sketch import Sketch


def circle_meets(z1: complex, r1: float, z2: complex, r2: float) -> tuple[complex, complex]:
    """The two meets of two circles: left of the line from z1 to z2, and right of it (A3)."""
    d = z2 - z1
    x = (abs(d) ** 2 + r1**2 - r2**2) / (2 * abs(d))
    up = math.sqrt(max(r1**2 - x**2, 0.0))
    return z1 + d / abs(d) * complex(x, up), z1 + d / abs(d) * complex(x, -up)


def side(z: complex, z1: complex, z2: complex) -> float:
    """Positive when z lies left of the line from z1 to z2; mm², twice the triangle's area."""
    return ((z2 - z1).conjugate() * (z - z1)).imag


def closing(z1: complex, r1: float, z2: complex, r2: float, shut: tuple[complex, complex, complex]) -> complex:
    """The meet of two circles on the side on which it lay in the shut pose (meet, z1, z2)."""
    left, right = circle_meets(z1, r1, z2, r2)
    return left if side(*shut) > 0 else right


class StuckError(Exception):
    """The tracker can go no further: a dead point, or nothing moves."""


@dataclass
class PinTracker:
    """Follows the pins of a layout in small steps of the panel's turn (brute fine continuation).

    Unknowns: the places of all pins that aren't on the fixed link, x and y (not turns of links). Equations: on every
    link
    the first pin and the one farthest from it keep their distance, each other pin keeps its place between these two;
    the
    panel's pair points where the panel's turn says. A step is taken again, half as long, when a pin would move more
    than
    `stride` of the layout's size, or when Newton carries it further than a tenth of the predicted way.
    """

    sketch: Sketch
    stride: float = 4e-3

    def __post_init__(self) -> None:
        sketch = self.sketch
        fixed = sketch.links[0]
        self.names = [name for name, (_, joins) in sketch.pivots.items() if fixed not in joins]
        self.index = {name: k for k, name in enumerate(self.names)}
        self.base = next(iter(sketch.pivots.values()))[
            0
        ]  # coordinates from here: something small far off keeps its digits
        self.shut = np.array([sketch.pin(name) - self.base for name in self.names], dtype=complex)
        everything = [at for at, _ in sketch.pivots.values()]
        self.size = max(abs(a - b) for a in everything for b in everything)
        self.pairs: list[tuple[str, str, float]] = []  # keep this distance
        self.thirds: list[tuple[str, str, str, complex]] = []  # third = one + k (other − one)
        self.same: list[tuple[str, str]] = []  # two pins of one link in one place
        self.drive: tuple[str, str, complex] | None = None
        for link in sketch.links[1:]:
            self._add_link(link, [name for name, (_, joins) in sketch.pivots.items() if link in joins])
        self.x = self._flat(self.shut)
        self.turn = 0.0

    def _add_link(self, link: str, pins: list[str]) -> None:
        if len(pins) < 2:
            return
        one = pins[0]
        other = max(pins, key=lambda name: abs(self.sketch.pin(name) - self.sketch.pin(one)))
        arm = self.sketch.pin(other) - self.sketch.pin(one)
        if abs(arm) <= 1e-12 * self.size:
            self.same += [(one, name) for name in pins[1:]]
            return
        self.pairs.append((one, other, abs(arm)))
        for name in pins[1:]:
            if name != other:
                self.thirds.append((one, other, name, (self.sketch.pin(name) - self.sketch.pin(one)) / arm))
        if link == self.sketch.panel:
            self.drive = (one, other, arm)

    @staticmethod
    def _flat(z: np.ndarray) -> np.ndarray:
        return np.column_stack([z.real, z.imag]).ravel()

    def _pin(self, x: np.ndarray, name: str) -> complex:
        k = self.index.get(name)
        return self.sketch.pin(name) - self.base if k is None else complex(x[2 * k], x[2 * k + 1])

    def _equations(self, x: np.ndarray, turn: float) -> tuple[np.ndarray, np.ndarray]:
        rows: list[np.ndarray] = []
        values: list[float] = []

        def put(value: float, parts: Iterable[tuple[str, complex]]) -> None:
            """One equation; parts: pin, (d/dx, d/dy) as a complex number."""
            row = np.zeros(len(x))
            for name, slope in parts:
                k = self.index.get(name)
                if k is not None:
                    row[2 * k] += slope.real
                    row[2 * k + 1] += slope.imag
            rows.append(row)
            values.append(value)

        for one, other, length in self.pairs:
            arm = self._pin(x, other) - self._pin(x, one)
            put((abs(arm) ** 2 - length**2) / (2 * length), ((other, arm / length), (one, -arm / length)))
        for one, other, third, k in self.thirds:
            off = self._pin(x, third) - self._pin(x, one) * (1 - k) - k * self._pin(x, other)
            # Re(s·w) has the slope conj(s) in w, Im(s·w) has i·conj(s)
            put(off.real, ((third, 1 + 0j), (one, -(1 - k).conjugate()), (other, -k.conjugate())))
            put(off.imag, ((third, 1j), (one, -1j * (1 - k).conjugate()), (other, -1j * k.conjugate())))
        for one, other in self.same:
            off = self._pin(x, other) - self._pin(x, one)
            put(off.real, ((other, 1 + 0j), (one, -1 + 0j)))
            put(off.imag, ((other, 1j), (one, -1j)))
        if self.drive is not None:
            one, other, arm = self.drive
            away = (cmath.exp(1j * turn) * arm / abs(arm)).conjugate()
            off = (self._pin(x, other) - self._pin(x, one)) * away
            put(off.imag, ((other, 1j * away.conjugate()), (one, -1j * away.conjugate())))
        return np.array(values), np.array(rows).reshape(len(values), len(x))

    def solve(self, x: np.ndarray, turn: float) -> np.ndarray:
        """Newton in least squares from `x`; StuckError when it doesn't arrive."""
        for _ in range(12):
            value, jacobian = self._equations(x, turn)
            if float(np.abs(value).max(initial=0.0)) < 3e-14 * self.size:
                return x
            x = x - np.linalg.lstsq(jacobian, value, rcond=1e-11)[0]
        value, _ = self._equations(x, turn)
        if float(np.abs(value).max(initial=0.0)) < 1e-11 * self.size:
            return x
        raise StuckError

    def determined(self) -> np.ndarray:
        """Which of `names` the panel's turn determines, at the present pose."""
        _, jacobian = self._equations(self.x, self.turn)
        _, values, right = np.linalg.svd(jacobian, full_matrices=True)
        rank = int((values > 1e-7 * values.max(initial=1.0)).sum())
        free = np.abs(right[rank:]).max(axis=0, initial=0.0).reshape(-1, 2).max(axis=1)
        return np.asarray(free < 1e-6)

    def to(self, turn: float, least: float = 1e-7) -> np.ndarray:
        """Follow the pins to a turn of the panel (rad, anticlockwise); their places there, complex, in the order of
        `names`.
        """
        step = math.copysign(min(abs(turn - self.turn), 0.02), turn - self.turn)
        while self.turn != turn:
            if abs(step) > abs(turn - self.turn):
                step = turn - self.turn
            reached = self._step(step)
            if reached is None:
                step /= 2
                if abs(step) < least and abs(step) < 0.5 * abs(turn - self.turn):
                    raise StuckError
                continue
            self.x = reached
            self.turn = turn if step == turn - self.turn else self.turn + step
            step *= 1.5
        return self.x[::2] + 1j * self.x[1::2] + self.base

    def _step(self, step: float) -> np.ndarray | None:
        value, jacobian = self._equations(self.x, self.turn)
        ahead, _ = self._equations(self.x, self.turn + step)
        way = -np.linalg.lstsq(jacobian, ahead - value, rcond=1e-11)[0]
        length = float(np.abs(way).max(initial=0.0))
        if length > self.stride * self.size:
            return None
        try:
            arrived = self.solve(self.x + way, self.turn + step)
        except StuckError:
            return None
        if float(np.abs(arrived - self.x - way).max(initial=0.0)) > 0.1 * length + 1e-9 * self.size:
            return None
        return arrived


class Twin:
    """The same layout as a MuJoCo model: a tree of hinges, every loop closed by a `connect` (A20).

    All bodies have their frame in the origin of the sheet when shut, so a pin has one pair of coordinates for all of
    them;
    both anchors are written into the model, as the compiler takes the second from the pose of the XML. No time step
    ever.
    """

    def __init__(self, sketch: Sketch) -> None:
        import mujoco

        self.mujoco = mujoco
        self.sketch = sketch
        self.parents: dict[str, tuple[str, str]] = {}  # link → (parent, pivot)
        self.closures: list[tuple[str, str, str]] = []
        self._grow()
        self.model = mujoco.MjModel.from_xml_string(self._xml())
        self.data = mujoco.MjData(self.model)
        self.order = list(self.parents)
        for i, (_, _, pivot) in enumerate(self.closures):
            at = sketch.pin(pivot)
            self.model.eq_data[i, 0:3] = self.model.eq_data[i, 3:6] = (at.real, at.imag, 0.0)
        self.dof = {link: self.model.joint(f"turn of {link}").qposadr[0] for link in self.order}
        self.path = self._path(sketch.panel)

    def _grow(self) -> None:
        reached = [self.sketch.links[0]]
        left = [(p, joins[0], other) for p, (_, joins) in self.sketch.pivots.items() for other in joins[1:]]
        while True:
            for entry in left:
                pivot, a, b = entry
                if (a in reached) != (b in reached):
                    parent, child = (a, b) if a in reached else (b, a)
                    self.parents[child] = (parent, pivot)
                    reached.append(child)
                    left.remove(entry)
                    break
            else:
                self.closures = [(a, b, p) for p, a, b in left]
                return

    def _path(self, link: str) -> list[str]:
        path = []
        while link in self.parents:
            path.append(link)
            link = self.parents[link][0]
        return path

    def _xml(self) -> str:
        def body(link: str) -> str:
            at = self.sketch.pin(self.parents[link][1])
            children = "".join(body(child) for child, (parent, _) in self.parents.items() if parent == link)
            return (
                f'<body name="{link}"><inertial pos="0 0 0" mass="1" diaginertia="1 1 1"/>'
                f'<joint name="turn of {link}" type="hinge" axis="0 0 1" pos="{at.real!r} {at.imag!r} 0"/>'
                f"{children}</body>"
            )

        fixed = self.sketch.links[0]
        roots = "".join(body(link) for link, (parent, _) in self.parents.items() if parent == fixed)
        pairs = [(b, a) if a == fixed else (a, b) for a, b, _ in self.closures]  # the world must be the second
        equality = "".join(
            f'<connect body1="{a}" body2="{"world" if b == fixed else b}" anchor="0 0 0"/>' for a, b in pairs
        )
        return (
            '<mujoco><compiler angle="radian"/>'
            '<option jacobian="dense" gravity="0 -9.80665 0"><flag contact="disable"/></option>'
            f"<worldbody>{roots}</worldbody><equality>{equality}</equality></mujoco>"
        )

    def _rows(self) -> tuple[np.ndarray, np.ndarray]:
        self.mujoco.mj_fwdPosition(self.model, self.data)
        n = self.data.nefc
        return self.data.efc_pos[:n].copy(), self.data.efc_J.reshape(n, self.model.nv).copy()

    def mobility(self) -> int:
        """Unknowns less rank at the present pose. Every connect has a row for z: rank, not a count of rows."""
        _, jacobian = self._rows()
        if not len(jacobian):
            return int(self.model.nv)
        return int(self.model.nv - np.linalg.matrix_rank(jacobian, tol=1e-9 * float(np.linalg.norm(jacobian))))

    def drive(self, turn: float) -> float:
        """Turn the panel to `turn` (rad) from where it stands, in one go; returns the largest residual (mm)."""
        path = [self.dof[link] for link in self.path]
        row = np.zeros((1, self.model.nv))
        row[0, path] = 1.0
        scale = float(np.abs(self.model.eq_data).max(initial=1.0))
        for _ in range(50):
            residual, jacobian = self._rows()
            off = float(self.data.qpos[path].sum()) - turn
            if max(float(np.abs(residual).max(initial=0.0)), abs(off) * scale) < 1e-13 * scale:
                break
            step = np.linalg.lstsq(np.vstack([jacobian, row * scale]), -np.append(residual, off * scale), rcond=1e-12)[
                0
            ]
            self.data.qpos[:] += step
        residual, _ = self._rows()
        return float(np.abs(residual).max(initial=0.0))

    def turn(self, link: str) -> float:
        """Turn of a link from shut, rad."""
        return float(sum(self.data.qpos[self.dof[name]] for name in self._path(link)))

    def place(self, link: str, z: complex) -> complex:
        """Where a shut point of a link stands."""
        if link == self.sketch.links[0]:
            return z
        where: Any = self.data.body(link)
        x, y, _ = where.xpos + where.xmat.reshape(3, 3) @ np.array([z.real, z.imag, 0.0])
        return complex(x, y)


def turned(points: Sequence[complex], turn: float, about: complex = 0j) -> np.ndarray:
    """Points turned about a point, by an angle in rad."""
    return about + (np.asarray(points) - about) * cmath.exp(1j * turn)
