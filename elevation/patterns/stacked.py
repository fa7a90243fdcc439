"""Tiles in level courses, every joint over the joint below, long side level."""

from __future__ import annotations

from typing import Literal

from elevation.patterns.base import Lattice, Pattern, Slot, rectangle


class Stacked(Pattern):
    """Straight joints both ways; the long side of the tile lies level."""

    pattern: Literal["stacked"]

    def lattice(self, length: float, width: float, joint: float) -> Lattice:
        """Return one tile a cell, cells one module apart both ways."""
        return Lattice((length + joint, 0.0), (0.0, width + joint), (Slot(rectangle(0, 0, length, width)),))
