"""Drawing a box: dragged or clicked from corner to corner, led by what is near, carried onto a link that is turned."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from app.board.boxes import draw_box
from app.board.gestures import Enter, Event, Move, Press, Release
from app.document import Document
from app.shapes import Label
from tests.app.board.plain import PlainDesk, perform
from tests.specimens import single_pivot

if TYPE_CHECKING:
    from kinematics.project import Point

DRAG: tuple[Event, ...] = (Press((10.0, 20.0)), Move((30.0, 0.0)), Release((40.0, -5.0)))
CLICKS: tuple[Event, ...] = (
    Press((10.0, 20.0)), Release((10.2, 20.0)), Move((30.0, 0.0)), Enter(), Press((40.0, -5.0)),
)  # fmt: skip


def drawn(desk: PlainDesk, link: str, *events: Event) -> list[tuple[Point, ...]]:
    """What the gesture hands over."""
    made: list[tuple[Point, ...]] = []
    assert perform(draw_box(desk, link, made.append), *events)
    return made


@pytest.mark.parametrize("events", [DRAG, CLICKS], ids=["drag", "clicks"])
def test_from_corner_to_corner(qapp: object, events: tuple[Event, ...]) -> None:
    desk = PlainDesk(Document(single_pivot))
    assert drawn(desk, "body", *events) == [((10.0, -5.0), (40.0, -5.0), (40.0, 20.0), (10.0, 20.0))]
    assert desk.drawn == []


def test_the_box_is_seen_while_it_is_drawn(qapp: object) -> None:
    desk = PlainDesk(Document(single_pivot))
    gesture = draw_box(desk, "body", lambda _: None)
    next(gesture)
    gesture.send(Move((5.0, 5.0)))
    assert desk.drawn == []
    gesture.send(Press((10.0, 20.0)))
    gesture.send(Move((40.0, -5.0)))
    assert desk.drawn[0].key == "sketch:frame"
    gesture.close()
    assert desk.drawn == []


def test_given_up_it_hands_over_nothing(qapp: object) -> None:
    made: list[tuple[Point, ...]] = []
    gesture = draw_box(PlainDesk(Document(single_pivot)), "body", made.append)
    next(gesture)
    gesture.send(Press((10.0, 20.0)))
    gesture.close()
    assert made == [()]


def test_a_box_without_area_is_told(qapp: object) -> None:
    document = Document(single_pivot)
    said: list[str] = []
    document.noticed.connect(said.append)
    assert drawn(PlainDesk(document), "body", Press((10.0, 20.0)), Release((40.0, 20.0))) == [()]
    assert len(said) == 1
    assert "width and a height" in said[0]


def test_on_an_open_panel_it_is_upright_on_the_sheet(qapp: object) -> None:
    document = Document(single_pivot)
    document.set_opening(30.0)
    ((corners),) = drawn(PlainDesk(document), "lid", *DRAG)
    column = document.analysis.links.index("lid")
    placed = [document.pose.place(column, corner) for corner in corners]
    assert [value for place in placed for value in place] == pytest.approx(
        [10.0, -5.0, 40.0, -5.0, 40.0, 20.0, 10.0, 20.0], abs=1e-9
    )


def test_its_size_stands_at_the_pointer_and_is_round(qapp: object) -> None:
    desk = PlainDesk(Document(single_pivot), step=0.5)
    gesture = draw_box(desk, "body", lambda _: None)
    perform(gesture, Press((10.1, 20.0)), Move((40.3, -5.2)))
    assert [shape.text for shape in desk.drawn if isinstance(shape, Label)] == ["30.5 mm wide, 25.0 mm high"]
