"""How the hinge is held at the panel and at the wall, as frozen values.

- The *bracket* carries the panel's pins. It is bent: a web in the plane of the links, and a flange that lies on the
  panel's inner skin, bolted through a *doubler* that spreads the load. Slots in flange and doubler cross, so that the
  panel can be shifted fore and aft and to the side; *shims* under the flange set its height.
- The *base* carries the fixed pins. It is welded: a web whose feet have tabs that go through slots of a base plate,
  bolted along its edge to a *backing plate* with tapped holes behind the wall. Its holes are slotted up and down;
  shims behind it set it fore and aft.
- The *stop part* is what two links' plates meet by at the stop (`kinematics.fittings.Stop`): a pin or a screw on one.

Where a thing is left out (None) it follows from what is drawn (`kinematics.mounting`). How far an adjuster is set off
its middle (`…_at`, `shims`) says where it stands in the layout as drawn, and so how much is left each way. Lengths mm,
places in the side view with the panel shut. Each part checks itself when it is built.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

from kinematics import values
from kinematics.build_parts import PAIR
from kinematics.errors import ProjectError
from kinematics.parts import keep, kept_keys, put

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kinematics.values import Point

WELD_SIDES = ("both", "left", "right")
STOP_KINDS = ("pin", "screw")
BENT = ("inboard", "outboard")
"""To which side of its web a bracket's flange goes: towards the centreline, or away from it."""
BOLT = "M8"
"""The thread of the bolts where nobody says otherwise."""
STEEPEST = 60.0
"""Deg by which a skin may lean against the web's square at most: beyond it a bracket is another thing."""


@dataclass(frozen=True, slots=True)
class Bracket:
    """The panel's side.

    at, skin_deg : a place on the skin's inner face, and its way there in the side view (deg from the x axis).
    lean_deg : how far the skin leans off the web's square, across the panel: 0 where they are square.
    thickness, inside_radius : of the sheet and of its bend.   k_factor : where its neutral line lies; None: by rule.
    foot, flange : length of the foot along the skin, width of the flange outside.   bent : of `BENT`.
    doubler : its thickness (0: none), with `doubler_margin` beyond the bolts.
    rows, columns, row_pitch, pitch : of the bolts, across and along.
    clearance : wanted between the web's eyes and the skin.   fore_aft, side : how far the slots let it go either way.
    """

    at: Point | None = None
    skin_deg: float | None = None
    lean_deg: float = 0.0
    thickness: float = 4.0
    inside_radius: float | None = None
    k_factor: float | None = None
    foot: float | None = None
    flange: float | None = None
    bent: Literal["inboard", "outboard"] = "inboard"
    doubler: float = 3.0
    doubler_margin: float = 20.0
    bolt: str = BOLT
    rows: int = 1
    columns: int = 2
    row_pitch: float = 25.0
    pitch: float = 50.0
    clearance: float = 5.0
    fore_aft: float = 4.0
    fore_aft_at: float = 0.0
    side: float = 4.0
    side_at: float = 0.0
    shims: float = 2.0
    shims_most: float = 5.0
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        _placed(self, "bracket", "skin_deg")
        put(self, lean_deg=values.number(self.lean_deg, "bracket", "lean_deg"))
        if abs(self.lean_deg) > STEEPEST:
            raise ProjectError(f"lean_deg is {self.lean_deg:g}, but {STEEPEST:g} is the most that can be", "bracket")
        _sized(self, "bracket", ("thickness", "row_pitch", "pitch"), ("inside_radius", "k_factor", "foot", "flange"))
        if self.k_factor is not None and self.k_factor > 0.5:
            raise ProjectError(f"k_factor is {self.k_factor:g}, but it is 0.5 at most", "bracket")
        values.one_of(self.bent, "bracket", "bent", BENT)
        _not_below(self, "bracket", ("doubler", "doubler_margin", "clearance"))
        _counted(self, "bracket", ("rows", "columns"))
        _threaded(self, "bracket")
        _ranged(self, "bracket", (("fore_aft", "fore_aft_at"), ("side", "side_at")))
        keep(self)

    @property
    def hole_count(self) -> int:
        """Bolts of one bracket."""
        return self.rows * self.columns


