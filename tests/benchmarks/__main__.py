"""The whole table: `python -m tests.benchmarks`, or parts of it, such as `python -m tests.benchmarks frames shares`."""

from __future__ import annotations

import os
import platform
import sys

import numpy as np
import scipy
import shapely

from tests.benchmarks import analysing, making, processes, righting, searches, struts


def main() -> None:
    """Run what was asked for, or all."""
    parts = {
        "analyse": analysing.compare,
        "growth": analysing.growth,
        "precision": analysing.precision,
        "sureness": analysing.sureness,
        "lifting": analysing.lifting,
        "plates": analysing.plates,
        "arrows": righting.arrows,
        "put-right": righting.put_right,
        "frames": processes.frames,
        "start": processes.starts,
        "shares": processes.shares,
        "search": searches.first_layouts,
        "plain-search": searches.against_plain,
        "struts": struts.finder,
        "make": making.whole_set,
    }
    wanted = sys.argv[1:] or list(parts)
    for name in wanted:
        if name not in parts:
            raise SystemExit(f"no benchmark {name!r}; there are: {', '.join(parts)}")
    print(
        f"Python {platform.python_version()}, numpy {np.__version__}, scipy {scipy.__version__}, "
        f"shapely {shapely.__version__}, {os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}"
    )
    for name in wanted:
        parts[name]()


if __name__ == "__main__":
    main()
