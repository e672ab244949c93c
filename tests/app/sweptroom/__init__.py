"""Tests of the swept room."""
