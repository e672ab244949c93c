"""Gas struts found: given the hinge, the weights, the handle and the wants of lifting, where struts go and how strong.

A *placement* is where the two ends of a strut are pinned, its size and its force. `wanted.py` reads what is asked into
tables of the travel; `levers.py` gives lengths and levers of thousands of placements; `judging.py` holds them against
all wants at once, and finds the best force; `clearing.py` looks whether a strut's line is in the way; `unit.py` is one
numbered piece of a search, `collecting.py` keeps what differs; `regions.py` says where ends may be when nobody drew
it; `fitting.py` makes a placement a part of the project. What is shown in the end is held against `analyse`.
"""
