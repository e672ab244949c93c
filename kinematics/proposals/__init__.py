"""Proposals: hinges found from outlines, wants and zones alone, when nobody has placed a pin.

A search is cut into numbered *units* of work. What a unit finds depends on the problem, the seed and its number and on
nothing else, so units may run in any process and in any order; taken in by number, they give the same proposals again.
`hopeless.py` says at once what no hinge can do; `problem.py` reads what is asked off a project; `unit.py` does one
unit; `collecting.py` takes units in and tells which of their layouts are worth showing. Whoever runs it chooses
processes, time and when to stop (`app.proposals`).
"""
