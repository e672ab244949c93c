"""The tables of hardware: every row is typed, sized, sourced, and says how it is known."""

from __future__ import annotations

from dataclasses import fields

from app.hardware import hardware


def test_every_row_says_its_source_and_how_it_is_known() -> None:
    tables = hardware()
    assert hardware() is tables
    for table in fields(tables):
        rows = getattr(tables, table.name)
        assert rows, table.name
        for row in rows:
            assert row.known, row
            assert row.source or "no source" in row.known, row


def test_sizes_make_sense() -> None:
    tables = hardware()
    for row in tables.bushings:
        assert row.bore < row.outside
        assert list(row.lengths) == sorted(row.lengths) != []
    for pin in tables.pins:
        assert (pin.zone != "") != (pin.least is not None)
        assert pin.head is None or pin.head > pin.diameter
        assert list(pin.lengths) == sorted(pin.lengths)
    for ring in tables.rings:
        assert ring.groove < ring.shaft_from <= ring.shaft_to < ring.outside
        assert ring.thickness < ring.slot
    for washer in tables.washers:
        assert washer.inside < washer.outside
        assert washer.least < washer.thickness <= washer.most
    for hole in tables.clearances:
        assert hole.diameter < hole.fine < hole.medium < hole.coarse
    for drill in tables.drills:
        assert 0.5 < drill.depth < 0.85


def test_every_pin_in_use_has_its_zones() -> None:
    """Nothing is asked of the tables of limits that they haven't."""
    tables = hardware()
    for row in tables.bushings:
        assert tables.limits(row.bore, row.bore_zone)
        assert tables.limits(row.bore, row.fitted_zone)
        assert tables.limits(row.outside, row.outside_zone)
        assert tables.limits(row.outside, row.housing_zone)
    for pin in tables.pins:
        assert pin.zone == "" or tables.limits(pin.diameter, pin.zone)
