"""A window, a door or a pass-through."""

from __future__ import annotations

from typing import Literal

from elevation.features.base import Cutout, Shaped
from elevation.spec import Gap, Length, by_units


class Opening(Shaped):
    """A hole in the wall that a person could look or walk through.

    Attributes:
        kind: Window, door or pass-through.
        depth: Depth of the return, mm, when it is tiled.
        pitch: Fall of a tiled sill towards the room, mm a foot of run.
        lap: Whose tile shows its edge where a return is tiled and there is no trim.
    """

    kind: Literal["window", "door", "pass"]
    depth: Length | None = None
    pitch: Gap = by_units("1/4", "6")
    lap: Literal["wall", "return"] = "wall"

    def cutout(self) -> Cutout:
        """Return the clear opening."""
        ring, sides = self.shape()
        return Cutout(ring, sides, dict(self.edges))
