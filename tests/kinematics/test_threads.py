"""Bolts by their threads, from the tables that ship with the program."""

from __future__ import annotations

from app.hardware import hardware
from kinematics.threads import thread_of, threads

TABLES = hardware()


def test_threads_have_their_drill_and_clearance_hole_from_the_tables() -> None:
    assert thread_of("M8", TABLES).drill == 6.8
    assert thread_of("M8", TABLES).clearance == 9.0
    inch = thread_of("5/16-18", TABLES)
    assert (inch.drill_name, inch.known) == ("F", True)
    assert thread_of("M7", TABLES).known is False
    assert {"M6", "M8", "1/4-20"} <= set(threads(TABLES))
