"""Trials: layouts kept within the file (`kept`), read (`readings`), compared in a table and on the board."""
