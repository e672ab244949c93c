"""A project as a JSON object, and back: the form that the file format fixes, key by key.

The keys of each part are the fields of its dataclass (`from` and `to` apart, which are no names in Python). A key that
no field answers to goes into `unknown`, and is written back behind the known ones. Reading names the place of every
fault as a builder counts: `pivots, entry 3 "A"`. Values are checked by the parts themselves, when they are built.
"""

from __future__ import annotations

import dataclasses
from math import isfinite
from typing import TYPE_CHECKING, Any

from kinematics.errors import ProjectError
from kinematics.pictures import check_sum
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
    entry,
)
from kinematics.values import LONGEST_ID, shown, text

if TYPE_CHECKING:
    from collections.abc import Iterable

FORMAT = "hingewright"
LONGEST_PLACE = 100  # characters
DEEPEST = 100  # levels of lists and objects within a value that is only carried along
LISTS: dict[str, type[Any]] = {
    "links": Link,
    "pivots": Pivot,
    "outlines": Outline,
    "marks": Mark,
    "limits": Limit,
    "gaps": GapWant,
    "zones": Zone,
    "measures": Measure,
    "of": Anchor,
    "picks": Pick,
    "lengths": Length,
    "masses": Mass,
    "devices": Device,
    "cushions": Cushion,
    "strut_zones": Zone,
    "joints": JointStrength,
    "each": Plate,
    "eyes": EyeSize,
    "sides": Side,
    "cutouts": Cutout,
    "pins": PinChoice,
    "layers": LayerChoice,
    "hands": HandMade,
    "distances": MadeDistance,
    "found_at": FoundAt,
    "sheets": MadeSheet,
    "on_pins": OnPin,
    "turned": Turned,
}
OBJECTS: dict[str, type[Any]] = {
    "travel": Travel,
    "loads": Loads,
    "handle": Handle,
    "made_of": MadeOf,
    "prop_rod": Prop,
    "stop": Stop,
    "latch": Latch,
    "pin_friction": PinFriction,
    "wants": LiftWants,
    "stays_open_in": WorstCase,
    "from_end": Attachment,
    "to_end": Attachment,
    "shut": ShutWant,
    "metal": Metal,
    "prices": Prices,
    "room": Room,
    "sureness": Sureness,
    "strength": Strength,
    "pin_material": Metal,
    "plate_material": Metal,
    "bushing": Bushing,
    "front_edge": FrontEdge,
    "place": Place,
    "bracket": Bracket,
    "base": Base,
    "stop_part": StopPart,
    "left": HandWall,
    "right": HandWall,
}
NUMBERED = ("layers",)  # lists of that name hold parts in one kind of part and numbers in another
CARRIED_LISTS = ("pictures", "trials")
WORDS = {(PinChoice, "bushing"), (Stack, "bushing")}  # there a word, elsewhere an object
MADE_LISTS = ("hands", "distances", "found_at", "sheets", "on_pins", "turned")
BUILT_LISTS = ("each", "eyes", "sides", "cutouts", "edge", "pins", "layers")
# Written only where there is something in them.
QUIET_LISTS = (
    *CARRIED_LISTS,
    "measures",
    "keep_clear",
    "picks",
    "lengths",
    "cushions",
    "strut_zones",
    "joints",
    "stock",
    *BUILT_LISTS,
    *MADE_LISTS,
)
CARRIED = ("plates", "stack", "mount", "wall", "as_made")
BUILT: dict[str, type[Any]] = {
    "plates": Plates,
    "stack": Stack,
    "mount": Mount,
    "wall": Wall,
    "as_made": AsMade,
}  # of those: parts if they are sound
HEAD = ("format", "version")
OTHER_KEYS = {"from_end": "from", "to_end": "to"}  # field: key, where they differ
DEFAULTS: dict[tuple[type[Any], str], object] = {(Mass, "mass"): 0.0}  # absent means 0, though the field has no default

Json = dict[str, Any]
PARTS: tuple[type[Any], ...] = (Project, Picture, *LISTS.values(), *OBJECTS.values(), *BUILT.values())


def _keys(kind: type[Any]) -> dict[str, str]:
    names = (field.name for field in dataclasses.fields(kind) if field.name != "unknown")
    return {OTHER_KEYS.get(name, name): name for name in names}


def _required(kind: type[Any]) -> frozenset[str]:
    none = dataclasses.MISSING
    names = {f.name for f in dataclasses.fields(kind) if f.default is none and f.default_factory is none}
    return frozenset(names | {"pivots"} if kind is Project else names)


