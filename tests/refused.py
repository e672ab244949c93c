"""Project files that must be refused: one change each to a good file, and the words that the sentence must hold.

The good file is the specimen `with_everything`. `in_schema` says whether a JSON Schema can tell too.
"""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from typing import Any

from app.files.project_file import written
from tests.specimens import with_everything

GONE = object()  # as a value: the key is taken out


@dataclass(frozen=True)
class Refused:
    """One change: the value at a path of keys and places, and what the sentence must say."""

    path: tuple[str | int, ...]
    value: Any
    says: tuple[str, ...]
    in_schema: bool = True

    def data(self) -> Any:  # noqa: ANN401  JSON of any kind
        """The file's object with the change made."""
        if not self.path:
            return self.value
        whole = json.loads(written(with_everything))
        inner: Any = whole
        for step in self.path[:-1]:
            inner = inner[step]
        if self.value is GONE:
            del inner[self.path[-1]]
        elif self.path[-1] == len(inner) and isinstance(inner, list):
            inner.append(self.value)
        else:
            inner[self.path[-1]] = self.value
        return whole


def of(*path: str | int, value: Any, says: str | tuple[str, ...], in_schema: bool = True) -> Refused:  # noqa: ANN401
    """Write a change in short."""
    return Refused(path, value, (says,) if isinstance(says, str) else says, in_schema)


ARM_PIVOT = {"id": "N", "at": [0, 0], "joins": ["arm", "hatch"]}
LINE = [[0, 0], [1, 1]]