@dataclass(frozen=True, slots=True)
class Base:
    """The wall's side.

    at, wall_deg : a place on the wall's face, and its way there in the side view (deg from the x axis).
    plate : thickness; height, width : along the wall in the side view, and across.   web : thickness; webs : 1 or 2,
    then `apart` mm between them.   backing : thickness of the backing plate with tapped holes (0: none).
    edge : from a bolt's middle to the plate's edge.   pitch : between two bolts at most.   tabs, tab : how many tabs a
    web has, and how long each is.   weld : throat of the fillet; None: by rule.   gussets, gusset : how many a side,
    and the length of their legs.   up_down : how far the slots let it go either way.   corner : radius.
    """

    at: Point | None = None
    wall_deg: float | None = None
    plate: float = 6.0
    height: float | None = None
    width: float = 110.0
    web: float = 6.0
    webs: int = 1
    apart: float = 10.0
    backing: float = 10.0
    bolt: str = BOLT
    edge: float | None = None
    pitch: float = 80.0
    tabs: int = 2
    tab: float = 20.0
    weld: float | None = None
    weld_side: Literal["both", "left", "right"] = "both"
    gussets: int = 1
    gusset: float = 20.0
    corner: float = 6.0
    up_down: float = 4.0
    up_down_at: float = 0.0
    shims: float = 1.0
    shims_most: float = 4.0
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        _placed(self, "base", "wall_deg")
        _sized(self, "base", ("plate", "width", "web", "apart", "pitch", "tab", "gusset"), ("height", "edge", "weld"))
        _not_below(self, "base", ("backing", "corner"))
        _counted(self, "base", ("tabs", "webs"))
        if self.webs > PAIR:
            raise ProjectError(f"webs is {self.webs}, but a base has 1 or 2", "base")
        if type(self.gussets) is not int or not 0 <= self.gussets <= 4:
            raise ProjectError("gussets isn't a whole number from 0 to 4", "base")
        values.one_of(self.weld_side, "base", "weld_side", WELD_SIDES)
        _threaded(self, "base")
        _ranged(self, "base", (("up_down", "up_down_at"),))
        keep(self)


@dataclass(frozen=True, slots=True)
class StopPart:
    """By what the two links of a stop meet: a pin, or a screw that can be set, on one of them, a block on the other.

    on : which of the stop's two links carries it.   diameter : of the pin or screw.   set_by : how far the
    screw can be set either way (mm).   face : length of the block's face along the arm.
    """

    on: Literal["first", "second"] = "first"
    kind: Literal["pin", "screw"] = "pin"
    diameter: float = 10.0
    set_by: float = 3.0
    face: float = 16.0
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        values.one_of(self.on, "stop_part", "on", ("first", "second"))
        values.one_of(self.kind, "stop_part", "kind", STOP_KINDS)
        _sized(self, "stop_part", ("diameter", "face"))
        _not_below(self, "stop_part", ("set_by",))
        keep(self)


@dataclass(frozen=True, slots=True)
class Mount:
    """All that holds the hinge; None: nothing was said, and usual ones are shown where they are asked for."""

    bracket: Bracket | None = None
    base: Base | None = None
    stop_part: StopPart | None = None
    unknown: Mapping[str, Any] = kept_keys()

    def __post_init__(self) -> None:
        keep(self)


def _placed(part: Bracket | Base, where: str, way: str) -> None:
    """Check place and way of the face that it lies on."""
    if part.at is not None:
        put(part, at=values.point(part.at, where, "at"))
    if getattr(part, way) is not None:
        put(part, **{way: values.number(getattr(part, way), where, way)})


def _sized(part: Any, where: str, needed: tuple[str, ...], optional: tuple[str, ...] = ()) -> None:  # noqa: ANN401
    """Check sizes, all more than 0; those that are optional may be None."""
    for name in (*needed, *optional):
        if name in needed or getattr(part, name) is not None:
            put(part, **{name: values.positive(getattr(part, name), where, name)})


def _not_below(part: Any, where: str, names: tuple[str, ...]) -> None:  # noqa: ANN401  any part of this module
    for name in names:
        put(part, **{name: values.not_negative(getattr(part, name), where, name)})


def _counted(part: Any, where: str, names: tuple[str, ...]) -> None:  # noqa: ANN401  any part of this module
    """Check counts; some dozen are more than any mount has, and all are drawn."""
    for name in names:
        if values.count(getattr(part, name), where, name) > 24:
            raise ProjectError(f"{name} is more than 24", where)


def _threaded(part: Bracket | Base, where: str) -> None:
    put(part, bolt=values.identifier(part.bolt, where, "bolt"))


def _ranged(part: Bracket | Base, where: str, slots: tuple[tuple[str, str], ...]) -> None:
    """Check that each adjuster stands within its range."""
    for span, at in slots:
        put(part, **{span: values.not_negative(getattr(part, span), where, span)})
        put(part, **{at: values.number(getattr(part, at), where, at)})
        if abs(getattr(part, at)) > getattr(part, span):
            raise ProjectError(f"{at} lies beyond {span}", where, "Make the slot longer, or set it nearer its middle.")
    for name in ("shims", "shims_most"):
        put(part, **{name: values.not_negative(getattr(part, name), where, name)})
    if part.shims > part.shims_most:
        raise ProjectError("shims is more than shims_most", where, "Let more shims go in, or take some out.")
