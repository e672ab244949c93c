"""The section through a pin, to scale, as shapes: what was cut is hatched, the pin itself is not, as is usual.

Along the pin runs up, with the head where it is; across it lies to both sides of the axis. Everything is in mm; what
words need beside it is in pixels, so that it keeps clear of them at every scale. Neighbouring plates are hatched the
one way and the other; the bushings finer. At the left stand the layers, at the right what each piece is; grip, length
and the place of hole or groove are dimensioned.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.shapes import Label, Layer, Pen, Shape, Stroke, Symbol
from app.sheet import Camera
from app.stack_words import thickness_words

if TYPE_CHECKING:
    from app.lengths import Units
    from app.look import Look
    from kinematics.pin_lengths import Piece
    from kinematics.project import Point, Project
    from kinematics.stacking import PinStack, StackMade

PITCH, FINE = 2.2, 1.1
"""Mm between the strokes that hatch a plate, and a bushing."""
AXIS = (9.0, 2.0, 1.5, 2.0)
OUT, NAMES, STEP = 22.0, 205.0, 62.0
"""Pixels beside the plates where the layers are named, where the first dimension stands, and from each to the next."""
BESIDE, ABOVE = 2.0 * (OUT + 50.0) + NAMES + 2.0 * STEP, 70.0
"""Pixels that words and dimensions need across and along the pin, besides the section itself."""
CHAMFER = 0.6


def section_shapes(
    project: Project, stack: StackMade, pin: PinStack, style: tuple[Look, Units], scale: float
) -> list[Shape]:
    """The section through one pin.   scale : pixels per mm."""
    return _Section(project, stack, pin, style, scale).shapes()


def section_size(project: Project, pin: PinStack) -> tuple[float, float]:
    """How wide and tall the section itself is, mm."""
    low, high = reach_of(pin)
    return 2.0 * wide_of(project, pin), high - low


def camera_on(project: Project, pin: PinStack, size: tuple[float, float], scale: float | None = None) -> Camera:
    """The camera on a section with its words.   size : pixels.   scale : pixels per mm; None: the largest that fits."""
    wide, tall = section_size(project, pin)
    if scale is None:
        scale = max(min((size[0] - BESIDE) / wide, (size[1] - ABOVE) / tall), 0.2)
    low, high = reach_of(pin)
    right = 0.5 * (NAMES + 2.0 * STEP - OUT) / scale
    return Camera(scale, (right, 0.5 * (low + high)), size)


def radius_of(project: Project, pivot: str, link: str) -> float:
    """How far a link's plate reaches about a pin, mm."""
    plate = project.plating.of(link, project.link(link).width)
    own = {eye.pivot: eye.radius for eye in plate.eyes}
    return own.get(pivot, plate.radius or 0.0)


def wide_of(project: Project, pin: PinStack) -> float:
    """How far the section reaches to either side of the axis, mm."""
    radii = [radius_of(project, pin.pivot, piece.link) for piece in pin.pieces if piece.kind == "plate"]
    return max([*radii, 0.5 * pin.joint.pin.widest, 0.5 * pin.joint.washer.outside])


def reach_of(pin: PinStack) -> tuple[float, float]:
    """The lowest and the highest that is drawn of a pin, mm."""
    ends = (*pin.head[:2], *pin.clip[:2], *pin.shank)
    return min(ends), max(ends)


