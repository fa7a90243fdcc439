"""A part of a wall with its own tile, pattern or joint: a band, a wainscot, a framed panel."""

from __future__ import annotations

from elevation.features.base import Cutout, Shaped
from elevation.patterns import AnyPattern


class Zone(Shaped):
    """A zone by the outside of its tiles and trims; the field stops one joint away.

    Attributes:
        layout: Its own layout table.
        restart: Whole tiles of the field resume beyond it.
    """

    layout: AnyPattern
    restart: bool = False

    def cutout(self) -> Cutout:
        """Return the outside of the zone; the wall adds the field's joint."""
        ring, sides = self.shape()
        return Cutout(ring, sides, dict(self.edges), (0.0, 0.0))
