"""A search whose units never end."""

from __future__ import annotations

import time


def run(*_: object) -> None:
    """Stay in the unit."""
    while True:
        time.sleep(60.0)
