"""Made-up projects for property tests, built from small strategies to large ones; all are valid, many are half-drawn.

Coordinates and figures reach to the limits of the format, names are any text that may be a name.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from kinematics.build_parts import BUSHINGS, FINISHES, FIXINGS, PIN_KINDS
from kinematics.measures import NEEDS
from kinematics.parts import LIMIT_SIDES
from kinematics.pictures import MOST_PX, picture_of
from kinematics.project import (
    Anchor,
    AsMade,
    Attachment,
    Base,
    Bracket,
    Bushing,
    Cushion,
    Cutout,
    Device,
    EyeSize,
    FoundAt,
    FrontEdge,
    GapWant,
    Handle,
    HandMade,
    HandWall,
    JointStrength,
    Latch,
    LayerChoice,
    Length,
    LiftWants,
    Limit,
    Link,
    Loads,
    MadeDistance,
    MadeOf,
    MadeSheet,
    Mark,
    Mass,
    Measure,
    Metal,
    Mount,
    OnPin,
    Outline,
    Pick,
    Picture,
    PinChoice,
    PinFriction,
    Pivot,
    Place,
    Plate,
    Plates,
    Prices,
    Project,
    Prop,
    Room,
    ShutWant,
    Side,
    Stack,
    Stop,
    StopPart,
    Strength,
    Sureness,
    Travel,
    Turned,
    Wall,
    WorstCase,
    Zone,
)

if TYPE_CHECKING:
    from hypothesis.strategies import DrawFn, SearchStrategy

texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
ids = st.one_of(
    st.sampled_from(["arm", "A", "hatch", "Ölwanne", "1", " ", "½″", "kg/m"]),
    st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=80),
)


def numbers(least: float = -1e9, most: float = 1e9) -> SearchStrategy[float]:
    """Numbers of a range, its ends among them, as floats of all their digits."""
    return st.floats(least, most, allow_nan=False)


coordinates = numbers(-1e5, 1e5)
points = st.tuples(coordinates, coordinates)
not_negative = numbers(least=0.0)
positive = numbers(least=1e-9)
openings = numbers(0.0, 180.0)
flags = st.tuples(st.booleans(), st.booleans())  # locked, hidden

json_values = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**12), 10**12)
    | st.floats(allow_nan=False, allow_infinity=False)
    | texts,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(texts, inner, max_size=3),
    max_leaves=4,
)
# Keys that no version of the format has; mostly there are none.
unknown = st.one_of(
    st.just({}), st.just({}), st.dictionaries(texts.map(lambda text: f"my {text}"), json_values, max_size=2)
)


def point_lists(least: int) -> SearchStrategy[tuple[tuple[float, float], ...]]:
    """Lists of points, of this length or a little more."""
    return st.lists(points, min_size=least, max_size=least + 3).map(tuple)


@st.composite
def links(draw: DrawFn, most: int = 6) -> tuple[Link, ...]:
    """The fixed link, the panel and some links, in any order."""
    names = draw(st.lists(ids, min_size=2, max_size=most, unique=True))
    kinds = draw(st.permutations(["fixed", "panel", *["link"] * (len(names) - 2)]))
    widths = st.just(0.0) | not_negative
    return tuple(
        Link(name, kind, draw(widths), draw(st.booleans()), draw(unknown))
        for name, kind in zip(names, kinds, strict=True)
    )


@st.composite
def pivots(draw: DrawFn, link_ids: list[str], most: int = 6) -> tuple[Pivot, ...]:
    """Pivots that join any of the links, at any places."""
    names = draw(st.lists(ids, max_size=most, unique=True))
    joins = st.lists(st.sampled_from(link_ids), min_size=2, max_size=4, unique=True).map(tuple)
    return tuple(
        Pivot(name, draw(points), draw(joins), draw(st.booleans()), draw(st.booleans()), draw(unknown))
        for name in names
    )


@st.composite
def outlines(draw: DrawFn, link_ids: list[str], most: int = 3) -> tuple[Outline, ...]:
    """Outlines, open and closed, on any of the links; none has a link's name."""
    names = draw(st.lists(ids.filter(lambda name: name not in link_ids), max_size=most, unique=True))
    made = []
    for name in names:
        closed = draw(st.booleans())
        riding = draw(st.sampled_from(link_ids))
        line = draw(point_lists(3 if closed else 2))
        made.append(
            Outline(
                name,
                riding,
                line,
                closed,
                draw(not_negative),
                draw(texts),
                draw(not_negative),
                *draw(flags),
                draw(unknown),
            )
        )
    return tuple(made)


