"""DXF written by hand, tag by tag, so that tests share nothing with the library that reads it."""

from __future__ import annotations

Tag = tuple[int, object]


def entity(kind: str, *tags: Tag, layer: str = "0") -> list[Tag]:
    return [(0, kind), (8, layer), *tags]


def line(x1: float, y1: float, x2: float, y2: float, layer: str = "0") -> list[Tag]:
    return entity("LINE", (10, x1), (20, y1), (11, x2), (21, y2), layer=layer)


def circle(x: float, y: float, r: float, *more: Tag, layer: str = "0") -> list[Tag]:
    return entity("CIRCLE", (10, x), (20, y), (40, r), *more, layer=layer)


def arc(x: float, y: float, r: float, start: float, end: float, *more: Tag, layer: str = "0") -> list[Tag]:
    return entity("ARC", (10, x), (20, y), (40, r), (50, start), (51, end), *more, layer=layer)


def lwpolyline(vertices: list[tuple[float, ...]], *more: Tag, closed: bool = False, layer: str = "0") -> list[Tag]:
    """Vertices (x, y) or (x, y, bulge)."""
    tags: list[Tag] = [(100, "AcDbPolyline"), (90, len(vertices)), (70, int(closed)), *more]
    for x, y, *bulge in vertices:
        tags += [(10, x), (20, y), *((42, b) for b in bulge)]
    return [(0, "LWPOLYLINE"), (100, "AcDbEntity"), (8, layer), *tags]


def polyline(vertices: list[tuple[float, ...]], flags: int = 0, vertex_flags: tuple[int, ...] = ()) -> list[Tag]:
    """The old kind: vertices (x, y) or (x, y, bulge), each an entity of its own."""
    tags: list[Tag] = [(0, "POLYLINE"), (8, "0"), (66, 1), (70, flags), (10, 0), (20, 0), (30, 0)]
    for k, (x, y, *bulge) in enumerate(vertices):
        tags += entity("VERTEX", (10, x), (20, y), (30, 0), *((42, b) for b in bulge))
        tags.append((70, vertex_flags[k] if vertex_flags else 0))
    return [*tags, (0, "SEQEND")]


def spline(
    control: list[tuple[float, float]], knots: list[float], degree: int = 3, weights: tuple[float, ...] = ()
) -> list[Tag]:
    tags: list[Tag] = [(100, "AcDbSpline"), (70, 8 + 4 * bool(weights)), (71, degree), (72, len(knots))]
    tags += [(73, len(control)), (74, 0), *((40, knot) for knot in knots), *((41, weight) for weight in weights)]
    for x, y in control:
        tags += [(10, x), (20, y), (30, 0)]
    return [(0, "SPLINE"), (100, "AcDbEntity"), (8, "0"), *tags]


def insert(name: str, x: float, y: float, *more: Tag, layer: str = "0") -> list[Tag]:
    return entity("INSERT", (2, name), (10, x), (20, y), *more, layer=layer)


def block(name: str, *entities: list[Tag], base: tuple[float, float] = (0.0, 0.0)) -> list[Tag]:
    head: list[Tag] = [(0, "BLOCK"), (8, "0"), (2, name), (70, 0), (10, base[0]), (20, base[1]), (30, 0), (3, name)]
    return [*head, *(tag for each in entities for tag in each), (0, "ENDBLK"), (8, "0")]


def dxf(
    *entities: list[Tag], units: int | None = 4, blocks: tuple[list[Tag], ...] = (), version: str = "AC1015"
) -> str:
    """A whole file. units : $INSUNITS; None leaves the variable out."""
    tags: list[Tag] = [(0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, version)]
    tags += [(9, "$INSUNITS"), (70, units)] if units is not None else []
    tags += [(0, "ENDSEC"), (0, "SECTION"), (2, "BLOCKS"), *(tag for each in blocks for tag in each), (0, "ENDSEC")]
    tags += [(0, "SECTION"), (2, "ENTITIES"), *(tag for each in entities for tag in each), (0, "ENDSEC"), (0, "EOF")]
    return "".join(f"{code:>3}\n{value}\n" for code, value in tags)
