"""Benchmarks: `python -m tests.benchmarks` prints a table. Seeded, sized, in one run with the plain way; no test."""

import app  # noqa: F401  which says how many threads numpy's libraries have, before numpy is there