@st.composite
def gap_wants(draw: DrawFn, link_ids: list[str], drawn: tuple[Outline, ...], most: int = 3) -> tuple[GapWant, ...]:
    """Gap wants of pairs, outlines or links, that ride on different links."""
    rides = {name: name for name in link_ids} | {outline.id: outline.on for outline in drawn}
    pairs = st.tuples(st.sampled_from(list(rides)), st.sampled_from(list(rides)))
    apart = pairs.filter(lambda pair: rides[pair[0]] != rides[pair[1]])
    wanted = draw(st.lists(apart, max_size=most))
    return tuple(
        GapWant(pair, draw(not_negative), draw(openings), draw(st.none() | shut_wants()), draw(unknown))
        for pair in wanted
    )


@st.composite
def shut_wants(draw: DrawFn) -> ShutWant:
    """Shut gaps wanted, from one side or from both."""
    low, high = sorted((draw(positive), draw(positive)))
    sides: dict[str, float] = draw(st.sampled_from([{"at_least": 0.0}, {"at_least": low}, {"at_most": high}]))
    return ShutWant(**{"at_most": high, "at_least": low} if draw(st.booleans()) else sides, unknown=draw(unknown))


@st.composite
def rooms(draw: DrawFn, marked: tuple[Mark, ...]) -> Room:
    """Rooms of a floor, a roof or both, perhaps with a front edge over the floor."""
    floor, roof = draw(st.lists(coordinates, min_size=2, max_size=2, unique=True).map(sorted))
    names = st.none() | st.sampled_from([mark.id for mark in marked]) if marked else st.none()
    front = draw(st.none() | st.builds(FrontEdge, names, st.none() | not_negative, unknown))
    heights = draw(st.sampled_from([(floor, None), (floor, roof)] + ([(None, roof)] if front is None else [])))
    return Room(*heights, front, draw(unknown))


@st.composite
def marks(draw: DrawFn, link_ids: list[str], most: int = 2) -> tuple[Mark, ...]:
    """Marks on any of the links."""
    names = draw(st.lists(ids, max_size=most, unique=True))
    return tuple(
        Mark(name, draw(st.sampled_from(link_ids)), draw(points), *draw(flags), draw(unknown)) for name in names
    )


@st.composite
def limits(draw: DrawFn, marked: tuple[Mark, ...]) -> tuple[Limit, ...]:
    """Limits on some of the marks, each with any of its four sides."""
    if not marked:
        return ()
    names = draw(st.lists(st.sampled_from([mark.id for mark in marked]), max_size=2))
    sides = st.dictionaries(st.sampled_from(LIMIT_SIDES), numbers(), max_size=4)
    return tuple(Limit(name, **draw(sides), after_deg=draw(openings), unknown=draw(unknown)) for name in names)


@st.composite
def measures(
    draw: DrawFn, link_ids: list[str], pinned: tuple[Pivot, ...], drawn: tuple[Outline, ...], marked: tuple[Mark, ...]
) -> tuple[Measure, ...]:
    """Measures of any kind, of what is there."""
    on_links = st.builds(lambda link, at: Anchor(link=link, at=at), st.sampled_from(link_ids), points)
    on_pins = [Anchor(pivot=pivot.id, unknown=draw(unknown)) for pivot in pinned]
    on_marks = [Anchor(mark=mark.id) for mark in marked]
    corners = [Anchor(outline=line.id, point=len(line.points) - 1) for line in drawn]
    places = on_links | st.sampled_from([*on_pins, *on_marks, *corners, Anchor(link=link_ids[0], at=(0.0, -1.0))])
    whole = [*(Anchor(outline=line.id) for line in drawn), *(Anchor(link=link) for link in link_ids)]
    made = []
    for name in draw(st.lists(ids, max_size=2, unique=True)):
        kind = draw(st.sampled_from(sorted(NEEDS)))
        things = places | st.sampled_from(whole) if kind == "clearance" else places
        count = NEEDS[kind]
        of = draw(st.lists(things, min_size=count, max_size=count, unique_by=lambda anchor: anchor.key))
        made.append(Measure(name, kind, tuple(of), draw(unknown)))
    return tuple(made)


