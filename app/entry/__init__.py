"""Exact entry: forms for what is selected and for what is wanted, each value in a field that takes lengths as people
type them.
"""
