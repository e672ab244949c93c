"""The board: the canvas on which a hinge is laid out, swung and measured."""

from app.board.board import Board

__all__ = ["Board"]