KNOWN = {kind: _keys(kind) for kind in PARTS}  # of each part: key to field
REQUIRED = {kind: _required(kind) for kind in PARTS}  # of each part: fields


class Doubled(dict[str, Any]):
    """An object of the file in which a key stands twice; `key` says which."""

    key = ""


def object_of(pairs: list[tuple[str, Any]]) -> Json:
    """Make an object from its pairs, as json's `object_pairs_hook`; keeps in mind a key that stands twice."""
    made = dict(pairs)
    if len(made) == len(pairs):
        return made
    seen: set[str] = set()
    doubled = Doubled(made)
    doubled.key = next(key for key, _ in pairs if key in seen or seen.add(key))  # type: ignore[func-returns-value]
    return doubled


# ----------------------------------------------------------------------------------------------------------- reading
def project_of(data: Json) -> Project:
    """Build the project that a file's object tells, of the newest version; whose format it is was looked at before.

    Raises ProjectError, its `where` the place in the file.
    """
    project: Project = _part(Project, {key: value for key, value in _object(data, "").items() if key not in HEAD}, "")
    return dataclasses.replace(project, pictures=_sorted_out(project)) if project.pictures else project


def _sorted_out(project: Project) -> tuple[Any, ...]:
    """The pictures: as parts where they are sound, else as the objects that came, so that the rest can be opened."""
    made: list[Any] = []
    for place, value in enumerate(project.pictures):
        try:
            made.append(_photo(value, place, project, made))
        except ProjectError:
            made.append(value)
    return tuple(made)


def _photo(value: Any, place: int, project: Project, before: Iterable[Any]) -> Picture:  # noqa: ANN401  JSON
    """Make a picture of its object; ProjectError says why it can't be shown."""
    picture: Picture = _entry(Picture, value, "pictures", place)
    where = entry("pictures", place, picture.id)
    if picture.on not in project.link_index:
        raise ProjectError(f"on names the link {shown(picture.on)}, which nobody defines", where)
    if any(isinstance(other, Picture) and other.id == picture.id for other in before):
        raise ProjectError("this id occurs twice", where)
    try:
        check_sum(picture)
    except ProjectError as fault:
        raise ProjectError(fault.what, where, fault.remedy) from None
    return picture


def picture_faults(project: Project) -> tuple[str, ...]:
    """Say of each picture that was only carried along why it isn't shown, a sentence each."""
    faults = []
    for place, value in enumerate(project.pictures):
        if isinstance(value, Picture):
            continue
        try:
            _photo(value, place, project, project.pictures[:place])
        except ProjectError as fault:
            faults.append(str(fault))
    return tuple(faults)


def _part(kind: type[Any], value: object, where: str) -> Any:  # noqa: ANN401  a part of that kind
    """Build one part from its object."""
    data = _object(value, where)
    arguments: dict[str, Any] = {}
    for key, name in KNOWN[kind].items():
        if key in data:
            is_word = (kind, name) in WORDS and data[key] is not None
            arguments[name] = data[key] if is_word else _value(name, data[key], _within(where, key))
        elif (kind, name) in DEFAULTS:
            arguments[name] = DEFAULTS[kind, name]
        elif name in REQUIRED[kind]:
            raise ProjectError(f'"{key}" is missing', where)
    passed_by = {key: value for key, value in data.items() if _passes_by(kind, key, value)}
    check_carried(passed_by, where)
    try:
        return kind(**{name: value for name, value in arguments.items() if value is not None}, unknown=passed_by)
    except ProjectError as fault:
        # A part knows its own name only; the project names places in the file itself.
        raise ProjectError(fault.what, fault.where if kind is Project else where, fault.remedy) from None


def _passes_by(kind: type[Any], key: str, value: object) -> bool:
    """Tell whether a pair goes into `unknown`: its key is no field, or is one that carries JSON and holds null."""
    return key not in KNOWN[kind] or (kind is Project and key in CARRIED and value is None)


def _value(name: str, value: object, where: str) -> object:
    """Read the value of a field; single values come back as they are, for the part to check."""
    if name in CARRIED:
        check_carried(value, where)
        return _built(name, value, where) if name in BUILT else value
    if value is None:
        raise ProjectError("null stands where a value is expected", where, "Leave the key out, or give it a value.")
    if name in CARRIED_LISTS:
        found = tuple(_object(each, entry(where, place)) for place, each in enumerate(_list(value, where)))
        check_carried(list(found), where)
        return found
    if name in NUMBERED and isinstance(value, list) and not any(isinstance(each, dict) for each in value):
        return tuple(value)
    if name in LISTS:
        return tuple(_entry(LISTS[name], each, where, place) for place, each in enumerate(_list(value, where)))
    if name in OBJECTS:
        return _part(OBJECTS[name], value, where)
    return value


