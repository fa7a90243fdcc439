"""Tiles in level courses, each course standing a share of a module to the right of the course below."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from elevation.patterns.base import Lattice, Pattern, Slot, rectangle
from elevation.spec import Share


class RunningBond(Pattern):
    """Broken upright joints; the long side of the tile lies level.

    Attributes:
        pattern: How the tiles are laid.
        shift: How far each course stands to the right of the course below, as a share of a module; 0 to 1.
    """

    pattern: Literal["running-bond"]
    shift: Annotated[Share, Field(ge=0, lt=1)] = 0.5

    def lattice(self, length: float, width: float, joint: float) -> Lattice:
        """Return one tile a cell; the step to the next course leans right by the shift."""
        module = length + joint
        return Lattice((module, 0.0), (self.shift * module, width + joint), (Slot(rectangle(0, 0, length, width)),))
