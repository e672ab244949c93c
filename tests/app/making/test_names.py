"""Names of files: the rule, and that no two are equal anywhere."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.making.names import KEPT, MOST_BYTES, distinct, portable


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("rear arm", "rear arm"),
        ("a/b", "a-b"),
        ("../x", "x"),
        ("..", "plate"),
        ("a\\b", "a-b"),
        ("C:\\x", "C-x"),
        ("CON", "CON_"),
        ("con.dxf", "con.dxf_"),
        ("com1", "com1_"),
        ("LPT²", "LPT²_"),
        ("console", "console"),
        ("😀", "plate"),
        ("arm 😀 left", "arm - left"),
        (" arm. ", "arm"),
        ("", "plate"),
        ("kürzer", "kürzer"),
        ("ku\u0308rzer", "kürzer"),
        ("рычаг", "рычаг"),
        ('say "no"?', "say -no"),
        ("x" * 80, "x" * 60),
        ("~$arm", "arm"),
        ("a\u202eb", "a-b"),
    ],
)
def test_the_rule(name: str, expected: str) -> None:
    assert portable(name, "plate") == expected


@pytest.mark.parametrize(
    ("names", "expected"),
    [
        (("Arm", "arm", "ARM"), ("Arm", "arm 2", "ARM 3")),
        (("a/b", "a?b", "a-b 2"), ("a-b", "a-b 2", "a-b 2 2")),
        (("straße", "STRASSE"), ("straße", "STRASSE 2")),
        (("é", "e\u0301"), ("é", "é 2")),
        (("😀", "🚗"), ("plate", "plate 2")),
    ],
)
def test_no_two_are_equal(names: tuple[str, ...], expected: tuple[str, ...]) -> None:
    assert distinct(names, "plate") == expected


@settings(max_examples=20)
@given(st.lists(st.text(min_size=1, max_size=80), max_size=6))
def test_every_name_is_one_everywhere(names: list[str]) -> None:
    made = distinct(names)
    assert len({name.casefold() for name in made}) == len(names)
    for name in made:
        assert name == name.strip(" .-")
        assert not KEPT.fullmatch(name)
        assert not set(name) & set('/\\:*?"<>|\0')
        assert 0 < len(name.encode()) <= MOST_BYTES + 8