def _built(name: str, value: object, where: str) -> object:
    """What the links are built of as a part, or, where it isn't sound, as the JSON value that came."""
    try:
        return _part(BUILT[name], value, where)
    except ProjectError:
        return value


def build_faults(project: Project) -> tuple[str, ...]:
    """Say what isn't sound of what the links are built of, and so is only carried along, a sentence each."""
    faults = []
    for name, kind in BUILT.items():
        value = getattr(project, name)
        if value is None or isinstance(value, kind):
            continue
        try:
            _part(kind, value, name)
        except ProjectError as fault:
            faults.append(f"{fault} It is kept as it is, and nothing follows from it.")
    return tuple(faults)


def _entry(kind: type[Any], value: object, where: str, place: int) -> Any:  # noqa: ANN401  a part of that kind
    name = value.get("id") if isinstance(value, dict) else None
    return _part(kind, value, entry(where, place, name if isinstance(name, str) else None))


def _within(where: str, key: str) -> str:
    """The place of a key's value; where names are long or nest deep, the outer ones must do."""
    if len(where) > LONGEST_PLACE:
        return where
    name = key if len(key) <= LONGEST_ID and key.isprintable() else shown(key)
    return f"{where}, {name}" if where else name


def _object(value: object, where: str) -> Json:
    if not isinstance(value, dict):
        raise ProjectError(f"{shown(value)} stands where an object {{…}} is expected", where)
    if isinstance(value, Doubled):
        raise ProjectError(f"the key {shown(value.key)} stands twice in one object", where, "Take one of them out.")
    return value


def _list(value: object, where: str) -> list[Any]:
    if not isinstance(value, list):
        raise ProjectError(f"{shown(value)} stands where a list […] is expected", where)
    return value


def check_carried(value: object, where: str) -> None:
    """Make sure that a value which is only carried along can be written again: finite, true text, not too deep."""
    level = [(value, where)]
    for _ in range(DEEPEST):
        level = [inner for each, place in level for inner in _checked_parts(each, place)]
        if not level:
            return
    raise ProjectError(f"lists and objects are nested deeper than {DEEPEST} levels", level[0][1])


def _checked_parts(value: object, where: str) -> list[tuple[object, str]]:
    """Check one value by itself and give the values within it."""
    if isinstance(value, dict):
        for key in _object(value, where):
            text(key, where, "a key")
        return [(each, _within(where, key)) for key, each in value.items()]
    if isinstance(value, list):
        return [(each, where) for each in value]
    if isinstance(value, str):
        text(value, where, "a value")
    elif isinstance(value, float) and not isfinite(value):
        raise ProjectError("a number is not finite", where)
    return []


# ----------------------------------------------------------------------------------------------------------- writing
def json_of(project: Project) -> Json:
    """The object that a file holds: known keys in the order of the format, unknown ones behind them."""
    head = {"format": FORMAT, "version": project.version}
    return {**head, **_told(project), **head}


def _told(part: Any) -> Json:  # noqa: ANN401  any part
    made: Json = {}
    for key, name in KNOWN[type(part)].items():
        value = getattr(part, name)
        if value is None or (name in QUIET_LISTS and value == ()) or (value is False and _is_quiet(part, name)):
            continue
        made[key] = _plain(name, value)
    return {**made, **{key: value for key, value in part.unknown.items() if key not in made}}


def _is_quiet(part: object, name: str) -> bool:
    """Tell whether a flag is written only where it is set, so that older files stay as they were when saved again."""
    return name in ("hidden", "plain", "shown") or (name == "locked" and not isinstance(part, Pivot))


def _plain(name: str, value: Any) -> Any:  # noqa: ANN401  a field's value, as JSON has it
    if name == "pictures":
        return [_told(each) if isinstance(each, Picture) else each for each in value]
    if name in LISTS:
        return [_told(each) if type(each) in KNOWN else each for each in value]
    if (name in OBJECTS and type(value) in KNOWN) or (name in BUILT and isinstance(value, BUILT[name])):
        return _told(value)
    return value
