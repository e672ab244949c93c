"""Tests of the help."""
