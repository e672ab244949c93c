"""What is selected, hovered or drawn is shown by form, and what is gone is not shown."""

from __future__ import annotations

from app.board.hits import Hit
from app.board.marking import flash_shapes, hover_shapes, selection_shapes, sketch_shapes
from app.document import Selection
from app.look import light
from app.shapes import Stroke, Symbol
from tests import specimens

DEMO, LOOK = specimens.demo_six_bar, light()


def test_a_selected_pin_or_mark_has_a_ring() -> None:
    (ring,) = selection_shapes(DEMO, Selection("pivot", "X"), LOOK)
    assert isinstance(ring, Symbol)
    assert (ring.glyph, ring.link, ring.at) == ("ring", "arm", ((125.0, 213.0),))
    (ring,) = selection_shapes(DEMO, Selection("mark", "rear corner"), LOOK)
    assert ring.link == "hatch"


def test_a_selected_link_is_outlined() -> None:
    (edge,) = selection_shapes(DEMO, Selection("link", "arm"), LOOK)
    assert isinstance(edge, Stroke)
    assert (edge.link, edge.closed, edge.fill) == ("arm", True, "")


def test_a_selected_outline_shows_its_points_and_the_chosen_one() -> None:
    points = DEMO.outline("hatch skin").points
    line, handles, chosen = selection_shapes(DEMO, Selection("outline", "hatch skin", 2), LOOK)
    assert isinstance(line, Stroke)
    assert isinstance(handles, Symbol)
    assert isinstance(chosen, Symbol)
    assert handles.at == points
    assert chosen.at == (points[2],)
    assert len(selection_shapes(DEMO, Selection("outline", "hatch skin"), LOOK)) == 2


def test_what_is_gone_is_not_shown() -> None:
    assert selection_shapes(DEMO, None, LOOK) == []
    for kind in ("pivot", "mark", "link", "outline"):
        assert selection_shapes(DEMO, Selection(kind, "gone"), LOOK) == []
        assert hover_shapes(DEMO, Hit(kind, "gone"), LOOK) == []
    assert hover_shapes(DEMO, Hit("point", "hatch skin", 9), LOOK) == []
    assert hover_shapes(DEMO, None, LOOK) == []


def test_hover_is_thinner_than_selection() -> None:
    (hovered,) = hover_shapes(DEMO, Hit("outline", "hatch skin", 0), LOOK)
    (selected, _) = selection_shapes(DEMO, Selection("outline", "hatch skin"), LOOK)
    assert isinstance(hovered, Stroke)
    assert isinstance(selected, Stroke)
    assert hovered.pen.px < selected.pen.px


def test_a_sketch_has_handles_where_points_stand_and_a_line_to_the_pointer() -> None:
    assert sketch_shapes((), "bulkhead", LOOK) == []
    handles, line = sketch_shapes(((0.0, 0.0), (5.0, 0.0), (9.0, 9.0)), "bulkhead", LOOK)
    assert isinstance(handles, Symbol)
    assert isinstance(line, Stroke)
    assert handles.at == ((0.0, 0.0), (5.0, 0.0))
    assert line.points[-1] == (9.0, 9.0)


def test_a_flash_stands_at_its_place() -> None:
    (flash,) = flash_shapes((3.0, 4.0), "bulkhead", LOOK)
    assert isinstance(flash, Symbol)
    assert flash.at == ((3.0, 4.0),)