REFUSED: dict[str, Refused] = {
    # the whole
    "a list": of(value=[], says="a list of 0"),
    "a number": of(value=7, says="7"),
    "null": of(value=None, says="null"),
    "no format": of("format", value=GONE, says='"format" is missing'),
    "another format": of("format", value="drawing", says=('"drawing"', "no project of this program")),
    "no version": of("version", value=GONE, says='"version" is missing'),
    "newer version": of("version", value=2, says=("version 2", "up to version 1", "newer")),
    "version 0": of("version", value=0, says="version is 0"),
    "version text": of("version", value="1", says='version is "1"'),
    "version true": of("version", value=True, says="version is true"),
    "version 1.5": of("version", value=1.5, says="whole number"),
    "no links": of("links", value=GONE, says='"links" is missing'),
    "no pivots": of("pivots", value=GONE, says='"pivots" is missing'),
    "no travel": of("travel", value=GONE, says='"travel" is missing'),
    "no opens": of("travel", "opens", value=GONE, says=("travel", '"opens" is missing')),
    "no wanted_deg": of("travel", "wanted_deg", value=GONE, says=("travel", '"wanted_deg" is missing')),
    # wrong types
    "links object": of("links", value={}, says=("links", "an object", "list")),
    "links null": of("links", value=None, says=("links", "null")),
    "link text": of("links", 1, value="arm", says=("links, entry 2", '"arm"', "object")),
    "travel list": of("travel", value=[], says=("travel", "a list")),
    "loads list": of("loads", value=[], says=("loads", "a list")),
    "loads null": of("loads", value=None, says=("loads", "null")),
    "title number": of("title", value=5, says="title is 5"),
    "units": of("display_units", value="cm", says=("display_units", '"cm"')),
    "pivots text": of("pivots", value="A", says=("pivots", '"A"')),
    "pictures object": of("pictures", value={}, says=("pictures", "an object")),
    "picture text": of("pictures", 0, value="x", says=("pictures, entry 1", '"x"')),
    "trials number": of("trials", value=1, says=("trials", "1")),
    "width text": of("links", 1, "width", value="28", says=('links, entry 2 "arm"', "width", '"28"')),
    "width true": of("links", 1, "width", value=True, says=('links, entry 2 "arm"', "true")),
    "width null": of("links", 1, "width", value=None, says=('links, entry 2 "arm", width', "null")),
    "locked 0": of("pivots", 2, "locked", value=0, says=('pivots, entry 3 "X"', "locked")),
    "closed text": of("outlines", 0, "closed", value="no", says=('outlines, entry 1 "screen and sill"', "closed")),
    "station null": of("outlines", 0, "station", value=None, says=("station", "null")),
    "joins text": of("pivots", 0, "joins", value="arm", says=('pivots, entry 1 "O1"', "joins")),
    "joins number": of("pivots", 0, "joins", 1, value=3, says=('pivots, entry 1 "O1"', "joins, entry 2")),
    "at object": of("pivots", 0, "at", value={"x": 1}, says=('pivots, entry 1 "O1"', "an object", "point")),
    "at of three": of("pivots", 0, "at", value=[1, 2, 3], says=('pivots, entry 1 "O1"', "a list of 3")),
    "points number": of("outlines", 0, "points", value=1, says=("outlines, entry 1", "points")),
    "limit null": of("limits", 0, "dx_at_least", value=None, says=("limits, entry 1, dx_at_least", "null")),
    "handle list": of("loads", "handle", value=[], says=("loads, handle", "a list")),
    "hinges half": of("loads", "hinges", value=1.5, says=("loads", "hinges", "whole")),
    # numbers
    "NaN": of("pivots", 2, "at", 0, value=math.nan, says=('pivots, entry 3 "X"', "x of at", "finite"), in_schema=False),
    "infinity": of("links", 1, "width", value=math.inf, says=('links, entry 2 "arm"', "finite")),
    "NaN carried": of("shop", value=[{"a": math.nan}], says=("shop, a", "finite"), in_schema=False),
    "infinity carried": of("plates", value=-math.inf, says=("plates", "finite"), in_schema=False),
    "huge integer": of("links", 1, "width", value=10**400, says=('links, entry 2 "arm"', "finite")),
    "beyond 1e9": of("links", 1, "width", value=1.1e9, says=('links, entry 2 "arm"', "beyond ±1,000,000,000")),
    "beyond 1e5": of("pivots", 2, "at", 1, value=-100001, says=('pivots, entry 3 "X"', "beyond ±100,000")),
    "point beyond 1e5": of(
        "outlines", 1, "points", 2, 0, value=1e6, says=('outlines, entry 2 "hatch skin"', "points, entry 3")
    ),
    "mass beyond 1e9": of("loads", "masses", 1, "mass", value=2e9, says=("loads, masses, entry 2", "beyond")),
    "negative width": of("links", 1, "width", value=-1, says=('"arm"', "negative")),
    "negative half_width": of("outlines", 0, "half_width", value=-1, says=("half_width", "negative")),
    "negative pin_spacing": of("pin_spacing", value=-1, says=("pin_spacing", "negative")),
    # ids
    "empty id": of("pivots", 0, "id", value="", says=("pivots, entry 1", "0 characters")),
    "long id": of("pivots", 0, "id", value="x" * 81, says=("pivots, entry 1", "81 characters")),
    "control id": of("pivots", 0, "id", value="A\n", says=("pivots, entry 1", "control character")),
    "id number": of("pivots", 0, "id", value=1, says=("pivots, entry 1", "id is 1")),
    "no id": of("pivots", 0, "id", value=GONE, says=("pivots, entry 1", '"id" is missing')),
    "half a character": of("title", value="a\ud834", says=("title", "half a character"), in_schema=False),
    "half a character carried": of("shop", value={"\udc00": 1}, says=("shop", "half a character"), in_schema=False),
    "link twice": of("links", 7, value={"id": "arm"}, says=('links, entry 8 "arm"', "twice"), in_schema=False),
    "pivot twice": of("pivots", 1, "id", value="O1", says=('pivots, entry 2 "O1"', "twice"), in_schema=False),
    "outline twice": of("outlines", 1, "id", value="seal", says=('"seal"', "twice"), in_schema=False),
    "mark twice": of(
        "marks",
        1,
        value={"id": "rear corner", "on": "arm", "at": [0, 0]},
        says=('marks, entry 2 "rear corner"', "twice"),
        in_schema=False,
    ),
    "device twice": of("loads", "devices", 1, "id", value="strut", says=('"strut"', "twice"), in_schema=False),
    "outline named as a link": of("outlines", 2, "id", value="arm", says=('outlines, entry 3 "arm"',), in_schema=False),
    # measures
    "measures object": of("measures", value={}, says=("measures", "an object", "list")),
    "measure twice": of("measures", 1, "id", value="room", says=('"room"', "twice"), in_schema=False),
    "measure of no kind": of("measures", 0, "kind", value="area", says=('measures, entry 1 "reach"', '"area"')),
    "measure without kind": of(
        "measures", 0, "kind", value=GONE, says=('measures, entry 1 "reach"', '"kind" is missing')
    ),
    "of text": of("measures", 0, "of", value="X", says=('measures, entry 1 "reach", of', '"X"', "list")),
    "of null": of("measures", 0, "of", 0, value=None, says=('"reach", of, entry 1', "null")),
    "distance of one": of("measures", 0, "of", value=[{"pivot": "X"}], says=('"reach"', "names 1", "2 are expected")),
    "angle of two": of("measures", 1, "kind", value="distance", says=('"knee"', "names 3", "2 are expected")),
    "the same twice": of(
        "measures", 0, "of", value=[{"pivot": "X"}, {"pivot": "X"}], says=('"reach"', "same twice"), in_schema=False
    ),
    "path of a line": of(
        "measures", 2, "of", value=[{"outline": "seal"}], says=('"corner\'s way"', '"seal"', "no single point")
    ),
    "anchor of nothing": of("measures", 0, "of", 0, value={}, says=('"reach", of, entry 1', "0 things")),
    "anchor of two": of("measures", 0, "of", 0, "mark", value="rear corner", says=("of, entry 1", "2 things")),
    "anchor on nobody": of(
        "measures", 0, "of", 0, "pivot", value="x", says=("pivot", '"x"', "nobody"), in_schema=False
    ),
    "anchor on no point": of(
        "measures", 0, "of", 1, "point", value=9, says=("point 10", '"hatch skin"', "nobody"), in_schema=False
    ),
    "half a point": of("measures", 0, "of", 1, "point", value=0.5, says=("of, entry 2", "whole number")),
    "point before the first": of("measures", 0, "of", 1, "point", value=-1, says=("of, entry 2", "negative")),
    "point of a pivot": of("measures", 0, "of", 0, "point", value=0, says=("of, entry 1", "outline only")),
    "place on a pivot": of("measures", 0, "of", 0, "at", value=[0, 0], says=("of, entry 1", "link only")),
    "place of one number": of("measures", 1, "of", 2, "at", value=[0], says=('"knee", of, entry 3', "a list of 1")),
    # kinds of links
    "kind": of("links", 1, "kind", value="door", says=('links, entry 2 "arm"', '"door"')),
    "two panels": of("links", 1, "kind", value="panel", says=("links", "2", '"panel"')),
    "no panel": of("links", 5, "kind", value="link", says=("links", "0", '"panel"')),
    "no fixed": of("links", 0, "kind", value=GONE, says=("links", "0", '"fixed"')),
    "links empty": of("links", value=[], says=("links", "0")),
    # names that nobody defines
    "joins nobody": of("pivots", 0, "joins", 1, value="x", says=('pivots, entry 1 "O1"', '"x"'), in_schema=False),
    "outline on nobody": of("outlines", 2, "on", value="x", says=('outlines, entry 3 "seal"', '"x"'), in_schema=False),
    "no on": of("outlines", 2, "on", value=GONE, says=('outlines, entry 3 "seal"', '"on" is missing')),
    "mark on nobody": of("marks", 0, "on", value="x", says=("marks, entry 1", '"x"'), in_schema=False),
    "zone on nobody": of("zones", 0, "on", value="x", says=("zones, entry 1", '"x"'), in_schema=False),
    "limit on nobody": of("limits", 0, "mark", value="x", says=("limits, entry 1", '"x"'), in_schema=False),
    "gap of nobody": of("gaps", 0, "between", 1, value="x", says=("gaps, entry 1", '"x"'), in_schema=False),
    "mass on nobody": of(
        "loads", "masses", 1, "on", value="x", says=("loads, masses, entry 2", '"x"'), in_schema=False
    ),
    "handle on nobody": of("loads", "handle", "on", value="x", says=("loads, handle", '"x"'), in_schema=False),
    "device from nobody": of(
        "loads", "devices", 0, "from", "on", value="x", says=('loads, devices, entry 1 "strut"', '"x"'), in_schema=False
    ),
    "device to nobody": of(
        "loads", "devices", 1, "to", "on", value="x", says=('loads, devices, entry 2 "helper"', '"x"'), in_schema=False
    ),
    # what makes no sense
    "joins twice": of("pivots", 0, "joins", value=["arm", "arm"], says=('pivots, entry 1 "O1"', '"arm" twice')),
    "joins one": of("pivots", 0, "joins", value=["arm"], says=('pivots, entry 1 "O1"', "two or more")),
    "no joins": of("pivots", 0, "joins", value=GONE, says=('pivots, entry 1 "O1"', '"joins" is missing')),
    "no at": of("pivots", 0, "at", value=GONE, says=('pivots, entry 1 "O1"', '"at" is missing')),
    "opens": of("travel", "opens", value="up", says=("travel", '"up"')),
    "wanted 0": of("travel", "wanted_deg", value=0, says=("travel", "greater than 0")),
    "wanted 181": of("travel", "wanted_deg", value=181, says=("travel", "180")),
    "wanted below 0": of("travel", "wanted_deg", value=-75, says=("travel", "greater than 0")),
    "gap below 0": of("gaps", 0, "at_least", value=-0.1, says=("gaps, entry 1", "at_least")),
    "gap after below 0": of("gaps", 0, "after_deg", value=-1, says=("gaps, entry 1", "after_deg")),
    "limit after below 0": of("limits", 0, "after_deg", value=-1, says=("limits, entry 1", "after_deg")),
    "gap of three": of("gaps", 0, "between", value=["arm", "hatch", "seal"], says=("gaps, entry 1", "3")),
    "no between": of("gaps", 0, "between", value=GONE, says=("gaps, entry 1", '"between" is missing')),
    "gap with itself": of("gaps", 0, "between", value=["arm", "arm"], says=("gaps, entry 1", "one link")),
    "gap on one link": of(
        "gaps", 0, "between", value=["seal", "screen and sill"], says=("gaps, entry 1", "one link"), in_schema=False
    ),
    "one point": of("outlines", 0, "points", value=LINE[:1], says=("outlines, entry 1", "1 of the 2")),
    "no points": of("outlines", 0, "points", value=GONE, says=("outlines, entry 1", '"points" is missing')),
    "closed of two": of("outlines", 2, "points", value=LINE, says=('outlines, entry 3 "seal"', "2 of the 3")),
    "zone of two": of("zones", 0, "points", value=LINE, says=("zones, entry 1", "2 of the 3")),
    # shut gaps
    "shut of nothing": of("gaps", 0, "shut", value={}, says=("gaps, entry 1, shut", "neither at_least nor at_most")),
    "shut below 0": of("gaps", 0, "shut", "at_least", value=-1, says=("gaps, entry 1, shut", "at_least", "negative")),
    "shut at most 0": of("gaps", 0, "shut", value={"at_most": 0}, says=("gaps, entry 1, shut", "greater than 0")),
    "shut crossed": of(
        "gaps", 0, "shut", value={"at_least": 6, "at_most": 4}, says=("gaps, entry 1, shut", "6", "4"), in_schema=False
    ),
    "shut a number": of("gaps", 0, "shut", value=4.76, says=("gaps, entry 1, shut", "4.76", "an object")),
    "shut null": of("gaps", 0, "shut", value=None, says=("gaps, entry 1, shut", "null")),
    # room
    "room a list": of("room", value=[], says=("room", "a list", "an object")),
    "floor text": of("room", "floor", value="deck", says=("room", '"deck"', "number")),
    "floor true": of("room", "floor", value=True, says=("room", "floor is true", "number")),
    "roof too high": of("room", "roof", value=2e5, says=("room", "roof", "beyond ±100,000")),
    "roof under the floor": of("room", "roof", value=-700, says=("room", "-640", "-700"), in_schema=False),
    "front edge without floor": of("room", "floor", value=GONE, says=("room", "front_edge", "no floor")),
    "front edge nobody": of(
        "room", "front_edge", "mark", value="x", says=("room, front_edge", '"x"', "nobody"), in_schema=False
    ),
    "front edge below 0": of("room", "front_edge", "at_least", value=-1, says=("room, front_edge", "negative")),
    # things to keep clear of
    "sureness a number": of("sureness", value=0.3, says=("sureness", "0.3", "an object")),
    "holes below 0": of("sureness", "holes", value=-0.1, says=("sureness", "holes", "negative")),
    "play a text": of("sureness", "play", value="a little", says=("sureness", '"a little"', "number")),
    "keep clear of a text": of("keep_clear", value="knee", says=("keep_clear", '"knee"', "list")),
    "keep clear of a number": of("keep_clear", 0, value=7, says=("keep_clear, entry 1", "7", "text")),
    "keep clear twice": of("keep_clear", 1, value="seal", says=("keep_clear", "twice")),
    # strength
    "strength a number": of("strength", value=2, says=("strength", "2", "an object")),
    "strength without pins": of("strength", "diameter", value=GONE, says=("strength", '"diameter" is missing')),
    "plate of no thickness": of("strength", "inner", value=0, says=("strength", "inner", "greater than 0")),
    "factor below 1": of("strength", "factor", value=0.5, says=("strength", "factor", "0.5")),
    "shear of another kind": of("strength", "shear", value="triple", says=("strength", "shear", '"triple"')),
    "washer below 0": of("strength", "washer", value=-1, says=("strength", "washer", "negative")),
    "metal without strength": of(
        "strength", "pin_material", "yield_mpa", value=GONE, says=("strength, pin_material", '"yield_mpa" is missing')
    ),
    "bushing of no length": of("strength", "bushing", "length", value=0, says=("strength, bushing", "length")),
    "joint twice": of("strength", "joints", 1, value={"pivot": "O1"}, says=("strength", '"O1" twice'), in_schema=False),
    "plain with a bushing": of(
        "strength",
        "joints",
        0,
        "bushing",
        value={"name": "b", "length": 1, "outside": 1, "pressure_mpa": 1, "speed_m_s": 1, "pv_mpa_m_s": 1},
        says=("strength, joints, entry 1", "plain"),
        in_schema=False,
    ),
    # loads
    "mass below 0": of("loads", "masses", 0, "mass", value=-1, says=("loads, masses, entry 1", "negative")),
    "hinges 0": of("loads", "hinges", value=0, says=("loads", "hinges")),
    "device kind": of("loads", "devices", 0, "kind", value="rope", says=('loads, devices, entry 1 "strut"', '"rope"')),
    "no count": of("loads", "devices", 0, "count", value=GONE, says=('entry 1 "strut"', '"count" is missing')),
    "no from": of("loads", "devices", 0, "from", value=GONE, says=('entry 1 "strut"', '"from" is missing')),
    "from a point": of("loads", "devices", 0, "from", value=[0, 0], says=('entry 1 "strut", from', "a list")),
    "from too far": of("loads", "devices", 0, "from", "at", 0, value=1e6, says=('entry 1 "strut", from', "x of at")),
    "rate below 0": of("loads", "devices", 1, "rate", value=-1, says=('entry 2 "helper"', "rate")),
    **{
        f"{key} {'missing' if value is GONE else value}": of(
            "loads", "devices", 0, key, value=value, says=('loads, devices, entry 1 "strut"', key)
        )
        for key in ("stroke", "extended", "force", "ratio")
        for value in (0, -1, GONE)
    },
    "count 0": of("loads", "devices", 1, "count", value=0, says=('loads, devices, entry 2 "helper"', "count")),
}
