"""Tests of the search for hinges."""
