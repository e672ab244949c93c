"""What is kept: the answer for the very same objects, and no more of them than was said."""

from __future__ import annotations

from app.kept import kept


def test_the_same_objects_have_the_same_answer_and_others_their_own() -> None:
    asked: list[tuple[object, ...]] = []

    @kept(2)
    def joined(points: tuple[float, ...], by: float) -> list[float]:
        asked.append((points, by))
        return [point + by for point in points]

    one, two = (1.0, 2.0), (1.0, 3.0)
    first = joined(one, 0.5)
    assert first == [1.5, 2.5]
    assert joined(one, 1.0 / 2.0) is first  # numbers are known by what they are
    assert joined(two, 0.5) == [1.5, 3.5]
    assert joined(one, 1.0) == [2.0, 3.0]  # the first answer goes
    assert joined(one, 0.5) == first
    assert len(asked) == 4


def test_an_object_is_held_so_that_no_other_takes_its_place() -> None:
    @kept(8)
    def total(points: list[float]) -> float:
        return sum(points)

    assert [total([float(k)]) for k in range(200)] == [float(k) for k in range(200)]
