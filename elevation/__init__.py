"""Lay out tiled walls: from the readings of a tape to drawings, cuts and quantities."""

__version__ = "0.1.0"
