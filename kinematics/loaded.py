"""What of the loads rides on which link: passed along when a link is renamed or split, left out when it goes."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from kinematics.loads import Loads
    from kinematics.parts import Mass

PLACED = ("masses", "devices", "cushions", "strut_zones")
SINGLE = ("handle", "prop_rod", "latch", "stop")


def named_links(loads: Loads) -> Iterator[tuple[str, str, str]]:
    """Give every place that names a link: list or part (with its number and id), key, name."""
    for name in PLACED:
        for place, part in enumerate(getattr(loads, name)):
            where = f"loads, {name}, entry {place + 1}"
            own = getattr(part, "id", None)
            yield from _links(part, where if own is None else f'{where} "{own}"')
    for name in SINGLE:
        part = getattr(loads, name)
        if part is not None:
            yield from _links(part, f"loads, {name}")


def _links(part: Any, where: str) -> Iterator[tuple[str, str, str]]:  # noqa: ANN401  any part of the loads
    if hasattr(part, "between"):
        for name in part.between:
            yield where, "between", name
    elif hasattr(part, "from_end"):
        yield where, "on of from", part.from_end.on
        yield where, "on of to", part.to_end.on
    else:
        yield where, "on", part.on


def carried(loads: Loads | None, carry: Callable[[Any], Any], rename: Callable[[str], str] = str) -> Loads | None:
    """The loads with every part that rides on a link at a place passed through `carry`; the same when none changed.

    rename : gives the new id of a link that is only named, not ridden on at a place (a stop's two links).
    """
    if loads is None:
        return None

    def anew(part: Any) -> Any:  # noqa: ANN401  any part of the loads
        if part is None:
            return None
        if hasattr(part, "between"):
            names = tuple(map(rename, part.between))
            return part if names == part.between else replace(part, between=names)
        if not hasattr(part, "from_end"):
            return carry(part)
        ends = carry(part.from_end), carry(part.to_end)
        same = ends[0] is part.from_end and ends[1] is part.to_end
        return part if same else replace(part, from_end=ends[0], to_end=ends[1])

    return _changed(loads, {name: tuple(map(anew, getattr(loads, name))) for name in PLACED}, anew)


def kept_on(loads: Loads | None, stays: Callable[[str], bool]) -> Loads | None:
    """The loads without all that names a link which doesn't stay; the same object when nothing went."""
    if loads is None:
        return None

    def there(part: Any) -> bool:  # noqa: ANN401  any part of the loads
        return all(stays(name) for _, _, name in _links(part, ""))

    lists = {name: tuple(filter(there, getattr(loads, name))) for name in PLACED}
    return _changed(loads, lists, lambda part: part if part is not None and there(part) else None)


def outline_renamed(loads: Loads | None, id: str, new_id: str | None) -> Loads | None:
    """The loads, masses that are made of an outline following its new name; with None it goes, and they stay as they
    are. The same object when none names it.
    """

    def follow(mass: Mass) -> Mass:
        made = mass.made_of
        if made is None or made.outline != id or new_id == id:
            return mass
        return replace(mass, made_of=None if new_id is None else replace(made, outline=new_id))

    if loads is None:
        return None
    lists = {name: getattr(loads, name) for name in PLACED} | {"masses": tuple(map(follow, loads.masses))}
    return _changed(loads, lists, lambda part: part)


def _changed(loads: Loads, lists: dict[str, tuple[Any, ...]], single: Callable[[Any], Any]) -> Loads:
    """The loads with these lists and each single part passed through; the same object when all are the same ones."""
    found: dict[str, Any] = {name: single(getattr(loads, name)) for name in SINGLE}
    changed = {name: part for name, part in found.items() if part is not getattr(loads, name)}
    for name, parts in lists.items():
        before = getattr(loads, name)
        if len(parts) != len(before) or any(a is not b for a, b in zip(parts, before, strict=True)):
            changed[name] = parts
    return replace(loads, **changed) if changed else loads
