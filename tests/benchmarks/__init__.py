"""Benchmarks: `python -m tests.benchmarks` prints a table. Seeded, sized, in one run with the plain way; no test."""