@st.composite
def devices(draw: DrawFn, link_ids: list[str]) -> tuple[Device, ...]:
    """Struts and springs between any of the links."""
    riding = st.sampled_from(link_ids)
    made = []
    for name in draw(st.lists(ids, max_size=2, unique=True)):
        ends = [Attachment(draw(riding), draw(points), draw(unknown)) for _ in range(2)]
        count = draw(st.integers(1, 4))
        kind = draw(st.sampled_from(sorted(FIGURES)))
        figures: dict[str, float] = draw(st.fixed_dictionaries(FIGURES[kind][0], optional=FIGURES[kind][1]))
        made.append(Device(name, kind, count, *ends, **figures, unknown=draw(unknown)))
    return tuple(made)


SPRING = dict.fromkeys(("free", "initial", "rate"), not_negative)
# of each kind of device: the figures that it has, and those that it may have
FIGURES: dict[Any, tuple[dict[str, Any], dict[str, Any]]] = {
    "gas strut": (
        dict.fromkeys(("extended", "stroke", "force", "ratio"), positive),
        {"friction": not_negative, "tube": numbers(10.0, 90.0), "rod": numbers(1e-3, 9.0)},
    ),
    "tension spring": (SPRING, {"coil": positive}),
    "compression spring": (SPRING, {}),
    "torsion spring": ({"moment": numbers().filter(bool), "moment_rate": not_negative}, {}),
}


def made_of() -> SearchStrategy[MadeOf]:
    """What a mass is made of: plate, sheet along an outline, or a solid; whether there is such an outline or not."""
    some = positive
    extra, count = numbers(0.0, 2.0), st.integers(1, 4)
    plate = st.builds(MadeOf, some, some, st.none(), st.none() | some, texts, count, extra, unknown)
    sheet = st.builds(MadeOf, some, st.none() | some, ids, some, texts, count, extra, unknown)
    return plate | sheet


@st.composite
def loads(draw: DrawFn, link_ids: list[str]) -> Loads:
    """Masses, perhaps a handle, devices."""
    riding = st.sampled_from(link_ids)
    masses = st.builds(Mass, riding, not_negative, points, st.none() | made_of(), unknown)
    handle = draw(st.none() | st.builds(Handle, riding, points, unknown))
    weights = tuple(draw(st.lists(masses, max_size=2)))
    warmth = draw(st.none() | numbers(-100.0, 200.0))
    rub = draw(st.none() | st.builds(PinFriction, not_negative, not_negative, unknown))
    some = st.none() | not_negative
    case = st.none() | st.builds(
        WorstCase, st.none() | numbers(-100.0, 200.0), numbers(0.0, 45.0), st.booleans(), numbers(0.0, 60.0), unknown
    )
    wants = draw(st.none() | st.builds(LiftWants, some, some, some, st.booleans(), case, some, some, some, unknown))
    return Loads(
        masses=weights,
        handle=handle,
        hinges=draw(st.integers(1, 6)),
        devices=draw(devices(link_ids)),
        temperature=warmth,
        pin_friction=rub,
        wants=wants,
        across=draw(st.none() | positive),
        spacing=draw(st.none() | positive),
        uneven=draw(st.none() | numbers(0.5, 1.0)),
        strut_zones=tuple(
            draw(
                st.lists(
                    st.builds(Zone, riding, st.lists(points, min_size=3, max_size=4).map(tuple), unknown), max_size=2
                )
            )
        ),
        **draw(fittings(link_ids)),
        unknown=draw(unknown),
    )


