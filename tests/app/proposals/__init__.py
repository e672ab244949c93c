"""Tests of the search as it is run, told and shown."""
