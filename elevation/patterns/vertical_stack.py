"""Tiles on end in level courses, every joint over the joint below, long side upright."""

from __future__ import annotations

from typing import Literal

from elevation.patterns.base import Lattice, Pattern, Slot, rectangle


class VerticalStack(Pattern):
    """Straight joints both ways; the long side of the tile stands upright."""

    pattern: Literal["vertical-stack"]

    def lattice(self, length: float, width: float, joint: float) -> Lattice:
        """Return one tile a cell, cells one module apart both ways."""
        slot = Slot(rectangle(0, 0, width, length), upright=True)
        return Lattice((width + joint, 0.0), (0.0, length + joint), (slot,))