@st.composite
def fittings(draw: DrawFn, link_ids: list[str]) -> dict[str, Any]:
    """What holds the panel open and shut, by its names in the loads."""
    opening = numbers(1e-3, 180.0)
    one, other = draw(st.permutations(link_ids))[:2]
    riding = st.sampled_from(link_ids)
    ends = [st.builds(Attachment, st.just(name), points, unknown) for name in (one, other)]
    seal = st.fixed_dictionaries({"kind": st.just("seal"), "per_metre": not_negative, "length": not_negative})
    bump = st.fixed_dictionaries({"kind": st.just("bump stop"), "force": not_negative, "count": st.integers(1, 9)})
    places = st.fixed_dictionaries({"on": riding, "at": points, "squeeze": positive, "unknown": unknown})
    many = [Cushion(id=f"cushion {k}", **draw(seal | bump), **draw(places)) for k in range(draw(st.integers(0, 2)))]
    return {
        "prop_rod": draw(st.none() | st.builds(Prop, *ends, opening, unknown)),
        "stop": draw(st.none() | st.builds(Stop, st.just((one, other)), opening, positive, unknown)),
        "latch": draw(st.none() | st.builds(Latch, riding, points, numbers(-360.0, 360.0), unknown)),
        "cushions": tuple(many),
    }


metals = st.builds(Metal, ids, positive, positive, st.none() | positive, texts, unknown)
made_as = st.none() | st.sampled_from(["sintered", "solid bronze"])
bushings = st.builds(
    Bushing,
    ids,
    positive,
    positive,
    positive,
    positive,
    positive,
    texts,
    made_as,
    st.lists(positive, max_size=3).map(tuple),
    unknown,
)


@st.composite
def strengths(draw: DrawFn, pivot_ids: list[str], link_ids: list[str]) -> Strength:
    """What pins and plates are, some joints of their own."""
    some, shear = st.none() | positive, st.sampled_from(["double", "single"])
    own = {"diameter": some, "inner": some, "outer": some, "edge": some, "washer": st.none() | not_negative}
    joints = []
    for pivot in pivot_ids[: draw(st.integers(0, 2))]:
        bushing = draw(st.none() | bushings)
        joints.append(
            JointStrength(
                pivot,
                **{key: draw(value) for key, value in own.items()},
                shear=draw(st.none() | shear),
                outer_link=draw(st.none() | st.sampled_from(link_ids)),
                pin_material=draw(st.none() | metals),
                plate_material=draw(st.none() | metals),
                bushing=bushing,
                plain=bushing is None and draw(st.booleans()),
                unknown=draw(unknown),
            )
        )
    return Strength(
        *draw(st.tuples(positive, positive, positive, metals, metals, shear, not_negative, some)),
        draw(st.none() | bushings),
        draw(numbers(1.0, 100.0)),
        draw(positive),
        tuple(joints),
        draw(unknown),
    )


some = st.none() | positive
sheets = (some, st.none() | st.integers(1, 2), some, st.none() | metals, some)
plates = st.builds(
    Plates,
    *sheets,
    st.lists(
        st.builds(
            Plate,
            ids,
            *sheets,
            st.lists(st.builds(EyeSize, ids, positive, unknown), max_size=1),
            st.lists(st.builds(Side, st.just(("A", "B")), coordinates, unknown), max_size=1),
            st.lists(st.builds(Cutout, points, positive, unknown), max_size=1),
            st.lists(st.tuples(coordinates, coordinates, numbers(-1.0, 1.0)), max_size=3).filter(lambda e: len(e) != 1),
            unknown,
        ),
        max_size=2,
        unique_by=lambda plate: plate.link,
    ),
    st.none() | st.builds(Prices, *[numbers(0.0, 1e6)] * 3, st.just("") | ids, unknown),
    unknown,
)
pin_looks = (
    st.none() | st.sampled_from(PIN_KINDS),
    some,
    st.none() | st.sampled_from(BUSHINGS),
    some,
    st.none() | st.sampled_from(FIXINGS),
    st.none() | st.sampled_from(FINISHES),
    st.none() | metals,
)
stacks = st.builds(
    Stack,
    not_negative,
    not_negative,
    *pin_looks,
    st.lists(st.builds(PinChoice, ids, *pin_looks, unknown), max_size=2, unique_by=lambda pin: pin.pivot),
    st.lists(
        st.builds(LayerChoice, ids, st.sets(st.integers(1, 9), min_size=1, max_size=2).map(tuple), unknown),
        max_size=2,
        unique_by=lambda choice: choice.link,
    ),
    unknown,
)

