"""Which files may be photos."""

from __future__ import annotations

from app.files.photo_names import FILTER, is_photo_name


def test_names_of_photos() -> None:
    assert all(map(is_photo_name, ("a.JPG", "b.png", "c.HEIC", "d.jpeg")))
    assert not any(map(is_photo_name, ("a.dxf", "b", "c.hinge", "d.svg")))
    assert "*.heic" in FILTER
