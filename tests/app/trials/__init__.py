"""Tests of the trials."""
