"""Holes, bracket and base on the sheet: true to size, where the tables and the layout say, and not worked out anew."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely

from app import hole_shapes, mount_shapes
from app.built_shapes import built_shapes
from app.files import pictures
from app.hardware import hardware
from app.look import light
from app.shapes import Shape, Stroke
from kinematics import plate_edits
from kinematics.edits import move_pivot
from kinematics.joints_made import joints_made
from kinematics.mount_parts import Base, Bracket, Mount
from kinematics.mounting import base_made, bracket_made
from kinematics.wall_parts import HandWall, Wall
from kinematics.walling import shim_middle
from tests.app.sharing import shared_analyse
from tests.specimens import demo_six_bar as demo

LOOK = light()
BRACKET, BASE = Bracket(at=(60.0, 325.0), skin_deg=0.0), Base()
plated = plate_edits.begin_plates(demo)
mounted = replace(plated, mount=Mount(BRACKET, BASE))


def strokes(shapes: list[Shape]) -> dict[str, Stroke]:
    return {shape.key: shape for shape in shapes if isinstance(shape, Stroke)}


def face(stroke: Stroke) -> shapely.Polygon:
    return shapely.Polygon(stroke.points)


def test_holes_are_as_wide_as_they_are_finished_and_stand_at_their_pins() -> None:
    assert built_shapes(demo, LOOK) == []
    found = strokes(built_shapes(plated, LOOK))
    holes = [key for key in found if key.startswith("hole:")]
    assert len(holes) == sum(demo.link(link).kind == "link" for pivot in demo.pivots for link in pivot.joins)
    for pivot, joint in joints_made(plated, hardware()).items():
        at = plated.pivot(pivot).at
        for hole in joint.holes:
            stroke = found.get(f"hole:{hole.link}:{pivot}")
            assert (stroke is None) == (demo.link(hole.link).kind != "link")
            if stroke is not None:
                away = np.hypot(*(np.array(stroke.points) - at).T)
                assert away == pytest.approx(hole.diameter / 2.0)
                assert (stroke.link, bool(stroke.fill)) == (hole.link, hole.bushing is not None)
                assert stroke.near > 0.0
        assert np.hypot(*(np.array(found[f"shank:{pivot}"].points) - at).T) == pytest.approx(joint.pin.diameter / 2.0)


def test_a_pair_of_plates_has_a_double_edge() -> None:
    from app.shapes import shapes

    pair = plate_edits.set_sheet(plated, "arm", count=2)
    found = [shape for shape in shapes(pair, LOOK) if shape.link == "arm" and isinstance(shape, Stroke)]
    lines = [shape for shape in found if "pair" in shape.key]
    band = next(shape for shape in found if shape.key == "band:arm")
    assert [line.points for line in lines] == [band.points, band.points]
    assert lines[0].pen.px > 2.0 * lines[1].pen.px  # the thin one parts the wide one
    assert not any("pair" in shape.key for shape in shapes(plated, LOOK))


def test_bracket_and_base_stand_between_their_pins_and_what_they_are_held_at() -> None:
    found = strokes(built_shapes(mounted, LOOK))
    bracket, base = bracket_made(mounted, BRACKET, hardware()), base_made(mounted, BASE, hardware())
    assert bracket is not None
    assert base is not None
    for which, link in (("bracket", demo.panel.id), ("base", demo.fixed.id)):
        assert {stroke.link for key, stroke in found.items() if key.startswith(f"{which}:")} == {link}
        web = face(found[f"{which}:web"])
        pins = [pivot.at for pivot in demo.pivots_on(link)]
        assert all(web.contains(shapely.Point(pin)) for pin in pins)
        holes = [found[f"hole:{link}:{pivot.id}"] for pivot in demo.pivots_on(link)]
        assert all(web.contains(face(hole)) for hole in holes)
    assert face(found["bracket:flange"]).area == pytest.approx(BRACKET.thickness * (bracket.foot[1] - bracket.foot[0]))
    skin = shapely.LineString([(-900.0, 325.0), (900.0, 325.0)])
    assert face(found["bracket:doubler"]).distance(skin) == pytest.approx(0.0, abs=1e-9)
    assert face(found["bracket:flange"]).distance(skin) == pytest.approx(BRACKET.doubler + BRACKET.shims)
    assert face(found["base:plate"]).area == pytest.approx(BASE.plate * base.height)
    wall = shapely.LineString(demo.outline("screen and sill").points)
    assert face(found["base:plate"]).distance(wall) == pytest.approx(BASE.shims)
    bolts = [key for key in found if key.startswith("base:bolt")]
    assert len(bolts) == len({round(bolt.imag, 6) for bolt in base.bolts})
    assert not [key for key in strokes(built_shapes(mounted, LOOK, mount=False)) if key.startswith(("bracket", "base"))]


def test_tapered_shims_are_drawn_as_thick_as_they_are_in_the_middle() -> None:
    square = strokes(built_shapes(mounted, LOOK))
    tapered = replace(mounted, wall=Wall(left=HandWall(off_deg=5.0), trued="shim"))
    found, more = strokes(built_shapes(tapered, LOOK)), shim_middle(tapered, BASE)
    assert more > 2.0
    wall = shapely.LineString(demo.outline("screen and sill").points)
    away = [face(each["base:plate"]).distance(wall) for each in (square, found)]
    assert away[1] - away[0] == pytest.approx(more)
    thick = [face(each["base:shims"]).area / face(each["base:plate"]).area * BASE.plate for each in (square, found)]
    assert thick[1] - thick[0] == pytest.approx(more)
    assert face(found["base:shims"]).distance(wall) == pytest.approx(0.0, abs=1e-9)


def test_what_cant_be_laid_out_is_left_out() -> None:
    highest = max(pivot.at[1] for pivot in demo.pivots_on(demo.panel.id))
    low = replace(mounted, mount=Mount(replace(BRACKET, at=(60.0, highest + 3.0)), None))
    found = strokes(built_shapes(low, LOOK))
    assert "bracket:web" not in found
    assert "bracket:flange" in found
    assert built_shapes(replace(demo, pivots=(), mount=Mount(Bracket(), Base())), LOOK) == []
    panel = replace(demo.panel, hidden=True)
    hidden = replace(mounted, links=tuple(panel if link.kind == "panel" else link for link in demo.links))
    assert not [key for key in strokes(built_shapes(hidden, LOOK)) if key.startswith("bracket")]


def test_while_a_pin_is_dragged_only_what_hangs_on_it_is_worked_out(monkeypatch: pytest.MonkeyPatch) -> None:
    before = strokes(built_shapes(mounted, LOOK))

    def never(*_: object) -> None:
        raise AssertionError("worked out")

    monkeypatch.setattr(hole_shapes, "joints_made", never)
    monkeypatch.setattr(mount_shapes, "bracket_made", never)
    monkeypatch.setattr(mount_shapes, "base_made", never)
    x, y = mounted.pivot("B").at
    after = strokes(built_shapes(move_pivot(mounted, "B", (x + 3.0, y)), LOOK))
    changed = {key for key, stroke in after.items() if stroke != before[key]}
    assert changed == {key for key in before if key.endswith(":B")}


@pytest.mark.usefixtures("qapp")
def test_pictures_show_them_where_they_are_near_enough(monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: list[tuple[str, bool]] = []
    put = pictures._draw_shape

    def noted(painter: object, shape: Shape, placements: object, camera: pictures.Camera) -> None:
        if isinstance(shape, Stroke):
            drawn.append((shape.key, camera.scale >= hole_shapes.NEAR))
        put(painter, shape, placements, camera)  # type: ignore[arg-type]

    monkeypatch.setattr(pictures, "_draw_shape", noted)
    pictures.picture_image(shared_analyse(mounted), 0.0, (400, 300))
    far = {key for key, _ in drawn}
    assert {"bracket:web", "base:plate"} <= far
    assert all(near for key, near in drawn if key.startswith("hole:"))
