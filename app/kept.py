"""Keep what a function made of the very same objects.

An outline of thousands of points is dear to hash and cheap to know again: edits share what they leave alone, so the
same object has the same answer. No Qt here.
"""

from __future__ import annotations

from functools import wraps
from typing import TYPE_CHECKING, TypeVar, TypeVarTuple

if TYPE_CHECKING:
    from collections.abc import Callable

Args = TypeVarTuple("Args")
T = TypeVar("T")


def kept(most: int) -> Callable[[Callable[[*Args], T]], Callable[[*Args], T]]:
    """Let a pure function of values that never change keep its last answers, `most` of them.

    Numbers, words and truths are known by what they are, all else by which object it is; it is held while its answer
    is kept, so that no other object can take its place.
    """

    def keeping(function: Callable[[*Args], T]) -> Callable[[*Args], T]:
        answers: dict[tuple[object, ...], tuple[object, T]] = {}

        @wraps(function)
        def known(*args: *Args) -> T:
            key = tuple(_sign(arg) for arg in args)
            found = answers.get(key)
            if found is None:
                while len(answers) >= most:
                    del answers[next(iter(answers))]
                found = answers[key] = args, function(*args)
            return found[1]

        return known

    return keeping


def _sign(arg: object) -> object:
    return arg if isinstance(arg, (bool, int, float, str)) else (type(arg), id(arg))
