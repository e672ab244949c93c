"""Everything that meets people and files: the window, the command line, the words and the outputs.

What is computed comes from `kinematics`; this package shows it, asks for changes, and carries it in and out of files.
"""

from __future__ import annotations

import os

# What is reckoned here is many small arrays, and what is long goes to processes of its own: threads of the libraries
# would only wait for each other. Before numpy is first imported; the processes get it from here.
for _name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(_name, "1")

__all__ = ["__version__"]

__version__ = "0.1.0"