no_parts = st.integers() | st.lists(texts, max_size=2)  # an object would be read as a part
ranges = st.tuples(not_negative, numbers(-1.0, 1.0)).map(lambda pair: (pair[0], pair[0] * pair[1]))


@st.composite
def brackets(draw: DrawFn) -> Bracket:
    """Brackets, with sizes of any kind."""
    fore_aft, side, shims = draw(st.tuples(ranges, ranges, ranges))
    return Bracket(
        at=draw(st.none() | points),
        lean_deg=draw(numbers(-60.0, 60.0)),
        thickness=draw(positive),
        k_factor=draw(st.none() | numbers(1e-3, 0.5)),
        foot=draw(some),
        bolt=draw(ids),
        rows=draw(st.integers(1, 4)),
        fore_aft=fore_aft[0],
        fore_aft_at=fore_aft[1],
        side=side[0],
        side_at=side[1],
        shims=abs(shims[1]),
        shims_most=shims[0],
        unknown=draw(unknown),
    )


bases = st.builds(
    Base,
    wall_deg=st.none() | numbers(),
    plate=positive,
    height=some,
    webs=st.integers(1, 2),
    weld=some,
    unknown=unknown,
)
stop_parts = st.builds(StopPart, on=st.sampled_from(["first", "second"]), diameter=positive, unknown=unknown)
hand_walls = st.builds(HandWall, numbers(-45.0, 45.0), st.none() | numbers(-60.0, 60.0), st.none() | positive, unknown)
walls = st.builds(
    Wall,
    st.none() | hand_walls,
    st.none() | hand_walls,
    st.sampled_from(["foot", "shim"]),
    st.none() | positive,
    level=numbers(),
    edge=st.none() | numbers(),
    unknown=unknown,
)


@st.composite
def hands_made(draw: DrawFn, hand: str) -> HandMade:
    """How one hinge came out; often of links and pins that aren't there, which then means nothing."""
    length = st.floats(1e-3, 1e4)
    pins = st.lists(ids, min_size=2, max_size=2, unique=True).map(tuple)
    near = numbers(-1e4, 1e4)
    found = st.builds(FoundAt, ids, ids, st.none() | near, st.none() | near, st.none() | near, unknown)
    return HandMade(
        hand,  # type: ignore[arg-type]
        tuple(draw(st.lists(st.builds(MadeDistance, ids, pins, length, unknown), max_size=1))),
        tuple(draw(st.lists(found, max_size=1))),
        tuple(draw(st.lists(st.builds(MadeSheet, ids, length, unknown), max_size=1))),
        tuple(draw(st.lists(st.builds(OnPin, ids, near, st.none() | length, unknown), max_size=1))),
        tuple(draw(st.lists(st.builds(Turned, st.sampled_from(["height", "rest"]), near, unknown), max_size=1))),
        draw(unknown),
    )


as_made = st.builds(
    lambda left, right, shown, kept: AsMade(tuple(each for each in (left, right) if each), shown, kept),
    st.none() | hands_made("left"),
    st.none() | hands_made("right"),
    st.booleans(),
    unknown,
)
mounts = st.builds(Mount, st.none() | brackets(), st.none() | bases, st.none() | stop_parts, unknown)

reserved = st.fixed_dictionaries(
    {},
    optional={
        "pictures": st.lists(st.dictionaries(texts, json_values, max_size=2), max_size=1).map(tuple),
        "trials": st.lists(st.dictionaries(texts, json_values, max_size=2), max_size=1).map(tuple),
        "plates": no_parts,
        "stack": no_parts,
        "mount": no_parts | mounts,
        "wall": no_parts | walls,
        "as_made": no_parts | as_made,
    },
)


