"""Small pictures of layouts: what there is of them lies within the field that is shown."""

from __future__ import annotations

from dataclasses import replace

from app.trials.picture import small_picture
from kinematics import analyse
from kinematics.project import Pivot
from tests.specimens import demo_six_bar


def test_a_single_pin_is_shown_with_some_of_what_it_carries() -> None:
    """A field of nothing but the pin would be a dot on blank paper."""
    demo = demo_six_bar
    links = tuple(link for link in demo.links if link.kind != "link")
    pin = Pivot("A", (40.0, 200.0), (demo.fixed.id, demo.panel.id))
    picture = small_picture(analyse(replace(demo, links=links, pivots=(pin,)), steps=2))
    wide, high = picture.size
    panel = next(line for line in picture.strokes if line.role == "panel")
    assert min(wide, high) > 100.0
    assert any(0.0 < x < wide and 0.0 < y < high for x, y in panel.points)
    assert picture.pins == ((wide / 2, high / 2),)