class _Section:
    """One section while it is drawn."""

    def __init__(
        self, project: Project, stack: StackMade, pin: PinStack, style: tuple[Look, Units], scale: float
    ) -> None:
        self.project, self.stack, self.pin = project, stack, pin
        self.look, self.units = style
        self.px = 1.0 / scale
        self.found: list[Shape] = []
        self.wide = wide_of(project, pin)
        self.thin = Pen(self.look.ink, self.look.thin)

    def _radius(self, piece: Piece) -> float:
        """How far a plate reaches about the pin."""
        return radius_of(self.project, self.pin.pivot, piece.link)

    def shapes(self) -> list[Shape]:
        """All of it."""
        self._layers()
        for number, piece in enumerate(self.pin.all_pieces):
            self._piece(f"piece {number}", piece)
        self._pin()
        self._names()
        self._dimensions()
        return self.found

    # What is cut -----------------------------------------------------------------------------------------------------

    def _layers(self) -> None:
        """The layers behind, as thin dashed lines, each with its number."""
        pen = Pen(self.look.hatch, self.look.thin, (2.0, 4.0))
        low, high = reach_of(self.pin)
        for layer, (bottom, top) in enumerate(self.stack.heights, 1):
            if top < low or bottom > high:
                continue
            for key, z in (("low", bottom), ("high", top)):
                ends = ((-self.wide - OUT * self.px, z), (self.wide + 8.0 * self.px, z))
                self.found.append(Stroke(f"layer {layer} {key}", "", ends, pen, Layer.ZONES))
            at = (-self.wide - OUT * self.px, 0.5 * (bottom + top))
            self._words(f"layer {layer}", at, f"layer {layer}", (-1.0, 0.0), self.look.faint)

    def _piece(self, key: str, piece: Piece) -> None:
        """A piece on both sides of the pin."""
        look = self.look
        outside = self._radius(piece) if piece.kind == "plate" else 0.5 * piece.outside
        inside = 0.5 * piece.inside
        face = {"plate": look.link_fill, "bushing": look.path, "shim": look.ink}.get(piece.kind, look.paper)
        veil = {"plate": 0.35, "bushing": 0.35, "shim": 0.8}.get(piece.kind, 1.0)
        for side, (left, right) in (("left", (-outside, -inside)), ("right", (inside, outside))):
            box = ((left, piece.low), (right, piece.low), (right, piece.high), (left, piece.high))
            layer = Layer.PINS if piece.kind == "bushing" else Layer.LINKS
            self.found.append(Stroke(f"{key} {side}", "", box, self.thin, layer, closed=True, fill=face, veil=veil))
            self._hatch(f"{key} {side}", piece, left, right)

    def _hatch(self, key: str, piece: Piece, left: float, right: float) -> None:
        """Strokes at 45° within a piece; neighbours lean the other way."""
        if piece.kind in ("washer", "shim"):
            return
        plates = [each for each in self.pin.pieces if each.kind == "plate"]
        way = 1 if piece not in plates or plates.index(piece) % 2 == 0 else -1
        if piece.kind == "bushing":
            way = -1 if next((k for k, each in enumerate(plates) if each.link == piece.link), 0) % 2 == 0 else 1
        pitch = FINE if piece.kind == "bushing" else PITCH
        pen = Pen(self.look.path if piece.kind == "bushing" else self.look.link, self.look.thin)
        layer = Layer.PINS if piece.kind == "bushing" else Layer.LINKS
        for number, ends in enumerate(hatching(left, right, piece.low, piece.high, way, pitch)):
            self.found.append(Stroke(f"{key} hatch {number}", "", ends, pen, layer))

    def _pin(self) -> None:
        """The pin with its head and what keeps its other end; it isn't cut."""
        pin, look = self.pin.joint.pin, self.look
        low, high = self.pin.shank
        half, line = 0.5 * pin.diameter, Pen(look.ink, look.line)
        ends = (CHAMFER if pin.kind == "plain pin" or self.pin.turned else 0.0, CHAMFER)
        if self.pin.turned:
            ends = (CHAMFER, CHAMFER if pin.kind == "plain pin" else 0.0)
        thread = self._thread(low, high)
        low, high = thread or (low, high)
        outline = (
            (-half + ends[0], low), (half - ends[0], low), (half, low + ends[0]), (half, high - ends[1]),
            (half - ends[1], high), (-half + ends[1], high), (-half, high - ends[1]), (-half, low + ends[0]),
        )  # fmt: skip
        self.found.append(Stroke("shank", "", outline, line, Layer.DEVICES, closed=True, fill=look.paper))
        for name, (bottom, top, wide) in (("head", self.pin.head), ("clip", self.pin.clip)):
            if name == "clip" and pin.kind == "clevis pin":
                self._split_pin(bottom, top)
                continue
            halves = [(-0.5 * wide, 0.5 * wide)]
            if pin.kind == "plain pin":
                groove = 0.5 * (pin.ring.groove if pin.ring is not None else 0.9 * pin.diameter)
                halves = [(-0.5 * wide, -groove), (groove, 0.5 * wide)]
            for side, (left, right) in enumerate(halves):
                box = ((left, bottom), (right, bottom), (right, top), (left, top))
                fill = look.ink if pin.kind == "plain pin" else look.paper
                self.found.append(Stroke(f"{name} {side}", "", box, line, Layer.DEVICES, closed=True, fill=fill))
        low, high = reach_of(self.pin)
        axis = ((0.0, low - 3.0), (0.0, high + 3.0))
        self.found.append(Stroke("axis", "", axis, Pen(look.ink, look.thin, AXIS), Layer.GAPS))

    def _thread(self, low: float, high: float) -> tuple[float, float] | None:
        """Draw the thread beyond a shoulder, thinner; give the shoulder's ends. None: there is no thread."""
        pin = self.pin.joint.pin
        if pin.kind != "shoulder bolt":
            return None
        length, half = self.pin.length.length, 0.4 * pin.diameter
        shoulder = (high - length, high) if self.pin.turned else (low, low + length)
        start, end = (low, shoulder[0]) if self.pin.turned else (shoulder[1], high)
        box = ((-half, start), (half, start), (half, end), (-half, end))
        line = Pen(self.look.ink, self.look.line)
        self.found.append(Stroke("thread", "", box, line, Layer.DEVICES, closed=True, fill=self.look.paper))
        return shoulder

    def _split_pin(self, low: float, high: float) -> None:
        """The split pin, seen along itself in its hole, with its legs bent round."""
        middle, radius = 0.5 * (low + high), 0.5 * (high - low)
        ring = tuple((radius * x, middle + radius * y) for x, y in _ROUND)
        pen = Pen(self.look.ink, self.look.line)
        self.found.append(Stroke("clip", "", ring, pen, Layer.DEVICES, closed=True, fill=self.look.hatch, veil=0.6))

    # Words and figures -----------------------------------------------------------------------------------------------

    def _names(self) -> None:
        """What each piece is, at the right; a bushing with its plate."""
        bushings = {piece.link: piece for piece in self.pin.pieces if piece.kind == "bushing"}
        for number, piece in enumerate(self.pin.pieces):
            words = f"{piece.link}, {self._fine(piece.thickness)}"
            at = (self._radius(piece), 0.5 * (piece.low + piece.high)) if piece.kind == "plate" else (0.0, 0.0)
            if piece.kind == "plate" and piece.link in bushings:
                words += f"; bushing {self._fine(bushings[piece.link].thickness)}"
            elif piece.kind == "spacer":
                words, at = (
                    f"tube, {self._fine(piece.thickness)}",
                    (0.5 * piece.outside, 0.5 * (piece.low + piece.high)),
                )
            elif piece.kind != "plate":
                continue
            self._words(f"name {number}", at, words, (1.0, 0.0), self.look.ink, 2)
        fill = self.pin.length.fill
        if fill:
            low, high = min(piece.low for piece in fill), max(piece.high for piece in fill)
            at = (0.5 * max(piece.outside for piece in fill), 0.5 * (low + high))
            words = f"to fill up, {self._fine(high - low)}"
            self._words("fill", at, words, (1.0, 0.0), self.look.ink, 2)

    def _fine(self, mm: float) -> str:
        return thickness_words(mm, self.units)

    def _words(self, key: str, at: Point, words: str, away: Point, ink: str, rank: int = 3) -> None:
        look = self.look
        self.found.append(
            Label(key, "", at, words, ink, look.paper, look.small_px, away, rank=rank, leader=rank > 3, clear_px=6.0)
        )

    def _dimensions(self) -> None:
        """Grip, room and length, at the left of the plates; the place of hole or groove."""
        pin, length = self.pin, self.pin.length
        sign = -1.0 if pin.turned else 1.0
        face = pin.pieces[0].high if pin.turned else pin.pieces[0].low
        start = face
        if pin.joint.pin.kind == "plain pin":
            start = pin.shank[1] if pin.turned else pin.shank[0]
        measures = [("grip", face, face + sign * pin.grip), ("length", start, start + sign * length.length)]
        if pin.joint.pin.kind == "clevis pin":
            measures.insert(1, ("hole", face, face + sign * length.place))
        elif pin.joint.pin.kind == "plain pin":
            first = start + sign * length.place
            measures.insert(1, ("grooves", first, first + sign * length.apart))
        for number, (name, one, other) in enumerate(measures):
            self._measure(name, one, other, self.wide + (NAMES + number * STEP) * self.px)

    def _measure(self, name: str, one: float, other: float, x: float) -> None:
        """A dimension along the pin, at x."""
        look, low, high = self.look, min(one, other), max(one, other)
        pen = Pen(look.ink, look.thin)
        for key, z in (("low", low), ("high", high)):
            ends = ((0.5 * self.pin.joint.pin.diameter + 1.0, z), (x + 8.0 * self.px, z))
            self.found.append(Stroke(f"{name} {key}", "", ends, Pen(look.hatch, look.thin), Layer.ZONES))
        self.found.append(Stroke(name, "", ((x, low), (x, high)), pen, Layer.GAPS))
        ticks = Symbol(f"{name} ends", "", ((x, low), (x, high)), "tick", look.ink, look.paper, Layer.GAPS, 90.0)
        self.found.append(ticks)
        words = f"{name} {self._fine(high - low)}"
        self._words(f"{name} words", (x, other), words, (0.0, 1.0 if other > one else -1.0), look.ink, 1)