@st.composite
def places(draw: DrawFn) -> Place:
    """Places of photos, some with a perspective, a crop, and what they were made from."""
    width, height = draw(st.tuples(st.integers(1, MOST_PX), st.integers(1, MOST_PX)))
    scale, lean = draw(numbers(1e-3, 1e3)), draw(st.just(0.0) | numbers(-1e-6, 1e-6))
    x, y = draw(points)
    matrix = ((scale, 0.0, x), (0.0, -scale, y), (lean, 0.0, 1.0))
    crop = draw(st.none() | st.just((0.0, 0.0, width / 2, float(height))))
    picks = st.lists(st.builds(Pick, points, points, unknown), max_size=2).map(tuple)
    ends = st.tuples(points, points).filter(lambda pair: pair[0] != pair[1])
    lengths = st.lists(st.builds(Length, ends, positive, unknown), max_size=1).map(tuple)
    fade, off = draw(numbers(0.0, 1.0)), draw(st.none() | not_negative)
    return Place(
        matrix, (width, height), fade, crop, draw(picks), draw(lengths), off, draw(not_negative), draw(unknown)
    )


@st.composite
def pictures(draw: DrawFn, link_ids: list[str]) -> tuple[Picture, ...]:
    """Photos on any of the links; their bytes are any, as nobody looks into them here."""
    made = []
    for name in draw(st.lists(ids, max_size=1)):
        media = draw(st.sampled_from(["image/jpeg", "image/png"]))
        on = draw(st.sampled_from(link_ids))
        made.append(picture_of(name, on, media, draw(st.binary(min_size=1, max_size=9)), draw(places())))
    return tuple(made)


@st.composite
def projects(draw: DrawFn, most_links: int = 6) -> Project:
    """Any valid project."""
    linked = draw(links(most_links))
    link_ids = [link.id for link in linked]
    drawn = draw(outlines(link_ids))
    marked = draw(marks(link_ids))
    zones = st.builds(Zone, st.sampled_from(link_ids), point_lists(3), unknown)
    pinned = draw(pivots(link_ids))
    others: dict[str, Any] = dict(draw(st.just({}) | reserved))
    others["pictures"] = (*others.get("pictures", ()), *draw(pictures(link_ids)))
    return Project(
        title=draw(texts),
        notes=draw(texts),
        display_units=draw(st.sampled_from(["mm", "in"])),
        links=linked,
        pivots=pinned,
        outlines=drawn,
        marks=marked,
        limits=draw(limits(marked)),
        travel=Travel(draw(st.sampled_from(["anticlockwise", "clockwise"])), draw(numbers(1e-6, 180.0)), draw(unknown)),
        gaps=draw(gap_wants(link_ids, drawn)),
        zones=tuple(draw(st.lists(zones, max_size=1))),
        loads=draw(st.none() | loads(link_ids)),
        pin_spacing=draw(not_negative),
        transmission_at_least=draw(st.none() | numbers(1e-6, 90.0)),
        measures=draw(measures(link_ids, pinned, drawn, marked)),
        room=draw(st.none() | rooms(marked)),
        strength=draw(st.none() | strengths([pivot.id for pivot in pinned], link_ids)),
        sureness=draw(st.none() | st.builds(Sureness, st.floats(0.0, 2.0), st.floats(0.0, 1.0), unknown)),
        keep_clear=tuple(draw(st.lists(ids, max_size=2, unique=True))),
        unknown=draw(unknown),
        **others,
    )


MANY = 60  # projects that are made up once


@cache
def made_up() -> tuple[Project, ...]:
    """The first projects that `projects` comes upon."""
    made: list[Project] = []

    @settings(max_examples=MANY, phases=[Phase.generate], suppress_health_check=list(HealthCheck), database=None)
    @given(projects())
    def take(project: Project) -> None:
        made.append(project)

    take()
    return tuple(made)


def ready_projects() -> SearchStrategy[Project]:
    """Any of the projects that are made up once: to make up a new one takes longer than most tests do with it.

    None is made smaller when a test fails; put `projects` in its place for that.
    """
    return st.deferred(lambda: st.sampled_from(made_up()))
