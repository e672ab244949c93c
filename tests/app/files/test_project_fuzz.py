"""Ten thousand damaged project files: each gives a sound project or one sentence, soon, and never anything else."""

from __future__ import annotations

import copy
import json
import random
import time
from typing import TYPE_CHECKING, Any

import pytest

from app.files.errors import FileError
from app.files.project_file import read, written
from tests.specimens import demo_six_bar, half_drawn, with_everything
from tests.thorough import cases

if TYPE_CHECKING:
    from collections.abc import Callable

    from kinematics.project import Project

SEED = 1190
TRIED = cases(1500, 5000)
FILES = [written(project) for project in (demo_six_bar, with_everything, half_drawn)]
TOKENS = [
    *(b"NaN", b"-Infinity", b"1e400", b"-1e-400", b"9" * 400, b"9" * 5000, b"1e99999999", b"-0", b"007", b"0x1F"),
    *(b"true", b"null", b'""', b'"', b"\\", b"\\u0000", b"\\ud800", b"\\udc00", b'"\\uD834\\uDD1E"', b"\xef\xbb\xbf"),
    *(b"[" * 2000, b"]", b"{", b"}", b'{"a":' * 2000, b",", b":", b"\x00", b"\xff", b"\xc3", b"\n" * 50, b"//", b"'"),
    *(b'"links"', b'"id"', b'"hatch"', b'"version": 2,', b'"format": "hingewright",', b'"unknown": {},', b"[]", b"{}"),
]
VALUES: list[Any] = [
    *(None, True, False, 0, -1, 1, 2, 0.5, 1e5, 100001, -1e9, 1.5e9, 1e308, 10**30, float("nan"), float("inf")),
    *("", "x", "hatch", "arm", "X", "hatch skin", "a\nb", "\ud800", "é" * 81, "1", "gas strut", "panel", "fixed"),
    *([], {}, [[]], [1], [1, 2], [1, 2, 3], ["arm"], ["arm", "arm"], ["arm", "hatch"], [[0, 0], [1, 1]], [None]),
    *({"id": "arm"}, {"id": "hatch", "kind": "panel"}, {"on": "hatch", "at": [0, 0]}, {"unknown": {"unknown": 1}}),
]


# ------------------------------------------------------------------------------------------------- damage to the bytes
def flip(content: bytearray, chance: random.Random) -> None:
    content[chance.randrange(len(content))] ^= 1 << chance.randrange(8)


def cut_off(content: bytearray, chance: random.Random) -> None:
    del content[chance.randrange(len(content)) :]


def cut_out(content: bytearray, chance: random.Random) -> None:
    start = chance.randrange(len(content))
    del content[start : start + chance.choice((1, 1, 2, 5, 40, 400))]


def put_in(content: bytearray, chance: random.Random) -> None:
    place = chance.randrange(len(content))
    content[place:place] = chance.choice(TOKENS)


def write_over(content: bytearray, chance: random.Random) -> None:
    place, token = chance.randrange(len(content)), chance.choice(TOKENS)
    content[place : place + len(token)] = token


def number_for_another(content: bytearray, chance: random.Random) -> None:
    digits = [place for place, byte in enumerate(content) if chr(byte).isdigit()]
    place = chance.choice(digits or [0])
    content[place : place + 1] = chance.choice((b"NaN", b"1e400", b"99999999", b"-", b"", b"e9", b".", b"true"))


def noise(content: bytearray, chance: random.Random) -> None:
    start = chance.randrange(len(content))
    content[start : start + 30] = chance.randbytes(30)


def splice(content: bytearray, chance: random.Random) -> None:
    other = chance.choice(FILES)
    content[chance.randrange(len(content)) :] = other[chance.randrange(len(other)) :]


BYTE_DAMAGE: list[Callable[[bytearray, random.Random], None]] = [
    *(flip, cut_off, cut_out, put_in, write_over, number_for_another, noise, splice)
]


# --------------------------------------------------------------------------------------------- damage to the structure
def places(value: Any) -> list[tuple[Any, Any]]:  # noqa: ANN401
    """Every place of a JSON value: the container and the key or number in it."""
    keys = list(value) if isinstance(value, dict) else range(len(value)) if isinstance(value, list) else ()
    return [found for key in keys for found in ((value, key), *places(value[key]))]


def damage(data: Any, chance: random.Random) -> None:  # noqa: ANN401
    """Change one place of a JSON value."""
    all_places = places(data)
    holder, key = chance.choice(all_places)
    other_holder, other_key = chance.choice(all_places)
    kind = chance.randrange(6)
    if kind <= 1:
        holder[key] = chance.choice(VALUES)
    elif kind == 2:
        del holder[key]
    elif kind == 3:
        holder[key] = copy.deepcopy(other_holder[other_key])
    elif kind == 4 and isinstance(holder, list):
        holder.insert(key, copy.deepcopy(holder[key]))
    elif kind == 4:
        holder[str(other_key)] = holder.pop(key)
    else:
        holder[key] = [holder[key]] if chance.random() < 0.5 else {"id": holder[key]}


# ----------------------------------------------------------------------------------------------------------- the trial
def tried(content: bytes) -> Project | None:
    """The project that the bytes give, None when they are refused; anything else fails the test."""
    begun = time.process_time()
    try:
        project = read(content, "a.hinge")
    except FileError as fault:
        sentence = str(fault)
        assert sentence.startswith("a.hinge: "), sentence
        assert sentence.isprintable(), sentence
        assert sentence.endswith("."), sentence
        assert len(sentence) < 600, sentence
        project = None
    assert time.process_time() - begun < 2.0  # not a speed, but the bound of the word "hang"
    return project


@pytest.mark.slow
def test_damaged_bytes_give_a_project_or_a_sentence() -> None:
    chance = random.Random(SEED)
    sound = 0
    for _ in range(TRIED):
        content = bytearray(chance.choice(FILES))
        for _ in range(chance.choice((1, 1, 1, 2, 4))):
            if content:
                chance.choice(BYTE_DAMAGE)(content, chance)
        project = tried(bytes(content))
        if project is not None:
            sound += 1
            assert read(written(project), "a.hinge") == project
    assert TRIED // 50 < sound < TRIED - TRIED // 50  # else the damage is too heavy or too light to try anything


@pytest.mark.slow
def test_damaged_structures_give_a_project_or_a_sentence() -> None:
    chance = random.Random(SEED)
    sound = 0
    for _ in range(TRIED):
        data = json.loads(chance.choice(FILES))
        for _ in range(chance.choice((1, 1, 1, 2, 4))):
            damage(data, chance)
        project = tried(json.dumps(data).encode())
        if project is not None:
            sound += 1
            assert read(written(project), "a.hinge") == project
    assert TRIED // 50 < sound < TRIED - TRIED // 50