def hatching(left: float, right: float, low: float, high: float, way: int, pitch: float) -> list[tuple[Point, Point]]:
    """Strokes at 45° across a box; way : 1 rising to the right, −1 falling.   pitch : mm from one to the next."""
    found: list[tuple[Point, Point]] = []
    tall = high - low
    if tall <= 0.0 or right <= left or pitch <= 0.0:
        return found
    start = left - tall
    for number in range(int((right - start) / pitch) + 1):
        foot = start + (number + 0.5) * pitch
        near, far = max(foot, left), min(foot + tall, right)
        if far - near > 1e-9:
            ends = [(x, low + (x - foot)) for x in (near, far)]
            if way < 0:
                ends = [(x, low + high - z) for x, z in ends]
            found.append((ends[0], ends[1]))
    return found


_ROUND: tuple[Point, ...] = tuple(
    (x, y)
    for x, y in (
        (1.0, 0.0), (0.924, 0.383), (0.707, 0.707), (0.383, 0.924), (0.0, 1.0), (-0.383, 0.924), (-0.707, 0.707),
        (-0.924, 0.383), (-1.0, 0.0), (-0.924, -0.383), (-0.707, -0.707), (-0.383, -0.924), (0.0, -1.0),
        (0.383, -0.924), (0.707, -0.707), (0.924, -0.383),
    )
)  # fmt: skip
