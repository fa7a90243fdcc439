"""Slots and regions become pieces."""

from __future__ import annotations

from elevation.pieces.make import ZonePieces, make_pieces
from elevation.pieces.numbers import course_label
from elevation.pieces.piece import Circle, Kind, Piece
from elevation.pieces.runs import EdgeRun, edge_runs

__all__ = ["Circle", "EdgeRun", "Kind", "Piece", "ZonePieces", "course_label", "edge_runs", "make_pieces"]
