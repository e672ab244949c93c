"""How many random cases are tried: some with every run of the tests, all of them when they are asked for.

`HINGEWRIGHT_THOROUGH=1 python -m pytest` tries all; what is tried otherwise is the first part of the same cases, which
are the same every time. What once went wrong, and what a check promises by its number, is tried with every run.
"""

from __future__ import annotations

import os

THOROUGH = bool(os.environ.get("HINGEWRIGHT_THOROUGH"))


def cases(some: int, every: int) -> int:
    """How many of a test's random cases are to be tried now."""
    return every if THOROUGH else some
